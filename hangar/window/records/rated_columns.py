"""What a servo type gives at one voltage, so that types can be compared and sorted in their table."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from math import radians

from hangar.base.units import ShowsNumbers
from hangar.parts import ServoType
from hangar.window.kit.words import say
from hangar.window.tables.columns import Column

COMPARED_V = 6.0
"""Old and new servos alike are rated at it."""


def rated_columns() -> tuple[Column[ServoType], ...]:
    """Torque and time for 60 degrees at the compared voltage, where the type may have it."""
    volts = f"{COMPARED_V:g} V"
    return (
        Column(
            say("Torque at {volts}", volts=volts),
            partial(_shown, _torque_nm, "N m"),
            raw=_torque_nm,
            number=True,
            help=say("Stall torque from the ratings; blank where {volts} is outside them.", volts=volts),
        ),
        Column(
            say("Speed at {volts}", volts=volts),
            partial(_shown, _transit_s, "s/60deg"),
            raw=_transit_s,
            number=True,
            help=say("Without load, from the ratings; blank where {volts} is outside them.", volts=volts),
        ),
    )


def _rows_around(kind: ServoType) -> bool:
    """Whether the compared voltage lies within the type's rated rows."""
    volts = [row.rated_v for row in kind.ratings]
    return bool(volts) and min(volts) <= COMPARED_V <= max(volts)


def _torque_nm(kind: ServoType) -> float | None:
    from hangar.survey.servos import rating_of

    rating = rating_of(kind) if _rows_around(kind) else None
    return rating.at(COMPARED_V).stall_torque_nm if rating else None


def _transit_s(kind: ServoType) -> float | None:
    from hangar.survey.servos import rating_of

    rating = rating_of(kind) if _rows_around(kind) else None
    return radians(60.0) / rating.at(COMPARED_V).no_load_rad_s if rating else None


def _shown(
    value_of: Callable[[ServoType], float | None], unit: str, kind: ServoType, units: ShowsNumbers
) -> str:
    value = value_of(kind)
    return "" if value is None else units.show(value, unit)
