"""The tables of a fleet file, made from what the nouns say about their own fields.

Columns only: that is all that reading and writing rows needs, and a start must not wait for more.
What a column may hold is added by :mod:`hangar.store.constraints` where tables are made or faults told.
"""

from __future__ import annotations

from datetime import date, datetime
from enum import StrEnum
from typing import Any

from sqlalchemy import (
    Boolean,
    CheckConstraint,
    Column,
    Date,
    DateTime,
    Double,
    ForeignKey,
    Index,
    Integer,
    LargeBinary,
    MetaData,
    String,
    Table,
)
from sqlalchemy import text as sql_text
from sqlalchemy.types import TypeEngine

from hangar.parts import RECORD_KINDS, Record
from hangar.parts.fields import FieldSpec, columns
from hangar.parts.papers import INSIDE_MOST_BYTES

METADATA = MetaData()

_TYPES: dict[type, TypeEngine[Any]] = {
    str: String(), float: Double(), int: Integer(), date: Date(), datetime: DateTime(), bool: Boolean(),
}  # fmt: skip


def table_name(kind: type[Record]) -> str:
    """Name of the table, and of the table file, of a record kind."""
    return kind.KIND.replace("-", "_")


def _column(spec: FieldSpec) -> Column[Any]:
    held = str if issubclass(spec.type, StrEnum) else spec.type
    return Column(spec.name, _TYPES[held], nullable=spec.optional)


def _table(kind: type[Record]) -> Table:
    """The table of a record kind: its columns after a number of the row's own."""
    number = Column("id", Integer, primary_key=True)
    return Table(table_name(kind), METADATA, number, *(_column(spec) for spec in columns(kind)))


TABLES: dict[type[Record], Table] = {kind: _table(kind) for kind in RECORD_KINDS}
KIND_OF_TABLE: dict[str, type[Record]] = {table_name(kind): kind for kind in RECORD_KINDS}

EDITS = Table(
    "journal_edit",
    METADATA,
    Column("id", Integer, primary_key=True),
    Column("made_at", DateTime, nullable=False),
    Column("label", String, nullable=False),
    # done, undone (can be redone), dropped (undone, then something else was done)
    Column("state", String, nullable=False),
    Column("seat", String),
    # Counts edits, undos and redos alike: what has a higher turn than a seat has seen is news to it.
    Column("turn", Integer, nullable=False),
)
Index("ix_journal_edit_turn", EDITS.c.turn)
CHANGES = Table(
    "journal_change",
    METADATA,
    Column("id", Integer, primary_key=True),
    Column("edit", Integer, ForeignKey(EDITS.c.id), nullable=False),
    Column("kind", String, nullable=False),
    Column("key", String, nullable=False),
    Column("aircraft", String),
    Column("before", String),
    Column("after", String),
)
Index("ix_journal_change_edit", CHANGES.c.edit)
Index("ix_journal_change_key", CHANGES.c.kind, CHANGES.c.key)
Index("ix_journal_change_aircraft", CHANGES.c.aircraft)

_TOO_LONG = f"a paper inside the file holds at most {INSIDE_MOST_BYTES // 1_000_000} MB"
# By checksum, not by record: the journal then names the bytes instead of holding them, a paper that
# was removed comes back by undo, and the same picture twice takes its room once.
CONTENTS = Table(
    "attachment_content",
    METADATA,
    Column("sha256", String, primary_key=True),
    Column("content", LargeBinary, nullable=False),
    CheckConstraint(
        sql_text(f"length(content) <= {INSIDE_MOST_BYTES}"),
        name="ck_attachment_content_most",
        info={"sentence": _TOO_LONG},
    ),
)
