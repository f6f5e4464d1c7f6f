"""A drawn trend: dated readings, the limit, the line through them and how it would go on."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import date, timedelta

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen
from PySide6.QtWidgets import QWidget

from hangar.answers.pack_trends import TrendCase, shown_until
from hangar.base.units import ShowsNumbers
from hangar.window.kit.drawn_picture import DrawnPicture
from hangar.window.kit.looks import Look
from hangar.window.kit.plain_words import plain_tip
from hangar.window.kit.view_settings import ViewSettings
from hangar.window.kit.words import put, say

_STEPS = (1.0, 2.0, 2.5, 5.0, 10.0)


@dataclass(frozen=True)
class _Scale:
    """Turns days and values into places on the picture."""

    box: QRectF
    first: date
    last: date
    ticks: tuple[float, ...]

    @property
    def least(self) -> float:
        """The value at the lower edge."""
        return self.ticks[0]

    def place(self, day: date, value: float) -> QPointF:
        across = (day - self.first).days / max(1, (self.last - self.first).days)
        up = (value - self.least) / (self.ticks[-1] - self.least)
        return QPointF(
            self.box.left() + across * self.box.width(), self.box.bottom() - up * self.box.height()
        )


def nice_ticks(least: float, most: float, about: int = 4) -> tuple[float, ...]:
    """Round values that cover a range.

    >>> nice_ticks(18.0, 61.0)
    (0.0, 20.0, 40.0, 60.0, 80.0)
    """
    rough = (most - least) / about or 1.0
    power = 10.0 ** math.floor(math.log10(rough))
    step = next(power * value for value in _STEPS if power * value >= rough)
    start, end = math.floor(least / step), math.ceil(most / step)
    return tuple(step * at for at in range(start, end + 1))


class TrendPicture(DrawnPicture):
    """Draws a trend; all it shows is in its accessible description too."""

    WISHED = (20, 10)
    LEAST = (12, 9)

    def __init__(self, view: ViewSettings, name: str, parent: QWidget | None = None) -> None:
        super().__init__(view, name, parent)
        self.case: TrendCase | None = None

    def show_trend(self, case: TrendCase) -> None:
        """Draw this one."""
        self.case = case
        self.look_again()

    def look_again(self) -> None:
        """Sum the trend up in words, too."""
        if self.case is not None:
            self.setAccessibleDescription(put(self.case.summary()))
            self.setToolTip(plain_tip(self.accessibleDescription()))
        self.update()

    def draw(self, painter: QPainter) -> None:
        if self.case is not None:
            draw_trend(painter, QRectF(self.rect()), self.case, self._view.look, self._view.units)


def draw_trend(painter: QPainter, rect: QRectF, case: TrendCase, look: Look, units: ShowsNumbers) -> None:
    """Draw a trend within a rectangle."""
    painter.fillRect(rect, QColor(look.paper))
    if not case.readings:
        painter.setPen(QColor(look.soft))
        painter.drawText(rect, Qt.AlignmentFlag.AlignCenter, say("No reading yet."))
        return
    scale = _scale_of(painter, rect, case, units)
    _draw_frame(painter, scale, case, look, units)
    _draw_limit(painter, scale, case, look, units)
    _draw_line(painter, scale, case, look)
    _draw_band(painter, scale, case, look)
    _draw_readings(painter, scale, case, look)


def _scale_of(painter: QPainter, rect: QRectF, case: TrendCase, units: ShowsNumbers) -> _Scale:
    values = [value for _, value in case.readings]
    values += [value for _, value in case.aside]
    if case.limit is not None:
        values.append(case.limit)
    if case.band is not None:
        values += case.band
    ticks = nice_ticks(min(values) - 0.05 * abs(min(values)), max(values) * 1.05)
    metrics = painter.fontMetrics()
    left = max(metrics.horizontalAdvance(units.show(tick, case.unit)) for tick in ticks) + 12
    box = rect.adjusted(left, metrics.height() * 0.9, -metrics.height(), -metrics.height() * 1.7)
    first = min(day for day, _ in (*case.readings, *case.aside))
    if len(case.readings) == 1:
        first -= timedelta(days=30)
    return _Scale(box, first, shown_until(case), ticks)


def _draw_frame(painter: QPainter, scale: _Scale, case: TrendCase, look: Look, units: ShowsNumbers) -> None:
    metrics = painter.fontMetrics()
    for tick in scale.ticks:
        at = scale.place(scale.first, tick)
        painter.setPen(QPen(QColor(look.raised), 1))
        painter.drawLine(at, QPointF(scale.box.right(), at.y()))
        painter.setPen(QColor(look.soft))
        words = units.show(tick, case.unit)
        painter.drawText(
            QPointF(at.x() - 8 - metrics.horizontalAdvance(words), at.y() + metrics.ascent() / 2 - 1), words
        )
    days = (scale.last - scale.first).days
    wide = metrics.horizontalAdvance("0000-00-00")
    count = max(1, min(4, int(scale.box.width() / (wide * 1.6))))
    for part in range(count + 1):
        day = scale.first + timedelta(days=round(days * part / count))
        at = scale.place(day, scale.least)
        left = min(at.x() - wide / 2, scale.box.right() + metrics.height() - wide - 2)
        painter.drawText(QPointF(left, at.y() + metrics.height() * 1.2), day.isoformat())


def _draw_limit(painter: QPainter, scale: _Scale, case: TrendCase, look: Look, units: ShowsNumbers) -> None:
    if case.limit is None:
        return
    colour = QColor(look.levels["warning"].words)
    pen = QPen(colour, 2, Qt.PenStyle.DashDotLine)
    painter.setPen(pen)
    at = scale.place(scale.first, case.limit)
    painter.drawLine(at, QPointF(scale.box.right(), at.y()))
    painter.setPen(colour)
    metrics = painter.fontMetrics()
    below = at.y() - metrics.height() < scale.box.top()
    height = at.y() + metrics.ascent() + 3 if below else at.y() - 5
    limit = say("limit {value}", value=units.show(case.limit, case.unit))
    words = metrics.elidedText(limit, Qt.TextElideMode.ElideRight, int(scale.box.width()) - 8)
    painter.drawText(QPointF(scale.box.left() + 6, height), words)


def _draw_line(painter: QPainter, scale: _Scale, case: TrendCase, look: Look) -> None:
    last = case.readings[-1][0]
    starts, now, ends = case.line_at(scale.first), case.line_at(last), case.line_at(scale.last)
    if starts is None or now is None or ends is None:
        return
    painter.save()
    painter.setClipRect(scale.box)
    painter.setPen(QPen(QColor(look.accent), 2))
    painter.drawLine(scale.place(scale.first, starts), scale.place(last, now))
    painter.setPen(QPen(QColor(look.accent), 2, Qt.PenStyle.DashLine))
    painter.drawLine(scale.place(last, now), scale.place(scale.last, ends))
    painter.restore()


def _draw_readings(painter: QPainter, scale: _Scale, case: TrendCase, look: Look) -> None:
    painter.setPen(QPen(QColor(look.paper), 1.5))
    painter.setBrush(QColor(look.ink))
    for day, value in case.readings:
        painter.drawEllipse(scale.place(day, value), 4.5, 4.5)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(QPen(QColor(look.soft), 2))
    for day, value in case.aside:
        at = scale.place(day, value)
        painter.drawLine(at + QPointF(-4, -4), at + QPointF(4, 4))
        painter.drawLine(at + QPointF(-4, 4), at + QPointF(4, -4))


def _draw_band(painter: QPainter, scale: _Scale, case: TrendCase, look: Look) -> None:
    """The band of all readings together, at the day of the last one."""
    if case.band is None:
        return
    low, expected, high = case.band
    day = case.readings[-1][0]
    painter.setPen(QPen(QColor(look.accent), 3))
    painter.drawLine(scale.place(day, low), scale.place(day, high))
    for value in (low, expected, high):
        at = scale.place(day, value)
        painter.drawLine(at + QPointF(-6, 0), at + QPointF(6, 0))
