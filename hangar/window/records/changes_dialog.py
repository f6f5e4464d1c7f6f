"""Every change made to the fleet, newest first; each can be seen with what it was before."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QDialog, QDialogButtonBox, QVBoxLayout, QWidget

from hangar.window.kit.desk import Desk
from hangar.window.kit.plain_words import PlainLabel
from hangar.window.kit.words import say
from hangar.window.records.change_rows import change_columns, change_key
from hangar.window.tables.rows_model import RowsModel
from hangar.window.tables.rows_view import RowsView


class ChangesDialog(QDialog):
    """The journal of the whole fleet; it follows edits while it is open."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle(say("Changes made to the fleet"))
        self.resize(960, 520)
        self._desk = desk
        self._model: RowsModel[Any] = RowsModel(desk, change_columns(), change_key, self)
        self.table = RowsView(self._model, say("Changes made to the fleet"))
        self._none = PlainLabel(say("Nothing has been changed yet."))
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Close)
        buttons.rejected.connect(self.reject)
        column = QVBoxLayout(self)
        column.addWidget(self._none)
        column.addWidget(self.table, 1)
        column.addWidget(buttons)
        desk.touched.connect(self._show)
        self._show()

    def _show(self, _touched: object = None) -> None:
        changes = self._desk.fleet.history()
        self._model.show_rows(tuple(sorted(changes, key=lambda one: one.when, reverse=True)))
        self._none.setVisible(not changes)
