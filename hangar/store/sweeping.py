"""What a crash left half-made beside a fleet file is removed when the file is next opened for writing."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path

from hangar.store.backups import SUM_SUFFIX, backup_folder, forget_draft
from hangar.store.lock import real_file
from hangar.store.papers import papers_folder
from hangar.store.unfinished import has_journal, journal_path

_UNFINISHED = (".part", ".part-journal")
_BESIDE = (SUM_SUFFIX, "-journal")


def sweep(path: Path) -> None:
    """Remove drafts, and what belongs to copies that never came to be; the file's lock must be held."""
    path = real_file(path)
    forget_draft(path.with_name(path.name + ".part"))
    with suppress(OSError):
        if not has_journal(path):
            # One that was just begun holds nothing to be undone.
            journal_path(path).unlink(missing_ok=True)
    for leftover in (*_left_of_copies(path), *_inside(papers_folder(path), ".part")):
        with suppress(OSError):
            leftover.unlink()


def _left_of_copies(path: Path) -> Iterator[Path]:
    for leftover in _inside(backup_folder(path), *_UNFINISHED, *_BESIDE):
        if not leftover.name.startswith(f"{path.stem} "):
            continue
        owner = next((leftover.name.removesuffix(end) for end in _BESIDE if leftover.name.endswith(end)), "")
        if leftover.name.endswith(_UNFINISHED) or not leftover.with_name(owner).exists():
            yield leftover


def _inside(folder: Path, *endings: str) -> list[Path]:
    try:
        return [path for path in folder.iterdir() if path.name.endswith(endings)]
    except OSError:
        return []
