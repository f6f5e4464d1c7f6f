"""Arrow keys among things that lie about on a picture: which one is next that way."""

from __future__ import annotations

import math
from collections.abc import Hashable, Mapping
from typing import TypeVar

from PySide6.QtCore import QPointF, Qt

KeyT = TypeVar("KeyT", bound=Hashable)
WAYS: Mapping[int, tuple[int, int]] = {
    Qt.Key.Key_Right: (1, 0),
    Qt.Key.Key_Left: (-1, 0),
    Qt.Key.Key_Up: (0, -1),
    Qt.Key.Key_Down: (0, 1),
}
"""Steps to the right and down by arrow key."""


def next_that_way(places: Mapping[KeyT, QPointF], start: QPointF, way: tuple[int, int]) -> KeyT | None:
    """The nearest place on that side, one straight ahead before one aside; None where there is none.

    >>> next_that_way({"a": QPointF(9, 1), "b": QPointF(5, 8)}, QPointF(0, 0), (1, 0))
    'a'
    """
    right, down = way

    def cost(name: KeyT) -> float:
        step = places[name] - start
        along = step.x() * right + step.y() * down
        aside = abs(step.x() * down) + abs(step.y() * right)
        return along + 2.5 * aside if along > 0.5 else math.inf

    best = min(places, key=cost, default=None)
    return best if best is not None and cost(best) < math.inf else None
