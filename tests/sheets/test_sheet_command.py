"""The command ``hangar sheet``: every kind, its options, and what it refuses."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest
from pypdf import PdfReader

from hangar.base.places import demo_fleet_dir
from hangar.commands.running import LABEL_GRIDS, SHEET_KINDS, main
from hangar.sheets import SHEETS
from hangar.sheets.label_grid import label_grids

DEMO = str(demo_fleet_dir())


def test_the_command_names_every_kind_and_every_label_sheet() -> None:
    assert list(SHEET_KINDS) == list(SHEETS)
    assert list(LABEL_GRIDS) == list(label_grids())


@pytest.mark.parametrize("kind", SHEET_KINDS)
def test_every_kind_is_printed_for_one_aircraft(
    kind: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / f"{kind}.pdf"
    assert main(["sheet", kind, DEMO, "--aircraft", "DUNN", "--out", str(out), "--paper", "Letter"]) == 0
    assert capsys.readouterr().out.strip() == str(out)
    page = PdfReader(out).pages[0]
    assert float(page.mediabox.width) == pytest.approx(612)
    assert "Dunnalow" in str(PdfReader(out).metadata)


def test_options_reach_the_sheet(tmp_path: Path) -> None:
    out = str(tmp_path / "x.pdf")
    assert main(["sheet", "field", DEMO, "--aircraft", "DUNN", "--out", out, "--fillable"]) == 0
    assert PdfReader(out).get_fields()
    passport = ["sheet", "passport", DEMO, "--aircraft", "MARQ", "--out", out]
    assert main([*passport, "--no-prices", "--no-own-details"]) == 0
    assert "LMFC 0482" not in "".join(page.extract_text() for page in PdfReader(out).pages)
    assert main(["sheet", "labels", DEMO, "--aircraft", "MARQ", "--out", out, "--labels", "3x10"]) == 0
    assert float(PdfReader(out).pages[0].mediabox.height) == pytest.approx(792)


def test_what_cannot_be_printed_is_told_in_a_sentence(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = str(tmp_path / "x.pdf")
    assert main(["sheet", "labels", DEMO, "--out", out, "--paper", "A4", "--labels", "3x10"]) == 2
    assert "label sheet 3x10 is Letter; the paper chosen is A4." in capsys.readouterr().err
    missing = str(tmp_path / "missing" / "x.pdf")
    assert main(["sheet", "field", DEMO, "--aircraft", "DUNN", "--out", missing]) == 2
    assert "cannot be written" in capsys.readouterr().err
    assert list(tmp_path.iterdir()) == []


def test_a_sheet_is_never_printed_over_the_fleet(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    fleet = tmp_path / "club.hangar"
    assert main(["bring-in", str(fleet), DEMO]) == 0
    before = fleet.read_bytes()
    assert main(["sheet", "cuts", str(fleet), "--out", str(fleet)]) == 2
    assert "holds something that is no PDF and stays" in capsys.readouterr().err
    assert fleet.read_bytes() == before


def test_a_terminal_of_few_signs_gets_the_others_by_number(tmp_path: Path) -> None:
    few = {**os.environ, "PYTHONIOENCODING": "ascii"}
    command = [sys.executable, "-m", "hangar", "sheet", "cuts", DEMO, "--out", str(tmp_path / "größe.pdf")]
    done = subprocess.run(command, capture_output=True, text=True, env=few, check=False)
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout.endswith("gr\\xf6\\xdfe.pdf\n")


def test_a_word_that_no_file_can_have_as_its_name_is_told(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check-file", "a\0b"]) == 2
    assert capsys.readouterr().err.count("\n") == 1
