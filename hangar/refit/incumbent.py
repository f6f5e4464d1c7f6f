"""Whether a partial refit can still become one that nothing found so far equals or beats."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from hangar.refit.level_table import Bounds, FrontRows, GroupTable, Ints, SupplyTable

_CORNERS = 24
"""Most pairs of price and mass that what is still to be chosen is told by."""
_LOOKUPS = 400_000
"""Lookups done at one time: bounds the memory."""
_NEVER = np.iinfo(np.int64).max
_ALWAYS = np.iinfo(np.int64).min
_WIDEST = 200_000
_MANY = 2000


@dataclass(frozen=True)
class Remainder:
    """What the groups not yet chosen, and the supply, add at best and at worst.

    Every way to choose them costs and weighs no less than one of the pairs ``price`` and ``mass_g``, which
    go from the cheapest to the lightest.
    """

    price: Ints
    mass_g: Ints
    least_ua: int
    most_ua: int
    margin: int
    least_uses: Ints
    most_uses: Ints


def remaining_after(groups: Sequence[GroupTable], supplies: SupplyTable) -> list[Remainder]:
    """What is still to come before the first group, after it, and so on to the supply alone."""
    none = np.zeros(supplies.spare.shape[1], np.int64)
    corners = corners_of(supplies.price, supplies.mass_g)
    found = [Remainder(*corners, 0, 0, int(np.iinfo(np.int32).max), none, none)]
    for group in reversed(groups):
        corners = added(corners, corners_of(group.price, group.mass_g))
        after = found[-1]
        found.append(
            Remainder(
                *corners,
                after.least_ua + int(group.current_ua.min()), after.most_ua + int(group.current_ua.max()),
                min(after.margin, int(group.margin.max())),
                after.least_uses + group.uses.min(axis=0), after.most_uses + group.uses.max(axis=0),
            )
        )  # fmt: skip
    return found[::-1]


def corners_of(price: Ints, mass: Ints) -> tuple[Ints, Ints]:
    """Pairs that no pair given undercuts in price or in mass: the front, or fewer that lie below it."""
    order = np.lexsort((mass, price))
    price, mass = price[order], mass[order]
    lightest = np.minimum.accumulate(mass)
    keep = np.ones(len(mass), np.bool_)
    keep[1:] = lightest[1:] < lightest[:-1]
    price, mass = price[keep], mass[keep]
    if len(price) <= _CORNERS:
        return price, mass
    first = np.arange(_CORNERS) * len(price) // _CORNERS
    return price[first], mass[np.append(first[1:], len(price)) - 1]


def added(one: tuple[Ints, Ints], other: tuple[Ints, Ints]) -> tuple[Ints, Ints]:
    """Pairs of price and mass that no sum of a pair of each undercuts."""
    return corners_of((one[0][:, None] + other[0]).ravel(), (one[1][:, None] + other[1]).ravel())


class Incumbent:
    """Prices that a refit must undercut, by its mass and margin, to be worth anything at a level.

    They come from the points known at this level or above, from the budget and from the mass allowed.
    """

    def __init__(self, found: FrontRows, level_mv: int, bounds: Bounds) -> None:
        counted = found.level_mv >= level_mv
        price, mass, margin = found.price[counted], found.mass_g[counted], found.margin[counted]
        most = _NEVER if bounds.budget is None else bounds.budget + 1
        self._masses, ranks = np.unique(mass, return_inverse=True)
        least = np.full((int(margin.max(initial=-1)) + 2, len(self._masses) + 1), most, np.int64)
        np.minimum.at(least, (margin, ranks + 1), price)
        least = np.minimum.accumulate(least, axis=1)
        self._least = np.minimum.accumulate(least[::-1], axis=0)[::-1]
        if bounds.mass_g is not None:
            within = int(np.searchsorted(self._masses, bounds.mass_g, side="right"))
            self._masses = np.append(self._masses[:within], bounds.mass_g + 1)
            too_heavy = np.full((len(self._least), 1), _ALWAYS)
            self._least = np.concatenate((self._least[:, : within + 1], too_heavy), axis=1)
        self._asks = bool(len(self._masses)) or bounds.budget is not None

    def beats(self, price: Ints, mass_g: Ints, margin: Ints) -> NDArray[np.bool_]:
        """Whether refits of these figures are worth nothing; the three are taken together as numpy does."""
        if not self._asks:
            return np.zeros(np.broadcast_shapes(price.shape, mass_g.shape, margin.shape), np.bool_)
        row = np.minimum(margin, len(self._least) - 1)
        return np.asarray(self._least[row, self._column(mass_g)] <= price)

    def _column(self, mass_g: Ints) -> Ints:
        if mass_g.size < _MANY or self._table is None:
            return np.asarray(np.searchsorted(self._masses, mass_g, side="right"))
        return np.asarray(self._table[np.clip(mass_g - self._masses[0] + 1, 0, len(self._table) - 1)])

    @cached_property
    def _table(self) -> Ints | None:
        """The column of every whole gram, from one below the least mass known; None where too wide."""
        if not len(self._masses) or self._masses[-1] - self._masses[0] > _WIDEST:
            return None
        grams = np.arange(self._masses[0] - 1, self._masses[-1] + 1)
        return np.asarray(np.searchsorted(self._masses, grams, side="right"))

    def can_still_win(self, price: Ints, mass_g: Ints, margin: Ints, rest: Remainder) -> NDArray[np.bool_]:
        """Which partial refits could, with what is still to come, become worth something."""
        if not self._asks:
            return np.ones(len(price), np.bool_)
        margin = np.minimum(margin, rest.margin)
        worth = ~self.beats(price + rest.price[0], mass_g + rest.mass_g[-1], margin)
        if len(rest.price) == 1:
            return worth
        rows = np.flatnonzero(worth)
        block = max(1, _LOOKUPS // len(rest.price))
        for first in range(0, len(rows), block):
            part = rows[first : first + block]
            beaten = self.beats(
                price[part, None] + rest.price, mass_g[part, None] + rest.mass_g, margin[part, None]
            )
            worth[part] = ~beaten.all(axis=1)
        return worth
