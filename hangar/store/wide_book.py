"""A keeper's sheet while it is read: its rows, the fleet it goes to, and the remarks made on it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import TypeVar

from hangar.base.text import Text
from hangar.parts import Record
from hangar.store.cells import Raw, plain_text
from hangar.store.codec import Key
from hangar.store.edit import Edit
from hangar.store.own_tables import Intake, Place
from hangar.store.report import CellNote
from hangar.store.tables_read import Sheet
from hangar.store.wide_columns import Layout, Role

R = TypeVar("R", bound=Record)


@dataclass(frozen=True, slots=True)
class Line:
    """One row of the sheet that tells of a servo; ``number`` is its row in the file."""

    number: int
    model: str
    raw: Mapping[Role, Raw]

    def text(self, role: Role) -> str:
        """The text of one of its cells."""
        return plain_text(self.raw.get(role))


@dataclass(slots=True)
class Book:
    """A wide sheet being read: its layout, the fleet it goes to, and the remarks gathered."""

    sheet: Sheet
    layout: Layout
    edit: Edit
    today: date
    intake: Intake
    lines: list[Line] = field(default_factory=list)

    def refuse(self, line: Line, role: Role, reason: Text, found: str | None = None) -> None:
        """Report a cell that was left out."""
        self.intake.refused.append(self._note(line.number, role, found or line.text(role), reason))

    def doubt(self, line: Line, role: Role, reason: Text, found: str | None = None) -> None:
        """Report a cell that was taken but could mean something else."""
        self.intake.doubtful.append(self._note(line.number, role, found or line.text(role), reason))

    def state(self, number: int, role: Role, found: str, reason: Text) -> None:
        """Say how something was read or what was made up."""
        self.intake.stated.append(self._note(number, role, found, reason))

    def _note(self, number: int, role: Role, found: str, reason: Text) -> CellNote:
        return CellNote(self.sheet.file, number, self.layout.headers.get(role, ""), found, reason)

    def take(self, record: Record, line: Line) -> None:
        """Keep a record that a line gave."""
        key: Key = tuple(getattr(record, name) for name in record.KEY)
        self.intake.add(record, key, Place(self.sheet.file, line.number, {}))

    def known(self, kind: type[R]) -> list[R]:
        """The records of a kind in the fleet and among those taken so far."""
        taken = [record for record in self.intake.records.get(kind, {}).values() if isinstance(record, kind)]
        return [*self.edit.records(kind), *taken]
