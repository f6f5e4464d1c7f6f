"""Lists whose choices are judged together, made one: of each servo the best of what goes with it."""

from __future__ import annotations

import heapq
import itertools
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from hangar.refit.cheapest_choice import FORBIDDEN, Cheapest, Limit, Problem, SeenUnit, cheapest
from hangar.refit.choice import AS_IT_IS, Choice, ChoiceList
from hangar.refit.judge import Key

MOST_COMBINATIONS = 20_000
_MOST_PARTS = 60
_MOST_KEPT = 600
"""Parts whose combinations are kept for other nodes."""


@dataclass(frozen=True)
class _Row:
    """One combination of the choices of some lists."""

    cost: int
    picks: tuple[int, ...]
    money: int
    grams: int
    weights: tuple[int, ...]
    heavy: Choice


def cheapest_joined(problem: Problem) -> Cheapest:
    """The same answer as :func:`cheapest`, sooner where units hang on several lists of one group.

    Only what another list can see of a combination is kept: its cost, money, mass, currents and spares. Where
    more is known of the plan found than its choices say, the plans without it are looked through in parts:
    those that differ in the first list, those that do so in the second only, and so on.
    """
    waiting: list[tuple[int, int, bool, Problem, Cheapest]] = []
    steps = itertools.count()

    def enter(part: Problem) -> None:
        cheapest_here = _solved(part)
        if cheapest_here.cost is not None:
            heapq.heappush(waiting, (cheapest_here.cost, next(steps), False, part, cheapest_here))

    enter(problem)
    for _ in range(_MOST_PARTS):
        if not waiting:
            return Cheapest(None)
        cost, _, is_known, part, cheapest_here = heapq.heappop(waiting)
        if is_known or not cheapest_here.whole or cheapest_here.picks not in problem.exact:
            return cheapest_here
        units = problem.exact[cheapest_here.picks]
        if units is not None:
            own = sum(row[number] for row, number in zip(problem.plain, cheapest_here.picks, strict=True))
            true = max(cost, own + units - sum(problem.based.values()))
            heapq.heappush(waiting, (true, next(steps), True, part, replace(cheapest_here, cost=true)))
        for at in range(len(problem.lists)):
            enter(_without(part, cheapest_here.picks, at))
    if not waiting:
        return Cheapest(None)
    return replace(waiting[0][-1], whole=False)


def _without(problem: Problem, picks: Sequence[int], at: int) -> Problem:
    """The plans that take the same choices of the lists before one, and another of that list."""
    costs: list[Sequence[int | None]] = []
    for number, own in enumerate(problem.costs):
        if number < at:
            costs.append([cost if choice == picks[number] else None for choice, cost in enumerate(own)])
        elif number == at:
            costs.append([None if choice == picks[at] else cost for choice, cost in enumerate(own)])
        else:
            costs.append(own)
    return replace(problem, costs=tuple(costs))


def _solved(problem: Problem) -> Cheapest:
    joined = _JoinedLists(problem)
    chosen = cheapest(joined.problem())
    return replace(chosen, picks=joined.picks(chosen.picks)) if chosen.picks else chosen


