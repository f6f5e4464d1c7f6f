"""The mark of a verdict: that of a level, or a plain tick where nothing speaks against it."""

from __future__ import annotations

from functools import cache

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QIcon, QPainter, QPen, QPixmap, QPolygonF

from hangar.window.kit.level_marks import mark_icon
from hangar.window.kit.looks import LOOKS, Look
from hangar.window.packs.pack_words import FIT

_RATIO = 3


def draw_tick(painter: QPainter, box: QRectF, look: Look) -> None:
    """Draw the tick."""
    pen = QPen(QColor(look.accent), max(1.6, box.width() / 7))
    pen.setCapStyle(Qt.PenCapStyle.RoundCap)
    pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(pen)
    corner = box.topLeft()
    places = ((0.15, 0.55), (0.40, 0.80), (0.88, 0.20))
    painter.drawPolyline(QPolygonF([corner + QPointF(x * box.width(), y * box.height()) for x, y in places]))
    painter.restore()


@cache
def _tick_icon(look_name: str, size: int) -> QIcon:
    picture = QPixmap(size * _RATIO, size * _RATIO)
    picture.fill(Qt.GlobalColor.transparent)
    painter = QPainter(picture)
    painter.scale(_RATIO, _RATIO)
    draw_tick(painter, QRectF(1, 1, size - 2, size - 2), LOOKS[look_name])
    painter.end()
    picture.setDevicePixelRatio(_RATIO)
    icon = QIcon(picture)
    icon.addPixmap(picture, QIcon.Mode.Selected)
    return icon


def verdict_icon(mark: str, look: Look, size: int = 20) -> QIcon:
    """The mark of a verdict as an icon."""
    return _tick_icon(look.name, size) if mark == FIT else mark_icon(mark, look, size)
