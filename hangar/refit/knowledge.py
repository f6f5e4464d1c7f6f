"""Everything known of one aircraft's plans: its lists, what judged plans taught, what a plan costs."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import replace

from hangar.parts import Aircraft, Library
from hangar.refit.bay import Bay
from hangar.refit.choice import ChoiceList
from hangar.refit.clauses import Clauses
from hangar.refit.currents import Currents
from hangar.refit.goal import Goal, cents
from hangar.refit.ideal_supply import IdealSupply
from hangar.refit.judge import Judge, Picks, PlanVerdict
from hangar.refit.refusal import Refusal
from hangar.refit.request import RefitRequest
from hangar.refit.supplies import Supply


class Knowledge:
    """Everything known of one aircraft's plans; one for each aircraft, until it is touched.

    Args:
        aircraft: as it is.
        library: what a plan may take.
        lists: what each group, setting and handwork could be.
        supplies: the supplies it could have, the present one first.
        asking: what the keeper wishes.
        bay: what may be taken from Stores, and off other aircraft.
    """

    def __init__(
        self, aircraft: Aircraft, library: Library, lists: Iterable[ChoiceList], supplies: Iterable[Supply],
        asking: RefitRequest, bay: Bay,
    ) -> None:  # fmt: skip
        self.aircraft, self.asking = aircraft, asking
        self.judge = Judge(aircraft, library, tuple(lists), tuple(supplies), asking)
        self.lists, self.supplies = self.judge.lists, self.judge.supplies
        self.currents = Currents(self.judge, asking)
        self.clauses = Clauses(self.judge, self.currents)
        self.offered = frozenset[str]() if bay.offer is None else bay.offer.tags
        self.wanted = bay.wanted
        self.stock = spares_of(bay)
        self.spares = self.stock | dict.fromkeys(self.offered, 1)
        self.as_it_is: Picks = (0,) * (len(self.lists) + 1)
        self.doubted: list[Picks] = []
        self.refused: tuple[Refusal, ...] = ()
        self.at_volts: set[tuple[Picks, float]] = set()
        self.ideal = IdealSupply(self.judge, self.currents)
        today = self.judge.judged(self.as_it_is)
        assert today is not None
        self.today: PlanVerdict = today
        self.judge.set_today(today)
        self.clauses.learn(today)

    def goal(self, **wishes: object) -> Goal:
        """A goal that starts from today."""
        grams = self.asking.mass_g
        return replace(Goal(dict(self.today.units), grams=grams), **wishes)  # type: ignore[arg-type]

    def judged(self, picks: Picks) -> PlanVerdict | None:
        """Judge a plan and learn from it."""
        judged = self.judge.judged(picks)
        if judged is not None:
            self.clauses.learn(judged)
        return judged

    def cost_of(self, goal: Goal, judged: PlanVerdict) -> int | None:
        """What a judged plan costs; None where it is not allowed."""
        units = goal.of_judged(judged)
        return None if units is None else units + self.own_cost(goal, judged.picks)

    def own_cost(self, goal: Goal, picks: Picks) -> int:
        """Money, hours and grams of a plan."""
        lists = (choice_list.choices[at] for choice_list, at in zip(self.lists, picks, strict=False))
        return sum(map(goal.of_choice, lists)) + goal.of_choice(self.supplies[picks[-1]])

    def look_at_volts(self, picks: Picks, volts: float) -> bool:
        """Learn what a plan's columns lack at bus volts; whether that was not known yet."""
        key = (picks[:-1], round(volts, 3))
        if key in self.at_volts or not self.ideal.is_possible:
            return False
        self.at_volts.add(key)
        judged = self.ideal.look(picks, volts)
        if judged is not None:
            self.clauses.learn_at_volts(judged)
        return judged is not None

    def price(self, picks: Picks) -> float:
        """Money of a plan."""
        own = sum(choice_list.choices[at].price for choice_list, at in zip(self.lists, picks, strict=False))
        return round(own + self.supplies[picks[-1]].price, 2)

    def spares_of(self, picks: Picks) -> tuple[tuple[str, int], ...]:
        """The spares that a plan takes, by tag or type."""
        used = Counter(self.supplies[picks[-1]].spares)
        for choice_list, at in zip(self.lists, picks, strict=False):
            used.update(choice_list.choices[at].spares)
        return tuple(sorted(used.items()))

    def gives_of(self, picks: Picks) -> frozenset[str]:
        """Tags of what a plan gives up that other aircraft are offered."""
        lists = (choice_list.choices[at] for choice_list, at in zip(self.lists, picks, strict=False))
        return self.supplies[picks[-1]].gives.union(*(choice.gives for choice in lists))

    def keeps_limits(self, goal: Goal, picks: Picks) -> bool:
        """Whether a plan keeps to money, mass, spares and types to buy."""
        if goal.budget is not None and cents(self.price(picks)) > cents(goal.budget):
            return False
        chosen = [choice_list.choices[at] for choice_list, at in zip(self.lists, picks, strict=False)]
        grams = sum(choice.mass_g for choice in chosen) + self.supplies[picks[-1]].mass_g
        if goal.grams is not None and round(10.0 * grams) > round(10.0 * goal.grams):
            return False
        used = Counter(self.supplies[picks[-1]].spares)
        freed = Counter[str]()
        for choice in chosen:
            used.update(choice.spares)
            freed.update(choice.frees)
        if any(count > self.spares.get(kind, 0) + freed[kind] for kind, count in used.items()):
            return False
        types = {kind for choice in chosen for kind in choice.buys}
        return self.asking.most_types is None or len(types) <= self.asking.most_types


def spares_of(bay: Bay) -> dict[str, int]:
    """How many parts of each tag, and of each type without tags, can be taken."""
    spares = dict(bay.untagged)
    for tags in (*bay.servo_tags.values(), *bay.pack_tags.values()):
        spares |= dict.fromkeys(tags, 1)
    return spares
