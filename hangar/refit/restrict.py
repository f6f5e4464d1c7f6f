"""The refits of an aircraft less some that failed, as parts that do not overlap."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace

import numpy as np

from hangar.refit.slices import Slice


@dataclass(frozen=True)
class Part:
    """Refits whose first choices are fixed and whose next one is none of some.

    Attributes:
        fixed: choices of the first groups, or of all of them and the supply.
        barred: choices that the group after them, or the supply, must not take.
    """

    fixed: tuple[int, ...] = ()
    barred: frozenset[int] = field(default_factory=frozenset)

    def holds(self, choices: tuple[int, ...]) -> bool:
        """Whether a refit is among them."""
        size = len(self.fixed)
        if choices[:size] != self.fixed:
            return False
        return size >= len(choices) or choices[size] not in self.barred

    def without(self, choices: tuple[int, ...]) -> Iterator[Part]:
        """Parts that together hold all of this one but one refit.

        >>> [part.fixed for part in Part().without((4, 2, 0))]
        [(), (4,), (4, 2)]
        """
        for size in range(len(self.fixed), len(choices)):
            barred = self.barred if size == len(self.fixed) else frozenset[int]()
            yield Part(choices[:size], barred | {choices[size]})

    def of(self, one: Slice) -> Slice:
        """A level with only the choices of this part."""
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
