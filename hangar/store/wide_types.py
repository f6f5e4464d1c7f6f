"""The servo types of a keeper's sheet: one for all spellings, with the ratings its rows give."""

from __future__ import annotations

import re
from dataclasses import dataclass, field

from hangar.base.text import text
from hangar.base.units import parse_number
from hangar.parts import ServoType
from hangar.parts.choices import Drive
from hangar.store.wide_book import Book, Line
from hangar.store.wide_columns import Role
from hangar.store.wide_match import TypeGroup, TypeMatcher
from hangar.store.wide_ratings import Cells, Note, TypeFigures, differences, named_torques, take_row
from hangar.store.wide_words import drive_of

_MAX_VOLTS = re.compile(r"\bmax(?:imum)?\.?\s*(\d+(?:[.,]\d+)?)\s*v?(?:olts?)?\b", re.IGNORECASE)


@dataclass(slots=True)
class _Found:
    """What the rows of one type say beside its ratings."""

    group: TypeGroup
    line: Line
    figures: TypeFigures = field(default_factory=TypeFigures)
    drive: Drive | None = None
    pulse_us: float | None = None
    supply_max_v: float | None = None


def take_types(book: Book) -> dict[int, str]:
    """Take the servo types of the sheet; returns the type's code for each row that names one."""
    matcher = TypeMatcher(book.known(ServoType))
    found: dict[int, _Found] = {}
    of_line: dict[int, _Found] = {}
    spelled: set[str] = set()
    for line in book.lines:
        text = line.text(Role.SERVO)
        if not text or text == "?":
            continue
        group, doubt = matcher.group(text)
        entry = found.setdefault(id(group), _Found(group, line))
        of_line[line.number] = entry
        if doubt:
            book.doubt(line, Role.SERVO, doubt)
            spelled.add(text)
    codes = _codes(book, list(found.values()))
    _state_spellings(book, of_line, codes, spelled)
    _gather_figures(book, of_line)
    for entry in found.values():
        _take_type(book, entry, codes[id(entry)])
    return {number: codes[id(entry)] for number, entry in of_line.items()}


def _codes(book: Book, entries: list[_Found]) -> dict[int, str]:
    taken = {known.code for known in book.known(ServoType)}
    codes: dict[int, str] = {}
    for entry in entries:
        code = entry.group.code
        if entry.group.known is None and code in taken:
            code = entry.group.best.text
        taken.add(code)
        codes[id(entry)] = code
    return codes


def _state_spellings(
    book: Book, of_line: dict[int, _Found], codes: dict[int, str], spelled: set[str]
) -> None:
    for line in book.lines:
        entry = of_line.get(line.number)
        words = line.text(Role.SERVO)
        if entry is not None and words not in spelled:
            spelled.add(words)
            book.state(
                line.number,
                Role.SERVO,
                words,
                text("taken as type {code} of the fleet.", code=codes[id(entry)])
                if entry.group.known
                else text("taken as type {code}.", code=codes[id(entry)]),
            )


def _gather_figures(book: Book, of_line: dict[int, _Found]) -> None:
    unit = book.layout.units.get(Role.TORQUE)
    for line in book.lines:
        entry = of_line.get(line.number)
        if entry is not None:
            entry.figures.named_nm += named_torques(line.text(Role.TORQUE), unit)
            known = entry.group.known
            entry.figures.named_nm += [rating.torque_nm for rating in known.ratings] if known else []
    for line in book.lines:
        entry = of_line.get(line.number)
        if entry is not None:
            take_row(entry.figures, _cells(book, line))
            _take_words(book, line, entry)


def _cells(book: Book, line: Line) -> Cells:
    roles = {"torque": Role.TORQUE, "speed": Role.SPEED, "volts": Role.VOLTS}
    return Cells(
        torque=line.text(Role.TORQUE),
        speed=line.text(Role.SPEED),
        volts=line.text(Role.VOLTS),
        torque_unit=book.layout.units.get(Role.TORQUE),
        speed_unit=book.layout.units.get(Role.SPEED),
        refuse={name: _refuser(book, line, role) for name, role in roles.items()},
        doubt={name: _doubter(book, line, role) for name, role in roles.items()},
    )


def _refuser(book: Book, line: Line, role: Role) -> Note:
    return lambda found, reason: book.refuse(line, role, reason, found)


def _doubter(book: Book, line: Line, role: Role) -> Note:
    return lambda found, reason: book.doubt(line, role, reason, found)


def _take_words(book: Book, line: Line, entry: _Found) -> None:
    words = line.text(Role.DRIVE)
    drive, pulse_us = drive_of(words)
    if words and drive is None:
        book.refuse(line, Role.DRIVE, text("says neither analog nor digital; it was left out."))
    if drive and entry.drive and drive is not entry.drive:
        book.doubt(
            line, Role.DRIVE, text("differs from an earlier row; {drive} was kept.", drive=entry.drive)
        )
    entry.drive = entry.drive or drive
    entry.pulse_us = entry.pulse_us or pulse_us
    limit = _MAX_VOLTS.search(line.text(Role.NOTES))
    if limit and entry.group.known is None:
        if entry.supply_max_v is None:
            book.doubt(
                line, Role.NOTES, text("was read as the type's highest volts, {limit} V.", limit=limit[1])
            )
        entry.supply_max_v = parse_number(limit[1])[0]


def _take_type(book: Book, entry: _Found, code: str) -> None:
    entry.figures.refuse_halves()
    known = entry.group.known
    if known is not None:
        differences(code, known.ratings, entry.figures, _doubter(book, entry.line, Role.TORQUE))
        return
    drive = entry.drive
    if drive is None:
        drive = Drive.ANALOG
        book.doubt(
            entry.line,
            Role.SERVO,
            text("type {code} is not said to be analog or digital; taken as analog.", code=code),
        )
    made = ServoType(
        code=code,
        maker=entry.group.best.maker,
        drive=drive,
        pulse_us=entry.pulse_us or ServoType.pulse_us,
        supply_max_v=entry.supply_max_v,
    )
    book.take(made, entry.line)
    for rating in entry.figures.ratings(code):
        book.take(rating, entry.line)
