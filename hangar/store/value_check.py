"""Stored values that no edit could have written: the record and the field of each, in words.

SQLite looks at the pages of a file and at what its tables allow, but a column takes a value of any sort,
and a text of any bytes.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable, Iterator, Sequence
from datetime import date, datetime
from enum import StrEnum
from functools import cache
from typing import Any

from hangar.base.errors import BadInput
from hangar.base.part_day import part_day
from hangar.base.text import Text, fixed, text
from hangar.parts import KIND_BY_NAME, RECORD_KINDS, Record
from hangar.parts.fields import FieldSpec, columns
from hangar.store.codec import name_of
from hangar.store.tables import table_name

_LARGEST = "1.7e308"


class _Text(bytes):
    """A text as it lies in the file, whether or not it can be read."""


def unreadable(
    link: sqlite3.Connection,
    kinds: Iterable[type[Record]] = RECORD_KINDS,
    *,
    thorough: bool = False,
    most: int = 20,
) -> tuple[Text, ...]:
    """The records with a value that is of the wrong sort, no date, no number, no text or not allowed.

    Args:
        link: an open fleet file.
        kinds: the kinds of records to look at.
        thorough: look at every value, byte by byte, instead of asking SQLite for those of a wrong sort.
        most: at most so many are named.
    Raises: sqlite3.Error when a table cannot be read at all.
    """
    texts: list[Text] = []
    before, link.text_factory = link.text_factory, _Text
    try:
        for kind in kinds:
            for fault in _of_kind(link, kind, thorough):
                texts.append(fault)
                if len(texts) == most:
                    return tuple(texts)
    finally:
        link.text_factory = before
    return tuple(texts)


def unreadable_history(link: sqlite3.Connection) -> tuple[Text, ...]:
    """The first entry of the history with a value of a wrong sort.

    Raises: sqlite3.Error when it cannot be read at all.
    """
    for table, wrong, sentence in (
        ("journal_edit", _wrong_edit(), text("edit {number} of the history cannot be read")),
        ("journal_change", _wrong_change(), text("change {number} of the history cannot be read")),
    ):
        row = link.execute(f"SELECT id FROM {table} WHERE {wrong} LIMIT 1").fetchone()  # noqa: S608
        if row is not None:
            return (sentence.with_args(number=str(row[0])),)
    return ()


def _of_kind(link: sqlite3.Connection, kind: type[Record], thorough: bool) -> Iterator[Text]:
    condition = "" if thorough else f" WHERE {_suspect(kind.KIND)}"
    names = ", ".join(f'"{spec.name}"' for spec in columns(kind))
    statement = f'SELECT {names} FROM "{table_name(kind)}"{condition}'  # noqa: S608 names of ours
    for values in link.execute(statement):
        faults = (_fault(spec, value) for spec, value in zip(columns(kind), values, strict=True))
        fault = next((words for words in faults if words), None)
        if fault or not thorough:
            yield text(
                "{record}: {fault}",
                record=_named(kind, values),
                fault=fault or text("a value cannot be read"),
            )


@cache
def _suspect(kind_name: str) -> str:
    return " OR ".join(_wrong(f'"{spec.name}"', spec.type) for spec in columns(KIND_BY_NAME[kind_name]))


def _wrong(column: str, held: type) -> str:
    """The condition that a column holds a value of a sort that no edit writes there.

    SQLite puts numbers before texts, and texts before bytes: comparing is a quarter of the work of
    asking for the sort. The sign takes the column's own sort out of the comparison.
    """
    if held is float:
        return f"+{column} >= '' OR {column} > {_LARGEST} OR {column} < -{_LARGEST}"
    if held in (int, bool):
        return f"+{column} >= '' OR {column} <> CAST({column} AS INTEGER)"
    return f"+{column} < '' OR +{column} >= x''"


def _wrong_edit() -> str:
    second = "substr(made_at, 1, 19)"
    moment = (
        f"{second} IS NOT datetime({second}) OR NOT (length(made_at) = 19"
        " OR substr(made_at, 20) GLOB '.[0-9][0-9][0-9][0-9][0-9][0-9]')"
    )
    texts = " OR ".join(_wrong(name, str) for name in ("label", "state", "seat", "made_at"))
    return f"{texts} OR state NOT IN ('done', 'undone', 'dropped') OR {moment} OR {_wrong('turn', int)}"


def _wrong_change() -> str:
    texts = [_wrong(f'"{name}"', str) for name in ("kind", "key", "aircraft", "before", "after")]
    return " OR ".join((*texts, _wrong("edit", int), '("before" IS NULL AND "after" IS NULL)'))


def _fault(spec: FieldSpec, raw: Any) -> Text | None:
    try:
        spec.check(_value(spec, raw))
    except BadInput as fault:
        return fault.text.as_clause()
    except ValueError:
        shown = raw.decode("utf-8", "backslashreplace") if isinstance(raw, bytes) else raw
        return text("{label} is {found}, which cannot be read", label=fixed(spec.label), found=repr(shown))
    return None


def _value(spec: FieldSpec, raw: Any) -> Any:
    """A stored value as the reader would give it.

    Raises: ValueError when it cannot.
    """
    held = spec.type
    if raw is None:
        return None
    if held in (float, int, bool):
        if not isinstance(raw, int | float) or (held is bool and raw not in (0, 1)):
            raise ValueError
        return bool(raw) if held is bool else raw
    if not isinstance(raw, _Text):
        raise ValueError
    words = raw.decode("utf-8")
    if issubclass(held, StrEnum):
        return held(words)
    if spec.is_inexact:
        return part_day(words)
    return held.fromisoformat(words) if held in (date, datetime) else words


def _named(kind: type[Record], values: Sequence[Any]) -> Text:
    by_name = dict(zip((spec.name for spec in columns(kind)), values, strict=True))
    key = [by_name[name] for name in kind.KEY]
    return name_of(
        kind, [part.decode("utf-8", "backslashreplace") if isinstance(part, bytes) else part for part in key]
    )
