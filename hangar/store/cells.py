"""One cell of a table file: how a field's value is written in it and read out of it."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from enum import StrEnum
from typing import Any

from hangar.base.errors import BadInput
from hangar.base.part_day import UNKNOWN_DAY, part_day
from hangar.base.text import Text, fixed
from hangar.base.units import convert, parse_number, parse_quantity, unit_named
from hangar.parts.fields import FieldSpec
from hangar.store.limits import NUMBER_TEXT_MOST

Raw = str | int | float | bool | date | datetime | time | None

_PLAIN_NUMBER = re.compile(r"[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?")
_ONE_COMMA = re.compile(r"[+-]?\d{1,3},\d{3}")
_DOT_GROUPS = re.compile(r"[+-]?\d{1,3}(?:\.\d{3})+")
_OFFSET = re.compile(r"D(?:([+-]\d{1,6}))?(?:[ T]+(.+))?")
_STARTS_FORMULA = ("=", "+", "-", "@", "\t", "\r")
NOT_KNOWN = ("?",)
"""What a cell of a day says that is not known; it must be given, for an empty one may be forgotten."""

_BOOLS = {
    "yes": True,
    "y": True,
    "true": True,
    "1": True,
    "no": False,
    "n": False,
    "false": False,
    "0": False,
}


@dataclass(frozen=True, slots=True)
class Habits:
    """How a table file writes: its decimal sign where that is clear, and the day its offsets count from."""

    today: date
    decimal: str | None = None


@dataclass(frozen=True, slots=True)
class Column:
    """A field and the unit in which a table's column gives it."""

    spec: FieldSpec
    header: str
    unit: str | None = None


def write_cell(value: Any) -> str:
    """A value as a table file holds it; text that a spreadsheet would run as a formula is defused."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, datetime):
        return value.isoformat(" ", "auto" if value.second or value.microsecond else "minutes")
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, float):
        return str(int(value)) if value.is_integer() and abs(value) < 1e15 else repr(value)
    if isinstance(value, int):
        return str(value)
    text = str(value)
    return f"'{text}" if text.startswith((*_STARTS_FORMULA, "'")) else text


def plain_text(raw: Raw) -> str:
    """The text of a cell, as it was before it was defused."""
    if raw is None:
        return ""
    if isinstance(raw, str):
        text = raw.strip()
        return text[1:] if text.startswith("'") and text[1:].startswith((*_STARTS_FORMULA, "'")) else text
    return write_cell(raw)


def read_cell(column: Column, raw: Raw, habits: Habits) -> tuple[Any, tuple[Text, ...]]:
    """The value of a cell for its field, with sentences on what was doubtful about it.

    Raises: BadInput saying what was found and what is allowed.
    """
    spec = column.spec
    text = plain_text(raw)
    if not text:
        # Of a stay that has no day none is known: what takes tables out writes it so.
        empty = UNKNOWN_DAY if spec.is_inexact and not spec.optional else spec.default
        return (None if spec.optional else empty), ()
    if len(text) > NUMBER_TEXT_MOST and not issubclass(spec.type, str):
        raise BadInput(
            "{label} is {count} characters long; allowed are {most}.",
            label=fixed(spec.label),
            count=len(text),
            most=NUMBER_TEXT_MOST,
        )
    if spec.type in (float, int):
        value, doubts = _number(column, raw, text, habits)
        return spec.check(value), doubts
    if isinstance(raw, str) and raw.lstrip().startswith("="):
        raise BadInput("{label} holds a formula; expected its value.", label=fixed(spec.label))
    return spec.check(_value(spec, raw, text, habits)), ()


def _value(spec: FieldSpec, raw: Raw, text: str, habits: Habits) -> Any:
    if spec.type is bool:
        return raw if isinstance(raw, bool) else _BOOLS.get(text.lower(), text)
    if spec.type is datetime:
        return read_moment(raw, text, habits.today, fixed(spec.label))
    if spec.is_inexact and (text in NOT_KNOWN or re.fullmatch(r"\d{4}(?:-\d\d)?", text)):
        return _known_part(spec, text)
    if spec.type is date:
        return read_moment(raw, text, habits.today, fixed(spec.label)).date()
    if issubclass(spec.type, StrEnum):
        squeezed = _squeezed(text)
        return next((word for word in spec.type if _squeezed(word) == squeezed), text)
    return text


def _known_part(spec: FieldSpec, text: str) -> date:
    try:
        return UNKNOWN_DAY if text in NOT_KNOWN else part_day(text)
    except ValueError as fault:
        raise BadInput(
            "{label} is {text}; expected YYYY-MM-DD, YYYY-MM or YYYY.", label=spec.label, text=repr(text)
        ) from fault


def _squeezed(words: str) -> str:
    return re.sub(r"[\s_-]", "", words).lower()


def read_moment(raw: Raw, text: str, today: date, label: Text) -> datetime:
    """A day or moment: YYYY-MM-DD with or without a time, or days from today as D-12.

    Raises: BadInput when it is written otherwise.
    """
    if isinstance(raw, datetime):
        return raw
    if isinstance(raw, date):
        return datetime.combine(raw, time())
    offset = _OFFSET.fullmatch(text)
    try:
        if offset:
            day = today + timedelta(days=int(offset[1] or 0))
            return datetime.combine(day, time.fromisoformat(offset[2].strip()) if offset[2] else time())
        if re.match(r"\d{4}-\d\d-\d\d", text):
            return datetime.fromisoformat(text).replace(tzinfo=None)
    except (ValueError, OverflowError):
        pass
    raise BadInput(
        "{label} is {found}; expected a date YYYY-MM-DD or days from today such as D-12.",
        label=label,
        found=repr(text),
    )


def _number(column: Column, raw: Raw, text: str, habits: Habits) -> tuple[float, tuple[Text, ...]]:
    stored = column.spec.unit
    if isinstance(raw, bool | date | time):
        raise BadInput(
            "{label} is {found}; expected a number.", label=fixed(column.spec.label), found=repr(text)
        )
    if isinstance(raw, int | float):
        return _stored(float(raw), column.unit, stored), ()
    if _PLAIN_NUMBER.fullmatch(text) and not (habits.decimal == "," and _DOT_GROUPS.fullmatch(text)):
        return _stored(float(text), column.unit, stored), ()
    text = settled_decimal(text, habits.decimal)
    if stored is None:
        try:
            value, doubt = parse_number(text)
        except BadInput as fault:
            raise BadInput(
                "{label} is {found}; expected a number.", label=fixed(column.spec.label), found=repr(text)
            ) from fault
        return value, (doubt,) if doubt else ()
    read = parse_quantity(text, unit_named(stored).kind, column.unit or stored)
    return _stored(read.value, read.unit, stored), read.doubts


def settled_decimal(text: str, decimal: str | None) -> str:
    """A number whose comma or dots could be read two ways, written in the way its file has shown."""
    if decimal == "," and _ONE_COMMA.fullmatch(text):
        return text.replace(",", ".")
    if decimal == "," and _DOT_GROUPS.fullmatch(text):
        return text.replace(".", "")
    return text


def _stored(value: float, given: str | None, stored: str | None) -> float:
    return convert(value, given, stored) if given and stored and given != stored else value
