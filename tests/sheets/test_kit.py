"""The layout kit: wrapping, breaking pages, level columns, files whole or not at all."""

from __future__ import annotations

import errno
import os
import re
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as some
from pypdf import PdfReader
from reportlab.pdfbase import pdfmetrics

from hangar.base.errors import BadInput, StoreFault
from hangar.sheets.kit import FILL, TICK, Sheet
from hangar.sheets.pdf_file import write_pdf
from hangar.sheets.step_rows import StepRow
from hangar.sheets.style import MARGIN_MM, MM, SheetStyle
from hangar.sheets.wrapping import BODY, register_fonts, wrapped
from tests.sheets.reading import drawn_bounds, text_of

STYLE = SheetStyle()


def begin(sheet: Sheet) -> None:
    sheet.begin("Sheet", "Sheet", lambda page: page.page_height_mm - 20.0)


@given(some.text(alphabet="abcdefgh ÄßΩ·0123456789", min_size=1, max_size=300), some.floats(8, 150))
def test_wrapped_lines_fit_and_lose_nothing(text: str, width_mm: float) -> None:
    register_fonts()
    lines = wrapped(text, BODY, 9.0, width_mm)
    assert "".join(lines).replace(" ", "") == text.replace(" ", "")
    assert all(pdfmetrics.stringWidth(line, BODY, 9.0) <= width_mm * MM + 0.01 for line in lines)


def test_a_long_table_goes_on_with_its_heads_on_the_next_page(tmp_path: Path) -> None:
    def draw(sheet: Sheet) -> None:
        begin(sheet)
        sheet.table(["Number", "Words"], [1, 4], [[str(row), f"row {row} " * 9] for row in range(120)])

    write_pdf(tmp_path / "long.pdf", "Long", STYLE, draw)
    pages = [page.extract_text() for page in PdfReader(tmp_path / "long.pdf").pages]
    assert len(pages) > 2
    assert all("Number" in page for page in pages)
    assert all(f"row {row} " in "\n".join(pages) for row in range(120))


def test_the_last_row_of_a_table_never_stands_alone_on_a_page(tmp_path: Path) -> None:
    def draw(sheet: Sheet) -> None:
        for rows in range(44, 80):
            begin(sheet)
            sheet.table(["Number", "Words"], [1, 4], [[f"row {row}", "words"] for row in range(rows)])

    write_pdf(tmp_path / "tables.pdf", "Tables", STYLE, draw)
    counts = [page.extract_text().count("row ") for page in PdfReader(tmp_path / "tables.pdf").pages]
    assert len(counts) > 80 - 44
    assert min(counts) == 2


def test_a_banner_longer_than_a_page_goes_on_and_loses_nothing(tmp_path: Path) -> None:
    codes = [f"PERT-{number:05d}" for number in range(1500)]

    def draw(sheet: Sheet) -> None:
        begin(sheet)
        sheet.banner(f"HELD: {', '.join(codes)}", dark=True)
        sheet.write("What follows it.")

    write_pdf(tmp_path / "held.pdf", "Held", STYLE, draw)
    pages = text_of(tmp_path / "held.pdf")
    assert len(pages) > 2
    assert "HELD:" in pages[0]
    assert re.findall(r"PERT-\d{5}", " ".join(pages)) == codes
    assert pages[-1].endswith("What follows it.")
    foot_mm, edge_mm = 20.0, MARGIN_MM - 0.1
    for _, left, bottom, right, top in drawn_bounds(tmp_path / "held.pdf"):
        assert bottom >= foot_mm
        assert edge_mm <= left < right <= STYLE.size_mm[0] - edge_mm
        assert top <= STYLE.size_mm[1] - edge_mm


def test_more_steps_than_a_page_holds_are_all_printed(tmp_path: Path) -> None:
    def draw(sheet: Sheet) -> None:
        begin(sheet)
        for number in range(90):
            sheet.step(StepRow(number, f"item {number:03d}", "as it should be, " * 6, TICK))

    write_pdf(tmp_path / "steps.pdf", "Steps", STYLE, draw)
    text = "".join(page.extract_text() for page in PdfReader(tmp_path / "steps.pdf").pages)
    assert all(f"item {number:03d}" in text for number in range(90))


