"""The pages of one PDF, written from the top down: fresh pages, headings, paragraphs, banners."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial

from reportlab.pdfgen.canvas import Canvas

from hangar.base.text import Arg, Text, text
from hangar.sheets.form_fields import FormFields
from hangar.sheets.no_canvas import NoCanvas
from hangar.sheets.style import MARGIN_MM, MM, SheetStyle
from hangar.sheets.wrapping import BODY, BOLD, NO_GLYPH, SMALLEST_PT, printable, wrapped

LEADING, TIGHT = 1.22, 1.12


_PAGE_WORDS_MM, _HATCH_MM = 32.0, 12.0
_BANNER_PT, _BANNER_PAD_MM = 12.0, 2.4
PAGE_ROOM_MM = 180.0
"""Less than any page holds; what is higher must be parted."""


def page_words(number: int, pages: int) -> Text:
    """Which page of how many."""
    return text("page {number} of {pages}", number=number, pages=pages)


class Page:
    """Where the next thing goes; ``y_mm`` is measured from the top edge."""

    def __init__(self, canvas: Canvas, style: SheetStyle) -> None:
        self.canvas = canvas
        self.style = style
        self.page_width_mm, self.page_height_mm = style.size_mm
        self.left_mm, self.right_mm = MARGIN_MM, self.page_width_mm - MARGIN_MM
        self.y_mm = MARGIN_MM
        self.foot: Callable[[Page], float] | None = None
        self.running_head: Arg = ""
        self._foot_top_mm = self.page_height_mm - MARGIN_MM
        self.page = 0
        self.tight = False
        self.answers = ""
        self.fields = FormFields(canvas) if style.fillable else None
        self.places: list[tuple[Arg, int]] = []
        self._headings: list[Arg] = []
        self._bookmarks = 0
        self._top_mm = MARGIN_MM
        self._lacks_signs = False
        self._counted: list[tuple[str, Callable[[int], None]]] = []

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
        self,
        bookmark: Arg,
        running_head: Arg,
        foot: Callable[[Page], float],
        *,
        tight: bool = False,
        answers: str = "",
    ) -> None:
        """Start a fresh sheet on a page of its own, with an outline entry.

        ``tight`` saves height; ``answers`` begins the names of the fields of a sheet to fill.
        """
        self.end()
        self.tight, self.answers = tight, answers
        self.running_head, self.foot, self.page = running_head, foot, 1
        self.y_mm = self._top_mm = MARGIN_MM
        self._foot_top_mm = self._top_of(foot)
        self.bookmark(bookmark)
        self.places.clear()

    def bookmark(self, argument: Arg, level: int = 0) -> None:
        """An outline entry that leads to this place; those of headings lie folded under their sheet."""
        self._bookmarks += 1
        key = f"place-{self._bookmarks}"
        self.canvas.bookmarkPage(key, fit="XYZ", left=0, top=(self.page_height_mm - self.y_mm + 4) * MM)
        self.canvas.addOutlineEntry(self.style.put(argument), key, level, closed=True)

    def end(self) -> None:
        """Close the page that is open."""
        if self.page:
            self.need(0.0)
            # A page of labels is laid out by places; it has no line to say it on.
            if self._lacks_signs and self.y_mm > self._top_mm:
                self.gap(2.0)
                self.write(text("{sign}: a sign that the letters of this sheet do not have.", sign=NO_GLYPH))
            self._lacks_signs = False
            self._close_page()
            self._put_counts(self.page)
            self.page = 0

    def put_when_counted(
        self, words_of: Callable[[int], Arg], x_mm: float, y_mm: float, size_pt: float = SMALLEST_PT, *,
        bold: bool = False, align: str = "left",
    ) -> None:  # fmt: skip
        """Draw one line that names how many pages the sheet has, which is known at its end only."""
        name = f"counted-{self._bookmarks}-{self.page}-{len(self._counted)}"
        self.canvas.doForm(name)
        self._counted.append(
            (
                name,
                lambda pages: self.put(
                    self.style.put(words_of(pages)), x_mm, y_mm, size_pt, bold=bold, align=align
                ),
            )
        )

    def _put_counts(self, pages: int) -> None:
        counted, self._counted = self._counted, []
        for name, draw in counted:
            self.canvas.beginForm(name)
            draw(pages)
            self.canvas.endForm()

    def _top_of(self, foot: Callable[[Page], float]) -> float:
        """Where the foot of this page begins; it is drawn last, for it is to be read aloud last."""
        canvas, self.canvas = self.canvas, NoCanvas()
        try:
            return foot(self)
        finally:
            self.canvas = canvas

    def _close_page(self) -> None:
        if self.foot is not None:
            self.foot(self)
        self.canvas.showPage()

    def need(self, height_mm: float) -> None:
        """Go to a fresh page when less than that height is left; headings go with what follows them."""
        headings, self._headings = self._headings, []
        wanted = height_mm + sum(self._heading_mm(heading) for heading in headings)
        if self.room_mm < wanted and self.foot is not None and self.y_mm > self._top_mm:
            self._turn_over()
        for heading in headings:
            self._draw_heading(heading)

    def _turn_over(self) -> None:
        assert self.foot is not None
        self._close_page()
        self.page += 1
        self.y_mm = MARGIN_MM
        self._foot_top_mm = self._top_of(self.foot)
        room_mm = self.width_mm - _PAGE_WORDS_MM
        for number, line in enumerate(wrapped(self.style.put(self.running_head), BOLD, SMALLEST_PT, room_mm)):
            self.y_mm += self.line_mm()
            base_mm = self.y_mm - 0.25 * self.line_mm()
            if number == 0:
                here = partial(page_words, self.page)
                self.put_when_counted(here, self.right_mm, base_mm, bold=True, align="right")
            self.put(line, self.left_mm, base_mm, bold=True)
        self.gap(1.5)
        self._top_mm = self.y_mm

    def gap(self, height_mm: float) -> None:
        """Leave white space."""
        self.y_mm += height_mm

    def put(self, words: str, x_mm: float, y_mm: float, size_pt: float = SMALLEST_PT, *, bold: bool = False,
            align: str = "left", white: bool = False) -> None:  # fmt: skip
        """Draw one line with its base line at ``y_mm`` from the top."""
        font = BOLD if bold else BODY
        self.canvas.setFont(font, size_pt)
        self.canvas.setFillGray(1.0 if white else 0.0)
        words = printable(words, font)
        self._lacks_signs = self._lacks_signs or NO_GLYPH in words
        x_pt, y_pt = x_mm * MM, (self.page_height_mm - y_mm) * MM
        draw = {
            "left": self.canvas.drawString,
            "right": self.canvas.drawRightString,
            "middle": self.canvas.drawCentredString,
        }[align]
        draw(x_pt, y_pt, words)
        self.canvas.setFillGray(0.0)

    def rect(self, x_mm: float, y_mm: float, width_mm: float, height_mm: float, *,
             line_pt: float = 0.6, fill_gray: float | None = None) -> None:  # fmt: skip
        """A rectangle whose upper left corner is given."""
        if line_pt:
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
        self, argument: Arg, size_pt: float = SMALLEST_PT, *, bold: bool = False, indent_mm: float = 0.0
    ) -> None:
        """A paragraph over the whole width; its first two lines stay together."""
        font = BOLD if bold else BODY
        lines = wrapped(self.style.put(argument), font, size_pt, self.width_mm - indent_mm)
        self.need(min(2, len(lines)) * self.line_mm(size_pt))
        for line in lines:
            self.need(self.line_mm(size_pt))
            self.y_mm += self.line_mm(size_pt)
            self.put(
                line, self.left_mm + indent_mm, self.y_mm - 0.25 * self.line_mm(size_pt), size_pt, bold=bold
            )

    def heading(self, argument: Arg) -> None:
        """A section heading with a rule under it, printed with the first of what follows."""
        self._headings.append(argument)

    def _heading_lines(self, argument: Arg) -> tuple[float, tuple[str, ...]]:
        size_pt = 9.5 if self.tight else 10.5
        return size_pt, wrapped(self.style.put(argument), BOLD, size_pt, self.width_mm)

    def _heading_mm(self, argument: Arg) -> float:
        size_pt, lines = self._heading_lines(argument)
        return len(lines) * self.line_mm(size_pt) + (1.4 if self.tight else 3.0)

    def _draw_heading(self, argument: Arg) -> None:
        size_pt, lines = self._heading_lines(argument)
        self.gap(0.8 if self.tight else 2.0)
        self.places.append((argument, self.page))
        self.bookmark(" ".join(self.style.put(argument).partition(":")[0].split()), 1)
        for line in lines:
            self.y_mm += self.line_mm(size_pt)
            self.put(line, self.left_mm, self.y_mm - 0.25 * self.line_mm(size_pt), size_pt, bold=True)
        self.line(self.left_mm, self.y_mm + 0.2, self.right_mm, self.y_mm + 0.2, 0.9)
        self.gap(0.6 if self.tight else 1.0)

    def banner(self, argument: Arg, *, dark: bool) -> None:
        """A line across the page in words: hatched and thickly framed for what forbids, framed for the rest.

        Black letters on white stay readable on a grey copy and in the sun; a long line of white on black does
        not.
        """
        size_pt = _BANNER_PT
        room_mm = _HATCH_MM if dark else 0.0
        lines = wrapped(self.style.put(argument), BOLD, size_pt, self.width_mm - 6 - room_mm)
        # Longer than a page, it goes on where there is room for a few lines, and on the pages that follow.
        whole_mm, few_mm = (self._banner_mm(count, dark=dark) + 1 for count in (len(lines), 3))
        self.need(whole_mm if whole_mm < PAGE_ROOM_MM else few_mm)
        while lines:
            fitting = max(1, int((self.room_mm - 1 - _BANNER_PAD_MM) / self.line_mm(size_pt) + 1e-9))
            self._draw_banner(lines[:fitting], room_mm, dark=dark)
            lines = lines[fitting:]
            if lines:
                self.need(few_mm)

    def _banner_mm(self, lines: int, *, dark: bool) -> float:
        return max(lines * self.line_mm(_BANNER_PT) + _BANNER_PAD_MM, _HATCH_MM * 0.7 if dark else 0.0)

    def _draw_banner(self, lines: Sequence[str], room_mm: float, *, dark: bool) -> None:
        size_pt, height = _BANNER_PT, self._banner_mm(len(lines), dark=dark)
        self.frame(self.y_mm, height, 2.6 if dark else 1.0)
        if dark:
            self._hatch(self.left_mm + 1.0, self.y_mm + 1.0, room_mm - 1.0, height - 2.0)
        free_mm = (height - _BANNER_PAD_MM - len(lines) * self.line_mm(size_pt)) / 2
        for number, line in enumerate(lines, start=1):
            base = self.y_mm + 1.2 + free_mm + (number - 0.25) * self.line_mm(size_pt)
            self.put(line, self.left_mm + 3 + room_mm, base, size_pt, bold=True)
        self.y_mm += height + 0.6

    def frame(self, y_mm: float, height_mm: float, line_pt: float) -> None:
        """A frame across the page; thick as its line may be, it stays within the margins."""
        inset = line_pt / MM
        width_mm = self.width_mm - 2 * inset
        self.rect(self.left_mm + inset, y_mm + inset, width_mm, height_mm - 2 * inset, line_pt=line_pt)

    def _hatch(self, x_mm: float, y_mm: float, width_mm: float, height_mm: float) -> None:
        """Slanted lines within a place: a sign that needs no colour."""
        step = 1.9
        count = int((width_mm + height_mm) / step)
        for number in range(1, count + 1):
            reach = number * step
            left, right = max(0.0, reach - height_mm), min(reach, width_mm)
            if left < right:
                self.line(x_mm + left, y_mm + reach - left, x_mm + right, y_mm + reach - right, 0.9)
