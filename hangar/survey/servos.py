"""What a servo at a position gives and draws, from its type's rating."""

from __future__ import annotations

from functools import lru_cache

from hangar.base.errors import BadInput
from hangar.base.text import text
from hangar.parts import ServoFit, ServoType
from hangar.parts.choices import Drive, Function
from hangar.physics.servo_rating import RatedRow, Rating, ServoBuild, speed_rad_s
from hangar.survey.figures import Facts

RATING_SOURCE = text("maker's rating, straight lines in volts between its rows; held above the highest")
NOT_A_SERVO = frozenset({Function.GAIN, Function.MODE, Function.LIGHTS, Function.SPARE})


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


def rating_at(fit: ServoFit, facts: Facts) -> Rating | None:
    """The rating of the servo at a position, or None with what is missing noted."""
    if fit.servo_type is None:
        if fit.function not in NOT_A_SERVO:
            facts.lack(text("position {position}: servo", position=fit.code))
        return None
    rating = rating_of(fit.servo_type)
    if rating is None:
        facts.lack(text("servo type {servo}: ratings", servo=fit.servo_type.code))
    return rating
