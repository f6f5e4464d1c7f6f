"""The keeper's own sheet as a table: his cells in their places, and what became of each."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, QPersistentModelIndex, Qt
from PySide6.QtGui import QFont

from hangar.base.text import text
from hangar.store.intake.account import Entry, State
from hangar.store.intake.columns import Column, column_letter
from hangar.store.intake.grid import Cell, Grid
from hangar.store.intake.reading import Reading, TableRead
from hangar.store.intake.role_words import LEFT as LEFT_WORDS
from hangar.store.intake.role_words import STATE_WORDS, column_words
from hangar.window.bring_in.cell_looks import DOUBTED, LEFT, READ, UNUSED
from hangar.window.kit.plain_words import plain_tip
from hangar.window.kit.words import put

STATE_ROLE = Qt.ItemDataRole.UserRole + 1
Index = QModelIndex | QPersistentModelIndex
_ROOT = QModelIndex()


def state_of(entry: Entry) -> str:
    """Which look a cell has."""
    if entry.state is State.DOUBTED:
        return DOUBTED
    if entry.state is State.READ:
        return READ
    return UNUSED if entry.is_settled else LEFT


def state_words(entry: Entry) -> str:
    """What became of a cell, and why."""
    is_left_out = entry.state is State.UNUSED and not entry.is_settled
    state = put(LEFT_WORDS if is_left_out else STATE_WORDS[entry.state or State.UNUSED])
    return put(text("{state}: {why}", state=state, why=entry.reason)) if entry.reason else state


class GridModel(QAbstractTableModel):
    """One tab of the sheet, or a text file whole; told anew after every answer."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.grid = Grid("", "")
        self._reading: Reading | None = None
        self._size = (0, 0)
        self._tables: list[TableRead] = []

    def show_grid(self, grid: Grid, reading: Reading) -> None:
        """Show a tab as it is read now."""
        if grid is self.grid:
            self._take(grid, reading)
            last = self.index(self.rowCount() - 1, self.columnCount() - 1)
            self.dataChanged.emit(self.index(0, 0), last)
            for way, count in (
                (Qt.Orientation.Horizontal, self.columnCount()),
                (Qt.Orientation.Vertical, self.rowCount()),
            ):
                self.headerDataChanged.emit(way, 0, count - 1)
            return
        self.beginResetModel()
        self._take(grid, reading)
        self.endResetModel()

    def _take(self, grid: Grid, reading: Reading) -> None:
        self.grid, self._reading = grid, reading
        self._size = (grid.height, grid.width)
        self._tables = [
            table
            for table in reading.tables
            if (table.block.grid.file, table.block.grid.tab) == (grid.file, grid.tab)
        ]

    @property
    def lies_on_its_side(self) -> bool:
        """Whether the sheet's fields are rows and its things columns."""
        return any(table.block.grid.is_transposed for table in self._tables)

    def table_at(self, row: int, column: int) -> TableRead | None:
        """The table that a place belongs to, else the nearest one above, else the first."""
        line = column + 1 if self.lies_on_its_side else row + 1
        entry = None
        for table in self._tables:
            first = min(table.block.heading_rows or (1,))
            if entry is None or first <= line:
                entry = table
        return entry

    def column_at(self, section: int, table: TableRead | None) -> Column | None:
        """The column of a table that a section of the chooser's header stands for."""
        return table.columns.get(section + 1) if table is not None else None

    def entry(self, index: Index) -> Entry | None:
        """What became of the cell at a place."""
        cell = self.cell(index)
        return self._reading.account.entry(cell) if cell is not None and self._reading else None

    def cell(self, index: Index) -> Cell | None:
        """The keeper's cell at a place."""
        return self.grid.cells.get((index.row() + 1, index.column() + 1))

    def index_of(self, cell: Cell) -> QModelIndex:
        """Where a cell stands; no place when it is on another tab."""
        if self.grid.cells.get((cell.row, cell.column)) is not cell:
            return QModelIndex()
        return self.index(cell.row - 1, cell.column - 1)

    def rowCount(self, parent: Index = _ROOT) -> int:
        return 0 if parent.isValid() else self._size[0]

    def columnCount(self, parent: Index = _ROOT) -> int:
        return 0 if parent.isValid() else self._size[1]

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        entry = self.entry(index)
        if entry is None:
            return None
        if role == Qt.ItemDataRole.DisplayRole:
            return " ".join(entry.cell.text.split())
        if role == STATE_ROLE:
            return state_of(entry)
        if role == Qt.ItemDataRole.ToolTipRole:
            return plain_tip(f"{entry.cell.text}\n{state_words(entry)}")
        if role == Qt.ItemDataRole.AccessibleTextRole:
            place = f"{column_letter(index.column() + 1)}{index.row() + 1}"
            return f"{place}: {entry.cell.text}, {state_words(entry)}"
        if role == Qt.ItemDataRole.FontRole and entry.cell.struck:
            font = QFont()
            font.setStrikeOut(True)
            return font
        return None

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> Any:
        if role != Qt.ItemDataRole.DisplayRole:
            return None
        return column_letter(section + 1) if orientation == Qt.Orientation.Horizontal else str(section + 1)

    def role_words(self, section: int, table: TableRead | None) -> str:
        """What a column holds, in words; "" where there is no column of a table."""
        column = self.column_at(section, table)
        return put(column_words(column)) if column is not None else ""
