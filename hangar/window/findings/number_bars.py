"""The numbers of a finding as one picture: bars of what is measured alike, the longest first."""

from __future__ import annotations

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QImage, QPainter, QPen
from PySide6.QtWidgets import QApplication

from hangar.base.figure import Basis, Figure
from hangar.rules.finding import Finding
from hangar.rules.gathering import whose_figure
from hangar.window.kit.looks import CAP, Look
from hangar.window.kit.outlines import draw_grid
from hangar.window.kit.view_settings import ViewSettings
from hangar.window.kit.words import put, sentence_case

MOST_BARS = 6
RATIO = 2
"""Pixels of the picture for one of the screen, so that it is sharp on a fine screen too."""


def compared(finding: Finding) -> tuple[Figure, ...]:
    """The figures of one unit that say most beside each other; none where no two are alike."""
    by_unit: dict[str, list[Figure]] = {}
    for figure in finding.figures:
        by_unit.setdefault(figure.unit, []).append(figure)
    most = max(by_unit.values(), key=len, default=[])
    alike = [figure for figure in most if figure.expected >= 0]
    return tuple(alike[:MOST_BARS]) if len(alike) > 1 else ()


def number_bars(finding: Finding, view: ViewSettings, wide: int) -> QImage | None:
    """The picture in that width; None where a finding has no two numbers of one unit.

    A limit that is set is drawn hollow, what is worked out filled, its band as a thin line.
    """
    figures, look = compared(finding), view.look
    if not figures:
        return None
    font = QFont(QApplication.font())
    font.setPointSizeF(font.pointSizeF() * CAP)
    metrics = QFontMetricsF(font)
    row = metrics.height() * 2.3
    image = QImage(round(wide * RATIO), round((row * len(figures) + 12) * RATIO), QImage.Format.Format_ARGB32)
    image.setDevicePixelRatio(RATIO)
    painter = QPainter(image)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    draw_grid(painter, QRectF(0, 0, wide, row * len(figures) + 12), look)
    painter.setFont(font)
    most = max(max(figure.expected, figure.design or 0.0, figure.low or 0.0) for figure in figures) or 1.0
    value_room = max(metrics.horizontalAdvance(_value(figure, view)) for figure in figures) + 16
    for at, figure in enumerate(figures):
        top = 6 + at * row
        _draw_bar(painter, figure, view, QRectF(8, top, wide - value_room - 8, row), most)
    painter.end()
    return image


def _value(figure: Figure, view: ViewSettings) -> str:
    return view.reader.show(figure.expected, figure.unit)


def _draw_bar(painter: QPainter, figure: Figure, view: ViewSettings, room: QRectF, most: float) -> None:
    look: Look = view.look
    high = painter.fontMetrics().height()
    whose, called = whose_figure(figure.name)
    name = f"{whose}: {put(called)}" if whose else sentence_case(put(called))
    painter.setPen(QColor(look.soft))
    painter.drawText(QRectF(room.left(), room.top(), room.width(), high), Qt.AlignmentFlag.AlignLeft, name)
    bar = QRectF(room.left(), room.top() + high + 1, room.width() * figure.expected / most, high * 0.62)
    is_limit = figure.basis is Basis.LIMIT
    painter.setPen(QPen(QColor(look.pen), 1.2))
    painter.setBrush(Qt.BrushStyle.NoBrush if is_limit else QColor(look.accent))
    painter.drawRect(bar)
    if figure.low is not None and figure.design is not None:
        low, top = sorted((figure.low, figure.design))
        middle = bar.center().y()
        painter.setPen(QPen(QColor(look.ink), 1.4))
        painter.drawLine(
            QRectF(room.left() + room.width() * low / most, middle, 0, 0).topLeft(),
            QRectF(room.left() + room.width() * min(top, most) / most, middle, 0, 0).topLeft(),
        )
    painter.setPen(QColor(look.ink))
    words = _value(figure, view)
    place = QRectF(max(bar.right(), room.left()) + 6, bar.top() - high * 0.3, high * 12, high * 1.2)
    painter.drawText(place, Qt.AlignmentFlag.AlignVCenter, words)
