"""Labels: inside their sheet's own measures, and QR codes that another library reads."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pypdfium2
import pytest
import zxingcpp

from hangar.base.errors import BadInput
from hangar.sheets import SheetStyle, write_sheet
from hangar.sheets.label_grid import grid_for, label_grids
from hangar.sheets.labels import labels_of
from hangar.sheets.style import PAPERS_MM
from tests.sheets.cases import crowded_case, demo_case, demo_cases
from tests.sheets.reading import text_boxes

STYLES = [SheetStyle(paper=paper) for paper in PAPERS_MM] + [
    SheetStyle(paper=grid.paper, label_grid=name) for name, grid in label_grids().items()
]


def codes_on(path: Path, scale: float = 4.0) -> Counter[str]:
    found: Counter[str] = Counter()
    document = pypdfium2.PdfDocument(path)
    for page in document:
        found.update(code.text for code in zxingcpp.read_barcodes(page.render(scale=scale).to_pil()))
    document.close()
    return found


@pytest.mark.parametrize("style", STYLES, ids=lambda style: f"{style.paper}{style.label_grid}")
def test_every_code_is_read_and_holds_the_tag_alone(style: SheetStyle, tmp_path: Path) -> None:
    write_sheet("labels", demo_cases(), tmp_path / "labels.pdf", style)
    wanted = Counter(label.tag for label in labels_of(demo_cases()) if not label.flag)
    assert codes_on(tmp_path / "labels.pdf") == wanted


@pytest.mark.parametrize("kind", ["field", "bench", "build", "passport"])
def test_the_code_in_the_head_of_a_sheet_holds_the_aircraft(kind: str, tmp_path: Path) -> None:
    write_sheet(kind, [demo_case("SISK")], tmp_path / "sheet.pdf", SheetStyle())
    assert set(codes_on(tmp_path / "sheet.pdf")) == {"SISK"}


@pytest.mark.parametrize("style", STYLES, ids=lambda style: f"{style.paper}{style.label_grid}")
@pytest.mark.parametrize("cases", [demo_cases(), (crowded_case(),)], ids=["demo", "crowded"])
def test_words_stay_inside_their_label(style: SheetStyle, cases: tuple[object, ...], tmp_path: Path) -> None:
    write_sheet("labels", cases, tmp_path / "labels.pdf", style)  # type: ignore[arg-type]
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
    with pytest.raises(BadInput, match="'9x9' is no label sheet; allowed is 3x7, 3x8, 5x13, 3x10"):
        write_sheet("labels", demo_cases(), tmp_path / "x.pdf", SheetStyle(label_grid="9x9"))
    assert list(tmp_path.iterdir()) == []
