"""Laying a sheet out without drawing it, to see whether it fits one page."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from hangar.sheets.kit import Sheet
from hangar.sheets.style import SheetStyle


class NoCanvas:
    """Stands for a canvas: takes every drawing call and draws nothing."""

    def __getattr__(self, _name: str) -> NoCanvas:
        return self

    def __call__(self, *_words: Any, **_more: Any) -> NoCanvas:
        return self


def fits_one_page(style: SheetStyle, draw: Callable[[Sheet], None]) -> bool:
    """Whether a sheet that draws itself so stays on its first page."""
    sheet = Sheet(NoCanvas(), style)
    draw(sheet)
    sheet.need(0.0)
    return sheet.page == 1
