"""The build sheet as it is handed over: what the plan comes to first, the wiring, old and new together."""

from __future__ import annotations

from pathlib import Path

import pytest

from hangar.answers.case import planned_case
from hangar.answers.needs import open_plans
from hangar.answers.outputs import outputs_of
from hangar.rules.finding import Level
from hangar.sheets import SheetStyle, write_sheet
from tests.sheets.cases import crowded_case, demo_case
from tests.sheets.reading import text_of


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


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_old_and_new_of_a_position_are_never_on_two_pages(paper: str, tmp_path: Path) -> None:
    for code in ("MARQ", "MER60"):
        for page in pages_of(code, tmp_path / "a.pdf", paper):
            words = page.split()
            # A page with a table of both sides has as many old as new rows.
            olds = sum(1 for word in words if word == "old")
            news = sum(1 for at, word in enumerate(words[:-1]) if word == "new" and words[at - 1] != "fit")
            assert olds <= news
