"""One Qt table model for every table: a tuple of rows seen through columns."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable, Sequence
from typing import Any, Generic, TypeVar

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, QPersistentModelIndex, Qt, Signal

from hangar.parts import Pack, Record, Servo
from hangar.window.kit.desk import Desk
from hangar.window.kit.plain_words import plain_tip
from hangar.window.tables.columns import ANSWERS, Column, alignment

_GOOD_LETTERS, _FEW_LETTERS, _LEAST_LETTERS = 20, 15, 9
"""Letters that columns of words keep while a lesser column can give way, while any can, and when none can."""
_TELLING = 9
"""From this order on a column gives way only for the few letters."""
_SENTENCE = 1.7
"""How many times the letters a column keeps whose sentences go on below."""


def fitting_widths(
    columns: Sequence[Column[Any]],
    wanted: Sequence[int],
    heads: Sequence[int],
    empty: Sequence[bool],
    room: int,
    letter: int,
) -> tuple[int, ...]:
    """The width of each column, 0 for one that is left out.

    Columns that give way are left out, in their order, until the rest fits with the words cut. Of equal
    ones the last goes first, and one in which nothing is entered goes before all others. Numbers are
    never cut, headings last.

    Args:
        wanted: the width that each column's words take, in pixels.
        heads: the width that its heading takes, in pixels.
        empty: whether nothing is entered in a column.
        room: the width of the table, in pixels.
        letter: the width of a usual letter, in pixels.
    """
    widths = dict(enumerate(wanted))
    going = sorted(
        (at for at, column in enumerate(columns) if column.gives_way),
        key=lambda at: (not empty[at], columns[at].gives_way, -at),
    )
    for at in going:
        letters = _FEW_LETTERS if columns[at].gives_way >= _TELLING else _GOOD_LETTERS
        kept = {width: max(heads[width], _width(columns[width], letters * letter)) for width in widths}
        spare = sum(max(0, widths[word] - kept[word]) for word in _words(columns, widths))
        if sum(widths.values()) - spare <= room:
            break
        del widths[at]
    over = sum(widths.values()) - room
    for letters in (_GOOD_LETTERS, _FEW_LETTERS, _LEAST_LETTERS):
        # The servo first: its type is on the plan's tips and in the findings as well.
        for at in reversed(_words(columns, widths)):
            least = _width(columns[at], letters * letter)
            if letters > _LEAST_LETTERS:
                least = max(least, heads[at])
            cut = max(0, min(over, widths[at] - least))
            widths[at] -= cut
            over -= cut
    return tuple(widths.get(at, 0) for at in range(len(columns)))


def _width(column: Column[Any], wide: int) -> int:
    return round(wide * _SENTENCE) if column.wraps else wide


def _words(columns: Sequence[Column[Any]], shown: dict[int, int]) -> list[int]:
    return [at for at in shown if not columns[at].number]


def part_of(row: object) -> tuple[type[Record], str] | None:
    """The servo or pack that a table row is about, whatever kind of row it is."""
    if isinstance(row, Servo | Pack):
        return type(row), row.tag
    for name, kind in (("servo", Servo), ("pack", Pack)):
        value = getattr(row, name, None)
        if isinstance(value, Servo | Pack):
            return type(value), value.tag
        if isinstance(value, str) and value:
            return kind, value
    fit = getattr(row, "fit", None)
    tag = getattr(fit, "tag", None)
    return (Servo, tag) if isinstance(tag, str) else None


_TOP = QModelIndex()
_Index = QModelIndex | QPersistentModelIndex
_Role = Qt.ItemDataRole
RowT = TypeVar("RowT")


class RowsModel(QAbstractTableModel, Generic[RowT]):
    """Shows rows; owns no truth. Rows with the same keys in the same order keep the selection.

    Signals: ``look_changed()`` when units, colours or text size changed.
    """

    look_changed = Signal()

    def __init__(
        self,
        desk: Desk,
        columns: Iterable[Column[RowT]],
        key: Callable[[RowT], Hashable],
        parent: QObject | None = None,
    ) -> None:
        super().__init__(parent)
        self._desk = desk
        self._columns = tuple(columns)
        self._key = key
        self._rows: tuple[RowT, ...] = ()
        desk.view.changed.connect(self._look_changed)

    @property
    def desk(self) -> Desk:
        """The desk the rows come from."""
        return self._desk

    @property
    def rows(self) -> tuple[RowT, ...]:
        """The rows shown."""
        return self._rows

    @property
    def columns(self) -> tuple[Column[RowT], ...]:
        """The columns shown."""
        return self._columns

    def show_rows(self, rows: Iterable[RowT]) -> None:
        """Show these rows instead."""
        fresh = tuple(rows)
        if [self._key(row) for row in fresh] == [self._key(row) for row in self._rows]:
            self._rows = fresh
            self._look_again()
            return
        self.beginResetModel()
        self._rows = fresh
        self.endResetModel()

    def key_of(self, row: RowT) -> Hashable:
        """What tells a row from all others."""
        return self._key(row)

    def row_of(self, key: Hashable) -> int | None:
        """Number of the row with that key."""
        return next((at for at, row in enumerate(self._rows) if self._key(row) == key), None)

    def rowCount(self, parent: _Index = _TOP) -> int:
        return 0 if parent.isValid() else len(self._rows)

    def columnCount(self, parent: _Index = _TOP) -> int:
        return 0 if parent.isValid() else len(self._columns)

    def headerData(self, section: int, orientation: Qt.Orientation, role: int = _Role.DisplayRole) -> Any:
        if orientation is Qt.Orientation.Vertical:
            return section + 1 if role == _Role.DisplayRole else None
        if not 0 <= section < len(self._columns):
            return None
        column = self._columns[section]
        if role == _Role.DisplayRole:
            return column.heading
        if role == _Role.TextAlignmentRole:
            return alignment(column)
        return (plain_tip(column.help) or None) if role == _Role.ToolTipRole else None

    def flags(self, index: _Index) -> Qt.ItemFlag:
        flags = super().flags(index)
        if index.isValid() and self._columns[index.column()].write and not self._desk.read_only:
            flags |= Qt.ItemFlag.ItemIsEditable
        return flags

    def data(self, index: _Index, role: int = _Role.DisplayRole) -> Any:
        if not index.isValid():
            return None
        row, column = self._rows[index.row()], self._columns[index.column()]
        answer = ANSWERS.get(role)
        return answer(self._desk, row, column) if answer else None

    def setData(self, index: _Index, value: Any, role: int = _Role.EditRole) -> bool:
        write = self._columns[index.column()].write if index.isValid() else None
        if role != _Role.EditRole or write is None:
            return False
        row = self._rows[index.row()]
        return self._desk.attempt(lambda: write(row, str(value)))

    def _look_changed(self) -> None:
        self._look_again()
        self.look_changed.emit()

    def _look_again(self) -> None:
        if self._rows and self._columns:
            last = self.index(len(self._rows) - 1, len(self._columns) - 1)
            self.dataChanged.emit(self.index(0, 0), last)
