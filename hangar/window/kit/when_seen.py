"""What is not on view is drawn anew when it comes into view, not before."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QEvent, QObject
from PySide6.QtWidgets import QWidget


class WhenSeen(QObject):
    """Draws a widget anew when asked: at once where it is on view, else as it is shown next."""

    def __init__(self, widget: QWidget, draw: Callable[[], object]) -> None:
        super().__init__(widget)
        self._widget, self._draw = widget, draw
        self._is_due = False
        widget.installEventFilter(self)

    def ask(self, *_of_signal: object) -> None:
        """Something it shows was changed."""
        if self._widget.isVisible():
            self._draw()
        else:
            self._is_due = True

    def eventFilter(self, _watched: QObject, event: QEvent) -> bool:
        if event.type() == QEvent.Type.Show and self._is_due:
            self._is_due = False
            self._draw()
        return False
