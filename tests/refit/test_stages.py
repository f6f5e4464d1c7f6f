"""A plan in stages: the best of every order, never worse in between; what was not tried is not proved."""

from __future__ import annotations

import dataclasses
import itertools
import json
import random
from functools import cache

import pytest

from hangar.base.errors import BadInput
from hangar.parts import Plan, PlanLine, after_plan
from hangar.parts.choices import PlanAction
from hangar.refit import stages as staging
from hangar.refit.answer import Answer
from hangar.refit.answer_as_json import stages_as_json
from hangar.refit.bundles import bundles_of
from hangar.refit.ladder import clear
from hangar.refit.request import RefitRequest
from hangar.refit.stages import Stages, best_in_stages, best_way, lines_in_stages
from hangar.rules import Level, inspect
from hangar.survey import survey
from hangar.survey.model import Conditions
from tests.all_cases import all_cases
from tests.demo_copies import TODAY, demo_copy
from tests.refit.cases import seeds

DAY = Conditions(today=TODAY)
ASKING = RefitRequest(conditions=DAY)


@all_cases("seed", seeds())
def test_no_order_leaves_less_after_the_first_stage_and_then_after_the_next(seed: int) -> None:
    rng = random.Random(seed)
    count, months = rng.randrange(1, 5), rng.randrange(1, 4)
    price = [rng.randrange(0, 9) for _ in range(count)]
    left = {0: (9, 9)} | {
        state: (rng.randrange(4), rng.randrange(3)) for state in range(1, 1 << count) if rng.random() < 0.7
    }
    at_hand = list(itertools.accumulate(rng.randrange(0, 9) for _ in range(months)))

    def cost(state: int) -> int:
        return sum(price[at] for at in range(count) if state >> at & 1)

    chains = [
        chain
        for chain in itertools.product(left, repeat=months)
        if all(before & after == before for before, after in itertools.pairwise((0, *chain)))
        and all(cost(state) <= most for state, most in zip(chain, at_hand, strict=True))
    ]
    wanted = min(
        (
            [left[state] for state in chain],
            -chain[-1].bit_count(),
            [cost(state) for state in chain],
        )
        for chain in chains
    )
    way = best_way(left, price, at_hand)
    assert way in chains
    assert [left[state] for state in way] == wanted[0]
    assert (-way[-1].bit_count(), [cost(state) for state in way]) == wanted[1:]


@cache
def cleared(code: str) -> Answer:
    fleet = demo_copy()
    return clear(fleet.aircraft(code), fleet.library(), ASKING)


def staged_clear(code: str, *months: float) -> Stages:
    fleet = demo_copy()
    return lines_in_stages(fleet.aircraft(code), cleared(code).lines, fleet.library(), ASKING, months)


def graver(code: str, lines: tuple[PlanLine, ...]) -> set[tuple[str, str]]:
    """Rules with places that are graver with the lines done, asked of the rules and not of the planner."""
    fleet = demo_copy()
    before = fleet.aircraft(code)
    numbered = tuple(dataclasses.replace(line, number=at) for at, line in enumerate(lines, 1))
    plan = Plan(code=lines[0].plan, aircraft=code, title="x", lines=numbered)
    after = after_plan(before, plan, fleet.library())
    worst: list[dict[tuple[str, str], int]] = []
    for aircraft in (before, after):
        found: dict[tuple[str, str], int] = {}
        todo = list(inspect(aircraft, survey(aircraft, DAY), ASKING.thresholds))
        while todo:
            finding = todo.pop()
            todo += finding.folded
            if finding.level in (Level.WARNING, Level.CAUTION) and finding.is_open:
                for place in (set(finding.about) & {fit.code for fit in before.fits}) or {""}:
                    key = (finding.rule, place)
                    found[key] = min(found.get(key, 99), finding.level.rank)
        worst.append(found)
    return {key for key, rank in worst[1].items() if rank < worst[0].get(key, 99)}


@pytest.mark.parametrize("code", ["MER60", "SISK"])
def test_no_state_in_between_is_worse_than_today(code: str) -> None:
    fleet = demo_copy()
    staged = best_in_stages(fleet.aircraft(code), fleet.library(), ASKING, (40.0, 60.0, 100.0))
    assert staged.proved
    every = [line for stage in staged.stages for bundle in stage.bundles for line in bundle.lines]
    every += [line for bundle, _ in staged.left for line in bundle.lines]
    brought = graver(code, tuple(every))
    done: tuple[PlanLine, ...] = ()
    before = (staged.today.warnings, staged.today.cautions)
    for stage in staged.stages:
        done += tuple(line for bundle in stage.bundles for line in bundle.lines)
        after = (stage.answer.left.warnings, stage.answer.left.cautions)
        assert after <= before
        before = after
        if done:
            assert graver(code, done) <= brought
    assert before < (staged.today.warnings, staged.today.cautions)
    spent = itertools.accumulate(stage.price for stage in staged.stages)
    assert all(paid <= most for paid, most in zip(spent, (40.0, 100.0, 200.0), strict=True))


