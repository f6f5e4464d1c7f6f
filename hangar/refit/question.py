"""One question to what is known of an aircraft: nodes by their bounds, until nothing can be better."""

from __future__ import annotations

import heapq
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field, replace

from hangar.base.text import text
from hangar.refit.cheapest_choice import Cheapest, Limit, Problem, SeenUnit
from hangar.refit.clauses import Bound, Clause
from hangar.refit.currents import PEAK, Row
from hangar.refit.goal import Goal, cents
from hangar.refit.joined_lists import cheapest_joined
from hangar.refit.judge import Key, Picks, PlanVerdict, Progress, Stop
from hangar.refit.knowledge import Knowledge
from hangar.refit.nodes import Node, Outcome, SureUnits, implied, sorted_out
from hangar.refit.useful import Useful
from hangar.rules.finding import Level

_MOST_STEPS = 3_000_000
"""Choices that it may try while it bounds them."""
_MOST_ROUNDS = 3
"""Times that it is asked anew what is sure of the choices that are left in a node."""
_MOST_COLUMNS = 2
"""Columns of a wide clause with which it counts in a bound; with more the node is parted first."""


@dataclass
class Question:
    """One question: a heap of nodes by their bounds, and the best plan judged.

    ``masks`` leaves some choices of a list to look among, a bit for each.
    """

    search: Knowledge
    goal: Goal
    progress: Progress
    stop: Stop
    most_looks: int
    most_nodes: int
    masks: tuple[tuple[int, int], ...] = ()
    heap: list[tuple[int, int, Node, Cheapest | None, int]] = field(default_factory=list)
    best: tuple[int, PlanVerdict] | None = None
    loose: int | None = None
    nodes: int = 0
    steps: int = 0
    stopped: bool = False
    impossible: set[Picks] = field(default_factory=set)
    useful: dict[Node, Useful] = field(default_factory=dict)
    memo: dict[object, object] = field(default_factory=dict)
    volts: dict[Node, tuple[int, Useful | None, tuple[float, ...] | None]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        search, goal = self.search, self.goal
        self.base = tuple(tuple(map(goal.of_choice, choice_list.choices)) for choice_list in search.lists)
        self.money = tuple(
            tuple(cents(choice.price) for choice in choice_list.choices) for choice_list in search.lists
        )
        self.grams = tuple(
            tuple(round(10.0 * choice.mass_g) for choice in choice_list.choices)
            for choice_list in search.lists
        )
        self.unit_costs: dict[tuple[Key, Level], int] = {}
        self.clauses: tuple[int, list[Clause]] = (-1, [])

    def answer(self) -> Outcome:
        """Take the node with the least bound, judge its plan, learn, until nothing can be better."""
        search = self.search
        looks = search.judge.looks
        for judged in list(search.judge.known.values()):
            if judged is not None and search.keeps_limits(self.goal, judged.picks):
                self.offer(judged)
        self.enter_supplies()
        first = self.heap[0][0] if self.heap else 0
        while self.heap and not self.is_settled(self.heap[0][0]):
            if self.stop() or search.judge.looks - looks >= self.most_looks or self.is_tired:
                self.stopped = True
                break
            bound, _, node, cheapest, version = heapq.heappop(self.heap)
            self.tell(first, bound)
            if cheapest is None or version != search.clauses.version:
                self.push(node)
            elif cheapest.whole:
                self.work(node, cheapest)
            else:
                self.loosen(node, cheapest, bound)
        cost = None if self.best is None else self.best[0]
        bounds = [self.heap[0][0] if self.heap else None, self.loose, cost]
        return Outcome(
            judged=None if self.best is None else self.best[1],
            cost=cost,
            bound=min((bound for bound in bounds if bound is not None), default=None),
            looks=search.judge.looks - looks,
            nodes=self.nodes,
            stopped=self.stopped,
            doubted=bool(search.doubted),
        )

    def enter_supplies(self) -> None:
        """Put every supply on the heap by what is sure with any; each is bounded when its turn comes."""
        costs = [list[int | None](own) for own in self.base]
        seen = sorted_out((clause for clause in self.known_clauses() if clause.is_plain), self.unit_cost)
        if seen is None:
            return
        seen.charged(costs)
        least = [min((cost for cost in own if cost is not None), default=None) for own in costs]
        if any(cost is None for cost in least):
            return
        bound = sum(cost for cost in least if cost is not None) + sum(seen.based.values())
        for supply in range(len(self.search.supplies)):
            entry = (
                bound + self.supply_cost(supply),
                supply - len(self.search.supplies),
                Node(supply, masks=self.masks),
                None,
                -1,
            )
            heapq.heappush(self.heap, entry)

    @property
    def is_tired(self) -> bool:
        """Whether it has bounded as many nodes as it may, besides one for each supply, or tried too much."""
        most = self.most_nodes + len(self.search.supplies)
        return self.nodes >= most or self.steps >= _MOST_STEPS

    def is_settled(self, bound: int) -> bool:
        """Whether no node can hold a better plan."""
        return self.best is not None and bound >= self.best[0]

    def tell(self, first: int, bound: int) -> None:
        """Tell how far it is: the share of the way from the first bound to the best plan."""
        best = self.best[0] if self.best is not None else bound
        share = 1.0 if best <= first else min(1.0, (bound - first) / (best - first))
        self.progress(share, text("{count} plans judged", count=self.search.judge.looks))

    def offer(self, judged: PlanVerdict) -> int | None:
        """A judged plan's cost; it is kept when it is the best so far."""
        cost = self.search.cost_of(self.goal, judged)
        if cost is not None and (self.best is None or cost < self.best[0]):
            self.best = (cost, judged)
        return cost

    def work(self, node: Node, cheapest_here: Cheapest) -> None:
        """Judge the plan of a node; where that is known and dearer than the bound, split the node."""
        search = self.search
        picks = (*cheapest_here.picks, node.supply)
        box = None if picks in search.judge.known else self.box(node, picks)
        if box is not None:
            self.part(node, box)
            return
        fresh = picks not in search.judge.known
        judged = search.judged(picks)
        if judged is None:
            self.impossible.add(picks)
            self.push(node)
            return
        cost = self.offer(judged)
        assert cheapest_here.cost is not None
        if cost is not None and cost < cheapest_here.cost + self.supply_cost(node.supply):
            search.doubted.append(picks)
        if self.at_volts(node, judged) or fresh:
            self.push(node)
            return
        if cost is not None and cost <= cheapest_here.cost + self.supply_cost(node.supply):
            return
        bound = self.missed(node, judged)
        box = self.box(node, picks) if bound is None else None
        if box is not None:
            self.part(node, box)
            return
        if bound is None:
            search.clauses.exactly(judged)
            self.push(node)
            return
        self.push(node.within(bound.row, None, bound.split))
        self.push(node.within(bound.row, bound.split, None))

    def part(self, node: Node, box: Clause) -> None:
        """Part a node by the columns of a wide clause: within them its unit is sure."""
        for part in node.parted(box.columns):
            self.push(part)

    def box(self, node: Node, picks: Picks) -> Clause | None:
        """A wide clause that a plan meets and that the node's bound did not count."""
        counted: dict[Key, int] = {}
        for clause in self.active(node):
            if all(taken >> picks[at] & 1 for at, taken in clause.columns):
                cost = self.unit_cost(clause.unit, clause.level)
                counted[clause.unit] = max(cost, counted.get(clause.unit, 0))
        for clause in self.known_clauses():
            if clause.is_wide and clause.may_be(node.supply):
                narrow = node.narrowed(clause)
                if (
                    narrow is not None
                    and all(taken >> picks[at] & 1 for at, taken in clause.columns)
                    and self.unit_cost(clause.unit, clause.level) > counted.get(clause.unit, 0)
                ):
                    return narrow
        return None

    def loosen(self, node: Node, cheapest: Cheapest, bound: int) -> None:
        """A node whose cheapest plan was not found in time: its longest list is halved, by money.

        Where nothing is left to halve its bound stays in the gap.
        """
        if cheapest.picks:
            judged = self.search.judged((*cheapest.picks, node.supply))
            if judged is not None and self.search.keeps_limits(self.goal, judged.picks):
                self.offer(judged)
        left = self.useful[node].left
        at = max(range(len(left)), key=lambda at: len(left[at]))
        if len(left[at]) < 2:
            self.loose = bound if self.loose is None else min(self.loose, bound)
            return
        ordered = sorted(left[at], key=lambda number: (self.money[at][number], number))
        half = sum(1 << number for number in ordered[: len(ordered) // 2])
        self.push(node.taking({at: half}))
        self.push(node.taking({at: ~half}))

    def missed(self, node: Node, judged: PlanVerdict) -> Bound | None:
        """A sum that a clause learned of this plan hangs on and the node leaves open."""
        search = self.search
        missed: list[tuple[int, Bound]] = []
        peaks = search.clauses.peaks(judged)
        for clause in search.clauses.learned.get(judged.picks, []):
            cost = self.unit_cost(clause.unit, clause.level)
            if cost and not self.is_on(node, clause):
                bounds = peaks if clause.at_most_v else clause.bounds
                missed += [(cost, bound) for bound in bounds if not self.is_implied(node, bound)]
        for _, bound in sorted(missed, key=lambda pair: -pair[0]):
            low, high = node.low(bound.row), node.high(bound.row)
            if (low is None or low < bound.split) and (high is None or bound.split < high):
                return bound
        return None

    def at_volts(self, node: Node, judged: PlanVerdict) -> bool:
        """Ask an ideal supply what a plan's columns lack at the most volts of a node; whether that was new.

        What is short there is short with every supply that gives no more, whatever the others draw.
        """
        search = self.search
        most = self.most_volts(node)
        if most is None or not any(
            clause.at_most_v and self.unit_cost(clause.unit, clause.level) and not self.is_on(node, clause)
            for clause in search.clauses.learned.get(judged.picks, [])
        ):
            return False
        return search.look_at_volts(judged.picks, max(most))

    def unit_cost(self, key: Key, level: Level) -> int:
        """What a unit costs this question."""
        if (key, level) not in self.unit_costs:
            self.unit_costs[key, level] = self.goal.of_unit(key, level)
        return self.unit_costs[key, level]

    def supply_cost(self, supply: int) -> int:
        """Money, hours and grams of a supply."""
        return self.goal.of_choice(self.search.supplies[supply])

    def push(self, node: Node) -> None:
        """Bound a node and put it on the heap; one that holds no plan is dropped."""
        self.nodes += 1
        cheapest = self.bounded(node)
        if cheapest is None or cheapest.cost is None:
            return
        bound = cheapest.cost + self.supply_cost(node.supply)
        if not self.is_settled(bound):
            heapq.heappush(self.heap, (bound, self.nodes, node, cheapest, self.search.clauses.version))

    def bounded(self, node: Node) -> Cheapest | None:
        """The cheapest plan of a node by all that is known; None where there is none."""
        search, goal, supply = self.search, self.goal, self.search.supplies[node.supply]
        budget = None if goal.budget is None else cents(goal.budget) - cents(supply.price)
        sure = None if budget is not None and budget < 0 else self.sure(node)
        if sure is None:
            return None
        seen, costs, shared = sure
        grams = None if goal.grams is None else round(10.0 * goal.grams) - round(10.0 * supply.mass_g)
        spares = Counter(search.spares)
        spares.subtract(supply.spares)
        if any(spares[kind] < 0 for kind in supply.spares):
            return None
        limits = [
            Limit(tuple(search.currents.column(at, row) for at in range(len(search.lists))), low, high)
            for row, (low, high) in node.limits
        ]
        cheapest = cheapest_joined(
            Problem(
                search.lists, tuple(costs), shared, seen.based, limits,
                None if budget is None else Limit(self.money, high=budget),
                None if grams is None else Limit(self.grams, high=grams + 1), spares,
                search.asking.most_types, self.exact(node.supply), self.base, self.below(node, seen),
                self.memo,
            )
        )  # fmt: skip
        self.steps += cheapest.steps
        return (
            None
            if cheapest.cost is None
            else replace(cheapest, cost=cheapest.cost + sum(seen.based.values()))
        )

    def sure(self, node: Node) -> tuple[SureUnits, list[list[int | None]], list[SeenUnit]] | None:
        """What is sure in a node, what its choices cost with it, and what hangs on several of them.

        Choices with which no plan can be better than the best one judged are left out; what is left draws
        more at least, so more is sure of it: that is asked again while something was left out.
        """
        rounds = 0
        while True:
            costs = [list[int | None](own) for own in self.base]
            for at, mask in node.masks:
                costs[at] = [cost if mask >> number & 1 else None for number, cost in enumerate(costs[at])]
            seen = sorted_out(self.active(node), self.unit_cost)
            if seen is None:
                return None
            shared = seen.charged(costs)
            before = self.useful.get(node)
            useful = Useful.of(costs, self.below(node, seen), before)
            if useful is None:
                return None
            self.useful[node] = useful
            rounds += 1
            if rounds == _MOST_ROUNDS or (before is not None and useful.left == before.left):
                return seen, costs, shared

    def is_implied(self, node: Node, bound: Bound) -> bool:
        """Whether every plan of a node that can be better than the best one meets a condition."""
        if implied(node, bound):
            return True
        useful = self.useful.get(node)
        if useful is None:
            return False
        least, most = useful.ends(self.search.currents, bound.row)
        return least >= bound.micro_a if bound.at_least else most <= bound.micro_a

    def below(self, node: Node, seen: SureUnits) -> int | None:
        """What the choices of a node must cost less than to be better than the best plan judged."""
        if self.best is None:
            return None
        return self.best[0] - self.supply_cost(node.supply) - sum(seen.based.values())

    def exact(self, supply: int) -> dict[tuple[int, ...], int | None]:
        """Plans with a supply whose units are known better than by clauses, with what those cost."""
        known = self.search.clauses.exact
        units_by_picks: dict[tuple[int, ...], int | None] = {
            picks[:-1]: self.goal.of_judged(judged) for picks, judged in known.items() if picks[-1] == supply
        }
        return units_by_picks | {picks[:-1]: None for picks in self.impossible if picks[-1] == supply}

    def active(self, node: Node) -> Iterator[Clause]:
        """The clauses that hold for every plan of a node with their columns."""
        for clause in self.known_clauses():
            if not self.is_on(node, clause):
                continue
            if not clause.is_wide and not node.masks:
                yield clause
                continue
            narrow = node.narrowed(clause)
            if narrow is not None and (not clause.is_wide or len(narrow.columns) <= _MOST_COLUMNS):
                yield narrow

    def known_clauses(self) -> list[Clause]:
        """The clauses that cost something here, read anew when something was learned."""
        version = self.search.clauses.version
        if self.clauses[0] != version:
            known = [
                clause for clause in self.search.clauses.all() if self.unit_cost(clause.unit, clause.level)
            ]
            self.clauses = (version, known)
        return self.clauses[1]

    def is_on(self, node: Node, clause: Clause) -> bool:
        """Whether a clause holds for every plan of a node with its columns."""
        if not clause.may_be(node.supply):
            return False
        if clause.at_most_v:
            most = self.most_volts(node)
            if most is None or any(own > low for own, low in zip(most, clause.at_most_v, strict=True)):
                return False
        if clause.open_v is not None:
            kind, volts = self.search.clauses.open_volts(node.supply)
            if kind != clause.open_v[0] or any(
                own < least for own, least in zip(volts, clause.open_v[1], strict=True)
            ):
                return False
        return all(self.is_implied(node, bound) for bound in clause.bounds)

    def most_volts(self, node: Node) -> tuple[float, ...] | None:
        """Bus volts in each peak that no plan of a node exceeds; None where nobody can tell."""
        version, useful = self.search.clauses.version, self.useful.get(node)
        known = self.volts.get(node)
        if known is None or known[0] != version or known[1] is not useful:
            known = self.volts[node] = (version, useful, self._most_volts(node, useful))
        return known[2]

    def _most_volts(self, node: Node, useful: Useful | None) -> tuple[float, ...] | None:
        search = self.search
        row: Row = (PEAK, search.currents.nominal_mv(node.supply), 0.0)
        low = node.low(row) or 0
        if useful is not None:
            low = max(low, useful.ends(search.currents, row)[0])
        most = search.currents.most_v(node.supply, low)
        if most is None:
            return None
        values = list(most)
        for bound, number, volts in search.clauses.points.get(node.supply, ()):
            if volts < values[number] and self.is_implied(node, bound):
                values[number] = volts
        return tuple(values)
