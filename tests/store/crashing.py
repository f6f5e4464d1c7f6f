"""Fleet files as a crash in the middle of saving leaves them."""

from __future__ import annotations

import shutil
import sqlite3
from pathlib import Path


def journal_of(path: Path) -> Path:
    return path.with_name(path.name + "-journal")


def leave_half_an_edit(path: Path) -> None:
    """Write half an edit into a fleet file and stop, as if the power went: its journal lies beside it."""
    work = path.with_name("being written")
    shutil.copyfile(path, work)
    link = sqlite3.connect(work, isolation_level=None)
    # So little room in memory that pages reach the file before the edit ends.
    link.execute("PRAGMA cache_size = 1")
    link.execute("BEGIN IMMEDIATE")
    link.execute("UPDATE servo SET bin = 'half'")
    link.execute("UPDATE airframe SET name = 'half'")
    link.execute("CREATE TABLE half (words TEXT)")
    link.executemany("INSERT INTO half VALUES (?)", [("x" * 3000,) for _ in range(200)])
    shutil.copyfile(work, path)
    shutil.copyfile(journal_of(work), journal_of(path))
    link.execute("ROLLBACK")
    link.close()
    work.unlink()
    assert b"half" in path.read_bytes()
    assert journal_of(path).stat().st_size > 0
