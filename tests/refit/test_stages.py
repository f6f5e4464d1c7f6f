from __future__ import annotations

import dataclasses
import itertools
import json
import math
import random

import pytest

from hangar.base.errors import BadInput
from hangar.parts import Aircraft, Library, PlanLine, Setting
from hangar.refit import Limits, plan
from hangar.refit.prove import assessed, changed, new_warnings
from hangar.refit.risk import RiskMeasure
from hangar.refit.stages import bundles_of, order_of, stages, stages_as_json
from hangar.rules import examples as ex
from hangar.rules.changing import with_airframe, with_fit
from tests.all_cases import all_cases
from tests.refit.cases import seeds
from tests.refit.generator import DAY

LIMITS = Limits(conditions=DAY, change_supply=False, gauges=())


def every_chain(count: int, limits: list[float], price: list[float], risk: list[float]) -> tuple[float, ...]:
    """The lexicographically least risks over every chain of sets that the money allows."""
    best: tuple[float, ...] | None = None
    for chain in itertools.product(range(1 << count), repeat=len(limits)):
        grows = all(one & two == one for one, two in itertools.pairwise((0, *chain)))
        paid = all(
            sum(price[at] for at in range(count) if subset >> at & 1) <= most + 1e-9
            for subset, most in zip(chain, limits, strict=True)
        )
        risks = tuple(risk[subset] for subset in chain)
        if grows and paid and not any(math.isinf(each) for each in risks) and (best is None or risks < best):
            best = risks
    assert best is not None
    return best


@all_cases("seed", seeds())
def test_stages_leave_the_least_risk_that_any_order_leaves(seed: int) -> None:
    rng = random.Random(seed)
    count, months = rng.randrange(1, 5), rng.randrange(1, 4)
    price = [float(rng.randrange(1, 9)) for _ in range(count)]
    risk = [rng.choice((math.inf, *range(12))) * 1.0 for _ in range(1 << count)]
    risk[0] = 12.0
    limits = list(itertools.accumulate(float(rng.randrange(0, 9)) for _ in range(months)))
    chosen = order_of(
        count,
        lambda subset: risk[subset],
        lambda subset: sum(price[at] for at in range(count) if subset >> at & 1),
        limits,
    )
    assert tuple(risk[subset] for subset in chosen) == every_chain(count, limits, price, risk)


def tired_trainer() -> tuple[Aircraft, Library]:
    aircraft = with_airframe(ex.trainer(), dive_speed_m_s=45.0)
    for code in ("AIL-L", "AIL-R", "ELE", "RUD"):
        aircraft = with_fit(
            aircraft, code, servo_type={"code": "old", "ratings": ex.weaker(ex.STANDARD, 0.2)}
        )
    kinds = {ex.STANDARD.code: dataclasses.replace(ex.STANDARD, price=20.0)}
    return aircraft, Library(servo_types=kinds)


def test_a_pair_is_changed_together_and_risk_falls_stage_by_stage() -> None:
    aircraft, library = tired_trainer()
    front = plan(aircraft, library, {}, LIMITS)
    point = front.points[-1]
    assert len(point.changes) == 4
    bundles = bundles_of(front.aircraft, point.changes, LIMITS)
    assert [len(each.lines) for each in bundles] == [2, 1, 1]
    staged = stages(front.aircraft, point, [20.0, 20.0, 40.0], library, LIMITS)
    assert staged.exact
    risks = [staged.risk_today, *(stage.risk_after for stage in staged.stages)]
    assert risks == sorted(risks, reverse=True)
    assert risks[0] > risks[-1]
    assert sum(len(stage.bundles) for stage in staged.stages) == 3
    spent = list(itertools.accumulate(stage.price for stage in staged.stages))
    assert all(paid <= most for paid, most in zip(spent, (20.0, 40.0, 80.0), strict=True))


