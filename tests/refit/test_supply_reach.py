"""What a supply may become: one board for all paths, bought once, and packs joined on one path."""

from __future__ import annotations

import pytest

from hangar.parts import Aircraft, Library, Plan, after_plan
from hangar.parts.choices import PackJoin, PlanAction
from hangar.refit.bay import bay_of
from hangar.refit.request import RefitRequest
from hangar.refit.supplies import Supply, supplies_of
from hangar.survey.model import Conditions
from tests.demo_copies import TODAY, demo_copy

DAY = RefitRequest(conditions=Conditions(today=TODAY))


def offered(code: str) -> tuple[Aircraft, Library, tuple[Supply, ...]]:
    fleet = demo_copy()
    aircraft, library = fleet.aircraft(code), fleet.library()
    return aircraft, library, supplies_of(aircraft, library, bay_of(library, None, aircraft), DAY)[0]


def test_one_board_for_all_paths_is_bought_once() -> None:
    aircraft, library, supplies = offered("PERT")
    assert len(aircraft.radio_paths) > 1
    codes = {path.feed.code for path in aircraft.radio_paths}
    boards = [
        (supply, line)
        for supply in supplies
        for line in supply.lines
        if line.action is PlanAction.FIT_REGULATOR and line.place not in codes
    ]
    assert boards
    for supply, board in boards:
        kind = library.regulator_types[board.part_type or ""]
        assert board.price == pytest.approx(kind.price)
        assert kind.inputs >= len(codes)
        plan = Plan(code="P", aircraft=aircraft.code, title="P", lines=supply.lines)
        after = after_plan(aircraft, plan, library)
        assert len({path.feed.regulator for path in after.radio_paths}) == 1


def test_a_pack_is_joined_to_one_of_its_kind_only() -> None:
    joined = 0
    for code in ("SISK", "MARQ", "ALB5", "CIND", "PERT", "DUNN"):
        aircraft, library, supplies = offered(code)
        for supply in supplies:
            if not any(line.action is PlanAction.JOIN_PACKS for line in supply.lines):
                continue
            joined += 1
            plan = Plan(code="P", aircraft=aircraft.code, title="P", lines=supply.lines)
            for path in after_plan(aircraft, plan, library).radio_paths:
                assert path.feed.join is PackJoin.PLAIN_Y
                assert len({fed.pack_type.code for fed in path.packs}) == 1
                assert len({fed.pack.tag for fed in path.packs}) == len(path.packs)
    assert joined
