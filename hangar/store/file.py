"""Open, refuse, check and copy fleet files; the only place that knows they are SQLite files."""

from __future__ import annotations

import sqlite3
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from sqlalchemy.exc import DBAPIError

from hangar.base.errors import BadInput, StoreFault
from hangar.store.backups import BrokenFile, back_up, backups_of
from hangar.store.content_check import content_faults
from hangar.store.door import Door, file_door, server_door
from hangar.store.faults import cause_of
from hangar.store.shelf import Shelf
from hangar.store.upgrades import APPLICATION_ID, STEPS, VERSION, Step, upgrade

_MAGIC = b"SQLite format 3\x00"


@dataclass(frozen=True, slots=True)
class FileReport:
    """What a look at a fleet file found."""

    path: Path
    version: int
    faults: tuple[str, ...]
    backups: tuple[Path, ...]

    @property
    def sound(self) -> bool:
        """Whether nothing is wrong with the file."""
        return not self.faults

    def __str__(self) -> str:
        state = "is sound" if self.sound else f"has faults: {'; '.join(self.faults)}"
        kept = f"{len(self.backups)} backups, the newest {self.backups[-1]}" if self.backups else "no backups"
        return f"{self.path} (version {self.version}) {state}; {kept}."


def refuse_foreign(path: Path) -> None:
    """Raise StoreFault when ``path`` is no fleet file; the file is only read."""
    try:
        with path.open("rb") as file:
            head = file.read(100)
    except FileNotFoundError as fault:
        raise BrokenFile(f"There is no file {path}.", path) from fault
    except OSError as fault:
        raise StoreFault(f"{path} cannot be read: {fault.strerror}.") from fault
    if not head:
        raise BrokenFile(f"{path} is empty, so it is not a fleet file.", path)
    if not head.startswith(_MAGIC) or len(head) < 100:
        raise BrokenFile(f"{path} is not a fleet file, or its beginning is damaged.", path)
    if int.from_bytes(head[68:72], "big") != APPLICATION_ID:
        raise BrokenFile(f"{path} is a database of another program, not a fleet file.", path)


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


def create_file(path: Path) -> sqlite3.Connection:
    """A new, empty fleet file, open for writing.

    Raises: BadInput when something is there already; StoreFault when it cannot be written.
    """
    if path.exists():
        raise BadInput(f"{path} exists already; choose another name or open it.")
    link: sqlite3.Connection | None = None
    try:
        link = connect(path)
        upgrade(link)
    except sqlite3.Error as fault:
        if link is not None:
            link.close()
            path.unlink(missing_ok=True)
        raise StoreFault(f"{path} cannot be made: {fault}.") from fault
    return link


def open_file(path: Path, read_only: bool = False, steps: Sequence[Step] = STEPS) -> sqlite3.Connection:
    """An existing fleet file, brought to the present version after a copy of it was put aside.

    A file of an older version that is only read stays as it is: what is opened is a copy in memory, brought
    to the present version.

    Raises: StoreFault when it is not a fleet file, damaged, newer than this program, or unreadable.
    """
    refuse_foreign(path)
    try:
        link = connect(path, read_only)
    except sqlite3.Error as fault:
        raise BrokenFile(f"{path} cannot be opened: {cause_of(fault)}.", path) from fault
    try:
        link = _accepted(link, path, read_only, steps)
    except sqlite3.Error as fault:
        link.close()
        raise BrokenFile(f"{path} cannot be opened: {cause_of(fault)}.", path) from fault
    except BaseException:
        link.close()
        raise
    return link


def _accepted(
    link: sqlite3.Connection, path: Path, read_only: bool, steps: Sequence[Step]
) -> sqlite3.Connection:
    damage = damage_of(link)
    if damage:
        raise BrokenFile(f"{path} is damaged ({damage[0]}).", path)
    version = version_of(link)
    if version > len(steps):
        raise StoreFault(
            f"{path} is of version {version}, written by a newer Hangar; this one knows up to {len(steps)}."
        )
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


def version_of(link: sqlite3.Connection) -> int:
    """Version of the schema in an open file."""
    return int(link.execute("PRAGMA user_version").fetchone()[0])


def damage_of(link: sqlite3.Connection) -> tuple[str, ...]:
    """What SQLite finds wrong with an open file; nothing for a sound one."""
    try:
        found = [str(row[0]) for row in link.execute("PRAGMA quick_check(5)")]
    except sqlite3.DatabaseError as fault:
        return (str(fault),)
    return () if found == ["ok"] else tuple(found)


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
    path = Path(place)
    refuse_foreign(path)
    try:
        link = connect(path, read_only=True)
    except sqlite3.Error as fault:
        return FileReport(path, 0, (str(fault),), backups_of(path))
    door = file_door(link)
    try:
        faults = list(damage_of(link))
        version = 0
        if not faults:
            version = version_of(link)
            faults += _faults_inside(link, version, door)
    finally:
        door.close()
    return FileReport(path, version, tuple(faults), backups_of(path))


def _faults_inside(link: sqlite3.Connection, version: int, door: Door) -> list[str]:
    faults = [
        f"a row of {table} names a {parent} that is not there"
        for table, _, parent, _ in link.execute("PRAGMA foreign_key_check")
    ]
    if version > VERSION:
        return [*faults, f"version {version} is newer than this Hangar knows ({VERSION})"]
    if version < VERSION:
        return faults
    try:
        return [*faults, *content_faults(Shelf(door.link))]
    except (ValueError, LookupError, DBAPIError) as fault:
        return [*faults, f"the history cannot be read ({fault})"]


def _check_server(address: str) -> FileReport:
    door = server_door(address, read_only=True)
    try:
        door.begin_reading()
        faults = content_faults(Shelf(door.link))
        door.roll_back()
    finally:
        door.close()
    return FileReport(Path(door.name), VERSION, faults, ())
