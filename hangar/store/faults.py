"""Faults of the database as sentences: which record, which field, which rule."""

from __future__ import annotations

import errno
import re
import sqlite3
from functools import cache
from typing import Any

from sqlalchemy import UniqueConstraint
from sqlalchemy.exc import DBAPIError

from hangar.base.errors import BadInput, HangarError, StoreFault
from hangar.base.text import NOTHING, Text, fixed, text
from hangar.parts import KIND_BY_NAME, Record
from hangar.store.codec import name_of
from hangar.store.constraints import sentences, whole_schema
from hangar.store.tables import KIND_OF_TABLE, TABLES

READ_ONLY = text("the file or its folder is read-only")
_LOST, _AWAY = "08", "no-server"
_SURROUNDINGS = {
    "SQLITE_READONLY_DBMOVED": text("the file was moved or removed while it was open"),
    "SQLITE_FULL": text("the disk is full"),
    "SQLITE_READONLY": READ_ONLY,
    "SQLITE_BUSY": text("another program is writing to the file"),
    "SQLITE_LOCKED": text("another program is writing to the file"),
    "SQLITE_IOERR": text("the disk reported a fault"),
    "SQLITE_CORRUPT": text("the file is damaged"),
    "SQLITE_NOTADB": text("the file is damaged"),
    "SQLITE_CANTOPEN": text("the file or its folder cannot be opened"),
    "53100": text("the disk of the server is full"),
    "25006": text("the server allows reading only"),
    "55P03": text("somebody else is writing"),
    "40001": text("somebody else changed the same records"),
    "40P01": text("somebody else changed the same records"),
    _LOST: text("the connection to the server is lost"),
    _AWAY: text("the server cannot be reached"),
    "57P": text("the server is shutting down or just starting"),
    "42501": text("the server does not allow it to this name"),
    "28": text("the server refused the name or password"),
    "42P01": text("a table is missing in the database of the server"),
    "42703": text("a column is missing in a table on the server"),
}

_SAVED = text("saved")
READ = text("read")
"""What was to be done with the file when the database refused."""
_NO_PART = text("a record names a part that is not in the file")
_TAKEN = text("there is one with the same name already")


@cache
def _unique_by_columns() -> dict[tuple[str, tuple[str, ...]], str]:
    by_table = {}
    for table in whole_schema().tables.values():
        for constraint in table.constraints:
            if isinstance(constraint, UniqueConstraint):
                by_table[table.name, tuple(column.name for column in constraint.columns)] = str(
                    constraint.name
                )
        for index in table.indexes:
            if index.unique:
                by_table[table.name, tuple(column.name for column in index.columns)] = str(index.name)
    return by_table


def in_words(fault: DBAPIError, about: Text = NOTHING, done: Text = _SAVED) -> HangarError:
    """The error to raise for a fault of the database; ``about`` names the record in hand."""
    origin = fault.orig
    code = _LOST if fault.connection_invalidated else _code(origin)
    for start, words in _SURROUNDINGS.items():
        if code.startswith(start):
            return StoreFault("Not {done}: {words}.", done=done, words=words)
    sentence = _broken_constraint(origin)
    if sentence is None:
        return StoreFault("Not {done}: {cause}.", done=done, cause=one_line(origin))
    wording, is_link = sentence
    # A link is judged when the edit ends; the record then in hand has nothing to do with it.
    if not about or is_link:
        return BadInput(wording.as_sentence())
    return BadInput("{about}: {sentence}.", about=about, sentence=wording)


def cause_on_server(fault: DBAPIError) -> Text | str:
    """Why a server did not do what it was asked, in words of ours where there are any, else in one line."""
    code = _code(fault.orig)
    sentence = next((words for start, words in _SURROUNDINGS.items() if code.startswith(start)), None)
    # Whoever is given no connection is told why by the driver alone.
    return sentence if sentence is not None and code != _AWAY else one_line(fault.orig)


def one_line(fault: object) -> str:
    """The first line of what a driver says, without the full stop that ours ends with.

    >>> one_line("connection failed.\\n\\tIs the server running?")
    'connection failed'
    """
    first, *_ = str(fault).strip().splitlines() or [""]
    return " ".join(first.split()).removesuffix(".")


def cause_of(fault: sqlite3.Error) -> Text | str:
    """Why a file cannot be opened, in words of ours where there are any."""
    code = _code(fault)
    return next((words for start, words in _SURROUNDINGS.items() if code.startswith(start)), str(fault))


