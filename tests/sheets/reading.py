"""Reading printed sheets back with libraries that had no part in making them."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import pypdfium2
import pypdfium2.raw as raw

MM = 72 / 25.4


@dataclass(frozen=True)
class TextBox:
    """A run of text on a page in millimetres from the lower left corner, as the PDF draws it."""

    page: int
    text: str
    left: float
    bottom: float
    right: float
    top: float
    size_pt: float

    def overlap_mm2(self, other: TextBox) -> float:
        """Area that both cover."""
        width = min(self.right, other.right) - max(self.left, other.left)
        height = min(self.top, other.top) - max(self.bottom, other.bottom)
        return max(0.0, width) * max(0.0, height)


def text_boxes(path: Path) -> list[TextBox]:
    """Every text object of every page with the box of its ink."""
    boxes = []
    document = pypdfium2.PdfDocument(path)
    for number, page in enumerate(document):
        words = page.get_textpage()
        for thing in page.get_objects(filter=[raw.FPDF_PAGEOBJ_TEXT], textpage=words):
            left, bottom, right, top = (edge / MM for edge in thing.get_bounds())
            text = thing.extract().strip()
            if text and right > left:
                boxes.append(TextBox(number, text, left, bottom, right, top, thing.get_font_size()))
        words.close()
        page.close()
    document.close()
    return boxes


def drawn_bounds(path: Path) -> list[tuple[int, float, float, float, float]]:
    """Page and box of every object of every page, lines and rectangles included."""
    found = []
    document = pypdfium2.PdfDocument(path)
    for number, page in enumerate(document):
        for thing in page.get_objects():
            left, bottom, right, top = (edge / MM for edge in thing.get_bounds())
            found.append((number, left, bottom, right, top))
        page.close()
    document.close()
    return found


def text_of(path: Path) -> list[str]:
    """The words of each page in the order of reading, white space made single."""
    document = pypdfium2.PdfDocument(path)
    pages = []
    for page in document:
        words = page.get_textpage()
        pages.append(" ".join(words.get_text_bounded().split()))
        words.close()
        page.close()
    document.close()
    return pages


def page_sizes_mm(path: Path) -> list[tuple[float, float]]:
    """Width and height of each page."""
    document = pypdfium2.PdfDocument(path)
    sizes = [(page.get_width() / MM, page.get_height() / MM) for page in document]
    document.close()
    return sizes
