"""A pane that scrolls down and never sideways: it is as wide as what it holds asks for."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, QSize, Qt
from PySide6.QtWidgets import QScrollArea, QWidget

_LINES = 6
"""It is never lower than so many lines of text."""


class DownScroll(QScrollArea):
    """Holds one widget; its least width follows that of the widget, whatever the size of the print."""

    def __init__(self, held: QWidget, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWidgetResizable(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFrameShape(QScrollArea.Shape.NoFrame)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._held = held
        self.setWidget(held)
        held.installEventFilter(self)

    def minimumSizeHint(self) -> QSize:
        bar = self.verticalScrollBar().sizeHint().width()
        return QSize(self._held.minimumSizeHint().width() + bar + 2, self.fontMetrics().height() * _LINES)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() == QEvent.Type.LayoutRequest:
            self.updateGeometry()
        return super().eventFilter(watched, event)
