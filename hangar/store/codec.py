"""Turn records into row values and back, and into the plain text that the journal keeps."""

from __future__ import annotations

import json
import re
import sqlite3
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from enum import StrEnum
from functools import cache
from sys import intern
from typing import Any, TypeVar

from hangar.base.errors import BadInput, words_of
from hangar.base.part_day import is_whole, part_day
from hangar.base.text import Text, fixed, text
from hangar.parts import KIND_BY_NAME, Record
from hangar.parts.fields import FieldSpec, columns, specs
from hangar.store.limits import TEXT_MOST

# Neither a server nor a workbook can hold them.
_UNPRINTABLE = re.compile("[\x00-\x08\x0e-\x1f\x7f\ud800-\udfff\ufffe\uffff]")
_LINE_ENDS = re.compile("\r\n|[\r\x0b\x0c]")

R = TypeVar("R", bound=Record)
Key = tuple[Any, ...]


@dataclass(frozen=True, slots=True)
class Shape:
    """What must be known of a kind to read its rows fast."""

    names: tuple[str, ...]
    texts: tuple[str, ...]
    choices: tuple[tuple[str, Mapping[Any, Any]], ...]
    children: tuple[tuple[str, str], ...]


def shape_of(kind: type[Record]) -> Shape:
    """The columns, which of them hold text, closed word lists and children of a record kind."""
    return _shape(kind.KIND)


@cache
def _shape(kind_name: str) -> Shape:
    kind = KIND_BY_NAME[kind_name]
    fields = columns(kind)
    choices = tuple(
        (spec.name, {None: None, **{word.value: word for word in spec.type}})
        for spec in fields
        if issubclass(spec.type, StrEnum)
    )
    children = tuple((spec.name, spec.children) for spec in specs(kind) if spec.children)
    texts = tuple(spec.name for spec in fields if spec.type is str)
    return Shape(tuple(spec.name for spec in fields), texts, choices, children)


def reader_of(kind: type[R]) -> Callable[[Sequence[Any]], R]:
    """A function that makes a record from the column values of one row."""
    shape = shape_of(kind)
    names, texts, choices = shape.names, shape.texts, shape.choices
    empty = {name: () for name, _ in shape.children}
    make = object.__new__

    def read(row: Sequence[Any]) -> R:
        record = make(kind)
        # A frozen dataclass sets its fields one by one; filling its dict is four times as fast, and the
        # values passed the checks when they were written.
        values = record.__dict__
        values.update(zip(names, row, strict=True))
        # A code stands in dozens of records, a place or a name in thousands: each is held once.
        for name in texts:
            if (words := values[name]) is not None:
                values[name] = intern(words)
        for name, choice in choices:
            values[name] = choice[values[name]]
        if empty:
            values.update(empty)
        return record

    return read


def name_of(kind: type[Record], key: Sequence[Any]) -> Text:
    """A record in words: its title and key."""
    return text("{record} {key}", record=fixed(kind.TITLE), key=" ".join(str(part) for part in key))


def checked_values(record: Record) -> dict[str, Any]:
    """The column values of a record, checked and tidied.

    Raises: BadInput naming the record, the field, what was found and what is allowed.
    """
    kind = type(record)
    values: dict[str, Any] = {}
    for spec in columns(kind):
        try:
            values[spec.name] = _checked(spec, getattr(record, spec.name))
        except BadInput as fault:
            key = [getattr(record, name) for name in kind.KEY]
            raise BadInput("{record}: {fault}", record=name_of(kind, key), fault=words_of(fault)) from fault
    broken = broken_rule(kind, values)
    if broken:
        raise BadInput(
            "{record}: {broken}.", record=name_of(kind, [values[name] for name in kind.KEY]), broken=broken
        )
    return values


