"""A fleet on a server put back from a copy of it; what is there is kept as a copy first."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import closing, suppress
from datetime import datetime
from pathlib import Path

from sqlalchemy import func, select
from sqlalchemy.exc import DBAPIError

from hangar.base.errors import BadInput, StoreFault
from hangar.base.text import Text, text
from hangar.parts import RECORD_KINDS, Attachment, PaperPlace, Record
from hangar.store.backups import newest_sound_backup
from hangar.store.constraints import whole_schema
from hangar.store.door import Door, file_door, server_door
from hangar.store.edit import Edit
from hangar.store.faults import in_words
from hangar.store.file import open_file
from hangar.store.fleet import Fleet
from hangar.store.journal import Step, latest_turn
from hangar.store.papers import read_inside
from hangar.store.record_rows import Rows, key_of_values
from hangar.store.restore import NEWEST, refuse_unsound
from hangar.store.server_copies import copy_rows, keep_copy, place_of_copies
from hangar.store.tables import TABLES


def restore_server(address: str, backup: str, folder: Path, now: datetime) -> Text:
    """Make a fleet on a server what a copy of it holds; what was there is kept as a copy first.

    An empty database is given all of the copy with its history. Where there is a fleet already the
    difference is one edit: it is on record, other seats are told of it, and it can be undone.

    Args:
        address: of the server.
        backup: a copy of that fleet, any other sound fleet file, or the word "newest".
        folder: where the copies of servers lie.
        now: the moment of the change.

    Returns: what was done, as a sentence.
    Raises: BadInput when there is no such copy; StoreFault when it is damaged or the server refuses.
    """
    place = place_of_copies(address, folder)
    source = _chosen(place, backup)
    refuse_unsound(source)
    with closing(file_door(open_file(source, read_only=True))) as copy:
        with Fleet.open(address, clock=lambda: now) as fleet:
            if fleet.hindrance:
                raise StoreFault(
                    "The fleet is open for reading only: {hindrance}.", hindrance=fleet.hindrance
                )
            is_empty = not fleet.history(most=1)
        if is_empty:
            _fill(address, copy)
            return text("The empty database was given all of {source}, with its history.", source=str(source))
        kept = keep_copy(address, folder, now)
        _replace(address, copy, now, source)
    return text(
        "The fleet on the server was restored from {source} by one edit that can be undone; what was there "
        "is kept as {kept}.",
        source=str(source),
        kept=str(kept),
    )


def _chosen(place: Path, backup: str) -> Path:
    if backup == NEWEST:
        newest = newest_sound_backup(place)
        if newest is None:
            raise BadInput(
                "There is no sound copy of that server's fleet in {folder}.", folder=str(place.parent)
            )
        return newest
    if not Path(backup).is_file():
        raise BadInput("There is no file {path}.", path=backup)
    return Path(backup)


def _fill(address: str, copy: Door) -> None:
    far = server_door(address)
    try:
        far.begin_writing()
        if latest_turn(Rows(far.session)):
            raise StoreFault("Somebody else has begun to fill the database meanwhile; nothing was restored.")
        copy.begin_reading()
        copy_rows(copy.link, far.link)
        copy.roll_back()
        for table in whole_schema().sorted_tables:
            if "id" in table.c:
                # The server counts on from the numbers that the copy brought.
                most = select(func.coalesce(func.max(table.c.id), 0) + 1).scalar_subquery()
                sequence = func.pg_get_serial_sequence(f'"{table.name}"', "id")
                far.link.execute(select(func.setval(sequence, most, False)))
        far.commit()
    except DBAPIError as fault:
        raise in_words(fault) from fault
    finally:
        with suppress(DBAPIError):
            far.roll_back()
        far.close()


def _replace(address: str, copy: Door, now: datetime, source: Path) -> None:
    wanted = Rows(copy.session)

    def act(edit: Edit) -> Text:
        copy.begin_reading()
        try:
            for attachment in wanted.records(Attachment):
                content = read_inside(wanted, attachment.sha256)
                if attachment.place is PaperPlace.INSIDE and content is not None:
                    edit.keep_paper(attachment, content)
            steps = list(_differences(edit, wanted))
        finally:
            copy.roll_back()
        edit.take(steps)
        return text("Restore {source}", source=source.name)

    with Fleet.open(address, clock=lambda: now) as fleet:
        fleet.do(act)


def _differences(edit: Edit, wanted: Rows) -> Iterator[Step]:
    """The steps from what stands to what is wanted: what goes first, then what changes, then what comes."""
    changed: list[Step] = []
    new: list[Step] = []
    for kind in RECORD_KINDS:
        here = edit.rows_by_key(kind)
        there = {key_of_values(kind, row): row for row in wanted.rows(kind)}
        is_told_apart = _has_other_unique(kind)
        for key in sorted(here.keys() | there.keys(), key=str):
            before, after = here.get(key), there.get(key)
            if before == after:
                continue
            if before is not None and (after is None or is_told_apart):
                # Two parts that changed places would meet for a moment, were they changed one by one.
                yield Step(kind, before, None)
                before = None
            if before is not None:
                changed.append(Step(kind, before, after))
            elif after is not None:
                new.append(Step(kind, None, after))
    yield from changed
    yield from new


def _has_other_unique(kind: type[Record]) -> bool:
    return any(index.unique for index in TABLES[kind].indexes)
