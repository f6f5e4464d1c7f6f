"""The cheapest choice of each list for one supply, depth first."""

from __future__ import annotations

import bisect
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from hangar.refit.choice import Choice, ChoiceList
from hangar.refit.judge import Key

MOST_STEPS = 60_000
_MOST_POINTS = 200


@dataclass(frozen=True)
class Limit:
    """A summed quantity of every choice by list; the sum must be at least ``low`` and below ``high``."""

    weights: tuple[Sequence[int], ...]
    low: int | None = None
    high: int | None = None


@dataclass(frozen=True)
class SeenUnit:
    """A unit that is seen when one choice is taken out of each of some sets: list and bits."""

    unit: Key
    cost: int
    columns: tuple[tuple[int, int], ...]


@dataclass(frozen=True)
class Problem:
    """One choice of each list at least cost.

    Attributes:
        lists: the lists.
        costs: of every choice by list; None where it may not be taken.
        shared: units that hang on choices of several lists; a unit costs what its dearest one costs, once.
        based: what each of those units costs already.
        limits: on summed currents.
        money: of every choice by list, with ``high`` the most for all; None for no limit.
        grams: the same for mass.
        spares: how many parts of each kind or tag there are.
        most_types: most servo types that are bought.
        exact: plans of which more is known than their choices say, with what their units cost in all; None
            where one must not be taken.
        plain: what the choices alone cost, without units; needed for ``exact``.
        below: what a plan must cost less than to be of use; None where any is.
    """

    lists: tuple[ChoiceList, ...]
    costs: tuple[Sequence[int | None], ...]
    shared: Sequence[SeenUnit] = ()
    based: Mapping[Key, int] = field(default_factory=dict)
    limits: Sequence[Limit] = ()
    money: Limit | None = None
    grams: Limit | None = None
    spares: Mapping[str, int] = field(default_factory=dict)
    most_types: int | None = None
    exact: Mapping[tuple[int, ...], int | None] = field(default_factory=dict)
    plain: tuple[Sequence[int], ...] = ()
    below: int | None = None


@dataclass(frozen=True)
class Cheapest:
    """The least cost and one plan that has it; without a plan there is none.

    ``whole`` is False where the search ended early: then ``cost`` is no more than a lower bound.
    """

    cost: int | None
    picks: tuple[int, ...] = ()
    whole: bool = True
    steps: int = 0


def cheapest(problem: Problem) -> Cheapest:
    """The cheapest choices that keep every limit."""
    return _Descent(problem).answer()


