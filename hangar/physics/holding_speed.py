"""The flying speed up to which a given torque holds a flap."""

from __future__ import annotations

import math

from hangar.base.errors import BadInput
from hangar.base.values import value_class
from hangar.physics.air import Air, Airflow
from hangar.physics.hinge_moment import USUAL_ALPHA_DEG, Flap, flap_coefficient
from hangar.physics.surface import BUBBLE_STEPS, LEAST_REYNOLDS, MOST_MACH


@value_class
class HoldingSpeed:
    """The speed at which a torque is just enough.

    Attributes:
        speed_m_s: that speed; where torque is left over, the highest speed the formulas hold for [m/s].
        limited: True when the torque runs out at that speed; False when it still suffices there.
    """

    speed_m_s: float
    limited: bool


def holding_speed(
    flap: Flap,
    air: Air,
    *,
    moment_nm: float,
    deflection_deg: float,
    alpha_deg: float = USUAL_ALPHA_DEG,
    wash_pa: float = 0.0,
) -> HoldingSpeed:
    """Speed up to which a moment at the hinge holds the flap at a deflection (design load).

    Args:
        flap: size and place of the flap.
        air: the air flown in.
        moment_nm: moment the servo can hold at the hinge [N m], above zero.
        deflection_deg: deflection held [deg], other than a zero load.
        alpha_deg: incidence that can add [deg].
        wash_pa: dynamic pressure a propeller adds [Pa], zero or more.

    Returns:
        The lowest speed at which the design moment reaches the given one, and whether it does at all;
        0 when the wash alone is too much.

    Raises:
        BadInput: a moment not above zero.
        OutOfValidity: what :func:`hangar.physics.surface.hinge_coefficient` refuses.

    Valid for: up to Mach 0.4 at the surface; below Reynolds 5e4 the coefficient of 5e4 serves. The
        bubble allowance steps down with speed, so each step is answered by itself, lowest first.
    Source: as :func:`hangar.physics.surface.hinge_coefficient`, solved for speed.

    >>> wing = Flap(0.75, 0.060, 0.060, 0.30, aspect_ratio=6.667)
    >>> holding_speed(wing, Air(1.225, 15.0), moment_nm=0.698, deflection_deg=20.0).speed_m_s
    35.0
    """
    if not (moment_nm > 0.0 and math.isfinite(moment_nm)):
        raise BadInput("Moment at the hinge is {moment} N m; it must be above zero.", moment=moment_nm)
    washed = Airflow(0.0, air, wash_pa).local_speed_m_s
    top = MOST_MACH * air.speed_of_sound_m_s
    per_reynolds = air.viscosity_pa_s / (air.density_kg_m3 * flap.whole_chord_m)
    start = washed
    for upper, _ in BUBBLE_STEPS:
        end = min(top, upper * per_reynolds)
        if end <= start:
            continue
        reached = _local_speed(flap, air, moment_nm, deflection_deg, alpha_deg, 0.5 * (start + end))
        if reached < end:
            return HoldingSpeed(math.sqrt(max(start, reached) ** 2 - washed**2), True)
        start = end
    return HoldingSpeed(math.sqrt(max(0.0, top**2 - washed**2)), top <= washed)


def _local_speed(
    flap: Flap, air: Air, moment_nm: float, deflection_deg: float, alpha_deg: float, near_m_s: float
) -> float:
    """Local speed that makes a moment, with the bubble allowance of a speed near it."""
    slowest = LEAST_REYNOLDS * air.viscosity_pa_s / (air.density_kg_m3 * flap.whole_chord_m)
    near = Airflow(max(near_m_s, slowest), air)
    # Prandtl and Glauert's factor belongs to the speed sought, not to the one near it.
    coefficient = flap_coefficient(flap, near, deflection_deg, alpha_deg).design
    coefficient *= math.sqrt(1.0 - near.mach**2)
    if coefficient <= 0.0:
        return math.inf
    square = 2.0 * moment_nm / (air.density_kg_m3 * flap.chord_moment_m3 * coefficient)
    # square = V²/sqrt(1 - V²/a²), solved for V² without losing digits at low speed.
    ratio = square / air.speed_of_sound_m_s**2
    return math.sqrt(2.0 * square / (ratio + math.sqrt(ratio * ratio + 4.0)))