class _JoinedLists:
    """A problem with lists joined, and the way back."""

    def __init__(self, problem: Problem) -> None:
        self.whole = problem
        self.parts = [part for part in _parts(problem) if self._size(part) <= MOST_COMBINATIONS]
        inside = {at for part in self.parts for at in part}
        self.alone = [at for at in range(len(problem.lists)) if at not in inside]
        self.rows = [self._known_rows(part) for part in self.parts]

    def problem(self) -> Problem:
        """The problem with one list for each part, then the lists that stand alone."""
        whole = self.whole
        place = {at: len(self.parts) + number for number, at in enumerate(self.alone)}
        lists = [
            ChoiceList(
                name="", places=(), kinds=frozenset(), choices=tuple(row.heavy for row in rows) or (AS_IT_IS,)
            )
            for rows in self.rows
        ]
        costs: list[Sequence[int | None]] = [[row.cost for row in rows] or [None] for rows in self.rows]
        return replace(
            whole,
            lists=(*lists, *(whole.lists[at] for at in self.alone)),
            costs=(*costs, *(whole.costs[at] for at in self.alone)),
            shared=[
                replace(seen, columns=tuple((place[at], taken) for at, taken in seen.columns))
                for seen in whole.shared
                if all(at in place for at, _ in seen.columns)
            ],
            limits=[self._limit(limit, number) for number, limit in enumerate(whole.limits)],
            money=None if whole.money is None else self._limit(whole.money, -1),
            grams=None if whole.grams is None else self._limit(whole.grams, -2),
            exact={},
        )

    def picks(self, taken: Sequence[int]) -> tuple[int, ...]:
        """The choices of the lists themselves."""
        picks = [0] * len(self.whole.lists)
        for number, part in enumerate(self.parts):
            for at, choice in zip(part, self.rows[number][taken[number]].picks, strict=True):
                picks[at] = choice
        for at, choice in zip(self.alone, taken[len(self.parts) :], strict=True):
            picks[at] = choice
        return tuple(picks)

    def _limit(self, limit: Limit, number: int) -> Limit:
        def of(row: _Row) -> int:
            return {-1: row.money, -2: row.grams}[number] if number < 0 else row.weights[number]

        joined = [tuple(of(row) for row in rows) or (0,) for rows in self.rows]
        return replace(limit, weights=(*joined, *(limit.weights[at] for at in self.alone)))

    def _size(self, part: Sequence[int]) -> int:
        size = 1
        for at in part:
            size *= sum(cost is not None for cost in self.whole.costs[at])
        return size

    def _known_rows(self, part: tuple[int, ...]) -> list[_Row]:
        """The combinations of a part, worked out once for all nodes that ask the same of it."""
        whole, inside = self.whole, set(part)
        shared = tuple(seen for seen in whole.shared if seen.columns[0][0] in inside)
        key = (
            part,
            tuple(tuple(whole.costs[at]) for at in part),
            shared,
            tuple(whole.based.get(seen.unit, 0) for seen in shared),
            tuple(
                (limit.low is None, limit.high is None, tuple(limit.weights[at] for at in part))
                for limit in whole.limits
            ),
        )
        if key not in whole.memo:
            if len(whole.memo) >= _MOST_KEPT:
                whole.memo.clear()
            whole.memo[key] = self._rows(part)
        rows: list[_Row] = whole.memo[key]
        return rows

    def _rows(self, part: Sequence[int]) -> list[_Row]:
        """The combinations of a part that no other one equals or beats for all that lists outside see."""
        whole = self.whole
        inside = set(part)
        shared = [seen for seen in whole.shared if seen.columns[0][0] in inside]
        heavy = next((at for at in part if _is_heavy(whole, at)), part[0])
        others = [at for at in part if at != heavy]
        if any(_is_heavy(whole, at) for at in others):
            return self._unbeaten(
                self._row(part, cost, picks)
                for cost, picks in _combinations(whole, part, shared, {}, all_of_them=True)
            )
        return self._unbeaten(self._with_each(part, heavy, others, shared))

    def _with_each(
        self, part: Sequence[int], heavy: int, others: Sequence[int], shared: Sequence[SeenUnit]
    ) -> Iterator[_Row]:
        """Each choice of one list with the best of the others; choices that meet alike share that work."""
        whole = self.whole
        counted = whole.money is not None or whole.grams is not None
        sets = [taken for seen in shared for at, taken in seen.columns if at == heavy]
        best: dict[tuple[int, ...], list[tuple[int, dict[int, int]]]] = {}
        for met, own, number in self._worthwhile(heavy, sets):
            if met not in best:
                found = _combinations(whole, others, shared, {heavy: number}, all_of_them=counted)
                rows = self._unbeaten(self._row(part, cost - own, picks) for cost, picks in found)
                best[met] = [(row.cost, dict(zip(part, row.picks, strict=True))) for row in rows]
            for cost, picks in best[met]:
                yield self._row(part, cost + own, {**picks, heavy: number})

    def _unbeaten(self, found: Iterable[_Row]) -> list[_Row]:
        """The rows that no other one beats, cheapest first."""
        # It brings numpy, for which the window must not wait.
        from hangar.refit.unbeaten import unbeaten

        rows = sorted(found, key=lambda row: row.cost)
        seen = [self._seen_outside(row.heavy, row.money, row.grams, row.weights) for row in rows]
        return [rows[number] for number in unbeaten(seen)]

    def _worthwhile(self, at: int, sets: Sequence[int]) -> list[tuple[tuple[int, ...], int, int]]:
        """The choices of a list that none which meets the same sets beats: those sets, cost and number."""
        from hangar.refit.unbeaten import unbeaten

        whole = self.whole
        money = None if whole.money is None else whole.money.weights[at]
        grams = None if whole.grams is None else whole.grams.weights[at]
        rows = [limit.weights[at] for limit in whole.limits]
        worth, seen = [], []
        for own, number in _by_cost(whole.costs[at]):
            met = tuple(taken >> number & 1 for taken in sets)
            key, wants = self._seen_outside(
                whole.lists[at].choices[number],
                0 if money is None else money[number],
                0 if grams is None else grams[number],
                [row[number] for row in rows],
            )
            worth.append((met, own, number))
            seen.append(((met, key), wants))
        return [worth[number] for number in unbeaten(seen)]

    def _seen_outside(
        self, choice: Choice, money: int, grams: int, weights: Sequence[int]
    ) -> tuple[object, tuple[int, ...]]:
        """Of a combination, what must be equal for one to beat another, and what must be no more."""
        whole, equal, wants = self.whole, list[int](), list[int]()
        if whole.money is not None:
            wants.append(money)
        if whole.grams is not None:
            wants.append(grams)
        for weight, limit in zip(weights, whole.limits, strict=True):
            if limit.low is not None and limit.high is not None:
                equal.append(weight)
            else:
                wants.append(weight if limit.low is None else -weight)
        scarce = tuple(sorted(choice.spares.items())) if choice.spares else ()
        types = tuple(sorted(choice.buys)) if whole.most_types is not None else ()
        return (scarce, choice.frees, types, tuple(equal)), tuple(wants)

    def _row(self, part: Sequence[int], cost: int, picks: Mapping[int, int]) -> _Row:
        whole = self.whole
        spares: dict[str, int] = {}
        buys: dict[str, int] = {}
        frees = frozenset[str]()
        for at in part:
            choice = whole.lists[at].choices[picks[at]]
            for kind, count in choice.spares.items():
                spares[kind] = spares.get(kind, 0) + count
            for kind, count in choice.buys.items():
                buys[kind] = buys.get(kind, 0) + count
            frees |= choice.frees
        return _Row(
            cost,
            tuple(picks[at] for at in part),
            0 if whole.money is None else sum(whole.money.weights[at][picks[at]] for at in part),
            0 if whole.grams is None else sum(whole.grams.weights[at][picks[at]] for at in part),
            tuple(sum(limit.weights[at][picks[at]] for at in part) for limit in whole.limits),
            Choice(spares=spares, buys=buys, frees=frees),
        )


