"""Tables of Hangar's own form: one a kind, headed by field names, read into records row by row."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

from hangar.base.errors import BadInput
from hangar.base.text import Text, fixed, text
from hangar.parts import KIND_BY_NAME, Airframe, Record
from hangar.parts.fields import FieldSpec, columns
from hangar.store.cells import Column, Habits, Raw, plain_text, read_cell
from hangar.store.codec import Key, broken_rule, name_of
from hangar.store.headings import column_of, doubt_of
from hangar.store.kept_columns import kept_column, whole_again
from hangar.store.report import CellNote
from hangar.store.tables import table_name
from hangar.store.tables_read import Sheet, decimal_of

Row = dict[str, Any]
_OF_AIRCRAFT = {"aircraft", "model", "models", "plane", "planes", "aeroplanes", "airplanes"}


@dataclass(frozen=True, slots=True)
class Place:
    """Where in the files a record comes from, and under which headings its fields stand."""

    file: str
    row: int
    headers: Mapping[str, str]

    def note(self, fields: Iterable[str], value: object, reason: Text) -> CellNote:
        """A remark on the cell of the last of these fields that has a column."""
        named = [self.headers[name] for name in fields if name in self.headers]
        return CellNote(self.file, self.row, named[-1] if named else "", str(value), reason)


@dataclass(slots=True)
class Intake:
    """Everything read from the files of one bring-in, before any of it is written.

    ``heed`` is called for every record; what it raises ends the bring-in.
    """

    records: dict[type[Record], dict[Key, Record]] = field(default_factory=dict)
    places: dict[tuple[type[Record], Key], Place] = field(default_factory=dict)
    refused: list[CellNote] = field(default_factory=list)
    doubtful: list[CellNote] = field(default_factory=list)
    stated: list[CellNote] = field(default_factory=list)
    heed: Callable[[], None] = lambda: None

    def add(self, record: Record, key: Key, place: Place) -> None:
        """Keep a record; a second one with the same key is refused."""
        self.heed()
        kind = type(record)
        first = self.places.get((kind, key))
        if first is not None:
            reason = text(
                "{record} is named again; row {row} of {file} has it already.",
                record=name_of(kind, key),
                row=first.row,
                file=first.file,
            )
            self.refused.append(place.note(kind.KEY, "", reason))
            return
        self.records.setdefault(kind, {})[key] = record
        self.places[kind, key] = place


def kind_of(title: str) -> type[Record] | None:
    """The record kind that a table's name means."""
    name = re.sub(r"[\s-]+", "_", title.strip().lower())
    return next((kind for kind in KIND_BY_NAME.values() if table_name(kind) == name), None)


def kind_of_many(title: str) -> type[Record] | None:
    """The record kind that a table named in the plural means, such as "airframes" or "Switches"."""
    name = title.strip().lower()
    if name in _OF_AIRCRAFT:
        return Airframe
    return kind_of(name.removesuffix("es")) or kind_of(name.removesuffix("s"))


def read_table(
    sheet: Sheet, kind: type[Record], habits: Habits, present: Mapping[Key, Row], intake: Intake
) -> None:
    """Read a table's rows into the intake.

    ``present`` are the rows of the kind that the fleet has: a column that the table lacks keeps
    their values.
    """
    plan = _columns(sheet, kind, intake)
    if plan is not None:
        table = _Table(sheet, kind, plan, Habits(habits.today, _decimal(sheet, plan.fields)), present, intake)
        for number, row in enumerate(sheet.rows[1:], start=2):
            if any(plain_text(cell) for cell in row):
                table.take(number, row)


def _decimal(sheet: Sheet, plan: Mapping[int, Column]) -> str | None:
    # A remark such as "1,5" says nothing about how the numbers beside it are written.
    numbers = [at for at, column in plan.items() if column.spec.type in (float, int)]
    return decimal_of([row[at] for at in numbers if at < len(row)] for row in sheet.rows[1:])


