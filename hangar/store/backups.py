"""Dated copies of a fleet file: written whole or not at all, checked by a sum, thinned with age."""

from __future__ import annotations

import hashlib
import os
import shlex
import sqlite3
from collections.abc import Sequence
from datetime import datetime, timedelta
from pathlib import Path

from hangar.base.errors import StoreFault

SUFFIX = ".hangar"
SUM_SUFFIX = ".sha256"
BACKUPS_KEPT = 10
"""So many of the newest copies stay, whatever their age."""

DAYS_KEPT, WEEKS_KEPT, MONTHS_KEPT = 7, 4, 12
"""Of older copies the last of each day, week and month stays, for so many days, weeks and months."""

_STAMP = "%Y-%m-%d %H%M%S %f"
_STAMP_LENGTH = len("2026-03-14 093000 000000")


class BrokenFile(StoreFault):
    """A fleet file that cannot be used.

    ``found`` says what is wrong with it; ``newest_backup`` is the sound copy to go back to, if any.
    """

    def __init__(self, words: str, path: Path) -> None:
        self.path, self.found = path, words
        self.newest_backup = newest_sound_backup(path)
        offer = (
            f" The newest backup is {self.newest_backup}; this puts it in place:"
            f" hangar check-file {shlex.quote(str(path))} --restore newest"
            if self.newest_backup
            else ""
        )
        super().__init__(words + offer)


def backup_folder(path: Path) -> Path:
    """Where the copies of a fleet file are kept."""
    return path.with_name(f"{path.stem} backups")


def backups_of(path: Path) -> tuple[Path, ...]:
    """The copies kept of a fleet file, oldest first."""
    try:
        found = list(backup_folder(path).iterdir())
    except OSError:
        return ()
    return tuple(sorted(one for one in found if moment_of(path, one) is not None))


def moment_of(path: Path, backup: Path) -> datetime | None:
    """When a copy of the fleet file was made, by its name; None when it is no copy of it."""
    start = f"{path.stem} "
    if backup.suffix != SUFFIX or not backup.name.startswith(start):
        return None
    try:
        return datetime.strptime(backup.name[len(start) :][:_STAMP_LENGTH], _STAMP)  # noqa: DTZ007
    except ValueError:
        return None


def newest_sound_backup(path: Path) -> Path | None:
    """The newest copy whose bytes are still those that were written."""
    return next((backup for backup in reversed(backups_of(path)) if sum_holds(backup)), None)


def sum_of(path: Path) -> str:
    """SHA-256 of a file's bytes."""
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


def sum_holds(backup: Path) -> bool:
    """Whether a copy still has the sum noted when it was written; a copy without a note is trusted."""
    try:
        noted = _sum_note(backup).read_text("utf-8").split()
    except OSError:
        return backup.is_file()
    try:
        return noted[:1] == [sum_of(backup)]
    except OSError:
        return False


def _sum_note(backup: Path) -> Path:
    return backup.with_name(backup.name + SUM_SUFFIX)


def back_up(link: sqlite3.Connection, path: Path, now: datetime, note: str = "") -> Path:
    """Put a dated copy of an open fleet file aside and let old ones go.

    A clock that was set back does not make the copy older than those that are there.

    Raises: StoreFault when the copy cannot be written.
    """
    earlier = backups_of(path)
    newest = moment_of(path, earlier[-1]) if earlier else None
    moment = now.replace(tzinfo=None)
    if newest is not None and moment <= newest:
        moment = newest + timedelta(microseconds=1)
    name = " ".join(part for part in (path.stem, moment.strftime(_STAMP), note) if part)
    place = backup_folder(path) / f"{name}{SUFFIX}"
    try:
        place.parent.mkdir(exist_ok=True)
        write_copy(link, place)
        _sum_note(place).write_text(f"{sum_of(place)}  {place.name}\n", "utf-8")
        for old in outlived(path, backups_of(path)):
            old.unlink(missing_ok=True)
            _sum_note(old).unlink(missing_ok=True)
    except OSError as fault:
        raise StoreFault(f"No backup could be written to {place}: {fault.strerror}.") from fault
    return place


def outlived(path: Path, backups: Sequence[Path]) -> tuple[Path, ...]:
    """The copies that may go: not among the newest, nor the last of a day, week or month still kept.

    Age counts from the newest copy, so that a wrong clock removes nothing.
    """
    dated = [(moment, one) for one in backups if (moment := moment_of(path, one)) is not None]
    if not dated:
        return ()
    dated.sort(reverse=True)
    newest = dated[0][0]
    kept = {one for _, one in dated[:BACKUPS_KEPT]}
    for word, most in (("%Y-%m-%d", DAYS_KEPT), ("%G-%V", WEEKS_KEPT), ("%Y-%m", MONTHS_KEPT)):
        span = timedelta(days={"%Y-%m-%d": 1, "%G-%V": 7, "%Y-%m": 31}[word] * most)
        last_of: dict[str, Path] = {}
        for moment, one in dated:
            if newest - moment <= span:
                last_of.setdefault(moment.strftime(word), one)
        kept |= set(last_of.values())
    return tuple(one for _, one in dated if one not in kept)


def write_copy(link: sqlite3.Connection, place: Path) -> None:
    """A copy of an open fleet file that is either whole or not there at all."""
    draft = place.with_name(place.name + ".part")
    try:
        draft.unlink(missing_ok=True)
        link.execute("VACUUM INTO ?", (str(draft),))
        settle(draft, place)
    except sqlite3.Error as fault:
        raise StoreFault(f"No copy could be written to {place}: {fault}.") from fault
    finally:
        if draft.parent.is_dir():
            draft.unlink(missing_ok=True)
            # SQLite leaves it behind when the disk is full.
            draft.with_name(draft.name + "-journal").unlink(missing_ok=True)


def settle(draft: Path, place: Path) -> None:
    """Give a finished draft its name, so that it lasts through a power cut."""
    with draft.open("rb+") as file:
        os.fsync(file.fileno())
    draft.replace(place)
    if os.name != "posix":
        return
    handle = os.open(place.parent, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
