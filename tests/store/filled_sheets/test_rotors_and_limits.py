"""Readings of a rotor, and what becomes of a tick beside a reading that is beyond its printed limit."""

from __future__ import annotations

from pathlib import Path

from hangar.acts.sheet_limits import SheetLimits
from hangar.parts import Inspection, LoadTest, Rotor
from hangar.parts.choices import InspectionKind, RotorKind
from hangar.store import Fleet, bring_in
from tests.sheets.cases import TODAY
from tests.sheets.filling import TICK
from tests.store.filled_sheets.answers import NOON, Sheets, filled


def taken(fleet: Fleet, path: Path) -> tuple[list[str], list[str], list[str]]:
    """What was refused, doubted and said of a filled sheet."""
    report = bring_in(fleet, [path], limits=SheetLimits(fleet, TODAY).of)
    return (
        [str(note.text) for note in report.refused],
        [str(note.text) for note in report.doubtful],
        [str(note.text) for note in report.stated],
    )


def test_the_readings_of_a_rotor_are_kept_and_held_against_its_pitch(
    fleet: Fleet, sheets: Sheets, tmp_path: Path
) -> None:
    # Nimbrel's greatest pitch is 11 degrees, a bench check allows one degree either way; the plate 0.5.
    read = {
        "rotor__main__Low__deg": "-10,5",
        "rotor__main__High__deg": "12.4",
        "rotor__main__Rotor": TICK,
        "rotor__main__Swash__low__deg": "0.2",
        "rotor__main__Swash__high__deg": "0.4",
        "rotor__tail__High__deg": "20",
        "Date": f"{TODAY} 12:00",
    }
    out = filled(sheets, "bench", "NIM7", tmp_path / "a.pdf", **read)
    refused, doubted, lines = taken(fleet, out)
    rotor = fleet.record(Rotor, "NIM7", RotorKind.MAIN)
    assert rotor is not None
    assert (rotor.pitch_low_deg, rotor.pitch_high_deg, rotor.swash_off_deg) == (-10.5, 12.4, 0.4)
    assert rotor.pitch_read_on == TODAY
    tail = fleet.record(Rotor, "NIM7", RotorKind.TAIL)
    assert tail is not None
    assert tail.pitch_high_deg == 20
    assert len([words for words in doubted if "is OUT; allowed is 10° to 12°" in words]) == 1, doubted
    assert any("is no proof, for rotor main High deg is 12.4" in words for words in refused)
    assert any("left blank and not taken" in words for words in lines)


def test_a_tick_beside_a_pack_that_sagged_is_no_proof(fleet: Fleet, sheets: Sheets, tmp_path: Path) -> None:
    boxes = {"B061__At__rest": "5.4", "B061__Read": "4.2", "B061__Tested": TICK}
    out = filled(sheets, "field", "DUNN", tmp_path / "a.pdf", Date____time=f"{TODAY} 12:00", **boxes)
    refused, doubted, _ = taken(fleet, out)
    test = fleet.record(LoadTest, "B061", NOON)
    assert test is not None, "the reading itself is kept"
    assert test.loaded_v == 4.2
    assert any("is OUT; allowed is" in words and "or more" in words for words in doubted)
    assert any("Tested" in words and "is no proof" in words for words in refused)


def test_a_balance_out_of_its_range_takes_the_line_and_the_look_over_with_it(
    fleet: Fleet, sheets: Sheets, tmp_path: Path
) -> None:
    out = filled(sheets, "field", "DUNN", tmp_path / "a.pdf", Date____time=f"{TODAY} 12:00",
                 line__balance__mm="300", line__balance=TICK, line__complete=TICK)  # fmt: skip
    refused, _, _ = taken(fleet, out)
    assert any("line balance" in words or "balance" in words for words in refused)
    gate = fleet.record(Inspection, "DUNN", TODAY, InspectionKind.GATE)
    assert gate is not None
    assert gate.passed is None
