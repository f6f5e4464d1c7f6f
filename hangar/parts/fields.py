"""How a record says what its fields may hold; tables, forms and imports all read this."""

from __future__ import annotations

import dataclasses
import types
from collections.abc import Hashable
from dataclasses import dataclass
from datetime import date, datetime
from enum import StrEnum
from functools import cache
from typing import Annotated, Any, ClassVar, Union, get_args, get_origin, get_type_hints

from hangar.base.errors import BadInput
from hangar.base.text import ItemList, Text, fixed, text
from hangar.base.units import name_and_unit


@dataclass(frozen=True, slots=True)
class Within:
    """Hard range of a number (refused outside) and the usual one (asked about outside)."""

    low: float | None = None
    high: float | None = None
    usual_low: float | None = None
    usual_high: float | None = None


@dataclass(frozen=True, slots=True)
class Label:
    """The words a form, a table head or a sheet shows for a field, and a line of help."""

    words: str
    help: str = ""


@dataclass(frozen=True, slots=True)
class In:
    """The unit a number is stored in, a key of the table of units; without it the number is a plain one."""

    unit: str


@dataclass(frozen=True, slots=True)
class Year:
    """A whole number that names a year: it is no amount and is not set like one."""


@dataclass(frozen=True, slots=True)
class Inexact:
    """A day of which only the year or the month may be known; where it must be given, perhaps nothing."""


@dataclass(frozen=True, slots=True)
class KeptText:
    """Words that the program may have written: a kept text then, read in the reader's language.

    What the keeper writes there stays as it is. See :mod:`hangar.base.kept_text`.
    """


@dataclass(frozen=True, slots=True)
class Children:
    """A tuple of records of another kind that the reader hangs below this one; not a column."""

    kind: str


@dataclass(frozen=True, slots=True)
class Link:
    """Fields of a record that name a record of another kind by its key.

    ``owned``: the record belongs to the named one and goes with it when that is deleted.
    ``goes_along``: it can do without the named one, but goes with it when it names it.
    """

    kind: str
    fields: tuple[str, ...]
    owned: bool = False
    goes_along: bool = False


class Record:
    """Base of every row of a fleet file: a frozen dataclass named by its key fields."""

    KIND: ClassVar[str]
    TITLE: ClassVar[str]
    KEY: ClassVar[tuple[str, ...]]
    LINKS: ClassVar[tuple[Link, ...]] = ()
    RULES: ClassVar[tuple[tuple[str, str], ...]] = ()
    """Checks across fields as (SQL condition, sentence saying what is allowed)."""


@dataclass(frozen=True, slots=True)
class FieldSpec:
    """One field of a record kind, read from its annotation."""

    name: str
    type: type
    optional: bool
    label: str
    help: str
    within: Within
    children: str | None
    default: Any
    unit: str | None = None
    """Key of the unit a number is stored in; None for text, lists, counts, shares and money."""
    is_year: bool = False
    is_inexact: bool = False
    """Whether a day may be known in part only, as a :class:`hangar.base.part_day.PartDay`."""
    is_said: bool = False
    """Whether the program's own words may stand there, as a kept text."""

    @property
    def plain_words(self) -> str:
        """Its name as words without its unit."""
        return words_of(self.name, self.unit)

    def check(self, value: Any) -> Any:
        """The value itself, or BadInput saying what was found and what is allowed."""
        if value is None:
            if not self.optional:
                raise BadInput("{label} is missing; it must be given.", label=fixed(self.label))
            return None
        if self.type in (float, int) and not isinstance(value, bool):
            return self._check_number(value)
        if not isinstance(value, self.type):
            raise BadInput(
                "{label} is {value}; expected {allowed}.",
                label=fixed(self.label),
                value=repr(value),
                allowed=_plain_name(self.type),
            )
        if isinstance(value, str) and not value.strip() and not self.optional:
            raise BadInput("{label} is empty; it must be given.", label=fixed(self.label))
        return value

    def _check_number(self, value: Any) -> float | int:
        if not isinstance(value, int | float) or value != value or value in (float("inf"), float("-inf")):
            raise BadInput(
                "{label} is {value}; expected a number.", label=fixed(self.label), value=repr(value)
            )
        if self.type is int and value != int(value):
            raise BadInput(
                "{label} is {value}; expected a whole number.", label=fixed(self.label), value=value
            )
        low, high = self.within.low, self.within.high
        if (low is not None and value < low) or (high is not None and value > high):
            raise BadInput(
                "{label} is {value:g}; allowed is {allowed}.",
                label=fixed(self.label),
                value=value,
                allowed=_range_words(low, high),
            )
        return self.type(value)  # type: ignore[no-any-return]


