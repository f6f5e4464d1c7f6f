"""Keepers' own sheets read before anything is written: as often as he answers, without a file."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path

from hangar.parts import RECORD_KINDS, Record
from hangar.parts.fields import key_of
from hangar.store.intake.blocks import Block, Row, segmented
from hangar.store.intake.columns import columns_of
from hangar.store.intake.grid import Cell, Grid
from hangar.store.intake.present import NOTHING, Present
from hangar.store.intake.proposal import Proposal
from hangar.store.intake.reading import Answers, KnownFleet, Reading, read_file
from hangar.store.intake.records import proposed
from hangar.store.intake.role_words import ROLE_WORDS
from hangar.store.intake.vocabulary import language_of
from hangar.store.keeper_present import Records, known_of, present_of
from hangar.store.keeper_sheet import Key, Writable, fitting_of
from hangar.store.keeper_sources import SheetBefore, sheet_before
from hangar.store.tables_io import keeper_grids

Heed = Callable[[float], None]


@dataclass(frozen=True, slots=True)
class Heard:
    """The sheets as they are read with some answers, and what would be written."""

    reading: Reading
    proposal: Proposal
    fitting: Writable


@dataclass(slots=True)
class Rehearsal:
    """The cells of some sheets beside what the fleet holds; both stay as they were when it was made."""

    sources: tuple[Path, ...]
    grids: list[Grid]
    today: date
    known: KnownFleet = field(default_factory=KnownFleet)
    present: Present = NOTHING
    before: SheetBefore = field(default_factory=lambda: SheetBefore(""))
    keys: Mapping[type[Record], set[Key]] = field(default_factory=dict)
    has_own_headings: bool = True
    """False for rows that were copied without their headings."""

    def compare_with(self, fleet: Records) -> None:
        """Take down what the fleet holds."""
        self.known, self.present = known_of(fleet), present_of(fleet)
        self.keys = {kind: {key_of(record) for record in fleet.records(kind)} for kind in RECORD_KINDS}

    def heard(self, answers: Answers) -> Heard:
        """What the sheets say with these answers. Nothing is changed; it may be asked on any thread."""
        reading = read_file(self.grids, self.today, self.known, answers)
        base = self.before.reading(self.today, answers) if self.before.parts else None
        proposal = proposed(reading, self.present, base)
        fitting = fitting_of(proposal, reading.account, lambda kind: self.keys.get(kind, set()))
        return Heard(reading, proposal, fitting)


def rehearsal_of(
    fleet: Records | None, sources: Sequence[Path], today: date, heed: Heed | None = None
) -> Rehearsal | None:
    """Read keepers' own sheets; None where tables of our own or filled sheets are among the sources.

    Args:
        fleet: what the sheets are compared with, if one is open.
        sources: the files.
        today: the latest day that a sheet may name.
        heed: told which share of the work is done; what it raises ends it.

    Raises: BadInput when a source is not there.
    """
    grids, refused = keeper_grids(sources, heed)
    if grids is None or (refused and not grids):
        return None
    made = Rehearsal(tuple(sources), grids, today)
    if fleet is not None:
        made.compare_with(fleet)
        made.before = sheet_before(fleet, read_file(grids, today, made.known))
    return made


def rehearsal_of_rows(fleet: Records, rows: str, file: str, aircraft: str, today: date) -> Rehearsal:
    """Read rows that were copied out of a sheet, parted by tabs.

    Args:
        fleet: what the rows are compared with.
        rows: the text.
        file: what stands for the name of a file.
        aircraft: the name of the aircraft whose rows they are, where they name none; "" for none.
        today: the latest day that they may name.
    """
    grid = Grid(file, aircraft)
    for row, line in enumerate(rows.replace("\r\n", "\n").split("\n"), start=1):
        for column, text in enumerate(line.split("\t"), start=1):
            if text.strip():
                grid.put(Cell(row, column, text.strip(), text.strip()))
    has_headings = bool(segmented(grid, "")[0])
    made = Rehearsal((Path(file),), [grid if has_headings else _with_headings(grid)], today)
    made.has_own_headings = has_headings
    made.compare_with(fleet)
    return made


def _with_headings(grid: Grid) -> Grid:
    """The rows below headings that say what stands in each column, as far as that shows it."""
    rows = [Row(number, cells) for number, cells in grid.rows() if cells]
    columns = columns_of(Block(grid, (), {}, rows), language_of(cell.text for cell in grid.cells.values()))
    made = Grid(grid.file, grid.tab)
    for column in columns.values():
        if column.role:
            words = str(ROLE_WORDS[column.role])
            made.put(Cell(1, column.at, words, words))
    for (row, at), cell in grid.cells.items():
        made.put(Cell(row + 1, at, cell.text, cell.value))
    return made
