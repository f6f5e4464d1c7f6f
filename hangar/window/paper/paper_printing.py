"""The pages of a PDF on a printer, true to size."""

from __future__ import annotations

from PySide6.QtCore import QMarginsF, QRectF
from PySide6.QtGui import QPageLayout, QPageSize, QPainter
from PySide6.QtPrintSupport import QPrinter

from hangar.base.errors import StoreFault
from hangar.base.text import plural
from hangar.window.kit.words import say
from hangar.window.paper.sheet_preview import Pages

_DOTS_AN_INCH = 300
_PAPERS = {"A4": QPageSize.PageSizeId.A4, "Letter": QPageSize.PageSizeId.Letter}


def printer_for(paper: str, name: str) -> QPrinter:
    """A printer set to the sheet's own paper, upright, without margins of its own."""
    printer = QPrinter(QPrinter.PrinterMode.HighResolution)
    printer.setDocName(name)
    printer.setFullPage(True)
    layout = QPageLayout(QPageSize(_PAPERS[paper]), QPageLayout.Orientation.Portrait, QMarginsF(0, 0, 0, 0))
    layout.setMode(QPageLayout.Mode.FullPageMode)
    printer.setPageLayout(layout)
    return printer


def print_pages(content: bytes, printer: QPrinter) -> int:
    """Print the pages that the printer was told, all without a range; returns how many.

    Raises: StoreFault when the printer does not take them.
    """
    pages = Pages(content)
    painter = QPainter()
    try:
        if not painter.begin(printer):
            raise StoreFault(
                say(
                    "The printer {name} does not take the pages.",
                    name=printer.printerName() or printer.outputFileName(),
                )
            )
        numbers = _numbers(printer, len(pages))
        for place, number in enumerate(numbers):
            if place and not printer.newPage():
                raise StoreFault(
                    plural(
                        "The printer stopped after {count} page.",
                        "The printer stopped after {count} pages.",
                        count=place,
                    )
                )
            _draw(pages, number, printer, painter)
        return len(numbers)
    finally:
        if painter.isActive():
            painter.end()
        pages.close()


def _numbers(printer: QPrinter, count: int) -> list[int]:
    first, last = printer.fromPage() or 1, printer.toPage() or count
    once = list(range(first - 1, min(last, count)))
    times = 1 if printer.supportsMultipleCopies() else printer.copyCount()
    return once * times


def _draw(pages: Pages, number: int, printer: QPrinter, painter: QPainter) -> None:
    dots = min(_DOTS_AN_INCH, printer.resolution())
    width, height = (side * printer.resolution() / 72.0 for side in pages.size_pt(number))
    painter.drawImage(QRectF(0, 0, width, height), pages.picture(number, dots))
