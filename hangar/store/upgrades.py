"""The numbered steps that lead a fleet file from any earlier version to the present one."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Sequence
from pathlib import Path

from sqlalchemy.dialects import sqlite
from sqlalchemy.schema import CreateIndex, CreateTable

from hangar.store.constraints import whole_schema

APPLICATION_ID = 0x48474152
"""Marks a SQLite file as a fleet: the letters HGAR."""

Step = Callable[[sqlite3.Connection], None]


def schema_sql() -> tuple[str, ...]:
    """The statements that make every table and index as the nouns declare them today."""
    dialect = sqlite.dialect()
    made = []
    for table in whole_schema().sorted_tables:
        made.append(str(CreateTable(table).compile(dialect=dialect)).strip())
        indexes = sorted(table.indexes, key=lambda index: str(index.name))
        made += [str(CreateIndex(index).compile(dialect=dialect)).strip() for index in indexes]
    return tuple(made)


def _first_schema(link: sqlite3.Connection) -> None:
    written = Path(__file__).with_name("version_1.sql").read_text(encoding="utf-8")
    for statement in written.split(";\n\n"):
        link.execute(statement)


STEPS: tuple[Step, ...] = (_first_schema,)
"""Step ``n`` leads from version ``n`` to ``n + 1``. A step that left the workshop is never edited: a
record field added later needs a step of its own, and the sample of the version before stays in the tests."""

VERSION = len(STEPS)


def upgrade(link: sqlite3.Connection, steps: Sequence[Step] = STEPS) -> None:
    """Take the steps that a file still lacks, all of them or none.

    ``link`` must not open transactions by itself (``isolation_level=None``).
    """
    version = int(link.execute("PRAGMA user_version").fetchone()[0])
    if version >= len(steps):
        return
    link.execute("PRAGMA foreign_keys = OFF")
    link.execute("BEGIN IMMEDIATE")
    try:
        for step in steps[version:]:
            step(link)
        broken = link.execute("PRAGMA foreign_key_check").fetchall()
        if broken:
            raise sqlite3.IntegrityError(f"{len(broken)} rows name parts that are not there")
        link.execute(f"PRAGMA application_id = {APPLICATION_ID}")
        link.execute(f"PRAGMA user_version = {len(steps)}")
        link.execute("COMMIT")
    except BaseException:
        link.execute("ROLLBACK")
        raise
    finally:
        link.execute("PRAGMA foreign_keys = ON")
