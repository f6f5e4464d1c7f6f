"""The scatter of a front: one dot for each refit, over two figures that the keeper chooses."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from html import escape
from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, QRectF, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPen,
    QPolygonF,
)
from PySide6.QtWidgets import QWidget

from hangar.answers.judging import Difference
from hangar.base.text import Text
from hangar.base.units import ShowsNumbers
from hangar.window.kit.arrow_ways import WAYS, next_that_way
from hangar.window.kit.drawn_picture import DrawnPicture
from hangar.window.kit.view_settings import ViewSettings
from hangar.window.kit.words import level_word, put, say

if TYPE_CHECKING:
    from hangar.refit import Front
    from hangar.refit.front import Point


_MOST_REFUSED = 40


def point_html(chart: FrontView, point: Point, front: Front, reasons: tuple[Text | str, ...] | None) -> str:
    """A refit in full: its changes, what it does to the findings, and why."""
    from hangar.refit.line_words import change_words

    title = escape(chart.words_of(chart.chosen))
    changes = change_words(point.changes, front.aircraft)
    lines = "".join(f"<li>{escape(put(words))}</li>" for words in changes)
    difference = Difference.between(front.today.findings_after, point.findings_after)
    parts = [f"<p><b>{title}</b></p>"]
    parts.append(
        f"<p><b>{say('Changes')}</b></p><ul>{lines}</ul>" if lines else f"<p>{say('Changes nothing.')}</p>"
    )
    for words, findings in (
        (say("Findings that go"), difference.gone),
        (say("Findings that come"), difference.new),
    ):
        if findings:
            rows = "".join(
                f"<li>{level_word(finding.level)}: {escape(put(finding.message))}</li>"
                for finding in findings
            )
            parts.append(f"<p><b>{words}</b></p><ul>{rows}</ul>")
    left = [finding for finding in point.findings_after if finding.is_open and finding.level == "warning"]
    parts.append(f"<p>{say('Warnings left: {count}', count=len(left))}</p>")
    if point.changes:
        why = reasons if reasons is not None else (say("Working out why…"),)
        told = "".join(f"<p>{escape(put(each))}</p>" for each in why)
        parts.append(f"<p><b>{say('Why')}</b></p>{told}")
    else:
        parts.append(_refusals(front))
    return "".join(parts)


def _refusals(front: Front) -> str:
    """What is not possible, each with the first rule it breaks."""
    refused = (*front.refused, *front.cut)
    if not refused:
        return ""
    rows = "".join(
        f"<li><b>{escape(put(refusal.what))}</b>: {escape(put(refusal.why))}</li>"
        for refusal in refused[:_MOST_REFUSED]
    )
    title = say("Refused ({count})", count=len(refused))
    return f"<p><b>{title}</b></p><ul>{rows}</ul>"


@dataclass(frozen=True)
class Axis:
    """A figure of a refit that can be an axis; ``unit`` as it is stored."""

    name: str
    words: str
    value: Callable[[Point], float | None]
    unit: str = ""

    def show(self, value: float, units: ShowsNumbers) -> str:
        """A value of this axis as written beside a tick."""
        return units.show(value, self.unit) if self.unit else f"{value:.6g}"


AXES = (
    Axis("price", "Price", lambda point: point.price),
    Axis("mass", "Added mass", lambda point: point.mass_change_g, "g"),
    Axis("margin", "Weakest margin", lambda point: point.weakest_margin),
    Axis("volts", "Bus volts at peak", lambda point: point.worst_bus_v, "V"),
)


def ticks(low: float, high: float, wanted: int = 5) -> tuple[float, ...]:
    """Round numbers that cover a range.

    >>> ticks(0, 9)
    (0.0, 2.0, 4.0, 6.0, 8.0, 10.0)
    """
    span = max(high - low, 1e-9)
    rough = span / wanted
    power = 10.0 ** math.floor(math.log10(rough))
    step = next(size * power for size in (1, 2, 5, 10) if size * power >= rough * (1 - 1e-9))
    first, last = math.floor(low / step + 1e-9), math.ceil(high / step - 1e-9)
    return tuple(round(at * step, 10) for at in range(first, max(last, first + 1) + 1))


class FrontView(DrawnPicture):
    """The scatter. Arrow keys go to the nearest dot that way, Home and End to the first and last.

    Signals: ``point_chosen(number)``.
    """

    WISHED = (34, 18)
    LEAST = (12, 8)
    TAKES_KEYS = True

    point_chosen = Signal(int)

    def __init__(self, view: ViewSettings, parent: QWidget | None = None) -> None:
        super().__init__(view, say("Refits that none beats"), parent)
        self._points: tuple[Point, ...] = ()
        self._across, self._up = AXES[0], AXES[2]
        self.chosen = -1

    def show_points(self, points: Iterable[Point]) -> None:
        """Show these refits; none is chosen."""
        self._points = tuple(points)
        self.chosen = -1
        self.update()

    def show_axes(self, across: Axis, up: Axis) -> None:
        """Draw over these figures."""
        self._across, self._up = across, up
        self.update()

    def choose(self, number: int) -> None:
        """Choose a refit by its number."""
        if not 0 <= number < len(self._points):
            return
        fresh = number != self.chosen
        self.chosen = number
        self.setAccessibleDescription(self.words_of(number))
        self.update()
        if fresh:
            self.point_chosen.emit(number)

    def words_of(self, number: int) -> str:
        """A dot read out."""
        point = self._points[number]
        parts = []
        for axis in AXES:
            value = axis.value(point)
            if value is not None:
                parts.append(f"{say(axis.words)} {axis.show(round(value, 2), self._view.units)}")
        return say("Refit {number}: {figures}", number=number, figures=", ".join(parts))

    def placed(self) -> dict[int, QPointF]:
        """Where each dot is drawn; those without one of the figures are left out."""
        found = {}
        box = self._box()
        for number, point in enumerate(self._points):
            across, up = self._across.value(point), self._up.value(point)
            if across is not None and up is not None:
                found[number] = self._place(box, across, up)
        return found

    def _range(self, axis: Axis) -> tuple[float, ...]:
        values = [value for point in self._points if (value := axis.value(point)) is not None]
        low, high = (min(values), max(values)) if values else (0.0, 1.0)
        if high - low < 1e-9:
            low, high = low - 0.5, high + 0.5
        return ticks(low, high)

    def _box(self) -> QRectF:
        metrics = self.fontMetrics()
        marks = (self._up.show(value, self._view.units) for value in self._range(self._up))
        left = max(metrics.horizontalAdvance(mark) for mark in marks) + 20
        deep = metrics.height() * 2.8
        return QRectF(self.rect()).adjusted(left, metrics.height() * 2.0, -26, -deep)

    def _place(self, box: QRectF, across: float, up: float) -> QPointF:
        wide, high = self._range(self._across), self._range(self._up)
        return QPointF(
            box.left() + box.width() * (across - wide[0]) / (wide[-1] - wide[0]),
            box.bottom() - box.height() * (up - high[0]) / (high[-1] - high[0]),
        )

    def mousePressEvent(self, event: QMouseEvent) -> None:
        dots = self.placed()
        if dots:
            self.choose(min(dots, key=lambda number: _far(dots[number], event.position())))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        dots = self.placed()
        key = event.key()
        if not dots:
            super().keyPressEvent(event)
        elif key in (Qt.Key.Key_Home, Qt.Key.Key_End):
            ordered = sorted(dots, key=lambda number: (dots[number].x(), number))
            self.choose(ordered[0 if key == Qt.Key.Key_Home else -1])
        elif key in WAYS:
            self._go(dots, WAYS[key])
        else:
            super().keyPressEvent(event)

    def _go(self, dots: dict[int, QPointF], way: tuple[int, int]) -> None:
        if self.chosen not in dots:
            self.choose(min(dots))
            return
        best = next_that_way(dots, dots[self.chosen], way)
        if best is not None:
            self.choose(best)

    def draw(self, painter: QPainter) -> None:
        if not self._points:
            painter.setPen(QColor(self._view.look.soft))
            painter.drawText(self.rect(), Qt.AlignmentFlag.AlignCenter, say("Nothing has been searched yet."))
            return
        box = self._box()
        self._draw_grid(painter, box)
        self._draw_dots(painter)

    def _draw_grid(self, painter: QPainter, box: QRectF) -> None:
        look, units = self._view.look, self._view.units
        height = float(self.fontMetrics().height())
        for value in self._range(self._up):
            y = self._place(box, self._range(self._across)[0], value).y()
            painter.setPen(QPen(QColor(look.raised), 1))
            painter.drawLine(QPointF(box.left(), y), QPointF(box.right(), y))
            painter.setPen(QColor(look.soft))
            place = QRectF(0, y - height / 2, box.left() - 8, height)
            painter.drawText(place, Qt.AlignmentFlag.AlignRight, self._up.show(value, units))
        for value in self._range(self._across):
            x = self._place(box, value, self._range(self._up)[0]).x()
            painter.setPen(QPen(QColor(look.raised), 1))
            painter.drawLine(QPointF(x, box.top()), QPointF(x, box.bottom()))
            painter.setPen(QColor(look.soft))
            place = QRectF(x - 60, box.bottom() + 4, 120, height)
            painter.drawText(place, Qt.AlignmentFlag.AlignHCenter, self._across.show(value, units))
        painter.setPen(QColor(look.ink))
        below = QRectF(box.left(), box.bottom() + height * 1.3, box.width(), height * 1.2)
        painter.drawText(below, Qt.AlignmentFlag.AlignRight, say(self._across.words) + " →")
        above = QRectF(10, 4, box.width(), height * 1.2)
        painter.drawText(above, Qt.AlignmentFlag.AlignLeft, "↑ " + say(self._up.words))

    def _draw_dots(self, painter: QPainter) -> None:
        look = self._view.look
        radius = max(5.0, self.fontMetrics().height() * 0.36)
        dots = self.placed()
        for number, at in dots.items():
            if number == self.chosen:
                continue
            self._draw_dot(painter, number, at, radius)
        if self.chosen in dots:
            at = dots[self.chosen]
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(QPen(QColor(look.ink), 2))
            painter.drawEllipse(at, radius * 1.9, radius * 1.9)
            self._draw_dot(painter, self.chosen, at, radius * 1.2)

    def _draw_dot(self, painter: QPainter, number: int, at: QPointF, radius: float) -> None:
        """A lozenge for the aircraft as it is, a circle with its rim for a refit."""
        look = self._view.look
        painter.setPen(QPen(QColor(look.paper), 1.5))
        painter.setBrush(QColor(look.accent if self._points[number].changes else look.ink))
        if self._points[number].changes:
            painter.drawEllipse(at, radius, radius)
        else:
            corner = QPointF(radius, 0), QPointF(0, radius), QPointF(-radius, 0), QPointF(0, -radius)
            painter.drawPolygon(QPolygonF([at + qpoint_f * 1.3 for qpoint_f in corner]))


def _far(qpoint_f: QPointF, other: QPointF) -> float:
    step = qpoint_f - other
    return step.x() ** 2 + step.y() ** 2
