"""A whole surface that turns about a pivot: all-moving tails.

Source: thin-aerofoil and lifting-line theory with a separated plate; see each function.
"""

from __future__ import annotations

import math

from hangar.base.errors import BadInput, OutOfValidity
from hangar.base.figure import Band
from hangar.physics.checks import finite
from hangar.physics.hinge_large import plate_normal_force, plate_pressure_centre
from hangar.physics.surface import EXPECTED_SHARE, LOW_SHARE, MOST_ALPHA_DEG, MOST_DEFLECTION_DEG, MOST_MACH

AERODYNAMIC_CENTRE = 0.25
FOREMOST_CENTRE = 0.20
REARMOST_CENTRE = 0.30
_ATTACHED_TO_DEG = 14.0
_LEAST_ASPECT_RATIO = 2.0


def _lift_slope_per_rad(aspect_ratio: float) -> float:
    if not aspect_ratio > 0.0:
        raise BadInput("Aspect ratio is {aspect_ratio}; it must be above zero.", aspect_ratio=aspect_ratio)
    # A lower ratio lifts less than this formula says; 2 keeps the load on the heavy side.
    aspect = max(aspect_ratio, _LEAST_ASPECT_RATIO)
    return 2.0 * math.pi * aspect / (aspect + 2.0)


def _refuse_pivot(pivot_fraction: float) -> None:
    if not 0.0 <= pivot_fraction <= 0.5:
        raise OutOfValidity(
            "Pivot stands at {pivot_fraction} of the mean chord; 0 to 0.5 from the leading edge is allowed.",
            pivot_fraction=pivot_fraction,
        )


def all_moving_coefficient(
    pivot_fraction: float,
    deflection_deg: float,
    alpha_deg: float = 0.0,
    *,
    aspect_ratio: float,
    mach: float = 0.0,
) -> Band:
    """How hard the air turns an all-moving surface about its pivot, on mean chord squared.

    Args:
        pivot_fraction: pivot behind the leading edge over mean chord [-], 0 to 0.5.
        deflection_deg: turn of the surface [deg], -50 to 50; the sign does not matter.
        alpha_deg: incidence that can add [deg], up to 40.
        aspect_ratio: of the whole surface [-], above 0; below 2 counts as 2.
        mach: Mach number [-], 0 to 0.4.

    Returns:
        Size of the coefficient. ``design`` takes the aerodynamic centre anywhere from 0.20 to 0.30 of
        the chord; ``low`` takes it at 0.25.

    Raises:
        BadInput, OutOfValidity: outside those bounds.

    Valid for: an estimate: no test data stand under it. See :func:`drives_away`.
    Source: lifting-line slope with scatter of the aerodynamic centre (our judgement), and a separated
        plate after Hoerner and Rayleigh.

    >>> all_moving_coefficient(0.25, 20.0, aspect_ratio=4.0).design
    0.1059
    """
    finite(aspect_ratio=aspect_ratio)
    _refuse_pivot(pivot_fraction)
    if not (abs(deflection_deg) <= MOST_DEFLECTION_DEG and abs(alpha_deg) <= MOST_ALPHA_DEG):
        raise OutOfValidity(
            "All-moving surface is turned {deflection} degrees at incidence {incidence}; "
            "{most_deflection:g} and {most_incidence:g} degrees are allowed.",
            deflection=deflection_deg,
            incidence=alpha_deg,
            most_deflection=MOST_DEFLECTION_DEG,
            most_incidence=MOST_ALPHA_DEG,
        )
    if not 0.0 <= mach <= MOST_MACH:
        raise OutOfValidity(
            "Mach number is {mach:.3g}; 0 to {most_mach:g} is allowed.", mach=mach, most_mach=MOST_MACH
        )
    incidence = abs(deflection_deg) + abs(alpha_deg)
    lift = _lift_slope_per_rad(aspect_ratio) * math.radians(min(incidence, _ATTACHED_TO_DEG))
    plate = plate_normal_force(incidence) * abs(plate_pressure_centre(incidence) - pivot_fraction)
    scatter = max(abs(FOREMOST_CENTRE - pivot_fraction), abs(REARMOST_CENTRE - pivot_fraction))
    design = max(lift * scatter, plate)
    middle = lift * abs(AERODYNAMIC_CENTRE - pivot_fraction)
    band = Band(LOW_SHARE * middle, EXPECTED_SHARE * design, design)
    return band / math.sqrt(1.0 - mach * mach)


