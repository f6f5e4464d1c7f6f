"""The tables carry what the nouns say, in the file as well as on a server."""

from __future__ import annotations

import re
import sqlite3
from datetime import date, datetime
from enum import StrEnum
from typing import Any

import pytest
from sqlalchemy.engine import make_url
from sqlalchemy.schema import CreateTable

from hangar.parts import KIND_BY_NAME, RECORD_KINDS, Record
from hangar.parts.fields import FieldSpec, columns
from hangar.store.constraints import sentences, whole_schema
from hangar.store.tables import TABLES, table_name
from hangar.store.upgrades import schema_sql, upgrade
from tests.all_cases import all_cases

EVERY_KIND = all_cases("kind", RECORD_KINDS)


@pytest.fixture(scope="module")
def bare() -> sqlite3.Connection:
    """The tables alone, without the checks that records pass before they are written."""
    link = sqlite3.connect(":memory:", isolation_level=None)
    upgrade(link)
    link.execute("PRAGMA foreign_keys = OFF")
    return link


def usual_value(spec: FieldSpec) -> Any:
    if issubclass(spec.type, StrEnum):
        return next(iter(spec.type)).value
    if spec.type in (int, float):
        low = spec.within.low if spec.within.low is not None else 0
        return spec.type(low if spec.within.high is None else low + (spec.within.high - low) // 2 or low)
    return {str: "x", bool: 1, date: "2025-06-01", datetime: "2025-06-01 09:30:00"}[spec.type]


def usual_row(kind: type[Record]) -> dict[str, Any]:
    return {spec.name: usual_value(spec) for spec in columns(kind) if not spec.optional}


def insert(link: sqlite3.Connection, kind: type[Record], row: dict[str, Any]) -> None:
    names = ", ".join(f'"{name}"' for name in row)
    link.execute("SAVEPOINT one")
    try:
        link.execute(
            f'INSERT INTO "{table_name(kind)}" ({names}) VALUES ({", ".join("?" * len(row))})',
            [*row.values()],
        )
    finally:
        link.execute("ROLLBACK TO one")
        link.execute("RELEASE one")


def refused_by(link: sqlite3.Connection, kind: type[Record], row: dict[str, Any]) -> str:
    with pytest.raises(sqlite3.IntegrityError) as fault:
        insert(link, kind, row)
    return str(fault.value).split(": ", 1)[1]


@EVERY_KIND
def test_a_kind_is_one_table_with_a_column_for_each_field(kind: type[Record]) -> None:
    assert list(TABLES[kind].columns.keys()) == ["id", *(spec.name for spec in columns(kind))]


@EVERY_KIND
def test_numbers_outside_their_hard_range_are_refused(bare: sqlite3.Connection, kind: type[Record]) -> None:
    row = usual_row(kind)
    insert(bare, kind, row)
    for spec in columns(kind):
        if spec.within.low is not None:
            name = refused_by(bare, kind, {**row, spec.name: spec.within.low - 1})
            assert str(sentences()[name]) == f"{spec.label} must be at least {spec.within.low:g}"
        if spec.within.high is not None:
            name = refused_by(bare, kind, {**row, spec.name: spec.within.high + 1})
            assert str(sentences()[name]) == f"{spec.label} must be at most {spec.within.high:g}"


@EVERY_KIND
def test_words_outside_their_list_and_missing_values_are_refused(
    bare: sqlite3.Connection, kind: type[Record]
) -> None:
    row = usual_row(kind)
    for spec in columns(kind):
        if issubclass(spec.type, StrEnum):
            name = refused_by(bare, kind, {**row, spec.name: "nonsense"})
            assert str(sentences()[name]).startswith(f"{spec.label} must be one of ")
        if spec.type is bool:
            assert (
                str(sentences()[refused_by(bare, kind, {**row, spec.name: 2})])
                == f"{spec.label} must be yes or no"
            )
        if spec.type is str and not spec.optional:
            assert (
                str(sentences()[refused_by(bare, kind, {**row, spec.name: "  "})])
                == f"{spec.label} must be given"
            )
        if not spec.optional:
            assert refused_by(bare, kind, {**row, spec.name: None}) == f"{table_name(kind)}.{spec.name}"


@pytest.mark.parametrize(
    ("kind", "values"),
    [
        ("airframe", {"cg_fore_mm": 10, "cg_aft_mm": 5}),
        ("airframe", {"mean_chord_mm": 500, "span_mm": 400}),
        ("airframe", {"empty_mass_g": 500, "all_up_mass_g": 400}),
        ("airframe", {"level_speed_m_s": 50, "dive_speed_m_s": 40}),
        ("servo-type", {"supply_min_v": 6, "supply_max_v": 6}),
        ("receiver", {"supply_min_v": 7, "supply_max_v": 6}),
        ("stabiliser", {"supply_min_v": 7, "supply_max_v": 6}),
        ("installation", {"since_on": "2025-06-02", "until_on": "2025-06-01"}),
        ("pack-fit", {"since_on": "2025-06-02", "until_on": "2025-06-01"}),
        ("load-test", {"rest_v": 5, "loaded_v": 6}),
    ],
)  # fmt: skip
def test_checks_across_fields_hold_in_the_file_itself(
    bare: sqlite3.Connection, kind: str, values: dict[str, Any]
) -> None:
    record_kind = KIND_BY_NAME[kind]
    name = refused_by(bare, record_kind, {**usual_row(record_kind), **values})
    assert str(sentences()[name]) in {sentence for _, sentence in record_kind.RULES}


@EVERY_KIND
def test_a_key_stands_only_once(bare: sqlite3.Connection, kind: type[Record]) -> None:
    row = usual_row(kind)
    names, marks = ", ".join(f'"{name}"' for name in row), ", ".join("?" * len(row))
    statement = f'INSERT INTO "{table_name(kind)}" ({names}) VALUES ({marks})'
    bare.execute("BEGIN")
    bare.execute(statement, [*row.values()])
    with pytest.raises(sqlite3.IntegrityError, match="UNIQUE"):
        bare.execute(statement, [*row.values()])
    bare.execute("ROLLBACK")


@EVERY_KIND
def test_every_link_is_a_foreign_key_that_follows_a_new_name(kind: type[Record]) -> None:
    found = {
        (tuple(key.column_keys), key.referred_table.name): key.onupdate
        for key in TABLES[kind].foreign_key_constraints
    }
    wanted = {(link.fields, table_name(KIND_BY_NAME[link.kind])): "CASCADE" for link in kind.LINKS}
    assert found == wanted


def test_a_new_file_has_exactly_the_declared_tables_and_indexes() -> None:
    link = sqlite3.connect(":memory:", isolation_level=None)
    upgrade(link)
    made = {row[0] for row in link.execute("SELECT sql FROM sqlite_master WHERE sql IS NOT NULL")}
    link.close()
    assert {_plain(sql) for sql in made} == {_plain(sql) for sql in schema_sql()}


def _plain(sql: str) -> str:
    """A statement whose table's name is not quoted: SQLite quotes it where it was given a new name."""
    return re.sub(r'^CREATE TABLE "(\w+)" ', r"CREATE TABLE \1 ", sql)


def test_the_tables_can_be_written_for_a_server() -> None:
    server = make_url("postgresql+psycopg://").get_dialect()()
    for table in whole_schema().sorted_tables:
        assert "CREATE TABLE" in str(CreateTable(table).compile(dialect=server))


def test_names_are_short_enough_for_a_server() -> None:
    longest = 63
    for table in whole_schema().tables.values():
        names = [constraint.name for constraint in table.constraints] + [
            index.name for index in table.indexes
        ]
        assert all(len(str(name)) <= longest for name in names if name)
