"""Every limit the checks use: shipped defaults by class, and the keeper's own values over them."""

from __future__ import annotations

import math
import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from functools import cache
from types import MappingProxyType

from hangar.base.errors import BadInput
from hangar.base.places import resources_dir
from hangar.base.text import listed
from hangar.parts import Setting
from hangar.parts.choices import AircraftClass

SETTING_PREFIX = "threshold."


@dataclass(frozen=True, kw_only=True)
class Threshold:
    """One limit as shipped.

    Attributes:
        name: what settings and rules call it.
        words: what it limits.
        default: value for classes not in ``by_class``, in ``unit``.
        unit: key of :mod:`hangar.base.units`, or empty for a plain number.
        source: where the number is from.
        least: least value that may be set.
        most: greatest value that may be set.
    """

    name: str
    words: str
    default: float
    source: str
    unit: str = ""
    by_class: Mapping[AircraftClass, float] = field(default_factory=dict)
    least: float = 0.0
    most: float = math.inf

    @property
    def allowed(self) -> str:
        """What may be set, in words.

        >>> shipped_thresholds()["test-load"].allowed
        '0.05 to 60 A'
        """
        if math.isinf(self.most):
            return f"{self.least:g} or more"
        return f"{self.least:g} to {self.most:g} {self.unit}".rstrip()

    def shipped(self, aircraft_class: AircraftClass | None) -> float:
        """The value before the keeper changed anything; without a class the one for any."""
        return self.default if aircraft_class is None else self.by_class.get(aircraft_class, self.default)


@cache
def shipped_thresholds() -> Mapping[str, Threshold]:
    """Every threshold by name, in the order of the table that travels with Hangar."""
    with (resources_dir() / "thresholds.toml").open("rb") as file:
        rows = tomllib.load(file)
    return {
        name: Threshold(
            name=name,
            words=row["words"],
            default=float(row["default"]),
            unit=row.get("unit", ""),
            source=row["source"],
            by_class={AircraftClass(key): float(value) for key, value in row.get("by_class", {}).items()},
            least=float(row.get("least", 0.0)),
            most=float(row.get("most", math.inf)),
        )
        for name, row in rows.items()
    }


@cache
def _shipped_to(aircraft_class: AircraftClass | None) -> Mapping[str, float]:
    return MappingProxyType(
        {
            name: shipped_threshold.shipped(aircraft_class)
            for name, shipped_threshold in shipped_thresholds().items()
        }
    )


@dataclass(frozen=True)
class Thresholds:
    """The limits in force: the keeper's where he set one, else the shipped ones.

    ``own`` maps a threshold's name, or ``name.class``, to the keeper's value.
    """

    own: Mapping[str, float] = field(default_factory=dict)

    @classmethod
    def from_settings(cls, settings: Iterable[Setting]) -> Thresholds:
        """Read the keeper's limits out of his settings; other settings are passed over.

        Raises:
            BadInput: a setting names no threshold or class, or holds no number.

        >>> own = Thresholds.from_settings([Setting(name="threshold.torque-margin.sport", value="1.8")])
        >>> own.value("torque-margin", AircraftClass.SPORT), own.value("torque-margin", AircraftClass.GIANT)
        (1.8, 1.25)
        """
        limits = {}
        for setting in settings:
            if setting.name.startswith(SETTING_PREFIX):
                key = setting.name.removeprefix(SETTING_PREFIX)
                if key.partition(".")[0] in NO_LONGER:
                    continue
                _check_name(key)
                limits[key] = _number(key, setting.value)
        return cls(limits)

    def value(self, name: str, aircraft_class: AircraftClass | None) -> float:
        """The limit for aircraft of that class, in the unit of its table."""
        return self.of_class(aircraft_class)[name]

    def of_class(self, aircraft_class: AircraftClass | None) -> Mapping[str, float]:
        """Every limit for aircraft of that class by name, each in the unit of its table."""
        shipped = _shipped_to(aircraft_class)
        if not self.own:
            return shipped
        ending = f".{aircraft_class}"
        whole_fleet = {name: value for name, value in self.own.items() if name in shipped}
        this_class = {
            name.removesuffix(ending): value for name, value in self.own.items() if name.endswith(ending)
        }
        return {**shipped, **whole_fleet, **this_class}

    def is_changed(self, name: str, aircraft_class: AircraftClass) -> bool:
        """Whether the keeper set a value other than the shipped one."""
        return self.value(name, aircraft_class) != shipped_thresholds()[name].shipped(aircraft_class)


NO_LONGER = frozenset({"load-test-drop", "tester-plugs", "give-near-centre", "rod-reserve"})
"""Limits that earlier versions had: a fleet that set one opens as before, and it does nothing."""


def setting_name(name: str, aircraft_class: AircraftClass | None = None) -> str:
    """The name of the setting that overrides a threshold, for one class or for all."""
    _check_name(name)
    return f"{SETTING_PREFIX}{name}" + (f".{aircraft_class}" if aircraft_class else "")


def _check_name(key: str) -> None:
    name, _, class_name = key.partition(".")
    if name not in shipped_thresholds():
        raise BadInput(
            'Setting {setting} names no limit Hangar knows: "{name}".',
            setting=f"{SETTING_PREFIX}{key}",
            name=name,
        )
    if class_name and class_name not in list(AircraftClass):
        raise BadInput(
            'Setting {setting} names no aircraft class: "{class_name}"; use one of {names}.',
            setting=f"{SETTING_PREFIX}{key}",
            class_name=class_name,
            names=listed(AircraftClass, joint=",", most=0),
        )


def _number(key: str, text: str) -> float:
    try:
        value = float(text)
    except ValueError:
        value = math.nan
    limit = shipped_thresholds()[key.partition(".")[0]]
    if not math.isfinite(value) or not limit.least <= value <= limit.most:
        raise BadInput(
            'Setting {setting} is "{found}"; expected a number of {allowed}.',
            setting=f"{SETTING_PREFIX}{key}",
            found=text,
            allowed=limit.allowed,
        )
    return value
