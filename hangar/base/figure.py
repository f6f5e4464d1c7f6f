"""Computed numbers that carry their band, basis and working."""

from __future__ import annotations

from datetime import date
from enum import StrEnum

from hangar.base.text import NOTHING, Amount, Text, text, text_in
from hangar.base.values import value_class


@value_class
class Band:
    """An estimate: what is at least there, what is expected, and what to size parts on.

    ``low <= expected <= design`` holds for loads; all three share one unit, which the name of
    the value that holds the band carries.
    """

    low: float
    expected: float
    design: float

    def __mul__(self, factor: float) -> Band:
        return Band(self.low * factor, self.expected * factor, self.design * factor)

    __rmul__ = __mul__

    def __truediv__(self, divisor: float) -> Band:
        return self * (1.0 / divisor)

    def __add__(self, other: Band) -> Band:
        return Band(self.low + other.low, self.expected + other.expected, self.design + other.design)

    @classmethod
    def exactly(cls, value: float) -> Band:
        """A band without width."""
        return cls(value, value, value)


class Basis(StrEnum):
    """Where a number comes from, best first; a limit that is set tells nothing of the aircraft."""

    MEASURED = "measured"
    RATED = "rated"
    COMPUTED = "computed"
    TYPICAL = "typical for the class"
    LIMIT = "limit set"


_TRUST = {Basis.MEASURED: 0, Basis.RATED: 1, Basis.COMPUTED: 2, Basis.TYPICAL: 3, Basis.LIMIT: 0}


def weakest(*bases: Basis) -> Basis:
    """The least trustworthy of several bases; computed when none is given."""
    return max(bases, key=_TRUST.__getitem__, default=Basis.COMPUTED)


@value_class
class Input:
    """One number that went into a figure."""

    name: Text
    value: float | Text
    unit: str = ""
    basis: Basis = Basis.COMPUTED


@value_class
class Working:
    """How a figure was made: the formula in words, what went in, and where the formula is from."""

    formula: Text
    inputs: tuple[Input, ...] = ()
    source: Text = NOTHING


@value_class
class Figure:
    """A number with its unit, band, basis and working; any of them can be asked "how?".

    ``unit`` is a key of :mod:`hangar.base.units` in which ``expected`` is stored (SI or the
    trade's plain unit); ``low`` and ``design`` are None where the number has no band. ``read_on`` is the day
    of the newest reading of a figure that was measured, None where that is not known.
    """

    name: Text
    expected: float
    unit: str
    low: float | None = None
    design: float | None = None
    basis: Basis = Basis.COMPUTED
    working: Working = Working(text("entered"))
    read_on: date | None = None

    @classmethod
    def of_band(cls, name: Text, band: Band, unit: str, basis: Basis, working: Working) -> Figure:
        """A figure from a band."""
        return cls(name, band.expected, unit, band.low, band.design, basis, working)

    def named(self, name: Text) -> Figure:
        """The same number under another name."""
        return Figure(
            name, self.expected, self.unit, self.low, self.design, self.basis, self.working, self.read_on
        )

    @property
    def band(self) -> Band:
        """The three values; without a band all three are the expected one."""
        low = self.expected if self.low is None else self.low
        design = self.expected if self.design is None else self.design
        return Band(low, self.expected, design)


BASIS_WORDS = {
    Basis.MEASURED: text("measured"),
    Basis.RATED: text("rated"),
    Basis.COMPUTED: text("computed"),
    Basis.TYPICAL: text_in("of a number", "typical"),
    Basis.LIMIT: text_in("of a number", "limit"),
}
"""A basis in one word, behind a number."""


def sourced(figure: Figure, today: date | None = None) -> Text:
    """The expected value of a figure and what it rests on: ``5.13 V, computed``; with its age on a day."""
    value = Amount(figure.expected, figure.unit)
    if figure.read_on is not None and today is not None:
        days = (today - figure.read_on).days
        return text(
            "{value}, {basis} {day}, {days} days ago",
            value=value, basis=BASIS_WORDS[figure.basis], day=figure.read_on, days=days,
        )  # fmt: skip
    if figure.read_on is not None:
        return text(
            "{value}, {basis} {day}", value=value, basis=BASIS_WORDS[figure.basis], day=figure.read_on
        )
    return text("{value}, {basis}", value=value, basis=BASIS_WORDS[figure.basis])
