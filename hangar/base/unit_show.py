"""A number in another unit, and written out: arithmetic on the rows of the unit table."""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import cache

from hangar.base.unit_table import UNITS, Unit


@cache
def _straight(source: str, target: str) -> tuple[float, float]:
    """Slope and shift that turn ``source`` into ``target``, rounded once."""
    old, new = UNITS[source], UNITS[target]
    return float(old.factor / new.factor), float((old.offset - new.offset) / new.factor)


def converted(value: float, old: Unit, new: Unit) -> float:
    """A value in another unit of the same kind; no zero between a transit time and a speed of turning."""
    if old.key == new.key:
        return value
    if old.reciprocal != new.reciprocal:
        top = old.factor / new.factor if old.reciprocal else new.factor / old.factor
        return float(top) / value
    slope, shift = _straight(old.key, new.key)
    return value * slope + shift


def shown_as(value: float, stored: Unit, shown: Unit, digits: int | None = None) -> str:
    """A stored value written out in another unit, with its symbol; infinite is written as ∞.

    >>> shown_as(0.29420, UNITS["N m"], UNITS["ozf in"])
    '41.7 ozf·in'
    """
    number = number_text(converted(value, stored, shown), shown, digits)
    if not shown.symbol:
        return number
    return f"{number}{'' if shown.symbol in ('°', '%') else ' '}{shown.symbol}"


_LARGER = {"g": ("kg", 1000.0), "oz": ("lb", 32.0)}
"""From how much on a mass is told in the larger unit: a servo weighs 2 oz, an aircraft 10.5 lb."""
_COARSE_IN = 20.0
"""Inches from which a tenth is fine enough: 2.5 mm on half a metre."""


def fitting(value: float, stored: Unit, chosen: Unit, digits: int | None = None) -> str:
    """A stored value written out in the chosen unit, or in a larger one of the same system where that fits.

    >>> fitting(4762.7, UNITS["g"], UNITS["oz"]), fitting(60, UNITS["g"], UNITS["oz"])
    ('10.5 lb', '2.12 oz')
    >>> fitting(4763, UNITS["g"], UNITS["g"]), fitting(900, UNITS["mm"], UNITS["in"])
    ('4.763 kg', '35.4 in')
    """
    size = abs(converted(value, stored, chosen)) if chosen.key in _LARGER or chosen.key == "in" else 0.0
    if chosen.key == "in":
        return shown_as(value, stored, chosen, digits or (3 if _COARSE_IN <= size < math.inf else None))
    larger, least = _LARGER.get(chosen.key, ("", math.inf))
    if not least <= size < math.inf:
        return shown_as(value, stored, chosen, digits)
    if larger == "kg" and digits is None:
        digits = 4 + math.floor(math.log10(size / least))  # No gram is lost.
    return shown_as(value, stored, UNITS[larger], digits)


def number_text(value: float, unit: Unit, digits: int | None = None) -> str:
    """A number as it suits its unit; the whole part is never rounded away."""
    if not math.isfinite(value):
        return "?" if math.isnan(value) else "∞" if value > 0 else "-∞"
    if value == 0:
        return "0"
    wanted = max(0, (digits or unit.significant) - 1 - math.floor(math.log10(abs(value))))
    decimals = wanted if digits else min(wanted, unit.decimals)
    text = f"{value:.{decimals}f}"
    if decimals < wanted and float(text) == 0:
        text = f"{value:.{wanted}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


_FIELD_OF_UNIT = {
    "m": "distance",
    "km": "distance",
    "ft": "distance",
    "kg": "heavy_mass",
    "lb": "heavy_mass",
}
SI_TRADE_UNITS = {
    "torque": "N m",
    "length": "mm",
    "distance": "m",
    "mass": "g",
    "heavy_mass": "kg",
    "speed": "m/s",
    "temperature": "C",
    "area": "dm2",
    "wing_loading": "g/dm2",
    "servo_speed": "s/60deg",
    "force": "N",
}
"""What a keeper sees who has chosen nothing."""


@cache
def _field_of(stored: Unit) -> str:
    return _FIELD_OF_UNIT.get(stored.key, stored.kind.replace(" ", "_"))


def unit_chosen(stored: Unit, choice: Callable[[str, str], str]) -> str:
    """The key of the unit in which a stored unit is shown.

    Args:
        stored: the unit a value is stored in.
        choice: gives the unit chosen for a field such as ``torque`` or ``heavy_mass``; its second
            argument is the answer for what nobody can choose.
    """
    field = _field_of(stored)
    if field == "angular_stiffness":
        # Torque for each degree goes with the torque that the keeper thinks in.
        along = f"{choice('torque', stored.key)}/deg"
        return along if along in UNITS else stored.key
    return choice(field, stored.key)


@cache
def si_trade_unit(stored_key: str) -> Unit:
    """The unit in which a value is shown where nobody has chosen one."""
    return UNITS[unit_chosen(UNITS[stored_key], lambda field, unit: SI_TRADE_UNITS.get(field, unit))]
