"""The tables of a fleet file as SQLModel classes, made from what the nouns say about their own fields.

Columns only: that is all that reading and writing rows needs, and a start must not wait for more.
What a column may hold is added by :mod:`hangar.store.constraints` where tables are made or faults told.

A row is an object of one of these classes only while it is written; what leaves the store are frozen parts.
"""

from __future__ import annotations

import types
from datetime import date, datetime
from enum import StrEnum
from typing import Any, ClassVar

from sqlalchemy import (
    Boolean,
    CheckConstraint,
    Date,
    DateTime,
    Double,
    Index,
    Integer,
    LargeBinary,
    MetaData,
    String,
    Table,
)
from sqlalchemy import text as sql_text
from sqlalchemy.types import TypeDecorator
from sqlmodel import Field, SQLModel

from hangar.base.part_day import part_day
from hangar.parts import RECORD_KINDS, Record
from hangar.parts.fields import FieldSpec, columns
from hangar.parts.papers import INSIDE_MOST_BYTES

METADATA = MetaData()

_TYPES: dict[type, type[Any]] = {
    str: String, float: Double, int: Integer, date: Date, datetime: DateTime, bool: Boolean,
}  # fmt: skip


class InexactDay(TypeDecorator[date]):
    """A day as the text of what is known of it: "1997-05-14", "1997-05", "1997", or "" for nothing."""

    impl = String
    cache_ok = True

    def process_bind_param(self, value: date | None, dialect: object) -> str | None:  # noqa: ARG002
        return None if value is None else value.isoformat()

    def process_result_value(self, value: str | None, dialect: object) -> date | None:  # noqa: ARG002
        return None if value is None else part_day(value)


class StoredRow(SQLModel):
    """Base of every row of a fleet: all tables are listed together.

    Values were checked before they come here, so no class has to know how to check its own.
    """

    metadata: ClassVar[MetaData] = METADATA
    model_config = {"defer_build": True}


def table_name(kind: type[Record]) -> str:
    """Name of the table, and of the table file, of a record kind."""
    return kind.KIND.replace("-", "_")


def _held(spec: FieldSpec) -> type:
    return str if issubclass(spec.type, StrEnum) else spec.type


def _row_class(kind: type[Record]) -> Any:
    """The class of a record kind's rows: its fields after a number of the row's own."""
    fields = columns(kind)

    def declare(namespace: dict[str, Any]) -> None:
        namespace["__module__"] = __name__
        namespace["__doc__"] = kind.__doc__
        namespace["__tablename__"] = table_name(kind)
        namespace["__annotations__"] = {
            "id": int | None,
            **{spec.name: _held(spec) | None if spec.optional else _held(spec) for spec in fields},
        }
        namespace["id"] = Field(default=None, primary_key=True)
        for spec in fields:
            kept = InexactDay if spec.is_inexact else _TYPES[_held(spec)]
            namespace[spec.name] = Field(sa_type=kept, nullable=spec.optional)

    return types.new_class(f"{kind.__name__}Row", (StoredRow,), {"table": True}, declare)


ROW_OF: dict[type[Record], Any] = {kind: _row_class(kind) for kind in RECORD_KINDS}
"""The class of the rows of each kind; its attributes are the columns, to ask for and to compare."""

TABLES: dict[type[Record], Table] = {kind: row.__table__ for kind, row in ROW_OF.items()}
KIND_OF_TABLE: dict[str, type[Record]] = {table_name(kind): kind for kind in RECORD_KINDS}


class JournalEdit(StoredRow, table=True):
    """One edit of the fleet on record."""

    __tablename__ = "journal_edit"

    id: int | None = Field(default=None, primary_key=True)
    made_at: datetime = Field(sa_type=DateTime)
    label: str
    state: str
    """done, undone (can be redone), dropped (undone, then something else was done)"""
    seat: str | None = None
    turn: int = Field(index=True)
    """Counts edits, undos and redos alike: what has a higher turn than a seat has seen is news to it."""
    check_sum: str | None = None
    """Of all of the above but the number; see ``check_sums``."""


class JournalChange(StoredRow, table=True):
    """One row changed by an edit: as it stood before and after."""

    __tablename__ = "journal_change"
    __table_args__ = (Index("ix_journal_change_key", "kind", "key"),)

    id: int | None = Field(default=None, primary_key=True)
    edit: int = Field(foreign_key="journal_edit.id", index=True)
    kind: str
    key: str
    aircraft: str | None = Field(default=None, index=True)
    before: str | None = None
    after: str | None = None
    check_sum: str | None = None
    """Of all of the above but the number; see ``check_sums``."""


_TOO_LONG = f"a paper inside the file holds at most {INSIDE_MOST_BYTES // 1_000_000} MB"


class PaperContent(StoredRow, table=True):
    """The bytes of a paper.

    By checksum, not by record: the journal then names the bytes instead of holding them, a paper that
    was removed comes back by undo, and the same picture twice takes its room once.
    """

    __tablename__ = "attachment_content"
    __table_args__ = (
        CheckConstraint(
            sql_text(f"length(content) <= {INSIDE_MOST_BYTES}"),
            name="ck_attachment_content_most",
            info={"sentence": _TOO_LONG},
        ),
    )

    sha256: str = Field(primary_key=True)
    content: bytes = Field(sa_type=LargeBinary)
