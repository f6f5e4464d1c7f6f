"""Readings of a filled sheet that are not sound, or late, are named and leave the others standing."""

from __future__ import annotations

from datetime import datetime, timedelta
from pathlib import Path

import pytest

from hangar.parts import BenchCheck, Position, Servo, ServoType, Surface
from hangar.store import Edit, Fleet, bring_in
from tests.sheets.cases import TODAY
from tests.store.filled_sheets.answers import Sheets, filled


def test_an_unreadable_entry_is_named_and_leaves_the_others_standing(
    fleet: Fleet, sheets: Sheets, tmp_path: Path
) -> None:
    out = filled(
        sheets, "bench", "MARQ", tmp_path / "odd.pdf",
        **{"ELE-L__Neutral": "a little", "ELE-L__Moving": "45 ozf in", "ELE-L__End__A": "99 A",
           "ELE-L__End__B": "40", "AIL-L__Play": "900 mm", "B13__Mass": "24 V", "ELE-L__Up__mm": "900"},
    )  # fmt: skip
    report = bring_in(fleet, [out])
    refused = {note.column: str(note) for note in report.refused}
    assert set(refused) == {
        "ELE-L Neutral", "ELE-L Moving", "ELE-L End A", "AIL-L Play", "B13 Mass", "ELE-L Up mm",
    }  # fmt: skip
    assert refused["ELE-L End A"].startswith('odd.pdf, ELE-L End A: "99 A" cannot be kept')
    assert "allowed is 0 to 40000" in refused["ELE-L End A"]
    assert "allowed is 0 to" in refused["ELE-L Up mm"]
    (check,) = (
        bench_check
        for bench_check in fleet.records(BenchCheck, aircraft="MARQ")
        if bench_check.end_b_ma == 40
    )
    assert (check.neutral_ma, check.moving_ma, check.end_a_ma) == (None, None, None)


def test_a_sheet_of_an_older_revision_is_taken_with_a_doubt_where_the_servo_is_the_same(
    fleet: Fleet, sheets: Sheets, tmp_path: Path
) -> None:
    out = filled(
        sheets, "bench", "MARQ", tmp_path / "old.pdf", **{"ELE-L__Neutral": "9", "AIL-L__Neutral": "9"}
    )
    spare = "S-NEW"
    kind = fleet.records(ServoType)[0].code

    def fit_another(edit: Edit) -> None:
        edit.put(Servo(tag=spare, servo_type=kind))
        edit.fit_servo(spare, "MARQ", "AIL-L", TODAY)

    fleet.edit("Fit another", fit_another)
    report = bring_in(fleet, [out])
    assert [note.column for note in report.refused] == ["AIL-L Neutral"]
    assert f"was read on servo 0201, but AIL-L of MARQ holds {spare}" in str(report.refused[0].reason)
    assert any("was printed from revision" in str(note.reason) for note in report.doubtful)
    checks = [
        bench_check
        for bench_check in fleet.records(BenchCheck, aircraft="MARQ")
        if bench_check.checked_at.date() == TODAY
    ]
    assert [check.position for check in checks] == ["ELE-L"]


def test_what_is_no_longer_there_is_refused_by_name(fleet: Fleet, sheets: Sheets, tmp_path: Path) -> None:
    out = filled(sheets, "bench", "MARQ", tmp_path / "old.pdf", **{"ELE-L__Neutral": "9"})
    fleet.edit("Take it away", lambda edit: edit.remove(Position, ("MARQ", "ELE-L")))
    report = bring_in(fleet, [out])
    assert [str(note) for note in report.refused] == [
        'old.pdf, ELE-L Neutral: "9" is of a position that MARQ has no longer.'
    ]
    assert not report.taken


@pytest.mark.parametrize(
    ("text", "read"),
    [("2026-03-04", "2026-03-04"), ("4.3.2026", "2026-03-04"), ("4. 3. 2026 9:05", "2026-03-04 09:05"),
     ("2026-03-04, 09:05", "2026-03-04 09:05")],
)  # fmt: skip
def test_a_date_is_read_as_people_write_it(
    text: str, read: str, fleet: Fleet, sheets: Sheets, tmp_path: Path
) -> None:
    out = filled(sheets, "bench", "MARQ", tmp_path / "dated.pdf", **{"ELE-L__Neutral": "9", "Date": text})
    bring_in(fleet, [out])
    assert fleet.record(BenchCheck, "MARQ", "ELE-L", datetime.fromisoformat(read)) is not None


@pytest.mark.parametrize("text", ["tomorrow", "03/04/2026", str(TODAY + timedelta(days=1)), "31.2.2026"])
def test_a_sheet_whose_date_is_not_sound_is_not_taken(
    text: str, fleet: Fleet, sheets: Sheets, tmp_path: Path
) -> None:
    out = filled(sheets, "bench", "MARQ", tmp_path / "odd.pdf", **{"ELE-L__Neutral": "9", "Date": text})
    report = bring_in(fleet, [out])
    assert not report.taken
    assert [(note.column, note.found) for note in report.refused] == [("Date", text)]
    assert str(report.refused[0].reason).endswith("Nothing of this sheet was taken.")


def test_an_old_sheet_does_not_take_newer_readings_away(fleet: Fleet, sheets: Sheets, tmp_path: Path) -> None:
    fleet.edit(
        "Read it",
        lambda edit: edit.change(Surface, ("MARQ", "AIL-L"), play_deg=0.9, play_on=TODAY),
    )
    out = filled(
        sheets, "bench", "MARQ", tmp_path / "old.pdf", **{"AIL-L__Play": "0.2°", "Date": "2020-01-02"}
    )
    report = bring_in(fleet, [out])
    surface = fleet.record(Surface, "MARQ", "AIL-L")
    assert surface is not None
    assert surface.play_deg == 0.9
    assert any("which stays" in str(note.reason) for note in report.stated)
