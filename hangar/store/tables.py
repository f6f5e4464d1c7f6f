"""The tables of a fleet file, made from what the nouns say about their own fields."""

import types
from collections.abc import Iterator
from datetime import date, datetime
from enum import StrEnum
from typing import Any

from sqlalchemy import (
    Boolean,
    CheckConstraint,
    Column,
    Constraint,
    Date,
    DateTime,
    Double,
    ForeignKeyConstraint,
    Index,
    Integer,
    MetaData,
    String,
    Table,
    UniqueConstraint,
    text,
)
from sqlalchemy.types import TypeEngine
from sqlmodel import Field, SQLModel

from hangar.parts import KIND_BY_NAME, RECORD_KINDS, Installation, PackFit, Record
from hangar.parts.fields import FieldSpec, Link, columns

METADATA: MetaData = SQLModel.metadata

SENTENCES: dict[str, str] = {}
"""What each named constraint allows, in words, for a fault that only the database noticed."""

_TYPES: dict[type, type[TypeEngine[Any]]] = {
    str: String, float: Double, int: Integer, date: Date, datetime: DateTime,
}  # fmt: skip


def table_name(kind: type[Record]) -> str:
    """Name of the table, and of the table file, of a record kind."""
    return kind.KIND.replace("-", "_")


def _named(name: str, sentence: str) -> str:
    SENTENCES[name] = sentence
    return name


def _column(kind: type[Record], spec: FieldSpec) -> Column[Any]:
    column_type: TypeEngine[Any]
    if spec.type is bool:
        name = _named(f"ck_{table_name(kind)}_{spec.name}_yes_no", f"{spec.label} must be yes or no")
        column_type = Boolean(create_constraint=True, name=name)
    else:
        column_type = _TYPES[str if issubclass(spec.type, StrEnum) else spec.type]()
    return Column(spec.name, column_type, nullable=spec.optional)


def _checks_of_field(kind: type[Record], spec: FieldSpec) -> Iterator[Constraint]:
    stem = f"ck_{table_name(kind)}_{spec.name}"
    quoted = f'"{spec.name}"'
    if issubclass(spec.type, StrEnum):
        words = ", ".join("'" + word.value.replace("'", "''") + "'" for word in spec.type)
        sentence = f"{spec.label} must be one of " + ", ".join(spec.type)
        yield CheckConstraint(text(f"{quoted} IN ({words})"), name=_named(f"{stem}_choice", sentence))
    elif spec.type is str and not spec.optional:
        name = _named(f"{stem}_given", f"{spec.label} must be given")
        yield CheckConstraint(text(f"trim({quoted}) <> ''"), name=name)
    for sign, bound, words in ((">=", spec.within.low, "least"), ("<=", spec.within.high, "most")):
        if bound is not None:
            name = _named(f"{stem}_{words}", f"{spec.label} must be at {words} {bound:g}")
            yield CheckConstraint(text(f"{quoted} {sign} {bound!r}"), name=name)


def _rules(kind: type[Record]) -> Iterator[Constraint]:
    for number, (condition, sentence) in enumerate(kind.RULES, start=1):
        name = _named(f"ck_{table_name(kind)}_rule_{number}", sentence)
        yield CheckConstraint(text(condition), name=name)


def _link(kind: type[Record], link: Link) -> Constraint:
    # Deferred: a whole edit may write in any order, and renaming a key cascades along two ways at once.
    target = KIND_BY_NAME[link.kind]
    return ForeignKeyConstraint(
        link.fields,
        [f"{table_name(target)}.{name}" for name in target.KEY],
        name=f"fk_{table_name(kind)}_{'_'.join(link.fields)}",
        onupdate="CASCADE",
        deferrable=True,
        initially="DEFERRED",
    )


def _table_args(kind: type[Record]) -> tuple[Constraint, ...]:
    key = UniqueConstraint(*kind.KEY, name=f"uq_{table_name(kind)}")
    checks = [check for spec in columns(kind) for check in _checks_of_field(kind, spec)]
    return (key, *checks, *_rules(kind), *(_link(kind, link) for link in kind.LINKS))


def _row_class(kind: type[Record]) -> type[SQLModel]:
    """The SQLModel table class of a record kind: its columns after a number of the row's own."""
    fields: dict[str, Any] = {"id": Field(sa_column=Column("id", Integer, primary_key=True))}
    annotations: dict[str, Any] = {"id": int}
    for spec in columns(kind):
        fields[spec.name] = Field(sa_column=_column(kind, spec))
        annotations[spec.name] = Any

    def fill(namespace: dict[str, Any]) -> None:
        namespace["__module__"] = __name__
        namespace["__doc__"] = kind.__doc__
        namespace["__tablename__"] = table_name(kind)
        namespace["__table_args__"] = _table_args(kind)
        namespace["__annotations__"] = annotations
        namespace["model_config"] = {"defer_build": True}
        namespace.update(fields)

    return types.new_class(f"{kind.__name__}Row", (SQLModel,), {"table": True}, fill)


ROWS: dict[type[Record], type[SQLModel]] = {kind: _row_class(kind) for kind in RECORD_KINDS}
TABLES: dict[type[Record], Table] = {
    kind: METADATA.tables[table_name(kind)] for kind in RECORD_KINDS
}  # fmt: skip
KIND_OF_TABLE: dict[str, type[Record]] = {table_name(kind): kind for kind in RECORD_KINDS}


_ONE_OPEN: list[tuple[Index, str]] = []


def _one_open(kind: type[Record], fields: tuple[str, ...], where: str, sentence: str) -> None:
    table = TABLES[kind]
    name = _named(f"one_open_{table.name}_by_{'_'.join(fields)}", sentence)
    index = Index(name, *(table.c[field] for field in fields), unique=True, sqlite_where=text(where))
    _ONE_OPEN.append((index, where))


def prepare_for_server() -> None:
    """Give the conditional indexes their condition in a server's dialect too.

    Naming the dialect loads it whole, which a fleet in a file must not wait for.
    """
    for index, where in _ONE_OPEN:
        index.dialect_kwargs["postgresql_where"] = text(where)


_OPEN = "until_on IS NULL"
_UNDISPUTED = f"{_OPEN} AND NOT disputed"
_one_open(Installation, ("servo",), _UNDISPUTED, "a servo can be in one place at a time")
_one_open(Installation, ("aircraft", "position"), _UNDISPUTED, "a position holds one servo at a time")
_one_open(PackFit, ("pack",), _OPEN, "a pack can be in one place at a time")


def _index_links() -> None:
    """Indexes that let a part find its rows without reading the whole table."""
    for kind, table in TABLES.items():
        for link in kind.LINKS:
            if kind.KEY[: len(link.fields)] != link.fields:
                Index(f"ix_{table.name}_{'_'.join(link.fields)}", *(table.c[name] for name in link.fields))


_index_links()
