"""The PDF itself: whole fonts in its fields, boxes for a finger, an order to go by, and the day it is of."""

from __future__ import annotations

from datetime import date
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader

from hangar.base.errors import BadInput
from hangar.sheets import SHEETS, SheetStyle, write_sheet
from tests.all_cases import all_cases
from tests.sheets.cases import demo_case, released
from tests.sheets.filling import fill_in_viewer, flatten
from tests.sheets.reading import text_of
from tests.sheets.test_other_scripts import named

DAY = date(2031, 5, 20)
LEAST_PT = 24.0
"""Side of a target by Web Content Accessibility Guidelines 2.2, success criterion 2.5.8."""


def written(kind: str, out: Path) -> PdfReader:
    style = SheetStyle(printed_on=DAY, fillable=True)
    write_sheet(kind, [released(demo_case("MARQ"))], out, style)
    return PdfReader(out)


def fonts_of(resources: Any) -> list[Any]:
    return [font.get_object() for font in resources.get_object().get("/Font", {}).values()]


def file_of(font: Any) -> Any:
    font = font.get("/DescendantFonts", [font])[0].get_object()
    return font.get("/FontDescriptor", {}).get_object().get("/FontFile2")


@pytest.mark.parametrize("kind", ["field", "bench", "build"])
def test_every_font_of_page_and_field_is_embedded(kind: str, tmp_path: Path) -> None:
    reader = written(kind, tmp_path / "a.pdf")
    root: Any = reader.root_object
    fonts = fonts_of(root["/AcroForm"]["/DR"])
    assert len(fonts) == 1
    for page in reader.pages:
        fonts += fonts_of(page["/Resources"])
        for link in page.get("/Annots", ()):
            look = link.get_object()["/AP"]["/N"]
            streams = look.values() if link.get_object()["/FT"] == "/Btn" else [look]
            for stream in streams:
                fonts += fonts_of(stream.get_object()["/Resources"])
    assert all(file_of(font) is not None for font in fonts)


def test_letters_typed_into_a_field_have_their_glyphs(tmp_path: Path) -> None:
    written("field", tmp_path / "a.pdf")
    words = "Grüße, Çelik: 4,8 V ±0,1°"
    fill_in_viewer(tmp_path / "a.pdf", tmp_path / "b.pdf", {"MARQ Pilot": words})
    flatten(tmp_path / "b.pdf", tmp_path / "c.pdf")
    assert words in " ".join(text_of(tmp_path / "c.pdf"))


def test_a_finger_meets_every_box_and_the_tabulator_goes_by_rows(tmp_path: Path) -> None:
    for kind in ("field", "bench"):
        for page in written(kind, tmp_path / "a.pdf").pages:
            fields: list[Any] = [link.get_object() for link in page.get("/Annots", ())]
            seen = [field for field in fields if not field["/F"] & 2]
            for field in seen:
                left, bottom, right, top = (float(edge) for edge in field["/Rect"])
                assert min(right - left, top - bottom) >= LEAST_PT - 0.01, field["/T"]
            assert not seen or str(page["/Tabs"]) == "/R"


def test_the_file_says_of_which_revision_and_day_it_is(tmp_path: Path) -> None:
    case = released(demo_case("MARQ"))
    for kind in SHEETS:
        write_sheet(kind, [case], tmp_path / "a.pdf", SheetStyle(printed_on=DAY))
        info: Any = PdfReader(tmp_path / "a.pdf").metadata
        assert info.creation_date.date() == case.survey.conditions.today
        assert info["/Keywords"] == f"revision MARQ {case.revision}"


@all_cases("kind", SHEETS)
def test_the_same_records_give_the_same_bytes(kind: str, tmp_path: Path) -> None:
    case = released(demo_case("MARQ"))
    for name in ("a.pdf", "b.pdf"):
        write_sheet(kind, [case], tmp_path / name, SheetStyle(printed_on=DAY, fillable=True))
    assert (tmp_path / "a.pdf").read_bytes() == (tmp_path / "b.pdf").read_bytes()


@pytest.mark.parametrize("kind", ["field", "bench"])
def test_fields_follow_each_other_as_the_eye_goes(kind: str, tmp_path: Path) -> None:
    for page in written(kind, tmp_path / "a.pdf").pages:
        tops: list[float] = []
        for link in page.get("/Annots", ()):
            field: Any = link.get_object()
            if not field["/F"] & 2:
                tops.append(float(field["/Rect"][3]))
        # A viewer that goes by the list of fields does not jump back up by more than a row.
        assert all(later <= earlier + LEAST_PT for earlier, later in pairwise(tops))


@pytest.mark.parametrize(
    ("name", "script"),
    [
        ("طائرة", "Arabic"),
        ("מטוס", "Hebrew"),
        ("विमान", "Devanagari"),
        ("เครื่องบิน", "Thai"),
        ("বিমান", "Bengali"),
    ],
)
def test_letters_that_must_be_joined_are_refused_by_name(name: str, script: str, tmp_path: Path) -> None:
    with pytest.raises(BadInput, match=f"{script}.*{name}"):
        write_sheet("field", [named(name)], tmp_path / "a.pdf", SheetStyle())
    assert not (tmp_path / "a.pdf").exists()
