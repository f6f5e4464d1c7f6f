"""The search against every plan of small aircraft by chance, and its clauses against the judge."""

from __future__ import annotations

import dataclasses
import itertools
import math
import random
from collections import Counter
from collections.abc import Iterator

import pytest

from hangar.parts.choices import PlanAction
from hangar.refit.bay import bay_of
from hangar.refit.clauses import Clause
from hangar.refit.currents import QUANTITIES
from hangar.refit.goal import Goal, cents
from hangar.refit.judge import PlanVerdict
from hangar.refit.planner import search_of
from hangar.refit.request import RefitRequest
from hangar.refit.search import Search
from hangar.rules import Level
from hangar.rules import examples as ex
from hangar.rules.cures import Cure
from hangar.survey.model import Conditions
from tests.all_cases import all_cases
from tests.demo_copies import TODAY, demo_copy
from tests.refit.cases import CASES, seeds
from tests.refit.every_plan import (
    Tried,
    best_worth,
    every_plan,
    group_parts,
    handwork_parts,
    supply_parts,
)
from tests.refit.generator import SmallCase, faulty_case, small_case

MOST_PLANS = 1_500
MOST_BY_HAND = 100 if CASES <= 40 else 400
BOTH = (Level.WARNING, Level.CAUTION)


def asking_of(case: SmallCase) -> RefitRequest:
    """What the keeper of a small case asks for."""
    limits = case.limits
    return RefitRequest(
        mass_g=limits.mass_g, locked=limits.locked, most_types=limits.most_types, gauges=limits.gauges,
        set_points_v=limits.set_points_v, conditions=limits.conditions, second_pack=False,
    )  # fmt: skip


def moving_case(seed: int) -> SmallCase:
    """A small case in which one group has the strongest servos, which nobody sells, the others weak ones."""
    case = small_case(seed)
    rng = random.Random(f"moving {seed}")
    codes = rng.choice(case.groups)
    kinds = dict(case.library.servo_types)
    kind = max(kinds.values(), key=lambda kind: max(row.torque_nm or 0.0 for row in kind.ratings))
    kind = kinds[kind.code] = dataclasses.replace(kind, price=None)
    fits = []
    for fit in case.aircraft.fits:
        if fit.code in codes and fit.servo is not None and fit.installation is not None:
            stay = dataclasses.replace(fit.installation, arm_teeth=kind.spline_teeth)
            servo = dataclasses.replace(fit.servo, servo_type=kind.code)
            fits.append(dataclasses.replace(fit, servo=servo, servo_type=kind, installation=stay))
        elif fit.servo_type is not None:
            poor = dataclasses.replace(fit.servo_type, ratings=ex.weaker(fit.servo_type, 0.25))
            fits.append(dataclasses.replace(fit, servo_type=poor))
        else:
            fits.append(fit)
    placed = {fit.servo.tag: fit.servo for fit in fits if fit.servo is not None}
    return dataclasses.replace(
        case,
        aircraft=dataclasses.replace(case.aircraft, fits=tuple(fits)),
        library=dataclasses.replace(case.library, servos_elsewhere=placed, servo_types=kinds),
        limits=dataclasses.replace(case.limits, locked=frozenset(), gauges=()),
    )


def without_handwork(case: SmallCase) -> Search:
    """A search that changes servos and supply only, as every plan here does."""
    whole = search_of(case.aircraft, case.library, asking_of(case))
    lists = [choice_list for choice_list in whole.lists if Cure.SERVO in choice_list.kinds]
    bay = bay_of(case.library, None, case.aircraft)
    return Search(case.aircraft, case.library, lists, whole.supplies, asking_of(case), bay)


def is_moved(judged: PlanVerdict, search: Search) -> bool:
    """Whether a plan moves a servo within the aircraft."""
    return any(line.from_aircraft for line in search.judge.lines(judged.picks))


