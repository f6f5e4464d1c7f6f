"""Levels without the choices that another choice of the same group equals or beats at every level.

Such a choice would be dropped at each level by itself; dropped once, it costs nothing at any of them.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from hangar.refit.slices import Bounds, GroupSlice, Ints, Slice

_NEVER_UA = np.iinfo(np.int64).max
_WORTHLESS = -1
_FEW = 4
"""About so many levels are looked at first: most choices that do not beat each other differ there already."""


@dataclass(frozen=True)
class _Rows:
    """The choices of one group, the cheapest first; current and margin have a column for each level.

    Where a choice is not allowed its current is beyond any and its margin below any.
    """

    choice: Ints
    mass_g: Ints
    uses: Ints
    current_ua: Ints
    margin: Ints

    @classmethod
    def of(cls, levels: Sequence[GroupSlice]) -> _Rows:
        size = max(int(each.choice.max(initial=-1)) for each in levels) + 1
        price, mass, seen = np.zeros(size, np.int64), np.zeros(size, np.int64), np.zeros(size, np.bool_)
        uses = np.zeros((size, levels[0].uses.shape[1]), np.int64)
        current = np.full((size, len(levels)), _NEVER_UA)
        margin = np.full((size, len(levels)), _WORTHLESS)
        for at, each in enumerate(levels):
            seen[each.choice] = True
            price[each.choice], mass[each.choice], uses[each.choice] = each.price, each.mass_g, each.uses
            current[each.choice, at], margin[each.choice, at] = each.current_ua, each.margin
        order = np.lexsort((mass, price))
        order = order[seen[order]]
        return cls(order, mass[order], uses[order], current[order], margin[order])

    def as_good(self, best: int, others: Ints) -> Ints:
        """Which of other choices one choice equals or beats in mass and uses, and at every level."""
        others = others[self.mass_g[others] >= self.mass_g[best]]
        if self.uses.shape[1]:
            others = others[(self.uses[others] >= self.uses[best]).all(axis=1)]
        for columns in (slice(None, None, max(1, self.current_ua.shape[1] // _FEW)), slice(None)):
            worse = (self.current_ua[others, columns] >= self.current_ua[best, columns]).all(axis=1)
            worse &= (self.margin[others, columns] <= self.margin[best, columns]).all(axis=1)
            others = others[worse]
        return others


def narrowed(levels: Sequence[Slice], bounds: Bounds) -> list[Slice]:
    """Levels without the choices that can be left out of all of them.

    Args:
        levels: of one aircraft, with the same groups.
        bounds: with a limit on the types to buy nothing is left out, as each type then counts by itself.
    """
    if bounds.most_types is not None or len(levels) < 2:
        return list(levels)
    kept = [_kept([one.groups[at] for one in levels]) for at in range(len(levels[0].groups))]
    return [
        replace(
            one,
            groups=tuple(
                group.take(wanted[group.choice]) for group, wanted in zip(one.groups, kept, strict=True)
            ),
        )
        for one in levels
    ]


def _kept(levels: Sequence[GroupSlice]) -> NDArray[np.bool_]:
    """For each number of a choice, whether no other choice equals or beats it at every level."""
    rows = _Rows.of(levels)
    left = np.ones(len(rows.choice), np.bool_)
    for best in range(len(left)):
        if left[best]:
            left[rows.as_good(best, np.flatnonzero(left[best + 1 :]) + best + 1)] = False
    wanted = np.zeros(int(rows.choice.max(initial=-1)) + 1, np.bool_)
    wanted[rows.choice[left]] = True
    return wanted
