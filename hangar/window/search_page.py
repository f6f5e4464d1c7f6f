"""Search everywhere: a field above the rooms, and a page of what was found; Enter goes there."""

from __future__ import annotations

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QLineEdit, QVBoxLayout, QWidget

from hangar.window.kit.desk import Desk
from hangar.window.kit.plain_words import PlainLabel
from hangar.window.kit.words import say
from hangar.window.searching import MOST_HITS, READ_FROM, Found, build_index, found_columns, search
from hangar.window.tables.rows_model import RowsModel
from hangar.window.tables.rows_view import RowsView


class SearchField(QLineEdit):
    """Where words are typed. Signals: ``asked(text)``, ``into_list()``, ``left()``."""

    asked = Signal(str)
    into_list = Signal()
    left = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setPlaceholderText(say("Search (Ctrl+F)"))
        self.setAccessibleName(say("Search the fleet"))
        self.setToolTip(say("A tag, a word, or a size such as 2000 mAh; Ctrl+F"))
        self.setClearButtonEnabled(True)
        self._soon = QTimer(self, singleShot=True, interval=120)
        self._soon.timeout.connect(lambda: self.asked.emit(self.text()))
        self.textEdited.connect(lambda _text: self._soon.start())
        self.textChanged.connect(self._emptied)

    def _emptied(self, text: str) -> None:
        if not text:
            self._soon.stop()
            self.left.emit()

    def begin(self) -> None:
        """Take the focus with everything chosen, ready to be typed over."""
        self.setFocus(Qt.FocusReason.ShortcutFocusReason)
        self.selectAll()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.clear()
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Down):
            self._soon.stop()
            self.asked.emit(self.text())
            self.into_list.emit()
        else:
            super().keyPressEvent(event)


class SearchPage(QWidget):
    """What was found. Signals: ``chosen(Found)`` when the keeper wants to go there."""

    chosen = Signal(object)

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._index: tuple[Found, ...] | None = None
        self._text = ""
        self._model: RowsModel[Found] = RowsModel(
            desk, found_columns(), lambda one: (one.kind.KIND, one.where, one.name), self
        )
        self.table = RowsView(self._model, say("What was found"))
        self.table.choose_whole_rows()
        self.told = PlainLabel()
        self.told.setObjectName("quiet")
        column = QVBoxLayout(self)
        column.setContentsMargins(10, 10, 10, 10)
        column.addWidget(self.told)
        column.addWidget(self.table, 1)
        self.setFocusProxy(self.table)
        # The table tells of Enter; the platform decides whether a double click is told that way too.
        self.table.activated.connect(lambda _index: self._go())
        desk.touched.connect(self._touched)

    def look_for(self, text: str) -> None:
        """Show what holds these words."""
        self._text = text
        if self._index is None:
            self._index = build_index(self._desk)
        found = search(self._index, text)
        self._model.show_rows(found)
        if found:
            self.table.selectRow(0)
        self.told.setText(self._words(len(found)))

    def _words(self, count: int) -> str:
        if not count:
            return say("Nothing on record holds “{text}”.", text=self._text)
        if count >= MOST_HITS:
            return say("The first {count} of many; more words find less.", count=MOST_HITS)
        return say("{count} found. Enter goes there.", count=count)

    def _touched(self, touched: frozenset[str]) -> None:
        if touched & READ_FROM:
            self._index = None
            if self.isVisible():
                self.look_for(self._text)

    def _go(self) -> None:
        found = self.table.current_row
        if found is not None:
            self.chosen.emit(found)
