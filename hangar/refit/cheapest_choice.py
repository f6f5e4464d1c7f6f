"""The cheapest choice of each list for one supply, depth first."""

from __future__ import annotations

import bisect
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from operator import add
from typing import Any

from hangar.refit.choice import Choice, ChoiceList
from hangar.refit.judge import Key

MOST_STEPS = 20_000
_STEPS_BEFORE = 600
"""Steps after which it is worth working out what the rest costs within each limit."""
_MOST_POINTS = 100
"""Points of such a curve; between them the cheaper end holds."""


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
        memo: what problems of one question worked out for each other.
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
    memo: dict[object, Any] = field(default_factory=dict)


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
        self.rows = _rows(problem)
        self.columns = [self._column(at, at in touched) for at in self.order]
        self.checks: list[list[SeenUnit]] = [[] for _ in range(count)]
        for seen in problem.shared:
            self.checks[max(place[at] for at, _ in seen.columns)].append(seen)
        self.best: int | None = None
        if not all(self.columns):
            return
        self.best = _NONE if problem.below is None else problem.below
        self.rest = [0]
        for column in reversed(self.columns):
            self.rest.append(self.rest[-1] + column[0][0])
        self.rest.reverse()
        self.least_sums = [self._least_sums(row) for row, _ in self.rows]
        self.curves: list[list[list[tuple[int, int]]]] = []
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
        for most in (_STEPS_BEFORE, MOST_STEPS):
            self.most_steps = most
            try:
                self._down(0, 0, (0,) * len(self.rows))
                break
            except _Enough:
                self.curves = self.curves or [self._curves(number) for number in range(len(self.rows))]
                self._forget()
        else:
            lower = self._rest_cost(0, (0,) * len(self.rows))
            return Cheapest(lower, self.best_picks, whole=False, steps=self.steps)
        if not self.is_found:
            return Cheapest(None, steps=self.steps)
        return Cheapest(self.best, self.best_picks, steps=self.steps)

    def _forget(self) -> None:
        """Start anew with what was found."""
        self.unit_cost = dict(self.problem.based)
        self.used.clear()
        self.freed.clear()
        self.types.clear()

    def _column(self, at: int, touched: bool) -> list[tuple[int, int, tuple[int, ...]]]:
        """Cost and number of the choices worth looking at, cheapest first, and what each adds to the rows."""
        return [
            (cost, number, tuple(weights[at][number] for weights, _ in self.rows))
            for cost, _, number in self._worthwhile(at, touched)
        ]

    def _worthwhile(self, at: int, touched: bool) -> list[tuple[int, int, int]]:
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
        own = [row for row in (*problem.limits, problem.grams) if row is not None and row.weights[at]]
        weighed = any(len(set(row.weights[at])) > 1 for row in own)
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

    def _curves(self, number: int) -> list[list[tuple[int, int]]]:
        """From each depth on: a row's sum and the least that the lists cost for it, rising and falling."""
        curves: list[list[tuple[int, int]]] = [[(0, 0)]]
        for column in reversed(self.columns):
            own = _falling(sorted((weights[number], cost) for cost, _, weights in column))
            sums = sorted((weight + w, cost + c) for weight, cost in own for w, c in curves[-1])
            best = _falling(sums)
            if len(best) > _MOST_POINTS:
                step = -(-len(best) // _MOST_POINTS)
                best = [
                    (best[first][0], best[min(first + step, len(best)) - 1][1])
                    for first in range(0, len(best), step)
                ]
            curves.append(best)
        return curves[::-1]

    def _rest_cost(self, depth: int, sums: Sequence[int]) -> int | None:
        """The least that the lists from a depth on cost within what the rows leave; None where nothing is."""
        rest = self.rest[depth]
        for curves, have, (_, most) in zip(self.curves, sums, self.rows, strict=False):
            points = curves[depth]
            at = bisect.bisect_right(points, (most - have, _NONE)) - 1
            if at < 0:
                return None
            rest = max(rest, points[at][1])
        return rest

    def _least_sums(self, weights: Sequence[Sequence[int]]) -> list[int]:
        """From each depth on: the least that the lists add to a row."""
        sums = [0]
        for at, column in zip(reversed(self.order), reversed(self.columns), strict=True):
            sums.append(sums[-1] + min((weights[at][number] for _, number, _ in column), default=0))
        return sums[::-1]

    def _down(self, depth: int, cost: int, sums: tuple[int, ...]) -> None:
        if depth == len(self.order):
            self._arrive(cost, tuple(self.picks))
            return
        at = self.order[depth]
        for own, number, weights in self.columns[depth]:
            if cost + own + self.rest[depth + 1] >= self.least:
                return
            self.steps += 1
            if self.steps > self.most_steps:
                raise _Enough
            added = tuple(map(add, sums, weights))
            if not self._within(added, depth + 1):
                continue
            rest = self._rest_cost(depth + 1, added)
            if rest is not None and cost + own + rest < self.least:
                self.picks[at] = number
                self._take_one(depth, cost + own, added, rest)

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

    def _take_one(self, depth: int, cost: int, sums: tuple[int, ...], rest: int) -> None:
        """Go on with the choice just picked, and leave everything as it was."""
        at = self.order[depth]
        choice = self.problem.lists[at].choices[self.picks[at]]
        undo: list[tuple[Key, int]] = []
        extra = self._shared(self.checks[depth], undo)
        if extra is not None and cost + extra + rest < self.least:
            if self._take(choice, depth):
                self._down(depth + 1, cost + extra, sums)
            self._give_back(choice)
        for unit, before in reversed(undo):
            self.unit_cost[unit] = before

    @property
    def least(self) -> int:
        """What a plan must cost less than."""
        return _NONE if self.best is None else self.best

    def _within(self, sums: Sequence[int], depth: int) -> bool:
        return all(
            have + least[depth] <= most
            for have, (_, most), least in zip(sums, self.rows, self.least_sums, strict=True)
        )

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


def _rows(problem: Problem) -> list[tuple[tuple[Sequence[int], ...], int]]:
    """Every limit as weights of the choices and the most that their sum may be."""
    rows = []
    for limit in (*problem.limits, *(() if problem.grams is None else (problem.grams,))):
        if limit.high is not None:
            rows.append((limit.weights, limit.high - 1))
        if limit.low is not None:
            rows.append((tuple([-weight for weight in own] for own in limit.weights), -limit.low))
    if problem.money is not None and problem.money.high is not None:
        rows.append((problem.money.weights, problem.money.high))
    return rows


def _falling(points: Iterable[tuple[int, int]]) -> list[tuple[int, int]]:
    """Of points in order of their first number those whose second one is lower than all before."""
    best: list[tuple[int, int]] = []
    for point in points:
        if not best or point[1] < best[-1][1]:
            best.append(point)
    return best


FORBIDDEN = 1 << 200
_NONE = 1 << 240
