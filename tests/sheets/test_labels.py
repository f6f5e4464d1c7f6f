"""Labels: inside their sheet's own measures, and QR codes that another library reads."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

import pypdfium2
import pytest
import zxingcpp
from reportlab.graphics.barcode.qrencoder import QRBitBuffer

from hangar.base.errors import BadInput
from hangar.sheets import SheetStyle, write_sheet
from hangar.sheets.case import SheetCase
from hangar.sheets.kit import Sheet
from hangar.sheets.label_fit import LEAST_PT, Label, fit
from hangar.sheets.label_grid import grid_for, label_grids
from hangar.sheets.labels import labels_of
from hangar.sheets.pdf_file import write_pdf
from hangar.sheets.qr_code import draw_qr, segments
from hangar.sheets.style import LABEL_PARTS, PAPERS_MM
from tests.sheets.cases import crowded_case, demo_case, demo_cases
from tests.sheets.reading import text_boxes, text_of

FLEETS: dict[str, Callable[[], tuple[SheetCase, ...]]] = {
    "demo": demo_cases,
    "crowded": lambda: (crowded_case(),),
}
STYLES = [SheetStyle(paper=paper) for paper in PAPERS_MM] + [
    SheetStyle(paper=grid.paper, label_grid=name) for name, grid in label_grids().items()
]


_PLAIN: dict[str, Any] = {
    "formats": zxingcpp.BarcodeFormat.QRCode,
    "try_rotate": False,
    "try_downscale": False,
    "try_invert": False,
}
"""The codes lie straight, black on white; looking for others takes most of the time."""


def codes_on(path: Path, scale: float = 4.0) -> Counter[str]:
    found: Counter[str] = Counter()
    document = pypdfium2.PdfDocument(path)
    for page in document:
        picture = page.render(scale=scale, grayscale=True).to_pil()
        found.update(code.text for code in zxingcpp.read_barcodes(picture, **_PLAIN))
    document.close()
    return found


@pytest.mark.parametrize("tag", ["B021", "Größe-7", "Ťůň 4", "Пакет 12", "電池1", "ß" * 40])
def test_a_code_holds_any_tag_as_utf_8_and_says_so(tag: str, tmp_path: Path) -> None:
    def draw(sheet: Sheet) -> None:
        sheet.begin("", "", lambda _page: 290.0)
        draw_qr(sheet, tag, 20.0, 20.0, 60.0)

    write_pdf(tmp_path / "a.pdf", "Code", SheetStyle(), draw)
    with pypdfium2.PdfDocument(tmp_path / "a.pdf") as document:
        (code,) = zxingcpp.read_barcodes(document[0].render(scale=4.0, grayscale=True).to_pil(), **_PLAIN)
    assert code.text == tag
    if not tag.isascii():
        assert code.bytes == tag.encode("utf-8")
        marker = next(iter(segments(tag)))
        bits = QRBitBuffer()
        marker.write(bits, 1)
        # ISO/IEC 18004: mode 0111 names a character set, and UTF-8 is number 26.
        assert "".join("1" if bits.get(at) else "0" for at in range(12)) == "0111" + "00011010"


def that_fit(style: SheetStyle, cases: Sequence[SheetCase]) -> SheetStyle:
    """The style with only those parts chosen whose labels all fit its sheet."""
    grid = grid_for(style)
    parts = tuple(
        part for part in LABEL_PARTS if all(fit(label, grid) for label in labels_of(cases, (part,)))
    )
    return replace(style, label_parts=parts) if parts else style


@pytest.mark.parametrize("style", STYLES, ids=lambda style: f"{style.paper}{style.label_grid}")
def test_every_code_is_read_and_holds_the_tag_alone(style: SheetStyle, tmp_path: Path) -> None:
    chosen = that_fit(style, demo_cases())
    write_sheet("labels", demo_cases(), tmp_path / "labels.pdf", chosen)
    wanted = Counter(label.tag for label in labels_of(demo_cases(), chosen.label_parts) if not label.flag)
    assert codes_on(tmp_path / "labels.pdf") == wanted


@pytest.mark.parametrize("style", STYLES, ids=lambda style: f"{style.paper}{style.label_grid}")
@pytest.mark.parametrize("fleet", FLEETS)
def test_no_word_of_a_label_is_lost(style: SheetStyle, fleet: str, tmp_path: Path) -> None:
    cases = FLEETS[fleet]()
    chosen = that_fit(style, cases)
    labels = labels_of(cases, chosen.label_parts)
    if any(fit(label, grid_for(chosen)) is None for label in labels):
        with pytest.raises(BadInput, match="is too small"):
            write_sheet("labels", cases, tmp_path / "labels.pdf", chosen)
        return
    write_sheet("labels", cases, tmp_path / "labels.pdf", chosen)
    printed = Counter(re.sub(r"[\s·]", "", " ".join(text_of(tmp_path / "labels.pdf"))))
    wanted: Counter[str] = Counter()
    for label in labels:
        words = re.sub(r"[\s·]", "", label.tag + "".join(label.lines))
        wanted.update(words * (2 if label.flag else 1))
    assert printed == wanted


def test_a_label_too_small_for_its_words_is_told_before_anything_is_printed(tmp_path: Path) -> None:
    style = SheetStyle(label_grid="7x27")
    with pytest.raises(BadInput, match=r"25\.4 x 10 mm.*too small.*6 pt, for pack .* and \d+ more") as fault:
        write_sheet("labels", demo_cases(), tmp_path / "labels.pdf", style)
    assert "these sheets hold them: 3x7, 3x8, 5x13, 2x4" in str(fault.value)
    assert list(tmp_path.iterdir()) == []
    write_sheet("labels", demo_cases(), tmp_path / "labels.pdf", replace(style, label_parts=("lead",)))


def test_letters_shrink_to_the_least_size_and_no_further() -> None:
    small, large = label_grids()["5x13"], label_grids()["3x7"]
    label = Label(tag="B041", lines=("NEVER CHARGE: swollen", "LiPo 6S", "5000 mAh", "NIM7 DRIVE", "drive"))
    in_large, in_small = fit(label, large), fit(label, small)
    assert in_large is not None
    assert in_small is not None
    assert min(size for _, size, _ in in_small.lines) < min(size for _, size, _ in in_large.lines)
    assert min(size for _, size, _ in in_small.lines) >= LEAST_PT
    assert fit(replace(label, lines=("word " * 60,)), small) is None


@pytest.mark.parametrize("start", [1, 4, 21])
def test_a_part_used_sheet_begins_at_its_first_free_label(start: int, tmp_path: Path) -> None:
    style = SheetStyle(label_grid="3x7", label_start=start, label_parts=("pack",))
    write_sheet("labels", demo_cases(), tmp_path / "labels.pdf", style)
    grid = grid_for(style)
    x_mm, y_mm = grid.corner(start - 1)
    first = labels_of(demo_cases(), ("pack",))[0]
    boxes = [box for box in text_boxes(tmp_path / "labels.pdf") if box.page == 0]
    tag = next(box for box in boxes if box.text == first.tag)
    assert x_mm < tag.left < x_mm + grid.width_mm
    assert y_mm < 297 - tag.top < y_mm + grid.height_mm
    before = [grid.corner(number) for number in range(start - 1)]
    assert not [
        box for box in boxes for x, y in before
        if x < box.left < x + grid.width_mm and y < 297 - box.top < y + grid.height_mm
    ]  # fmt: skip
    count = len(labels_of(demo_cases(), ("pack",)))
    assert len(text_of(tmp_path / "labels.pdf")) == -(-(count + start - 1) // grid.count)


def test_a_first_label_that_is_not_on_the_sheet_is_refused(tmp_path: Path) -> None:
    for start in (0, 22):
        with pytest.raises(BadInput, match=f"first free label is {start}; the sheet has labels 1 to 21"):
            write_sheet(
                "labels", demo_cases(), tmp_path / "x.pdf", SheetStyle(label_grid="3x7", label_start=start)
            )
    with pytest.raises(BadInput, match="asked for wing; allowed is pack, servo, lead"):
        SheetStyle(label_parts=("wing",))


@pytest.mark.parametrize("kind", ["field", "bench", "build", "passport"])
def test_the_code_in_the_head_of_a_sheet_holds_aircraft_and_revision(kind: str, tmp_path: Path) -> None:
    case = demo_case("SISK")
    write_sheet(kind, [case], tmp_path / "sheet.pdf", SheetStyle())
    assert set(codes_on(tmp_path / "sheet.pdf")) == {f"SISK {case.revision}"}


@pytest.mark.parametrize("style", STYLES, ids=lambda style: f"{style.paper}{style.label_grid}")
@pytest.mark.parametrize("fleet", FLEETS)
def test_words_stay_inside_their_label(style: SheetStyle, fleet: str, tmp_path: Path) -> None:
    cases = FLEETS[fleet]()
    style = that_fit(style, cases)
    if len(style.label_parts) == len(LABEL_PARTS) and style.label_grid == "7x27":
        pytest.skip("nothing of this aircraft fits")
    write_sheet("labels", cases, tmp_path / "labels.pdf", style)
    grid = grid_for(style)
    height = PAPERS_MM[style.paper][1]
    for box in text_boxes(tmp_path / "labels.pdf"):
        corners = [grid.corner(number) for number in range(grid.count)]
        assert any(
            x + 0.5 <= box.left
            and box.right <= x + grid.width_mm - 0.5
            and y + 0.5 <= height - box.top
            and height - box.bottom <= y + grid.height_mm - 0.5
            for x, y in corners
        ), box


@pytest.mark.parametrize("name", label_grids())
def test_a_label_sheet_fits_its_paper_without_labels_over_labels(name: str) -> None:
    grid = label_grids()[name]
    width, height = PAPERS_MM[grid.paper]
    assert grid.step_x_mm >= grid.width_mm
    assert grid.step_y_mm >= grid.height_mm
    last_x, last_y = grid.corner(grid.count - 1)
    # Labels lie in the middle of the paper, as wide left as right, as high above as below.
    assert last_x + grid.width_mm + grid.left_mm == pytest.approx(width, abs=0.5)
    assert last_y + grid.height_mm + grid.top_mm == pytest.approx(height, abs=0.5)


def test_each_lead_gets_a_flag_for_either_end_and_each_part_one_label() -> None:
    case = demo_case("MARQ")
    labels = labels_of([case])
    flags = [label for label in labels if label.flag]
    assert len(flags) == 2 * sum(fit.lead is not None for fit in case.aircraft.fits)
    assert Counter(label.tag for label in flags)["7 ELE-R / 0204"] == 2
    assert [label.tag for label in labels if not label.flag] == [
        "G021", "B021", "0201", "0203", "0207", "0205", "0206", "0202", "0208", "0204",
    ]  # fmt: skip


def test_a_label_sheet_of_other_paper_is_refused(tmp_path: Path) -> None:
    with pytest.raises(BadInput, match="label sheet 3x10 is Letter; the paper chosen is A4"):
        write_sheet("labels", demo_cases(), tmp_path / "x.pdf", SheetStyle(label_grid="3x10"))
    with pytest.raises(BadInput, match="'9x9' is no label sheet; allowed is 3x7, 3x8, 5x13, 3x10, 2x4"):
        write_sheet("labels", demo_cases(), tmp_path / "x.pdf", SheetStyle(label_grid="9x9"))
    assert list(tmp_path.iterdir()) == []
