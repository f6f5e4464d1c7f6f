"""One number on the picture of the supply; it can be reached by keys and asked "How?"."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSizeF, Qt, Signal
from PySide6.QtGui import QColor, QFontMetricsF, QKeyEvent, QPainter, QPen
from PySide6.QtWidgets import (
    QApplication,
    QGraphicsItem,
    QGraphicsObject,
    QGraphicsSceneMouseEvent,
    QStyleOptionGraphicsItem,
    QWidget,
)

from hangar.base.figure import Figure
from hangar.base.units import ShowsNumbers
from hangar.window.kit.looks import Look
from hangar.window.kit.plain_words import plain_tip
from hangar.window.kit.words import put


class FigureWord(QGraphicsObject):
    """A number on the picture. Signals: ``how_asked(Figure)``.

    ``spoken`` tells it without the picture: where, what, and how much.
    """

    how_asked = Signal(object)

    def __init__(
        self, words: str, figure: Figure, units: ShowsNumbers, look: Look, *, where: str, backed: bool
    ) -> None:
        super().__init__()
        self.figure = figure
        self._look = look
        self._backed = backed
        shown = units.show(figure.expected, figure.unit)
        self._text = f"{words} {shown}".strip()
        self._font = QApplication.font()
        metrics = QFontMetricsF(self._font)
        self._size = QSizeF(metrics.horizontalAdvance(self._text) + 4, metrics.height() + 2)
        self.setFlag(QGraphicsItem.GraphicsItemFlag.ItemIsFocusable)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setToolTip(plain_tip(f"{put(figure.name)}: {shown} ({put(figure.basis)})"))
        self.spoken = f"{where}: {self.toolTip()}"

    def boundingRect(self) -> QRectF:
        return QRectF(QPointF(), self._size)

    def paint(
        self, painter: QPainter, _option: QStyleOptionGraphicsItem, _widget: QWidget | None = None
    ) -> None:
        painter.setFont(self._font)
        if self._backed:
            painter.fillRect(self.boundingRect(), QColor(self._look.paper))
        painter.setPen(QColor(self._look.accent))
        painter.drawText(self.boundingRect(), Qt.AlignmentFlag.AlignCenter, self._text)
        if self.hasFocus():
            painter.setPen(QPen(QColor(self._look.accent), 2.0))
            painter.drawRect(self.boundingRect().adjusted(1, 1, -1, -1))

    def mousePressEvent(self, event: QGraphicsSceneMouseEvent) -> None:
        super().mousePressEvent(event)
        event.accept()
        self.how_asked.emit(self.figure)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space):
            self.how_asked.emit(self.figure)
        else:
            super().keyPressEvent(event)
