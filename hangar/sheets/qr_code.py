"""QR codes drawn as one path of black bars."""

from __future__ import annotations

from functools import lru_cache
from itertools import groupby
from typing import Any

from reportlab.graphics.barcode.qr import QrCodeWidget
from reportlab.graphics.barcode.qrencoder import QRECI, QR8bitByte

from hangar.sheets.page import Page
from hangar.sheets.style import MM

QUIET_MODULES = 4
"""White around the code, in modules; ISO/IEC 18004 asks for four."""


_UTF_8 = 26
"""The number of UTF-8 among the character sets of ISO/IEC 18004, Extended Channel Interpretation."""


class _CharacterSet(QRECI):  # type: ignore[misc]
    """Says in the code which character set follows; its number takes eight bits."""

    bitlength = 8


def segments(text: str) -> str | list[Any]:
    """The text as the encoder takes it: with signs beyond ASCII as UTF-8, and said to be so."""
    return text if text.isascii() else [_CharacterSet(_UTF_8), QR8bitByte(text)]


def modules_across(text: str) -> int:
    """Modules along a side of the code of a text: known without working out which of them are black."""
    return 17 + 4 * int(_code_of(text).calculate_version())


def _code_of(text: str) -> Any:
    return QrCodeWidget(segments(text), barLevel="M").qr


@lru_cache(maxsize=4096)
def dark_runs(text: str) -> tuple[int, tuple[tuple[int, int, int], ...]]:
    """Modules along a side, and the black runs as (row, column, length)."""
    code = _code_of(text)
    code.make()
    runs = []
    for row, modules in enumerate(code.modules):
        column = 0
        for dark, group in groupby(bool(module) for module in modules):
            length = len(list(group))
            if dark:
                runs.append((row, column, length))
            column += length
    return int(code.getModuleCount()), tuple(runs)


def draw_qr(page: Page, text: str, x_mm: float, y_mm: float, side_mm: float) -> None:
    """Draw the code of a text with its upper left corner, quiet zone included, at a place."""
    count, runs = dark_runs(text)
    module = side_mm * MM / (count + 2 * QUIET_MODULES)
    left = x_mm * MM + QUIET_MODULES * module
    top = (page.page_height_mm - y_mm) * MM - QUIET_MODULES * module
    path = page.canvas.beginPath()
    for row, column, length in runs:
        path.rect(left + column * module, top - (row + 1) * module, length * module, module)
    page.canvas.setFillGray(0.0)
    page.canvas.drawPath(path, stroke=0, fill=1)
