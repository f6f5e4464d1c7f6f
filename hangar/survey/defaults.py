"""Typical values taken where a record is silent: read from one table, changed by the keeper."""

from __future__ import annotations

import dataclasses
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache, lru_cache
from types import MappingProxyType
from typing import Any

from hangar.base.errors import BadInput
from hangar.base.figure import Basis, Input
from hangar.base.places import resources_dir
from hangar.base.text import fixed

ANY = "any"
NO_SOURCE = "common practice, no source"


@dataclass(frozen=True, slots=True)
class Typical:
    """One quantity's typical values by class, chemistry or kind."""

    name: str
    meaning: str
    unit: str
    source: str
    by: Mapping[str, float]

    def value(self, *keys: str | None) -> float:
        """The value of the first key that the table has, else the one for any.

        A key that is None is not said: without a value for any the greatest counts, for of what is
        taken by class or kind more is the more demanding.

        Raises:
            BadInput: none of the keys is there and no value for any.
        """
        for key in (*keys, ANY):
            if key is not None and key in self.by:
                return self.by[key]
        if None in keys:
            return max(self.by.values())
        raise BadInput(
            "class default {name} has no value for {names}; known are {known}.",
            name=self.name,
            names=" or ".join(key for key in keys if key),
            known=", ".join(self.by),
        )

    def input(self, *keys: str | None) -> Input:
        """The value as an input of a working, marked typical."""
        return Input(fixed(self.meaning), self.value(*keys), self.unit, Basis.TYPICAL)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Defaults:
    """Every typical value the survey may take; two of them are alike only when they are the same one."""

    dive_speed: Typical
    usual_wing_loading: Typical
    flight_time: Typical
    full_throw_share: Typical
    manoeuvre_share: Typical
    landing_share: Typical
    dive_throw_share: Typical
    usual_throw: Typical
    expected_incidence: Typical
    adding_incidence: Typical
    usual_aspect_ratio: Typical
    usual_camber: Typical
    usual_chord_share: Typical
    thrust_to_weight: Typical
    peak_share: Typical
    brisk_share: Typical
    moving_share: Typical
    work_share: Typical
    run_share: Typical
    unrated_current: Typical
    standing_current: Typical
    servo_idle: Typical
    idle_share: Typical
    own_work_share: Typical
    charge_left: Typical
    age_growth: Typical
    aged_resistance: Typical
    pack_life: Typical
    unmeasured_capacity: Typical
    usable_charge: Typical
    contact: Typical
    switch_contact: Typical
    feed_lead: Typical
    feed_gauge: Typical
    joints: Typical
    gyro_lead: Typical
    isolation_drop: Typical
    isolation_ohm: Typical
    drop_out: Typical
    efficiency: Typical
    regulator_standing: Typical
    regulation: Typical
    dead_band: Typical
    full_drive: Typical
    arm_at_throw: Typical
    linkage_efficiency: Typical
    rod_length: Typical
    rotor_pitch: Typical
    rotor_load_factor: Typical
    brisk_time: Typical
    peak_time: Typical
    slow_share: Typical
    slow_time: Typical

    def changed(self, values: Mapping[str, float]) -> Defaults:
        """These defaults with the keeper's own values.

        Args:
            values: value by ``<quantity>.<key>``, as in ``peak_share.sport``.

        Raises:
            BadInput: a quantity that there is not, a key it does not have, or no finite number.

        >>> class_defaults().changed({"peak_share.sport": 0.4}).peak_share.value("sport")
        0.4
        """
        changed: dict[str, Typical] = {}
        for path, value in values.items():
            name, _, key = path.partition(".")
            if name not in _NAMES:
                raise BadInput(
                    'class default "{name}" was found; known are {known}.',
                    name=name,
                    known=", ".join(sorted(_NAMES)),
                )
            typical = changed.get(name, getattr(self, name))
            changed[name] = _with_value(typical, key or ANY, value)
        return dataclasses.replace(self, **changed)


SHARES = ("full-throw-share", "manoeuvre-share", "landing-share", "dive-throw-share")
"""Limits of the limits that are typical values of the survey: where a surface is judged."""


def own_shares(shares: Mapping[str, float]) -> dict[str, float]:
    """The keeper's own points of flight, out of his limits, as values for :meth:`Defaults.changed`.

    >>> own_shares({"landing-share.giant": 0.4})
    {'landing_share.giant': 0.4}
    """
    values: dict[str, float] = {}
    for name in SHARES:
        field = name.replace("-", "_")
        keys = getattr(class_defaults(), field).by
        if name in shares:
            values |= {f"{field}.{key}": shares[name] for key in keys}
        values |= {f"{field}.{key}": shares[f"{name}.{key}"] for key in keys if f"{name}.{key}" in shares}
    return values


_NAMES = frozenset(field.name for field in dataclasses.fields(Defaults))


def _with_value(typical: Typical, key: str, value: float) -> Typical:
    if key not in typical.by:
        raise BadInput(
            'class default {name} has no "{field}"; known are {known}.',
            name=typical.name,
            field=key,
            known=", ".join(typical.by),
        )
    number = _number(typical.name, key, value)
    by = MappingProxyType({**typical.by, key: number})
    return dataclasses.replace(typical, by=by, source="set by the keeper")


def _number(name: str, key: str, value: object) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float) or not 0.0 <= value < 1e6:
        raise BadInput(
            "class default {name} for {field} is {value}; a number of 0 or more is allowed.",
            name=name,
            field=key,
            value=repr(value),
        )
    return float(value)


def defaults_from(table: Mapping[str, Any]) -> Defaults:
    """Defaults from a read table.

    Raises:
        BadInput: a quantity missing or unknown, or a value that is no number.
    """
    wrong = _NAMES ^ table.keys()
    if wrong:
        raise BadInput(
            "class defaults must hold each quantity once; wrong are {known}.", known=", ".join(sorted(wrong))
        )
    return Defaults(**{name: _typical(name, entry) for name, entry in table.items()})


def _typical(name: str, entry: Mapping[str, Any]) -> Typical:
    by = {key: _number(name, key, value) for key, value in entry.get("by", {}).items()}
    if not by:
        raise BadInput("class default {name} has no values; at least one is wanted.", name=name)
    texts = (entry.get("meaning", ""), entry.get("unit", ""), entry.get("source", NO_SOURCE))
    return Typical(name, *texts, by=MappingProxyType(by))


@lru_cache(maxsize=32)
def _changed(values: tuple[tuple[str, float], ...]) -> Defaults:
    return class_defaults().changed(dict(values))


def defaults_with(values: Mapping[str, float]) -> Defaults:
    """The defaults that travel with Hangar with the keeper's own values; the same one for the same values.

    Raises:
        BadInput: as :meth:`Defaults.changed`.
    """
    return _changed(tuple(values.items())) if values else class_defaults()


@cache
def class_defaults() -> Defaults:
    """The defaults that travel with Hangar."""
    with (resources_dir() / "class_defaults.toml").open("rb") as file:
        return defaults_from(tomllib.load(file))
