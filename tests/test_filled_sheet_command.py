"""Filled sheets on the command line: what is taken is printed, what is not is told, also by the exit code."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from hangar.base.places import demo_fleet_dir
from hangar.commands import main
from hangar.parts import Channel, Flight
from hangar.parts.choices import FailsafeAction, Function
from hangar.store import Fleet
from tests.sheets.filling import TICK, box_names, fill


@pytest.fixture
def fleet_file(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Path:
    path = tmp_path / "fleet.hangar"
    assert main(["bring-in", str(path), str(demo_fleet_dir())]) == 0
    capsys.readouterr()
    return path


def printed(fleet_file: Path, kind: str, code: str) -> Path:
    out = fleet_file.with_name(f"{code} {kind}.pdf")
    assert main(["sheet", kind, str(fleet_file), "--aircraft", code, "--out", str(out), "--fillable"]) == 0
    return out


def test_sheets_are_printed_filled_and_brought_in_by_command(
    fleet_file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    field, bench = printed(fleet_file, "field", "NIM7"), printed(fleet_file, "bench", "PERT")
    fill(
        field, field, {name: TICK for name, is_tick in box_names(field).items() if is_tick and "line" in name}
    )
    name = next(name for name in box_names(bench) if name.endswith(" Neutral"))
    fill(bench, bench, {name: "9 mA"})
    capsys.readouterr()
    assert main(["bring-in", str(fleet_file), str(field), str(bench)]) == 0
    output = capsys.readouterr()
    assert output.out.startswith("Taken: ")
    assert "bench check 1" in output.out
    assert "inspection 1" in output.out
    assert output.err == ""
    assert main(["bring-in", str(fleet_file), str(bench)]) == 0
    assert "stood in the records already" in capsys.readouterr().out


def test_a_folder_of_filled_sheets_is_read_as_a_whole(
    fleet_file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = fleet_file.parent / "from the field"
    folder.mkdir()
    for code in ("MARQ", "PERT"):
        sheet = printed(fleet_file, "bench", code)
        fill(sheet, folder / sheet.name, {f"{code} bench B12 Passed": TICK})
    capsys.readouterr()
    assert main(["bring-in", str(fleet_file), str(folder)]) == 0
    assert "range check 2" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("odd", "words"),
    [({"Neutral": "a little"}, "1 entry was left out"),
     ({"Neutral": "a little", "End A": "99 A"}, "2 entries were left out")],
)  # fmt: skip
def test_a_sheet_that_is_taken_in_part_says_so_and_exits_1(
    odd: dict[str, str], words: str, fleet_file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    sheet = printed(fleet_file, "bench", "MARQ")
    texts = {f"MARQ bench ELE-L {what}": text for what, text in {"Moving": "90 mA", **odd}.items()}
    fill(sheet, sheet, texts)
    capsys.readouterr()
    assert main(["bring-in", str(fleet_file), str(sheet)]) == 1
    output = capsys.readouterr()
    assert "Taken: bench check 1." in output.out
    for what in odd:
        assert f"{sheet.name}, ELE-L {what}:" in output.out
    assert output.err == f"hangar: taken in part; {words}, each named with its reason.\n"


@pytest.mark.parametrize(
    ("content", "words"),
    [(b"", "is empty; write"), (b"%PDF-1.7\nnothing", "is no readable PDF"), (b"code,name\n", "is no PDF")],
)
def test_a_file_that_is_no_sheet_is_one_sentence_and_exit_2(
    content: bytes, words: str, fleet_file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    odd = fleet_file.with_name("odd.pdf")
    odd.write_bytes(content)
    assert main(["bring-in", str(fleet_file), str(odd)]) == 2
    output = capsys.readouterr()
    assert output.out == ""
    assert output.err.count("\n") == 1
    assert f"odd.pdf {words}" in output.err or f"odd.pdf: {words}" in output.err


def test_a_sheet_brought_into_a_fleet_that_is_not_there_leaves_no_file(
    fleet_file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    sheet = printed(fleet_file, "bench", "MARQ")
    fill(sheet, sheet, {"MARQ bench B12 Passed": TICK})
    other = fleet_file.with_name("other.hangar")
    assert main(["bring-in", str(other), str(sheet)]) == 2
    assert "MARQ, which is not in this fleet" in capsys.readouterr().err
    assert not other.exists()


def test_a_flight_on_a_sheet_is_held_against_the_warnings_that_are_open(
    fleet_file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    field = printed(fleet_file, "field", "DUNN")
    fill(field, field, {"DUNN flight 1 Minutes": "8"})
    with Fleet.open(fleet_file) as fleet:
        throttle = next(
            channel
            for channel in fleet.records(Channel, aircraft="DUNN")
            if channel.function is Function.THROTTLE
        )
        wrong = replace(throttle, failsafe=FailsafeAction.HOLD)
        fleet.edit("Set it wrong", lambda edit: edit.put(wrong))
    capsys.readouterr()
    main(["bring-in", str(fleet_file), str(field)])
    assert "although the aircraft must not fly" in "".join(capsys.readouterr())
    with Fleet.open(fleet_file) as fleet:
        flown = [flight for flight in fleet.records(Flight, aircraft="DUNN") if flight.minutes_min == 8.0]
        assert len(flown) == 1
        assert "Logged while not released" in str(flown[0].remarks)
