"""What the sheets of a whole fleet hold and do grows with what is printed; times are in the benchmarks."""

from __future__ import annotations

from collections import Counter
from pathlib import Path
from typing import Any

import pytest
from reportlab.graphics.barcode.qrencoder import QRCode

from hangar.sheets import SHEETS, SheetStyle, draw_cases, qr_code, write_sheet
from hangar.sheets.kit import Sheet
from hangar.sheets.labels import labels_of
from hangar.sheets.pdf_file import draw_pdf, open_canvas
from hangar.sheets.qr_code import dark_runs, modules_across
from hangar.sheets.wrapping import register_fonts
from tests.sheets.cases import demo_cases

STYLE = SheetStyle()


def test_finished_pages_are_held_as_small_as_they_stand_in_the_file() -> None:
    register_fonts()
    canvas = open_canvas("Field", STYLE)
    held: list[tuple[int, int]] = []

    def draw(sheet: Sheet) -> None:
        draw_cases(sheet, SHEETS["field"].drawer, demo_cases())
        sheet.end()
        pages = canvas._doc.Pages.pages
        assert all(page.stream is None for page in pages)
        held.append((len(pages), sum(len(page.Contents.content) for page in pages)))

    content = draw_pdf(canvas, STYLE, draw)
    ((pages, size),) = held
    assert pages > len(demo_cases())
    assert size < len(content)
    # What has its place in the file is held no longer.
    assert all(page.Contents.content is None for page in canvas._doc.Pages.pages)


@pytest.mark.parametrize("length", [1, 14, 15, 26, 27, 42, 80, 200])
def test_how_wide_a_code_will_be_is_known_before_it_is_made(length: int) -> None:
    for letter in ("A", "a", "7", "ß"):
        assert modules_across(letter * length) == dark_runs(letter * length)[0]


def test_the_code_of_each_label_is_made_once_however_many_there_are(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    made: Counter[str] = Counter()
    make = QRCode.make

    def counted(code: Any) -> None:
        made["codes"] += 1
        make(code)

    monkeypatch.setattr(QRCode, "make", counted)
    # More labels than are remembered: as if none were.
    monkeypatch.setattr(qr_code, "dark_runs", dark_runs.__wrapped__)
    dark_runs.cache_clear()
    write_sheet("labels", demo_cases(), tmp_path / "labels.pdf", STYLE)
    assert made["codes"] == sum(not label.flag for label in labels_of(demo_cases()))
