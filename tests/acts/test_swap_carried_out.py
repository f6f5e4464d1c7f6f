"""A swap carried out at both aircraft: each line in its own plan, in either order."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable
from functools import partial

import pytest

from hangar.acts.plans import carry_out, keep_plans
from hangar.answers.board import order_of_work, part_gaps, price_gaps
from hangar.answers.needs import needs_of
from hangar.answers.plans import Sketch, plan_named, plans_from
from hangar.parts import Plan, PlanLine, StockItem
from hangar.parts.choices import PlanAction, PlanState, StockKind
from hangar.refit.line_words import line_words
from hangar.store import Edit, Fleet
from tests.demo_copies import TODAY, demo_copy

HERE, THERE = ("CIND", "THR"), ("MARQ", "THR")


def with_edit(fleet: Fleet, act: Callable[[Edit], object]) -> None:
    """Do one act in an edit of its own."""

    def work(edit: Edit) -> None:
        act(edit)

    fleet.edit("try", work)


def tag_at(fleet: Fleet, code: str, place: str) -> str:
    fit = fleet.aircraft(code).fit(place)
    assert fit is not None
    assert fit.servo is not None
    return fit.servo.tag


def swap_line(fleet: Fleet, to: tuple[str, str], off: tuple[str, str]) -> PlanLine:
    """The line that fits at one place what sits at another one today."""
    fit = fleet.aircraft(off[0]).fit(off[1])
    assert fit is not None
    assert fit.servo is not None
    return PlanLine(
        plan="P", number=1, action=PlanAction.FIT_SERVO, place=to[1], part_type=fit.servo.servo_type,
        from_stock=fit.servo.tag, from_aircraft=off[0], price=0.0, hours_h=0.7,
    )  # fmt: skip


@pytest.mark.parametrize("order", [(0, 1), (1, 0)])
def test_a_swap_is_carried_out_at_both_aircraft(order: tuple[int, int]) -> None:
    fleet = demo_copy()
    before = tag_at(fleet, *HERE), tag_at(fleet, *THERE)
    sketches = [
        Sketch(HERE[0], (swap_line(fleet, HERE, THERE),)), Sketch(THERE[0], (swap_line(fleet, THERE, HERE),)),
    ]  # fmt: skip
    made = [dataclasses.replace(plan, state=PlanState.FITTING) for plan in plans_from(fleet, sketches, TODAY)]
    with_edit(fleet, lambda edit: keep_plans(edit, made))
    for at in order:
        plan = plan_named(fleet, made[at].code)
        assert plan is not None
        aircraft, library = fleet.aircraft(plan.aircraft), fleet.library()
        assert not price_gaps(plan, aircraft, library)
        assert not part_gaps(plan, library)
        (line,) = plan.lines
        tag = line.from_stock or ""
        act = partial(
            carry_out, plan=plan, line=line, aircraft=aircraft, library=library, today=TODAY, tag=tag
        )
        with_edit(fleet, act)
    assert (tag_at(fleet, *HERE), tag_at(fleet, *THERE)) == (before[1], before[0])
    assert all(line.done_on for plan in fleet.records(Plan) if plan.code in {own.code for own in made}
               for line in plan.lines)  # fmt: skip


@pytest.mark.parametrize("giver", [None, "PERT"])
def test_a_regulator_off_another_aircraft_is_neither_bought_nor_taken_from_stores(giver: str | None) -> None:
    fleet = demo_copy()
    item = StockItem(code="R", kind=StockKind.REGULATOR, part_type="R5", on_hand=9.0)
    line = PlanLine(
        plan="P", number=1, action=PlanAction.FIT_REGULATOR, place="RX-A", part_type="R5",
        from_aircraft=giver, set_v=6.0, price=32.0 if giver is None else 0.0, hours_h=0.7,
    )  # fmt: skip
    assert str(line_words(line)).endswith("(off PERT)") == (giver is not None)
    (plan,) = plans_from(fleet, [Sketch("MER60", (line,))], TODAY)
    (step,) = (step for step in order_of_work(plan) if step.line is not None)
    assert ("off PERT" in str(step.words)) == (giver is not None)
    plan = dataclasses.replace(plan, state=PlanState.FITTING)
    with_edit(fleet, lambda edit: keep_plans(edit, [plan]))
    bare = dataclasses.replace(fleet.aircraft("MER60"), plans=(plan,))
    wanted = [need.what for need in needs_of([bare], fleet.library())]
    assert any("R5" in str(what) for what in wanted) == (giver is None)
    assert bool(part_gaps(plan, fleet.library())) == (giver is None)
    with_edit(fleet, lambda edit: edit.put(item))
    assert not part_gaps(plan, fleet.library())
    act = partial(
        carry_out, plan=plan, line=plan.lines[0], aircraft=fleet.aircraft("MER60"), library=fleet.library(),
        today=TODAY, tag="",
    )  # fmt: skip
    with_edit(fleet, act)
    kind = fleet.aircraft("MER60").radio_paths[0].regulator_type
    assert kind is not None
    assert kind.code == "R5"
    assert fleet.library().stocked("R5") == (8.0 if giver is None else 9.0)
