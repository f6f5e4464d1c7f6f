"""Unequal throws from a leaned servo arm.

Source: plane geometry of a leaned arm on a long rod.
"""

from __future__ import annotations

import math

from hangar.base.errors import BadInput
from hangar.physics.checks import finite


def leaned_arm_differential(lean_deg: float, travel_deg: float) -> float:
    """Deflection one way over the other for an arm leaned from square, long rod and square horn.

    Args:
        lean_deg: arm angle away from square to the rod, -80 to 80.
        travel_deg: equal servo travel each way, 0 to 90.

    Raises:
        BadInput: lean or travel outside these bounds, or so large that one side does not move.

    Source: small-angle horn on a long rod; (1 + tan lean tan(travel/2)) / (1 - tan lean tan(travel/2)).

    >>> round(leaned_arm_differential(20, 45), 3)
    1.355
    """
    if not (abs(lean_deg) <= 80.0 and 0.0 <= travel_deg <= 90.0):
        raise BadInput(
            "a lean of {lean:g} deg and travel of {travel:g} deg were given; the lean lies within 80 "
            "deg and the travel from 0 to 90 deg.",
            lean=lean_deg,
            travel=travel_deg,
        )
    share = math.tan(math.radians(lean_deg)) * math.tan(math.radians(travel_deg) / 2.0)
    if abs(share) >= 1.0:
        raise BadInput(
            "with a lean of {lean:g} deg the surface does not move one way at {travel:g} deg.",
            lean=lean_deg,
            travel=travel_deg,
        )
    return (1.0 + share) / (1.0 - share)


def lean_for_differential_deg(differential: float, travel_deg: float) -> float:
    """Lean of the arm, deg, for a wanted differential at equal servo travel each way.

    Raises:
        BadInput: a differential not above 0, or a travel outside 0 to 90 deg.

    >>> round(lean_for_differential_deg(2.0, 45.0), 1)
    38.8
    """
    finite(differential=differential)
    if not (differential > 0.0 and 0.0 < travel_deg <= 90.0):
        raise BadInput(
            "a differential of {differential:g} at {travel:g} deg was asked; both must be above 0 "
            "and the travel at most 90 deg.",
            differential=differential,
            travel=travel_deg,
        )
    share = (differential - 1.0) / (differential + 1.0)
    return math.degrees(math.atan(share / math.tan(math.radians(travel_deg) / 2.0)))
