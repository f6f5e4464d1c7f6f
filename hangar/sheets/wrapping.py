"""Fonts that travel with the sheets, and text broken into lines that fit."""

from __future__ import annotations

import re
from functools import cache, lru_cache

from reportlab.lib.utils import simpleSplit
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

from hangar.base.errors import BadInput
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
    refuse_joined(text)
    glyphs = pdfmetrics.getFont(font).face.charToGlyph
    return "".join(
        sign if ord(sign) in glyphs or sign.isspace() else NO_GLYPH for sign in text if not _joins(sign)
    )


_JOINED = {
    "Hebrew": (0x0590, 0x05FF), "Arabic": (0x0600, 0x06FF), "Syriac": (0x0700, 0x074F),
    "Thaana": (0x0780, 0x07BF), "N'Ko": (0x07C0, 0x07FF),
    "Devanagari": (0x0900, 0x097F), "Bengali": (0x0980, 0x09FF),
    "Gurmukhi": (0x0A00, 0x0A7F), "Gujarati": (0x0A80, 0x0AFF), "Oriya": (0x0B00, 0x0B7F),
    "Tamil": (0x0B80, 0x0BFF), "Telugu": (0x0C00, 0x0C7F), "Kannada": (0x0C80, 0x0CFF),
    "Malayalam": (0x0D00, 0x0D7F), "Sinhala": (0x0D80, 0x0DFF), "Thai": (0x0E00, 0x0E7F),
    "Lao": (0x0E80, 0x0EFF), "Tibetan": (0x0F00, 0x0FFF), "Myanmar": (0x1000, 0x109F),
    "Khmer": (0x1780, 0x17FF),
    "Mongolian": (0x1800, 0x18AF), "Arabic presentation forms": (0xFB50, 0xFDFF),
}  # fmt: skip
"""Scripts whose letters are joined, set over each other or written from the right; blocks of Unicode."""
_ANY_JOINED = re.compile("[" + "".join(f"{chr(low)}-{chr(high)}" for low, high in _JOINED.values()) + "]")


def refuse_joined(text: str) -> None:
    """Refuse letters that must be joined: set one by one they would say something else.

    Raises: BadInput naming the script and the words.
    """
    met = _ANY_JOINED.search(text)
    if met is None:
        return
    script = next(name for name, (low, high) in _JOINED.items() if low <= ord(met.group()) <= high)
    raise BadInput(
        "{script} cannot be printed, for its letters must be joined: {words}; write it in Latin, Greek or "
        "Cyrillic letters.",
        script=script,
        words=repr(text[:60]),
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
