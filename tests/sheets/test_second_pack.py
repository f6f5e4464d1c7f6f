"""A plan for a second pack on the build sheet and the shopping list."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

from hangar.answers.needs import needs_of
from hangar.parts import Plan
from hangar.parts.choices import PlanAction
from hangar.refit.bay import bay_of
from hangar.refit.request import RefitRequest
from hangar.refit.supplies import supplies_of
from hangar.sheets import SheetStyle, write_sheet
from hangar.sheets.case import SheetCase
from hangar.survey import Conditions
from tests.sheets.cases import TODAY, demo_case
from tests.sheets.reading import text_of


@cache
def planned() -> tuple[SheetCase, Plan]:
    """The Marquess with the cheapest supply of two packs and two new switches kept as its only plan."""
    case = demo_case("MARQ")
    asking = RefitRequest(conditions=Conditions(today=TODAY))
    bay = bay_of(case.library, None, case.aircraft)
    offered, _ = supplies_of(case.aircraft, case.library, bay, asking)
    switched = [
        supply
        for supply in offered
        if supply.second and sum(line.part_type == "EL-15" for line in supply.lines) == 2
    ]
    cheapest = min(switched, key=lambda supply: supply.price)
    lines = tuple(replace(line, plan="Second pack", number=at) for at, line in enumerate(cheapest.lines, 1))
    made = Plan(code="Second pack", aircraft="MARQ", title="Second pack", lines=lines)
    aircraft = replace(case.aircraft, plans=(made,))
    return case.judged(replace(case.survey, aircraft=aircraft)), made


def test_the_shopping_list_counts_pack_board_and_both_switches() -> None:
    case, made = planned()
    needs = {need.part_type: need for need in needs_of([case.aircraft], case.library)}
    switches = [line for line in made.lines if line.action is PlanAction.FIT_SWITCH]
    assert needs["Twinline"].wanted == 1
    assert needs["EL-15"].wanted == len(switches) == 2
    pack = next(line for line in made.lines if line.place == "RX-B" and line.action is PlanAction.FIT_PACK)
    assert needs[str(pack.part_type)].wanted >= 1


def test_the_build_sheet_shows_the_second_path_its_lines_and_the_bus_with_one_lost(tmp_path: Path) -> None:
    case, made = planned()
    write_sheet("build", [case], tmp_path / "build.pdf", SheetStyle())
    words = " ".join(text_of(tmp_path / "build.pdf"))
    assert "fit regulator Twinline" in words
    assert words.count("fit switch EL-15") == 2
    pack = next(line for line in made.lines if line.place == "RX-B" and line.action is PlanAction.FIT_PACK)
    assert f"fit pack {pack.part_type}" in words
    assert "Bus at peak load, one path lost" in words
    assert "BOARD" in words
