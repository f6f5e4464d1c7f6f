"""What a screen reader and a viewer are given: title, language, bookmarks, words in the order of reading."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader

from hangar.sheets import SHEETS, SheetStyle, write_sheet
from hangar.sheets.texts import cautions, footer
from tests.sheets.cases import crowded_case, demo_case, demo_cases, released
from tests.sheets.reading import text_boxes, text_of

SPEAKING = [kind for kind in SHEETS if kind != "labels"]


@pytest.mark.parametrize("kind", SPEAKING)
def test_the_head_is_read_first_and_who_governs_last(kind: str, tmp_path: Path) -> None:
    out = tmp_path / "sheet.pdf"
    write_sheet(kind, [demo_case("MARQ"), demo_case("PERT")], out, SheetStyle())
    pages = text_of(out)
    for number, page in enumerate(pages):
        assert page.endswith(footer()), number
        for caution in cautions():
            at = page.find(caution.text)
            assert at < 0 or at > len(page) / 2
    assert "printed 20" in pages[0][:200]


@pytest.mark.parametrize("kind", SPEAKING)
def test_words_come_from_the_top_down_within_each_column(kind: str, tmp_path: Path) -> None:
    out = tmp_path / "sheet.pdf"
    write_sheet(kind, [crowded_case()], out, SheetStyle())
    boxes = text_boxes(out)
    back = [
        (before.text, after.text)
        for before, after in pairwise(boxes)
        if before.page == after.page and after.bottom > before.top + 60 and after.left < before.left
    ]
    # A leap back up by more than six centimetres is only made to the right, to the next column.
    assert back == []


@pytest.mark.parametrize("kind", SHEETS)
def test_a_viewer_shows_the_title_and_knows_the_language(kind: str, tmp_path: Path) -> None:
    out = tmp_path / "sheet.pdf"
    write_sheet(kind, [demo_case("MARQ")], out, SheetStyle())
    root: Any = PdfReader(out).root_object
    assert root["/Lang"] == "en"
    assert bool(root["/ViewerPreferences"]["/DisplayDocTitle"]) is True


def outline_titles(entries: Any, level: int = 0) -> list[tuple[int, str]]:
    found = []
    for entry in entries:
        if isinstance(entry, list):
            found += outline_titles(entry, level + 1)
        else:
            found.append((level, str(entry.title)))
    return found


@pytest.mark.parametrize("kind", ["field", "bench", "build", "passport"])
def test_bookmarks_lead_to_each_aircraft_and_each_of_its_parts(kind: str, tmp_path: Path) -> None:
    out = tmp_path / "sheet.pdf"
    write_sheet(kind, demo_cases(), out, SheetStyle())
    reader = PdfReader(out)
    titles = outline_titles(reader.outline)
    sheets = [title for level, title in titles if level == 0]
    for case in demo_cases():
        assert any(title.startswith(case.aircraft.code) for title in sheets)
    assert len([title for level, title in titles if level == 1]) >= 3 * len(sheets)
    pages = text_of(out)
    for entry in (one for part in reader.outline if isinstance(part, list) for one in part):
        number = reader.get_destination_page_number(entry)  # type: ignore[arg-type]
        assert number is not None
        assert entry.title in pages[number]  # type: ignore[union-attr, operator]


def test_every_field_tells_what_it_asks(tmp_path: Path) -> None:
    out = tmp_path / "field.pdf"
    write_sheet("field", [released(demo_case("MARQ"))], out, SheetStyle(fillable=True))
    fields = [each.get_object() for page in PdfReader(out).pages for each in page["/Annots"]]  # type: ignore[attr-defined]
    assert len(fields) > 40
    assert all(str(field["/TU"]).strip() for field in fields)
