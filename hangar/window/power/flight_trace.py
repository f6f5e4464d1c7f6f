"""The bus through a whole flight as a trace: volts above, current below, the limits drawn across."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, QRectF, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QFontMetricsF,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPen,
    QPolygonF,
)
from PySide6.QtWidgets import QWidget

from hangar.parts import Aircraft
from hangar.window.kit.drawn_picture import DrawnPicture
from hangar.window.kit.plot_axes import Axes, draw_axes, drawn_axes
from hangar.window.kit.view_settings import ViewSettings
from hangar.window.kit.words import decimal, say

if TYPE_CHECKING:
    from hangar.base.figure import Figure
    from hangar.survey import Survey

MOST_STRIPES = 1200
STEP_S = 0.1
UPPER_SHARE = 0.64


@dataclass(frozen=True)
class Stripe:
    """A short stretch of the flight: its end in minutes, and what the bus did in it."""

    until_min: float
    low_v: float
    high_v: float
    high_a: float


@dataclass(frozen=True)
class Trace:
    """A flight ready to be drawn."""

    stripes: tuple[Stripe, ...]
    minutes: float
    lowest_v: Figure
    lowest_at_min: float


@dataclass(frozen=True)
class VoltsLimit:
    """Volts below which something stops working as it should."""

    volts: float
    words: str


def trace_of(surveyed: Survey, minutes: float) -> Trace:
    """Work the flight and sum it up in as many stripes as a screen can show.

    Raises: NoAnswer when the load cases are not known or the supply collapses.
    """
    from hangar.survey.profile import flight_volts

    flown = flight_volts(surveyed, minutes=minutes, step_s=STEP_S)
    count = len(flown.time_s)
    number = math.ceil(count / MOST_STRIPES)
    stripes = tuple(
        Stripe(
            float(flown.time_s[min(start + number, count) - 1]) / 60.0,
            float(flown.bus_v[start : start + number].min()),
            float(flown.bus_v[start : start + number].max()),
            float(flown.current_a[start : start + number].max()),
        )
        for start in range(0, count, number)
    )
    return Trace(stripes, minutes, flown.lowest_v, flown.lowest_at_s / 60.0)


def volts_limits(aircraft: Aircraft) -> tuple[VoltsLimit, ...]:
    """The highest lower limit among the receivers and among the servos, where they are known."""
    receivers = [
        (receiver.supply_min_v, receiver.code)
        for receiver in aircraft.receivers
        if receiver.supply_min_v is not None
    ]
    servos = [
        (fit.servo_type.supply_min_v, fit.servo_type.code)
        for fit in aircraft.fits
        if fit.servo_type is not None and fit.servo_type.supply_min_v is not None
    ]
    stripes = []
    if receivers:
        volts, code = max(receivers)
        stripes.append(VoltsLimit(volts, say("receiver {code}", code=code)))
    if servos:
        volts, code = max(servos)
        stripes.append(VoltsLimit(volts, say("servo {code}", code=code)))
    return tuple(stripes)


class TracePicture(DrawnPicture):
    """Draws a flight; a click or the arrow keys read it at a moment. Signals: ``moment_read(str)``."""

    WISHED = (40, 24)
    LEAST = (18, 10)
    TAKES_KEYS = True

    moment_read = Signal(str)

    def __init__(self, view: ViewSettings, parent: QWidget | None = None) -> None:
        super().__init__(view, say("Bus volts and current through the flight"), parent)
        self._trace: Trace | None = None
        self._limits: tuple[VoltsLimit, ...] = ()
        self._read_at: int | None = None
        self.setToolTip(say("Click, or use the left and right arrow keys, to read a moment."))

    @property
    def trace(self) -> Trace | None:
        """The flight shown."""
        return self._trace

    def show_trace(self, trace: Trace | None, limits: tuple[VoltsLimit, ...] = ()) -> None:
        """Show this flight with these limits; None clears the picture."""
        self._trace, self._limits = trace, limits
        self._read_at = None
        self.update()

    def read_moment(self, at: int) -> None:
        """Put the reading line on a stripe and tell what stands there."""
        trace = self._trace
        if trace is None:
            return
        self._read_at = min(max(at, 0), len(trace.stripes) - 1)
        words = self.moment_words(trace.stripes[self._read_at])
        self.setAccessibleDescription(words)
        self.moment_read.emit(words)
        self.update()

    def moment_words(self, stripe: Stripe) -> str:
        """A moment of the flight in words."""
        units = self._view.units
        return say(
            "At {minutes} min: lowest {low}, highest current {amps}.",
            minutes=decimal(f"{stripe.until_min:.2f}"),
            low=units.show(stripe.low_v, "V"),
            amps=units.show(stripe.high_a, "A"),
        )

    def keyPressEvent(self, event: QKeyEvent) -> None:
        trace = self._trace
        steps = {Qt.Key.Key_Left: -1, Qt.Key.Key_Right: 1, Qt.Key.Key_PageUp: -20, Qt.Key.Key_PageDown: 20}
        key = Qt.Key(event.key())
        if trace is None or (key not in steps and key not in (Qt.Key.Key_Home, Qt.Key.Key_End)):
            super().keyPressEvent(event)
        elif key is Qt.Key.Key_Home:
            self.read_moment(0)
        elif key is Qt.Key.Key_End:
            self.read_moment(len(trace.stripes) - 1)
        else:
            start = self._lowest_stripe(trace) if self._read_at is None else self._read_at
            self.read_moment(start + (steps[key] if self._read_at is not None else 0))

    def mousePressEvent(self, event: QMouseEvent) -> None:
        trace = self._trace
        if trace is None:
            return
        minute = self._both_axes(trace)[0].x_at(event.position().x())
        self.read_moment(sum(stripe.until_min < minute for stripe in trace.stripes))

    @staticmethod
    def _lowest_stripe(trace: Trace) -> int:
        return min(range(len(trace.stripes)), key=lambda at: trace.stripes[at].low_v)

    def _volts_axes(self, trace: Trace) -> Axes:
        volts = [volts for stripe in trace.stripes for volts in (stripe.low_v, stripe.high_v)]
        volts += [limit.volts for limit in self._limits]
        room = max(0.2, 0.08 * (max(volts) - min(volts)))
        upper = QRectF(self.rect())
        upper.setHeight(upper.height() * UPPER_SHARE)
        return drawn_axes(self, (0.0, trace.minutes), (min(volts) - room, max(volts) + room), upper)

    def _amps_axes(self, trace: Trace) -> Axes:
        most = max(stripe.high_a for stripe in trace.stripes)
        lower = QRectF(self.rect())
        lower.setTop(lower.top() + lower.height() * UPPER_SHARE)
        return drawn_axes(self, (0.0, trace.minutes), (0.0, max(0.1, most * 1.15)), lower)

    def _both_axes(self, trace: Trace) -> tuple[Axes, Axes]:
        """Both pictures under each other with one scale of minutes."""
        volts, amps = self._volts_axes(trace), self._amps_axes(trace)
        left = max(volts.box.left(), amps.box.left())
        for axes in (volts, amps):
            axes.box.setLeft(left)
        return volts, amps

    def draw(self, painter: QPainter) -> None:
        if self._trace is not None:
            volts, amps = self._both_axes(self._trace)
            self._draw_volts(painter, volts, self._trace)
            self._draw_amps(painter, amps, self._trace)
            self._draw_reading(painter, (volts, amps), self._trace)

    def _draw_volts(self, painter: QPainter, axes: Axes, trace: Trace) -> None:
        look = self._view.look
        draw_axes(painter, axes, look, say("minutes"), say("bus volts, V"))
        painter.setPen(QPen(QColor(look.accent), 1.6))
        painter.drawPolyline(QPolygonF(list(self._zigzag(axes, trace))))
        metrics = QFontMetricsF(painter.font())
        for limit in self._limits:
            colour = QColor(look.levels["warning"].words)
            painter.setPen(QPen(colour, 1.6, Qt.PenStyle.DashLine))
            start = axes.at(0.0, limit.volts)
            painter.drawLine(start, axes.at(trace.minutes, limit.volts))
            words = say(
                "lower limit of {what}, {volts}",
                what=limit.words,
                volts=self._view.units.show(limit.volts, "V"),
            )
            below = limit is self._limits[-1] and len(self._limits) > 1
            painter.drawText(start + QPointF(6, metrics.ascent() + 2 if below else -4), words)
        self._draw_lowest(painter, axes, trace)

    @staticmethod
    def _zigzag(axes: Axes, trace: Trace) -> Iterator[QPointF]:
        """Through the highest and the lowest of each stripe, so that no short dip is lost."""
        for stripe in trace.stripes:
            yield axes.at(stripe.until_min, stripe.high_v)
            if stripe.low_v != stripe.high_v:
                yield axes.at(stripe.until_min, stripe.low_v)

    def _draw_lowest(self, painter: QPainter, axes: Axes, trace: Trace) -> None:
        look = self._view.look
        point = axes.at(trace.lowest_at_min, trace.lowest_v.expected)
        painter.setPen(QPen(QColor(look.ink), 1.6))
        painter.setBrush(QColor(look.paper))
        painter.drawEllipse(point, 5.0, 5.0)
        words = say("lowest {volts}", volts=self._view.units.show(trace.lowest_v.expected, "V"))
        metrics = QFontMetricsF(painter.font())
        width = metrics.horizontalAdvance(words)
        left = min(point.x() + 9, axes.box.right() - width)
        top = min(point.y() + metrics.ascent() + 6, axes.box.bottom() - 4)
        painter.drawText(QPointF(left, top), words)

    def _draw_amps(self, painter: QPainter, axes: Axes, trace: Trace) -> None:
        look = self._view.look
        draw_axes(painter, axes, look, say("minutes"), say("current, A"))
        painter.setPen(QPen(QColor(look.ink), 1.1))
        painter.drawPolyline(
            QPolygonF([axes.at(stripe.until_min, stripe.high_a) for stripe in trace.stripes])
        )

    def _draw_reading(self, painter: QPainter, both: tuple[Axes, Axes], trace: Trace) -> None:
        if self._read_at is None:
            return
        stripe = trace.stripes[self._read_at]
        painter.setPen(QPen(QColor(self._view.look.ink), 1.2, Qt.PenStyle.DashLine))
        for axes in both:
            low, high = axes.y_range
            painter.drawLine(axes.at(stripe.until_min, low), axes.at(stripe.until_min, high))
