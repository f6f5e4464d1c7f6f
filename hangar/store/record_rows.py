"""Rows of the tables as records, in one session: the only place that asks for records and writes them.

Columns are asked for, not whole objects: a row becomes a frozen record, and making an object of it first
would double the time. A row is an object while it is written.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import suppress
from enum import StrEnum
from functools import cache
from typing import Any, TypeVar

from sqlalchemy import bindparam, delete, insert, tuple_
from sqlalchemy.exc import DBAPIError
from sqlalchemy.sql.elements import ColumnElement
from sqlmodel import Session, select
from sqlmodel.sql.expression import Select, SelectOfScalar

from hangar.base.errors import BadInput, StoreFault
from hangar.base.text import Text, fixed, listed, text
from hangar.parts import KIND_BY_NAME, Record
from hangar.parts.fields import columns
from hangar.store.codec import Key, name_of, reader_of, shape_of
from hangar.store.faults import is_damage
from hangar.store.tables import ROW_OF
from hangar.store.value_check import unreadable

R = TypeVar("R", bound=Record)
T = TypeVar("T")
AS_IT_STANDS = {"synchronize_session": False}
"""With a statement that changes many rows: no object is held that would have to follow."""
_AT_ONCE = 500
"""So many keys are named in one statement; a file and a server both take more."""


# The caches go by the name of a kind: a class is no key to the type checker.


def select_all(kind: type[Record]) -> Select[Any]:
    """Every row of a kind, the columns in the order of its fields."""
    return _select_all(kind.KIND)


@cache
def _select_all(kind_name: str) -> Select[Any]:
    kind = KIND_BY_NAME[kind_name]
    return select_columns(*(getattr(ROW_OF[kind], name) for name in shape_of(kind).names))


def select_columns(*wanted: Any) -> Select[Any]:
    """A question for some columns, however many; one row each, even when it is one column only."""
    # SQLModel declares no more than four.
    made: Select[Any] = Select(*wanted)
    return made


def _is_key(kind: type[Record]) -> list[ColumnElement[bool]]:
    return [getattr(ROW_OF[kind], name) == bindparam(f"key_{name}") for name in kind.KEY]


@cache
def _by_key(kind_name: str) -> Select[Any]:
    kind = KIND_BY_NAME[kind_name]
    return select_all(kind).where(*_is_key(kind))


@cache
def _object_by_key(kind_name: str) -> SelectOfScalar[Any]:
    kind = KIND_BY_NAME[kind_name]
    return select(ROW_OF[kind]).where(*_is_key(kind))


def key_of_values(kind: type[Record], values: Mapping[str, Any]) -> Key:
    """The key among a row's values."""
    return tuple(values[name] for name in kind.KEY)


def checked_key(kind: type[Record], key: Sequence[Any]) -> Key:
    """A key as the rows hold it.

    Raises: BadInput when it has too few or too many parts.
    """
    if isinstance(key, str) or len(key) != len(kind.KEY):
        raise BadInput(
            "{kind} is named by {names}; found {found}.",
            kind=fixed(kind.TITLE),
            names=listed(kind.KEY, joint=",", most=0),
            found=repr(key),
        )
    return tuple(part.value if isinstance(part, StrEnum) else part for part in key)


