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
from hangar.parts import KIND_BY_NAME, Record
from hangar.store.codec import name_of
from hangar.store.constraints import sentences, whole_schema
from hangar.store.tables import KIND_OF_TABLE, TABLES

READ_ONLY = "the file or its folder is read-only"
_LOST, _AWAY = "08", "no-server"
_SURROUNDINGS = {
    "SQLITE_READONLY_DBMOVED": "the file was moved or removed while it was open",
    "SQLITE_FULL": "the disk is full",
    "SQLITE_READONLY": READ_ONLY,
    "SQLITE_BUSY": "another program is writing to the file",
    "SQLITE_LOCKED": "another program is writing to the file",
    "SQLITE_IOERR": "the disk reported a fault",
    "SQLITE_CORRUPT": "the file is damaged",
    "SQLITE_NOTADB": "the file is damaged",
    "SQLITE_CANTOPEN": "the file or its folder cannot be opened",
    "53100": "the disk of the server is full",
    "25006": "the server allows reading only",
    "55P03": "somebody else is writing",
    "40001": "somebody else changed the same records",
    "40P01": "somebody else changed the same records",
    _LOST: "the connection to the server is lost",
    _AWAY: "the server cannot be reached",
    "57P": "the server is shutting down or just starting",
    "42501": "the server does not allow it to this name",
    "28": "the server refused the name or password",
}

_LINK = "names"


@cache
def _unique_by_columns() -> dict[tuple[str, tuple[str, ...]], str]:
    found = {}
    for table in whole_schema().tables.values():
        for constraint in table.constraints:
            if isinstance(constraint, UniqueConstraint):
                found[table.name, tuple(column.name for column in constraint.columns)] = str(constraint.name)
        for index in table.indexes:
            if index.unique:
                found[table.name, tuple(column.name for column in index.columns)] = str(index.name)
    return found


def in_words(fault: DBAPIError, about: str = "", done: str = "saved") -> HangarError:
    """The error to raise for a fault of the database; ``about`` names the record in hand."""
    origin = fault.orig
    code = _LOST if fault.connection_invalidated else _code(origin)
    for start, words in _SURROUNDINGS.items():
        if code.startswith(start):
            return StoreFault(f"Not {done}: {words}.")
    sentence = _broken_constraint(origin)
    if sentence is None:
        return StoreFault(f"Not {done}: {str(origin).strip()}.")
    # A link is judged when the edit ends; the record then in hand has nothing to do with it.
    if not about or _LINK in sentence:
        return BadInput(f"{sentence[0].upper()}{sentence[1:]}.")
    return BadInput(f"{about}: {sentence}.")


def cause_of(fault: sqlite3.Error) -> str:
    """Why a file cannot be opened, in words of ours where there are any."""
    code = _code(fault)
    return next((words for start, words in _SURROUNDINGS.items() if code.startswith(start)), str(fault))


def is_damage(fault: sqlite3.Error) -> bool:
    """Whether a fault says that the file itself is spoiled, not what surrounds it."""
    return _code(fault).startswith(("SQLITE_CORRUPT", "SQLITE_NOTADB", "SQLITE_FORMAT", "SQLITE_SCHEMA"))


def hindrance_of(fault: OSError) -> str:
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


def _broken_constraint(origin: Any) -> str | None:
    diagnosis = getattr(origin, "diag", None)
    if diagnosis is not None:
        return _server_words(diagnosis)
    text = str(origin)
    check = re.search(r"CHECK constraint failed: (\w+)", text)
    if check and check[1] in sentences():
        return sentences()[check[1]]
    unique = re.search(r"UNIQUE constraint failed: (.+)", text)
    if unique:
        parts = [part.strip().split(".") for part in unique[1].split(",")]
        name = _unique_by_columns().get((parts[0][0], tuple(part[1] for part in parts if len(part) > 1)), "")
        return sentences().get(name, "there is one with the same name already")
    given = re.search(r"NOT NULL constraint failed: \w+\.(\w+)", text)
    if given:
        return f"{given[1]} must be given"
    return f"a record {_LINK} a part that is not in the file" if "FOREIGN KEY" in text else None


def _server_words(diagnosis: Any) -> str | None:
    name = diagnosis.constraint_name or ""
    if name in sentences():
        return sentences()[name]
    if name.startswith("uq_"):
        return "there is one with the same name already"
    if name.startswith("fk_"):
        return _server_link(diagnosis, name)
    if diagnosis.column_name:
        return f"{diagnosis.column_name} must be given"
    return None


def _server_link(diagnosis: Any, name: str) -> str:
    values = re.search(r"=\((.*?)\)", diagnosis.message_detail or "")
    key = values[1].split(", ") if values else []
    kind = KIND_OF_TABLE.get(diagnosis.table_name)
    for link in kind.LINKS if kind else ():
        if kind and name == f"fk_{diagnosis.table_name}_{'_'.join(link.fields)}":
            return (
                f"the {kind.TITLE} {_LINK} {name_of(KIND_BY_NAME[link.kind], key)}, which is not in the file"
            )
    return f"a record {_LINK} a part that is not in the file"


def broken_link(link: sqlite3.Connection) -> str | None:
    """The first row that names a part that is not there, in words; looks through the whole file."""
    found = link.execute("PRAGMA foreign_key_check").fetchone()
    if found is None:
        return None
    table, row_id, parent, number = found
    kind = KIND_OF_TABLE.get(table)
    if kind is None:
        return f"a row of {table} {_LINK} a {parent} that is not in the file"
    fields = [
        row[3] for row in link.execute(f'PRAGMA foreign_key_list("{table}")').fetchall() if row[0] == number
    ]
    names = ", ".join(f'"{name}"' for name in (*kind.KEY, *fields))
    row = link.execute(f'SELECT {names} FROM "{table}" WHERE id = ?', (row_id,)).fetchone()  # noqa: S608
    own, wanted = row[: len(kind.KEY)], row[len(kind.KEY) :]
    return f"{name_of(kind, own)} {_LINK} {name_of(KIND_OF_TABLE[parent], wanted)}, which is not in the file"


def links_to(kind: type[Record]) -> list[tuple[type[Record], tuple[str, ...], bool]]:
    """Every kind that names this one: the kind, its fields, and whether it goes when this one goes."""
    return [
        (other, link.fields, link.owned or link.goes_along)
        for other in TABLES
        for link in other.LINKS
        if link.kind == kind.KIND
    ]
