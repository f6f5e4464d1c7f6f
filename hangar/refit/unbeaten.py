"""Of many rows those that are of use: each earlier one is somewhere more."""

from __future__ import annotations

from collections.abc import Hashable, Sequence

import numpy as np
from numpy.typing import NDArray

_BLOCK = 256
"""Rows that are held against all before them at once."""


def unbeaten(rows: Sequence[tuple[Hashable, tuple[int, ...]]]) -> list[int]:
    """Numbers of the rows that no earlier one equals or beats.

    Args:
        rows: of each what must be equal for one to beat another, and what must be no more.

    >>> unbeaten([("a", (2, 5)), ("a", (2, 6)), ("b", (2, 6)), ("a", (1, 7))])
    [0, 2, 3]
    """
    alike: dict[Hashable, list[int]] = {}
    for number, (key, _) in enumerate(rows):
        alike.setdefault(key, []).append(number)
    kept = [True] * len(rows)
    for numbers in alike.values():
        if len(numbers) > 1:
            beaten = _beaten(np.array([rows[number][1] for number in numbers], dtype=np.int64))
            for row in np.flatnonzero(beaten):
                kept[numbers[row]] = False
    return [number for number, is_kept in enumerate(kept) if is_kept]


def _beaten(wants: NDArray[np.int64]) -> NDArray[np.bool_]:
    """Of each row whether an earlier one, itself beaten or not, is nowhere more."""
    count, beaten = len(wants), np.zeros(len(wants), dtype=np.bool_)
    for start in range(0, count, _BLOCK):
        rows = wants[start : start + _BLOCK]
        no_more = np.ones((len(rows), start + len(rows)), dtype=np.bool_)
        for column in range(wants.shape[1]):
            no_more &= wants[: start + len(rows), column] <= rows[:, column, np.newaxis]
        earlier = np.arange(start + len(rows)) < np.arange(start, start + len(rows))[:, np.newaxis]
        beaten[start : start + _BLOCK] = (no_more & earlier).any(axis=1)
    return beaten
