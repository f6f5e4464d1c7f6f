"""A small picture of the ratio against servo travel, with the travel to keep out of shaded."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QBrush, QColor, QFontMetricsF, QMouseEvent, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QWidget

from hangar.window.linkage_study import LinkageStudy
from hangar.window.plot_axes import Axes, draw_axes, drawn_axes
from hangar.window.view_settings import ViewSettings
from hangar.window.words import say

MOST_RATIO = 4.0
"""Near a dead point the ratio grows without bound; the picture stops here."""


class RatioPlot(QWidget):
    """Degrees of surface for each degree of arm. Signals: ``travel_asked(float)`` on a click."""

    travel_asked = Signal(float)

    def __init__(self, view: ViewSettings, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._view = view
        self._study: LinkageStudy | None = None
        self._travel_deg = 0.0
        self.setAccessibleName(self.tr("Ratio against servo travel"))
        self.setToolTip(self.tr("Degrees of surface for each degree of arm; click to go to that travel."))
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        view.changed.connect(self.update)

    def sizeHint(self) -> QSize:
        return QSize(self.fontMetrics().height() * 20, self.fontMetrics().height() * 11)

    def minimumSizeHint(self) -> QSize:
        return QSize(self.fontMetrics().height() * 13, self.fontMetrics().height() * 8)

    def show_study(self, study: LinkageStudy | None) -> None:
        """Show this linkage."""
        self._study = study
        curve = self.curve()
        if curve:
            least, most = min(y for _, y in curve), max(y for _, y in curve)
            self.setAccessibleDescription(
                say("Ratio {least} to {most} over the travel.").format(
                    least=f"{least:.2f}", most=f"{most:.2f}"
                )
            )
        self.update()

    def show_travel(self, travel_deg: float) -> None:
        """Mark this servo travel."""
        self._travel_deg = travel_deg
        self.update()

    def curve(self) -> list[tuple[float, float]]:
        """Servo travel and ratio, from end to end."""
        if self._study is None or self._study.swept is None:
            return []
        zero = self._study.swept.link.servo_neutral_deg
        return [
            (one.servo_deg - zero, min(abs(one.velocity_ratio), MOST_RATIO))
            for one in self._study.swept.positions
        ]

    def _axes(self) -> Axes:
        limit = self._study.limit_deg if self._study else 60.0
        most = max((ratio for _, ratio in self.curve()), default=1.0)
        return drawn_axes(self, (-limit, limit), (0.0, max(most * 1.15, 0.2)))

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        look = self._view.look
        painter.fillRect(self.rect(), QColor(look.paper))
        study, curve = self._study, self.curve()
        if study is None or not curve:
            painter.end()
            return
        axes = self._axes()
        for zone in study.zones:
            colour = QColor(look.levels[zone.level].edge)
            box = QRectF(axes.at(zone.low_deg, axes.most_y), axes.at(zone.high_deg, 0.0))
            painter.fillRect(box.normalized(), QBrush(colour, Qt.BrushStyle.BDiagPattern))
        draw_axes(painter, axes, look, say("servo travel, °"), say("surface ° per arm °"))
        painter.setPen(QPen(QColor(look.accent), 2.4))
        painter.drawPolyline(QPolygonF([axes.at(*point) for point in curve]))
        self._draw_mark(painter, axes)
        painter.end()

    def _draw_mark(self, painter: QPainter, axes: Axes) -> None:
        there = self._study.at(self._travel_deg) if self._study else None
        if there is None:
            return
        look = self._view.look
        ratio = abs(there.velocity_ratio)
        painter.setPen(QPen(QColor(look.ink), 1.2, Qt.PenStyle.DashLine))
        painter.drawLine(axes.at(self._travel_deg, 0.0), axes.at(self._travel_deg, axes.most_y))
        painter.setBrush(QColor(look.accent))
        point = axes.at(self._travel_deg, min(ratio, MOST_RATIO))
        painter.setPen(QPen(QColor(look.ink), 1.4))
        painter.drawEllipse(point, 4.5, 4.5)
        words, metrics = f"{ratio:.2f}", QFontMetricsF(painter.font())
        left = point.x() + 8
        if left + metrics.horizontalAdvance(words) > axes.box.right():
            left = point.x() - 8 - metrics.horizontalAdvance(words)
        painter.drawText(QPointF(left, point.y() - 8), words)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        if self.curve():
            self.travel_asked.emit(self._axes().x_at(event.position().x()))
