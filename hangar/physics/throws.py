"""Throws in degrees and millimetres, travel use and the finest step of a surface.

Source: circle of the trailing edge about its hinge; virtual work of the linkage.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from hangar.base.errors import BadInput
from hangar.physics.checks import above_zero, finite
from hangar.physics.linkage import RodLink
from hangar.physics.linkage_reach import travel_for_deg

USUAL_DEG_PER_US = 0.09  # 90 deg for 1000 us; common practice, no source: enter the servo's own
NEUTRAL_PULSE_US = 1500.0  # common practice, no source; some old sets centre near 1300 or 1600
CLEVIS_THREADS_MM = {  # pitch: ISO 261 coarse series and unified threads (from memory, unverified)
    "M2": 0.40,
    "M2.5": 0.45,
    "M3": 0.50,
    "2-56": 25.4 / 56,
    "4-40": 25.4 / 40,
}


def throw_mm(deflection_deg: float, radius_mm: float) -> float:
    """Straight distance the trailing edge moves, as a ruler across both positions reads it.

    Args:
        deflection_deg: surface deflection, within 180 deg; its sign is kept.
        radius_mm: hinge line to the point where the ruler stands, above 0.

    Raises:
        BadInput: a deflection beyond 180 deg, or a radius not above 0.

    >>> round(throw_mm(30.0, 50.0), 2)
    25.88
    """
    if not abs(deflection_deg) <= 180.0:
        raise BadInput(
            "a deflection of {deflection:g} deg was given; it lies within 180 deg.", deflection=deflection_deg
        )
    return 2.0 * _radius(radius_mm) * math.sin(math.radians(deflection_deg) / 2.0)


def throw_height_mm(deflection_deg: float, radius_mm: float) -> float:
    """Distance the trailing edge moves square to the neutral surface, as a height gauge reads it.

    Raises:
        BadInput: a deflection beyond 90 deg, or a radius not above 0.

    >>> round(throw_height_mm(30.0, 50.0), 2)
    25.0
    """
    if not abs(deflection_deg) <= 90.0:
        raise BadInput(
            "a deflection of {deflection:g} deg was given; a height is told within 90 deg.",
            deflection=deflection_deg,
        )
    return _radius(radius_mm) * math.sin(math.radians(deflection_deg))


def deflection_of_throw_deg(throw_mm: float, radius_mm: float) -> float:
    """Deflection that a straight throw in millimetres means at this radius.

    Raises:
        BadInput: the throw is more than twice the radius.

    >>> round(deflection_of_throw_deg(25.88, 50.0), 1)
    30.0
    """
    share = throw_mm / (2.0 * _radius(radius_mm))
    if not abs(share) <= 1.0:
        raise BadInput(
            "a throw of {throw:g} mm cannot be had at {radius:g} mm from the hinge.",
            throw=throw_mm,
            radius=radius_mm,
        )
    return 2.0 * math.degrees(math.asin(share))


def deflection_of_height_deg(height_mm: float, radius_mm: float) -> float:
    """Deflection that a height above the neutral surface means at this radius.

    Raises:
        BadInput: a height above the radius, or a radius not above 0.

    >>> round(deflection_of_height_deg(25.0, 50.0), 1)
    30.0
    """
    share = height_mm / _radius(radius_mm)
    if not abs(share) <= 1.0:
        raise BadInput(
            "a height of {height:g} mm cannot be had at {radius:g} mm from the hinge.",
            height=height_mm,
            radius=radius_mm,
        )
    return math.degrees(math.asin(share))


def servo_travel_deg(
    pulse_us: float, *, centre_us: float = NEUTRAL_PULSE_US, deg_per_us: float = USUAL_DEG_PER_US
) -> float:
    """Arm travel from neutral that a pulse asks for.

    Raises:
        BadInput: a turn for each microsecond not above 0, or a pulse that is not finite.

    >>> servo_travel_deg(2000.0)
    45.0
    """
    finite(pulse_us=pulse_us, centre_us=centre_us)
    return (pulse_us - centre_us) * above_zero(deg_per_us, "turn for each us")


def pulse_us(
    travel_deg: float, *, centre_us: float = NEUTRAL_PULSE_US, deg_per_us: float = USUAL_DEG_PER_US
) -> float:
    """Pulse that asks for an arm travel from neutral.

    Raises:
        BadInput: a turn for each microsecond not above 0, or a travel that is not finite.

    >>> pulse_us(45.0)
    2000.0
    """
    finite(travel_deg=travel_deg, centre_us=centre_us)
    return centre_us + travel_deg / above_zero(deg_per_us, "turn for each us")


def pulse_step_us(bits: int, span_us: float = 1000.0) -> float:
    """Smallest change of pulse a radio of so many bits can send over a span.

    Raises:
        BadInput: bits outside 6 to 16, or a span not above 0.

    >>> round(pulse_step_us(10), 3), round(pulse_step_us(12, 1024.0), 2)
    (0.977, 0.25)
    """
    if not 6 <= bits <= 16:
        raise BadInput("{bits} bits were given; 6 to 16 are allowed.", bits=bits)
    return above_zero(span_us, "span") / float(1 << bits)


def surface_step_deg(step_us: float, velocity_ratio: float, deg_per_us: float = USUAL_DEG_PER_US) -> float:
    """Smallest step, or dead band, at the surface for one of the pulse.

    Raises:
        BadInput: a turn for each microsecond not above 0, or a value that is not finite.

    >>> round(surface_step_deg(2.0, 0.75), 3)
    0.135
    """
    finite(step_us=step_us, velocity_ratio=velocity_ratio)
    return abs(step_us * velocity_ratio) * above_zero(deg_per_us, "turn for each us")


def surface_time_s60(servo_s60: float, velocity_ratio: float) -> float:
    """Time for 60 deg at the surface from the servo's own, at this velocity ratio.

    Raises:
        BadInput: a servo time not above 0.

    >>> surface_time_s60(0.15, 0.75)
    0.2
    """
    finite(velocity_ratio=velocity_ratio)
    if velocity_ratio == 0.0:
        return math.inf
    return above_zero(servo_s60, "servo time") / abs(velocity_ratio)


def square_deflection_deg(arm_mm: float, horn_mm: float, travel_deg: float) -> float:
    """Quick estimate for arm and horn square to a long rod: sin(horn) = arm / horn x sin(arm travel).

    Raises:
        BadInput: lengths not above 0, or the horn would be pulled past its dead point.

    >>> round(square_deflection_deg(15, 20, 45), 1)
    32.0
    """
    finite(travel_deg=travel_deg)
    share = above_zero(arm_mm, "arm") / above_zero(horn_mm, "horn") * math.sin(math.radians(travel_deg))
    if not abs(share) <= 1.0:
        raise BadInput(
            "an arm of {arm:g} mm at {travel:g} deg pulls a {horn:g} mm horn past its dead point.",
            arm=arm_mm,
            travel=travel_deg,
            horn=horn_mm,
        )
    return math.degrees(math.asin(share))


def square_arm_mm(horn_mm: float, deflection_deg: float, travel_deg: float) -> float:
    """Arm for a wanted deflection at a servo travel, by the same quick estimate.

    Raises:
        BadInput: a horn not above 0, or angles beyond 90 deg.

    >>> round(square_arm_mm(20, 16, 45), 1)
    7.8
    """
    if not (0.0 < abs(travel_deg) <= 90.0 and abs(deflection_deg) <= 90.0):
        raise BadInput(
            "{deflection:g} deg at {travel:g} deg of travel was asked; both lie within 90 deg and "
            "the travel is not 0.",
            deflection=deflection_deg,
            travel=travel_deg,
        )
    return above_zero(horn_mm, "horn") * abs(
        math.sin(math.radians(deflection_deg)) / math.sin(math.radians(travel_deg))
    )


@dataclass(frozen=True, slots=True)
class TravelUse:
    """What one way of limiting a throw costs; ratios are at the end point unless told otherwise."""

    travel_deg: float
    travel_share: float
    neutral_torque_ratio: float
    end_torque_ratio: float
    neutral_velocity_ratio: float
    dead_band_deg: float


def travel_use(
    link: RodLink,
    deflection_deg: float,
    full_travel_deg: float,
    *,
    dead_band_us: float = 2.0,
    deg_per_us: float = USUAL_DEG_PER_US,
) -> TravelUse:
    """How much of the servo's travel a wanted deflection uses, and what torque and slop come with it.

    Args:
        link: with its neutral set.
        deflection_deg: wanted surface deflection.
        full_travel_deg: travel the servo can give to one side.
        dead_band_us: the servo's dead band.
        deg_per_us: the servo's turn for each microsecond.

    Raises:
        NoAnswer: the deflection is out of the linkage's reach.

    >>> use = travel_use(RodLink.from_rod(15, 20, 120), 16.0, 45.0)
    >>> round(use.travel_share, 2), round(use.neutral_torque_ratio, 2), round(use.dead_band_deg, 3)
    (0.48, 1.33, 0.135)
    """
    full = above_zero(full_travel_deg, "full travel")
    travel = travel_for_deg(link, deflection_deg, limit_deg=full)
    neutral, end = link.at_travel(0.0), link.at_travel(travel)
    return TravelUse(
        travel_deg=travel,
        travel_share=abs(travel) / full,
        neutral_torque_ratio=neutral.torque_ratio,
        end_torque_ratio=end.torque_ratio,
        neutral_velocity_ratio=neutral.velocity_ratio,
        dead_band_deg=surface_step_deg(dead_band_us, neutral.velocity_ratio, deg_per_us),
    )


def _radius(radius_mm: float) -> float:
    return above_zero(radius_mm, "measuring radius")
