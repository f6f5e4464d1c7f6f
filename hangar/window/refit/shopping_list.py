"""The Shopping List: what the plans need and the bay lacks, to tick off, to print, to take along."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from PySide6.QtCore import QModelIndex, Qt
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import QGroupBox, QSplitter, QVBoxLayout, QWidget

from hangar.answers.judging import Judgement
from hangar.parts import Airframe, Pack, Plan, PlanLine, Servo, ShoppingTick, StockItem
from hangar.window.kit.desk import Desk
from hangar.window.kit.plain_words import PlainLabel
from hangar.window.kit.words import say
from hangar.window.paper.printing import PrintRow
from hangar.window.refit.shopping_rows import (
    NeedRow,
    as_csv,
    bay_columns,
    fleet_needs,
    shopping_columns,
    sum_words,
)
from hangar.window.tables.all_columns import LeftOut
from hangar.window.tables.rows_model import RowsModel
from hangar.window.tables.rows_view import RowsView

_KINDS = frozenset(kind.KIND for kind in (Plan, PlanLine, StockItem, Servo, Pack, Airframe, ShoppingTick))


class ShoppingList(QWidget):
    """One row for each thing to buy, by supplier. Ticks are kept with the fleet, undo takes one back."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._buy: RowsModel[NeedRow] = RowsModel(desk, shopping_columns(), lambda row: row.key, self)
        self._take: RowsModel[NeedRow] = RowsModel(desk, bay_columns(), lambda row: row.key, self)
        self.table = RowsView(self._buy, say("To buy"))
        self.table.choose_whole_rows()
        self.bay = RowsView(self._take, say("To take from the Parts Bay"))
        self.bay.choose_whole_rows()
        self.told = PlainLabel(wordWrap=True)
        self.print_row = PrintRow(desk)
        self.print_row.add_sheet("shopping", say("&Print the list…"), self._judged)
        self.print_row.add_text("shopping list", say("Save as &CSV…"), self.csv_text)
        self._arrange()
        self._connect()
        self.read_again()

    def _arrange(self) -> None:
        halves = QSplitter(Qt.Orientation.Vertical)
        for title, table in (
            (say("To buy"), self.table),
            (say("To take from the Parts Bay"), self.bay),
        ):
            box = QGroupBox(title)
            column = QVBoxLayout(box)
            column.addWidget(LeftOut(table, box))
            column.addWidget(table, 1)
            halves.addWidget(box)
        halves.setSizes([420, 200])
        halves.setChildrenCollapsible(False)
        column = QVBoxLayout(self)
        column.setContentsMargins(10, 10, 10, 10)
        column.addWidget(self.told)
        column.addWidget(halves, 1)
        column.addWidget(self.print_row)
        self.setFocusProxy(self.table)

    def _connect(self) -> None:
        space = QShortcut(QKeySequence(Qt.Key.Key_Space), self.table)
        space.setContext(Qt.ShortcutContext.WidgetShortcut)
        space.activated.connect(self.toggle_current)
        self.table.activated.connect(lambda _index: self.toggle_current())
        self.table.clicked.connect(self._clicked)
        self._desk.touched.connect(self._touched)

    def read_again(self) -> None:
        """Count all needs."""
        kept: Iterable[ShoppingTick] = self._desk.records(ShoppingTick)
        got = {one.what: one.wanted for one in kept}
        rows = [NeedRow(need) for need in fleet_needs(self._desk)]
        # A tick stands for the number that was wanted; more of the same is to be bought again.
        rows = [replace(row, is_ticked=got.get(row.key) == row.buy) for row in rows]
        self._buy.show_rows(row for row in rows if row.need.to_buy > 0)
        self._take.show_rows(row for row in rows if row.need.taken > 0)
        self._tell()

    def _tell(self) -> None:
        words = sum_words(self._buy.rows)
        nothing = say("Nothing is to be bought: the plans need nothing that does not lie in the Parts Bay.")
        self.told.setText(words if self._buy.rows else nothing)

    def _touched(self, touched: frozenset[str]) -> None:
        if touched & _KINDS:
            self.read_again()

    def _clicked(self, index: QModelIndex) -> None:
        if index.column() == 0:
            self.toggle_current()

    def toggle_current(self) -> None:
        """Tick the row under the cursor off, or take the tick back."""
        row = self.table.current_row
        if row is None or self._desk.read_only:
            return
        if row.is_ticked:
            label = say("Take the tick at {what} back", what=row.key)
            self._desk.edit(label, lambda edit: edit.remove(ShoppingTick, (row.key,)))
        else:
            label = say("Tick {what} off", what=row.key)
            self._desk.edit(label, lambda edit: edit.put(ShoppingTick(what=row.key, wanted=row.buy)))

    def csv_text(self) -> str:
        """The list as comma-separated values."""
        return as_csv(self._buy.rows, self._desk.view.reader)

    def _judged(self) -> tuple[Judgement, ...]:
        found = (self._desk.judgement(code) for code in self._desk.codes())
        return tuple(one for one in found if one is not None)
