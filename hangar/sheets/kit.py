"""A small layout kit on a PDF canvas: headings, tables, tick lists and boxes to fill, top down."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cache, lru_cache
from pathlib import Path
from typing import Any

from reportlab.lib.utils import simpleSplit
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

from hangar.base.errors import StoreFault
from hangar.base.places import resources_dir
from hangar.sheets.style import MARGIN_MM, MM, SheetStyle

BODY, BOLD = "HangarSans", "HangarSans-Bold"
SMALLEST_PT = 9.0
LEADING, TIGHT = 1.22, 1.12
_PAD_MM = 0.9
_LEAST_PART_MM, _PAGE_ROOM_MM = 30.0, 180.0


@dataclass(frozen=True, slots=True)
class Box:
    """A cell that somebody fills in by hand; ``tick`` draws a small square instead of a field."""

    tick: bool = False


FILL, TICK = Box(), Box(tick=True)
Cell = str | Box | None
"""What a table cell holds; None is a value nobody knows and prints as a box to fill."""


@cache
def register_fonts() -> None:
    """Make the embedded fonts known to the PDF library."""
    folder = resources_dir() / "fonts"
    pdfmetrics.registerFont(TTFont(BODY, str(folder / "DejaVuSansCondensed.ttf")))
    pdfmetrics.registerFont(TTFont(BOLD, str(folder / "DejaVuSansCondensed-Bold.ttf")))


@lru_cache(maxsize=20000)
def wrapped(text: str, font: str, size_pt: float, width_mm: float) -> tuple[str, ...]:
    """The text broken into lines that fit the width; a longer word is broken inside."""
    limit = width_mm * MM
    lines: list[str] = []
    for line in simpleSplit(text, font, size_pt, limit):
        while pdfmetrics.stringWidth(line, font, size_pt) > limit and len(line) > 1:
            cut = len(line) - 1
            while cut > 1 and pdfmetrics.stringWidth(line[:cut], font, size_pt) > limit:
                cut -= 1
            lines.append(line[:cut])
            line = line[cut:]
        lines.append(line)
    return tuple(lines) or ("",)


class Sheet:
    """Pages of one PDF, written from the top down; ``y_mm`` is measured from the top edge."""

    def __init__(self, canvas: Canvas, style: SheetStyle) -> None:
        self.canvas = canvas
        self.style = style
        self.page_width_mm, self.page_height_mm = style.size_mm
        self.left_mm, self.right_mm = MARGIN_MM, self.page_width_mm - MARGIN_MM
        self.y_mm = MARGIN_MM
        self.foot: Callable[[Sheet], float] | None = None
        self.running_head = ""
        self._foot_top_mm = self.page_height_mm - MARGIN_MM
        self.page = 0
        self.tight = False

    def line_mm(self, size_pt: float = SMALLEST_PT) -> float:
        """Height of one line of text."""
        return size_pt * (TIGHT if self.tight else LEADING) / MM

    @property
    def width_mm(self) -> float:
        """Width between the margins."""
        return self.right_mm - self.left_mm

    @property
    def room_mm(self) -> float:
        """Height left above the foot."""
        return self._foot_top_mm - self.y_mm

    def begin(
        self, bookmark: str, running_head: str, foot: Callable[[Sheet], float], *, tight: bool = False
    ) -> None:
        """Start a fresh sheet on a page of its own, with an outline entry; ``tight`` saves height."""
        self.end()
        self.tight = tight
        self.running_head, self.foot, self.page = running_head, foot, 1
        self.y_mm = MARGIN_MM
        self._foot_top_mm = foot(self)
        key = f"sheet-{self.canvas.getPageNumber()}"
        self.canvas.bookmarkPage(key)
        self.canvas.addOutlineEntry(bookmark, key, 0)

    def end(self) -> None:
        """Close the page that is open."""
        if self.page:
            self.canvas.showPage()
            self.page = 0

    def need(self, height_mm: float) -> None:
        """Go to a fresh page when less than that height is left."""
        if self.room_mm >= height_mm or self.foot is None:
            return
        self.canvas.showPage()
        self.page += 1
        self.y_mm = MARGIN_MM
        self._foot_top_mm = self.foot(self)
        self.write(f"{self.running_head}, page {self.page}", bold=True)
        self.gap(1.5)

    def gap(self, height_mm: float) -> None:
        """Leave white space."""
        self.y_mm += height_mm

    def put(self, text: str, x_mm: float, y_mm: float, size_pt: float = SMALLEST_PT, *, bold: bool = False,
            align: str = "left", white: bool = False) -> None:  # fmt: skip
        """Draw one line with its base line at ``y_mm`` from the top."""
        font = BOLD if bold else BODY
        self.canvas.setFont(font, size_pt)
        self.canvas.setFillGray(1.0 if white else 0.0)
        x_pt, y_pt = x_mm * MM, (self.page_height_mm - y_mm) * MM
        draw = {
            "left": self.canvas.drawString,
            "right": self.canvas.drawRightString,
            "middle": self.canvas.drawCentredString,
        }[align]
        draw(x_pt, y_pt, text)
        self.canvas.setFillGray(0.0)

    def rect(self, x_mm: float, y_mm: float, width_mm: float, height_mm: float, *,
             line_pt: float = 0.6, fill_gray: float | None = None) -> None:  # fmt: skip
        """A rectangle whose upper left corner is given."""
        self.canvas.setLineWidth(line_pt)
        if fill_gray is not None:
            self.canvas.setFillGray(fill_gray)
        self.canvas.rect(
            x_mm * MM,
            (self.page_height_mm - y_mm - height_mm) * MM,
            width_mm * MM,
            height_mm * MM,
            stroke=int(line_pt > 0),
            fill=int(fill_gray is not None),
        )
        self.canvas.setFillGray(0.0)

    def line(self, x1_mm: float, y1_mm: float, x2_mm: float, y2_mm: float, line_pt: float = 0.5) -> None:
        """A straight line."""
        self.canvas.setLineWidth(line_pt)
        self.canvas.line(
            x1_mm * MM, (self.page_height_mm - y1_mm) * MM, x2_mm * MM, (self.page_height_mm - y2_mm) * MM
        )

    def write(
        self, text: str, size_pt: float = SMALLEST_PT, *, bold: bool = False, indent_mm: float = 0.0
    ) -> None:
        """A paragraph over the whole width."""
        font = BOLD if bold else BODY
        for line in wrapped(text, font, size_pt, self.width_mm - indent_mm):
            self.need(self.line_mm(size_pt))
            self.y_mm += self.line_mm(size_pt)
            self.put(
                line, self.left_mm + indent_mm, self.y_mm - 0.25 * self.line_mm(size_pt), size_pt, bold=bold
            )

    def heading(self, text: str, keep_mm: float = 14.0) -> None:
        """A section heading with a rule under it, kept with what follows."""
        self.need(keep_mm)
        self.gap(0.8 if self.tight else 2.0)
        self.write(text, 9.5 if self.tight else 10.5, bold=True)
        self.line(self.left_mm, self.y_mm + 0.2, self.right_mm, self.y_mm + 0.2, 0.9)
        self.gap(0.6 if self.tight else 1.0)

    def banner(self, text: str, *, dark: bool) -> None:
        """A line across the page in words: dark for what forbids, framed for what informs."""
        size_pt = 12.0
        lines = wrapped(text, BOLD, size_pt, self.width_mm - 6)
        height = len(lines) * self.line_mm(size_pt) + 2.4
        self.need(height)
        self.rect(
            self.left_mm, self.y_mm, self.width_mm, height, line_pt=1.0, fill_gray=0.0 if dark else None
        )
        for number, line in enumerate(lines, start=1):
            base = self.y_mm + 1.2 + number * self.line_mm(size_pt) - 0.25 * self.line_mm(size_pt)
            self.put(line, self.left_mm + 3, base, size_pt, bold=True, white=dark)
        self.y_mm += height

    def table(self, heads: Sequence[str], shares: Sequence[float], rows: Sequence[Sequence[Cell]],
              size_pt: float = SMALLEST_PT) -> None:  # fmt: skip
        """A ruled table; ``shares`` divide the width, heads come again on a fresh page."""
        unit = self.width_mm / sum(shares)
        widths = [share * unit for share in shares]
        if any(heads):
            self.need(2 * self.line_mm(size_pt) + 4)
            self._row(list(heads), widths, size_pt, head=True)
        for row in rows:
            height = self._row_height(row, widths, size_pt)
            if self.room_mm < height:
                self.need(height)
                if any(heads):
                    self._row(list(heads), widths, size_pt, head=True)
            self._row(row, widths, size_pt)

    def _row_height(
        self, row: Sequence[Cell], widths: Sequence[float], size_pt: float, *, bold: bool = False
    ) -> float:
        font = BOLD if bold else BODY
        texts = [(cell, width) for cell, width in zip(row, widths, strict=True) if isinstance(cell, str)]
        most = max(
            (len(wrapped(cell, font, size_pt, width - 2 * _PAD_MM)) for cell, width in texts), default=1
        )
        return most * self.line_mm(size_pt) + (0.6 if self.tight else 1.0)

    def _row(
        self, row: Sequence[Cell], widths: Sequence[float], size_pt: float, *, head: bool = False
    ) -> None:
        height = self._row_height(row, widths, size_pt, bold=head)
        x_mm = self.left_mm
        for cell, width in zip(row, widths, strict=True):
            self.rect(x_mm, self.y_mm, width, height, line_pt=0.35, fill_gray=0.88 if head else None)
            self._cell(cell, x_mm, width, height, size_pt, bold=head)
            x_mm += width
        self.y_mm += height

    def _cell(
        self, cell: Cell, x_mm: float, width_mm: float, height_mm: float, size_pt: float, *, bold: bool
    ) -> None:
        if cell is None or isinstance(cell, Box):
            if isinstance(cell, Box) and cell.tick:
                self.tick_box(x_mm + (width_mm - 3.4) / 2, self.y_mm + (height_mm - 3.4) / 2)
            return
        font = BOLD if bold else BODY
        for number, line in enumerate(wrapped(cell, font, size_pt, width_mm - 2 * _PAD_MM), start=1):
            base = (
                self.y_mm
                + (0.3 if self.tight else 0.5)
                + number * self.line_mm(size_pt)
                - 0.28 * self.line_mm(size_pt)
            )
            self.put(line, x_mm + _PAD_MM, base, size_pt, bold=bold)

    def tick_box(self, x_mm: float, y_mm: float, side_mm: float = 3.4) -> None:
        """An empty square to tick."""
        self.rect(x_mm, y_mm, side_mm, side_mm, line_pt=0.8)

    def ticks(self, items: Sequence[str], columns: int = 2, size_pt: float = SMALLEST_PT) -> None:
        """Lines with a square before each, filled column by column and kept level."""
        gutter = 4.0
        width = (self.width_mm - gutter * (columns - 1)) / columns
        blocks = [wrapped(item, BODY, size_pt, width - 5.2) for item in items]
        heights = [max(len(block) * self.line_mm(size_pt), 3.6) + 0.7 for block in blocks]
        for column in _level_columns(heights, self.room_mm, columns):
            self.need(max(sum(heights[i] for i in part) for part in column) if any(column) else 0)
            top = self.y_mm
            for place, part in enumerate(column):
                y_mm = top
                for index in part:
                    self._tick_item(blocks[index], self.left_mm + place * (width + gutter), y_mm, size_pt)
                    y_mm += heights[index]
                self.y_mm = max(self.y_mm, y_mm)

    def _tick_item(self, lines: Sequence[str], x_mm: float, y_mm: float, size_pt: float) -> None:
        self.tick_box(x_mm, y_mm + 0.25)
        for number, line in enumerate(lines, start=1):
            self.put(
                line,
                x_mm + 5.0,
                y_mm + number * self.line_mm(size_pt) - 0.28 * self.line_mm(size_pt),
                size_pt,
            )

    def blanks(self, names: Sequence[str], columns: int = 3) -> None:
        """Names with a line to write on."""
        width = self.width_mm / columns
        for start in range(0, len(names), columns):
            step = 6.5 if self.tight else 8.0
            self.need(step + 1)
            self.y_mm += step
            for place, name in enumerate(names[start : start + columns]):
                x_mm = self.left_mm + place * width
                self.put(name, x_mm, self.y_mm)
                used = pdfmetrics.stringWidth(name, BODY, SMALLEST_PT) / MM
                self.line(x_mm + used + 2, self.y_mm + 0.6, x_mm + width - 3, self.y_mm + 0.6)


def _level_columns(heights: Sequence[float], room_mm: float, columns: int) -> list[list[list[int]]]:
    """Item numbers by page part and column, so that the columns of a part end about level."""
    parts: list[list[list[int]]] = []
    rest = list(range(len(heights)))
    while rest:
        room = room_mm if not parts and room_mm > _LEAST_PART_MM else _PAGE_ROOM_MM
        count = len(rest)
        part = _share_out(rest[:count], heights, columns)
        while count > 1 and max(sum(heights[index] for index in column) for column in part) > room:
            count -= 1
            part = _share_out(rest[:count], heights, columns)
        parts.append(part)
        rest = rest[count:]
    return parts


def _share_out(items: Sequence[int], heights: Sequence[float], columns: int) -> list[list[int]]:
    level = sum(heights[index] for index in items) / columns
    shared: list[list[int]] = [[]]
    used = 0.0
    for index in items:
        if used and used + heights[index] / 2 > level and len(shared) < columns:
            shared.append([])
            used = 0.0
        shared[-1].append(index)
        used += heights[index]
    return shared


def write_pdf(out: Path, title: str, style: SheetStyle, draw: Callable[[Sheet], Any]) -> None:
    """Draw sheets into a PDF that appears whole or not at all.

    Raises: StoreFault saying why the file could not be written.
    """
    register_fonts()
    try:
        handle, name = tempfile.mkstemp(suffix=".pdf.part", dir=out.parent)
    except OSError as fault:
        raise StoreFault(f"{out} cannot be written: {fault.strerror}.") from fault
    part = Path(name)
    try:
        with os.fdopen(handle, "wb") as stream:
            canvas = Canvas(
                stream,
                pagesize=tuple(side * MM for side in style.size_mm),
                initialFontName=BODY,
                lang="en",
                invariant=True,
            )
            canvas.setTitle(title)
            canvas.setAuthor("Hangar")
            canvas.setSubject("An aid; the maker's manual, club rules and law govern")
            sheet = Sheet(canvas, style)
            draw(sheet)
            sheet.end()
            canvas.save()
            stream.flush()
            os.fsync(stream.fileno())
        part.replace(out)
    except OSError as fault:
        raise StoreFault(f"{out} was not written: {fault.strerror}.") from fault
    finally:
        part.unlink(missing_ok=True)
