"""Laying a sheet out without drawing it, to see whether it fits one page."""

from __future__ import annotations

from collections.abc import Callable

from hangar.sheets.kit import Sheet
from hangar.sheets.no_canvas import NoCanvas
from hangar.sheets.style import SheetStyle

__all__ = ["NoCanvas", "fits_one_page", "laid_out"]


class _TooLong(Exception):
    """The sheet wants a second page."""


class _OnePage(Sheet):
    def _turn_over(self) -> None:
        raise _TooLong


def fits_one_page(style: SheetStyle, draw: Callable[[Sheet], None]) -> bool:
    """Whether a sheet that draws itself so stays on its first page."""
    sheet = _OnePage(NoCanvas(), style)
    try:
        draw(sheet)
        sheet.need(0.0)
    except _TooLong:
        return False
    return True


def laid_out(style: SheetStyle, draw: Callable[[Sheet], None]) -> Sheet:
    """The sheet as it stands after its last page, with the places of its headings."""
    sheet = Sheet(NoCanvas(), style)
    draw(sheet)
    sheet.need(0.0)
    return sheet
