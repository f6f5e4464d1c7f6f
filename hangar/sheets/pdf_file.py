"""One PDF written whole or not at all."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, date, datetime
from io import BytesIO
from pathlib import Path
from types import SimpleNamespace
from typing import Any

from reportlab.pdfbase.pdfdoc import PDFName, PDFStream, PDFZCompress
from reportlab.pdfgen.canvas import Canvas

from hangar.sheets.kit import Sheet
from hangar.sheets.style import MM, SheetStyle
from hangar.sheets.whole_file import write_whole
from hangar.sheets.wrapping import BODY, register_fonts


@dataclass(frozen=True)
class Revision:
    """Of which records a sheet is.

    Attributes:
        day: the day they stand for.
        words: each aircraft with the digits of its records: ``revision MARQ 02531c``.
    """

    day: date
    words: str = ""


def write_pdf(
    out: Path, title: str, style: SheetStyle, draw: Callable[[Sheet], Any], revision: Revision | None = None
) -> None:
    """Draw sheets into a PDF that appears whole or not at all; its metadata name the records it is of.

    Raises: BadInput when something lies there that is no PDF; StoreFault when it cannot be written.
    """
    register_fonts()
    write_whole(draw_pdf(open_canvas(title, style, revision), style, draw), out)


class _PageStream(PDFStream):  # type: ignore[misc]
    """What is drawn on a page, as it will stand in the file, until it stands there.

    The drawing calls of a page take ten times what they take compressed: too much to hold of thousands.
    """

    def __init__(self, drawn: str) -> None:
        super().__init__(content=PDFZCompress.encode(drawn))
        self.dictionary["Filter"] = PDFName(PDFZCompress.pdfname)

    def format(self, document: Any) -> bytes:
        """The lines of the file; they are asked for once."""
        lines: bytes = super().format(document)
        self.content = None
        return lines


class _SheetCanvas(Canvas):  # type: ignore[misc]
    """A canvas that holds its finished pages compressed."""

    def showPage(self) -> None:
        """Finish a page."""
        super().showPage()
        page = self._doc.Pages.pages[-1]
        page.Contents, page.stream = _PageStream(page.stream), None


def open_canvas(title: str, style: SheetStyle, revision: Revision | None = None) -> Canvas:
    """A canvas with title, language and subject set; the same drawing gives the same bytes."""
    canvas = _SheetCanvas(
        BytesIO(),
        pagesize=tuple(side * MM for side in style.size_mm),
        initialFontName=BODY,
        lang=style.language,
        invariant=True,
    )
    canvas.setTitle(title)
    canvas.setViewerPreference("DisplayDocTitle", "true")
    canvas.setAuthor("Hangar")
    canvas.setCreator("Hangar")
    canvas._doc._timeStamp = _day_of(revision.day if revision else style.printed_on)
    if revision is not None:
        canvas.setKeywords(revision.words)
    canvas.setSubject(style.say("An aid; the maker's manual, the club's rules and the law govern"))
    return canvas


def _day_of(day: date) -> Any:
    """The day of a sheet's records as the PDF library keeps a moment: it stands in the file's metadata."""
    moment = datetime(day.year, day.month, day.day, tzinfo=UTC)
    return SimpleNamespace(
        t=moment.timestamp(), lt=tuple(moment.timetuple()), YMDhms=tuple(moment.timetuple())[:6],
        dhh=0, dmm=0, tzname="UTC", datetime=moment,
    )  # fmt: skip


def draw_pdf(canvas: Canvas, style: SheetStyle, draw: Callable[[Sheet], Any]) -> bytes:
    """Draw all sheets on the canvas and close it; returns the content of the file."""
    sheet = Sheet(canvas, style)
    draw(sheet)
    sheet.end()
    if style.fillable:
        _go_by_rows(canvas)
    content: bytes = canvas.getpdfdata()
    return content


def _go_by_rows(canvas: Canvas) -> None:
    """The tabulator goes from field to field by rows, as the eye does."""
    for page in canvas._doc.Pages.pages:
        page.__NoDefault__ = [*page.__NoDefault__, "Tabs"]
        page.Tabs = PDFName("R")
