"""Predicted and measured volts of a flight in one picture: their difference below, what happened marked."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPen, QPolygonF
from PySide6.QtWidgets import QWidget

from hangar.answers.flight_logs import Course, Values
from hangar.window.kit.drawn_picture import DrawnPicture
from hangar.window.kit.plot_axes import Axes, Range, draw_axes, drawn_axes
from hangar.window.kit.view_settings import ViewSettings
from hangar.window.kit.words import say

UPPER_SHARE = 0.62
_LEAST_SPAN_V = 0.2


class CoursePicture(DrawnPicture):
    """Draws a flight; all it shows is in its accessible description and in the list beside it, too."""

    WISHED = (44, 20)
    LEAST = (18, 10)

    def __init__(self, view: ViewSettings, parent: QWidget | None = None) -> None:
        super().__init__(view, say("Predicted and measured volts of the flight"), parent)
        self.course: Course | None = None
        self._marks: tuple[float, ...] = ()

    def show_course(self, course: Course | None, marks_s: Sequence[float] = ()) -> None:
        """Draw this flight with numbered marks at these moments."""
        self.course, self._marks = course, tuple(marks_s)
        self.setAccessibleDescription(self._summary())
        self.update()

    def _summary(self) -> str:
        course = self.course
        measured = None if course is None else min(_known(course.low_v), default=None)
        if course is None or measured is None:
            return say("No volts were logged.")
        units = self._view.units
        lowest = units.show(measured, "V", 3)
        predicted = min(_known(course.predicted_v), default=None)
        if predicted is None:
            return say("Lowest volts {measured}; nothing predicted to hold it against.", measured=lowest)
        return say(
            "Lowest volts {measured} measured, {predicted} predicted.",
            measured=lowest,
            predicted=units.show(predicted, "V", 3),
        )

    def draw(self, painter: QPainter) -> None:
        course = self.course
        if course is None:
            return
        upper, lower = QRectF(self.rect()), QRectF(self.rect())
        upper.setHeight(upper.height() * UPPER_SHARE)
        lower.setTop(lower.top() + lower.height() * UPPER_SHARE)
        drawn: list[Axes] = []
        across = (0.0, max(course.minutes, 0.1))
        if any(True for _ in _known(course.low_v)):
            volts = self._axes(across, [*_known(course.low_v), *_known(course.predicted_v)], upper)
            drawn.append(volts)
        away = differences(course)
        below = away if any(True for _ in _known(away)) else course.high_a
        if any(True for _ in _known(below)):
            drawn.append(self._axes(across, [0.0, *_known(below)], lower))
        left = max((axes.box.left() for axes in drawn), default=0.0)
        for axes in drawn:
            axes.box.setLeft(left)
        if drawn and any(True for _ in _known(course.low_v)):
            self._draw_volts(painter, drawn[0], course)
        if len(drawn) > 1 or (drawn and not any(True for _ in _known(course.low_v))):
            words = say("measured less predicted, V") if below is away else say("current, A")
            self._draw_below(painter, drawn[-1], course, below, words)
        self._draw_marks(painter, drawn)

    def _axes(self, across: Range, values: Iterable[float], room: QRectF) -> Axes:
        numbers = list(values)
        low, high = min(numbers), max(numbers)
        more = max(_LEAST_SPAN_V - (high - low), 0.12 * (high - low))
        return drawn_axes(self, across, (low - 0.5 * more, high + 0.5 * more), room)

    def _draw_volts(self, painter: QPainter, axes: Axes, course: Course) -> None:
        look = self._view.look
        draw_axes(painter, axes, look, say("minutes"), say("bus volts, V"))
        pens = (
            (course.predicted_v, QPen(QColor(look.soft), 1.3, Qt.PenStyle.DashLine), say("predicted")),
            (course.low_v, QPen(QColor(look.accent), 1.6), say("measured")),
        )
        metrics = QFontMetricsF(painter.font())
        right = axes.box.right()
        for values, pen, words in pens:
            if not any(True for _ in _known(values)):
                continue
            painter.setPen(pen)
            for stretch in _stretches(axes, course, values):
                painter.drawPolyline(QPolygonF(stretch))
            width = metrics.horizontalAdvance(words)
            height = axes.box.top() - 0.6 * metrics.height()
            painter.drawLine(QPointF(right - width - 32, height), QPointF(right - width - 8, height))
            painter.setPen(QColor(look.ink))
            painter.drawText(QPointF(right - width, height + 0.35 * metrics.ascent()), words)
            right -= width + 48

    def _draw_below(self, painter: QPainter, axes: Axes, course: Course, values: Values, words: str) -> None:
        look = self._view.look
        draw_axes(painter, axes, look, say("minutes"), words)
        painter.setPen(QPen(QColor(look.line), 1.2))
        painter.drawLine(axes.at(axes.x_range[0], 0.0), axes.at(axes.x_range[1], 0.0))
        painter.setPen(QPen(QColor(look.ink), 1.1))
        for stretch in _stretches(axes, course, values):
            painter.drawPolyline(QPolygonF(stretch))

    def _draw_marks(self, painter: QPainter, drawn: Sequence[Axes]) -> None:
        colour = QColor(self._view.look.levels["caution"].words)
        metrics = QFontMetricsF(painter.font())
        for number, moment_s in enumerate(self._marks, start=1):
            painter.setPen(QPen(colour, 1.4, Qt.PenStyle.DashDotLine))
            for axes in drawn:
                low, high = axes.y_range
                painter.drawLine(axes.at(moment_s / 60.0, low), axes.at(moment_s / 60.0, high))
            if drawn:
                top = drawn[0].at(moment_s / 60.0, drawn[0].y_range[1])
                painter.setPen(colour)
                painter.drawText(top + QPointF(4, metrics.ascent() + 1), str(number))


def differences(course: Course) -> Values:
    """Measured less predicted volts, where both are known."""
    return tuple(
        None if measured is None or predicted is None else measured - predicted
        for measured, predicted in zip(course.low_v, course.predicted_v, strict=True)
    )


def _known(values: Values) -> Iterator[float]:
    return (value for value in values if value is not None)


def _stretches(axes: Axes, course: Course, values: Values) -> Iterator[list[QPointF]]:
    """The points of a line, broken where nothing is known."""
    points: list[QPointF] = []
    for until_s, value in zip(course.until_s, values, strict=True):
        if value is not None:
            points.append(axes.at(until_s / 60.0, value))
        elif points:
            yield points
            points = []
    if points:
        yield points
