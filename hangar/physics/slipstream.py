"""What a propeller's slipstream adds to the air on the surfaces behind it.

Source: momentum theory of the propeller disc.
"""

from __future__ import annotations

import math

from hangar.base.errors import BadInput
from hangar.physics.checks import finite


def disc_area_m2(diameter_m: float) -> float:
    """Area swept by a propeller or rotor [m²] of a diameter [m].

    Raises:
        BadInput: a diameter not above zero.

    >>> disc_area_m2(0.711)
    0.397
    """
    if not diameter_m > 0.0:
        raise BadInput("Propeller diameter is {diameter} m; it must be above zero.", diameter=diameter_m)
    return math.pi * diameter_m * diameter_m / 4.0


def wash_pa(thrust_n: float, diameter_m: float, washed_share: float = 1.0) -> float:
    """Dynamic pressure a propeller adds over a surface in its fully developed slipstream.

    Rudders and elevators of slow, powerful models feel far more than flying speed alone gives.

    Args:
        thrust_n: propeller thrust [N], zero or more.
        diameter_m: propeller diameter [m], above zero.
        washed_share: part of the surface that stands in the slipstream [-], 0 to 1.

    Returns:
        Mean added dynamic pressure [Pa]: thrust over disc area, for the washed part.

    Raises:
        BadInput: outside those bounds.

    Valid for: a tractor propeller, no swirl, surfaces a diameter or more behind it.
    Source: momentum theory: the jump of total pressure through the disc is thrust over disc area.

    >>> round(wash_pa(150.0, 0.711))
    378
    """
    if not (thrust_n >= 0.0 and math.isfinite(thrust_n)):
        raise BadInput("Thrust is {thrust} N; it must be zero or more.", thrust=thrust_n)
    if not 0.0 <= washed_share <= 1.0:
        raise BadInput(
            "Washed share of the surface is {washed_share}; 0 to 1 is allowed.", washed_share=washed_share
        )
    return washed_share * thrust_n / disc_area_m2(diameter_m)


STATIC_THRUST_COEFFICIENT = 0.09
"""Static thrust over density x (turns a second)² x diameter⁴ of model propellers; they lie from 0.07 to 0.13.

J. B. Brandt and M. S. Selig, Propeller Performance Data at Low Reynolds Numbers, AIAA 2011-1255: from
memory, unverified.
"""
NO_THRUST_AT = 1.15
"""Speed over pitch speed at which no thrust is left: cambered blades still lift a little without slip, and
the turns rise in flight; common practice, no source."""


def pitch_speed_m_s(static_thrust_n: float, diameter_m: float, pitch_m: float, density_kg_m3: float) -> float:
    """Speed at which a propeller screws through the air without slip, at the turns of its static thrust.

    Args:
        static_thrust_n: thrust standing still [N], zero or more.
        diameter_m: diameter [m], above zero.
        pitch_m: pitch [m], above zero.
        density_kg_m3: air density [kg/m³], above zero.

    Returns:
        Pitch times turns a second [m/s].

    Raises:
        BadInput: outside those bounds.

    Valid for: two-bladed fixed propellers; the turns are good to a sixth either way.
    Source: definition of the thrust coefficient; its value at :data:`STATIC_THRUST_COEFFICIENT`.

    >>> round(pitch_speed_m_s(110.0, 0.584, 0.203, 1.225), 1)
    18.8
    """
    finite(pitch_m=pitch_m, density_kg_m3=density_kg_m3)
    if not (static_thrust_n >= 0.0 and math.isfinite(static_thrust_n)):
        raise BadInput("Thrust is {thrust} N; it must be zero or more.", thrust=static_thrust_n)
    if not (pitch_m > 0.0 and density_kg_m3 > 0.0):
        raise BadInput(
            "Propeller pitch is {pitch} m; pitch and air density must be above zero.", pitch=pitch_m
        )
    if not diameter_m > 0.0:
        raise BadInput("Propeller diameter is {diameter} m; it must be above zero.", diameter=diameter_m)
    turns_s = math.sqrt(static_thrust_n / (STATIC_THRUST_COEFFICIENT * density_kg_m3)) / diameter_m**2
    return pitch_m * turns_s


def flying_share(speed_m_s: float, pitch_speed_m_s: float) -> float:
    """Share of its static thrust that a propeller still has at a flying speed.

    Straight down to nothing a little above the pitch speed: the wash of a fast aircraft is small, that of
    one hanging on its propeller is all of it.

    Args:
        speed_m_s: flying speed [m/s].
        pitch_speed_m_s: pitch speed [m/s], zero or more.

    Returns:
        Share [-], 0 to 1.

    Raises:
        BadInput: a speed that is not finite.

    Source: thrust over advance ratio falls nearly straight, to nothing where the blade screws through the
        air (blade element theory, H. Glauert, Airplane Propellers, 1935; checked against it in the tests).

    >>> flying_share(0.0, 20.0), flying_share(11.5, 20.0), flying_share(30.0, 20.0)
    (1.0, 0.5, 0.0)
    """
    finite(speed_m_s=speed_m_s, pitch_speed_m_s=pitch_speed_m_s)
    if not pitch_speed_m_s > 0.0:
        return 0.0
    return min(1.0, max(0.0, 1.0 - abs(speed_m_s) / (NO_THRUST_AT * pitch_speed_m_s)))


def slipstream_pressure_pa(
    speed_m_s: float, density_kg_m3: float, thrust_n: float, diameter_m: float
) -> float:
    """Dynamic pressure in a fully developed slipstream [Pa]: that of flight plus the propeller's.

    Raises:
        BadInput: a density or diameter not above zero, a thrust below zero, or a speed that is not finite.

    >>> slipstream_pressure_pa(25.0, 1.225, 150.0, 0.711)
    760.6
    """
    finite(speed_m_s=speed_m_s, density_kg_m3=density_kg_m3)
    return 0.5 * density_kg_m3 * speed_m_s**2 + wash_pa(thrust_n, diameter_m)


def standing_thrust_n(
    shaft_power_w: float, diameter_m: float, density_kg_m3: float, *, efficiency: float
) -> float:
    """Thrust of a standing propeller from its shaft power, where nobody has measured it.

    Args:
        shaft_power_w: power at the propeller shaft [W], zero or more.
        diameter_m: diameter [m], above zero.
        density_kg_m3: air density [kg/m³].
        efficiency: ideal power over shaft power [-], above 0 to 1; 1 is the most thrust there can be.

    Returns:
        Thrust [N].

    Raises:
        BadInput: outside those bounds.

    Source: momentum theory of the hovering disc.

    >>> round(standing_thrust_n(1000.0, 0.5, 1.225, efficiency=1.0), 1)
    78.4
    """
    finite(density_kg_m3=density_kg_m3)
    if not shaft_power_w >= 0.0:
        raise BadInput("Shaft power is {shaft_power} W; it must be zero or more.", shaft_power=shaft_power_w)
    if not 0.0 < efficiency <= 1.0:
        raise BadInput(
            "Propeller efficiency is {efficiency}; above 0 to 1 is allowed.", efficiency=efficiency
        )
    ideal_w = efficiency * shaft_power_w
    return math.pow(2.0 * density_kg_m3 * disc_area_m2(diameter_m) * ideal_w * ideal_w, 1.0 / 3.0)
