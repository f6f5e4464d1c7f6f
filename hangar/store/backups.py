"""Dated copies of a fleet file: written whole or not at all, checked by a sum, thinned with age."""

from __future__ import annotations

import hashlib
import os
import sqlite3
from collections.abc import Sequence
from contextlib import suppress
from datetime import datetime, timedelta
from pathlib import Path

from hangar.base.errors import StoreFault, words_of
from hangar.store.lock import real_file

SUFFIX = ".hangar"
SUM_SUFFIX = ".sha256"
BACKUPS_KEPT = 10
"""So many of the newest copies stay, whatever their age."""

DAYS_KEPT, WEEKS_KEPT, MONTHS_KEPT = 7, 4, 12
"""Of older copies the last of each day, week and month stays, for so many days, weeks and months."""

_STAMP = "%Y-%m-%d %H%M%S %f"
_STAMP_LENGTH = len("2026-03-14 093000 000000")


def backup_folder(path: Path) -> Path:
    """Where the copies of a fleet file are kept."""
    path = real_file(path)
    return path.with_name(f"{path.stem} backups")


def backups_of(path: Path) -> tuple[Path, ...]:
    """The copies kept of a fleet file, oldest first."""
    path = real_file(path)
    try:
        paths = list(backup_folder(path).iterdir())
    except OSError:
        return ()
    return tuple(sorted(other_path for other_path in paths if moment_of(path, other_path) is not None))


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
        _write(link, place, like=path, noted=True)
        for old in outlived(path, backups_of(path)):
            old.unlink(missing_ok=True)
            _sum_note(old).unlink(missing_ok=True)
    except OSError as fault:
        raise StoreFault(
            "No backup could be written to {place}: {cause}.", place=str(place), cause=fault.strerror
        ) from fault
    return place


def outlived(path: Path, backups: Sequence[Path]) -> tuple[Path, ...]:
    """The copies that may go: not among the newest, nor the last of a day, week or month still kept.

    Age counts from the newest copy, so that a wrong clock removes nothing.
    """
    dated = [(moment, backup) for backup in backups if (moment := moment_of(path, backup)) is not None]
    if not dated:
        return ()
    dated.sort(reverse=True)
    newest = dated[0][0]
    kept = {path for _, path in dated[:BACKUPS_KEPT]}
    for word, most in (("%Y-%m-%d", DAYS_KEPT), ("%G-%V", WEEKS_KEPT), ("%Y-%m", MONTHS_KEPT)):
        span = timedelta(days={"%Y-%m-%d": 1, "%G-%V": 7, "%Y-%m": 31}[word] * most)
        last_of: dict[str, Path] = {}
        for moment, copy in dated:
            if newest - moment <= span:
                last_of.setdefault(moment.strftime(word), copy)
        kept |= set(last_of.values())
    return tuple(path for _, path in dated if path not in kept)


def write_copy(link: sqlite3.Connection, place: Path, like: Path | None = None) -> None:
    """A copy of an open fleet file that is either whole or not there at all.

    ``like`` is the file whose rights and owner the copy is given.
    """
    _write(link, place, like, noted=False)


def _write(link: sqlite3.Connection, place: Path, like: Path | None, noted: bool) -> None:
    draft = place.with_name(place.name + ".part")
    try:
        forget_draft(draft)
        begin_draft(draft)
        link.execute("VACUUM INTO ?", (str(draft),))
        if noted:
            # Before the copy has its name: one that is there has its sum, whatever happens in between.
            _note_sum(draft, place)
        settle(draft, place, like)
    except sqlite3.Error as fault:
        raise StoreFault(
            "No copy could be written to {place}: {fault}.", place=str(place), fault=words_of(fault)
        ) from fault
    except OSError as fault:
        raise StoreFault(
            "No copy could be written to {place}: {cause}.", place=str(place), cause=fault.strerror
        ) from fault
    finally:
        if draft.parent.is_dir():
            forget_draft(draft)


def _note_sum(draft: Path, place: Path) -> None:
    note = _sum_note(place)
    unfinished = note.with_name(note.name + ".part")
    unfinished.write_text(f"{sum_of(draft)}  {place.name}\n", "utf-8")
    settle(unfinished, note)


def begin_draft(draft: Path) -> None:
    """An empty file that nobody else can read until it is settled."""
    os.close(os.open(draft, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600))


def forget_draft(draft: Path) -> None:
    """Let an unfinished copy go, with what SQLite leaves beside it when the disk is full."""
    draft.unlink(missing_ok=True)
    draft.with_name(draft.name + "-journal").unlink(missing_ok=True)


def settle(draft: Path, place: Path, like: Path | None = None) -> None:
    """Give a finished draft its name, so that it lasts through a power cut.

    ``like`` is the file whose rights, and owner where that is allowed, it is given.
    """
    if like is not None:
        _be_like(draft, like)
    with draft.open("rb+") as file:
        os.fsync(file.fileno())
    draft.replace(place)
    settle_folder(place.parent)


def settle_folder(folder: Path) -> None:
    """Make the names in a folder last through a power cut."""
    if os.name != "posix":
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def _be_like(draft: Path, like: Path) -> None:
    try:
        wanted = like.stat()
    except OSError:
        return
    if os.name == "posix":
        try:
            os.chown(draft, wanted.st_uid, wanted.st_gid)
        except OSError:
            # Only the superuser gives files away; a group of one's own may still be given.
            with suppress(OSError):
                os.chown(draft, -1, wanted.st_gid)
    with suppress(OSError):
        draft.chmod(wanted.st_mode & 0o777)
