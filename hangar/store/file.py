"""Open, refuse, check and copy fleet files; the only place that knows they are SQLite files."""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from hangar.base.errors import BadInput, StoreFault
from hangar.store.upgrades import APPLICATION_ID, STEPS, VERSION, Step, upgrade

SUFFIX = ".hangar"
BACKUPS_KEPT = 10
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
        raise StoreFault(f"There is no file {path}.") from fault
    except OSError as fault:
        raise StoreFault(f"{path} cannot be read: {fault.strerror}.") from fault
    if not head:
        raise StoreFault(f"{path} is empty (0 bytes), so it is not a fleet file.")
    if not head.startswith(_MAGIC) or len(head) < 100:
        raise StoreFault(f"{path} is not a fleet file, or its first bytes are damaged.")
    if int.from_bytes(head[68:72], "big") != APPLICATION_ID:
        raise StoreFault(f"{path} is a database of another program, not a fleet file.")


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
            "synchronous = FULL",
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

    Raises: StoreFault when it is not a fleet file, damaged, newer than this program, or unreadable.
    """
    refuse_foreign(path)
    try:
        link = connect(path, read_only)
    except sqlite3.Error as fault:
        raise StoreFault(f"{path} cannot be opened: {fault}.{_newest_backup(path)}") from fault
    try:
        _accept(link, path, read_only, steps)
    except sqlite3.Error as fault:
        link.close()
        raise StoreFault(f"{path} cannot be opened: {fault}.{_newest_backup(path)}") from fault
    except BaseException:
        link.close()
        raise
    return link


def _accept(link: sqlite3.Connection, path: Path, read_only: bool, steps: Sequence[Step]) -> None:
    damage = _damage(link)
    if damage:
        raise StoreFault(f"{path} is damaged ({damage[0]}).{_newest_backup(path)}")
    version = version_of(link)
    if version > len(steps):
        raise StoreFault(
            f"{path} is of version {version}, written by a newer Hangar; this one knows up to {len(steps)}."
        )
    if version == len(steps):
        return
    if read_only:
        raise StoreFault(f"{path} is of version {version} and must be upgraded; open it for writing once.")
    back_up(link, path, f"version-{version}")
    upgrade(link, steps)


def version_of(link: sqlite3.Connection) -> int:
    """Version of the schema in an open file."""
    return int(link.execute("PRAGMA user_version").fetchone()[0])


def _damage(link: sqlite3.Connection) -> tuple[str, ...]:
    try:
        found = [str(row[0]) for row in link.execute("PRAGMA quick_check(5)")]
    except sqlite3.DatabaseError as fault:
        return (str(fault),)
    return () if found == ["ok"] else tuple(found)


def check_file(place: Path | str) -> FileReport:
    """Read a fleet file through and say what is wrong with it; nothing is written.

    Raises: StoreFault when it is no fleet file at all.
    """
    path = Path(place)
    refuse_foreign(path)
    try:
        link = connect(path, read_only=True)
    except sqlite3.Error as fault:
        return FileReport(path, 0, (str(fault),), backups_of(path))
    try:
        faults = list(_damage(link))
        version = 0
        if not faults:
            version = version_of(link)
            faults += [
                f"a row of {table} names a {parent} that is not there"
                for table, _, parent, _ in link.execute("PRAGMA foreign_key_check")
            ]
            if version > VERSION:
                faults.append(f"version {version} is newer than this Hangar knows ({VERSION})")
    finally:
        link.close()
    return FileReport(path, version, tuple(faults), backups_of(path))


def backup_folder(path: Path) -> Path:
    """Where the copies of a fleet file are kept."""
    return path.with_name(f"{path.stem} backups")


def backups_of(path: Path) -> tuple[Path, ...]:
    """The copies kept of a fleet file, oldest first."""
    folder = backup_folder(path)
    return tuple(sorted(folder.glob(f"{path.stem} *{SUFFIX}"))) if folder.is_dir() else ()


def _newest_backup(path: Path) -> str:
    kept = backups_of(path)
    return f" The newest backup is {kept[-1]}." if kept else ""


def back_up(link: sqlite3.Connection, path: Path, note: str = "") -> Path:
    """Put a dated copy of an open fleet file aside and keep the last ten.

    Raises: StoreFault when the copy cannot be written.
    """
    stamp = datetime.now().astimezone().strftime("%Y-%m-%d %H%M%S %f")
    name = " ".join(part for part in (path.stem, stamp, note) if part)
    place = backup_folder(path) / f"{name}{SUFFIX}"
    try:
        place.parent.mkdir(exist_ok=True)
        write_copy(link, place)
        for old in backups_of(path)[:-BACKUPS_KEPT]:
            old.unlink(missing_ok=True)
    except OSError as fault:
        raise StoreFault(f"No backup could be written to {place}: {fault.strerror}.") from fault
    return place


def write_copy(link: sqlite3.Connection, place: Path) -> None:
    """A copy of an open fleet file that is either whole or not there at all."""
    draft = place.with_name(place.name + ".part")
    draft.unlink(missing_ok=True)
    try:
        link.execute("VACUUM INTO ?", (str(draft),))
        with draft.open("rb+") as file:
            os.fsync(file.fileno())
        draft.replace(place)
        _settle(place.parent)
    except sqlite3.Error as fault:
        raise StoreFault(f"No copy could be written to {place}: {fault}.") from fault
    finally:
        draft.unlink(missing_ok=True)


def _settle(folder: Path) -> None:
    """Make a rename last through a power cut, where the system lets a folder be synced."""
    if os.name != "posix":
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