def _checked(spec: FieldSpec, value: Any) -> Any:
    if isinstance(value, str) and not isinstance(value, StrEnum):
        value = tidy_text(value)
        if spec.optional and not value:
            return None
    if spec.type is bool and value is not None and not isinstance(value, bool):
        raise BadInput("{label} is {value}; expected yes or no.", label=fixed(spec.label), value=repr(value))
    if spec.type is not bool and isinstance(value, bool):
        raise BadInput(
            "{label} is {value}; expected {name}.",
            label=fixed(spec.label),
            value=repr(value),
            name=spec.type.__name__,
        )
    if spec.type is date and isinstance(value, datetime):
        value = value.date()
    value = spec.check(value)
    if spec.type is date and value is not None and not spec.is_inexact and not is_whole(value):
        raise BadInput(
            "{label} is {text}; expected a whole day YYYY-MM-DD.",
            label=spec.label,
            text=repr(value.isoformat()),
        )
    if isinstance(value, datetime):
        return value.replace(tzinfo=None)
    return value.value if isinstance(value, StrEnum) else value


def is_unprintable(text: str) -> bool:
    """Whether the text holds a character that no file can hold."""
    return _UNPRINTABLE.search(text) is not None


def tidy_text(text: str) -> str:
    """Text without outer blanks, with one kind of line end; refuses what no file can hold."""
    if is_unprintable(text):
        raise BadInput("{found} holds a character that cannot be stored.", found=repr(text[:60]))
    if len(text) > TEXT_MOST:
        raise BadInput(
            "{found}... is {count} characters long; allowed are {most}.",
            found=repr(text[:30]),
            count=len(text),
            most=TEXT_MOST,
        )
    return _LINE_ENDS.sub("\n", text).strip()


def broken_rule(kind: type[Record], values: Mapping[str, Any]) -> Text | None:
    """The sentence of the first check across fields that these values break."""
    if not kind.RULES:
        return None
    names = shape_of(kind).names
    row = ", ".join(f'? AS "{name}"' for name in names)
    conditions = ", ".join(f"({condition})" for condition, _ in kind.RULES)
    bound = [_plain(values[name]) for name in names]
    answers = _judge().execute(f"SELECT {conditions} FROM (SELECT {row})", bound).fetchone()  # noqa: S608
    for (_, sentence), kept in zip(kind.RULES, answers, strict=True):
        if kept == 0:
            return fixed(sentence)
    return None


@cache
def _judge() -> sqlite3.Connection:
    """An empty database that judges the same conditions as the tables do."""
    return sqlite3.connect(":memory:", check_same_thread=False)


def _plain(value: Any) -> Any:
    return value.isoformat() if isinstance(value, date) else value


def to_text(values: Mapping[str, Any]) -> str:
    """Row values as the journal keeps them."""
    return json.dumps({name: _plain(value) for name, value in values.items()}, ensure_ascii=False)


def from_text(kind: type[Record], text: str) -> dict[str, Any]:
    """Row values from what the journal kept; a field it did not know gets its default.

    Raises: ValueError, TypeError or AttributeError for a text that no edit could have left.
    """
    kept = json.loads(text)
    values = {}
    for spec in columns(kind):
        value = kept.get(spec.name, spec.default)
        if value is not None and spec.type in (date, datetime):
            value = part_day(value) if spec.is_inexact else spec.type.fromisoformat(value)
        if isinstance(value, str):
            # Most words of a record stand in all its changes.
            value = intern(value.value if isinstance(value, StrEnum) else value)
        values[spec.name] = value
        if spec.name in kept and not _may_hold(spec, values[spec.name]):
            raise ValueError(f"{spec.name} is {value!r}")
    return values


def _may_hold(spec: FieldSpec, value: Any) -> bool:
    if value is None:
        return spec.optional
    if spec.type is float:
        return isinstance(value, int | float) and not isinstance(value, bool)
    if issubclass(spec.type, StrEnum):
        return value in _words_of(spec.type)
    return isinstance(value, spec.type)


@cache
def _words_of(choice: type[StrEnum]) -> frozenset[str]:
    return frozenset(word.value for word in choice)
