"""Bring a fleet in from tables and filled sheets, and take it out as tables."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable, Sequence
from datetime import date
from pathlib import Path

from hangar.base.errors import BadInput, StoreFault
from hangar.base.text import listed, text
from hangar.parts import RECORD_KINDS, Installation, PackFit, Record
from hangar.store.backups import settle
from hangar.store.cells import Habits, write_cell
from hangar.store.claims import check_links, refuse_double_packs, settle_stays
from hangar.store.edit import Edit
from hangar.store.filled_sheet import FlightHindrances, SheetLimits
from hangar.store.fleet import Fleet
from hangar.store.headings import is_headed_for
from hangar.store.intake.files import read_grids
from hangar.store.intake.grid import Grid
from hangar.store.intake.mapping import mapping_text
from hangar.store.intake.reading import Answers, read_file
from hangar.store.intake.vocabulary import known_words
from hangar.store.keeper_sheet import KeeperIntake, take_keeper_sheets
from hangar.store.kept_columns import Put, table_of
from hangar.store.old_settings import make_records
from hangar.store.own_tables import Intake, kind_of, kind_of_many, read_table
from hangar.store.papers_io import gather_papers, take_papers, write_papers
from hangar.store.report import BringInReport, CellNote
from hangar.store.sheet_intake import SheetIntake, read_forms, take_form
from hangar.store.tables import table_name
from hangar.store.tables_read import FORM_ENDINGS, OWN_ENDINGS, Sheet, files_of, read_sheets
from hangar.store.workbooks import write_workbook

__all__ = ["BringInReport", "CellNote", "bring_in", "take_out"]


_Found = tuple[Path, Sheet, type[Record]]


class _NotWrittenError(Exception):
    """Ends the edit without a trace: it was a rehearsal, or a row had to be refused."""


class _Steps:
    """Tells how far the work is, a step at a time."""

    def __init__(self, heed: Callable[[float], None] | None) -> None:
        self._heed = heed
        self._done, self._of = 0, 1

    def plan(self, of: int) -> None:
        """There are so many steps in all."""
        self._of = max(of, 1)

    def go_on(self, steps: int = 1) -> None:
        """So many steps were taken."""
        self._done += steps
        self.look_up()

    def look_up(self) -> None:
        """Ask whether to go on."""
        if self._heed is not None:
            self._heed(min(self._done / self._of, 1.0))


def bring_in(
    fleet: Fleet,
    sources: Sequence[Path],
    today: date | None = None,
    dry_run: bool = False,
    heed: Callable[[float], None] | None = None,
    answers: Answers | None = None,
    answers_name: str = "",
    hindrances: FlightHindrances | None = None,
    limits: SheetLimits | None = None,
) -> BringInReport:
    """Take tables and filled sheets into a fleet as one edit that can be undone.

    Tables of our own form (one a kind, named after it) are taken whole or not at all. Any other table is a
    keeper's own sheet: what it says is read cell by cell, and what is not sure is asked. Of a filled sheet,
    a PDF form, only the boxes that cannot be understood are left out.

    Args:
        fleet: where the records go; those with the same key are replaced.
        sources: CSV or XLSX files, filled sheets as PDF, or folders of them.
        today: the day that offsets such as D-12 count from.
        dry_run: report only; nothing is written.
        heed: told again and again what share of the work is done, 0 to 1; what it raises ends the
            work, and nothing was written then.
        answers: what the keeper said of his own sheet: roles of columns, units, classes.
        answers_name: the file of the answers; each must then fit the sheet.
        hindrances: tells what stood against the flights of a filled sheet; without it only the records do.
        limits: within which the readings of a filled sheet should lie; without it none is held against any.

    Raises: BadInput when a source is not there; StoreFault when nothing can be saved.
    """
    steps = _Steps(heed)
    intake, forms_intake = Intake(heed=steps.look_up), SheetIntake()
    paths = files_of(sources)
    steps.plan(3 * len(paths) + len(RECORD_KINDS))
    pages = [path for path in paths if path.suffix.lower() in FORM_ENDINGS]
    forms = read_forms(pages, forms_intake)
    tables, grids = _sheets([path for path in paths if path not in pages], intake, steps)
    sheets = [(sheet, kind) for _, sheet, kind in tables]
    kept: list[KeeperIntake] = []

    def work(edit: Edit) -> None:
        _read(tables, edit, today or date.today(), intake, dry_run, steps)
        for kind in RECORD_KINDS:
            edit.put_all(intake.records.get(kind, {}).values())
            steps.go_on()
        if grids:
            day = today or date.today()
            kept.append(take_keeper_sheets(grids, edit, day, answers, answers_name))
        for form in forms:
            take_form(fleet, edit, form, today or date.today(), forms_intake, hindrances, limits)
        if dry_run:
            raise _NotWrittenError

    written = False
    names = [source.name or str(source) for source in sources]
    if not intake.refused:
        try:
            fleet.edit(text("Bring in {files}", files=listed(names, joint=",", most=0)), work)
            written = True
        except _NotWrittenError:
            written = dry_run and not _blocked(intake, sheets)
    counted = {kind.KIND: len(intake.records[kind]) for kind in RECORD_KINDS if intake.records.get(kind)}
    more = [forms_intake.taken, *(taken.taken for taken in kept)]
    for name, count in (item for some in more for item in some.items()):
        counted[name] = counted.get(name, 0) + count
    files = list(dict.fromkeys([*(sheet.file for sheet, _ in sheets), *(path.name for path in pages)]))
    keeper = kept[-1] if kept else None
    return BringInReport(
        counted if written else {},
        _in_order([*intake.refused, *forms_intake.refused], files),
        _in_order([*intake.doubtful, *forms_intake.doubtful], files),
        _in_order([*intake.stated, *forms_intake.stated], files),
        keeper.reading.account if keeper else None,
        keeper.changes if keeper else (),
        mapping_text(keeper.reading) if keeper else "",
    )


def _read(
    tables: Sequence[_Found], edit: Edit, today: date, intake: Intake, dry_run: bool, steps: _Steps
) -> None:
    """Read the tables into the intake; raises _NotWrittenError when one of our own form has a fault."""
    for _, sheet, kind in tables:
        read_table(sheet, kind, Habits(today), edit.rows_by_key(kind), intake)
        steps.go_on(2)
    make_records(intake, edit)
    _check(intake, edit)
    papers = gather_papers(intake, (path for path, _, _ in tables))
    if intake.refused:
        raise _NotWrittenError
    take_papers(intake, papers, edit, dry_run)
    if intake.refused:
        raise _NotWrittenError


def _in_order(notes: Sequence[CellNote], files: Sequence[str]) -> tuple[CellNote, ...]:
    return tuple(
        sorted(notes, key=lambda note: (files.index(note.file) if note.file in files else -1, note.row))
    )


def _blocked(intake: Intake, sheets: Sequence[tuple[Sheet, type[Record]]]) -> bool:
    tables = {sheet.file for sheet, _ in sheets}
    return any(note.file in tables for note in intake.refused)


def _sheets(paths: Sequence[Path], intake: Intake, steps: _Steps) -> tuple[list[_Found], list[Grid]]:
    """The tables of our own form, and those of keepers' own sheets."""
    sheets_read: list[_Found] = []
    grids: list[Grid] = []
    for path in paths:
        steps.go_on()
        try:
            sheets = read_sheets(path) if path.suffix.lower() in OWN_ENDINGS else []
            tables = [
                (path, sheet, kind)
                for sheet in sheets
                if (kind := _own_kind(sheet, path, len(sheets))) is not None
            ]
            if tables:
                sheets_read += tables
                _refuse_others(sheets, tables, intake)
            else:
                grids += read_grids(path, known_words)
        except BadInput as fault:
            intake.refused.append(CellNote(path.name, 0, "", "", fault.text))
    if sheets_read and grids:
        _refuse_not_understood(grids, intake)
    return sheets_read, grids


