"""Choices that hold for every sheet: paper, units, what may be shown."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from functools import cached_property

from hangar.base.errors import BadInput
from hangar.base.figure import Basis, Figure, sourced
from hangar.base.reader import Reader
from hangar.base.text import Arg, listed, series, text, text_in
from hangar.base.units import UnitChoice, format_quantity

MM = 72.0 / 25.4
"""Points in one millimetre."""

PAPERS_MM = {"A4": (210.0, 297.0), "Letter": (215.9, 279.4)}
MARGIN_MM = 11.0
LEAST_LINE_PT = 0.5
"""A thinner line is lost in the sun."""

LABEL_PARTS = ("pack", "servo", "lead")
"""What labels are made for."""

BASIS_LETTERS = {
    Basis.MEASURED: text_in("of a number", "M"),
    Basis.RATED: text_in("of a number", "R"),
    Basis.COMPUTED: text_in("of a number", "C"),
    Basis.TYPICAL: text_in("of a number", "T"),
    Basis.LIMIT: text_in("of a number", "L"),
}
"""What stands for a basis behind a number, where there is no room for its word."""
BASIS_LEGEND = text(
    "Measured: read on this aircraft. Rated: by the maker. Computed: worked out from those. Typical: "
    "of the class, where a record is silent. Limit: set among the limits. "
    "Computed loads are estimates. An empty box is not known."
)


@dataclass(frozen=True, kw_only=True)
class SheetStyle:
    """Paper, the keeper's units and language, the day that is printed, and what the keeper lets be seen.

    ``fillable`` makes boxes into fields of a PDF form; ``own_details`` shows marks, numbers and where
    things were bought; ``label_grid`` is the name of a label sheet, empty for plain paper, ``label_start``
    its first free label, counted from 1 along the rows, ``label_parts`` what gets a label. ``colour`` leaves
    photos their colours; all else is black on white.
    """

    paper: str = "A4"
    units: UnitChoice = field(default_factory=UnitChoice)
    language: str = "en"
    printed_on: date = field(default_factory=date.today)
    fillable: bool = False
    prices: bool = True
    own_details: bool = True
    club: str = ""
    label_grid: str = ""
    label_start: int = 1
    label_parts: tuple[str, ...] = LABEL_PARTS
    colour: bool = True

    def __post_init__(self) -> None:
        if self.paper not in PAPERS_MM:
            raise BadInput(
                "Paper is '{paper}'; allowed is {papers}.",
                paper=self.paper,
                papers=listed(PAPERS_MM, joint="or"),
            )
        unknown = [part for part in self.label_parts if part not in LABEL_PARTS]
        if unknown or not self.label_parts:
            raise BadInput(
                "labels were asked for {found}; allowed is {parts}.",
                found=series(unknown, ",") or text("nothing"),
                parts=series(LABEL_PARTS, ","),
            )

    @property
    def size_mm(self) -> tuple[float, float]:
        """Width and height of the paper."""
        return PAPERS_MM[self.paper]

    @cached_property
    def reader(self) -> Reader:
        """Who reads the sheet."""
        return Reader(self.language, self.units)

    def put(self, argument: Arg) -> str:
        """A text in the sheet's language and units."""
        return self.reader.put(argument)

    def say(self, key: str, /, **args: Arg) -> str:
        """A sentence by its English, in the sheet's language and units."""
        return self.reader.say(key, **args)

    def show(self, value: float | None, stored_unit: str, digits: int | None = None) -> str | None:
        """A stored value in the keeper's unit, or None (printed as a box to fill) when not known."""
        return None if value is None else self.reader.show(value, stored_unit, digits)

    def both(self, value: float | None, stored_unit: str) -> str | None:
        """A stored value in the keeper's unit with the other common one behind it."""
        return None if value is None else self.reader.show_both(value, stored_unit)

    def both_ends(self, low: float | None, high: float | None, stored_unit: str) -> str | None:
        """A range in the keeper's unit with the other common one behind it, or None when not known.

        >>> SheetStyle().both_ends(95, 125, "mm")
        '95 to 125 mm (3.74 to 4.921 in)'
        """
        if low is None or high is None:
            return None
        span = self._range(self.units.show(low, stored_unit), self.units.show(high, stored_unit))
        other = self._range(self.units.other(low, stored_unit), self.units.other(high, stored_unit))
        return f"{span} ({other})"

    def _range(self, low: str, high: str) -> str:
        """Two quantities of one unit as a range that names it once."""
        number, space, unit = low.partition(" ")
        least = number if space and high.partition(" ")[2] == unit else low
        return self.say("{low} to {high}", low=self.reader.number(least), high=self.reader.number(high))

    @property
    def conversions(self) -> str:
        """What the units of torque and length are in the other common ones."""
        torque = " = ".join(format_quantity(1.0, "N m", unit, 4) for unit in ("N m", "kgf cm", "ozf in"))
        return self.reader.number(f"{torque}; {format_quantity(1.0, 'in', 'mm')} = 1 in").rstrip(",") + "."

    def figure(self, figure: Figure | None) -> str | None:
        """The expected value of a figure in the keeper's unit."""
        return None if figure is None else self.show(figure.expected, figure.unit)

    def sourced(self, figure: Figure | None) -> str | None:
        """The expected value of a figure and what it rests on: ``5.13 V, computed``."""
        return None if figure is None else self.put(sourced(figure, self.printed_on))

    def price(self, amount: float | None) -> str | None:
        """An amount of money, which has no unit here; None when not known."""
        return None if amount is None else self.reader.number(f"{amount:,.2f}".removesuffix(".00"))

    def band(self, figure: Figure | None) -> str | None:
        """A figure with its band: ``0.56 N m (0.34 to 0.70)``."""
        if figure is None:
            return None
        words = self.reader.show(figure.expected, figure.unit)
        if figure.low is None or figure.design is None:
            return words
        ends = sorted((figure.low, figure.design))
        low, high = (self.reader.show(end, figure.unit).rsplit(" ", 1)[0] for end in ends)
        return self.say("{value} ({low} to {high})", value=words, low=low, high=high)
