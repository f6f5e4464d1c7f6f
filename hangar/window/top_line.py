"""The line above every room: menus, what is looked for, the last act and the way back from it."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QAction
from PySide6.QtWidgets import QHBoxLayout, QMenuBar, QSizePolicy, QToolButton, QWidget

from hangar.window.kit.icons import icon
from hangar.window.kit.plain_words import plain_tip
from hangar.window.kit.view_settings import ViewSettings
from hangar.window.kit.words import say

LONGEST_ACT = 34
"""Letters of the last act that are shown; the whole of it is in the tip."""


class LineMenus(QMenuBar):
    """Menus in a line with other things: as wide as their words."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setNativeMenuBar(False)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)

    def sizeHint(self) -> QSize:
        metrics = self.fontMetrics()
        wide = sum(metrics.horizontalAdvance(action.text().replace("&", "")) for action in self.actions())
        return QSize(wide + len(self.actions()) * metrics.height() * 7 // 4, super().sizeHint().height())

    def minimumSizeHint(self) -> QSize:
        return QSize(self.fontMetrics().height() * 4, super().minimumSizeHint().height())


class TopLine(QWidget):
    """Menus on the left; on the right the field of the search and the button that takes the last act back."""

    def __init__(self, view: ViewSettings, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._view = view
        self.bar = LineMenus()
        self.undo = QToolButton()
        self.undo.setObjectName("lastact")
        self.undo.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextBesideIcon)
        self.undo.setAutoRaise(True)
        self._field: QWidget | None = None
        self._row = QHBoxLayout(self)
        self._row.setContentsMargins(8, 4, 12, 4)
        self._row.setSpacing(10)
        self._row.addWidget(self.bar, 0, Qt.AlignmentFlag.AlignVCenter)
        self._row.addStretch(1)
        self._row.addWidget(self.undo, 0, Qt.AlignmentFlag.AlignVCenter)
        self.undo.hide()
        view.changed.connect(self._dress)
        self._dress()

    def _dress(self) -> None:
        self.undo.setIcon(icon("undo", self._view.look.accent))

    def take_field(self, field: QWidget | None) -> None:
        """Put the field of the search into the line, or take it out."""
        if self._field is not None:
            self._row.removeWidget(self._field)
        self._field = field
        if field is not None:
            field.setMinimumWidth(round(14 * self._view.points))
            field.setMaximumWidth(round(46 * self._view.points))
            field.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
            self._row.insertWidget(2, field, 3, Qt.AlignmentFlag.AlignVCenter)

    def show_act(self, action: QAction, label: str | None) -> None:
        """Show what undo would take back; ``action`` is that of the menu."""
        self.undo.show()
        self.undo.setEnabled(label is not None)
        words = say("Undo: {act}", act=label) if label else say("Nothing to undo")
        short = words if len(words) <= LONGEST_ACT else f"{words[: LONGEST_ACT - 1]}…"
        self.undo.setText(short)
        self.undo.setAccessibleName(words)
        self.undo.setToolTip(plain_tip(f"{words}\n{action.shortcut().toString()}"))
