"""What a servo type's rating says, read as curves."""

from __future__ import annotations

from functools import lru_cache

from hangar.base.errors import BadInput
from hangar.base.text import text
from hangar.parts import ServoType
from hangar.parts.choices import Drive
from hangar.physics.servo_rating import RatedRow, Rating, ServoBuild, speed_rad_s

RATING_SOURCE = text("maker's rating, straight lines in volts between its rows; held above the highest")


def build_of(servo_type: ServoType) -> ServoBuild:
    """How a servo is driven inside, as the physics names it."""
    return ServoBuild.ANALOG if servo_type.drive is Drive.ANALOG else ServoBuild.DIGITAL


@lru_cache(maxsize=4096)
def _rating(rows: tuple[tuple[float, float, float, float | None], ...], build: ServoBuild) -> Rating:
    return Rating.of([RatedRow(v, torque, speed_rad_s(s), stall) for v, torque, s, stall in rows], build)


def rating_of(servo_type: ServoType) -> Rating | None:
    """The rating of a type; None without whole rows or with rows that contradict each other."""
    rows = tuple(
        (row.rated_v, row.torque_nm, row.transit_s, row.stall_a)
        for row in servo_type.ratings
        if row.torque_nm is not None and row.transit_s is not None
    )
    try:
        return _rating(rows, build_of(servo_type)) if rows else None
    except BadInput:
        return None