def test_the_same_sheet_gives_the_same_bytes(tmp_path: Path) -> None:
    def draw(sheet: Sheet) -> None:
        begin(sheet)
        sheet.table(["a", "b"], [1, 1], [["1", None], [FILL, TICK]])

    for name in ("one.pdf", "two.pdf"):
        write_pdf(tmp_path / name, "Same", STYLE, draw)
    assert (tmp_path / "one.pdf").read_bytes() == (tmp_path / "two.pdf").read_bytes()


def test_a_fault_while_drawing_leaves_no_file(tmp_path: Path) -> None:
    def draw(sheet: Sheet) -> None:
        begin(sheet)
        raise BadInput("half way")

    old = tmp_path / "kept.pdf"
    old.write_bytes(b"old")
    with pytest.raises(BadInput):
        write_pdf(old, "Fault", STYLE, draw)
    assert old.read_bytes() == b"old"
    assert [path.name for path in tmp_path.iterdir()] == ["kept.pdf"]


def test_a_missing_folder_is_told_in_a_sentence(tmp_path: Path) -> None:
    with pytest.raises(StoreFault, match=r"cannot be written: No such file or directory\."):
        write_pdf(tmp_path / "missing" / "x.pdf", "Title", STYLE, begin)


def test_unknown_paper_is_refused() -> None:
    with pytest.raises(BadInput, match="A4 or Letter"):
        SheetStyle(paper="A3")


def test_nothing_but_a_pdf_is_written_over(tmp_path: Path) -> None:
    fleet, empty = tmp_path / "club.hangar", tmp_path / "empty.pdf"
    fleet.write_bytes(b"SQLite format 3\x00 and all the records")
    empty.touch()
    with pytest.raises(BadInput, match=r"holds something that is no PDF and stays"):
        write_pdf(fleet, "Title", STYLE, begin)
    with pytest.raises(BadInput, match=r"is a folder; name a file in it"):
        write_pdf(tmp_path, "Title", STYLE, begin)
    assert fleet.read_bytes().endswith(b"all the records")
    for _ in range(2):
        write_pdf(empty, "Title", STYLE, begin)
        assert empty.read_bytes().startswith(b"%PDF")
    assert sorted(path.name for path in tmp_path.iterdir()) == ["club.hangar", "empty.pdf"]


def test_a_link_stays_a_link_and_a_device_stays_a_device(tmp_path: Path) -> None:
    link, there = tmp_path / "link.pdf", tmp_path / "there.pdf"
    link.symlink_to(there)
    write_pdf(link, "Title", STYLE, begin)
    assert link.is_symlink()
    assert there.read_bytes().startswith(b"%PDF")
    pipe = tmp_path / "pipe.pdf"
    os.mkfifo(pipe)
    with pytest.raises(BadInput, match="is no file that can be written over"):
        write_pdf(pipe, "Title", STYLE, begin)
    assert pipe.is_fifo()


def test_a_sheet_can_be_read_by_whom_any_other_file_can(tmp_path: Path) -> None:
    plain = tmp_path / "plain.txt"
    plain.touch()
    write_pdf(tmp_path / "sheet.pdf", "Title", STYLE, begin)
    assert (tmp_path / "sheet.pdf").stat().st_mode == plain.stat().st_mode


def test_a_disk_that_is_full_leaves_the_sheet_before(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    out = tmp_path / "kept.pdf"
    write_pdf(out, "Before", STYLE, begin)
    before = out.read_bytes()

    def full(_handle: int) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(StoreFault, match=r"cannot be written: No space left on device\."):
        write_pdf(out, "After", STYLE, begin)
    assert out.read_bytes() == before
    assert [path.name for path in tmp_path.iterdir()] == ["kept.pdf"]
