"""What is done to the file of a fleet: opened, made, brought into, taken out of, put back from a backup."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING

from hangar.base.errors import BadInput
from hangar.base.places import demo_fleet_dir

if TYPE_CHECKING:
    from hangar.base.text import Arg, Text
    from hangar.parts import Aircraft
    from hangar.store import BringInReport, Fleet
    from hangar.store.intake.reading import Answers
    from hangar.store.rehearsal import Heard, Rehearsal

# The store is loaded inside the functions: the window must be on screen before them.

Heed = Callable[[float], None]
"""Told again and again which share is done; what it raises ends the work."""


def are_tables(place: str) -> bool:
    """Whether tables lie at that place rather than a fleet."""
    path = Path(place)
    return "://" not in place and (path.is_dir() or path.suffix.lower() in (".csv", ".xlsx"))


def fleet_path(path: Path) -> Path:
    """The path with the ending of a fleet file where it has none."""
    return path if path.suffix else path.with_suffix(".hangar")


def open_fleet(place: str, heed: Heed | None = None) -> Fleet:
    """Open a fleet file, a fleet on a server given as a URL, or tables, which are read into memory.

    ``heed`` is told the share of the tables that is read; what it raises ends the reading.

    Raises: HangarError when it cannot be opened.
    """
    from hangar.store import Fleet

    if are_tables(place):
        fleet = Fleet.in_memory()
        try:
            bring_in(fleet, [Path(place)], heed)
        except BaseException:
            fleet.close()
            raise
        return fleet
    return Fleet.open(place if "://" in place else Path(place))


@dataclass(frozen=True)
class OpenFleet:
    """A fleet just opened, with its aircraft as they stand."""

    fleet: Fleet
    aircraft: tuple[Aircraft, ...]


def open_and_read(place: str, heed: Heed | None = None) -> OpenFleet:
    """Open a fleet and read all its aircraft; may be called beside the event loop.

    Raises: HangarError when it cannot be opened.
    """
    fleet = open_fleet(place, heed)
    try:
        return OpenFleet(fleet, fleet.whole_fleet())
    except BaseException:
        fleet.close()
        raise


def new_fleet(path: Path) -> Fleet:
    """Create an empty fleet."""
    from hangar.store import Fleet

    return Fleet.create(path)


def demo_fleet(path: Path) -> Fleet:
    """The invented fleet: the copy at that place, made from the travelling tables when there is none."""
    from hangar.store import Fleet

    if path.exists():
        return Fleet.open(path)
    path.parent.mkdir(parents=True, exist_ok=True)
    fleet = Fleet.create(path)
    try:
        bring_in(fleet, [demo_fleet_dir()])
    except BaseException:
        fleet.close()
        path.unlink(missing_ok=True)
        raise
    return fleet


class EmptyIntake(BadInput):
    """Nothing was brought in.

    Attributes:
        report: what was refused, and why.
    """

    def __init__(self, report: BringInReport) -> None:
        super().__init__("Nothing was brought in. {report}", report=report.text())
        self.report = report


def rehearse(
    fleet: Fleet | None, sources: Sequence[Path], today: date, heed: Heed | None = None
) -> tuple[Rehearsal, Heard] | None:
    """Read a keeper's own sheets without writing anything, as he said of the copy before.

    Returns: None for tables of our own form and filled sheets, and where no table is understood.
    Raises: BadInput when a source is not there.
    """
    from hangar.store.rehearsal import rehearsal_of

    made = rehearsal_of(fleet, sources, today, heed)
    if made is None:
        return None
    heard = made.heard(made.before.answers)
    return (made, heard) if heard.reading.tables else None


def bring_in(
    fleet: Fleet,
    sources: Sequence[Path],
    heed: Heed | None = None,
    answers: Answers | None = None,
    *,
    answers_name: str = "",
    rehearse: bool = False,
) -> BringInReport:
    """Bring tables, keepers' own and filled sheets into a fleet; what was taken and what was refused.

    Args:
        fleet: where the records go.
        sources: files and folders.
        heed: told which share is done.
        answers: what the keeper said of his own sheet.
        answers_name: the file of the answers; each must then fit the sheet.
        rehearse: write nothing.

    Raises: EmptyIntake when nothing could be taken.
    """
    from hangar.acts.hindrances import Hindrances
    from hangar.acts.sheet_limits import SheetLimits
    from hangar.store import bring_in as take

    report = take(
        fleet,
        list(sources),
        dry_run=rehearse,
        heed=heed,
        answers=answers,
        answers_name=answers_name,
        hindrances=Hindrances(fleet, date.today()).on,
        limits=SheetLimits(fleet, date.today()).of,
    )
    if report.is_empty:
        raise EmptyIntake(report)
    return report


def fleet_of_sheets(
    path: Path, sources: Sequence[Path], answers: Answers, heed: Heed | None = None
) -> tuple[OpenFleet, BringInReport]:
    """Begin a fleet with what a keeper's own sheets say; where nothing comes of them no file stays.

    Raises: HangarError when the file cannot be made, EmptyIntake when nothing could be taken.
    """
    fleet = new_fleet(fleet_path(path))
    try:
        report = bring_in(fleet, sources, heed, answers)
        return OpenFleet(fleet, fleet.whole_fleet()), report
    except BaseException:
        place = fleet.path
        fleet.close()
        if place is not None:
            place.unlink(missing_ok=True)
        raise


def take_out(fleet: Fleet, folder: Path, put: Callable[[Arg], str]) -> int:
    """Write all tables into a folder, what the program wrote as ``put`` says it; how many files there are."""
    from hangar.store import take_out as write

    return len(write(fleet, folder, put))


def backups_beside(path: Path) -> Path:
    """The folder in which the backups of a fleet file lie."""
    from hangar.store.backups import backup_folder

    return backup_folder(path)


def copies_of_server(address: str, folder: Path) -> Path:
    """The folder in which the copies of a server's fleet lie."""
    from hangar.store.backups import backup_folder
    from hangar.store.server_copies import place_of_copies

    return backup_folder(place_of_copies(address, folder))


def restore_server(address: str, copy: Path, folder: Path) -> Text:
    """Make a fleet on a server what a copy of it holds; returns what was done.

    Raises: HangarError when the copy is not sound or the server refuses; nothing is changed then.
    """
    from hangar.store.server_restore import restore_server as put_back

    return put_back(address, str(copy), folder, datetime.now())  # noqa: DTZ005


def restore(path: Path, backup: Path) -> Path:
    """Put a backup in a fleet file's place; returns where the replaced file was set aside.

    Raises: HangarError when the backup is not sound or the file is in use; nothing is changed then.
    """
    from hangar.store.restore import restore_backup

    return restore_backup(path, backup)
