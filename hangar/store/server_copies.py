"""Copies of a server's fleet on this machine, as fleet files."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager, suppress
from datetime import datetime, timedelta
from pathlib import Path

from sqlalchemy import Connection, insert, select, update
from sqlalchemy.engine import make_url
from sqlalchemy.exc import DBAPIError
from sqlmodel import col

from hangar.base.errors import StoreFault
from hangar.store.backups import SUFFIX, back_up, backups_of, moment_of, newest_sound_backup, write_copy
from hangar.store.check_sums import seal
from hangar.store.constraints import whole_schema
from hangar.store.door import file_door, server_door
from hangar.store.faults import READ, in_words
from hangar.store.file import empty_fleet
from hangar.store.journal import latest_turn
from hangar.store.linking import connect, last_turn
from hangar.store.record_rows import Rows
from hangar.store.tables import JournalEdit

COPIED_EVERY = timedelta(days=1)
_ROWS_AT_ONCE = 1000


def place_of_copies(address: str, folder: Path) -> Path:
    """The file beside which the copies of a server's fleet lie, as the backups of a fleet file do.

    Raises: StoreFault for an address that cannot be read.
    """
    try:
        url = make_url(address)
    except (ValueError, DBAPIError) as fault:
        raise StoreFault("The server's address cannot be used: {fault}.", fault=str(fault)) from fault
    port = f" {url.port}" if url.port else ""
    name = f"{url.database or 'fleet'} at {url.host or 'this machine'}{port}"
    return folder / f"{''.join(sign if sign.isalnum() or sign in ' .-_' else '_' for sign in name)}{SUFFIX}"


def is_copy_due(address: str, folder: Path, now: datetime) -> bool:
    """Whether the newest copy is a day old."""
    place = place_of_copies(address, folder)
    kept = backups_of(place)
    newest = moment_of(place, kept[-1]) if kept else None
    return newest is None or now.replace(tzinfo=None) - newest >= COPIED_EVERY


def keep_copy(address: str, folder: Path, now: datetime) -> Path:
    """Put a dated copy of a server's fleet into a folder of this machine, and let old ones go.

    Everything in it belongs to one moment; others go on writing meanwhile. Where nothing was changed since
    the newest copy that one stays the newest.

    Returns: where the newest copy lies.
    Raises: StoreFault when the server cannot be read or the copy cannot be written.
    """
    place = place_of_copies(address, folder)
    newest = newest_sound_backup(place)
    with _copied(address, last_turn(newest) if newest else None) as link:
        if link is None and newest is not None:
            return newest
        assert link is not None
        try:
            folder.mkdir(parents=True, exist_ok=True)
        except OSError as fault:
            raise StoreFault(
                "No copy could be written to {place}: {cause}.", place=str(folder), cause=fault.strerror
            ) from fault
        return back_up(link, place, now)


def save_server_copy(address: str, path: Path) -> None:
    """Write a server's fleet to a fleet file, whole or not at all.

    Raises: StoreFault when the server cannot be read or the file cannot be written.
    """
    with _copied(address) as link:
        assert link is not None
        write_copy(link, path)


@contextmanager
def _copied(address: str, known_turn: int | None = None) -> Iterator[sqlite3.Connection | None]:
    """A fleet file in memory with all that is on the server; None where its last turn is the known one."""
    far = server_door(address, read_only=True)
    try:
        link = connect(None)
        link.deserialize(empty_fleet())
        near = file_door(link)
        with closing(near):
            far.begin_reading()
            if known_turn is not None and latest_turn(Rows(far.session)) == known_turn:
                yield None
                return
            near.begin_writing()
            copy_rows(far.link, near.link)
            # Whoever undid them sits at the server: in a file nobody makes them again.
            undone = update(JournalEdit).where(col(JournalEdit.state) == "undone")
            near.link.execute(undone.values(state="dropped"))
            seal(near.link)
            near.commit()
            far.roll_back()
            yield link
    except DBAPIError as fault:
        raise in_words(fault, done=READ) from fault
    finally:
        with suppress(DBAPIError):
            far.roll_back()
        far.close()


def copy_rows(source: Connection, target: Connection) -> None:
    """Every row of every table, its number included, into tables without a row."""
    for table in whole_schema().sorted_tables:
        rows = source.execution_options(yield_per=_ROWS_AT_ONCE).execute(select(table)).mappings()
        for some in rows.partitions(_ROWS_AT_ONCE):
            target.execute(insert(table), [dict(row) for row in some])
