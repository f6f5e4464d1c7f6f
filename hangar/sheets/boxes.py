"""Boxes that somebody fills in by hand or on a tablet, and the stamp that says which sheet they are of."""

from __future__ import annotations

from dataclasses import dataclass

from hangar.parts.sheet_boxes import STAMP, Stamp
from hangar.sheets.page import Page
from hangar.sheets.style import MM

TICK_MM = 6.0
"""Side of a box to tick with a pen; a glove or a cold hand meets a smaller one badly."""
TAP_PT = 24.0
"""Least side of what is tapped on a tablet: Web Content Accessibility Guidelines 2.2, criterion 2.5.8."""


@dataclass(frozen=True, slots=True)
class Box:
    """A cell that somebody fills in by hand; ``tick`` draws a small square instead of a field.

    ``about`` and ``what`` say of what and which reading (``B021``, ``Read``) where it is read back;
    ``value`` is what stands in it already, which paper shows as text.
    """

    tick: bool = False
    about: str = ""
    what: str = ""
    value: str = ""

    @property
    def name(self) -> str:
        """What the box is called within its sheet; empty where it is not read back."""
        return f"{self.about} {self.what}".strip()


class BoxPage(Page):
    """A page with boxes; on a tablet they are fields of a form."""

    @property
    def tick_mm(self) -> float:
        """Side of a box to tick."""
        return TICK_MM if self.fields is None else TAP_PT / MM

    def text_field(self, name: str, x_mm: float, y_mm: float, width_mm: float, height_mm: float,
                   value: str = "") -> None:  # fmt: skip
        """A field to type into where the sheet is filled on a tablet; on paper the white stays white."""
        if self.fields is not None:
            bottom = self.page_height_mm - y_mm - height_mm
            self.fields.text(
                f"{self.answers} {name}", x_mm * MM, bottom * MM, width_mm * MM, height_mm * MM, value
            )

    def stamp(self, stamp: Stamp) -> None:
        """Say in a hidden field which sheet this is; paper says it in its head."""
        if self.fields is not None:
            place = self.left_mm * MM + 1, (self.page_height_mm - self.y_mm) * MM - 2
            self.fields.hidden(f"{self.answers} {STAMP}", *place, stamp.to_text())

    def hidden_value(self, box: Box, x_mm: float, y_mm: float) -> None:
        """A value that stands in the words of its row, for the program that reads the form."""
        if self.fields is not None:
            place = x_mm * MM, (self.page_height_mm - y_mm) * MM
            self.fields.hidden(f"{self.answers} {box.name}", *place, box.value)

    def tick_box(self, x_mm: float, y_mm: float, name: str = "tick", tip: str = "", *,
                 line_pt: float = 0.8) -> None:  # fmt: skip
        """An empty square to tick."""
        if self.fields is not None:
            bottom = self.page_height_mm - y_mm - self.tick_mm
            self.fields.tick(
                f"{self.answers} {name}", x_mm * MM, bottom * MM, self.tick_mm * MM, tip, line_pt
            )
        else:
            self.rect(x_mm, y_mm, self.tick_mm, self.tick_mm, line_pt=line_pt)
