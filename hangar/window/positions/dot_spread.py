"""Dots that would lie on each other are moved apart, the same way every time."""

from __future__ import annotations

import math
from collections.abc import Sequence

Place = tuple[float, float]
ROUNDS = 80


def spread_apart(places: Sequence[Place], least: float) -> tuple[Place, ...]:
    """Places as near to the given ones as they get with room between each two.

    Args:
        places: where the dots belong, px.
        least: the smallest distance wanted between two middles, px, above 0.

    Returns: one place for each given one; those that nothing crowds stay where they are.

    >>> spread_apart(((0.0, 0.0), (4.0, 0.0), (90.0, 0.0)), 10.0)
    ((-3.0, 0.0), (7.0, 0.0), (90.0, 0.0))
    """
    moved = [list(place) for place in places]
    for _ in range(ROUNDS):
        crowded = False
        for at, one in enumerate(moved):
            for other in moved[at + 1 :]:
                crowded |= _push(one, other, least)
        if not crowded:
            break
    return tuple((round(x, 2), round(y, 2)) for x, y in moved)


def _push(one: list[float], other: list[float], least: float) -> bool:
    """Push two apart by what they lack, each by half; those on one spot go left and right."""
    across, down = other[0] - one[0], other[1] - one[1]
    far = math.hypot(across, down)
    if far >= least - 0.01:
        return False
    way = (across / far, down / far) if far > 1e-6 else (1.0, 0.0)
    half = (least - far) / 2
    for axis in (0, 1):
        one[axis] -= half * way[axis]
        other[axis] += half * way[axis]
    return True