def is_damage(fault: sqlite3.Error) -> bool:
    """Whether a fault says that the file itself is spoiled, not what surrounds it."""
    return _code(fault).startswith(("SQLITE_CORRUPT", "SQLITE_NOTADB", "SQLITE_FORMAT", "SQLITE_SCHEMA"))


def hindrance_of(fault: OSError) -> Text | str:
    """Why nothing can be written, in words of ours where there are any."""
    if fault.errno in (errno.ENOSPC, errno.EDQUOT):
        return _SURROUNDINGS["SQLITE_FULL"]
    return READ_ONLY if fault.errno in (errno.EROFS, errno.EACCES, errno.EPERM) else str(fault.strerror)


def _code(origin: Any) -> str:
    if isinstance(origin, sqlite3.OperationalError) and "decode to UTF-8" in str(origin):
        return "SQLITE_CORRUPT"
    if isinstance(origin, sqlite3.Error):
        return str(getattr(origin, "sqlite_errorname", "") or "")
    if origin is None:
        return _LOST
    # Whoever is given no connection is given no code either.
    return str(getattr(origin, "sqlstate", "") or _AWAY) if hasattr(origin, "sqlstate") else ""


def _broken_constraint(origin: Any) -> tuple[Text, bool] | None:
    """What a row broke, and whether it is a link to another record."""
    diagnosis = getattr(origin, "diag", None)
    if diagnosis is not None:
        return _server_words(diagnosis)
    fault = str(origin)
    check = re.search(r"CHECK constraint failed: (\w+)", fault)
    if check and check[1] in sentences():
        return sentences()[check[1]], False
    unique = re.search(r"UNIQUE constraint failed: (.+)", fault)
    if unique:
        parts = [part.strip().split(".") for part in unique[1].split(",")]
        name = _unique_by_columns().get((parts[0][0], tuple(part[1] for part in parts if len(part) > 1)), "")
        return sentences().get(name, _TAKEN), False
    given = re.search(r"NOT NULL constraint failed: \w+\.(\w+)", fault)
    if given:
        return text("{field} must be given", field=given[1]), False
    return (_NO_PART, True) if "FOREIGN KEY" in fault else None


def _server_words(diagnosis: Any) -> tuple[Text, bool] | None:
    name = diagnosis.constraint_name or ""
    if name in sentences():
        return sentences()[name], False
    if name.startswith("uq_"):
        return _TAKEN, False
    if name.startswith("fk_"):
        return _server_link(diagnosis, name), True
    if diagnosis.column_name:
        return text("{field} must be given", field=diagnosis.column_name), False
    return None


def _server_link(diagnosis: Any, name: str) -> Text:
    values = re.search(r"=\((.*?)\)", diagnosis.message_detail or "")
    key = values[1].split(", ") if values else []
    kind = KIND_OF_TABLE.get(diagnosis.table_name)
    for link in kind.LINKS if kind else ():
        if kind and name == f"fk_{diagnosis.table_name}_{'_'.join(link.fields)}":
            return text(
                "the {kind} names {record}, which is not in the file",
                kind=fixed(kind.TITLE),
                record=name_of(KIND_BY_NAME[link.kind], key),
            )
    return _NO_PART


def broken_link(link: sqlite3.Connection) -> Text | None:
    """The first row that names a part that is not there, in words; looks through the whole file."""
    broken = link.execute("PRAGMA foreign_key_check").fetchone()
    if broken is None:
        return None
    table, row_id, parent, number = broken
    kind = KIND_OF_TABLE.get(table)
    if kind is None:
        return text("a row of {table} names a {parent} that is not in the file", table=table, parent=parent)
    fields = [
        row[3] for row in link.execute(f'PRAGMA foreign_key_list("{table}")').fetchall() if row[0] == number
    ]
    names = ", ".join(f'"{name}"' for name in (*kind.KEY, *fields))
    row = link.execute(f'SELECT {names} FROM "{table}" WHERE id = ?', (row_id,)).fetchone()  # noqa: S608
    key, wanted = row[: len(kind.KEY)], row[len(kind.KEY) :]
    return text(
        "{record} names {other}, which is not in the file",
        record=name_of(kind, key),
        other=name_of(KIND_OF_TABLE[parent], wanted),
    )


def links_to(kind: type[Record]) -> list[tuple[type[Record], tuple[str, ...], bool]]:
    """Every kind that names this one: the kind, its fields, and whether it goes when this one goes."""
    return [
        (other, link.fields, link.owned or link.goes_along)
        for other in TABLES
        for link in other.LINKS
        if link.kind == kind.KIND
    ]