class _Descent:
    """Goes through the lists one after the other; what the rest costs at least cuts the dear ones."""

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        count = len(problem.lists)
        touched = {at for seen in problem.shared for at, _ in seen.columns}
        self.order = sorted(range(count), key=lambda at: at not in touched)
        place = {at: depth for depth, at in enumerate(self.order)}
        self.rows = list(problem.limits)
        if problem.grams is not None:
            self.rows.append(problem.grams)
        self.columns = [self._column(at, at in touched) for at in self.order]
        self.checks: list[list[SeenUnit]] = [[] for _ in range(count)]
        for seen in problem.shared:
            self.checks[max(place[at] for at, _ in seen.columns)].append(seen)
        self.best: int | None = None
        if not all(self.columns):
            return
        self.best = _NONE if problem.below is None else problem.below
        self.rest = self._rest()
        self.low = [self._ends(row, least=True) for row in self.rows]
        self.high = [self._ends(row, least=False) for row in self.rows]
        self.steps = 0
        self.picks = [0] * count
        self.best_picks: tuple[int, ...] = ()
        self.is_found = False
        self.unit_cost: dict[Key, int] = dict(problem.based)
        self.used: dict[str, int] = {}
        self.coming = self._coming()
        self.freed: set[str] = set()
        self.types: dict[str, int] = {}

    def answer(self) -> Cheapest:
        """The answer."""
        if self.best is None:
            return Cheapest(None)
        most = None if self.problem.money is None else self.problem.money.high
        lower = self._rest_cost(0, 0, most)
        if lower is None:
            return Cheapest(None)
        try:
            self._down(0, 0, 0, [0] * len(self.rows))
        except _Enough:
            return Cheapest(lower, self.best_picks, whole=False, steps=self.steps)
        if not self.is_found:
            return Cheapest(None, steps=self.steps)
        return Cheapest(self.best, self.best_picks, steps=self.steps)

    def _column(self, at: int, touched: bool) -> list[tuple[int, int, int]]:
        """Cost, money and number of the choices worth looking at, cheapest first."""
        problem = self.problem
        costs, money = problem.costs[at], problem.money
        ordered = [
            (cost, 0 if money is None else money.weights[at][number], number)
            for number, cost in enumerate(costs)
            if cost is not None
        ]
        ordered.sort()
        choices = problem.lists[at].choices
        weighed = any(len(set(row.weights[at])) > 1 for row in self.rows if row.weights[at])
        if touched or weighed or problem.exact:
            return ordered
        kept: list[tuple[int, int, int]] = []
        for entry in ordered:
            plain = not self._is_scarce(choices[entry[2]])
            is_beaten = any(other[1] <= entry[1] and not self._is_scarce(choices[other[2]]) for other in kept)
            if choices[entry[2]].frees or not is_beaten:
                kept.append(entry)
                if plain and money is None and not any(choice.frees for choice in choices):
                    break
        return kept

    def _is_scarce(self, choice: Choice) -> bool:
        """Whether taking it may keep another list from something."""
        return bool(choice.spares) or (self.problem.most_types is not None and bool(choice.buys))

    def _coming(self) -> list[frozenset[str]]:
        """From each depth on the tags that some choice of the lists sets free."""
        coming = [frozenset[str]()]
        for at in reversed(self.order):
            freed = (choice.frees for choice in self.problem.lists[at].choices if choice.frees)
            coming.append(coming[-1].union(*freed))
        return coming[::-1]

    def _rest(self) -> list[list[tuple[int, int]]]:
        """From each depth on: money and the least that the lists cost for it, rising and falling."""
        rest: list[list[tuple[int, int]]] = [[(0, 0)]]
        for column in reversed(self.columns):
            best: list[tuple[int, int]] = []
            if self.problem.money is None:
                best = [(0, column[0][0] + rest[-1][0][1])] if column else []
            else:
                sums = sorted((money + m, cost + c) for cost, money, _ in column for m, c in rest[-1])
                for point in sums:
                    if not best or point[1] < best[-1][1]:
                        best.append(point)
                if len(best) > _MOST_POINTS:
                    step = -(-len(best) // _MOST_POINTS)
                    best = [
                        (best[first][0], best[min(first + step, len(best)) - 1][1])
                        for first in range(0, len(best), step)
                    ]
            rest.append(best)
        return rest[::-1]

    def _rest_cost(self, depth: int, spent: int, most: int | None) -> int | None:
        """The least that the lists from a depth on cost with the money left; None where it is too little."""
        points = self.rest[depth]
        if not points:
            return None
        if most is None:
            return points[-1][1]
        at = bisect.bisect_right(points, (most - spent, _NONE)) - 1
        return points[at][1] if at >= 0 else None

    def _ends(self, row: Limit, *, least: bool) -> list[int]:
        """From each depth on: the least or the most that the lists can add to a sum."""
        ends = [0]
        for at, column in zip(reversed(self.order), reversed(self.columns), strict=True):
            weights = [row.weights[at][number] for *_, number in column] or [0]
            ends.append(ends[-1] + (min(weights) if least else max(weights)))
        return ends[::-1]

    def _down(self, depth: int, cost: int, spent: int, sums: list[int]) -> None:
        if depth == len(self.order):
            self._arrive(cost, tuple(self.picks))
            return
        problem, at = self.problem, self.order[depth]
        most = None if problem.money is None else problem.money.high
        points = self.rest[depth + 1]
        least_rest = points[-1][1] if points else 0
        for own, money, number in self.columns[depth]:
            if cost + own + least_rest >= self.least:
                return
            rest = self._rest_cost(depth + 1, spent + money, most)
            if rest is None:
                continue
            if cost + own + rest >= self.least:
                if most is None:
                    return
                continue
            self.steps += 1
            if self.steps > MOST_STEPS:
                raise _Enough
            added = [have + row.weights[at][number] for have, row in zip(sums, self.rows, strict=True)]
            if self._within(added, depth + 1):
                self.picks[at] = number
                self._take_one(depth, cost + own, spent + money, added, rest)

    def _arrive(self, cost: int, picks: tuple[int, ...]) -> None:
        """Keep a whole plan that is cheaper than the best."""
        exact = self.problem.exact
        if picks in exact:
            units = exact[picks]
            if units is None:
                return
            plain = sum(own[number] for own, number in zip(self.problem.plain, picks, strict=True))
            cost = max(cost, plain + units - sum(self.problem.based.values()))
        if cost < self.least:
            self.best, self.best_picks, self.is_found = cost, picks, True

    def _take_one(self, depth: int, cost: int, spent: int, sums: list[int], rest: int) -> None:
        """Go on with the choice just picked, and leave everything as it was."""
        at = self.order[depth]
        choice = self.problem.lists[at].choices[self.picks[at]]
        undo: list[tuple[Key, int]] = []
        extra = self._shared(self.checks[depth], undo)
        if extra is not None and cost + extra + rest < self.least:
            if self._take(choice, depth):
                self._down(depth + 1, cost + extra, spent, sums)
            self._give_back(choice)
        for unit, before in reversed(undo):
            self.unit_cost[unit] = before

    @property
    def least(self) -> int:
        """What a plan must cost less than."""
        return _NONE if self.best is None else self.best

    def _within(self, sums: Sequence[int], depth: int) -> bool:
        for have, row, low, high in zip(sums, self.rows, self.low, self.high, strict=True):
            if row.high is not None and have + low[depth] >= row.high:
                return False
            if row.low is not None and have + high[depth] < row.low:
                return False
        return True

    def _shared(self, checks: Sequence[SeenUnit], undo: list[tuple[Key, int]]) -> int | None:
        """What the units that this choice completes add; None where one of them must not be."""
        extra = 0
        for seen in checks:
            before = self.unit_cost.get(seen.unit, 0)
            if seen.cost <= before or not all(taken >> self.picks[at] & 1 for at, taken in seen.columns):
                continue
            if seen.cost >= FORBIDDEN:
                return None
            undo.append((seen.unit, before))
            self.unit_cost[seen.unit] = seen.cost
            extra += seen.cost - before
        return extra

    def _take(self, choice: Choice, depth: int) -> bool:
        """Whether the spares and types a choice takes are still to be had; they are noted in any case."""
        fits = True
        for kind, count in choice.spares.items():
            self.used[kind] = self.used.get(kind, 0) + count
        self.freed |= choice.frees
        for kind, count in self.used.items():
            if count > self.problem.spares.get(kind, 0):
                is_free = kind in self.freed or kind in self.coming[depth + 1]
                fits = fits and is_free and count <= self.problem.spares.get(kind, 0) + 1
        most = self.problem.most_types
        if most is not None:
            for kind in choice.buys:
                self.types[kind] = self.types.get(kind, 0) + 1
            fits = fits and sum(count > 0 for count in self.types.values()) <= most
        return fits

    def _give_back(self, choice: Choice) -> None:
        self.freed -= choice.frees
        for kind, count in choice.spares.items():
            self.used[kind] -= count
        if self.problem.most_types is not None:
            for kind in choice.buys:
                self.types[kind] -= 1


class _Enough(Exception):
    """The descent took all its steps."""


FORBIDDEN = 1 << 200
_NONE = 1 << 240