def test_no_state_in_between_brings_a_new_warning() -> None:
    aircraft, library = tired_trainer()
    front = plan(aircraft, library, {}, LIMITS)
    point = front.points[-1]
    staged = stages(front.aircraft, point, [40.0, 40.0], library, LIMITS)
    before = assessed(front.aircraft, LIMITS)
    done: list[PlanLine] = []
    for stage in staged.stages:
        done += [line for bundle in stage.bundles for line in bundle.lines]
        lines = [dataclasses.replace(line, number=at) for at, line in enumerate(done, 1)]
        assert not new_warnings(before.findings, assessed(changed(front.aircraft, lines, library), LIMITS))


def test_stages_can_be_stopped_and_say_so() -> None:
    aircraft, library = tired_trainer()
    front = plan(aircraft, library, {}, LIMITS)
    staged = stages(front.aircraft, front.points[-1], [99.0], library, LIMITS, stop=lambda: True)
    assert not staged.exact
    assert any("not proved best" in str(note) for note in staged.notes)


def test_stages_without_money_are_refused() -> None:
    aircraft, library = tired_trainer()
    front = plan(aircraft, library, {}, LIMITS)
    with pytest.raises(BadInput, match="at least one budget"):
        stages(front.aircraft, front.points[-1], [], library, LIMITS)


def test_the_lines_of_a_plan_are_staged_as_the_point_they_came_from() -> None:
    aircraft, library = tired_trainer()
    front = plan(aircraft, library, {}, LIMITS)
    point = front.points[-1]
    of_point = stages(aircraft, point, [20.0, 60.0], library, LIMITS)
    of_lines = stages(aircraft, point.changes, [20.0, 60.0], library, LIMITS)
    assert of_lines == of_point


def test_a_stage_says_what_it_leaves_what_was_next_best_and_what_waits() -> None:
    aircraft, library = tired_trainer()
    point = plan(aircraft, library, {}, LIMITS).points[-1]
    staged = stages(aircraft, point, [20.0, 10.0], library, LIMITS)
    first, second = staged.stages
    assert (first.budget, first.at_hand, second.at_hand) == (20.0, 20.0, 10.0)
    left = f"{first.risk_after:g} after {staged.risk_today:g}"
    assert str(first.why).startswith(f"Of all that 20 pays, this leaves the least risk: {left}.")
    (chosen,) = first.bundles
    (runner_up,) = {"ELE", "RUD"} - {line.place for line in chosen.lines}
    says = (f"Equal in risk and no cheaper: {runner_up}", f"Next best: {runner_up}")
    assert any(each in str(first.why) for each in says)
    assert second.bundles == ()
    assert str(second.why).startswith("Nothing that 10 pays leaves less risk")
    assert sorted(len(bundle.lines) for bundle in staged.left) == [1, 2]
    said = json.loads(json.dumps(stages_as_json(staged)))
    assert said["stages"][0]["bundles"][0]["words"] == str(chosen.words)
    assert len(said["left"]) == 2


def test_stages_count_by_the_keepers_measure() -> None:
    aircraft, library = tired_trainer()
    own = dataclasses.replace(
        LIMITS, risk=RiskMeasure.from_settings([Setting(name="risk.warning", value="1")])
    )
    point = plan(aircraft, library, {}, LIMITS).points[-1]
    staged = stages(aircraft, point, [80.0], library, own)
    assert staged.notes[0] == own.risk.words
    assert staged.risk_today == own.risk.of(assessed(aircraft, own).findings)
    assert staged.risk_today < stages(aircraft, point, [80.0], library, LIMITS).risk_today


def test_a_line_bought_twice_costs_twice_and_one_without_price_is_named() -> None:
    aircraft, library = tired_trainer()
    lines = plan(aircraft, library, {}, LIMITS).points[-1].changes
    twice = [dataclasses.replace(line, quantity=2) for line in lines[:-1]]
    unpriced = dataclasses.replace(lines[-1], price=None)
    staged = stages(aircraft, [*twice, unpriced], [200.0], library, LIMITS)
    assert staged.stages[0].price == 2 * sum(line.price or 0.0 for line in lines[:-1])
    assert "1 of 4 lines have no price and count as costing nothing." in map(str, staged.notes)


def test_a_refit_without_changes_is_not_staged() -> None:
    aircraft, library = tired_trainer()
    with pytest.raises(BadInput, match="nothing to put in stages"):
        stages(aircraft, (), [10.0], library, LIMITS)
