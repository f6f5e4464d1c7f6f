"""The best plan in stages: what to do with each month's money, most safety first, never worse in between."""

from __future__ import annotations

import itertools
from collections.abc import Sequence

from hangar.base.errors import BadInput
from hangar.parts import Aircraft, Library
from hangar.refit.answer import Answer
from hangar.refit.answering import answer_of
from hangar.refit.goal import cents
from hangar.refit.judge import Picks, PlanVerdict, Progress, Stop, never, no_progress
from hangar.refit.ladder import Questions
from hangar.refit.nodes import Outcome
from hangar.refit.request import RefitRequest

_MOST_BUNDLES = 10
Way = tuple[PlanVerdict, ...]
"""One state after each stage."""


def refit_stages(
    aircraft: Aircraft, library: Library, asking: RefitRequest, months: Sequence[float], *,
    progress: Progress = no_progress, stop: Stop = never,
) -> tuple[Answer, ...]:  # fmt: skip
    """The best plan for all months together, cut into stages.

    Each stage is a part of the plan that holds the one before, costs no more than the money so far, and
    makes nothing worse than today. Of all such ways the one is taken whose first stage leaves least, then
    whose second does, and so on; of equal ones the cheapest.

    Raises:
        BadInput: no money at all, or a negative one.
    """
    if not months or not min(months) >= 0.0:
        raise BadInput("The stages need at least one budget of 0 or more.")
    questions = Questions(aircraft, library, asking, progress, stop)
    search = questions.search
    goal = search.goal(budget=sum(months))
    whole = search.best(goal, progress=progress, stop=stop)
    target: Picks = search.as_it_is if whole.judged is None else whole.judged.picks
    states = _states(questions, target)
    ways: list[Way] = [()]
    for at_hand in itertools.accumulate(months):
        further = [
            (*way, state)
            for way in ways
            for state in states
            if cents(search.price(state.picks)) <= cents(at_hand) and _holds(state, way)
        ]
        least = min(_left(questions, way[-1]) for way in further)
        ways = [way for way in further if _left(questions, way[-1]) == least]
        ways = list({way[-1].picks: way for way in reversed(ways)}.values())
    answers = []
    for state in ways[0]:
        cost = search.cost_of(goal, state)
        outcome = Outcome(
            judged=state, cost=cost, bound=cost if whole.proved else whole.bound, looks=whole.looks,
            nodes=whole.nodes, stopped=whole.stopped,
        )  # fmt: skip
        answers.append(answer_of(search, "stages", goal, outcome))
    return tuple(answers)


def _states(questions: Questions, target: Picks) -> list[PlanVerdict]:
    """Today, and every part of the plan that makes nothing worse; of large plans those found one by one."""
    search, goal = questions.search, questions.search.goal()
    changed = [at for at, choice in enumerate(target) if choice]
    if len(changed) > _MOST_BUNDLES:
        return _one_by_one(questions, target, changed)
    states = [search.today]
    for size in range(1, len(changed) + 1):
        for taken in itertools.combinations(changed, size):
            part = tuple(choice if at in taken else 0 for at, choice in enumerate(target))
            judged = search.judged(part)
            if judged is not None and search.cost_of(goal, judged) is not None:
                states.append(judged)
    return states


def _one_by_one(questions: Questions, target: Picks, changed: Sequence[int]) -> list[PlanVerdict]:
    """States on the way that adds what leaves least, one change after the other, and the whole plan."""
    search, goal = questions.search, questions.search.goal()
    states, part, left = [search.today], search.as_it_is, list(changed)
    while left:
        found = []
        for at in left:
            picks = (*part[:at], target[at], *part[at + 1 :])
            judged = search.judged(picks)
            if judged is not None and search.cost_of(goal, judged) is not None:
                found.append((_left(questions, judged), at, judged))
        if not found:
            break
        _, at, judged = min(found, key=lambda step: step[:2])
        states.append(judged)
        part = judged.picks
        left.remove(at)
    whole = search.judged(target)
    return states if whole is None or whole in states else [*states, whole]


def _holds(state: PlanVerdict, way: Way) -> bool:
    """Whether a state keeps everything that is done already."""
    return not way or all(choice in (0, own) for choice, own in zip(way[-1].picks, state.picks, strict=True))


def _left(questions: Questions, state: PlanVerdict) -> tuple[int, int, float]:
    """Warnings and cautions that are left, and what was spent for it."""
    return (*state.count, questions.search.price(state.picks))
