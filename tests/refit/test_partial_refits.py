"""No refit on the way leaves a swashplate or a pair half done, whatever is chosen and however staged."""

from __future__ import annotations

import dataclasses
import random

import pytest

from hangar.parts import Aircraft, PlanLine
from hangar.refit import Front, plan
from hangar.refit.prove import changed
from hangar.refit.stages import stages
from hangar.rules import examples as ex
from hangar.rules.changing import with_fit
from tests.refit.cases import seeds
from tests.refit.generator import HELICOPTER_GROUPS, SmallCase, small_case

SEEDS = seeds(2)


def worn(seed: int) -> SmallCase:
    """A case in which some servos have lost torque, and a group may hold unlike ones already."""
    rng = random.Random(f"worn {seed}")
    case = small_case(seed)
    aircraft = case.aircraft
    for group in case.groups:
        for place in rng.sample(group, rng.randrange(len(group) + 1)):
            kind = next(fit.servo_type for fit in aircraft.fits if fit.code == place)
            assert kind is not None
            weak = {"code": f"worn {kind.code}", "ratings": ex.weaker(kind, rng.uniform(0.05, 0.6))}
            aircraft = with_fit(aircraft, place, servo_type=weak)
    limits = dataclasses.replace(case.limits, locked=frozenset(), budget=None, most_shown=12)
    return dataclasses.replace(case, aircraft=aircraft, limits=limits)


def solved(seed: int) -> tuple[SmallCase, Front]:
    case = worn(seed)
    return case, plan(case.aircraft, case.library, {}, case.limits)


def types_in(aircraft: Aircraft, group: tuple[str, ...]) -> tuple[str | None, ...]:
    return tuple(
        fit.servo_type.code if fit.servo_type else None for fit in aircraft.fits if fit.code in group
    )


def half_done(case: SmallCase, after: Aircraft) -> list[tuple[str, ...]]:
    """Groups that hold unlike servos other than those they hold today."""
    return [
        group
        for group in case.groups
        if len(set(types_in(after, group))) > 1 and types_in(after, group) != types_in(case.aircraft, group)
    ]


@pytest.mark.parametrize("seed", SEEDS)
def test_no_point_of_a_front_leaves_a_group_half_done(seed: int) -> None:
    case, front = solved(seed)
    for point in front.points:
        after = changed(case.aircraft, point.changes, case.library)
        assert not half_done(case, after)


def test_a_mixed_swashplate_is_made_alike_by_every_point_that_touches_it() -> None:
    seen = 0
    for seed in SEEDS:
        case = worn(seed)
        swash = HELICOPTER_GROUPS[0]
        if case.groups != HELICOPTER_GROUPS or len(set(types_in(case.aircraft, swash))) == 1:
            continue
        front = plan(case.aircraft, case.library, {}, case.limits)
        for point in front.points[1:]:
            if any(line.place in swash and line.part_type for line in point.changes):
                seen += 1
                after = changed(case.aircraft, point.changes, case.library)
                assert len(set(types_in(after, swash))) == 1
    assert seen > 0


def test_no_stage_leaves_a_group_half_done() -> None:
    seen = 0
    for seed in range(0, 30, 3):
        case, front = solved(seed)
        point = max(front.points, key=lambda each: len(each.changes))
        rng = random.Random(f"stages {seed}")
        for _ in range(3 if point.changes else 0):
            budgets = [rng.uniform(0.0, 0.7 * point.price + 1.0) for _ in range(3)]
            done: list[PlanLine] = []
            for stage in stages(case.aircraft, point, budgets, case.library, case.limits).stages:
                done += [line for bundle in stage.bundles for line in bundle.lines]
                numbered = [dataclasses.replace(line, number=number) for number, line in enumerate(done, 1)]
                seen += 0 < len(done) < len(point.changes)
                assert not half_done(case, changed(case.aircraft, numbered, case.library))
    assert seen > 5


@pytest.mark.parametrize("seed", seeds(5))
def test_doing_nothing_is_the_first_point_and_what_no_money_buys(seed: int) -> None:
    case, front = solved(seed)
    assert front.today is front.points[0]
    assert (front.today.changes, front.today.price, front.today.mass_change_g) == ((), 0.0, 0.0)
    assert all(point.changes for point in front.points[1:])
    dear = [point for point in front.points if point.price > 0.0]
    if dear:
        staged = stages(case.aircraft, dear[0], [0.0], case.library, case.limits)
        assert sum(stage.price for stage in staged.stages) == 0.0
