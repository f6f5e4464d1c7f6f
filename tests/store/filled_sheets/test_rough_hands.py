"""Filled sheets after rough handling: pages taken out, two sheets in one file, texts no record can hold."""

from __future__ import annotations

from pathlib import Path

import pytest
from pypdf import PdfReader, PdfWriter

from hangar.parts import BenchCheck, Inspection, RangeCheck
from hangar.parts.sheet_boxes import BENCH
from hangar.store import Edit, Fleet, bring_in
from hangar.store.filled_sheet import Answer, Outcome
from hangar.store.sheet_answers import take_answers
from tests.sheets.cases import TODAY
from tests.sheets.filling import TICK, fill
from tests.store.filled_sheets.answers import Sheets

ENTERED = {"MARQ bench B12 Passed": TICK, "MARQ bench AIL-L Neutral": "9 mA"}


def bench_sheet(sheets: Sheets, out: Path) -> Path:
    return fill(sheets("bench", "MARQ"), out, ENTERED)


def answered(fleet: Fleet, *answers: Answer) -> Outcome:
    outcomes: list[Outcome] = []

    def work(edit: Edit) -> None:
        outcomes.append(take_answers(edit, "MARQ", BENCH, answers, TODAY))

    fleet.edit("Enter the sheet", work)
    return outcomes[0]


def test_pages_taken_out_of_their_file_without_its_list_of_boxes_are_read(
    fleet: Fleet, sheets: Sheets, tmp_path: Path
) -> None:
    whole = bench_sheet(sheets, tmp_path / "whole.pdf")
    writer = PdfWriter()
    for page in reversed(PdfReader(whole).pages):
        writer.add_page(page)
    writer.write(tmp_path / "turned.pdf")
    assert not PdfReader(tmp_path / "turned.pdf").get_fields()
    report = bring_in(fleet, [tmp_path / "turned.pdf"])
    assert fleet.record(RangeCheck, "MARQ", TODAY) is not None
    assert report.refused == ()


def test_a_sheet_without_its_first_page_is_refused_and_says_so(
    fleet: Fleet, sheets: Sheets, tmp_path: Path
) -> None:
    whole = bench_sheet(sheets, tmp_path / "whole.pdf")
    writer = PdfWriter()
    writer.add_page(PdfReader(whole).pages[-1])
    writer.write(tmp_path / "last.pdf")
    (note,) = bring_in(fleet, [tmp_path / "last.pdf"]).refused
    assert "lacks its first page" in str(note.reason)


def test_two_sheets_of_one_day_do_not_make_each_other_older(
    fleet: Fleet, sheets: Sheets, tmp_path: Path
) -> None:
    field = fill(sheets("field", "MARQ"), tmp_path / "field.pdf", {"MARQ ELE-L Control": TICK})
    writer = PdfWriter()
    writer.append(bench_sheet(sheets, tmp_path / "bench.pdf"))
    writer.append(field)
    writer.write(tmp_path / "both.pdf")
    report = bring_in(fleet, [tmp_path / "both.pdf"])
    assert fleet.record(RangeCheck, "MARQ", TODAY) is not None
    assert [str(note) for note in report.doubtful if "revision" in str(note.reason)] == []


@pytest.mark.parametrize(
    ("text", "words"),
    [("x" * 10_000, "is 10000 characters long; allowed are 1000."), ("Ad\x00a", "cannot be stored")],
)
def test_a_text_that_no_record_can_hold_takes_no_other_reading_with_it(
    text: str, words: str, fleet: Fleet
) -> None:
    outcome = answered(
        fleet,
        Answer("AIL-L", "Neutral", "9"),
        Answer("B12", "Passed", "yes"),
        Answer("", "Bench-checked by", text),
        Answer("THR", "It did", text),
    )
    assert [words in str(remark.reason) for remark in outcome.refused] == [True, True]
    (check,) = [
        bench_check
        for bench_check in fleet.records(BenchCheck, aircraft="MARQ")
        if bench_check.checked_at.date() == TODAY
    ]
    assert (check.neutral_ma, check.by) == (9, None)
    assert any(inspection.inspected_on == TODAY for inspection in fleet.records(Inspection, aircraft="MARQ"))


def test_what_is_quoted_of_a_box_stays_short(fleet: Fleet, sheets: Sheets, tmp_path: Path) -> None:
    texts = {**ENTERED, "MARQ bench AIL-L Moving": "long " * 2_000}
    report = bring_in(fleet, [fill(sheets("bench", "MARQ"), tmp_path / "long.pdf", texts)])
    (note,) = report.refused
    assert "AIL-L Moving" in str(note)
    assert len(str(note)) < 200
