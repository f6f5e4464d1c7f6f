"""The refits of an aircraft less some that failed, as parts that do not overlap."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace

import numpy as np

from hangar.refit.level_table import FrontRows, LevelTable, no_rows
from hangar.refit.supplies import Supply


@dataclass(frozen=True)
class Branch:
    """Refits whose first choices are fixed and whose next one is none of some.

    Attributes:
        fixed: choices of the first groups, or of all of them and the supply.
        barred: choices that the group after them, or the supply, must not take.
        supplies: the only supplies that are looked at; None for all.
    """

    fixed: tuple[int, ...] = ()
    barred: frozenset[int] = field(default_factory=frozenset)
    supplies: frozenset[int] | None = None

    def holds(self, choices: tuple[int, ...]) -> bool:
        """Whether a refit is among them."""
        size = len(self.fixed)
        if choices[:size] != self.fixed or (self.supplies is not None and choices[-1] not in self.supplies):
            return False
        return size >= len(choices) or choices[size] not in self.barred

    def without(self, choices: tuple[int, ...]) -> Iterator[Branch]:
        """Parts that together hold all of this one but one refit.

        >>> [part.fixed for part in Branch().without((4, 2, 0))]
        [(), (4,), (4, 2)]
        """
        for size in range(len(self.fixed), len(choices)):
            barred = self.barred if size == len(self.fixed) else frozenset[int]()
            yield Branch(choices[:size], barred | {choices[size]}, self.supplies)

    def of(self, one: LevelTable) -> LevelTable:
        """A level with only the choices of this part."""
        if self.supplies is not None:
            rows = np.isin(one.supplies.choice, np.array(sorted(self.supplies), np.int64))
            one = replace(one, supplies=one.supplies.take(rows))
        if not self.fixed and not self.barred:
            return one
        groups = list(one.groups)
        for at, choice in enumerate(self.fixed[: len(groups)]):
            groups[at] = groups[at].take(groups[at].choice == choice)
        if len(self.fixed) > len(groups):
            own = one.supplies.take(one.supplies.choice == self.fixed[-1])
            return replace(one, groups=tuple(groups), supplies=own)
        at = len(self.fixed)
        barred = np.array(sorted(self.barred), np.int64)
        if at < len(groups):
            groups[at] = groups[at].take(~np.isin(groups[at].choice, barred))
            return replace(one, groups=tuple(groups))
        left = one.supplies.take(~np.isin(one.supplies.choice, barred))
        return replace(one, groups=tuple(groups), supplies=left)


def kinds_of(supplies: Sequence[Supply]) -> list[Branch]:
    """Refits that are weighed among themselves only: those with one pack, and those that add a second.

    A second pack is worth its price and mass for its own sake, so a refit without one never beats it.
    """
    second = frozenset(number for number, supply in enumerate(supplies) if supply.second)
    if not second:
        return [Branch()]
    return [Branch(supplies=frozenset(range(len(supplies))) - second), Branch(supplies=second)]


def joined(parts: Sequence[tuple[Branch, FrontRows]], groups: int) -> FrontRows:
    """The fronts of all parts together: of each kind its own front, sorted."""
    from hangar.refit.labels import best_of

    by_kind: dict[frozenset[int] | None, FrontRows] = {}
    for part, found in parts:
        before = by_kind.get(part.supplies, no_rows(groups))
        by_kind[part.supplies] = best_of(before, found)
    every = [by_kind[kind] for kind in by_kind]
    if len(every) == 1:
        return every[0]
    price, mass_g, margin, level_mv, choices = (
        np.concatenate([getattr(each, name) for each in every])
        for name in ("price", "mass_g", "margin", "level_mv", "choices")
    )
    both = FrontRows(price, mass_g, margin, level_mv, choices)
    return both.rows(np.lexsort((-both.level_mv, -both.margin, both.mass_g, both.price)))