def all_moving_moment_nm(
    area_m2: float,
    mean_chord_m: float,
    dynamic_pressure_pa: float,
    coefficient: Band,
) -> Band:
    """Torque about the pivot [N m] from a coefficient on mean chord, area [m²] and dynamic pressure [Pa].

    Raises:
        BadInput: an area or chord not above zero, or a dynamic pressure below zero.

    >>> all_moving_moment_nm(0.05, 0.2, 750.0, Band.exactly(0.1)).design
    0.75
    """
    finite(dynamic_pressure_pa=dynamic_pressure_pa)
    if not (area_m2 > 0.0 and mean_chord_m > 0.0):
        raise BadInput(
            "Surface is {area} m², mean chord {mean_chord} m; both must be above zero.",
            area=area_m2,
            mean_chord=mean_chord_m,
        )
    return coefficient * (dynamic_pressure_pa * area_m2 * mean_chord_m)


def drives_away(pivot_fraction: float) -> bool:
    """Whether the air may drive an all-moving surface away from neutral (pivot behind 0.25 chord).

    Raises:
        OutOfValidity: a pivot outside 0 to 0.5 of the chord.

    >>> drives_away(0.30), drives_away(0.22)
    (True, False)
    """
    _refuse_pivot(pivot_fraction)
    return pivot_fraction > AERODYNAMIC_CENTRE


def divergence_pressure_pa(
    stiffness_nm_per_rad: float,
    *,
    area_m2: float,
    mean_chord_m: float,
    aspect_ratio: float,
    pivot_fraction: float,
    centre_fraction: float = AERODYNAMIC_CENTRE,
) -> float:
    """Dynamic pressure at which the air overcomes the drive's stiffness and the surface runs away.

    Args:
        stiffness_nm_per_rad: stiffness of servo and linkage about the pivot [N m/rad], above zero.
        area_m2: area of the surface [m²].
        mean_chord_m: mean chord [m].
        aspect_ratio: of the whole surface [-]; below 2 counts as 2.
        pivot_fraction: pivot behind the leading edge over mean chord [-], 0 to 0.5.
        centre_fraction: aerodynamic centre over mean chord [-]; 0.20 is the careful end.

    Returns:
        Dynamic pressure [Pa]; infinite when the pivot stands ahead of the centre.

    Raises:
        BadInput, OutOfValidity: outside those bounds.

    Valid for: small angles; static only, flutter is not in it.
    Source: balance of lift about the pivot against stiffness.

    >>> round(divergence_pressure_pa(10.0, area_m2=0.05, mean_chord_m=0.2, aspect_ratio=4.0,
    ...                              pivot_fraction=0.30))
    4775
    """
    finite(aspect_ratio=aspect_ratio, centre_fraction=centre_fraction)
    _refuse_pivot(pivot_fraction)
    if not (stiffness_nm_per_rad > 0.0 and area_m2 > 0.0 and mean_chord_m > 0.0):
        raise BadInput(
            "Stiffness is {stiffness} N m/rad, area {area} m², mean chord {mean_chord} m; all must "
            "be above zero.",
            stiffness=stiffness_nm_per_rad,
            area=area_m2,
            mean_chord=mean_chord_m,
        )
    lever = pivot_fraction - centre_fraction
    if lever <= 0.0:
        return math.inf
    return stiffness_nm_per_rad / (area_m2 * mean_chord_m * _lift_slope_per_rad(aspect_ratio) * lever)
