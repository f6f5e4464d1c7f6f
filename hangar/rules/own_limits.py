"""The keeper's own limits: list them all, change one, restore the shipped one."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from hangar.base.errors import BadInput
from hangar.base.text import fixed
from hangar.parts import Setting
from hangar.parts.choices import AircraftClass
from hangar.parts.thresholds import SETTING_PREFIX, Thresholds, setting_name, shipped_thresholds


@dataclass(frozen=True, kw_only=True)
class LimitRow:
    """One limit as a table shows it.

    Attributes:
        name: what settings call it.
        words: what it limits.
        unit: key of :mod:`hangar.base.units`, or empty for a plain number.
        value: the limit in force.
        shipped: the limit before the keeper changed anything.
        source: where the shipped limit is from.
        aircraft_class: the class it is shown for; None for all classes that have no value of their own.
    """

    name: str
    words: str
    unit: str
    value: float
    shipped: float
    source: str
    aircraft_class: AircraftClass | None = None

    @property
    def is_changed(self) -> bool:
        """Whether the keeper's own value is in force."""
        return self.value != self.shipped


def limit_rows(
    thresholds: Thresholds | None = None, aircraft_class: AircraftClass | None = None
) -> tuple[LimitRow, ...]:
    """Every limit with the value in force for one class, or for the classes without one of their own."""
    limits = (thresholds or Thresholds()).own
    rows = []
    for name, shipped in shipped_thresholds().items():
        default = shipped.default if aircraft_class is None else shipped.shipped(aircraft_class)
        value = limits.get(name, default)
        if aircraft_class is not None:
            value = limits.get(f"{name}.{aircraft_class}", value)
        rows.append(
            LimitRow(
                name=name, words=shipped.words, unit=shipped.unit, value=value, shipped=default,
                source=shipped.source, aircraft_class=aircraft_class,
            )
        )  # fmt: skip
    return tuple(rows)


def changed_limit(name: str, value: float, aircraft_class: AircraftClass | None = None) -> Setting:
    """The setting that puts the keeper's own limit in force, for one class or for all.

    Raises:
        BadInput: there is no such limit, or the value is no number of its range.

    >>> changed_limit("torque-margin", 1.8, AircraftClass.SPORT)
    Setting(name='threshold.torque-margin.sport', value='1.8')
    """
    key = setting_name(name, aircraft_class)
    limit = shipped_thresholds()[name]
    if not math.isfinite(value) or not limit.least <= value <= limit.most:
        raise BadInput(
            "{words}: {value:g} was given; a number of {allowed} is allowed.",
            words=fixed(limit.words),
            value=value,
            allowed=limit.allowed,
        )
    return Setting(name=key, value=f"{value:.12g}")


def restored_limits(
    settings: Iterable[Setting], name: str | None = None, aircraft_class: AircraftClass | None = None
) -> tuple[Setting, ...]:
    """The settings to take away so that shipped limits are in force again.

    Args:
        settings: all settings of the fleet.
        name: the limit to restore; None restores every one.
        aircraft_class: the class to restore it for; None restores it for all classes.

    >>> restored_limits([Setting(name="threshold.play", value="1"), Setting(name="unit.torque", value="N m")])
    (Setting(name='threshold.play', value='1'),)
    """
    limits = []
    for setting in settings:
        limit, _, of_class = setting.name.removeprefix(SETTING_PREFIX).partition(".")
        if not setting.name.startswith(SETTING_PREFIX) or name not in (None, limit):
            continue
        if aircraft_class is None or of_class == aircraft_class:
            limits.append(setting)
    return tuple(limits)
