"""The icons of the rooms and of a few acts, drawn here on a grid of 24."""

from __future__ import annotations

from functools import cache

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QIcon, QPainter, QPainterPath, QPen, QPixmap, QPolygonF

STROKE = 1.7
GRID = 24

_LINES: dict[str, tuple[tuple[tuple[float, float], ...], ...]] = {
    # An aircraft from the front, on the ground line.
    "flight-line": (
        ((2.5, 12), (21.5, 12)),
        ((8, 7), (16, 7)),
        ((12, 4), (12, 8)),
        ((9, 15), (8, 18), (9, 18)),
        ((15, 15), (16, 18), (15, 18)),
        ((3, 21), (21, 21)),
    ),
    # A folder with a cross: what belongs to one aircraft.
    "airframe": (
        ((3, 6), (9, 6), (11, 8.5), (21, 8.5), (21, 19.5), (3, 19.5), (3, 6)),
        ((12, 10.5), (12, 17.5)),
        ((8, 13.2), (16, 13.2)),
    ),
    "findings": (
        ((8.3, 3), (15.7, 3), (21, 8.3), (21, 15.7), (15.7, 21), (8.3, 21), (3, 15.7), (3, 8.3), (8.3, 3)),
        ((12, 7.5), (12, 13)),
        ((12, 16.2), (12, 16.6)),
    ),
    # A wind cone on its mast.
    "field-day": (
        ((5, 3), (5, 21)),
        ((5, 4), (20, 6.5), (20, 10.5), (5, 13)),
        ((10, 4.9), (10, 12.1)),
        ((15, 5.7), (15, 11.3)),
    ),
    # A shelf: two boxes above, one below.
    "stores": (
        ((3, 12), (21, 12)),
        ((3, 20.5), (21, 20.5)),
        ((5, 12), (5, 6), (10, 6), (10, 12)),
        ((6.5, 6), (6.5, 4), (8.5, 4), (8.5, 6)),
        ((13, 12), (13, 8), (18.5, 8), (18.5, 12)),
        ((5, 20.5), (5, 15), (12, 15), (12, 20.5)),
    ),
    # A servo with its arm over.
    "refit": (
        ((4, 11), (20, 11), (20, 19), (4, 19), (4, 11)),
        ((1.5, 13), (4, 13)),
        ((20, 13), (22.5, 13)),
        ((9, 14), (19, 4.5)),
    ),
    "undo": (
        ((8, 4.5), (3.5, 9), (8, 13.5)),
        ((3.5, 9), (15, 9), (20, 12.5), (19, 17.5), (14.5, 19), (9, 19)),
    ),
    "find": (((15.2, 15.2), (21, 21)),),
    "menu": (((4, 6.5), (20, 6.5)), ((4, 12), (20, 12)), ((4, 17.5), (20, 17.5))),
    "close": (((6, 6), (18, 18)), ((18, 6), (6, 18))),
    "down": (((6, 9.5), (12, 15.5), (18, 9.5)),),
}
_CIRCLES: dict[str, tuple[tuple[float, float, float], ...]] = {
    "flight-line": ((12, 12, 3.2),),
    "stores": ((16.8, 17.6, 2.3),),
    "refit": ((9, 14.5, 2.4),),
    "find": ((10, 10, 6.6),),
}


def draw_icon(painter: QPainter, box: QRectF, name: str, colour: str | QColor) -> None:
    """Draw an icon as large as a box."""
    scale = min(box.width(), box.height()) / GRID
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.translate(box.center() - QPointF(GRID, GRID) * scale / 2)
    painter.scale(scale, scale)
    painter.setPen(
        QPen(
            QColor(colour), STROKE, Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap, Qt.PenJoinStyle.RoundJoin
        )
    )
    painter.setBrush(Qt.BrushStyle.NoBrush)
    path = QPainterPath()
    for line in _LINES.get(name, ()):
        path.addPolygon(QPolygonF([QPointF(*point) for point in line]))
    for across, down, radius in _CIRCLES.get(name, ()):
        path.addEllipse(QPointF(across, down), radius, radius)
    painter.drawPath(path)
    painter.restore()


@cache
def icon(name: str, colour: str, side: int = 20) -> QIcon:
    """An icon in one colour, for a button."""
    ratio = 3
    picture = QPixmap(side * ratio, side * ratio)
    picture.fill(Qt.GlobalColor.transparent)
    painter = QPainter(picture)
    draw_icon(painter, QRectF(picture.rect()), name, colour)
    painter.end()
    picture.setDevicePixelRatio(ratio)
    return QIcon(picture)
