"""What a servo at a position gives and draws: by its type's rating, and as it was read itself."""

from __future__ import annotations

from functools import lru_cache

from hangar.base.text import text
from hangar.parts import ServoFit
from hangar.parts.choices import Function
from hangar.physics.servo_rating import RatedRow, Rating
from hangar.survey.figures import Facts
from hangar.survey.servo_learned import servo_measured
from hangar.survey.servo_types import RATING_SOURCE as RATING_SOURCE
from hangar.survey.servo_types import build_of as build_of
from hangar.survey.servo_types import rating_of as rating_of

NOT_A_SERVO = frozenset({Function.GAIN, Function.MODE, Function.LIGHTS, Function.SPARE})


def rating_of_fit(fit: ServoFit) -> Rating | None:
    """The rating of the servo at a position: torque as its maker says, speed and stall current as read.

    A stall current read at some volts goes with the volts, for the winding stays the same.
    """
    rating = None if fit.servo_type is None else rating_of(fit.servo_type)
    if rating is None:
        return None
    read = servo_measured(fit)
    if read.speed_times is None and read.stall_per_v is None:
        return rating
    return _as_read(rating, read.speed_times or 1.0, read.stall_per_v)


@lru_cache(maxsize=512)
def _as_read(rating: Rating, speed_times: float, stall_per_v: float | None) -> Rating:
    return Rating.of(
        [
            RatedRow(
                row.volts,
                row.stall_torque_nm,
                row.no_load_rad_s * speed_times,
                row.stall_current_a if stall_per_v is None else stall_per_v * row.volts,
            )
            for row in rating.rows
        ],
        rating.build,
    )


def rating_at(fit: ServoFit, facts: Facts) -> Rating | None:
    """The rating of the servo at a position, or None with what is missing noted."""
    if fit.servo_type is None:
        if fit.function not in NOT_A_SERVO:
            facts.lack(text("position {position}: servo", position=fit.code))
        return None
    rating = rating_of_fit(fit)
    if rating is None:
        facts.lack(text("servo type {servo}: ratings", servo=fit.servo_type.code))
    return rating


def half_torque_deg(fit: ServoFit) -> float | None:
    """Error at half the stall torque as read: by weights on the bench, else as entered for the servo."""
    read = servo_measured(fit).half_torque_deg
    if read is not None:
        return read.expected
    return None if fit.servo is None else fit.servo.deg_to_half_torque
