"""Convert, show and read quantities; every unit of the program comes from one table.

Stored numbers are in SI or in the trade's plain unit, which the name of the field says
(``torque_nm``, ``span_mm``); keepers see and type the units they choose.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, fields
from typing import Protocol

from hangar.base.errors import BadInput
from hangar.base.text import fixed
from hangar.base.unit_show import SI_TRADE_UNITS, converted, fitting, shown_as, unit_chosen
from hangar.base.unit_table import FIELD_ENDINGS, KINDS, UNITS, Unit, unit_key
from hangar.base.unit_text import Quantity, Rating, parse_number, parse_quantity, parse_rating

__all__ = [
    "IMPERIAL",
    "KINDS",
    "SI_TRADE",
    "UNITS",
    "Quantity",
    "Rating",
    "ShowsNumbers",
    "Unit",
    "UnitChoice",
    "convert",
    "format_quantity",
    "name_and_unit",
    "parse_number",
    "parse_quantity",
    "parse_rating",
    "symbol_of",
    "unit_named",
    "units_of_kind",
]


def unit_named(key: str) -> Unit:
    """The unit with this key or symbol; a plain ratio for an empty one.

    Raises:
        BadInput: when there is none.

    >>> unit_named("N m").kind
    'torque'
    """
    try:
        return UNITS[unit_key(key)]
    except KeyError:
        known = ", ".join(UNITS)
        raise BadInput(
            '"{unit}" is no unit Hangar knows; known are {known}.', unit=key, known=known
        ) from None


def units_of_kind(kind: str) -> tuple[Unit, ...]:
    """All units of one kind, the base unit first; none for an unknown kind."""
    return tuple(unit for unit in UNITS.values() if unit.kind == kind)


def symbol_of(key: str) -> str:
    """How a unit is written on screen and paper; empty for plain numbers and money."""
    return unit_named(key).symbol


def convert(value: float, from_unit: str, to_unit: str) -> float:
    """A value in another unit of the same kind.

    Args:
        value: any finite number; not zero between a transit time and a speed of turning.
        from_unit: key or symbol of the unit it is in.
        to_unit: key or symbol of the unit wanted.

    Raises:
        BadInput: unknown unit, units of two kinds, or the turning speed of a zero time.

    Source: NIST Special Publication 811, appendix B.

    >>> convert(1, "kgf cm", "N m")
    0.0980665
    >>> round(convert(0.15, "s/60deg", "rad/s"), 3)
    6.981
    """
    old, new = unit_named(from_unit), unit_named(to_unit)
    if old.kind != new.kind:
        raise BadInput(
            "{from_unit} is of {from_kind} but {to_unit} of {to_kind}; one kind is wanted.",
            from_unit=from_unit,
            from_kind=fixed(old.kind),
            to_unit=to_unit,
            to_kind=fixed(new.kind),
        )
    if value == 0 and old.reciprocal != new.reciprocal:
        raise BadInput(
            "0 {from_unit} has no value in {to_unit}; a number other than zero is wanted.",
            from_unit=from_unit,
            to_unit=to_unit,
        )
    return converted(value, old, new)


def format_quantity(value: float, unit: str, to_unit: str | None = None, digits: int | None = None) -> str:
    """A value with its unit as written on screen and paper.

    Args:
        value: in ``unit``; infinite is written as ∞.
        unit: key of the unit it is stored in.
        to_unit: unit to show it in; None keeps ``unit``.
        digits: significant digits; None takes what suits the unit. The whole part is never rounded away.

    Raises:
        BadInput: unknown unit, or the value is not a number.

    >>> format_quantity(0.29420, "N m", "ozf in")
    '41.7 ozf·in'
    """
    if math.isnan(value):
        raise BadInput("there is no number to show in {unit}.", unit=unit)
    return shown_as(value, unit_named(unit), unit_named(to_unit or unit), digits)


def _fitted(value: float, stored_unit: str, shown_unit: str, digits: int | None) -> str:
    if math.isnan(value):
        raise BadInput("there is no number to show in {unit}.", unit=stored_unit)
    return fitting(value, unit_named(stored_unit), unit_named(shown_unit), digits)


def name_and_unit(name: str) -> tuple[str, str | None]:
    """A name without the unit it ends with, and the key of that unit; None when it names none.

    What a field's number is in, its declaration says; a name's last letters may mean something else.

    >>> name_and_unit("torque_nm"), name_and_unit("level_speed_m_s"), name_and_unit("maker")
    (('torque', 'N m'), ('level_speed', 'm/s'), ('maker', None))
    """
    words = name.lower().split("_")
    for start in range(max(1, len(words) - 3), len(words)):
        unit = FIELD_ENDINGS.get("_".join(words[start:]))
        if unit:
            return (name, None) if words[start - 1] == "per" else ("_".join(words[:start]), unit)
    return name, None


_OTHER = {
    "N m": "kgf cm", "N cm": "kgf cm", "kgf cm": "ozf in", "ozf in": "kgf cm", "lbf in": "N m",
    "mm": "in", "cm": "in", "in": "mm", "m": "ft", "ft": "m",
    "g": "oz", "oz": "g", "kg": "lb", "lb": "kg",
    "m/s": "km/h", "km/h": "m/s", "mph": "m/s", "kn": "m/s", "ft/s": "m/s",
    "C": "F", "F": "C", "dm2": "in2", "in2": "dm2", "cm2": "in2", "m2": "ft2", "ft2": "m2",
    "s/60deg": "rad/s", "rad/s": "s/60deg", "N": "ozf", "ozf": "N", "kgf": "N", "lbf": "N",
    "g/dm2": "oz/ft2", "oz/ft2": "g/dm2", "mAh": "Ah", "Ah": "mAh",
}  # fmt: skip


class ShowsNumbers(Protocol):
    """Shows stored values and reads typed ones: a choice of units, or a reader in a language as well."""

    def show(self, value: float, stored_unit: str, digits: int | None = None, /) -> str:
        """A stored value with its unit."""

    def show_both(self, value: float, stored_unit: str, /) -> str:
        """The same with the other unit of the trade in brackets."""

    def other(self, value: float, stored_unit: str, digits: int | None = None, /) -> str:
        """The value in the other unit of the trade; empty where there is none."""

    def unit_for(self, stored_unit: str, /) -> str:
        """The unit in which a stored one is shown and typed."""

    def parse(self, typed: str, stored_unit: str, /) -> float:
        """What the keeper typed as a stored value."""


@dataclass(frozen=True, slots=True)
class UnitChoice:
    """The units a keeper wants to see, one for each kind; kinds not listed stay as stored."""

    torque: str = SI_TRADE_UNITS["torque"]
    length: str = SI_TRADE_UNITS["length"]
    distance: str = SI_TRADE_UNITS["distance"]
    mass: str = SI_TRADE_UNITS["mass"]
    heavy_mass: str = SI_TRADE_UNITS["heavy_mass"]
    speed: str = SI_TRADE_UNITS["speed"]
    temperature: str = SI_TRADE_UNITS["temperature"]
    area: str = SI_TRADE_UNITS["area"]
    wing_loading: str = SI_TRADE_UNITS["wing_loading"]
    servo_speed: str = SI_TRADE_UNITS["servo_speed"]
    force: str = SI_TRADE_UNITS["force"]

    def __post_init__(self) -> None:
        for field in fields(self):
            kind = {"distance": "length", "heavy_mass": "mass"}.get(field.name, field.name.replace("_", " "))
            key = getattr(self, field.name)
            if key not in UNITS or UNITS[key].kind != kind:
                allowed = ", ".join(unit.key for unit in units_of_kind(kind))
                raise BadInput(
                    '"{unit}" cannot be chosen for {kind}; use {allowed}.',
                    unit=key,
                    kind=fixed(field.name.replace("_", " ")),
                    allowed=allowed,
                )

    @classmethod
    def from_settings(cls, settings: Mapping[str, str]) -> UnitChoice:
        """The choice kept in a fleet's settings under names such as ``unit.torque``.

        >>> UnitChoice.from_settings({"unit.torque": "ozf in"}).torque
        'ozf in'
        """
        kept = {name: settings.get(f"unit.{name}") for name in (field.name for field in fields(cls))}
        return cls(**{name: key for name, key in kept.items() if key is not None})

    def unit_for(self, stored_unit: str) -> str:
        """The unit in which a value stored in ``stored_unit`` is shown and typed."""
        return unit_chosen(unit_named(stored_unit), lambda field, unit: str(getattr(self, field, unit)))

    def show(self, value: float, stored_unit: str, digits: int | None = None) -> str:
        """A stored value in the chosen unit, a large mass in the larger one of its system.

        >>> IMPERIAL.show(304.8, "mm"), IMPERIAL.show(4762.7, "g")
        ('12 in', '10.5 lb')
        """
        return _fitted(value, stored_unit, self.unit_for(stored_unit), digits)

    def other(self, value: float, stored_unit: str, digits: int | None = None) -> str:
        """The same value in the other unit the trade uses; empty when there is none.

        >>> SI_TRADE.other(0.0980665, "N m")
        '1 kgf·cm'
        """
        second = _OTHER.get(self.unit_for(stored_unit))
        return _fitted(value, stored_unit, second, digits) if second else ""

    def show_both(self, value: float, stored_unit: str) -> str:
        """The chosen unit with the other one in brackets."""
        other = self.other(value, stored_unit)
        return f"{self.show(value, stored_unit)} ({other})" if other else self.show(value, stored_unit)

    def parse(self, text: str, stored_unit: str) -> float:
        """What the keeper typed, a bare number being in the chosen unit, as a stored value.

        >>> IMPERIAL.parse("12", "mm")
        304.8
        """
        read = parse_quantity(text, unit_named(stored_unit).kind, self.unit_for(stored_unit))
        return convert(read.value, read.unit, unit_named(stored_unit).key)


SI_TRADE = UnitChoice()
IMPERIAL = UnitChoice(
    torque="ozf in",
    length="in",
    distance="ft",
    mass="oz",
    heavy_mass="lb",
    speed="mph",
    temperature="F",
    area="in2",
    wing_loading="oz/ft2",
    servo_speed="s/60deg",
    force="ozf",
)
