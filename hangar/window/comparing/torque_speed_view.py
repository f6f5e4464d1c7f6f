"""The picture of torque against air speed: the load's line, the servo's line, and where they cross."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPen, QPolygonF
from PySide6.QtWidgets import QWidget

from hangar.base.units import convert, symbol_of
from hangar.survey.load_curve import LoadCurve
from hangar.window.kit.drawn_picture import DrawnPicture
from hangar.window.kit.looks import Look
from hangar.window.kit.plot_axes import Axes, draw_axes, drawn_axes
from hangar.window.kit.view_settings import ViewSettings
from hangar.window.kit.words import say


@dataclass(frozen=True)
class _Lines:
    """A curve in the units on screen."""

    speeds: tuple[float, ...]
    low: tuple[float, ...]
    expected: tuple[float, ...]
    design: tuple[float, ...]
    torque: float | None
    limit: float | None
    load_speed: float


class TorqueSpeedView(DrawnPicture):
    """Draws today's and the tried load and servo torque over air speed."""

    WISHED = (26, 13)
    LEAST = (16, 9)

    def __init__(self, view: ViewSettings, parent: QWidget | None = None) -> None:
        super().__init__(view, say("Torque against air speed"), parent)
        self._today: LoadCurve | None = None
        self._tried: LoadCurve | None = None

    def show_curves(self, today: LoadCurve | None, tried: LoadCurve | None) -> None:
        """Show these two; the tried one in full, today's faint when it differs."""
        self._today, self._tried = today, tried
        self.look_again()

    def look_again(self) -> None:
        """Tell the crossing in words, too."""
        self.setAccessibleDescription(crossing_words(self._tried, self._view))
        self.update()

    def _lines(self, curve: LoadCurve) -> _Lines:
        units = self._view.units
        speed, torque = units.unit_for("m/s"), units.unit_for("N m")

        def turned(values: list[float]) -> tuple[float, ...]:
            return tuple(convert(value, "N m", torque) for value in values)

        def fast(value: float | None) -> float | None:
            return None if value is None else convert(value, "m/s", speed)

        return _Lines(
            tuple(convert(value, "m/s", speed) for value in curve.speeds_m_s),
            turned([band.low for band in curve.loads_nm]),
            turned([band.expected for band in curve.loads_nm]),
            turned([band.design for band in curve.loads_nm]),
            None if curve.torque is None else convert(curve.torque.expected, "N m", torque),
            fast(curve.limit_m_s),
            convert(curve.load_speed_m_s, "m/s", speed),
        )

    def draw(self, painter: QPainter) -> None:
        look = self._view.look
        if self._tried is None:
            painter.setPen(QColor(look.ink))
            flags = Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap
            painter.drawText(self.rect().adjusted(16, 16, -16, -16), flags, crossing_words(None, self._view))
        else:
            today = self._lines(self._today) if self._today and self._today != self._tried else None
            self._draw_lines(painter, self._lines(self._tried), today, look)

    def _draw_lines(self, painter: QPainter, tried: _Lines, today: _Lines | None, look: Look) -> None:
        lines = [tried] if today is None else [tried, today]
        fastest = max(line.speeds[-1] for line in lines)
        torques = [line.torque for line in lines if line.torque]
        cap = 2.2 * max(torques) if torques else max(line.design[-1] for line in lines)
        most = min(cap, 1.05 * max([*torques, *(line.design[-1] for line in lines)]))
        axes = drawn_axes(self, (0.0, fastest), (0.0, most or 1.0))
        units = self._view.units
        draw_axes(
            painter,
            axes,
            look,
            say("air speed, {unit}", unit=symbol_of(units.unit_for("m/s"))),
            say("torque at the servo, {unit}", unit=symbol_of(units.unit_for("N m"))),
        )
        painter.save()
        painter.setClipRect(axes.box.adjusted(-1, -1, 1, 1))
        _draw_band(painter, axes, tried, look)
        if today is not None:
            _draw_curve(
                painter, axes, today.speeds, today.design, QPen(QColor(look.soft), 1.8, Qt.PenStyle.DotLine)
            )
            _draw_level(painter, axes, today.torque, QPen(QColor(look.soft), 1.8, Qt.PenStyle.DotLine))
        painter.restore()
        self._draw_names(painter, axes, tried, look)

    def _draw_names(self, painter: QPainter, axes: Axes, tried: _Lines, look: Look) -> None:
        metrics = QFontMetricsF(painter.font())
        high = metrics.height()
        if tried.torque is not None:
            painter.setPen(QColor(look.accent))
            where = axes.at(0.0, tried.torque)
            painter.drawText(where + QPointF(8, -6), say("the servo gives"))
        painter.setPen(QColor(look.ink))
        if tried.limit is not None and tried.torque is not None and tried.limit <= axes.x_range[1]:
            point = axes.at(tried.limit, tried.torque)
            painter.setBrush(QColor(look.paper))
            painter.setPen(QPen(QColor(look.ink), 2.0))
            painter.drawEllipse(point, 5.0, 5.0)
            limit = convert(tried.limit, self._view.units.unit_for("m/s"), "m/s")
            words = say("enough to {speed}", speed=self._view.units.show(limit, "m/s"))
            wide = metrics.horizontalAdvance(words)
            if point.x() - axes.box.left() > wide + metrics.horizontalAdvance(say("the servo gives")) + 36:
                painter.drawText(QPointF(point.x() - wide - 8, point.y() - 8), words)
            else:
                painter.drawText(QPointF(point.x() + 10, point.y() + high * 1.1), words)
        where = axes.at(tried.load_speed, 0.0)
        painter.setPen(QPen(QColor(look.ink), 1.2, Qt.PenStyle.DashLine))
        painter.drawLine(where, axes.at(tried.load_speed, axes.most_y))


