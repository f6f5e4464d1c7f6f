"""Boxes that can be filled on a tablet: check boxes and text fields in the letters of the sheet itself."""

from __future__ import annotations

from collections import Counter
from functools import cache
from typing import Any

from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.pdfdoc import (
    PDFArray,
    PDFDictionary,
    PDFName,
    PDFStream,
    PDFString,
)
from reportlab.pdfgen.canvas import Canvas

from hangar.parts.sheet_boxes import plain_name
from hangar.sheets.no_canvas import NoCanvas
from hangar.sheets.style import MM
from hangar.sheets.wrapping import BODY

_LONGEST_ANSWER = 300
_FONT, _FIRST, _LAST = "HangarField", 32, 255
_PRINTED, _HIDDEN, _READ_ONLY, _NONSYMBOLIC = 4, 2, 1, 32
"""Flags of an annotation and of a field, of a font, by PDF 32000-1."""


class FormFields:
    """Gives every field of one PDF a name of its own and puts it on the page.

    A name says where the answer belongs: sheet, row and column, as in ``MER60.1.Read``. Its letters are those
    of the sheet, embedded whole for what is typed, so that a field looks alike in every viewer.
    """

    def __init__(self, canvas: Canvas) -> None:
        self._canvas = canvas
        self._used: Counter[str] = Counter()
        self._looks: dict[tuple[object, ...], Any] = {}
        self._font: Any | None = None

    def name(self, words: str) -> str:
        """A name not used before; the PDF form keeps full stops for its own tree."""
        plain = plain_name(words)
        self._used[plain] += 1
        again = self._used[plain]
        return plain if again == 1 else f"{plain} {again}"

    def tick(
        self, words: str, x_pt: float, y_pt: float, side_pt: float, tip: str = "", line_pt: float = 0.8
    ) -> None:
        """A check box whose lower left corner is given; ``tip`` says in full what it asks."""
        looks = PDFDictionary({key: self._tick_look(side_pt, line_pt, key) for key in ("Yes", "Off")})
        self._add(words, tip or words, (x_pt, y_pt, side_pt, side_pt), {
            "FT": PDFName("Btn"), "V": PDFName("Off"), "AS": PDFName("Off"), "F": _PRINTED, "Ff": 0,
            "AP": PDFDictionary({"N": looks}),
        })  # fmt: skip

    def hidden(self, words: str, x_pt: float, y_pt: float, value: str) -> None:
        """A text that the program reads and nobody sees."""
        self._add(words, "what this sheet knows already", (x_pt, y_pt, 1.0, 1.0), {
            "FT": PDFName("Tx"), "V": PDFString(value), "F": _HIDDEN, "Ff": _READ_ONLY,
            "DA": PDFString(f"/{_FONT} 1 Tf 0 g"),
            "AP": PDFDictionary({"N": self._text_look(1.0, 1.0, "", 1.0)}),
        })  # fmt: skip

    def text(
        self, words: str, x_pt: float, y_pt: float, width_pt: float, height_pt: float, value: str = ""
    ) -> None:
        """A text field without a border; the sheet has drawn its box or line."""
        size_pt = min(11.0, height_pt / MM * 2.2)
        look = self._text_look(width_pt, height_pt, value, size_pt)
        self._add(words, words, (x_pt, y_pt, width_pt, height_pt), {
            "FT": PDFName("Tx"), "V": PDFString(value), "F": _PRINTED, "Ff": 0, "MaxLen": _LONGEST_ANSWER,
            "DA": PDFString(f"/{_FONT} {size_pt:.1f} Tf 0 g"), "AP": PDFDictionary({"N": look}),
        })  # fmt: skip

    def _add(
        self, words: str, tip: str, place: tuple[float, float, float, float], more: dict[str, object]
    ) -> None:
        if isinstance(self._canvas, NoCanvas):
            return
        x_pt, y_pt, width_pt, height_pt = place
        form = self._canvas.acroForm
        field = PDFDictionary({
            "Type": PDFName("Annot"), "Subtype": PDFName("Widget"), "T": PDFString(self.name(words)),
            "TU": PDFString(tip), "P": self._canvas._doc.thisPageRef(),
            "Rect": PDFArray((x_pt, y_pt, x_pt + width_pt, y_pt + height_pt)), **more,
        })  # fmt: skip
        self._canvas._addAnnotation(field)
        form.fields.append(form.getRef(field))

    def _fonts(self) -> Any:
        """The font of the fields, put into the document with the first of them."""
        if self._font is None:
            form = self._canvas.acroForm
            self._font = PDFDictionary({_FONT: _font(self._canvas)})
            form.extras["DR"] = PDFDictionary({"Font": self._font})
            form.extras["DA"] = PDFString(f"/{_FONT} 9 Tf 0 g")
        return self._font

    def _tick_look(self, side_pt: float, line_pt: float, key: str) -> Any:
        """How a check box looks: its square, and the two strokes of a tick in one that is ticked."""
        edge, inner = line_pt / 2, side_pt - line_pt
        drawn = f"q 1 g 0 G {line_pt:g} w {edge:g} {edge:g} {inner:g} {inner:g} re B"
        if key == "Yes":
            low, middle, high = 0.25 * side_pt, 0.42 * side_pt, 0.8 * side_pt
            drawn += (
                f" {0.09 * side_pt:.2f} w 1 J {0.2 * side_pt:.2f} {0.5 * side_pt:.2f} m"
                f" {middle:.2f} {low:.2f} l {high:.2f} {high:.2f} l S"
            )
        return self._look((key, round(side_pt, 2), line_pt), side_pt, side_pt, f"{drawn} Q")

    def _text_look(self, width_pt: float, height_pt: float, value: str, size_pt: float) -> Any:
        shown = ""
        if value:
            letters = value.encode("cp1252", "replace").hex()
            base_pt = (height_pt - size_pt) / 2 + 0.22 * size_pt
            shown = f" BT /{_FONT} {size_pt:.1f} Tf 0 g 2 {base_pt:.2f} Td <{letters}> Tj ET"
        sides = round(width_pt, 1), round(height_pt, 1)
        return self._look(("text", *sides, value, size_pt), width_pt, height_pt, f"/Tx BMC q{shown} Q EMC")

    def _look(self, key: tuple[object, ...], width_pt: float, height_pt: float, drawn: str) -> Any:
        """The appearance as a form; boxes that look alike share one."""
        if isinstance(self._canvas, NoCanvas):
            return self._canvas
        if key not in self._looks:
            form = PDFStream(content=drawn.encode("ascii"))
            for name, date_words in {
                "Type": PDFName("XObject"), "Subtype": PDFName("Form"), "FormType": 1,
                "BBox": PDFArray((0, 0, width_pt, height_pt)),
                "Resources": PDFDictionary({"Font": self._fonts()}),
            }.items():  # fmt: skip
                form.dictionary[name] = date_words
            self._looks[key] = self._canvas._doc.Reference(form)
        return self._looks[key]


