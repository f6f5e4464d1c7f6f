"""What the drawn pictures have in common: paper, smooth lines, size by the letters, a frame in focus."""

from __future__ import annotations

from typing import ClassVar

from PySide6.QtCore import QEvent, QSize, Qt
from PySide6.QtGui import QColor, QFocusEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from hangar.window.kit.view_settings import ViewSettings

MOST_LINE = 24
"""Pixels of a line of text up to which the least size grows: beyond, the window has the last word."""


class DrawnPicture(QWidget):
    """A picture on the look's paper, drawn anew with colours, units and letters; subclasses draw it.

    ``WISHED`` and ``LEAST`` are width and height in lines of text; with ``TAKES_KEYS`` it can be reached by
    Tab and has a frame while it has the focus.
    """

    WISHED: ClassVar[tuple[int, int]]
    LEAST: ClassVar[tuple[int, int]]
    TAKES_KEYS: ClassVar[bool] = False

    def __init__(self, view: ViewSettings, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._view = view
        self.setAccessibleName(name)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        if self.TAKES_KEYS:
            self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        view.changed.connect(self.look_again)

    def draw(self, painter: QPainter) -> None:
        """Draw the picture; the paper is there."""
        raise NotImplementedError

    def look_again(self) -> None:
        """Say and draw it anew, after another look or another choice of units."""
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(*self.WISHED) * self.fontMetrics().height()

    def minimumSizeHint(self) -> QSize:
        return QSize(*self.LEAST) * min(MOST_LINE, self.fontMetrics().height())

    def paintEvent(self, _event: QPaintEvent) -> None:
        look = self._view.look
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setBackground(QColor(look.paper))
        painter.fillRect(self.rect(), QColor(look.paper))
        self.draw(painter)
        if self.TAKES_KEYS and self.hasFocus():
            painter.setPen(QPen(QColor(look.accent), 2.0))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(self.rect().adjusted(1, 1, -2, -2))
        painter.end()

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        self.look_again()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        self.update()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange:
            self.updateGeometry()
