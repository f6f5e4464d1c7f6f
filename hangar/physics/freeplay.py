"""Free play at a surface, its turning frequency, and the speed above which care is called for.

The caution speed is a simple screen on one rotating surface. It knows nothing of wing or tail bending
and torsion and cannot show freedom from flutter.

Source: statics and the oscillator of one degree of freedom; limits and statistics are marked where they
stand.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

from hangar.base.errors import BadInput
from hangar.base.text import Text, fixed, listed, text
from hangar.base.values import value_class
from hangar.physics.checks import above_zero, finite, zero_or_more

REDUCED_FREQUENCY = 0.9  # Kuessner's 1929 statistic of omega c / V, band 0.12; from memory, unverified
REDUCED_FREQUENCY_BAND = 0.12
_BEYOND_PLAY_DEG = 1.0
NO_CAUTION = (
    "No caution raised by this simple check; it does not examine wing or tail bending and torsion "
    "and cannot show freedom from flutter."
)


class SurfaceKind(StrEnum):
    """Surfaces by how much free play they bear, tightest first."""

    ALL_MOVING = "all-moving tail"
    OUTER_AILERON = "aileron or flaperon in the outer half of the wing, sailplane or fast model"
    TAIL = "elevator or rudder"
    INBOARD_OR_SLOW = "inboard flap, slow or sport model"


# Total free play, deg: up to the first is in order, above the second stop and fix. A recommendation of
# this program, wider than full-size military practice, which hobby parts cannot meet.
FREE_PLAY_LIMITS_DEG: dict[SurfaceKind, tuple[float, float]] = {
    SurfaceKind.ALL_MOVING: (0.3, 0.6),
    SurfaceKind.OUTER_AILERON: (0.5, 1.0),
    SurfaceKind.TAIL: (0.7, 1.15),
    SurfaceKind.INBOARD_OR_SLOW: (1.15, 1.5),
}
_LEVELS = ("ok", "caution", "warning")


def free_play_level(kind: SurfaceKind, free_play_deg: float, *, severer_by: int = 0) -> str:
    """How a measured or estimated free play is judged.

    Args:
        kind: which surface.
        free_play_deg: total, 0 or more.
        severer_by: steps added, one for each of: no mass balance above 50 m/s, an open hinge gap, one servo
            at one end of a long surface.

    Returns:
        "ok", "caution" or "warning" (stop and fix).

    Raises:
        BadInput: a free play below 0.

    >>> free_play_level(SurfaceKind.TAIL, 0.9), free_play_level(SurfaceKind.TAIL, 0.9, severer_by=1)
    ('caution', 'warning')
    """
    play = zero_or_more(free_play_deg, "free play")
    fine, limit = FREE_PLAY_LIMITS_DEG[kind]
    step = 0 if play <= fine else 1 if play <= limit else 2
    return _LEVELS[min(2, step + max(0, severer_by))]


def surface_free_play_deg(
    gear_play_deg: float,
    velocity_ratio: float,
    end_clearances_mm: Iterable[float],
    horn_lever_mm: float,
    hinge_play_deg: float = 0.0,
) -> float:
    """Total free play at a surface from the slop along its linkage.

    Args:
        gear_play_deg: total at the servo arm, gears and spline, 0 or more.
        velocity_ratio: horn degrees for each degree of arm, at neutral.
        end_clearances_mm: total clearance of each rod end, 0 or more.
        horn_lever_mm: effective lever at the horn, at neutral, not 0.
        hinge_play_deg: turning play of the hinge or horn itself.

    Raises:
        BadInput: a play or clearance below 0, or no lever at the horn.

    >>> round(surface_free_play_deg(0.5, 0.75, [0.1], 20.0), 2)
    0.66
    """
    finite(velocity_ratio=velocity_ratio)
    gear = zero_or_more(gear_play_deg, "gear play") * abs(velocity_ratio)
    clearance = sum(zero_or_more(value, "rod end clearance") for value in end_clearances_mm)
    ends = math.degrees(clearance / above_zero(abs(horn_lever_mm), "lever at the horn"))
    return gear + ends + zero_or_more(hinge_play_deg, "hinge play")


def free_play_of_edge_deg(edge_mm: float, radius_mm: float) -> float:
    """Free play from the total movement of the trailing edge, rocked both ways with a small force.

    Raises:
        BadInput: a movement below 0 or a radius not above 0.

    >>> round(free_play_of_edge_deg(2.5, 60.0), 2)
    2.39
    """
    return math.degrees(zero_or_more(edge_mm, "movement") / above_zero(radius_mm, "measuring radius"))


def hinge_stiffness_nm_per_rad(
    servo_nm_per_rad: float,
    velocity_ratio: float,
    rod_n_per_mm: float = math.inf,
    horn_lever_mm: float = math.inf,
    horn_nm_per_rad: float = math.inf,
) -> float:
    """Stiffness that holds the surface at its hinge: servo, rod and horn one after the other.

    Args:
        servo_nm_per_rad: holding stiffness at the arm; 0 for a dead servo.
        velocity_ratio: horn degrees for each degree of arm, at neutral, not 0.
        rod_n_per_mm: stiffness along the rod.
        horn_lever_mm: effective lever at the horn.
        horn_nm_per_rad: stiffness of horn and its mounting.

    Raises:
        BadInput: a stiffness below 0, or no velocity ratio.

    >>> round(hinge_stiffness_nm_per_rad(10.0, 0.75), 1)
    17.8
    """
    servo = zero_or_more(servo_nm_per_rad, "servo stiffness")
    if servo == 0.0:
        return 0.0
    ratio = above_zero(abs(velocity_ratio), "velocity ratio")
    rod = rod_n_per_mm * horn_lever_mm**2 / 1000.0
    if not (rod > 0.0 and horn_nm_per_rad > 0.0):
        raise BadInput("rod and horn need a stiffness above 0; leave them out where they are not known.")
    return 1.0 / (ratio**2 / servo + 1.0 / rod + 1.0 / horn_nm_per_rad)


def surface_inertia_kg_m2(mass_g: float, chord_mm: float) -> float:
    """Inertia about its hinge of an even surface hinged at its nose: mass x chord^2 / 3.

    Raises:
        BadInput: a mass or chord not above 0.

    >>> f"{surface_inertia_kg_m2(60.0, 60.0):.2e}"
    '7.20e-05'
    """
    mass_kg = above_zero(mass_g, "mass") / 1000.0
    return mass_kg * (above_zero(chord_mm, "chord") / 1000.0) ** 2 / 3.0


def rotational_frequency_hz(stiffness_nm_per_rad: float, inertia_kg_m2: float) -> float:
    """How fast a surface would swing on its linkage, without air or free play.

    Raises:
        BadInput: a stiffness below 0 or an inertia not above 0.

    >>> round(rotational_frequency_hz(16.0, 7.2e-5))
    75
    """
    stiffness = zero_or_more(stiffness_nm_per_rad, "stiffness")
    return math.sqrt(stiffness / above_zero(inertia_kg_m2, "inertia")) / (2.0 * math.pi)


def stiffness_share(free_play_deg: float, amplitude_deg: float) -> float:
    """Share of the stiffness left when a swing of this amplitude runs through the free play.

    Raises:
        BadInput: a free play below 0 or an amplitude not above 0.

    Source: describing function of a spring with a dead zone, as in textbooks on nonlinear control.

    >>> round(stiffness_share(1.0, 1.0), 3)
    0.391
    """
    half = zero_or_more(free_play_deg, "free play") / 2.0
    inside = half / above_zero(amplitude_deg, "amplitude")
    if inside >= 1.0:
        return 0.0
    return 1.0 - 2.0 / math.pi * (math.asin(inside) + inside * math.sqrt(1.0 - inside**2))


@value_class
class SpeedScreen:
    """Outcome of the caution-speed check.

    ``outcome`` is "not assessed", "caution" or "no caution"; speeds are None when not assessed.
    ``low_m_s`` and ``high_m_s`` are the band of the statistic behind the caution speed.
    """

    outcome: str
    message: Text
    caution_m_s: float | None = None
    low_m_s: float | None = None
    high_m_s: float | None = None
    frequency_hz: float | None = None


def caution_speed_m_s(
    frequency_hz: float,
    chord_m: float,
    *,
    free_play_deg: float,
    reduced_frequency: float = REDUCED_FREQUENCY,
) -> float:
    """Half the speed at which a surface of this frequency meets the reduced-frequency statistic.

    Args:
        frequency_hz: turning frequency of the surface on its linkage, without free play.
        chord_m: whole chord of wing or tail there.
        free_play_deg: total [deg], 0 or more; the stiffness is that of a swing a degree beyond its end.
        reduced_frequency: angular frequency x chord / speed.

    Raises:
        BadInput: a frequency or free play below 0, or a chord or statistic not above 0.

    Source: as the module's; that a swing a degree beyond the play is looked at is our judgement, no source.

    >>> [round(caution_speed_m_s(75.0, 0.22, free_play_deg=play)) for play in (0.01, 1.0, 3.0)]
    [57, 44, 31]
    """
    frequency = zero_or_more(frequency_hz, "frequency")
    play = zero_or_more(free_play_deg, "free play")
    frequency *= math.sqrt(stiffness_share(play, 0.5 * play + _BEYOND_PLAY_DEG))
    chord = above_zero(chord_m, "chord")
    return math.pi * frequency * chord / above_zero(reduced_frequency, "reduced frequency")


def screen_speed(
    design_speed_m_s: float,
    chord_m: float,
    stiffness_nm_per_rad: float | None,
    inertia_kg_m2: float | None,
    free_play_deg: float | None,
    *,
    servo_known_or_digital: bool = True,
) -> SpeedScreen:
    """Compare the speed a keeper entered with the caution speed of one surface.

    Args:
        design_speed_m_s: fastest intended speed, above 0.
        chord_m: whole chord of wing or tail at the surface, above 0.
        stiffness_nm_per_rad: at the hinge; None or 0 is not assessed.
        inertia_kg_m2: about the hinge; None is not assessed.
        free_play_deg: total; None is not assessed.
        servo_known_or_digital: False for an analog servo whose stiffness was not measured.

    Raises:
        BadInput: a speed or chord not above 0, or a free play below 0.

    >>> screen_speed(30.0, 0.22, 16.0, 7.2e-5, 0.5).outcome
    'no caution'
    >>> screen_speed(30.0, 0.22, None, 7.2e-5, 0.5).outcome
    'not assessed'
    """
    missing = [
        name
        for name, value in (
            ("holding stiffness", stiffness_nm_per_rad or None),
            ("inertia about the hinge", inertia_kg_m2),
            ("free play", free_play_deg),
        )
        if value is None
    ]
    if not servo_known_or_digital:
        missing.append("measured stiffness of the analog servo")
    if missing or stiffness_nm_per_rad is None or inertia_kg_m2 is None or free_play_deg is None:
        return SpeedScreen(
            "not assessed",
            text("Not assessed: {missing} not known.", missing=listed(map(fixed, missing), joint=",")),
        )
    speed = above_zero(design_speed_m_s, "speed")
    frequency = rotational_frequency_hz(stiffness_nm_per_rad, inertia_kg_m2)
    play = zero_or_more(free_play_deg, "free play")
    middle, low, high = (
        caution_speed_m_s(frequency, chord_m, free_play_deg=play, reduced_frequency=statistic)
        for statistic in (
            REDUCED_FREQUENCY,
            REDUCED_FREQUENCY + REDUCED_FREQUENCY_BAND,
            REDUCED_FREQUENCY - REDUCED_FREQUENCY_BAND,
        )
    )
    if middle < speed:
        message = text(
            "Caution: estimated caution speed {caution:.0f} m/s is below the speed you entered, "
            "{speed:.0f} m/s; reduce slop, stiffen, shorten the surface span per servo, or mass-balance.",
            caution=middle,
            speed=speed,
        )
        return SpeedScreen("caution", message, middle, low, high, frequency)
    return SpeedScreen("no caution", fixed(NO_CAUTION), middle, low, high, frequency)


@dataclass(frozen=True, slots=True)
class MassBalance:
    """A balance mass ahead of the hinge and what its mounting must carry."""

    mass_g: float
    normal_n: float
    fore_aft_n: float
    along_hinge_n: float
    added_inertia_kg_m2: float


def mass_balance(unbalance_g_mm: float, radius_mm: float) -> MassBalance:
    """Mass that balances a surface statically, and the loads its attachment must take.

    Args:
        unbalance_g_mm: mass of the surface times its centre of gravity aft of the hinge, 0 or more.
        radius_mm: hinge to balance mass, above 0.

    Raises:
        BadInput: an unbalance below 0 or a radius not above 0.

    Source: attachment loads 24, 12 and 12 times weight: 14 CFR 23.659.

    >>> balance = mass_balance(60 * 22, 30)
    >>> balance.mass_g, round(balance.normal_n, 1)
    (44.0, 10.4)
    """
    mass = zero_or_more(unbalance_g_mm, "unbalance") / above_zero(radius_mm, "radius")
    weight_n = mass / 1000.0 * 9.80665
    inertia = mass / 1000.0 * (radius_mm / 1000.0) ** 2
    return MassBalance(mass, 24.0 * weight_n, 12.0 * weight_n, 12.0 * weight_n, inertia)
