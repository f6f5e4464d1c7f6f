"""Boxes that can be filled on a tablet: check boxes and text fields of a PDF form."""

from __future__ import annotations

from collections import Counter

from reportlab.lib.colors import black, white
from reportlab.pdfgen.canvas import Canvas

from hangar.parts.sheet_boxes import plain_name
from hangar.sheets.style import MM

_LONGEST_ANSWER = 300


class FormFields:
    """Gives every field of one PDF a name of its own and puts it on the page.

    A name says where the answer belongs: sheet, row and column, as in ``MER60.1.Read``.
    """

    def __init__(self, canvas: Canvas) -> None:
        self._canvas = canvas
        self._used: Counter[str] = Counter()

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
        self._canvas.acroForm.checkbox(
            name=self.name(words), tooltip=tip or words, x=x_pt, y=y_pt, size=side_pt, borderWidth=line_pt,
            borderColor=black, fillColor=white, textColor=black, fieldFlags="",
        )  # fmt: skip

    def hidden(self, words: str, x_pt: float, y_pt: float, value: str) -> None:
        """A text that the program reads and nobody sees."""
        self._canvas.acroForm.textfield(
            name=self.name(words), tooltip="which sheet this is", value=value, x=x_pt, y=y_pt, width=1,
            height=1, borderWidth=0, fillColor=white, textColor=white, fontSize=1, maxlen=len(value) + 1,
            fieldFlags="readOnly", annotationFlags="hidden",
        )  # fmt: skip

    def text(
        self, words: str, x_pt: float, y_pt: float, width_pt: float, height_pt: float, value: str = ""
    ) -> None:
        """A text field without a border; the sheet has drawn its box or line."""
        self._canvas.acroForm.textfield(
            name=self.name(words), tooltip=words, value=value, x=x_pt, y=y_pt, width=width_pt,
            height=height_pt, borderWidth=0, fillColor=white, textColor=black,
            fontSize=min(9.0, height_pt / MM * 2.2), maxlen=_LONGEST_ANSWER,
            fieldFlags="",
        )  # fmt: skip
