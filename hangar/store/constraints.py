"""What the tables hold their rows to, and each constraint in words: ranges, choices, keys and links."""

from __future__ import annotations

from collections.abc import Iterator
from enum import StrEnum
from functools import cache
from threading import RLock

from sqlalchemy import (
    CheckConstraint,
    Constraint,
    ForeignKeyConstraint,
    Index,
    MetaData,
    UniqueConstraint,
)
from sqlalchemy import (
    text as sql,
)

from hangar.base.text import Text, fixed, listed, text
from hangar.parts import KIND_BY_NAME, Installation, PackFit, Record
from hangar.parts.fields import FieldSpec, Link, columns
from hangar.store.tables import METADATA, TABLES, table_name

_SENTENCES: dict[str, Text] = {}
_ONE_OPEN: list[tuple[Index, str]] = []
_OPEN = "until_on IS NULL"
_UNDISPUTED = f"{_OPEN} AND NOT disputed"


_ONE_AT_A_TIME = RLock()


def whole_schema() -> MetaData:
    """The tables with every constraint and index, as a new file or server is given them."""
    # Two threads that ask first at the same moment would give every table its constraints twice.
    with _ONE_AT_A_TIME:
        return _whole_schema()


@cache
def _whole_schema() -> MetaData:
    for kind, table in TABLES.items():
        for constraint in _constraints(kind):
            table.append_constraint(constraint)
    _one_open(Installation, ("servo",), _UNDISPUTED, text("a servo can be in one place at a time"))
    _one_open(
        Installation, ("aircraft", "position"), _UNDISPUTED, text("a position holds one servo at a time")
    )
    _one_open(PackFit, ("pack",), _OPEN, text("a pack can be in one place at a time"))
    _index_links()
    for table in METADATA.tables.values():
        for constraint in table.constraints:
            if "sentence" in constraint.info:
                _SENTENCES[str(constraint.name)] = constraint.info["sentence"]
    return METADATA


def sentences() -> dict[str, Text]:
    """What each named constraint allows, in words, for a fault that only the database noticed."""
    whole_schema()
    return _SENTENCES


def prepare_for_server() -> None:
    """Give the conditional indexes their condition in a server's dialect too.

    Naming the dialect loads it whole, which a fleet in a file must not wait for.
    """
    whole_schema()
    for index, where in _ONE_OPEN:
        index.dialect_kwargs["postgresql_where"] = sql(where)


def _constraints(kind: type[Record]) -> Iterator[Constraint]:
    yield UniqueConstraint(*kind.KEY, name=f"uq_{table_name(kind)}")
    for spec in columns(kind):
        yield from _checks_of_field(kind, spec)
    for number, (condition, sentence) in enumerate(kind.RULES, start=1):
        yield _check(f"ck_{table_name(kind)}_rule_{number}", condition, fixed(sentence))
    for link in kind.LINKS:
        yield _link(kind, link)
    for spec in columns(kind):
        if spec.type is bool:
            name = f"ck_{table_name(kind)}_{spec.name}_yes_no"
            check = _check(
                name, f"{spec.name} IN (0, 1)", text("{field} must be yes or no", field=fixed(spec.label))
            )
            # A server has a type of its own for yes and no.
            yield check.ddl_if(dialect="sqlite")


def _check(name: str, condition: str, sentence: Text) -> CheckConstraint:
    return CheckConstraint(sql(condition), name=name, info={"sentence": sentence})


def _checks_of_field(kind: type[Record], spec: FieldSpec) -> Iterator[Constraint]:
    stem = f"ck_{table_name(kind)}_{spec.name}"
    quoted = f'"{spec.name}"'
    if issubclass(spec.type, StrEnum):
        words = ", ".join("'" + word.value.replace("'", "''") + "'" for word in spec.type)
        choices = listed(spec.type, joint=",", most=0)
        sentence = text("{field} must be one of {choices}", field=fixed(spec.label), choices=choices)
        yield _check(f"{stem}_choice", f"{quoted} IN ({words})", sentence)
    elif spec.type is str and not spec.optional:
        yield _check(
            f"{stem}_given", f"trim({quoted}) <> ''", text("{field} must be given", field=fixed(spec.label))
        )
    label = fixed(spec.label)
    if (least := spec.within.low) is not None:
        sentence = text("{field} must be at least {limit:g}", field=label, limit=least)
        yield _check(f"{stem}_least", f"{quoted} >= {least!r}", sentence)
    if (most := spec.within.high) is not None:
        sentence = text("{field} must be at most {limit:g}", field=label, limit=most)
        yield _check(f"{stem}_most", f"{quoted} <= {most!r}", sentence)


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


def _one_open(kind: type[Record], fields: tuple[str, ...], where: str, sentence: Text) -> None:
    table = TABLES[kind]
    name = f"one_open_{table.name}_by_{'_'.join(fields)}"
    _SENTENCES[name] = sentence
    index = Index(name, *(table.c[field] for field in fields), unique=True, sqlite_where=sql(where))
    _ONE_OPEN.append((index, where))


def _index_links() -> None:
    """Indexes that let a part find its rows without reading the whole table."""
    for kind, table in TABLES.items():
        for link in kind.LINKS:
            if kind.KEY[: len(link.fields)] != link.fields:
                Index(f"ix_{table.name}_{'_'.join(link.fields)}", *(table.c[name] for name in link.fields))
