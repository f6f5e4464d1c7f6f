"""Beside the sheet: the aircraft that would come of it, with what is not known of them."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QTreeWidget, QTreeWidgetItem, QWidget

from hangar.store.intake.grid import Cell
from hangar.store.rehearsal_outcome import Outcome
from hangar.window.kit.level_marks import mark_icon
from hangar.window.kit.looks import Look
from hangar.window.kit.words import put, say

_CELLS = Qt.ItemDataRole.UserRole
_OPEN_MOST = 12


class OutcomeTree(QTreeWidget):
    """What comes of the sheet. Signal: ``cells_wanted(tuple of cells)`` for the one that is chosen."""

    cells_wanted = Signal(object)

    def __init__(self, look: Callable[[], Look], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._look = look
        self._cells: list[tuple[Cell, ...]] = []
        self.setHeaderLabels([say("What comes of it")])
        self.setAccessibleName(say("What comes of it"))
        self.setUniformRowHeights(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAsNeeded)
        self.header().setStretchLastSection(True)
        self.currentItemChanged.connect(self._chosen)

    def show_outcomes(self, outcomes: Iterable[Outcome]) -> None:
        """Show these; what was opened stays open."""
        opened = {item.text(0) for item in self._top() if item.isExpanded()}
        was_filled = self.topLevelItemCount() > 0
        self.blockSignals(True)
        self.clear()
        self._cells = []
        for number, outcome in enumerate(outcomes):
            item = self._item(outcome)
            self.addTopLevelItem(item)
            item.setExpanded(item.text(0) in opened if was_filled else number < _OPEN_MOST)
        self.blockSignals(False)

    def _top(self) -> Iterable[QTreeWidgetItem]:
        for at in range(self.topLevelItemCount()):
            item = self.topLevelItem(at)
            if item is not None:
                yield item

    def _item(self, outcome: Outcome) -> QTreeWidgetItem:
        words = put(outcome.words)
        item = QTreeWidgetItem([words])
        item.setData(0, _CELLS, len(self._cells))
        self._cells.append(outcome.cells)
        item.setToolTip(0, words)
        if outcome.is_gap:
            item.setIcon(0, mark_icon("cant-tell", self._look()))
            wording = say("{what}, not all of it is known", what=words)
            item.setData(0, Qt.ItemDataRole.AccessibleTextRole, wording)
        for part in outcome.parts:
            item.addChild(self._item(part))
        return item

    def _chosen(self, item: QTreeWidgetItem | None) -> None:
        if item is not None:
            self.cells_wanted.emit(self._cells[item.data(0, _CELLS)])

    def show_cell(self, cell: Cell) -> None:
        """Go to the first thing that comes of a cell."""
        for item in self._top():
            parts = (item.child(at) for at in range(item.childCount()))
            for qtree_widget_item in (*(part for part in parts if part is not None), item):
                if any(shown_cell is cell for shown_cell in self._cells[qtree_widget_item.data(0, _CELLS)]):
                    self.blockSignals(True)
                    self.setCurrentItem(qtree_widget_item)
                    self.scrollToItem(qtree_widget_item)
                    self.blockSignals(False)
                    return