def keeper_grids(
    sources: Sequence[Path], heed: Callable[[float], None] | None = None
) -> tuple[list[Grid] | None, tuple[CellNote, ...]]:
    """The cells of keepers' own sheets, and what could not be read.

    None for the cells where tables of our own form or filled sheets are among the sources: those come in
    as they are.

    Raises: BadInput when a source is not there.
    """
    paths = files_of(sources)
    if any(path.suffix.lower() in FORM_ENDINGS for path in paths):
        return None, ()
    steps, intake = _Steps(heed), Intake()
    steps.plan(len(paths) + 1)
    tables, grids = _sheets(paths, intake, steps)
    return (None if tables else grids), tuple(intake.refused)


def _refuse_not_understood(grids: Sequence[Grid], intake: Intake) -> None:
    """Beside tables of our own form, which come in whole, a table that says nothing is a mistake."""
    for file in dict.fromkeys(grid.file for grid in grids):
        if not read_file([grid for grid in grids if grid.file == file], date.today()).account.has_tables:
            names = ", ".join(table_name(kind) for kind in RECORD_KINDS)
            reason = text(
                "is neither a table of records (named one of {names}) nor a sheet that is understood.",
                names=names,
            )
            intake.refused.append(CellNote(file, 0, "", "", reason))


def _own_kind(sheet: Sheet, path: Path, tabs: int) -> type[Record] | None:
    """The record kind whose table a sheet is, by its name; a keeper may name his own sheet so too."""
    kind = kind_of(sheet.title) or (kind_of(path.stem) if tabs == 1 else None) or kind_of_many(sheet.title)
    return kind if kind is not None and is_headed_for(kind, sheet.headers) else None


