"""Two servos on one surface: how far their linkages disagree, and how hard they then fight.

Source: two springs pressed together by the difference of two linkages.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from hangar.base.errors import BadInput
from hangar.physics.checks import finite
from hangar.physics.linkage import RodLink


@dataclass(frozen=True, slots=True)
class GangedMismatch:
    """Worst disagreement of two linkages over their travel."""

    travel_deg: float
    surface_deg: float
    servo_deg: float


def ganged_mismatch(
    first: RodLink,
    second: RodLink,
    low_deg: float,
    high_deg: float,
    *,
    offset_deg: float = 0.0,
    mirrored: bool = False,
) -> GangedMismatch:
    """Where two linkages on one surface disagree most, both servos given the same travel.

    Args:
        first: linkage of one servo, with its neutral set.
        second: linkage of the other.
        low_deg: servo travel of one end, counted from neutral.
        high_deg: servo travel of the other end, above ``low_deg``.
        offset_deg: how far the second arm stands off the first at neutral.
        mirrored: the second servo turns the other way for the same surface movement.

    Returns:
        Disagreement in surface degrees, and in degrees of the first servo's arm.

    Raises:
        Unreachable: one of the rods cannot close in this travel.

    >>> one = RodLink.from_rod(15, 20, 120)
    >>> round(ganged_mismatch(one, one, -40.0, 40.0, offset_deg=1.0).servo_deg, 1)
    -1.0
    """
    finite(low_deg=low_deg, high_deg=high_deg, offset_deg=offset_deg)
    if not low_deg < high_deg:
        raise BadInput(
            "travel from {low:g} to {high:g} deg was given; the first must be the lower.",
            low=low_deg,
            high=high_deg,
        )
    count = max(2, math.ceil((high_deg - low_deg) / 0.5))
    sense = -1.0 if mirrored else 1.0
    worst = GangedMismatch(0.0, 0.0, 0.0)
    for index in range(count + 1):
        travel = low_deg + (high_deg - low_deg) * index / count
        gap = first.deflection_deg(travel) - sense * second.deflection_deg(sense * travel + offset_deg)
        if abs(gap) > abs(worst.surface_deg):
            worst = GangedMismatch(travel, gap, gap / first.at_travel(travel).velocity_ratio)
    return worst


def fighting_torque_nm(
    mismatch_deg: float,
    first_nm_per_deg: float,
    second_nm_per_deg: float,
    *,
    dead_bands_deg: float = 0.0,
    stall_torque_nm: float = math.inf,
) -> float:
    """Torque two servos hold against each other, as springs one after the other.

    Args:
        mismatch_deg: disagreement at the arm; its size counts.
        first_nm_per_deg: holding stiffness of the first servo at its arm, above 0.
        second_nm_per_deg: of the second, at the same arm, above 0.
        dead_bands_deg: both half dead bands together; within them nobody pushes.
        stall_torque_nm: of the weaker servo; no more than this can be held.

    Raises:
        BadInput: a stiffness or stall torque not above 0, or dead bands below 0.

    >>> fighting_torque_nm(2.0, 1.0, 1.0, dead_bands_deg=0.4)
    0.8
    """
    finite(mismatch_deg=mismatch_deg)
    if not (
        first_nm_per_deg > 0.0 and second_nm_per_deg > 0.0 and dead_bands_deg >= 0.0 and stall_torque_nm > 0.0
    ):
        raise BadInput("stiffness and stall torque above 0 and dead bands of 0 or more are wanted.")
    pushed = max(0.0, abs(mismatch_deg) - dead_bands_deg)
    return min(stall_torque_nm, pushed / (1.0 / first_nm_per_deg + 1.0 / second_nm_per_deg))
