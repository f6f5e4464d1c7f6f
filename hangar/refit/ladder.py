"""The answers about one aircraft: what clears, the best for money, the next step, and the ladder."""

from __future__ import annotations

import itertools
from collections.abc import Sequence

from hangar.base.text import text
from hangar.parts import Aircraft, Library
from hangar.refit.answer import Answer, Ladder, Rung
from hangar.refit.answering import answer_of
from hangar.refit.goal import Goal
from hangar.refit.judge import Picks, PlanVerdict, Progress, Stop, never, no_progress
from hangar.refit.nodes import Outcome
from hangar.refit.planner import search_of
from hangar.refit.request import RefitRequest
from hangar.refit.search import Search
from hangar.rules.finding import Level

_WARNINGS = frozenset({Level.WARNING})
_MOST_BUNDLES = 6
"""Changed places of which every set is judged for the next step; of more, single ones and pairs."""


def ladder(
    aircraft: Aircraft, library: Library, asking: RefitRequest, *, progress: Progress = no_progress,
    stop: Stop = never,
) -> Ladder:  # fmt: skip
    """Every rung from today upwards; each is judged in full by survey and rules.

    Args:
        aircraft: as it is.
        library: types that can be bought, and what lies in the bay.
        asking: budget, what stays, prices of small parts.
        progress: told a share of 0 to 1 and what is being done.
        stop: asked often; true ends each search with what it has, told with its gap.
    """
    questions = Questions(aircraft, library, asking, progress, stop)
    rungs = {Rung.TODAY: questions.today(), Rung.FREE: questions.best(0.0), Rung.NEXT: questions.next_step()}
    if asking.budget is not None:
        rungs[Rung.BUDGET] = questions.best(asking.budget)
    rungs[Rung.CLEAR] = questions.clear()
    rungs[Rung.WITHOUT_NEW] = questions.best(None)
    return Ladder(aircraft=aircraft, rungs=rungs)


def clear(
    aircraft: Aircraft, library: Library, asking: RefitRequest, *, progress: Progress = no_progress,
    stop: Stop = never,
) -> Answer:  # fmt: skip
    """The least money, hours and grams that clear every warning that a plan can cure."""
    return Questions(aircraft, library, asking, progress, stop).clear()


def best_for_budget(
    aircraft: Aircraft, library: Library, asking: RefitRequest, *, progress: Progress = no_progress,
    stop: Stop = never,
) -> Answer:  # fmt: skip
    """The fewest warnings, then cautions, for the budget asked, nothing made worse."""
    return Questions(aircraft, library, asking, progress, stop).best(asking.budget)


def next_step(
    aircraft: Aircraft, library: Library, asking: RefitRequest, *, progress: Progress = no_progress,
    stop: Stop = never,
) -> Answer:  # fmt: skip
    """The part of the best plan that removes most for its money, free ones first."""
    return Questions(aircraft, library, asking, progress, stop).next_step()


class Questions:
    """One search of an aircraft that answers one question after the other; what it learned is kept."""

    def __init__(
        self, aircraft: Aircraft, library: Library, asking: RefitRequest, progress: Progress = no_progress,
        stop: Stop = never,
    ) -> None:  # fmt: skip
        self.asking, self.progress, self.stop = asking, progress, stop
        self.progress(0.0, text("looking at the aircraft as it is"))
        self.search: Search = search_of(aircraft, library, asking)

    def today(self) -> Answer:
        """The aircraft as it is."""
        cost = self.search.cost_of(self.search.goal(), self.search.today)
        outcome = Outcome(judged=self.search.today, cost=cost, bound=cost, looks=1, nodes=0)
        return answer_of(self.search, "today", self.search.goal(), outcome)

    def clear(self) -> Answer:
        """The least that clears."""
        goal = self.search.goal(counts=_WARNINGS, no_worse=_WARNINGS)
        return answer_of(self.search, "clear", goal, self._best(goal), self.stop)

    def best(self, budget: float | None) -> Answer:
        """The best for money; None for any money."""
        goal = self.search.goal(budget=budget)
        stop = self.stop if budget != 0.0 else None
        return answer_of(self.search, "best_for_budget", goal, self._best(goal), stop)

    def next_step(self) -> Answer:
        """The next worthwhile step; the aircraft as it is where none is worth it."""
        goal = self.search.goal(budget=self.asking.budget)
        whole = self._best(goal)
        looks = self.search.judge.looks
        chosen = self.search.today
        if whole.judged is not None:
            chosen = max(self.states(whole.judged.picks, goal), key=self._worth)
        cost = self.search.cost_of(goal, chosen)
        outcome = Outcome(
            judged=chosen, cost=cost, bound=cost if whole.proved else whole.bound,
            looks=whole.looks + self.search.judge.looks - looks, nodes=whole.nodes, stopped=whole.stopped,
        )  # fmt: skip
        return answer_of(self.search, "next_step", goal, outcome)

    def states(self, picks: Picks, goal: Goal) -> list[PlanVerdict]:
        """The parts of a plan that make nothing worse, each judged; the aircraft as it is among them."""
        changed = [at for at, choice in enumerate(picks) if choice]
        verdicts = [self.search.today]
        for taken in _sets(changed):
            if self.stop():
                break
            part = tuple(choice if at in taken else 0 for at, choice in enumerate(picks))
            judged = self.search.judged(part)
            if judged is not None and self.search.cost_of(goal, judged) is not None:
                verdicts.append(judged)
        return verdicts

    def _best(self, goal: Goal) -> Outcome:
        return self.search.best(goal, progress=self.progress, stop=self.stop)

    def _worth(self, judged: PlanVerdict) -> tuple[bool, float, float]:
        """Whether it is free and removes something, what it removes for its money, what it removes."""
        warnings, cautions = judged.count
        today = self.search.today.count
        removed = self.asking.warning_in_cautions * (today[0] - warnings) + today[1] - cautions
        money = self.search.price(judged.picks)
        if removed <= 0:
            return (False, 0.0 if judged is self.search.today else -1.0, 0.0)
        return (money == 0.0, removed / money if money else removed, removed)


def _sets(changed: Sequence[int]) -> list[frozenset[int]]:
    """Sets of changed places: all of a few, else single ones, pairs and all together."""
    most = len(changed) if len(changed) <= _MOST_BUNDLES else 2
    sets = [
        frozenset(taken) for size in range(1, most + 1) for taken in itertools.combinations(changed, size)
    ]
    return [*dict.fromkeys([*sets, frozenset(changed)])] if changed else []
