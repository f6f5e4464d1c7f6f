"""One PDF written whole or not at all."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

from reportlab.pdfgen.canvas import Canvas

from hangar.base.errors import StoreFault
from hangar.sheets.kit import Sheet
from hangar.sheets.style import MM, SheetStyle
from hangar.sheets.wrapping import BODY, register_fonts


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
            draw_pdf(open_canvas(stream, title, style), style, draw)
            stream.flush()
            os.fsync(stream.fileno())
        part.replace(out)
    except OSError as fault:
        raise StoreFault(f"{out} was not written: {fault.strerror}.") from fault
    finally:
        part.unlink(missing_ok=True)


def open_canvas(stream: Any, title: str, style: SheetStyle) -> Canvas:
    """A canvas with title, language and subject set; the same drawing gives the same bytes."""
    canvas = Canvas(
        stream,
        pagesize=tuple(side * MM for side in style.size_mm),
        initialFontName=BODY,
        lang="en",
        invariant=True,
    )
    canvas.setTitle(title)
    canvas.setViewerPreference("DisplayDocTitle", "true")
    canvas.setAuthor("Hangar")
    canvas.setCreator("Hangar")
    canvas.setSubject("An aid; the maker's manual, club rules and law govern")
    return canvas


def draw_pdf(canvas: Canvas, style: SheetStyle, draw: Callable[[Sheet], Any]) -> None:
    """Draw all sheets on the canvas and close it."""
    sheet = Sheet(canvas, style)
    draw(sheet)
    sheet.end()
    canvas.save()
