"""A whole surface that turns about a pivot: all-moving tails.

Source: thin-aerofoil and lifting-line theory; see each function.
"""

from __future__ import annotations

import math
from functools import lru_cache

from hangar.base.errors import BadInput, OutOfValidity
from hangar.physics.checks import finite
from hangar.physics.hinge_band import Coefficients, angles_to

AERODYNAMIC_CENTRE = 0.25
FOREMOST_CENTRE = 0.20
REARMOST_CENTRE = 0.28
CAREFUL_CENTRE = 0.22
"""Where thin plates and thick trailing edges may have it; common practice, no source."""
_LEAST_LEVER = 0.02
_MORE_DEG = 2.0
_ATTACHED_TO_DEG = 14.0
_LEAST_ASPECT_RATIO = 2.0


def _lift_slope_per_rad(aspect_ratio: float) -> float:
    if not aspect_ratio > 0.0:
        raise BadInput("Aspect ratio is {aspect_ratio}; it must be above zero.", aspect_ratio=aspect_ratio)
    # A lower ratio lifts less than this formula says; 2 keeps the load on the heavy side.
    aspect = max(aspect_ratio, _LEAST_ASPECT_RATIO)
    return 2.0 * math.pi * aspect / (aspect + 2.0)


def _refuse_pivot(pivot_fraction: float) -> None:
    if not 0.0 <= pivot_fraction <= 1.0:
        raise OutOfValidity(
            "Pivot stands at {pivot_fraction} of the mean chord; 0 to 1 from the leading edge is allowed.",
            pivot_fraction=pivot_fraction,
        )


@lru_cache(maxsize=256)
def turning_coefficients(pivot_fraction: float, aspect_ratio: float, greatest_deg: float) -> Coefficients:
    """How hard the air turns an all-moving surface about its pivot, on area and mean chord.

    Args:
        pivot_fraction: pivot behind the leading edge over mean chord [-], 0 to 1.
        aspect_ratio: of the whole surface [-], above 0; below 2 counts as 2.
        greatest_deg: the greatest turn asked [deg], above 0 up to 90.

    Returns:
        Its table: expected with the aerodynamic centre at 0.25 of the chord, the most with the farther of
        0.20 and 0.28 and two degrees more of incidence. Which way it turns is told by :func:`drives_away`.

    Raises:
        BadInput, OutOfValidity: outside those bounds.

    Valid for: an estimate: no test data stand under it.
    Source: lifting-line slope up to the stall, scatter of the aerodynamic centre (our judgement).

    >>> round(turning_coefficients(0.20, 4.0, 10.0).at(10.0).expected, 4)
    0.0366
    """
    finite(aspect_ratio=aspect_ratio)
    _refuse_pivot(pivot_fraction)
    if not 0.0 < greatest_deg <= 90.0:
        raise BadInput("Turn is {turn:g} degrees; above 0 to 90 is allowed.", turn=greatest_deg)
    slope = _lift_slope_per_rad(aspect_ratio)
    lever = max(abs(AERODYNAMIC_CENTRE - pivot_fraction), _LEAST_LEVER)
    most = max(abs(FOREMOST_CENTRE - pivot_fraction), abs(REARMOST_CENTRE - pivot_fraction), _LEAST_LEVER)
    angles = angles_to(greatest_deg)
    expected = tuple(slope * math.radians(min(angle, _ATTACHED_TO_DEG)) * lever for angle in angles)
    high = (slope * math.radians(min(angle + _MORE_DEG, _ATTACHED_TO_DEG)) * most for angle in angles)
    spread = tuple(top - middle for top, middle in zip(high, expected, strict=True))
    return Coefficients(angles, expected, spread, (0.0,) * len(angles))


def drives_away(pivot_fraction: float) -> bool:
    """Whether the air may drive an all-moving surface away from neutral (pivot behind 0.25 chord).

    Raises:
        OutOfValidity: a pivot outside 0 to 1 of the chord.

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
        pivot_fraction: pivot behind the leading edge over mean chord [-], 0 to 1.
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
