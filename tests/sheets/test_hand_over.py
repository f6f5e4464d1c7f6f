"""The build sheet as it is handed over: what the plan comes to first, the wiring, old and new together."""

from __future__ import annotations

from pathlib import Path

import pytest

from hangar.answers.case import planned_case
from hangar.answers.needs import open_plans
from hangar.answers.outputs import outputs_of
from hangar.rules.finding import Level
from hangar.sheets import SheetStyle, write_sheet
from hangar.sheets.case import SheetCase
from tests.sheets.cases import crowded_case, demo_case, large_refit
from tests.sheets.reading import text_boxes, text_of


def pages_of(code: str, out: Path, paper: str = "A4") -> list[str]:
    write_sheet("build", [demo_case(code)], out, SheetStyle(paper=paper))
    return text_of(out)


@pytest.mark.parametrize("code", ["MARQ", "MER60"])
def test_the_first_page_says_what_the_plan_comes_to(code: str, tmp_path: Path) -> None:
    case = demo_case(code)
    plan = open_plans(case.aircraft)[0]
    after = planned_case(case, plan)
    left = sum(finding.level is Level.WARNING and finding.is_open for finding in after.findings)
    assert f"after it {left};" in pages_of(code, tmp_path / "a.pdf")[0]


def test_every_output_is_in_the_drawing_of_the_wiring_with_its_lead(tmp_path: Path) -> None:
    for case in (demo_case("PERT"), demo_case("NIM7"), crowded_case()):
        write_sheet("build", [case], tmp_path / "a.pdf", SheetStyle())
        words = " ".join(" ".join(text_of(tmp_path / "a.pdf")).split())
        drawn = words[words.index("Wiring, port by port") : words.index("Plug of a servo")]
        outputs = outputs_of(case.aircraft)
        assert len(outputs) > 6
        for output in outputs:
            if output.fit is not None and output.fit.lead is not None:
                lead = output.fit.lead
                assert f"{lead.length_mm:g} mm, {lead.awg or '__'} AWG" in drawn, output.about


def pairs_of(case: SheetCase) -> int:
    """How many positions get another servo by the first plan."""
    after = planned_case(case, open_plans(case.aircraft)[0])
    fits = zip(case.aircraft.fits, after.aircraft.fits, strict=True)
    return sum(old.servo != new.servo for old, new in fits)


@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize("fillable", [False, True])
def test_old_and_new_of_a_position_are_never_on_two_pages(
    paper: str, *, fillable: bool, tmp_path: Path
) -> None:
    for case in (demo_case("MARQ"), demo_case("MER60"), large_refit()):
        write_sheet("build", [case], tmp_path / "a.pdf", SheetStyle(paper=paper, fillable=fillable))
        sides = [box for box in text_boxes(tmp_path / "a.pdf") if box.text in ("old", "new")]
        rows = sorted(sides, key=lambda box: (box.page, -box.top))
        # Two tables, each with an old row and a new one for every servo that changes.
        assert len(rows) == 4 * pairs_of(case)
        for old, new in zip(rows[::2], rows[1::2], strict=True):
            assert (old.text, new.text) == ("old", "new")
            assert old.page == new.page


def test_a_refit_that_fills_pages_has_old_and_new_on_more_than_one(tmp_path: Path) -> None:
    """The test above must have a page break to meet."""
    write_sheet("build", [large_refit()], tmp_path / "a.pdf", SheetStyle())
    pages = {box.page for box in text_boxes(tmp_path / "a.pdf") if box.text == "old"}
    assert len(pages) > 1


def test_old_and_new_are_of_one_load_case(tmp_path: Path) -> None:
    """Both sides carry the volts of the peak; the rows are those of the two surveys, none of another case."""
    case = demo_case("MARQ")
    after = planned_case(case, open_plans(case.aircraft)[0])
    write_sheet("build", [case], tmp_path / "a.pdf", SheetStyle())
    words = " ".join(text_of(tmp_path / "a.pdf"))
    assert "at the volts each servo really gets at peak load" in words
    for side in (case, after):
        for fit in side.aircraft.fits:
            other = next(row for row in (after, case)[side is after].aircraft.fits if row.code == fit.code)
            volts = side.survey.positions[fit.code].delivered_v
            if other.servo != fit.servo and volts is not None:
                assert (SheetStyle().figure(volts) or "") in words
