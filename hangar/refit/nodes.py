"""Parts of the space of plans, what is sure to be seen in one, and the outcome of a question."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace

from hangar.refit.answer import Value
from hangar.refit.cheapest_choice import FORBIDDEN, SeenUnit
from hangar.refit.clauses import Bound, Clause, Columns
from hangar.refit.currents import Row
from hangar.refit.goal import value_of
from hangar.refit.judge import Key, PlanVerdict
from hangar.rules.finding import Level


@dataclass(frozen=True)
class Node:
    """The plans with one supply whose summed currents keep to some limits, and their choices to some sets."""

    supply: int
    limits: tuple[tuple[Row, tuple[int | None, int | None]], ...] = ()
    masks: tuple[tuple[int, int], ...] = ()

    def low(self, row: Row) -> int | None:
        """The least of a sum."""
        return dict(self.limits).get(row, (None, None))[0]

    def high(self, row: Row) -> int | None:
        """What a sum stays below."""
        return dict(self.limits).get(row, (None, None))[1]

    def within(self, row: Row, low: int | None, high: int | None) -> Node:
        """The plans of it that keep to a further limit."""
        limits = dict(self.limits)
        old_low, old_high = limits.get(row, (None, None))
        lows = [number for number in (low, old_low) if number is not None]
        highs = [number for number in (high, old_high) if number is not None]
        limits[row] = (max(lows, default=None), min(highs, default=None))
        return Node(self.supply, tuple(sorted(limits.items())), self.masks)

    def taking(self, sets: Mapping[int, int]) -> Node:
        """The plans of it that take one of these choices of each list, a bit for each choice."""
        masks = dict(self.masks)
        for at, taken in sets.items():
            masks[at] = masks.get(at, -1) & taken
        return Node(self.supply, self.limits, tuple(sorted(masks.items())))

    def parted(self, columns: Columns) -> Iterator[Node]:
        """The plans of it in the box of these columns, then those outside, in parts without overlap."""
        yield self.taking(dict(columns))
        for number, (at, taken) in enumerate(columns):
            yield self.taking({**dict(columns[:number]), at: ~taken})

    def narrowed(self, clause: Clause) -> Clause | None:
        """A clause without the columns that all plans of the node meet; None where none of them meets all."""
        masks, columns = dict(self.masks), []
        for at, taken in clause.columns:
            mask = masks.get(at)
            if mask is None or mask & ~taken:
                columns.append((at, taken))
            if mask is not None and not mask & taken:
                return None
        return clause if len(columns) == len(clause.columns) else replace(clause, columns=tuple(columns))


@dataclass(frozen=True, kw_only=True)
class Outcome:
    """The best plan found for a question.

    Attributes:
        judged: the plan; None where none is allowed.
        cost: its cost.
        bound: no plan costs less; equal to ``cost`` where it is proved.
        looks: plans judged for this question.
        nodes: nodes bounded for it.
        stopped: whether it ended before it was proved.
        doubted: whether some plan was cheaper than what was claimed of it: then nothing counts as proved.
    """

    judged: PlanVerdict | None
    cost: int | None
    bound: int | None
    looks: int
    nodes: int
    stopped: bool = False
    doubted: bool = False

    @property
    def proved(self) -> bool:
        """Whether nothing better can be."""
        if self.doubted:
            return False
        return self.bound is None or (self.cost is not None and self.bound >= self.cost)

    @property
    def gap(self) -> Value:
        """What a better plan could still save at most."""
        if self.proved or self.cost is None or self.bound is None:
            return Value()
        own, least = value_of(self.cost), value_of(self.bound)
        if own.warnings > least.warnings:
            return Value(own.warnings - least.warnings, own.cautions, own.money)
        if own.cautions > least.cautions:
            return Value(0, own.cautions - least.cautions, own.money)
        return Value(0, 0, max(0.0, own.money - least.money))


def implied(node: Node, bound: Bound) -> bool:
    """Whether every plan of a node meets a condition."""
    if bound.at_least:
        low = node.low(bound.row)
        return bound.micro_a <= 0 if low is None else low >= bound.micro_a
    high = node.high(bound.row)
    return high is not None and high - 1 <= bound.micro_a


@dataclass(frozen=True)
class SureUnits:
    """What is sure to be seen in a node: whatever is taken, by choices of one list, of several."""

    based: dict[Key, int]
    single: dict[Key, dict[int, dict[int, int]]]
    several: dict[Key, list[SeenUnit]]

    def charged(self, costs: list[list[int | None]]) -> list[SeenUnit]:
        """Add to the choices what hangs on one list alone; what hangs on several is returned."""
        shared: list[SeenUnit] = []
        for unit, lists in self.single.items():
            before = self.based.get(unit, 0)
            if len(lists) == 1 and unit not in self.several:
                for at, sets in lists.items():
                    _charge(costs[at], sets, before)
                continue
            for at, sets in lists.items():
                _charge(costs[at], {taken: cost for taken, cost in sets.items() if cost >= FORBIDDEN}, before)
                shared += [
                    SeenUnit(unit, cost, ((at, taken),))
                    for taken, cost in sets.items()
                    if before < cost < FORBIDDEN
                ]
        shared += [
            seen
            for seens in self.several.values()
            for seen in seens
            if seen.cost > self.based.get(seen.unit, 0)
        ]
        return shared


def sorted_out(clauses: Iterable[Clause], cost_of: Callable[[Key, Level], int]) -> SureUnits | None:
    """Clauses by what they hang on; None where something is forbidden whatever is taken."""
    seen = SureUnits({}, {}, {})
    for clause in clauses:
        unit, cost = clause.unit, cost_of(clause.unit, clause.level)
        if not clause.columns:
            if cost >= FORBIDDEN:
                return None
            seen.based[unit] = max(cost, seen.based.get(unit, 0))
        elif len(clause.columns) == 1:
            ((at, taken),) = clause.columns
            of_list = seen.single.setdefault(unit, {}).setdefault(at, {})
            of_list[taken] = max(cost, of_list.get(taken, 0))
        else:
            seen.several.setdefault(unit, []).append(SeenUnit(unit, cost, clause.columns))
    return seen


def _charge(costs: list[int | None], sets: Mapping[int, int], before: int) -> None:
    """Add to each choice what a unit costs with it, at its dearest and over what it costs anyway."""
    by_cost: dict[int, int] = {}
    for taken, cost in sets.items():
        by_cost[cost] = by_cost.get(cost, 0) | taken
    added = {number: cost for cost, taken in sorted(by_cost.items()) for number in _numbers(taken)}
    for number, cost in added.items():
        own = costs[number]
        if own is not None and cost > before:
            costs[number] = None if cost >= FORBIDDEN else own + cost - before


def _numbers(taken: int) -> Iterator[int]:
    """The numbers of a set's bits."""
    while taken:
        least = taken & -taken
        yield least.bit_length() - 1
        taken ^= least
