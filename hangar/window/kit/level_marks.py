"""The four marks of the levels: octagon, triangle, circle, dashed square; each with its sign."""

from __future__ import annotations

import math
from functools import cache

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QIcon, QPainter, QPainterPath, QPen, QPixmap, QPolygonF

from hangar.window.kit.looks import LOOKS, Look

SIGNS = {"warning": "!", "caution": "!", "advisory": "i", "cant-tell": "?"}


def mark_shape(level: str, box: QRectF) -> QPainterPath:
    """The outline of a level's mark within a box."""
    path = QPainterPath()
    if level == "warning":
        path.addPolygon(_regular(8, box, math.pi / 8))
    elif level == "caution":
        path.addPolygon(
            QPolygonF([QPointF(box.center().x(), box.top()), box.bottomRight(), box.bottomLeft()])
        )
    elif level == "advisory":
        path.addEllipse(box)
    else:
        path.addRect(box)
    path.closeSubpath()
    return path


def _regular(corners: int, box: QRectF, turn: float) -> QPolygonF:
    centre, radius = box.center(), box.width() / 2 / math.cos(math.pi / corners)
    angles = (turn + corner * 2 * math.pi / corners for corner in range(corners))
    return QPolygonF([centre + QPointF(math.cos(a), math.sin(a)) * radius for a in angles])


def draw_mark(painter: QPainter, box: QRectF, level: str, look: Look) -> None:
    """Draw a level's mark with its sign; shape and sign tell the level without colour."""
    colours = look.levels[level]
    pen = QPen(QColor(colours.edge), max(1.2, box.width() / 14))
    if level == "cant-tell":
        pen.setStyle(Qt.PenStyle.DashLine)
        pen.setDashPattern([2.0, 1.6])
    inset = pen.widthF() / 2
    inner = box.adjusted(inset, inset, -inset, -inset)
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(pen)
    painter.setBrush(QColor(colours.fill))
    painter.drawPath(mark_shape(level, inner))
    font = QFont(painter.font())
    font.setBold(True)
    low = level == "caution"
    font.setPixelSize(max(6, round(box.height() * (0.56 if low else 0.66))))
    painter.setFont(font)
    painter.setPen(QColor(colours.sign))
    shift = box.height() * (0.15 if low else 0.0)
    painter.drawText(box.translated(0, shift), Qt.AlignmentFlag.AlignCenter, SIGNS[level])
    painter.restore()


def mark_picture(level: str, look: Look, size: int = 20) -> QPixmap:
    """A level's mark as a picture."""
    ratio = 3
    picture = QPixmap(size * ratio, size * ratio)
    picture.fill(Qt.GlobalColor.transparent)
    painter = QPainter(picture)
    painter.scale(ratio, ratio)
    draw_mark(painter, QRectF(1, 1, size - 2, size - 2), level, look)
    painter.end()
    picture.setDevicePixelRatio(ratio)
    return picture


@cache
def _icon(level: str, look_name: str, size: int) -> QIcon:
    picture = mark_picture(level, LOOKS[look_name], size)
    icon = QIcon(picture)
    # The same picture when chosen: the style would tint it, and the colour is the message.
    icon.addPixmap(picture, QIcon.Mode.Selected)
    return icon


def mark_icon(level: str, look: Look, size: int = 20) -> QIcon:
    """A level's mark as an icon for tables and buttons."""
    return _icon(level, look.name, size)
