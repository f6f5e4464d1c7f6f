"""What a table has no room for, in words, and the button that brings it back."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QSizePolicy, QWidget

from hangar.window.kit.plain_words import PlainLabel, plain_tip
from hangar.window.kit.words import say
from hangar.window.tables.rows_view import RowsView

_LEAST_LETTERS = 8


class AllColumns(QPushButton):
    """Seen only while there is more to see, or all is seen because of it.

    It has a parent from the first: shown without one it would be a window of its own for a moment. Of
    several on a page one alone has a letter to reach it by.
    """

    def __init__(self, table: RowsView, parent: QWidget, has_letter: bool = True) -> None:
        super().__init__(parent)
        self._table = table
        self.setText(say("All co&lumns") if has_letter else say("All columns"))
        self.setCheckable(True)
        self.setChecked(table.shows_all)
        self.toggled.connect(table.show_all)
        table.columns_left_out.connect(self._offer)
        self._offer(len(table.left_out))

    def _offer(self, left_out: int) -> None:
        self.setVisible(bool(left_out) or self.isChecked())
        words = say("Not shown for want of room: {columns}.", columns=", ".join(self._table.left_out))
        self.setToolTip(plain_tip(words if left_out else say("Show only what there is room for.")))


class LeftOut(QWidget):
    """One line beside a table: the columns left out by name, and the button that brings them back."""

    def __init__(self, table: RowsView, parent: QWidget, has_letter: bool = True) -> None:
        super().__init__(parent)
        self._table = table
        self.button = AllColumns(table, self, has_letter)
        self.message = _CutLabel()
        self.message.setObjectName("quiet")
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(self.message, 1)
        row.addWidget(self.button)
        table.columns_left_out.connect(self._tell)
        self._tell(len(table.left_out))

    def _tell(self, left_out: int) -> None:
        words = say("{count} not shown: {columns}", count=left_out, columns=", ".join(self._table.left_out))
        self.message.setText(words if left_out else "")
        self.message.setToolTip(plain_tip(self.button.toolTip() if left_out else ""))
        self.setVisible(bool(left_out) or self.button.isChecked())


class _CutLabel(PlainLabel):
    """A label on one line, cut where the width ends; it never asks for more room than a few words."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent=parent)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)

    def minimumSizeHint(self) -> QSize:
        wide = self.fontMetrics().averageCharWidth() * _LEAST_LETTERS
        return QSize(wide, super().minimumSizeHint().height())

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        words = self.fontMetrics().elidedText(self.text(), Qt.TextElideMode.ElideRight, self.width())
        side = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
        painter.drawText(self.rect(), side, words)
