"""What the reading of every table of a file shares: language, units of titles, the order of days, answers."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date

from hangar.base.text import Text, text
from hangar.store.intake.account import About, Account, Answer
from hangar.store.intake.blocks import Block, Row
from hangar.store.intake.columns import Column
from hangar.store.intake.days import DayRead, read_day
from hangar.store.intake.facts import Facts, Plane
from hangar.store.intake.grid import Cell, Value
from hangar.store.intake.phrases import is_ditto, is_none, is_unknown
from hangar.store.intake.vocabulary import squeezed


@dataclass(slots=True)
class Context:
    """The reading of one file."""

    account: Account
    facts: Facts
    language: str
    today: date
    order: str = ""
    units: dict[str, tuple[str, float]] = field(default_factory=dict)
    classes: Mapping[str, str] = field(default_factory=dict)
    aliases: Mapping[str, str] = field(default_factory=dict)
    """Other names of an aircraft, both squeezed."""

    def plane(self, name: str, cell: Cell | None) -> Plane:
        """The aircraft of a name; a new one when it was not named before."""
        key = squeezed(name)
        plane = self.facts.planes.setdefault(self.aliases.get(key, key), Plane(name, cell))
        if plane.cell is None:
            plane.cell = cell
        if cell is not None:
            plane.cells.append(cell)
        return plane


@dataclass(slots=True)
class CellWords:
    """What a cell says, a ditto resolved: its text and value, and the cell of this row."""

    text: str
    value: Value
    cell: Cell
    is_ditto: bool = False

    @property
    def is_unknown(self) -> bool:
        """Whether it says that something is not known."""
        return is_unknown(self.text)

    @property
    def is_none(self) -> bool:
        """Whether it says that there is nothing."""
        return is_none(self.text)


class TableReader:
    """Reads the data rows of one block; the kinds of block build on it."""

    def __init__(
        self, context: Context, block: Block, columns: Mapping[int, Column], plane: Plane | None
    ) -> None:
        self.context = context
        self.account = context.account
        self.facts = context.facts
        self.block = block
        self.columns = columns
        self.own_plane = plane
        """The aircraft of the tab or the title, where no column names one."""
        self._above: dict[int, CellWords] = {}

    def column(self, role: str) -> Column | None:
        """The column of a role."""
        return next(
            (column for column in self.columns.values() if column.role == role and not column.is_twin), None
        )

    def of_role(self, role: str) -> list[Column]:
        """All columns of a role."""
        return [column for column in self.columns.values() if column.role == role and not column.is_twin]

    def take(self, row: Row) -> dict[int, CellWords]:
        """What the cells of a row say, dittos resolved; formulas without a result are asked about."""
        words_by_column: dict[int, CellWords] = {}
        for at, cell in row.cells.items():
            if at not in self.columns:
                continue
            if cell.is_unworked:
                self._unworked(cell, self.columns[at])
                continue
            above = self._above.get(at)
            if is_ditto(cell.text) and above is not None:
                words_by_column[at] = CellWords(above.text, above.value, cell, True)
                self.account.read(cell)
            else:
                words_by_column[at] = self._above[at] = CellWords(cell.text, cell.value, cell)
        return words_by_column

    def _unworked(self, cell: Cell, column: Column) -> None:
        if column.is_twin or not column.role:
            self.account.leave(cell, text("is worked out from another cell"))
        else:
            self.account.doubt(cell, About.FORMULA, text("is a formula whose result the file does not hold"))

    def get(self, taken: Mapping[int, CellWords], role: str) -> CellWords | None:
        """What a row says in the column of a role."""
        column = self.column(role)
        return taken.get(column.at) if column else None

    def day(self, taken: CellWords | None, unknown: Text) -> str:
        """The day of a cell as far as it is known, "" for none; doubts are told.

        ``unknown`` says which day it is that is not known.
        """
        if taken is None:
            return ""
        if taken.is_none:
            self.account.read(taken.cell)
            return ""
        if taken.is_unknown:
            self.account.doubt(taken.cell, About.DAY, unknown)
            return ""
        day_read = read_day(taken.text, taken.value, self.context.today, self.context.order)
        self._tell_day(day_read, taken.cell)
        return day_read.day

    def _tell_day(self, day_read: DayRead, cell: Cell) -> None:
        if day_read.hangs_on and not self.context.order:
            self.account.doubt(
                cell,
                About.DAY_ORDER,
                text("may be read with the day or the month first"),
                (Answer.DAY_FIRST, Answer.MONTH_FIRST),
            )
        elif day_read.doubt:
            self.account.doubt(cell, About.DAY, day_read.doubt)
        else:
            self.account.read(cell)
