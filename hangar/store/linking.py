"""Connections to SQLite with every safety setting on, and what is asked before a file is trusted."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path


@contextmanager
def damage_told() -> Iterator[None]:
    """Raise what SQLite says of a damaged list of tables as its own kind of error.

    Its sentence quotes the damaged name, and Python cannot read that as text.
    """
    try:
        yield
    except UnicodeDecodeError as fault:
        damage = sqlite3.DatabaseError("the list of tables is damaged")
        damage.sqlite_errorname = "SQLITE_CORRUPT"
        raise damage from fault


@damage_told()
def connect(path: Path | None, read_only: bool = False) -> sqlite3.Connection:
    """A connection with every safety setting on; ``None`` keeps the fleet in memory."""
    mode = "ro" if read_only else "rwc"
    place = ":memory:" if path is None else f"{path.resolve().as_uri()}?mode={mode}"
    # The fleet guards its one connection with a lock of its own, so threads may take turns.
    link = sqlite3.connect(place, uri=path is not None, isolation_level=None, check_same_thread=False)
    try:
        for setting in (
            "foreign_keys = ON",
            "trusted_schema = OFF",
            "cell_size_check = ON",
            "busy_timeout = 2000",
            # FULL does not force the removal of the rollback journal onto the disk: a power cut may then
            # take back the last edit after it was told.
            "synchronous = EXTRA",
        ):
            link.execute(f"PRAGMA {setting}")
        if not read_only:
            link.execute("PRAGMA journal_mode = DELETE")
    except BaseException:
        link.close()
        raise
    return link


def tables_of(link: sqlite3.Connection) -> Iterator[tuple[str, str, str, str | None]]:
    """What a file holds: kind, name, table and the words that made it, with none for what SQLite adds."""
    with damage_told():
        yield from link.execute("SELECT type, name, tbl_name, sql FROM sqlite_master")


def last_turn(path: Path) -> int | None:
    """Number of the last edit, undo or redo in a file that may be damaged; None when it cannot be read."""
    if not path.is_file():
        return None
    try:
        place = f"{path.resolve().as_uri()}?mode=ro&immutable=1"
        with damage_told(), closing(sqlite3.connect(place, uri=True)) as link:
            (turn,) = link.execute("SELECT max(turn) FROM journal_edit NOT INDEXED").fetchone()
    except sqlite3.Error:
        return None
    return turn if isinstance(turn, int) else None
