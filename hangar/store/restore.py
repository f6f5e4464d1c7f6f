"""Put a backup in the place of a fleet file; what lay there is set aside, never thrown away."""

from __future__ import annotations

import shutil
import sqlite3
from contextlib import closing
from datetime import datetime
from pathlib import Path

from hangar.base.errors import BadInput, StoreFault, words_of
from hangar.base.text import Text, text
from hangar.store.backups import (
    backup_folder,
    backups_of,
    begin_draft,
    newest_sound_backup,
    settle,
    settle_folder,
    sum_holds,
)
from hangar.store.file import damage_of, refuse_foreign, version_of
from hangar.store.lock import lock_to_write, real_file
from hangar.store.schema_check import schema_faults
from hangar.store.sweeping import sweep
from hangar.store.unfinished import connect_to_read, has_journal, journal_path, undo_broken_off
from hangar.store.upgrades import STEPS, VERSION

NEWEST = "newest"


def restore_backup(path: Path, backup: Path | str = NEWEST, now: datetime | None = None) -> Path:
    """Make a fleet file what its backup holds.

    Args:
        path: the fleet file; it may be damaged or missing, but no program may have it open.
        backup: one of its backups, any other sound fleet file, or the word "newest".
        now: the moment of the change; the clock's without it.

    Returns: where the file that lay there was set aside, or ``path`` when there was none.
    Raises: BadInput when there is no such backup; StoreFault when it is damaged, the fleet is open
        elsewhere, or nothing can be written. The file then stays as it was.
    """
    path = real_file(path)
    source = _chosen(path, backup)
    refuse_unsound(source)
    lock = lock_to_write(path)
    try:
        return _put_in_place(path, source, now or datetime.now())  # noqa: DTZ005
    except OSError as fault:
        raise StoreFault("{path} was not restored: {cause}.", path=str(path), cause=fault.strerror) from fault
    finally:
        lock.let_go()


def restored(place: str, backup: str) -> Text:
    """Restore a fleet file as the command line does it; returns a sentence on what was done.

    Raises: as :func:`restore_backup`.
    """
    path = Path(place)
    aside = restore_backup(path, backup)
    if aside == path:
        return text("{path} was restored.", path=str(path))
    return text("{path} was restored; what lay there is kept as {aside}.", path=str(path), aside=str(aside))


def _chosen(path: Path, backup: Path | str) -> Path:
    if str(backup) == NEWEST:
        newest = newest_sound_backup(path)
        if newest is None:
            raise BadInput(
                "There is no sound backup of {path} in {folder}.",
                path=str(path),
                folder=str(backup_folder(path)),
            )
        return newest
    for place in (Path(backup), backup_folder(path) / backup):
        if place.is_file():
            if path.exists() and place.samefile(path):
                raise BadInput(
                    "{path} cannot be restored from itself; name one of its backups.", path=str(path)
                )
            return place
    kept = ", ".join(backup.name for backup in backups_of(path)) or "none"
    raise BadInput("There is no backup {backup}; there are: {kept}.", backup=str(backup), kept=kept)


def refuse_unsound(source: Path) -> None:
    """Raise StoreFault when a fleet cannot be restored from a file: it is none, damaged or newer than we."""
    refuse_foreign(source)
    if not sum_holds(source):
        raise StoreFault(
            "{source} was changed since it was written; choose another backup.", source=str(source)
        )
    try:
        with closing(connect_to_read(source)) as link:
            version = version_of(link)
            damage: tuple[Text | str, ...] = schema_faults(link, STEPS, version) if version <= VERSION else ()
            damage = damage or damage_of(link)
    except (sqlite3.Error, OSError) as fault:
        raise StoreFault(
            "{source} cannot be read: {fault}.", source=str(source), fault=words_of(fault)
        ) from fault
    if damage:
        raise StoreFault(
            "{source} is damaged ({damage}); choose another backup.", source=str(source), damage=damage[0]
        )
    if version > VERSION:
        raise StoreFault(
            "{source} is of version {version}; this Hangar knows up to {most}.",
            source=str(source),
            version=version,
            most=VERSION,
        )


def _put_in_place(path: Path, source: Path, now: datetime) -> Path:
    """At every moment the name leads to the old file, to the new one, or for an instant to none.

    An unfinished change of the old file is never left beside the new one, which it would spoil, nor
    taken from beside the old one, which would then show half an edit.
    """
    draft, aside = path.with_name(path.name + ".part"), path
    sweep(path)
    try:
        _copy(source, draft)
        if path.exists():
            aside = _set_aside(path, now)
            undo_broken_off(path)
        if journal_path(path).exists():
            # The old file is too damaged to undo it. It was set aside whole, so it can go first.
            path.unlink(missing_ok=True)
            settle_folder(path.parent)
            journal_path(path).unlink()
            settle_folder(path.parent)
        settle(draft, path, like=aside if aside != path else source)
    finally:
        draft.unlink(missing_ok=True)
    return aside


def _set_aside(path: Path, now: datetime) -> Path:
    aside = _free_name(path, now)
    aside.parent.mkdir(exist_ok=True)
    beside = aside.with_name(aside.name + ".part")
    if has_journal(path):
        _copy(journal_path(path), beside)
        settle(beside, aside.with_name(aside.name + "-journal"), like=path)
    _copy(path, beside)
    settle(beside, aside, like=path)
    return aside


def _copy(source: Path, draft: Path) -> None:
    draft.unlink(missing_ok=True)
    begin_draft(draft)
    shutil.copyfile(source, draft)


def _free_name(path: Path, now: datetime) -> Path:
    stem = f"{path.stem} replaced {now:%Y-%m-%d %H%M%S}"
    names = [stem, *(f"{stem} {number}" for number in range(2, 1000))]
    places = (backup_folder(path) / f"{name}.old{path.suffix}" for name in names)
    return next(place for place in places if not place.exists())
