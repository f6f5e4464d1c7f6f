"""The search against every plan of small aircraft by chance, and its clauses against the judge."""

from __future__ import annotations

import random
from collections.abc import Iterator

import pytest

from hangar.refit.clauses import Clause
from hangar.refit.currents import QUANTITIES
from hangar.refit.goal import Goal, cents
from hangar.refit.judge import PlanVerdict
from hangar.refit.planner import search_of
from hangar.refit.request import RefitRequest
from hangar.refit.search import Search
from hangar.rules import Level
from hangar.survey.model import Conditions
from tests.all_cases import all_cases
from tests.demo_copies import TODAY, demo_copy
from tests.refit.cases import seeds
from tests.refit.every_plan import best_worth, every_plan
from tests.refit.generator import SmallCase, small_case

BOTH = (Level.WARNING, Level.CAUTION)


def asking_of(case: SmallCase) -> RefitRequest:
    """What the keeper of a small case asks for."""
    limits = case.limits
    return RefitRequest(
        mass_g=limits.mass_g, locked=limits.locked, most_types=limits.most_types, gauges=limits.gauges,
        set_points_v=limits.set_points_v, conditions=limits.conditions, second_pack=False,
    )  # fmt: skip


@all_cases("seed", seeds())
def test_the_answers_are_the_best_of_all_plans(seed: int) -> None:
    case = small_case(seed)
    plans = list(every_plan(case))
    search = search_of(case.aircraft, case.library, asking_of(case))
    budget = float(random.Random(seed).choice((20, 60, 120)))
    for counted, money in (((Level.WARNING,), None), (BOTH, None), (BOTH, budget)):
        wanted = best_worth(case, plans, counted, money)
        goal = search.goal(counts=frozenset(counted), no_worse=frozenset(counted), budget=money)
        outcome = search.best(goal, most_looks=10_000)
        assert outcome.proved
        assert outcome.judged is not None
        units = list(outcome.judged.units.values())
        cautions = units.count(Level.CAUTION) if Level.CAUTION in counted else 0
        own = (units.count(Level.WARNING), cautions, cents(search.price(outcome.judged.picks)))
        assert own == wanted, f"{seed} {counted} {money}: {own} is told, {wanted} is best of {len(plans)}"


def wrong_claims(search: Search, plans: list[PlanVerdict]) -> Iterator[tuple[Clause, PlanVerdict]]:
    """Clauses that say of a judged plan what the judge does not see there."""
    for clause in list(search.clauses.all()):
        for judged in plans:
            nominal = search.currents.nominal_mv(judged.picks[-1])
            rows = {bound.row for bound in clause.bounds} | {(each, nominal, 0.0) for each in QUANTITIES}
            amps = {row: search.currents.of_plan(judged.picks, row) for row in rows if row[1] == nominal}
            if any(bound.row not in amps for bound in clause.bounds):
                continue
            if not clause.holds(
                judged.picks, judged.bus_v, amps, search.clauses.open_volts(judged.picks[-1])
            ):
                continue
            level = judged.units.get(clause.unit)
            if level is None or level.rank > clause.level.rank:
                yield clause, judged


def judged_by_chance(search: Search, count: int, rng: random.Random) -> list[PlanVerdict]:
    """Plans taken by chance, half of them but one choice from another."""
    plans, picks = [], search.as_it_is
    for number in range(count):
        if number % 2:
            at = rng.randrange(len(picks))
            size = len(search.supplies) if at == len(search.lists) else len(search.lists[at].choices)
            picks = (*picks[:at], rng.randrange(size), *picks[at + 1 :])
        else:
            picks = (
                *(rng.randrange(len(each.choices)) for each in search.lists),
                rng.randrange(len(search.supplies)),
            )
        judged = search.judged(picks)
        if judged is not None:
            plans.append(judged)
            if not number % 10:
                search.look_at_volts(picks, rng.choice((5.0, 6.0, 7.4)))
    return plans


def told(search: Search, wrong: list[tuple[Clause, PlanVerdict]]) -> str:
    """The rules whose declaration is wrong, with one plan each."""
    first = {clause.unit[0]: (clause, judged) for clause, judged in wrong}
    return "; ".join(
        f"{slug}: {clause} is not seen at {judged.picks}" for slug, (clause, judged) in first.items()
    )


@pytest.mark.parametrize("code", ["ALB5", "CIND", "DUNN", "MARQ", "MER60", "NIM7", "PERT", "SISK"])
def test_no_clause_of_an_invented_aircraft_says_what_the_judge_does_not_see(code: str) -> None:
    fleet = demo_copy()
    search = search_of(
        fleet.aircraft(code), fleet.library(), RefitRequest(conditions=Conditions(today=TODAY))
    )
    plans = judged_by_chance(search, 60, random.Random(code))
    assert len(plans) > 30
    wrong = list(wrong_claims(search, plans))
    assert not wrong, told(search, wrong)


@all_cases("seed", seeds())
def test_no_clause_of_an_aircraft_by_chance_says_what_the_judge_does_not_see(seed: int) -> None:
    case = small_case(seed)
    search = search_of(case.aircraft, case.library, asking_of(case))
    wrong = list(wrong_claims(search, judged_by_chance(search, 60, random.Random(seed))))
    assert not wrong, told(search, wrong)


def test_a_goal_is_compared_in_order() -> None:
    goal = Goal({("a", ""): Level.WARNING})
    assert goal.of_unit(("a", ""), Level.WARNING) > 1000 * goal.of_unit(("a", ""), Level.CAUTION)
    assert goal.forbids(("b", ""), Level.CAUTION)