def test_servos_that_another_line_sets_free_are_taken_where_that_is_best() -> None:
    moved = 0
    for seed in seeds(4):
        case = moving_case(seed)
        plans = list(itertools.islice(every_plan(case), MOST_PLANS + 1))
        if len(plans) > MOST_PLANS:
            continue
        search = without_handwork(case)
        for counted in ((Level.WARNING,), BOTH):
            goal = search.goal(counts=frozenset(counted), no_worse=frozenset(counted))
            outcome = search.best(goal, most_looks=10_000)
            assert outcome.proved
            assert outcome.judged is not None
            units = list(outcome.judged.units.values())
            cautions = units.count(Level.CAUTION) if Level.CAUTION in counted else 0
            own = (units.count(Level.WARNING), cautions, cents(search.price(outcome.judged.picks)))
            assert own == best_worth(case, plans, counted, None), (seed, counted)
            moved += is_moved(outcome.judged, search)
    assert moved


@all_cases("seed", seeds())
def test_the_answers_are_the_best_of_all_plans(seed: int) -> None:
    case = faulty_case(seed)
    answered_best(case, without_handwork(case), list(every_plan(case)), seed)


def test_with_handwork_the_answers_are_the_best_of_all_plans() -> None:
    """Each side has its own list of what can be done by hand, on cases small enough for both."""
    done, tried = Counter[PlanAction](), 0
    for seed in seeds():
        case = faulty_case(seed)
        sizes = [len(list(group_parts(case, group))) for group in case.groups]
        sizes += [len(parts) for parts in handwork_parts(case)]
        search = search_of(case.aircraft, case.library, asking_of(case))
        kinds = {kind for choice_list in search.lists for kind in choice_list.kinds}
        if math.prod(sizes) * len(list(supply_parts(case))) > MOST_BY_HAND or kinds & {Cure.PULSE, Cure.RATE}:
            continue
        for judged in answered_best(case, search, list(every_plan(case, handwork=True)), seed):
            done.update({line.action for line in search.judge.lines(judged.picks)})
        tried += 1
    assert tried
    assert done[PlanAction.FIT_SERVO]
    assert done[PlanAction.FIT_FIXINGS]


def answered_best(case: SmallCase, search: Search, plans: list[Tried], seed: int) -> list[PlanVerdict]:
    """The plans that a search answers with, each as good as the best of all plans."""
    budget, verdicts = float(random.Random(seed).choice((20, 60, 120))), list[PlanVerdict]()
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
        verdicts.append(outcome.judged)
    return verdicts


def wrong_claims(search: Search, plans: list[PlanVerdict]) -> Iterator[tuple[Clause, PlanVerdict]]:
    """Clauses that say of a judged plan what the judge does not see there."""
    for clause in list(search.clauses.all()):
        for judged in plans:
            nominal = search.currents.nominal_mv(judged.picks[-1])
            rows = {bound.row for bound in clause.bounds} | {(number, nominal, 0.0) for number in QUANTITIES}
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
                *(rng.randrange(len(choice_list.choices)) for choice_list in search.lists),
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
    assert len(plans) > 20
    wrong = list(wrong_claims(search, plans))
    assert not wrong, told(search, wrong)


@all_cases("seed", seeds())
def test_no_clause_of_an_aircraft_by_chance_says_what_the_judge_does_not_see(seed: int) -> None:
    case = faulty_case(seed)
    search = search_of(case.aircraft, case.library, asking_of(case))
    wrong = list(wrong_claims(search, judged_by_chance(search, 60, random.Random(seed))))
    assert not wrong, told(search, wrong)


def test_a_goal_is_compared_in_order() -> None:
    goal = Goal({("a", ""): Level.WARNING})
    assert goal.of_unit(("a", ""), Level.WARNING) > 1000 * goal.of_unit(("a", ""), Level.CAUTION)
    assert goal.forbids(("b", ""), Level.CAUTION)
