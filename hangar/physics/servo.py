"""Holding: how far a servo gives under load, how stiff it is, and what it draws while it holds.

Source: linear torque-speed line and proportional drive; common practice is marked where it stands.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from hangar.base.errors import BadInput, NoAnswer
from hangar.base.figure import Band
from hangar.physics.checks import finite
from hangar.physics.servo_motion import Motion, Race, race, step_time_s
from hangar.physics.servo_motor import MotorConstants, typical_idle_current_a, typical_no_load_current_a
from hangar.physics.servo_rating import (
    RatedRow,
    Rating,
    RatingFlag,
    ServoAtVolts,
    ServoBuild,
    is_plausible,
    speed_rad_s,
    stall_current_band_a,
)

__all__ = [
    "Motion",
    "MotorConstants",
    "Race",
    "RatedRow",
    "Rating",
    "RatingFlag",
    "ServoAtVolts",
    "ServoBuild",
    "dead_band_deg",
    "droop_band_deg",
    "droop_deg",
    "holding_current_a",
    "holding_loop",
    "is_plausible",
    "race",
    "speed_rad_s",
    "stall_current_band_a",
    "step_time_s",
    "stiffness_nm_per_deg",
    "typical_full_drive_error_deg",
    "typical_idle_current_a",
    "typical_no_load_current_a",
]

DEGREES_PER_MICROSECOND = 0.09
"""90 degrees for 1000 us of pulse; common practice, no source (one published sheet gives 0.10)."""


def dead_band_deg(width_us: float) -> float:
    """Half dead band in degrees from the published width; the whole width is taken as one side.

    Sheets do not say whether the width is full or half; taking it as half is the careful reading.

    Raises:
        BadInput: a width below 0.

    >>> dead_band_deg(5.0)
    0.45
    """
    finite(width_us=width_us)
    if width_us < 0.0:
        raise BadInput("a dead band of {width:g} us was found; 0 or more is allowed", width=width_us)
    return DEGREES_PER_MICROSECOND * width_us


def typical_full_drive_error_deg(build: ServoBuild) -> Band:
    """Error at which the servo drives fully: stiff to soft.

    Source: common practice, no source (analog, refreshed 50 times a second: 20 to 30 degrees;
        digital: 1 to 2).

    >>> typical_full_drive_error_deg(ServoBuild.DIGITAL).expected
    1.5
    """
    return Band(20.0, 25.0, 30.0) if build is ServoBuild.ANALOG else Band(1.0, 1.5, 2.0)


def _check_loop(stall_torque_nm: float, dead_band_half_deg: float, full_drive_error_deg: float) -> None:
    if not stall_torque_nm > 0.0:
        raise BadInput(
            "a stall torque of {stall_torque:g} N m was found; more than 0 is allowed",
            stall_torque=stall_torque_nm,
        )
    if not 0.0 <= dead_band_half_deg < full_drive_error_deg:
        raise BadInput(
            "a half dead band of {dead_band_half:g} deg and full drive at {full_drive_error:g} deg "
            "were found; the dead band must be 0 or more and below the full-drive error",
            dead_band_half=dead_band_half_deg,
            full_drive_error=full_drive_error_deg,
        )


def droop_deg(
    *,
    stall_torque_nm: float,
    load_torque_nm: float,
    dead_band_half_deg: float,
    full_drive_error_deg: float,
) -> float:
    """How far the output rests from its command under a steady load.

    Args:
        stall_torque_nm: Stall torque at the volts at the plug, more than 0.
        load_torque_nm: Load at the output; the droop takes its sign.
        dead_band_half_deg: Error without any drive, on one side, 0 or more.
        full_drive_error_deg: Error at full drive, more than the half dead band.

    Returns:
        Degrees: dead band plus (full-drive error less dead band) times load over stall torque.

    Raises:
        BadInput: An impossible value.
        NoAnswer: The load is the stall torque or more: the servo is driven back.

    Valid for: proportional drive without integral action; a small load may rest anywhere inside
        the dead band, of which the edge is given.

    Source: static balance of a proportional drive with dead band.

    >>> round(droop_deg(stall_torque_nm=3.0, load_torque_nm=2.4, dead_band_half_deg=0.1,
    ...                 full_drive_error_deg=1.5), 4)
    1.22
    """
    finite(
        stall_torque_nm=stall_torque_nm,
        load_torque_nm=load_torque_nm,
        full_drive_error_deg=full_drive_error_deg,
    )
    _check_loop(stall_torque_nm, dead_band_half_deg, full_drive_error_deg)
    share = abs(load_torque_nm) / stall_torque_nm
    if not share < 1.0:
        raise NoAnswer(
            "the servo is driven back: a load of {load_torque:g} N m is not below its stall torque "
            "of {stall_torque:g} N m",
            load_torque=load_torque_nm,
            stall_torque=stall_torque_nm,
        )
    error = dead_band_half_deg + (full_drive_error_deg - dead_band_half_deg) * share
    return math.copysign(error, load_torque_nm)


def droop_band_deg(
    *,
    stall_torque_nm: float,
    load_torque_nm: float,
    dead_band_half_deg: float,
    full_drive_error_deg: float,
    gear_friction_nm: float,
) -> Band:
    """Droop with gear friction, which holds part of the load or adds to it.

    Args:
        gear_friction_nm: Friction torque of the gears at the output, 0 or more; others as in
            :func:`droop_deg`, the load taken without sign.

    Raises:
        BadInput: An impossible value.
        NoAnswer: The load with the friction reaches the stall torque.

    >>> band = droop_band_deg(stall_torque_nm=1.0, load_torque_nm=0.4, dead_band_half_deg=0.0,
    ...                       full_drive_error_deg=2.0, gear_friction_nm=0.1)
    >>> round(band.low, 3), round(band.expected, 3), round(band.design, 3)
    (0.6, 0.8, 1.0)
    """
    if gear_friction_nm < 0.0:
        raise BadInput(
            "a gear friction of {gear_friction:g} N m was found; 0 or more is allowed",
            gear_friction=gear_friction_nm,
        )
    load = abs(load_torque_nm)
    low, expected, design = (
        droop_deg(
            stall_torque_nm=stall_torque_nm,
            load_torque_nm=torque,
            dead_band_half_deg=dead_band_half_deg,
            full_drive_error_deg=full_drive_error_deg,
        )
        for torque in (max(0.0, load - gear_friction_nm), load, load + gear_friction_nm)
    )
    # A load that friction alone holds may rest without any error.
    return Band(0.0 if load <= gear_friction_nm else low, expected, design)


def stiffness_nm_per_deg(
    stall_torque_nm: float, dead_band_half_deg: float, full_drive_error_deg: float
) -> float:
    """Torque for each degree of error outside the dead band; inside it there is none.

    Raises:
        BadInput: a stall torque not above 0, or a dead band not below the full-drive error.

    >>> round(stiffness_nm_per_deg(3.0, 0.1, 1.5), 3)
    2.143
    """
    _check_loop(stall_torque_nm, dead_band_half_deg, full_drive_error_deg)
    return stall_torque_nm / (full_drive_error_deg - dead_band_half_deg)


def holding_current_a(
    *,
    stall_current_a: float,
    load_torque_nm: float,
    stall_torque_nm: float,
    build: ServoBuild,
    idle_current_a: float = 0.0,
) -> float:
    """Mean supply current while holding a torque at rest.

    Args:
        stall_current_a: Stall current at the volts at the plug.
        load_torque_nm: Torque held; at stall torque or more the stall current flows.
        stall_torque_nm: Stall torque at those volts.
        build: Analog drive is one burst each frame (current follows duty); a digital bridge is
            chopped fast and its motor free-wheels (current follows duty squared).
        idle_current_a: Electronics.

    Raises:
        BadInput: a stall torque not above 0, or a current below 0.

    Source: mean of a chopped current: without and with free-wheeling between pulses.

    >>> round(holding_current_a(stall_current_a=4.0, load_torque_nm=0.4, stall_torque_nm=1.0,
    ...                         build=ServoBuild.DIGITAL), 3)
    0.64
    """
    finite(load_torque_nm=load_torque_nm)
    if not (stall_torque_nm > 0.0 and stall_current_a >= 0.0 and idle_current_a >= 0.0):
        raise BadInput("holding current needs a stall torque above 0 and currents of 0 or more")
    duty = min(1.0, abs(load_torque_nm) / stall_torque_nm)
    return idle_current_a + stall_current_a * (duty if build is ServoBuild.ANALOG else duty * duty)


@dataclass(frozen=True, slots=True)
class HoldingLoop:
    """Proportional loop about its rest: natural frequency and damping ratio (1 = no overshoot)."""

    natural_rad_s: float
    damping_ratio: float


def holding_loop(
    *,
    stall_torque_nm: float,
    no_load_rad_s: float,
    inertia_kg_m2: float,
    dead_band_half_deg: float,
    full_drive_error_deg: float,
) -> HoldingLoop:
    """Natural frequency and damping of the position loop with proportional drive only.

    Digital servos come out far below 1 here: they brake by a derivative term that is not modelled,
    so this must not be used to simulate one.

    Raises:
        BadInput: a torque, speed or inertia not above 0, or a dead band not below the full-drive error.

    Source: second-order loop: wn^2 = T/(J D), zeta = 0.5 sqrt(D/(w0 Tm)), D in radians.

    >>> loop = holding_loop(stall_torque_nm=0.35, no_load_rad_s=7.0, inertia_kg_m2=0.0005,
    ...                     dead_band_half_deg=0.45, full_drive_error_deg=25.0)
    >>> round(loop.damping_ratio, 2)
    1.24
    """
    finite(stall_torque_nm=stall_torque_nm, no_load_rad_s=no_load_rad_s, inertia_kg_m2=inertia_kg_m2)
    _check_loop(stall_torque_nm, dead_band_half_deg, full_drive_error_deg)
    if not (no_load_rad_s > 0.0 and inertia_kg_m2 > 0.0):
        raise BadInput("a position loop needs a no-load speed and an inertia of more than 0")
    width = math.radians(full_drive_error_deg - dead_band_half_deg)
    time_constant = inertia_kg_m2 * no_load_rad_s / stall_torque_nm
    natural = math.sqrt(stall_torque_nm / (inertia_kg_m2 * width))
    return HoldingLoop(natural, 0.5 * math.sqrt(width / (no_load_rad_s * time_constant)))
