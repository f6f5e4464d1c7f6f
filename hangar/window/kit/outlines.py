"""Plan-view outlines as Qt paths."""

from __future__ import annotations

from functools import cache

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPen

from hangar.base.outlines import Outline, OutlinePart
from hangar.window.kit.looks import Look


@cache
def path_of(part: OutlinePart) -> QPainterPath:
    """One path of an outline, in the outline's own units."""
    path = QPainterPath()
    for word, numbers in part.strokes:
        points = [QPointF(*numbers[at : at + 2]) for at in range(0, len(numbers), 2)]
        if word == "M":
            path.moveTo(points[0])
        elif word == "L":
            path.lineTo(points[0])
        elif word == "C":
            path.cubicTo(points[0], points[1], points[2])
        else:
            path.closeSubpath()
    return path


def outline_pen(part: OutlinePart, look: Look, line: float) -> QPen:
    """The pen of an outline's path, as wide on screen whatever the scale."""
    pen = QPen(QColor(look.pen), line, Qt.PenStyle.DashLine if part.dashed else Qt.PenStyle.SolidLine)
    pen.setCosmetic(True)
    pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
    return pen


def draw_outline(painter: QPainter, box: QRectF, outline: Outline, look: Look, line: float = 1.2) -> None:
    """Draw an outline as large as it fits into a box."""
    scale = min(box.width() / outline.width, box.height() / outline.height)
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.translate(box.center())
    painter.scale(scale, scale)
    painter.translate(-outline.width / 2, -outline.height / 2)
    for part in outline.parts:
        painter.setPen(outline_pen(part, look, line))
        painter.setBrush(QColor(look.outline) if part.filled else Qt.BrushStyle.NoBrush)
        painter.drawPath(path_of(part))
    painter.restore()


GRID_PX = 24


def draw_grid(painter: QPainter, box: QRectF, look: Look) -> None:
    """The sheet that every drawing lies on: its tint and a grid."""
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
    painter.fillRect(box, QColor(look.sheet))
    painter.setPen(QPen(QColor(look.grid), 1))
    for step in range(GRID_PX, int(box.width()), GRID_PX):
        painter.drawLine(QPointF(box.left() + step, box.top()), QPointF(box.left() + step, box.bottom()))
    for step in range(GRID_PX, int(box.height()), GRID_PX):
        painter.drawLine(QPointF(box.left(), box.top() + step), QPointF(box.right(), box.top() + step))
    painter.restore()
