"""Where the balls of a lifted and tilted swashplate stand, and the blade pitch its travel makes.

Source: two plane rotations; circle of the grip arm.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from hangar.base.errors import BadInput
from hangar.physics.checks import finite
from hangar.physics.swashplate import Ball


def tilted_balls(
    balls: Sequence[Ball], height_m: float, fore_aft_deg: float, roll_deg: float
) -> tuple[tuple[float, float, float], ...]:
    """Exact ball places of a plate lifted and tilted about its centre ball.

    Args:
        balls: ball places on the plate.
        height_m: height of the centre ball, in the unit of the balls.
        fore_aft_deg: tilt that lowers the elevator ball [deg].
        roll_deg: tilt that lifts the side balls of positive side [deg], made first.

    Returns:
        (towards the elevator ball, to the side, up) of each ball.

    Raises:
        BadInput: a height or tilt that is not finite.

    Source: two plane rotations.

    >>> round(tilted_balls([(30.0, 0.0)], 0.0, 8.0, 6.0)[0][2], 3)
    -4.175
    """
    finite(height_m=height_m, fore_aft_deg=fore_aft_deg, roll_deg=roll_deg)
    pitch, roll = math.radians(fore_aft_deg), math.radians(roll_deg)
    placed = []
    for x, y in balls:
        side, up = y * math.cos(roll), y * math.sin(roll)
        placed.append(
            (
                x * math.cos(pitch) + up * math.sin(pitch),
                side,
                height_m - x * math.sin(pitch) + up * math.cos(pitch),
            )
        )
    return tuple(placed)


def blade_pitch_deg(travel_m: float, grip_arm_m: float, lever_ratio: float = 1.0) -> float:
    """Blade pitch [deg] from swashplate travel [m] off neutral, through the grip arm [m].

    Raises:
        BadInput: no grip arm, or more travel than it can follow.

    >>> round(blade_pitch_deg(0.00499, 0.024), 1)
    12.0
    """
    finite(travel_m=travel_m, lever_ratio=lever_ratio)
    if not grip_arm_m > 0.0:
        raise BadInput("Grip arm is {grip_arm} m; it must be above zero.", grip_arm=grip_arm_m)
    sine = lever_ratio * travel_m / grip_arm_m
    if abs(sine) > 1.0:
        raise BadInput(
            "Swashplate travel is {travel} m; a grip arm of {grip_arm} m cannot follow it.",
            travel=travel_m,
            grip_arm=grip_arm_m,
        )
    return math.degrees(math.asin(sine))
