"""A change that a crash broke off: its rollback journal beside the file is undone before anything is read."""

from __future__ import annotations

import os
import shutil
import sqlite3
import tempfile
from contextlib import closing
from pathlib import Path

from hangar.store.linking import connect
from hangar.store.lock import FleetLock, is_held_here, real_file


def journal_path(path: Path) -> Path:
    """Where SQLite keeps what the pages were before the change under way."""
    path = real_file(path)
    return path.with_name(path.name + "-journal")


def has_journal(path: Path) -> bool:
    """Whether a change is under way in the file, or one was broken off."""
    try:
        with journal_path(path).open("rb") as file:
            return file.read(1) not in (b"", b"\0")
    except OSError:
        return False


def undo_broken_off(path: Path) -> None:
    """Undo a change that was broken off; the lock of the file must be held.

    Nothing is raised when that fails: whoever opens the file next is told why.
    """
    if not has_journal(path):
        return
    try:
        with closing(connect(path)) as link:
            link.execute("SELECT count(*) FROM sqlite_master").fetchone()
    except sqlite3.Error:
        return


def connect_to_read(path: Path) -> sqlite3.Connection:
    """A connection that writes nothing, to the file as it stood after the last edit that was told.

    Where the place cannot be written to, a copy in memory is read instead.

    Raises: sqlite3.Error or OSError when it cannot be read.
    """
    if not has_journal(path) or is_held_here(path):
        return connect(path, read_only=True)
    try:
        # Whoever writes holds the lock: without it the change is under way, with it broken off.
        lock = FleetLock.take(path) if os.access(path, os.W_OK) else None
        writable = os.access(path, os.W_OK)
    except OSError:
        lock, writable = None, False
    if lock is not None:
        try:
            undo_broken_off(path)
        finally:
            lock.let_go()
    return connect(path, read_only=True) if writable else _undone_in_memory(path)


def _undone_in_memory(path: Path) -> sqlite3.Connection:
    memory = connect(None)
    try:
        with tempfile.TemporaryDirectory(prefix="hangar-") as folder:
            copy = Path(folder) / "copy"
            shutil.copyfile(path, copy)
            shutil.copyfile(journal_path(path), journal_path(copy))
            with closing(connect(copy)) as link:
                link.backup(memory)
        memory.execute("PRAGMA query_only = ON")
    except BaseException:
        memory.close()
        raise
    return memory
