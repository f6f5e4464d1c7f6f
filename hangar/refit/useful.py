"""The choices of a node with which a plan can still be better than the best one judged."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from hangar.refit.currents import Currents, Row


@dataclass(frozen=True)
class Useful:
    """Which choices of each list are left, and so the ends of every summed current."""

    left: tuple[tuple[int, ...], ...]
    known: dict[Row, tuple[int, int]] = field(default_factory=dict)

    @classmethod
    def of(
        cls, costs: Sequence[Sequence[int | None]], below: int | None, before: Useful | None
    ) -> Useful | None:
        """The choices that leave a plan below a cost while all others are the cheapest; None where none does.

        Args:
            costs: of every choice by list; None where it may not be taken.
            below: what a plan must cost less than; None where any is of use.
            before: those that were left so far.
        """
        cheapest = [min((cost for cost in own if cost is not None), default=None) for own in costs]
        least = [cost for cost in cheapest if cost is not None]
        if len(least) < len(costs):
            return None
        spare = None if below is None else below - sum(least)
        if spare is not None and spare <= 0:
            return None
        left = []
        for at, own in enumerate(costs):
            numbers = range(len(own)) if before is None else before.left[at]
            most = None if spare is None else least[at] + spare
            left.append(
                tuple(
                    number
                    for number in numbers
                    if (cost := own[number]) is not None and (most is None or cost < most)
                )
            )
        return cls(tuple(left)) if all(left) else None

    def ends(self, currents: Currents, row: Row) -> tuple[int, int]:
        """The least and the most that a summed current can be."""
        if row not in self.known:
            low = high = 0
            for at, numbers in enumerate(self.left):
                amps = list(map(currents.column(at, row).__getitem__, numbers))
                low, high = low + min(amps), high + max(amps)
            self.known[row] = (low, high)
        return self.known[row]
