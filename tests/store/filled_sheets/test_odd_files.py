"""A PDF that is no filled sheet is refused in one sentence, however it was damaged."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from pypdf import PdfWriter

from hangar.sheets import SheetStyle, write_sheet
from hangar.store import Fleet, bring_in
from tests.sheets.cases import demo_case
from tests.sheets.filling import TICK, fill, flatten
from tests.store.filled_sheets.answers import Sheets, filled


def _empty(path: Path, _sheets: Sheets) -> None:
    path.write_bytes(b"")


def _broken(path: Path, sheets: Sheets) -> None:
    path.write_bytes(sheets("field", "MARQ").read_bytes()[:900])


def _no_pdf(path: Path, _sheets: Sheets) -> None:
    path.write_text("code,name\n")


def _foreign(path: Path, _sheets: Sheets) -> None:
    writer = PdfWriter()
    writer.add_blank_page(200, 200)
    writer.write(path)


def _locked(path: Path, sheets: Sheets) -> None:
    writer = PdfWriter(clone_from=sheets("field", "MARQ"))
    writer.encrypt("secret", algorithm="RC4-128")
    writer.write(path)


def _flat(path: Path, sheets: Sheets) -> None:
    flatten(fill(sheets("field", "MARQ"), path, {"MARQ ELE-L Control": TICK}), path.with_suffix(".flat"))
    path.with_suffix(".flat").replace(path)


def _for_paper(path: Path, _sheets: Sheets) -> None:
    write_sheet("field", [demo_case("MARQ")], path, SheetStyle())


def _passport(path: Path, _sheets: Sheets) -> None:
    write_sheet("passport", [demo_case("MARQ")], path, SheetStyle(fillable=True))


def _blank(path: Path, sheets: Sheets) -> None:
    path.write_bytes(sheets("field", "MARQ").read_bytes())


def _bad_stamp(path: Path, sheets: Sheets) -> None:
    writer = PdfWriter(clone_from=sheets("field", "MARQ"))
    for page in writer.pages:
        writer.update_page_form_field_values(page, {"MARQ stamp": '{"sheet":"field"}'})
    writer.write(path)


REFUSED = [
    (_empty, "is empty; write"), (_broken, "is no readable PDF"), (_no_pdf, "is no PDF"),
    (_foreign, "is no sheet that Hangar wrote"), (_locked, "is encrypted"), (_flat, "has no boxes any more"),
    (_for_paper, "was written for paper"), (_passport, "is a sheet of Hangar that is not read back"),
    (_blank, "has no box filled in"), (_bad_stamp, "cannot be read back"),
]  # fmt: skip


@pytest.mark.parametrize(("make", "words"), REFUSED, ids=[words for _, words in REFUSED])
def test_a_file_that_is_no_filled_sheet_is_refused_in_one_sentence(
    make: Callable[[Path, Sheets], None], words: str, fleet: Fleet,
    sheets: Sheets, tmp_path: Path,
) -> None:  # fmt: skip
    path = tmp_path / "odd.pdf"
    make(path, sheets)
    report = bring_in(fleet, [path])
    assert not report.taken
    (note,) = report.refused
    assert note.file == "odd.pdf"
    assert words in str(note.reason)
    assert str(note).startswith("odd.pdf")
    assert str(note).endswith(".")


def test_a_sheet_of_another_fleet_is_refused_by_name(sheets: Sheets, tmp_path: Path) -> None:
    out = filled(sheets, "field", "MARQ", tmp_path / "marq.pdf", **{"ELE-L__Control": TICK})
    with Fleet.in_memory() as other:
        report = bring_in(other, [out])
    assert "is a field checklist of MARQ, which is not in this fleet" in report.text()


@settings(max_examples=40, suppress_health_check=list(HealthCheck))
@given(data=st.data())
def test_no_damage_to_a_file_gets_further_than_a_sentence(
    data: st.DataObject,
    fleet: Fleet,
    sheets: Sheets,
    tmp_path_factory: pytest.TempPathFactory,
) -> None:
    folder = tmp_path_factory.mktemp("damaged")
    whole = filled(sheets, "charging", "MARQ", folder / "whole.pdf", B021__Charged=TICK).read_bytes()
    content = bytearray(whole)
    for _ in range(data.draw(st.integers(1, 30))):
        content[data.draw(st.integers(9, len(content) - 1))] = data.draw(st.integers(0, 255))
    damaged = folder / "damaged.pdf"
    damaged.write_bytes(content[: data.draw(st.integers(0, len(content)))])
    report = bring_in(fleet, [damaged])
    assert report.taken or report.refused
    for note in report.refused:
        assert str(note).startswith("damaged.pdf")
    if report.taken:
        fleet.undo()
