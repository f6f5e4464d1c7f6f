"""Fonts that travel with the sheets, and text broken into lines that fit."""

from __future__ import annotations

from functools import cache, lru_cache

from reportlab.lib.utils import simpleSplit
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

from hangar.base.places import resources_dir
from hangar.sheets.style import MM

BODY, BOLD = "HangarSans", "HangarSans-Bold"
SMALLEST_PT = 9.0


@cache
def register_fonts() -> None:
    """Make the embedded fonts known to the PDF library."""
    folder = resources_dir() / "fonts"
    pdfmetrics.registerFont(TTFont(BODY, str(folder / "DejaVuSansCondensed.ttf")))
    pdfmetrics.registerFont(TTFont(BOLD, str(folder / "DejaVuSansCondensed-Bold.ttf")))


NO_GLYPH = "\N{REPLACEMENT CHARACTER}"
"""Printed for a sign that the fonts do not have; the bare fonts would print an empty box."""


def printable(text: str, font: str = BODY) -> str:
    """The text as the font can print it, with a sign that says so where it cannot.

    >>> register_fonts()
    >>> printable("Kestwyn \N{CJK UNIFIED IDEOGRAPH-65E5}") == f"Kestwyn {NO_GLYPH}"
    True
    """
    if text.isascii():
        return text
    glyphs = pdfmetrics.getFont(font).face.charToGlyph
    return "".join(
        sign if ord(sign) in glyphs or sign.isspace() else NO_GLYPH for sign in text if not _joins(sign)
    )


def _joins(sign: str) -> bool:
    """Signs that only choose the form of the sign before, or join two."""
    return sign in "\u200b\u200c\u200d\u2060\ufeff" or "\ufe00" <= sign <= "\ufe0f"


def width_of_mm(text: str, font: str, size_pt: float) -> float:
    """Width of one line of text."""
    return float(pdfmetrics.stringWidth(printable(text, font), font, size_pt)) / MM


@lru_cache(maxsize=20000)
def wrapped(text: str, font: str, size_pt: float, width_mm: float) -> tuple[str, ...]:
    """The text broken into lines that fit the width; a longer word is broken inside."""
    limit = width_mm * MM
    lines: list[str] = []
    for line in simpleSplit(printable(text, font), font, size_pt, limit):
        while pdfmetrics.stringWidth(line, font, size_pt) > limit and len(line) > 1:
            cut = len(line) - 1
            while cut > 1 and pdfmetrics.stringWidth(line[:cut], font, size_pt) > limit:
                cut -= 1
            lines.append(line[:cut])
            line = line[cut:]
        lines.append(line)
    return tuple(lines) or ("",)
