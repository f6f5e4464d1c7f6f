"""What holds for every kind of sheet: margins, no words over words, embedded fonts, plain words."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

import pypdfium2
import pytest
from pypdf import PdfReader
from pypdf.generic import ContentStream

from hangar.base.errors import BadInput
from hangar.sheets import SHEETS, SheetStyle, write_sheet
from hangar.sheets.case import SheetCase
from hangar.sheets.pdf_file import write_pdf
from hangar.sheets.style import MARGIN_MM
from hangar.sheets.texts import cautions, footer
from tests.sheets.cases import crowded_case, demo_case, demo_cases, empty_case
from tests.sheets.reading import TextBox, drawn_bounds, page_sizes_mm, text_boxes, text_of

WHOLE_FLEET = [name for name, kind in SHEETS.items() if kind.drawer.whole_fleet]
HEADED = ("build", "bench", "passport", "cuts", "working")
LEAST_LINE_PT = 0.5
INK_MM, OVERLAP_MM2 = 0.4, 0.05
"""How far ink may reach over the margin (the reader adds a line width), and what two words may share."""


FLEETS: dict[str, Callable[[], list[list[SheetCase]]]] = {
    "demo": lambda: [list(demo_cases())],
    "two": lambda: [[demo_case("MARQ"), demo_case("MER60")]],
    "each alone": lambda: [[case] for case in demo_cases()],
    "empty": lambda: [[empty_case()]],
    "crowded": lambda: [[crowded_case()]],
}
"""Fleets that sheets are drawn of, made when a test draws them."""
CASES = [
    (kind, paper, name)
    for kind in SHEETS
    for paper in ("A4", "Letter")
    for name in FLEETS
    if (kind in WHOLE_FLEET or name != "each alone")
    # The workings of the whole fleet are long: on the other paper those of two will do.
    and (name != "two" if (kind, paper) != ("working", "Letter") else name != "demo")
]


def overlapping(boxes: Sequence[TextBox]) -> list[tuple[str, str]]:
    pages: dict[int, list[TextBox]] = defaultdict(list)
    for box in boxes:
        pages[box.page].append(box)
    found = []
    for page in pages.values():
        ordered = sorted(page, key=lambda box: box.bottom)
        for at, box in enumerate(ordered):
            for other in ordered[at + 1 :]:
                if other.bottom >= box.top:
                    break
                if box.overlap_mm2(other) > OVERLAP_MM2:
                    found.append((box.text, other.text))
    return found


def outside(path: Path) -> list[Any]:
    width, height = page_sizes_mm(path)[0]
    least = MARGIN_MM - INK_MM
    return [
        (page, left, bottom, right, top)
        for page, left, bottom, right, top in drawn_bounds(path)
        if left < least or bottom < least or right > width - least or top > height - least
    ]


def thinnest_line_pt(path: Path) -> float:
    """The least width that a line is drawn with; paper in the sun swallows what is finer."""
    reader = PdfReader(path)
    operations = [
        operation
        for page in reader.pages
        for operation in ContentStream(page.get_contents(), reader).operations
    ]
    return min((float(width[0]) for width, operator in operations if operator == b"w"), default=LEAST_LINE_PT)


def headings_of(boxes: Sequence[TextBox]) -> list[TextBox]:
    return [box for box in boxes if box.size_pt == 10.5]


def lonely_headings(boxes: Sequence[TextBox]) -> list[tuple[str, int]]:
    """Headings at the end of a page with nothing below but its foot."""
    foot_words = {footer(), *(word for caution in cautions() for word in caution.text.split())}
    lonely = []
    for heading in headings_of(boxes):
        below = [
            box
            for box in boxes
            if box.page == heading.page
            and box.top <= heading.bottom + 0.3
            and not set(box.text.split()) <= foot_words
            and box.text != footer()
        ]
        if not below:
            lonely.append((heading.text, heading.page + 1))
    return lonely


@pytest.mark.parametrize(("kind", "paper", "name"), CASES)
def test_nothing_leaves_the_margins_no_words_lie_over_others_and_no_line_is_thinner_than_half_a_point(
    kind: str, paper: str, name: str, tmp_path: Path
) -> None:
    for fleet in FLEETS[name]():
        out = tmp_path / f"{fleet[0].aircraft.code}.pdf"
        write_sheet(kind, fleet, out, SheetStyle(paper=paper))
        boxes = text_boxes(out)
        assert boxes, out.name
        assert outside(out) == [], out.name
        assert overlapping(boxes) == [], out.name
        assert min(box.size_pt for box in boxes) >= 9.0, out.name
        words = " ".join(text_of(out))
        assert not re.search(r"(?i:safe to fly|flutter.free)|\bNone\b|\bnan\b", words), out.name
        assert thinnest_line_pt(out) >= LEAST_LINE_PT, out.name
        if kind in HEADED:
            assert lonely_headings(boxes) == [], out.name
            assert len(headings_of(boxes)) > {"demo": 10, "crowded": 5}.get(name, 0), out.name


def test_the_check_for_overlaps_sees_words_printed_over_others(tmp_path: Path) -> None:
    def draw(sheet: Any) -> None:
        sheet.begin("x", "x", lambda page: page.page_height_mm - 20)
        sheet.put("first words", 30, 30)
        sheet.put("other words", 32, 31)

    write_pdf(tmp_path / "x.pdf", "x", SheetStyle(), draw)
    assert overlapping(text_boxes(tmp_path / "x.pdf"))


@pytest.mark.parametrize("kind", SHEETS)
def test_every_font_is_embedded_and_title_language_and_bookmarks_are_set(kind: str, tmp_path: Path) -> None:
    out = tmp_path / "sheet.pdf"
    cases = demo_cases()[:3]
    write_sheet(kind, cases, out, SheetStyle())
    reader = PdfReader(out)
    for page in reader.pages:
        resources: Any = page["/Resources"]
        fonts = [font.get_object() for font in resources.get("/Font", {}).values()]
        assert all("/FontFile2" in font["/FontDescriptor"] for font in fonts)
    assert reader.metadata is not None
    assert str(reader.metadata.title).startswith(SHEETS[kind].title)
    assert str(reader.root_object["/Lang"]) == "en"
    sheets = 1 if kind in WHOLE_FLEET else len(cases)
    assert len([entry for entry in reader.outline if not isinstance(entry, list)]) == sheets


@pytest.mark.parametrize("kind", [kind for kind in SHEETS if kind != "labels"])
def test_every_page_ends_with_who_governs(kind: str, tmp_path: Path) -> None:
    write_sheet(kind, demo_cases()[:2], tmp_path / "sheet.pdf", SheetStyle())
    assert all(footer() in page for page in text_of(tmp_path / "sheet.pdf"))


@pytest.mark.parametrize("kind", SHEETS)
def test_sheets_are_black_and_white(kind: str, tmp_path: Path) -> None:
    write_sheet(kind, demo_cases()[:1], tmp_path / "sheet.pdf", SheetStyle())
    document = pypdfium2.PdfDocument(tmp_path / "sheet.pdf")
    image = document[0].render(scale=1).to_pil().convert("RGB")
    document.close()
    colours = image.getcolors(maxcolors=1 << 20)
    assert colours is not None
    assert all(red == green == blue for _, (red, green, blue) in colours)


def test_the_same_sheet_printed_twice_gives_the_same_bytes(tmp_path: Path) -> None:
    for kind in SHEETS:
        for name in ("one.pdf", "two.pdf"):
            write_sheet(kind, demo_cases()[:1], tmp_path / name, SheetStyle(printed_on=demo_day()))
        assert (tmp_path / "one.pdf").read_bytes() == (tmp_path / "two.pdf").read_bytes(), kind


def demo_day() -> Any:
    return demo_cases()[0].survey.conditions.today


def test_an_unknown_kind_or_no_aircraft_is_told_in_a_sentence(tmp_path: Path) -> None:
    with pytest.raises(BadInput, match="'poster' is no sheet; allowed is field, bench, build"):
        write_sheet("poster", demo_cases(), tmp_path / "x.pdf", SheetStyle())
    with pytest.raises(BadInput, match="no aircraft"):
        write_sheet("field", [], tmp_path / "x.pdf", SheetStyle())


@pytest.mark.parametrize("kind", [kind for kind in SHEETS if kind != "labels"])
@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_fields_lie_inside_the_margins_and_not_over_each_other(kind: str, paper: str, tmp_path: Path) -> None:
    out = tmp_path / "sheet.pdf"
    write_sheet(kind, [crowded_case(), empty_case()], out, SheetStyle(paper=paper, fillable=True))
    assert outside(out) == []
    for page in PdfReader(out).pages:
        annotations: Any = page.get("/Annots", [])
        boxes = [[float(edge) for edge in annotation.get_object()["/Rect"]] for annotation in annotations]
        width, height = float(page.mediabox.width), float(page.mediabox.height)
        least = MARGIN_MM * 72 / 25.4 - 1.0
        for left, bottom, right, top in boxes:
            assert least <= left < right <= width - least
            assert least <= bottom < top <= height - least
        boxes.sort()
        for at, box in enumerate(boxes):
            for other in boxes[at + 1 :]:
                if other[0] >= box[2]:
                    break
                assert min(box[3], other[3]) - max(box[1], other[1]) <= 0.1, (box, other)


def test_no_name_of_a_position_is_cut_short_on_the_build_sheet(tmp_path: Path) -> None:
    write_sheet("build", [crowded_case()], tmp_path / "sheet.pdf", SheetStyle())
    letters = re.sub(r"[\s-]", "", " ".join(text_of(tmp_path / "sheet.pdf")))
    for number, fit in enumerate(crowded_case().aircraft.fits, start=1):
        assert re.sub(r"[\s-]", "", f"{number}{fit.position.name}arm20mm,horn25mm") in letters
