"""The numbered steps that lead a fleet file from any earlier version to the present one."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Sequence
from pathlib import Path

from sqlalchemy import Connection, text
from sqlalchemy.dialects import sqlite
from sqlalchemy.exc import DBAPIError
from sqlalchemy.schema import CreateIndex, CreateTable

from hangar.store.constraints import whole_schema
from hangar.store.file_engine import engine_of
from hangar.store.version_2 import to_version_2

APPLICATION_ID = 0x48474152
"""Marks a SQLite file as a fleet: the letters HGAR."""

Step = Callable[[Connection], None]


def schema_sql() -> tuple[str, ...]:
    """The statements that make every table and index as the nouns declare them today."""
    dialect = sqlite.dialect()
    made = []
    for table in whole_schema().sorted_tables:
        made.append(str(CreateTable(table).compile(dialect=dialect)).strip())
        indexes = sorted(table.indexes, key=lambda index: str(index.name))
        made += [str(CreateIndex(index).compile(dialect=dialect)).strip() for index in indexes]
    return tuple(made)


def _first_schema(link: Connection) -> None:
    written = Path(__file__).with_name("version_1.sql").read_text(encoding="utf-8")
    for statement in written.split(";\n\n"):
        link.exec_driver_sql(statement)


STEPS: tuple[Step, ...] = (_first_schema, to_version_2)
"""Step ``n`` leads from version ``n`` to ``n + 1``; the first makes a file out of nothing. A step that left
the workshop is never edited: a record field added later needs a step of its own, and the sample of the
version before stays in the tests. All but the first are taken on a server too."""

VERSION = len(STEPS)


def upgrade(file: sqlite3.Connection, steps: Sequence[Step] = STEPS) -> None:
    """Take the steps that a file still lacks, all of them or none.

    ``file`` must not open transactions by itself (``isolation_level=None``).

    Raises: sqlite3.Error when a step fails; the file is then as it was.
    """
    version = int(file.execute("PRAGMA user_version").fetchone()[0])
    if version >= len(steps):
        return
    file.execute("PRAGMA foreign_keys = OFF")
    link = engine_of(file).connect()
    file.execute("BEGIN IMMEDIATE")
    try:
        for step in steps[version:]:
            step(link)
        broken = file.execute("PRAGMA foreign_key_check").fetchall()
        if broken:
            raise sqlite3.IntegrityError(f"{len(broken)} rows name parts that are not there")
        file.execute(f"PRAGMA application_id = {APPLICATION_ID}")
        file.execute(f"PRAGMA user_version = {len(steps)}")
        file.execute("COMMIT")
    except DBAPIError as fault:
        raise fault.orig if isinstance(fault.orig, sqlite3.Error) else fault from fault
    finally:
        # A full disk makes SQLite roll back by itself.
        if file.in_transaction:
            file.execute("ROLLBACK")
        link.close()
        file.execute("PRAGMA foreign_keys = ON")


def upgrade_server(link: Connection, version: int) -> None:
    """Take the steps that a fleet on a server still lacks, within the transaction begun on ``link``."""
    for step in STEPS[version:]:
        step(link)
    link.execute(text("UPDATE hangar_version SET version = :version"), {"version": VERSION})
