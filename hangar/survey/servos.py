"""What a servo at a position gives and draws, from its type's rating."""

from __future__ import annotations

from functools import lru_cache

from hangar.base.errors import BadInput
from hangar.base.figure import Basis, Input
from hangar.base.text import fixed, text
from hangar.parts import Aircraft, ServoFit, ServoType
from hangar.parts.choices import AircraftClass, Drive, Function
from hangar.physics.servo_rating import RatedRow, Rating, ServoBuild, speed_rad_s
from hangar.survey.defaults import Defaults
from hangar.survey.figures import Facts

RATING_SOURCE = text("maker's rating, straight lines in volts between its rows; held above the highest")
NOT_A_SERVO = frozenset({Function.GAIN, Function.MODE, Function.LIGHTS, Function.SPARE})
BIG_AEROBATIC_G = 7000.0
_HEAVY_CLASSES = {AircraftClass.GIANT, AircraftClass.JET_TURBINE, AircraftClass.JET_EDF}


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


def idle_a(fit: ServoFit, defaults: Defaults) -> tuple[float, Input]:
    """Current at rest: measured on this servo, else its type's, else typical; with its input."""
    if fit.servo is not None and fit.servo.idle_ma is not None:
        return fit.servo.idle_ma / 1000.0, Input(
            fixed("idle current"), fit.servo.idle_ma, "mA", Basis.MEASURED
        )
    kind = fit.servo_type
    if kind is not None and kind.idle_ma is not None:
        return kind.idle_ma / 1000.0, Input(fixed("idle current"), kind.idle_ma, "mA", Basis.RATED)
    key = Drive.DIGITAL if kind is None else kind.drive
    return defaults.servo_idle.value(key) / 1000.0, defaults.servo_idle.input(key)


def average_key(aircraft: Aircraft, fit: ServoFit) -> str:
    """Which of the average currents holds for the servo at a position."""
    cyclic = fit.function in (Function.CYCLIC, Function.COLLECTIVE)
    if fit.servo_type is not None and fit.servo_type.drive is Drive.ANALOG:
        return "analog cyclic" if cyclic else "analog"
    if cyclic:
        return "digital cyclic"
    if fit.function is Function.TAIL:
        return "digital tail"
    return _digital_key(aircraft, fit)


def _digital_key(aircraft: Aircraft, fit: ServoFit) -> str:
    airframe = aircraft.airframe
    if not fit.function.is_surface:
        return "digital"
    if airframe.is_sailplane:
        return "digital wing"
    if airframe.aircraft_class in _HEAVY_CLASSES:
        return "digital giant"
    if (
        airframe.aircraft_class is AircraftClass.AEROBATIC_3D
        and (airframe.all_up_mass_g or 0) > BIG_AEROBATIC_G
    ):
        return "digital aerobatic giant"
    return "digital"
