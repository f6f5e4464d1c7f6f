"""Making figures: what is known, what had to be assumed, what is missing, and how the number was made."""

from __future__ import annotations

from collections.abc import Hashable, Iterable
from enum import StrEnum
from functools import cache

from hangar.base.figure import Band, Basis, Figure, Input, Working
from hangar.base.text import Text, as_text, fixed, text
from hangar.parts import Record
from hangar.parts.fields import key_of, spec_of
from hangar.survey.defaults import Typical

OWN_ARITHMETIC = text("arithmetic")
# Looked up once: asking an enumeration for its member costs more than the comparison.
_TYPICAL, _COMPUTED = Basis.TYPICAL, Basis.COMPUTED


@cache
def _told_as(kind: Hashable, field: str) -> tuple[Text, str]:
    """What a field of a record kind is called, and its unit."""
    spec = spec_of(kind, field)  # type: ignore[arg-type]
    return fixed(spec.label), spec.unit or ""


def name_of(record: Record) -> Text:
    """A record as a keeper calls it: its title and key, the aircraft's code left out."""
    fields = [name for name in record.KEY if name != "aircraft" or len(record.KEY) == 1]
    words = (str(getattr(record, name)) for name in fields)
    return text("{record} {key}", record=fixed(record.TITLE), key=" ".join(words))


def field_missing(record: Record, field: str) -> Text:
    """The words that name a field nobody has filled: ``surface AIL-L: whole chord``."""
    name, _ = _told_as(type(record), field)  # type: ignore[arg-type]  # mypy looks at the instances' hash
    return text("{record}: {field}", record=name_of(record), field=name)


def key_words(record: Record) -> str:
    """The whole key of a record as one word."""
    return " ".join(str(part) for part in key_of(record))


class Facts:
    """The inputs of one figure or of several that belong together, and what they lacked."""

    __slots__ = ("inputs", "missing")

    def __init__(self, missing: list[Text] | None = None) -> None:
        self.inputs: list[Input] = []
        self.missing: list[Text] = [] if missing is None else missing

    def known(self, record: Record, field: str, basis: Basis = Basis.MEASURED) -> float | None:
        """A record's number, noted as an input when it is there; no complaint when it is not."""
        value = getattr(record, field)
        if value is None:
            return None
        name, unit = _told_as(type(record), field)  # type: ignore[arg-type]  # as above
        self.inputs.append(Input(name, value, unit, basis))
        return float(value)

    def need(self, record: Record, field: str, basis: Basis = Basis.MEASURED) -> float | None:
        """A record's number, noted as missing when nobody has filled it."""
        value = self.known(record, field, basis)
        if value is None:
            self.lack(field_missing(record, field))
        return value

    def take(
        self, record: Record, field: str, typical: Typical, *keys: str | None, basis: Basis = Basis.MEASURED
    ) -> float:
        """A record's number or, when nobody has filled it, the typical one, marked as such."""
        value = self.known(record, field, basis)
        return self.assume(typical, *keys) if value is None else value

    def assume(self, typical: Typical, *keys: str | None) -> float:
        """A typical value, noted as an input."""
        self.inputs.append(typical.input(*keys))
        return typical.value(*keys)

    def note(
        self, name: Text | str, value: float | Text | StrEnum, unit: str = "", basis: Basis = Basis.COMPUTED
    ) -> None:
        """An input that no record holds."""
        noted = fixed(value.value) if isinstance(value, StrEnum) else value
        self.inputs.append(Input(as_text(name), noted, unit, basis))

    def use(self, figure: Figure) -> float:
        """Another figure's expected value as an input."""
        self.inputs.append(input_of(figure))
        return figure.expected

    def lack(self, what: Text) -> None:
        """Note something missing, once."""
        if what not in self.missing:
            self.missing.append(what)

    def figure(
        self,
        name: Text | str,
        value: float,
        unit: str,
        formula: Text | str,
        source: Text | str = OWN_ARITHMETIC,
    ) -> Figure:
        """A figure without a band, from the inputs noted so far."""
        return made(name, value, unit, formula, self.inputs, source)

    def banded(
        self,
        name: Text | str,
        band: Band,
        unit: str,
        formula: Text | str,
        source: Text | str = OWN_ARITHMETIC,
    ) -> Figure:
        """A figure with a band, from the inputs noted so far."""
        working = Working(as_text(formula), tuple(self.inputs), as_text(source))
        return Figure.of_band(as_text(name), band, unit, basis_of(self.inputs), working)


def basis_of(inputs: Iterable[Input]) -> Basis:
    """Computed, or typical when any input is: the weakest of the inputs and of computing itself."""
    for item in inputs:
        if item.basis is _TYPICAL:
            return _TYPICAL
    return _COMPUTED


def input_of(figure: Figure) -> Input:
    """A figure as an input of another."""
    return Input(figure.name, figure.expected, figure.unit, figure.basis)


def made(
    name: Text | str,
    value: float,
    unit: str,
    formula: Text | str,
    inputs: Iterable[Input] = (),
    source: Text | str = OWN_ARITHMETIC,
) -> Figure:
    """A computed figure without a band."""
    held = tuple(inputs)
    working = Working(as_text(formula), held, as_text(source))
    return Figure(as_text(name), value, unit, None, None, basis_of(held), working)