def _range_words(low: float | None, high: float | None) -> Text:
    if low is not None and high is not None:
        return text("{low:g} to {high:g}", low=low, high=high)
    return text("{low:g} or more", low=low) if low is not None else text("{high:g} or less", high=high)


def _plain_name(kind: type) -> Text:
    if issubclass(kind, StrEnum):
        return text("one of {words}", words=ItemList(tuple(kind), ","))
    return fixed(_PLAIN_NAMES.get(kind, kind.__name__))


_PLAIN_NAMES: dict[type, str] = {
    str: "text",
    bool: "yes or no",
    date: "a date YYYY-MM-DD",
    datetime: "a date and time",
}


def words_of(name: str, unit: str | None) -> str:
    """A field name as words, without its unit where it has one: ``supply_max_v`` gives ``supply max``."""
    return (name_and_unit(name)[0] if unit else name).replace("_", " ")


def _bare_type(annotation: Any) -> tuple[type, bool]:
    if get_origin(annotation) in (Union, types.UnionType):
        inner = [part for part in get_args(annotation) if part is not type(None)]
        return inner[0], True
    return annotation, False


def specs(kind: type[Record]) -> tuple[FieldSpec, ...]:
    """The fields of a record kind in their written order."""
    return _specs(kind)  # type: ignore[arg-type]  # mypy looks at the instances' hash


@cache
def _specs(kind: Hashable) -> tuple[FieldSpec, ...]:
    hints = get_type_hints(kind, include_extras=True)
    specs_here = []
    for field in dataclasses.fields(kind):  # type: ignore[arg-type]
        annotation: Any = hints[field.name]
        marks: list[Any] = []
        if get_origin(annotation) is Annotated:
            annotation, *marks = get_args(annotation)
        children = next((mark.kind for mark in marks if isinstance(mark, Children)), None)
        bare, optional = (tuple, False) if children else _bare_type(annotation)
        unit = next((mark.unit for mark in marks if isinstance(mark, In)), None)
        label = next((mark for mark in marks if isinstance(mark, Label)), Label(words_of(field.name, unit)))
        within = next((mark for mark in marks if isinstance(mark, Within)), Within())
        is_year = any(isinstance(mark, Year) for mark in marks)
        is_inexact = any(isinstance(mark, Inexact) for mark in marks)
        is_said = any(isinstance(mark, KeptText) for mark in marks)
        default = None if field.default is dataclasses.MISSING else field.default
        specs_here.append(
            FieldSpec(
                *(field.name, bare, optional, label.words, label.help, within),
                *(children, default, unit, is_year, is_inexact, is_said),
            )
        )
    return tuple(specs_here)


def columns(kind: type[Record]) -> tuple[FieldSpec, ...]:
    """The fields that a table holds: all but the children."""
    return tuple(spec for spec in specs(kind) if spec.children is None)


def spec_of(kind: type[Record], name: str) -> FieldSpec:
    """The field of a record kind with this name."""
    return next(spec for spec in specs(kind) if spec.name == name)


def key_of(record: Record) -> tuple[Any, ...]:
    """The values of a record's key fields."""
    return tuple(getattr(record, name) for name in record.KEY)


def check_record(record: Record) -> None:
    """Refuse a record with an impossible field value.

    Raises: BadInput naming the record, the field, what was found and what is allowed.
    """
    for spec in columns(type(record)):
        try:
            spec.check(getattr(record, spec.name))
        except BadInput as fault:
            name = " ".join(str(part) for part in key_of(record) if part is not None)
            raise BadInput(
                "{record} {name}: {fault}", record=fixed(record.TITLE), name=name, fault=fault.text
            ) from fault
