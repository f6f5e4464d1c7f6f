"""Axes for small pictures of curves: round steps, words at the ends, one scale for drawing and clicking."""

from __future__ import annotations

import math
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPen
from PySide6.QtWidgets import QWidget

from hangar.window.kit.looks import Look
from hangar.window.kit.words import decimal

Range = tuple[float, float]


@dataclass(frozen=True)
class Axes:
    """Two scales on a box of the widget."""

    box: QRectF
    x_range: Range
    y_range: Range

    @property
    def most_y(self) -> float:
        """The value at the upper edge."""
        return self.y_range[1]

    def at(self, across: float, along: float) -> QPointF:
        """Where a point of the curve lies."""
        low, high = self.x_range
        bottom, top = self.y_range
        return QPointF(
            self.box.left() + (across - low) / (high - low) * self.box.width(),
            self.box.bottom() - (along - bottom) / (top - bottom) * self.box.height(),
        )

    def x_at(self, left: float) -> float:
        """The value across at a place of the widget."""
        low, high = self.x_range
        return low + (left - self.box.left()) / self.box.width() * (high - low)


def drawn_axes(widget: QWidget, x_range: Range, y_range: Range, room: QRectF | None = None) -> Axes:
    """Axes as large as a widget, or a room within it, allows with words around them."""
    metrics = QFontMetricsF(widget.font())
    high = metrics.height()
    labels = [text for _value, text in ticks(y_range, 6)]
    left = max(metrics.horizontalAdvance(text) for text in labels) + 12
    box = (room or QRectF(widget.rect())).adjusted(left + 6, high * 1.7, -high * 1.2, -high * 2.5)
    return Axes(box, x_range, y_range)


def ticks(span: Range, wanted: int = 5) -> list[tuple[float, str]]:
    """Round values within a range, about as many as wanted, with as many decimals as they need.

    >>> ticks((0.0, 1.1), 3)
    [(0.0, '0.0'), (0.5, '0.5'), (1.0, '1.0')]
    """
    step = _round_step((span[1] - span[0]) / wanted)
    first, last = math.ceil(span[0] / step - 1e-9), math.floor(span[1] / step + 1e-9)
    decimals = max(0, -math.floor(math.log10(step) + 1e-9))
    values = (round(number * step, 10) for number in range(first, last + 1))
    return [(value, decimal(f"{value:.{decimals}f}")) for value in values]


def _wanted(length: float, value: float) -> int:
    """How many ticks a side has room for."""
    return max(2, min(6, int(length / value)))


def _round_step(rough: float) -> float:
    power = 10.0 ** math.floor(math.log10(rough))
    return next(power * part for part in (1.0, 2.0, 5.0, 10.0) if power * part >= rough * 0.8)


def draw_axes(painter: QPainter, axes: Axes, look: Look, across: str, along: str) -> None:
    """Draw lines, numbers and the words of both axes."""
    metrics = QFontMetricsF(painter.font())
    for value, text in ticks(axes.y_range, _wanted(axes.box.height(), metrics.height() * 1.8)):
        point = axes.at(axes.x_range[0], value)
        painter.setPen(QPen(QColor(look.raised), 1.0))
        painter.drawLine(point, QPointF(axes.box.right(), point.y()))
        painter.setPen(QColor(look.soft))
        left = point.x() - metrics.horizontalAdvance(text) - 6
        painter.drawText(QPointF(left, point.y() + metrics.ascent() / 2 - 1), text)
    for value, text in ticks(axes.x_range, _wanted(axes.box.width(), metrics.height() * 4.0)):
        point = axes.at(value, axes.y_range[0])
        painter.setPen(QPen(QColor(look.line), 1.0))
        painter.drawLine(point, point + QPointF(0, 4))
        painter.setPen(QColor(look.soft))
        painter.drawText(
            QPointF(point.x() - metrics.horizontalAdvance(text) / 2, point.y() + metrics.ascent() + 5), text
        )
    painter.setPen(QPen(QColor(look.line), 1.2))
    painter.drawLine(axes.box.bottomLeft(), axes.box.bottomRight())
    painter.drawLine(axes.box.topLeft(), axes.box.bottomLeft())
    painter.setPen(QColor(look.soft))
    painter.drawText(QPointF(6, axes.box.top() - 1.7 * metrics.height() + metrics.ascent() + 3), along)
    below = QRectF(
        axes.box.left(), axes.box.bottom() + metrics.height() + 4, axes.box.width(), metrics.height()
    )
    painter.drawText(below, Qt.AlignmentFlag.AlignRight, across)