def _font(canvas: Canvas) -> Any:
    """The sheet's own letters as a font for typed text: all of the Western code page, not only those used.

    A viewer finds the glyph of a typed letter by its name in that code page, and by the font's own table in
    the order of the other old code page for Latin letters (PDF 32000-1, 9.6.6.4).
    """
    document, face = canvas._doc, pdfmetrics.getFont(BODY).face
    content, widths = _subset()
    file = PDFStream(content=content)
    file.dictionary["Length1"] = len(content)
    descriptor = PDFDictionary({
        "Type": PDFName("FontDescriptor"), "FontName": PDFName(_FONT), "Flags": _NONSYMBOLIC,
        "FontBBox": PDFArray(face.bbox), "ItalicAngle": face.italicAngle, "Ascent": face.ascent,
        "Descent": face.descent, "CapHeight": face.capHeight, "StemV": face.stemV,
        "FontFile2": document.Reference(file),
    })  # fmt: skip
    return document.Reference(PDFDictionary({
        "Type": PDFName("Font"), "Subtype": PDFName("TrueType"), "BaseFont": PDFName(_FONT),
        "FirstChar": _FIRST, "LastChar": _LAST, "Widths": PDFArray(widths),
        "Encoding": PDFName("WinAnsiEncoding"), "FontDescriptor": document.Reference(descriptor),
    }))  # fmt: skip


@cache
def _subset() -> tuple[bytes, tuple[float, ...]]:
    """The letters of the font file and their widths by code."""
    face = pdfmetrics.getFont(BODY).face
    by_table = [ord(bytes((code,)).decode("mac_roman")) if code >= _FIRST else 32 for code in range(256)]
    shown = (bytes((code,)).decode("cp1252", "replace") for code in range(_FIRST, _LAST + 1))
    widths = tuple(round(face.charWidths.get(ord(letter), face.defaultWidth)) for letter in shown)
    return face.makeSubset(by_table), widths
