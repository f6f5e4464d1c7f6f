"""Open, refuse, check and copy fleet files; the only place that knows they are SQLite files."""

from __future__ import annotations

import sqlite3
from collections.abc import Sequence
from contextlib import closing
from dataclasses import dataclass
from datetime import datetime
from functools import cache
from pathlib import Path

from sqlalchemy.exc import DBAPIError

from hangar.base.errors import BadInput, StoreFault
from hangar.base.text import Text, series, text
from hangar.store.backups import back_up, backups_of, forget_draft, settle
from hangar.store.broken import BrokenFile
from hangar.store.content_check import content_faults
from hangar.store.door import Door, file_door, server_door
from hangar.store.faults import READ, cause_of, in_words, is_damage
from hangar.store.linking import connect, damage_told
from hangar.store.lock import first_bytes, real_file
from hangar.store.record_rows import Rows
from hangar.store.schema_check import schema_faults
from hangar.store.unfinished import connect_to_read
from hangar.store.upgrades import APPLICATION_ID, STEPS, VERSION, Step, upgrade
from hangar.store.value_check import unreadable, unreadable_history

_MAGIC = b"SQLite format 3\x00"


@dataclass(frozen=True, slots=True)
class FileReport:
    """What a look at a fleet file found."""

    path: Path
    version: int
    faults: tuple[Text | str, ...]
    backups: tuple[Path, ...]

    @property
    def sound(self) -> bool:
        """Whether nothing is wrong with the file."""
        return not self.faults

    @property
    def text(self) -> Text:
        """What was found, as a sentence."""
        state = text("has faults: {faults}", faults=series(self.faults)) if self.faults else text("is sound")
        kept = text("no backups")
        if self.backups:
            newest = str(self.backups[-1])
            kept = text("{count} backups, the newest {newest}", count=len(self.backups), newest=newest)
        return text(
            "{path} (version {version}) {state}; {backups}.",
            path=str(self.path),
            version=self.version,
            state=state,
            backups=kept,
        )

    def __str__(self) -> str:
        return str(self.text)


def refuse_foreign(path: Path) -> None:
    """Raise StoreFault when ``path`` is no fleet file; the file is only read."""
    try:
        head = first_bytes(path, 100)
    except FileNotFoundError as fault:
        raise BrokenFile("There is no file {path}.", path=path) from fault
    except OSError as fault:
        raise StoreFault("{path} cannot be read: {cause}.", path=str(path), cause=fault.strerror) from fault
    if not head:
        raise BrokenFile("{path} is empty, so it is not a fleet file.", path=path)
    if not head.startswith(_MAGIC) or len(head) < 100:
        raise BrokenFile("{path} is not a fleet file, or its beginning is damaged.", path=path)
    if int.from_bytes(head[68:72], "big") != APPLICATION_ID:
        raise BrokenFile("{path} is a database of another program, not a fleet file.", path=path)


@cache
def empty_fleet() -> bytes:
    """A fleet file without a row; its tables are made once for all the fleets of a process."""
    with closing(connect(None)) as link:
        upgrade(link)
        return link.serialize()


def create_file(path: Path) -> sqlite3.Connection:
    """A new, empty fleet file, open for writing.

    Raises: BadInput when something is there already; StoreFault when it cannot be written.
    """
    if path.exists():
        raise BadInput("{path} exists already; choose another name or open it.", path=str(path))
    draft = path.with_name(path.name + ".part")
    try:
        # Under another name first: whoever looks meanwhile, or after a crash, finds no half-made fleet.
        forget_draft(draft)
        with closing(connect(draft)) as link, closing(connect(None)) as empty:
            empty.deserialize(empty_fleet())
            empty.backup(link)
        settle(draft, path)
        return connect(path)
    except sqlite3.Error as fault:
        raise StoreFault("{path} cannot be made: {cause}.", path=str(path), cause=cause_of(fault)) from fault
    except OSError as fault:
        raise StoreFault("{path} cannot be made: {cause}.", path=str(path), cause=fault.strerror) from fault
    finally:
        forget_draft(draft)


def open_file(path: Path, read_only: bool = False, steps: Sequence[Step] = STEPS) -> sqlite3.Connection:
    """An existing fleet file, brought to the present version after a copy of it was put aside.

    A file of an older version that is only read stays as it is: what is opened is a copy in memory, brought
    to the present version.

    Raises: StoreFault when it is not a fleet file, damaged, newer than this program, or unreadable.
    """
    refuse_foreign(path)
    try:
        link = connect_to_read(path) if read_only else connect(path)
    except (sqlite3.Error, OSError) as fault:
        raise _not_opened(path, fault) from fault
    try:
        link = _accepted(link, path, read_only, steps)
    except sqlite3.Error as fault:
        link.close()
        raise _not_opened(path, fault) from fault
    except BaseException:
        link.close()
        raise
    return link


def _not_opened(path: Path, fault: sqlite3.Error | OSError) -> StoreFault:
    """Only a damaged file is to be restored: a full disk or a busy file gets better by itself."""
    if isinstance(fault, OSError):
        return StoreFault("{path} cannot be opened: {cause}.", path=str(path), cause=fault.strerror)
    sentence = text("{path} cannot be opened: {cause}.", path=str(path), cause=cause_of(fault))
    return BrokenFile(sentence, path=path) if is_damage(fault) else StoreFault(sentence)


