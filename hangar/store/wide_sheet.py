"""Bring in one wide spreadsheet as a keeper keeps it: a row a servo, in his own words and units."""

from __future__ import annotations

import re
from datetime import date

from hangar.base.text import Text, text
from hangar.base.units import symbol_of
from hangar.store.cells import Raw, plain_text
from hangar.store.edit import Edit
from hangar.store.limits import WIDE_NOTE_MOST, WIDE_ROWS_MOST, WIDE_TEXT_MOST, WIDE_TYPES_MOST
from hangar.store.own_tables import Intake
from hangar.store.report import CellNote
from hangar.store.tables_read import Sheet
from hangar.store.wide_aircraft import take_aircraft
from hangar.store.wide_book import Book, Line
from hangar.store.wide_columns import HEADINGS_NEEDED, Role, layout_of
from hangar.store.wide_packs import take_packs
from hangar.store.wide_ratings import SMALL_TORQUE
from hangar.store.wide_types import take_types

_TOTALS = re.compile(r"\s*(?:grand\s+)?(?:totals?|sums?|counts?|averages?|mean)\b", re.IGNORECASE)
_TELLING = (Role.CHANNEL, Role.FUNCTION, Role.SERVO)


def is_wide_sheet(sheet: Sheet) -> bool:
    """Whether the headings are those of a keeper's own sheet of servos."""
    return layout_of(sheet) is not None


def read_wide_sheet(sheet: Sheet, edit: Edit, today: date, intake: Intake) -> None:
    """Read a keeper's sheet into the intake; only what cannot be understood is left out and reported.

    Every unit taken for a column, every doubtful cell, every name or tag made up is reported too.
    """
    layout = layout_of(sheet)
    if layout is None:
        return
    book = Book(sheet, layout, edit, today, intake)
    _state_units(book)
    _gather_lines(book)
    if not _is_small_enough(book):
        return
    types = take_types(book)
    aircraft = take_aircraft(book, types)
    take_packs(book, aircraft)


def _state_units(book: Book) -> None:
    units = book.layout.units
    by_size = text(
        "kgf·cm below {torque}, ozf·in from there on, unless another row of the type tells",
        torque=SMALL_TORQUE,
    )
    lead_by_size = text("in below 90, mm from there on")
    readings = {
        Role.TORQUE: _own(units.get(Role.TORQUE), by_size),
        Role.SPEED: _bare(units.get(Role.SPEED), text("seconds for 60°")),
        Role.VOLTS: _bare(units.get(Role.VOLTS), "V"),
        Role.CAPACITY: _bare(units.get(Role.CAPACITY), "mAh"),
        Role.LEAD: _own(units.get(Role.LEAD), lead_by_size),
        Role.FITTED: text("days with strokes as day/month/year."),
    }
    for role, words in readings.items():
        if role in book.layout.columns:
            book.state(book.layout.heading_row, role, book.layout.headers[role], words)
    for at, heading in book.layout.unknown.items():
        rows = book.sheet.rows[book.layout.heading_row :]
        if any(at < len(row) and plain_text(row[at]) for row in rows):
            note = CellNote(
                book.sheet.file,
                book.layout.heading_row,
                heading,
                heading,
                text("column is not understood; it was left out."),
            )
            book.intake.refused.append(note)
    if book.layout.unknown:
        row, file = book.layout.heading_row, book.sheet.file
        book.intake.stated.append(CellNote(file, row, "", "", HEADINGS_NEEDED))


def _own(unit: str | None, otherwise: Text) -> Text:
    unit_named = symbol_of(unit) if unit else otherwise
    return text("each cell's own unit; bare numbers as {unit}.", unit=unit_named)


def _bare(unit: str | None, otherwise: Text | str) -> Text:
    return text("bare numbers as {unit}.", unit=symbol_of(unit) if unit else otherwise)


def _gather_lines(book: Book) -> None:
    model = ""
    for number, row in enumerate(book.sheet.rows, start=1):
        if number <= book.layout.heading_row or not any(plain_text(cell) for cell in row):
            continue
        raw = {role: row[at] if at < len(row) else None for role, at in book.layout.columns.items()}
        line = Line(number, plain_text(raw[Role.MODEL]) or model, raw)
        if _is_refused(book, line, row):
            continue
        if not line.text(Role.MODEL):
            book.doubt(
                line,
                Role.MODEL,
                text("names no aircraft; taken for {model} of the row above.", model=line.model),
            )
        model = line.model
        book.lines.append(line)


def _is_small_enough(book: Book) -> bool:
    names = {line.text(Role.SERVO) for line in book.lines}
    if len(book.lines) <= WIDE_ROWS_MOST and len(names) <= WIDE_TYPES_MOST:
        return True
    reason = text(
        "the sheet has {count} rows with {of} names of servo types; allowed are {rows_most} rows and "
        "{names_most} names.",
        count=len(book.lines),
        of=len(names),
        rows_most=WIDE_ROWS_MOST,
        names_most=WIDE_TYPES_MOST,
    )
    book.intake.refused.append(CellNote(book.sheet.file, 0, "", "", reason))
    return False


def _most(role: Role) -> int:
    return WIDE_NOTE_MOST if role is Role.NOTES else WIDE_TEXT_MOST


def _is_refused(book: Book, line: Line, row: tuple[Raw, ...]) -> bool:
    long = next((role for role in line.raw if len(line.text(role)) > _most(role)), None)
    if long is not None:
        words = text(
            "is {count} characters long; allowed are {most}; the row was left out.",
            count=len(line.text(long)),
            most=_most(long),
        )
        book.refuse(line, long, words, f"{line.text(long)[:40]}...")
        return True
    formula = next((role for role in line.raw if line.text(role).startswith("=")), None)
    if _TOTALS.match(plain_text(next((cell for cell in row if plain_text(cell)), None))):
        words = text("is a row of totals, not a servo; the row was left out.")
        book.refuse(line, formula or Role.MODEL, words)
        return True
    if formula is not None:
        book.refuse(line, formula, text("is a formula; the row was left out."))
        return True
    if not line.model:
        book.refuse(line, Role.MODEL, text("names no aircraft; the row was left out."))
        return True
    if not any(line.text(role) for role in _TELLING):
        book.refuse(
            line, Role.FUNCTION, text("tells of no channel, function or servo; the row was left out.")
        )
        return True
    return False