def _refuse_others(sheets: Sequence[Sheet], tables: Sequence[_Found], intake: Intake) -> None:
    names = ", ".join(table_name(kind) for kind in RECORD_KINDS)
    for sheet in sheets:
        if all(sheet is not other_sheet for _, other_sheet, _ in tables):
            reason = text(
                "is no table of records beside others that are; such a one is named one of {names}.",
                names=names,
            )
            intake.refused.append(CellNote(sheet.file, 0, "", sheet.title, reason))


def _check(intake: Intake, edit: Edit) -> None:
    check_links(intake, edit.keys)
    settle_stays(intake, edit.records(Installation, until_on=None))
    refuse_double_packs(intake, edit.records(PackFit, until_on=None))


def take_out(fleet: Fleet, place: Path, put: Put = str) -> tuple[Path, ...]:
    """Write every record as tables that :func:`bring_in` reads back to an equal fleet.

    Args:
        fleet: whose records are written, all as they stand at one moment.
        place: a folder, which gets a CSV file for each kind; or a file ending in .xlsx, which gets
            them as tabs. Photos and papers go as files into the folder "attachment" beside the tables.
        put: puts what the program wrote itself into the keeper's words; beside them it stays as it is kept.

    Raises: StoreFault when they cannot be written.
    """
    is_book = place.suffix.lower() == ".xlsx"
    folder = place.parent if is_book else place
    try:
        folder.mkdir(parents=True, exist_ok=True)
        with fleet.one_moment():
            if is_book:
                write_workbook(
                    place,
                    {table_name(kind): table_of(kind, fleet.records(kind), put) for kind in RECORD_KINDS},
                )
                tables: tuple[Path, ...] = (place,)
            else:
                tables = tuple(_write_table(fleet, kind, folder, put) for kind in RECORD_KINDS)
            return (*tables, *write_papers(fleet, folder))
    except OSError as fault:
        raise StoreFault(
            "The tables cannot be written to {place}: {cause}.", place=str(place), cause=fault.strerror
        ) from fault


def _write_table(fleet: Fleet, kind: type[Record], folder: Path, put: Put) -> Path:
    # A kind without records still gets its table, so that no older one of that name is left standing.
    names, rows = table_of(kind, fleet.records(kind), put)
    text = io.StringIO(newline="")
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(names)
    writer.writerows([write_cell(value) for value in row] for row in rows)
    path = folder / f"{table_name(kind)}.csv"
    draft = path.with_suffix(".csv.part")
    try:
        draft.write_bytes(text.getvalue().encode())
        settle(draft, path)
    finally:
        draft.unlink(missing_ok=True)
    return path