def _accepted(
    link: sqlite3.Connection, path: Path, read_only: bool, steps: Sequence[Step]
) -> sqlite3.Connection:
    version = version_of(link)
    if version > len(steps):
        raise StoreFault(
            "{path} is of version {version}, written by a newer Hangar; this one knows up to {count}.",
            path=str(path),
            version=version,
            count=len(steps),
        )
    # The list of tables comes first: what it holds is run by the questions that follow.
    changed = schema_faults(link, steps, version)
    if changed:
        raise BrokenFile(
            "{path} is damaged or was changed by another program ({changed}).",
            path=path,
            changed=changed[0],
        )
    damage: tuple[Text | str, ...] = damage_of(link)
    if version == VERSION and steps is STEPS:
        damage = _named_damage(link, bool(damage)) or damage
    if damage:
        raise BrokenFile("{path} is damaged ({damage}).", path=path, damage=damage[0])
    if version == len(steps):
        return link
    if read_only:
        return _upgraded_copy(link, steps)
    back_up(link, path, datetime.now(), f"version-{version}")  # noqa: DTZ005
    upgrade(link, steps)
    return link


def _upgraded_copy(link: sqlite3.Connection, steps: Sequence[Step]) -> sqlite3.Connection:
    copy = connect(None)
    try:
        link.backup(copy)
        upgrade(copy, steps)
        copy.execute("PRAGMA query_only = ON")
    except BaseException:
        copy.close()
        raise
    link.close()
    return copy


@damage_told()
def version_of(link: sqlite3.Connection) -> int:
    """Version of the schema in an open file."""
    return int(link.execute("PRAGMA user_version").fetchone()[0])


@damage_told()
def damage_of(link: sqlite3.Connection) -> tuple[str, ...]:
    """What SQLite finds wrong with an open file; nothing for a sound one.

    The indexes are looked at too: a row that its index does not find is read as if it were not there.

    Raises: sqlite3.Error when the file cannot be looked at, which says nothing of it.
    """
    try:
        names = [_one_line(row[0]) for row in link.execute("PRAGMA integrity_check(5)")]
    except sqlite3.Error as fault:
        if not is_damage(fault):
            raise
        return (str(fault),)
    return () if names == ["ok"] else tuple(names)


def _one_line(words: object) -> str:
    return " ".join(str(words).replace("*** in database main ***", "").split())


def _named_damage(link: sqlite3.Connection, thorough: bool) -> tuple[Text | str, ...]:
    """What is wrong with the records and the history of an open file of the present version, by name."""
    try:
        return unreadable(link, thorough=thorough) or unreadable_history(link)
    except sqlite3.Error as fault:
        if not is_damage(fault):
            raise
        return ()


def check_file(place: Path | str) -> FileReport:
    """Read a fleet through and say what is wrong with it; nothing is written.

    Looks at the pages of the file, the links between the records, every stored value against the
    history, and the papers against their checksums.

    Args:
        place: a fleet file, or the address of a fleet on a server.

    Raises: StoreFault when it is no fleet at all.
    """
    if isinstance(place, str) and "://" in place:
        return _check_server(place)
    path = real_file(Path(place))
    refuse_foreign(path)
    try:
        link = connect_to_read(path)
    except (sqlite3.Error, OSError) as fault:
        raise _not_opened(path, fault) from fault
    door = file_door(link)
    try:
        version = version_of(link)
        return FileReport(path, version, tuple(_faults_of(link, version, door)), backups_of(path))
    except sqlite3.Error as fault:
        if not is_damage(fault):
            raise _not_opened(path, fault) from fault
        return FileReport(path, 0, (str(fault),), backups_of(path))
    finally:
        door.close()


def _faults_of(link: sqlite3.Connection, version: int, door: Door) -> list[Text | str]:
    if version > VERSION:
        return [
            text(
                "version {version} is newer than this Hangar knows ({known})", version=version, known=VERSION
            )
        ]
    faults: list[Text | str] = [*schema_faults(link, STEPS, version)]
    if not faults:
        faults = [*damage_of(link)]
        if version == VERSION:
            faults = [*_named_damage(link, thorough=True)] or faults
    if faults:
        return faults
    faults = [
        text("a row of {table} names a {parent} that is not there", table=table, parent=parent)
        for table, _, parent, _ in link.execute("PRAGMA foreign_key_check")
    ]
    if version < VERSION:
        return faults
    try:
        return [*faults, *content_faults(Rows(door.session), alone=True)]
    except DBAPIError as fault:
        return [
            *faults,
            text("it cannot be read to its end ({fault})", fault=in_words(fault, done=READ).text),
        ]
    except StoreFault as fault:
        return [*faults, fault.text.as_clause()]


def _check_server(address: str) -> FileReport:
    door = server_door(address, read_only=True)
    try:
        door.begin_reading()
        faults = content_faults(Rows(door.session), alone=False)
        door.roll_back()
    finally:
        door.close()
    return FileReport(Path(door.name), VERSION, faults, ())
