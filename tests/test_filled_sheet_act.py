"""Entering a filled sheet is one act: all of it as one edit that can be taken back, or nothing."""

from __future__ import annotations

from datetime import date

import pytest

from hangar.acts.filled_sheets import EntryFault, TypedSheet, enter_sheet
from hangar.parts import BenchCheck, Flight, RangeCheck, Snag
from hangar.parts.sheet_boxes import FIELD, LINE
from hangar.store.filled_sheet import Answer
from tests.demo_copies import demo_copy

TODAY = date(2026, 3, 14)
TICK = "x"


def test_a_sheet_is_one_edit_and_undo_takes_it_back() -> None:
    with demo_copy(TODAY) as fleet:
        position = fleet.aircraft("CIND").fits[0].code
        before = {kind: fleet.records(kind) for kind in (BenchCheck, Flight, Snag, RangeCheck)}
        answers = [
            Answer(position, "Control", TICK),
            Answer("", "Snag found", "Wheel loose"),
            Answer(LINE, "x", ""),
        ]
        sheet = TypedSheet(FIELD, "CIND", answers)
        fleet.do(enter_sheet, fleet, sheet, TODAY)
        assert str(fleet.undo_label) == "Enter field checklist of CIND"
        assert sheet.outcome.taken == {"bench-check": 1, "snag": 1}
        assert fleet.records(Snag) != before[Snag]
        fleet.undo()
        assert {kind: fleet.records(kind) for kind in before} == before


def test_a_box_that_cannot_be_understood_leaves_everything_out() -> None:
    with demo_copy(TODAY) as fleet:
        before = fleet.records(Snag), fleet.undo_label
        answers = [Answer("", "Snag found", "Wheel loose"), Answer("", "Minutes", "many")]
        with pytest.raises(EntryFault, match="boxes to look at: Minutes") as refused:
            fleet.do(enter_sheet, fleet, TypedSheet(FIELD, "CIND", answers), TODAY)
        assert [str(remark.answer and remark.answer.box) for remark in refused.value.refused] == ["Minutes"]
        assert (fleet.records(Snag), fleet.undo_label) == before