class Rows:
    """Reads and writes rows in a session whose transaction somebody else begins and ends."""

    def __init__(self, session: Session) -> None:
        self.session = session

    def row(self, kind: type[Record], key: Key) -> dict[str, Any] | None:
        """The values of the row with this key."""
        bound = _bound(kind, key)
        row_read = self._asked(kind, lambda: self.session.exec(_by_key(kind.KIND), params=bound).first())
        return None if row_read is None else dict(zip(shape_of(kind).names, row_read, strict=True))

    def rows(self, kind: type[Record], /, **equal: Any) -> list[dict[str, Any]]:
        """The values of all rows whose fields equal the given ones."""
        names = shape_of(kind).names
        statement = _where(kind, equal)
        rows_read = self._asked(kind, lambda: self.session.exec(statement).all())
        return [dict(zip(names, row, strict=True)) for row in rows_read]

    def rows_of(self, kind: type[Record], keys: Sequence[Key]) -> dict[Key, dict[str, Any]]:
        """The values of the rows with these keys, by key; one that is not there is left out."""
        rows: dict[Key, dict[str, Any]] = {}
        names = shape_of(kind).names
        for some in _some_at_once(keys):
            statement = select_all(kind).where(_is_one_of(kind, some))
            for row in self._asked(kind, lambda: self.session.exec(statement).all()):  # noqa: B023 asked at once
                values = dict(zip(names, row, strict=True))
                rows[key_of_values(kind, values)] = values
        return rows

    def keys(self, kind: type[Record]) -> set[Key]:
        """The keys of every row of a kind."""
        statement = select_columns(*(getattr(ROW_OF[kind], name) for name in kind.KEY))
        return {tuple(row) for row in self._asked(kind, lambda: self.session.exec(statement).all())}

    def read(self, kind: type[R], statement: Select[Any], **bound: Any) -> tuple[R, ...]:
        """The records of a selection, in the order of their keys, without their children.

        Args:
            kind: what is read.
            statement: asks for every column of that kind; see :func:`select_all`.
            bound: values of the names that the statement leaves open.
        """
        read = reader_of(kind)
        key = kind.KEY

        def records() -> tuple[R, ...]:
            records_read = [read(row) for row in self.session.exec(statement, params=bound).all()]
            records_read.sort(key=lambda record: tuple(map(record.__dict__.__getitem__, key)))
            return tuple(records_read)

        return self._asked(kind, records)

    def _asked(self, kind: type[Record], ask: Callable[[], T]) -> T:
        """What the rows of a kind answer.

        Raises: StoreFault naming the record when a value in the file cannot be read.
        """
        try:
            return ask()
        except (ValueError, LookupError, TypeError) as fault:
            raise self._damaged(kind) from fault
        except DBAPIError as fault:
            if not isinstance(fault.orig, sqlite3.Error) or not is_damage(fault.orig):
                raise
            raise self._damaged(kind) from fault

    def _damaged(self, kind: type[Record]) -> StoreFault:
        named: tuple[Text, ...] = ()
        file = self.session.connection().connection.dbapi_connection
        if isinstance(file, sqlite3.Connection):
            with suppress(sqlite3.Error):
                named = unreadable(file, [kind], thorough=True, most=1)
        unread = text("a {kind} cannot be read", kind=fixed(kind.TITLE))
        return StoreFault("The file is damaged: {what}.", what=named[0] if named else unread)

    def records(self, kind: type[R], /, **equal: Any) -> tuple[R, ...]:
        """The records whose fields equal the given ones, with their children."""
        records_read = self.read(kind, _where(kind, equal))
        for name, child_name in shape_of(kind).children:
            records_read = self._with_children(records_read, name, KIND_BY_NAME[child_name])
        return records_read

    def record(self, kind: type[R], key: Sequence[Any]) -> R | None:
        """The record with this key, with its children."""
        plain = checked_key(kind, key)
        return next(iter(self.records(kind, **dict(zip(kind.KEY, plain, strict=True)))), None)

    def _with_children(self, owners: tuple[R, ...], name: str, child: type[Record]) -> tuple[R, ...]:
        link = next(link for link in child.LINKS if link.owned)
        statement = select_all(child)
        if len(owners) == 1:
            owner_key = _bound_fields(link.fields, [getattr(owners[0], part) for part in owners[0].KEY])
            statement = _where(child, owner_key)
        return hang(owners, name, self.read(child, statement) if owners else (), link.fields)

    def insert(self, kind: type[Record], rows: Sequence[Mapping[str, Any]]) -> None:
        """Add rows."""
        if len(rows) == 1:
            self.session.add(ROW_OF[kind](**rows[0]))
            self.write()
        elif rows:
            self.session.exec(insert(ROW_OF[kind]), params=rows)

    def update(self, kind: type[Record], key: Key, values: Mapping[str, Any]) -> None:
        """Give the row with this key other values; a new key reaches every row that names it."""
        row = self._object(kind, key)
        for name, value in values.items():
            setattr(row, name, value)
        self.write()

    def delete(self, kind: type[Record], keys: Iterable[Key]) -> None:
        """Take rows away."""
        remaining = list(keys)
        if len(remaining) == 1:
            self.session.delete(self._object(kind, remaining[0]))
            self.write()
            return
        for some in _some_at_once(remaining):
            gone = delete(ROW_OF[kind]).where(_is_one_of(kind, some))
            self.session.exec(gone, execution_options=AS_IT_STANDS)

    def _object(self, kind: type[Record], key: Key) -> Any:
        statement = _object_by_key(kind.KIND)
        return self._asked(kind, lambda: self.session.exec(statement, params=_bound(kind, key)).one())

    def write(self) -> None:
        """Write what was added, changed or deleted, and hold no object longer.

        The database gives a new key to all that name a record: an object kept would not know.
        """
        self.session.flush()
        self.session.expunge_all()


def _some_at_once(keys: Sequence[Key]) -> Iterator[Sequence[Key]]:
    return (keys[first : first + _AT_ONCE] for first in range(0, len(keys), _AT_ONCE))


def _is_one_of(kind: type[Record], keys: Sequence[Key]) -> ColumnElement[bool]:
    named = [getattr(ROW_OF[kind], name) for name in kind.KEY]
    is_one: ColumnElement[bool] = (
        named[0].in_([key[0] for key in keys]) if len(named) == 1 else tuple_(*named).in_(keys)
    )
    return is_one


def hang(
    owners: tuple[R, ...], name: str, children: Iterable[Record], fields: tuple[str, ...]
) -> tuple[R, ...]:
    """Hang children below the owners that they name, keeping the children's order."""
    by_owner: dict[Key, list[Record]] = {}
    for child in children:
        by_owner.setdefault(tuple(getattr(child, field) for field in fields), []).append(child)
    for owner in owners:
        own = by_owner.get(tuple(getattr(owner, part) for part in owner.KEY))
        if own:
            # The owner was read a moment ago and nobody else holds it yet.
            owner.__dict__[name] = tuple(own)
    return owners


def _bound(kind: type[Record], key: Key) -> dict[str, Any]:
    return {f"key_{name}": part for name, part in zip(kind.KEY, key, strict=True)}


def _bound_fields(fields: tuple[str, ...], key: Sequence[Any]) -> dict[str, Any]:
    return dict(zip(fields, key, strict=True))


def _where(kind: type[Record], equal: Mapping[str, Any]) -> Select[Any]:
    row = ROW_OF[kind]
    statement = select_all(kind)
    known = {spec.name for spec in columns(kind)}
    for name, value in equal.items():
        if name not in known:
            raise BadInput(
                "{kind} has no field {name}; it has {names}.",
                kind=fixed(kind.TITLE),
                name=name,
                names=listed(sorted(known), joint=",", most=0),
            )
        plain = value.value if isinstance(value, StrEnum) else value
        column = getattr(row, name)
        statement = statement.where(column.is_(None) if plain is None else column == plain)
    return statement


def missing(kind: type[Record], key: Sequence[Any]) -> BadInput:
    """The fault that a record asked for is not in the file."""
    return BadInput("There is no {record} in the file.", record=name_of(kind, key))