def _columns(sheet: Sheet, kind: type[Record], intake: Intake) -> _Plan | None:
    by_number: dict[int, Column] = {}
    kept: dict[int, FieldSpec] = {}
    faults: list[CellNote] = []
    for at, header in enumerate(sheet.headers):
        if not header:
            if any(at < len(row) and plain_text(row[at]) for row in sheet.rows[1:]):
                faults.append(
                    CellNote(sheet.file, 1, "", "", text("column {at} has values but no heading.", at=at + 1))
                )
            continue
        if spec := kept_column(kind, header):
            kept[at] = spec
            continue
        try:
            column = column_of(kind, header)
            if column.spec.name in {other.spec.name for other in by_number.values()}:
                raise BadInput("{name} has a column already.", name=column.spec.name)
            by_number[at] = column
            doubt = doubt_of(kind, header)
            if doubt:
                intake.doubtful.append(CellNote(sheet.file, 1, header, header, doubt))
        except BadInput as fault:
            faults.append(CellNote(sheet.file, 1, header, header, fault.text))
    given = {column.spec.name for column in by_number.values()}
    lacking = [name for name in kind.KEY if name not in given and _must_be_given(kind, name)]
    faults += [
        CellNote(sheet.file, 1, name, "", text("the column is missing; it must be there."))
        for name in lacking
    ]
    faults += [
        CellNote(
            sheet.file,
            1,
            sheet.headers[at],
            "",
            text("there is no column {name}, to which these texts belong.", name=spec.name),
        )
        for at, spec in kept.items()
        if spec.name not in given
    ]
    intake.refused += faults
    return None if faults else _Plan(by_number, kept)


@dataclass(frozen=True, slots=True)
class _Plan:
    """Which field each column of a table holds, and which hold what the program's sentences are made of."""

    fields: Mapping[int, Column]
    kept: Mapping[int, FieldSpec]


def _must_be_given(kind: type[Record], name: str) -> bool:
    return any(spec.name == name and spec.default is None for spec in columns(kind))


@dataclass(frozen=True, slots=True)
class _Table:
    """One table whose headings are understood, taken in row by row."""

    sheet: Sheet
    kind: type[Record]
    plan: _Plan
    habits: Habits
    present: Mapping[Key, Row]
    intake: Intake

    def take(self, number: int, row: tuple[Raw, ...]) -> None:
        """Read one row, or refuse it cell by cell."""
        given: Row = {}
        faults: list[CellNote] = []
        for at, column in self.plan.fields.items():
            raw = row[at] if at < len(row) else None
            try:
                given[column.spec.name], doubts = read_cell(column, raw, self.habits)
                self.intake.doubtful += [self._note(number, column, raw, words) for words in doubts]
            except BadInput as fault:
                faults.append(self._note(number, column, raw, fault.text))
        for at, spec in self.plan.kept.items():
            kept = plain_text(row[at]) if at < len(row) else ""
            try:
                given[spec.name] = whole_again(kept, given.get(spec.name))
            except BadInput as fault:
                faults.append(CellNote(self.sheet.file, number, self.sheet.headers[at], kept, fault.text))
        if any(plain_text(cell) for cell in row[len(self.sheet.headers) :]):
            faults.append(
                CellNote(self.sheet.file, number, "", "", text("the row is longer than the headings."))
            )
        self.intake.refused += faults or self._finish(number, given)

    def _note(self, number: int, column: Column, raw: Raw, reason: Text) -> CellNote:
        return CellNote(self.sheet.file, number, column.header, plain_text(raw), reason)

    def _finish(self, number: int, given: Row) -> list[CellNote]:
        kind = self.kind
        headers = {column.spec.name: column.header for column in self.plan.fields.values()}
        place = Place(self.sheet.file, number, headers)
        kept = self.present.get(tuple(_plain(given.get(name)) for name in kind.KEY), {})
        values: Row = {}
        for spec in columns(kind):
            value = given[spec.name] if spec.name in given else kept.get(spec.name, spec.default)
            if value is None and not spec.optional:
                return [
                    place.note(
                        (spec.name,),
                        "",
                        text("{label} is missing; it must be given.", label=fixed(spec.label)),
                    )
                ]
            values[spec.name] = spec.type(value) if isinstance(value, str) else value
        key = tuple(values[name] for name in kind.KEY)
        broken = broken_rule(kind, values)
        if broken:
            return [
                place.note(
                    kind.KEY, "", text("{record}: {broken}.", record=name_of(kind, key), broken=broken)
                )
            ]
        self.intake.add(kind(**values), tuple(_plain(part) for part in key), place)
        return []


def _plain(value: Any) -> Any:
    return str(value) if isinstance(value, str) else value
