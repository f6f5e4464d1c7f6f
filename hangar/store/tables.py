"""The tables of a fleet file, made from what the nouns say about their own fields.

Columns only: that is all that reading and writing rows needs, and a start must not wait for more.
What a column may hold is added by :mod:`hangar.store.constraints` where tables are made or faults told.
"""

from __future__ import annotations

from datetime import date, datetime
from enum import StrEnum
from typing import Any

from sqlalchemy import Boolean, Column, Date, DateTime, Double, Integer, MetaData, String, Table
from sqlalchemy.types import TypeEngine

from hangar.parts import RECORD_KINDS, Record
from hangar.parts.fields import FieldSpec, columns

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