def _draw_band(painter: QPainter, axes: Axes, lines: _Lines, look: Look) -> None:
    upper = [axes.at(*point) for point in zip(lines.speeds, lines.design, strict=True)]
    lower = [axes.at(*point) for point in zip(lines.speeds, lines.low, strict=True)]
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QColor(look.raised))
    painter.drawPolygon(QPolygonF([*upper, *reversed(lower)]))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    _draw_curve(
        painter, axes, lines.speeds, lines.expected, QPen(QColor(look.ink), 1.4, Qt.PenStyle.DashLine)
    )
    _draw_curve(painter, axes, lines.speeds, lines.design, QPen(QColor(look.ink), 2.2))
    _draw_level(painter, axes, lines.torque, QPen(QColor(look.accent), 3.0))


def _draw_curve(
    painter: QPainter, axes: Axes, speeds: tuple[float, ...], values: tuple[float, ...], pen: QPen
) -> None:
    painter.setPen(pen)
    painter.drawPolyline(QPolygonF([axes.at(*point) for point in zip(speeds, values, strict=True)]))


def _draw_level(painter: QPainter, axes: Axes, value: float | None, pen: QPen) -> None:
    if value is not None:
        painter.setPen(pen)
        painter.drawLine(axes.at(axes.x_range[0], value), axes.at(axes.x_range[1], value))


def crossing_words(curve: LoadCurve | None, view: ViewSettings) -> str:
    """What the picture says, in words."""
    if curve is None:
        return say("No air load is known here, so there is no line to draw.")
    speed = view.reader.show(curve.load_speed_m_s, "m/s")
    if curve.torque is not None and curve.limit_m_s is None:
        return say(
            "The servo is stronger than the expected load at any speed; the load is worked for {speed}.",
            speed=speed,
        )
    if curve.torque is None or curve.limit_m_s is None:
        return say(
            "The load is known, the servo's torque is not; the load is worked for {speed}.", speed=speed
        )
    return say(
        "The servo holds the expected load up to {limit}; the load is worked for {speed}.",
        limit=view.reader.show(curve.limit_m_s, "m/s"),
        speed=speed,
    )