def _parts(problem: Problem) -> list[tuple[int, ...]]:
    """Lists that some unit joins, two and more."""
    home = list(range(len(problem.lists)))

    def root(at: int) -> int:
        while home[at] != at:
            at = home[at]
        return at

    for seen in problem.shared:
        first = root(seen.columns[0][0])
        for at, _ in seen.columns[1:]:
            home[root(at)] = first
    members: dict[int, list[int]] = {}
    for at in range(len(problem.lists)):
        members.setdefault(root(at), []).append(at)
    return [tuple(part) for part in members.values() if len(part) > 1]


def _is_heavy(problem: Problem, at: int) -> bool:
    """Whether choices of a list differ in what lists outside see of them, besides money and mass."""
    if any(len(set(limit.weights[at])) > 1 for limit in problem.limits):
        return True
    return any(choice.spares or choice.buys or choice.frees for choice in problem.lists[at].choices)


def _by_cost(costs: Sequence[int | None]) -> list[tuple[int, int]]:
    return sorted((cost, number) for number, cost in enumerate(costs) if cost is not None)


def _combinations(
    problem: Problem, lists: Sequence[int], shared: Sequence[SeenUnit], fixed: Mapping[int, int], *,
    all_of_them: bool,
) -> Iterator[tuple[int, dict[int, int]]]:  # fmt: skip
    """Combinations with their costs: all of them, or each cheaper than those before."""
    columns = [_by_cost(problem.costs[at]) for at in lists]
    if not all(columns):
        return
    order = {at: depth for depth, at in enumerate(lists, 1)}
    checks: list[list[SeenUnit]] = [[] for _ in range(len(lists) + 1)]
    for seen in shared:
        checks[max(order.get(at, 0) for at, _ in seen.columns)].append(seen)
    walk = _Walk(problem, lists, columns, checks, dict(fixed), all_of_them)
    start = sum(problem.costs[at][number] or 0 for at, number in fixed.items())
    yield from walk.down(0, start, dict(problem.based))


class _Walk:
    """Walks through the combinations of a few lists, depth first."""

    def __init__(
        self, problem: Problem, lists: Sequence[int], columns: Sequence[list[tuple[int, int]]],
        checks: Sequence[Sequence[SeenUnit]], picks: dict[int, int], all_of_them: bool,
    ) -> None:  # fmt: skip
        self.problem, self.lists, self.columns, self.checks = problem, lists, columns, checks
        self.picks, self.all_of_them, self.best = picks, all_of_them, FORBIDDEN
        rest = [0]
        for column in reversed(columns):
            rest.append(rest[-1] + column[0][0])
        self.rest = rest[::-1]

    def down(self, depth: int, cost: int, units: dict[Key, int]) -> Iterator[tuple[int, dict[int, int]]]:
        """The combinations below, given what is picked already and what its units cost."""
        own = dict(units)
        for seen in self.checks[depth]:
            if seen.cost > own.get(seen.unit, 0) and self._is_met(seen):
                cost += seen.cost - own.get(seen.unit, 0)
                own[seen.unit] = seen.cost
        if cost + self.rest[depth] >= self.best:
            return
        if depth == len(self.lists):
            if not self.all_of_them:
                self.best = cost
            yield cost, dict(self.picks)
            return
        for more, number in self.columns[depth]:
            if cost + more + self.rest[depth + 1] >= self.best:
                return
            self.picks[self.lists[depth]] = number
            yield from self.down(depth + 1, cost + more, own)

    def _is_met(self, seen: SeenUnit) -> bool:
        return all(taken >> self.picks[at] & 1 for at, taken in seen.columns)
