"""A second pack that the planner offers is fitted at the Refit Board; each line is an edit to undo."""

from __future__ import annotations

import pytest

from hangar.answers import plans as plans_known
from hangar.answers.board import order_of_work
from hangar.parts import Feed, PackType, Plan, RegulatorType, SwitchType, after_plan
from hangar.parts.choices import PlanAction, PlanState, RegulatorKind, SwitchKind
from hangar.refit.bay import bay_of
from hangar.refit.request import RefitRequest
from hangar.refit.supplies import supplies_of
from hangar.store import Edit
from hangar.survey import survey
from hangar.survey.model import Conditions, Scenario
from hangar.window.kit.desk import Desk
from hangar.window.refit.plan_lines import places_for
from hangar.window.refit.plan_work import begin_plan, carry_out
from tests.window.conftest import CODE, TODAY

BOARD = RegulatorType(
    code="Two-in", regulator=RegulatorKind.PASS, input_max_v=8.8, drop_out_v=0.1, inputs=2, isolated=True,
    fails_through=True, mass_g=40.0, price=70.0,
)  # fmt: skip
SWITCH = SwitchType(code="SW-new", switch=SwitchKind.ELECTRONIC, contact_mohm=3.0, mass_g=15.0, price=25.0)


@pytest.fixture
def stocked(desk: Desk) -> Desk:
    """The fleet with a board and a switch to buy, and a pack whose price is known."""

    def work(edit: Edit) -> None:
        edit.put(BOARD)
        edit.put(SWITCH)
        edit.change(PackType, ("P-A",), mass_g=130.0, price=24.0)

    desk.change("Enter types", work)
    return desk


def second_pack_plan(desk: Desk) -> Plan:
    asking = RefitRequest(second_pack=True, conditions=Conditions(today=TODAY))
    aircraft, library = desk.aircraft(CODE), desk.fleet.library()
    offered, _ = supplies_of(aircraft, library, bay_of(library, None, aircraft), asking)
    cheapest = min((supply for supply in offered if supply.second), key=lambda supply: supply.price)
    code = begin_plan(desk, CODE, cheapest.lines)
    desk.change("Fitting", lambda edit: edit.change(Plan, (code,), state=PlanState.FITTING))
    return plan_named(desk, code)


def plan_named(desk: Desk, code: str) -> Plan:
    plan = plans_known.plan_named(desk, code)
    assert plan is not None
    return plan


def test_each_step_is_fitted_in_order_and_the_packs_are_never_joined_openly(stocked: Desk) -> None:
    made = second_pack_plan(stocked)
    before = stocked.aircraft(CODE)
    wanted = after_plan(before, made, stocked.fleet.library())
    for step in order_of_work(made):
        if step.line is None:
            continue
        tag = "B-77" if step.line.action is PlanAction.FIT_PACK else ""
        carry_out(stocked, plan_named(stocked, made.code), step.line, tag)
        paths = stocked.aircraft(CODE).radio_paths
        assert len(paths) < 2 or all(path.feed.isolated for path in paths)
    fitted = stocked.aircraft(CODE)
    assert [path.feed for path in fitted.radio_paths] == [path.feed for path in wanted.radio_paths]
    assert [path.regulator_type for path in fitted.radio_paths] == [BOARD, BOARD]
    assert fitted.radio_paths[1].packs[0].pack.tag == "B-77"
    lost = survey(fitted, Conditions(today=TODAY)).scenarios[Scenario.ONE_LOST]
    assert lost.collapse is None


def test_undo_takes_each_fitted_step_back_whole(stocked: Desk) -> None:
    made = second_pack_plan(stocked)
    steps = [step.line for step in order_of_work(made) if step.line is not None]
    states = [stocked.aircraft(CODE).paths]
    for line in steps:
        tag = "B-77" if line.action is PlanAction.FIT_PACK else ""
        carry_out(stocked, plan_named(stocked, made.code), line, tag)
        states.append(stocked.aircraft(CODE).paths)
    assert len({len(paths) for paths in states}) == 2
    for paths in reversed(states[:-1]):
        stocked.undo()
        assert stocked.aircraft(CODE).paths == paths
    assert len(stocked.records(Feed)) == 1
    assert all(line.done_on is None for line in plan_named(stocked, made.code).lines)


def test_a_line_for_a_second_pack_can_be_entered_by_hand(stocked: Desk) -> None:
    aircraft = stocked.aircraft(CODE)
    assert places_for(PlanAction.FIT_PACK, aircraft) == ("RX-A", "RX-B")
    assert places_for(PlanAction.FIT_SWITCH, aircraft) == ("RX-A", "RX-B")
    assert places_for(PlanAction.FIT_REGULATOR, aircraft) == ("RX-A", "BOARD")
    assert places_for(PlanAction.SET_REGULATOR, aircraft) == ("RX-A",)
