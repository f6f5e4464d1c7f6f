"""What a supply may become: one board for all paths, bought once, packs joined on one path, and anew."""

from __future__ import annotations

import dataclasses

import pytest

from hangar.answers.board import part_gaps
from hangar.parts import Aircraft, Library, Plan, after_plan
from hangar.parts.choices import PackJoin, PlanAction
from hangar.refit.bay import bay_of
from hangar.refit.ladder import Questions
from hangar.refit.request import RefitRequest
from hangar.refit.supplies import Supply, supplies_of
from hangar.rules import all_rules
from hangar.rules import examples as ex
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


def joined_packs(slug: str) -> tuple[Aircraft, Library]:
    """The aircraft that a rule about joined packs flags, and a library that sells their types for 20."""
    aircraft = all_rules()[slug].flags()
    assert isinstance(aircraft, Aircraft)
    fed = aircraft.radio_paths[0].packs
    kinds = {
        own.pack_type.code: dataclasses.replace(
            own.pack_type, price=20.0, mass_g=own.pack_type.mass_g or 90.0
        )
        for own in fed
    }
    placed = {own.pack.tag: own.pack for own in fed}
    return aircraft, Library(pack_types=kinds, packs_elsewhere=placed)


@pytest.mark.parametrize(
    ("slug", "join"), [("series-unlike", PackJoin.SERIES), ("parallel-unlike", PackJoin.PLAIN_Y)]
)
def test_packs_that_are_joined_are_joined_anew(slug: str, join: PackJoin) -> None:
    aircraft, library = joined_packs(slug)
    asking = RefitRequest(conditions=ex.home_day(), second_pack=False)
    supplies, _ = supplies_of(aircraft, library, bay_of(library, None, aircraft), asking)
    anew = [
        supply for supply in supplies if any(line.action is PlanAction.JOIN_PACKS for line in supply.lines)
    ]
    assert {supply.price for supply in anew} >= {20.0, 40.0}
    for supply in anew:
        plan = Plan(code="P", aircraft=aircraft.code, title="P", lines=supply.lines)
        (path,) = after_plan(aircraft, plan, library).radio_paths
        assert path.feed.join is join
        assert len({fed.pack_type.code for fed in path.packs}) == 1
        stay = {fed.pack.tag for fed in path.packs} & set(library.packs_elsewhere)
        assert len(stay) == (1 if supply.price == 20.0 else 0)
        assert not supply.spares
        assert not [
            gap for gap in part_gaps(plan, library) if "Stores." in str(gap) and str(gap).startswith("Line")
        ]
    answer = Questions(aircraft, library, asking).best(None)
    assert slug in {unit.rule for unit in answer.clears}
    assert not answer.brings
    own = {fed.pack.tag for fed in aircraft.radio_paths[0].packs}
    kept = own & {line.from_stock for line in answer.lines}
    assert sum(count for _, count, _ in answer.freed) == 2 - len(kept)