def test_what_is_over_goes_on_and_what_is_left_has_its_reason() -> None:
    staged = staged_clear("MER60", 10.0, 5.0)
    first, second = staged.stages
    assert second.at_hand == 15.0 - first.price
    assert staged.left
    assert all(str(why) for _, why in staged.left)
    dear = [why for bundle, why in staged.left if bundle.price > 15.0]
    assert {str(why) for why in dear} == {"the money does not reach"}
    known = {line for stage in staged.stages for bundle in stage.bundles for line in bundle.lines}
    known |= {line for bundle, _ in staged.left for line in bundle.lines}
    assert known == set(cleared("MER60").lines)


def test_a_swashplate_goes_with_what_is_done_to_its_servos_and_the_supply_is_last() -> None:
    aircraft = demo_copy().aircraft("MER60")

    def line(action: PlanAction, place: str) -> PlanLine:
        return PlanLine(plan="x", number=1, action=action, place=place, part_type="T", price=1.0)

    lines = [
        line(PlanAction.FIT_PACK, "RX-A"),
        line(PlanAction.FIT_SERVO, "CYC-1"),
        line(PlanAction.FIT_SERVO, "CYC-3"),
        line(PlanAction.FIT_FIXINGS, "CYC-2"),
        line(PlanAction.SET_PULSE, "TAIL"),
        line(PlanAction.FIT_FIXINGS, "TAIL"),
        line(PlanAction.FIT_SWITCH, "RX-A"),
    ]
    places = [[line.place for line in bundle.lines] for bundle in bundles_of(aircraft, lines, ASKING)]
    assert places == [["CYC-1", "CYC-3", "CYC-2"], ["TAIL"], ["TAIL"], ["RX-A", "RX-A"]]


def test_hours_are_those_of_the_limits_where_a_line_says_none() -> None:
    lines = tuple(dataclasses.replace(line, hours_h=None) for line in cleared("MER60").lines)
    fleet = demo_copy()
    staged = lines_in_stages(fleet.aircraft("MER60"), lines, fleet.library(), ASKING, (500.0,))
    (stage,) = staged.stages
    assert not staged.left
    assert stage.hours == pytest.approx(sum(ASKING.hours(line.action) for line in lines))
    assert stage.answer.left.hours == pytest.approx(stage.hours)


def test_a_stopped_search_says_so_and_proves_nothing() -> None:
    fleet = demo_copy()
    lines = cleared("MER60").lines
    aircraft, library = fleet.aircraft("MER60"), fleet.library()
    staged = lines_in_stages(aircraft, lines, library, ASKING, (500.0,), stop=lambda: True)
    assert staged.stopped
    assert not staged.proved
    assert not any(stage.answer.proved for stage in staged.stages)
    assert not best_in_stages(aircraft, library, ASKING, (500.0,), stop=lambda: True).proved


def test_of_many_bundles_not_every_order_is_tried_and_nothing_is_proved(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    whole = staged_clear("MER60", 40.0, 200.0)
    monkeypatch.setattr(staging, "MOST_BUNDLES", 1)
    staged = staged_clear("MER60", 40.0, 200.0)
    assert not staged.proved
    assert not any(stage.answer.proved for stage in staged.stages)
    assert staged.stages[-1].answer.left >= whole.stages[-1].answer.left
    assert staged.stages[-1].answer.left.warnings < staged.today.warnings


def test_a_line_without_price_is_counted_and_one_bought_twice_costs_twice() -> None:
    fleet = demo_copy()
    lines = cleared("MER60").lines
    priced = next(line for line in lines if line.price)
    own = [dataclasses.replace(line, quantity=2) if line is priced else line for line in lines]
    own[0] = dataclasses.replace(own[0], price=None)
    staged = lines_in_stages(fleet.aircraft("MER60"), own, fleet.library(), ASKING, (900.0,))
    assert staged.unpriced == 1
    paid = sum(stage.price for stage in staged.stages) + sum(bundle.price for bundle, _ in staged.left)
    assert paid == pytest.approx(sum((line.price or 0.0) * line.quantity for line in own))


@pytest.mark.parametrize("months", [(), (10.0, -1.0), (float("nan"),)])
def test_stages_without_money_are_refused(months: tuple[float, ...]) -> None:
    with pytest.raises(BadInput, match="at least one budget"):
        staged_clear("MER60", *months)


def test_the_stages_are_an_object_for_scripts() -> None:
    staged = staged_clear("MER60", 40.0, 200.0)
    plain = json.loads(json.dumps(stages_as_json(staged)))
    assert [stage["spent"] for stage in plain["stages"]] == [stage.price for stage in staged.stages]
    assert plain["proved"]
    assert plain["today"]["warnings"] > plain["stages"][-1]["left"]["warnings"]
    assert plain["stages"][0]["stage_clears"]
