"""Laying a sheet out without drawing it, to see whether it fits one page."""

from __future__ import annotations

from collections.abc import Callable

from hangar.sheets.kit import Sheet
from hangar.sheets.no_canvas import NoCanvas
from hangar.sheets.style import SheetStyle

__all__ = ["NoCanvas", "fits_one_page"]


def fits_one_page(style: SheetStyle, draw: Callable[[Sheet], None]) -> bool:
    """Whether a sheet that draws itself so stays on its first page."""
    sheet = Sheet(NoCanvas(), style)
    draw(sheet)
    sheet.need(0.0)
    return sheet.page == 1
