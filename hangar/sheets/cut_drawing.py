"""Sold lengths drawn to scale with the pieces to cut from them."""

from __future__ import annotations

from collections import Counter

from hangar.parts.cutting import CutBar, CutRule
from hangar.sheets.kit import Sheet
from hangar.sheets.wrapping import BODY, SMALLEST_PT, width_of_mm

_HIGH_MM, _APART_MM, _COUNT_MM, _PAD_MM = 5.2, 1.6, 12.0, 0.6


def draw_cutting(sheet: Sheet, cutting: CutRule) -> None:
    """One bar for each way a sold length is cut, with how often before it; what is left over is crossed."""
    if not cutting.bars:
        return
    scale = (sheet.width_mm - _COUNT_MM) / max(bar.stock_mm for bar in cutting.bars)
    for bar, count in Counter(cutting.bars).items():
        sheet.need(_HIGH_MM + _APART_MM)
        sheet.put(f"{count} x", sheet.left_mm, sheet.y_mm + _base(sheet))
        _draw_bar(sheet, bar, scale)
        sheet.gap(_HIGH_MM + _APART_MM)


def _base(sheet: Sheet) -> float:
    return (_HIGH_MM + 0.72 * sheet.line_mm()) / 2


def _draw_bar(sheet: Sheet, bar: CutBar, scale: float) -> None:
    x_mm, top = sheet.left_mm + _COUNT_MM, sheet.y_mm
    for piece in bar.pieces_mm:
        wide = piece * scale
        sheet.rect(x_mm, top, wide, _HIGH_MM, line_pt=0.7)
        _words(sheet, str(piece), x_mm, wide)
        x_mm += wide
    if bar.left_mm > 0:
        wide = bar.left_mm * scale
        sheet.rect(x_mm, top, wide, _HIGH_MM, line_pt=0.7)
        if not _words(sheet, sheet.style.say("left {length}", length=bar.left_mm), x_mm, wide):
            sheet.line(x_mm, top, x_mm + wide, top + _HIGH_MM)
            sheet.line(x_mm, top + _HIGH_MM, x_mm + wide, top)


def _words(sheet: Sheet, words: str, x_mm: float, wide_mm: float) -> bool:
    """Words in the middle of a piece that is long enough for them; whether it was."""
    fits = width_of_mm(words, BODY, SMALLEST_PT) + 2 * _PAD_MM <= wide_mm
    if fits:
        sheet.put(words, x_mm + wide_mm / 2, sheet.y_mm + _base(sheet), align="middle")
    return fits
