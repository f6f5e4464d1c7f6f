"""Reading a value off a chart given as points.

Source: straight lines between neighbouring points.
"""

from __future__ import annotations

from collections.abc import Iterable
from itertools import pairwise

Chart = tuple[tuple[float, float], ...]
"""Points (place, value) in rising order of place."""


def read_chart(chart: Iterable[tuple[float, float]], place: float) -> float:
    """Value of a chart at a place; beyond its ends the value of the end.

    Args:
        chart: points (place, value) in rising order of place, two or more.
        place: where to read.

    >>> read_chart(((0.0, 1.0), (2.0, 5.0)), 0.5), read_chart(((0.0, 1.0), (2.0, 5.0)), 9.0)
    (2.0, 5.0)
    """
    high = 0.0
    for (left, low), (right, high) in pairwise(chart):
        if place <= right:
            return low + (high - low) * max(0.0, place - left) / (right - left)
    return high
