"""A small picture of the ratio against servo travel, with the travel to keep out of shaded."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, Qt, Signal
from PySide6.QtGui import (
    QBrush,
    QColor,
    QFontMetricsF,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPen,
    QPolygonF,
)
from PySide6.QtWidgets import QWidget

from hangar.answers.linkages import LinkageStudy
from hangar.window.kit.drawn_picture import DrawnPicture
from hangar.window.kit.plot_axes import Axes, draw_axes, drawn_axes
from hangar.window.kit.view_settings import ViewSettings
from hangar.window.kit.words import decimal, say

MOST_RATIO = 4.0
"""Near a dead point the ratio grows without bound; the picture stops here."""

_STEPS_DEG: dict[int, float] = {
    Qt.Key.Key_Left: -1.0,
    Qt.Key.Key_Right: 1.0,
    Qt.Key.Key_PageDown: -10.0,
    Qt.Key.Key_PageUp: 10.0,
}


class RatioPlot(DrawnPicture):
    """Degrees of surface for each degree of arm; a click or the arrow keys go to another travel.

    Signals: ``travel_asked(float)``.
    """

    WISHED = (20, 11)
    LEAST = (13, 8)
    TAKES_KEYS = True

    travel_asked = Signal(float)

    def __init__(self, view: ViewSettings, parent: QWidget | None = None) -> None:
        super().__init__(view, say("Ratio against servo travel"), parent)
        self._study: LinkageStudy | None = None
        self._travel_deg = 0.0
        self.setToolTip(
            say("Degrees of surface for each degree of arm; a click or the arrow keys go to a travel.")
        )

    def show_study(self, study: LinkageStudy | None) -> None:
        """Show this linkage."""
        self._study = study
        self.look_again()

    def look_again(self) -> None:
        """Tell the range, and the ratio where the mark stands; draw them."""
        self.update()
        curve = self.curve()
        if not curve:
            self.setAccessibleDescription("")
            return
        least, most = min(y for _, y in curve), max(y for _, y in curve)
        words = say(
            "Ratio {least} to {most} over the travel.",
            least=decimal(f"{least:.2f}"),
            most=decimal(f"{most:.2f}"),
        )
        there = self._study.at(self._travel_deg) if self._study else None
        if there is not None:
            here = say(
                "Ratio {ratio} at servo travel {travel}.",
                ratio=decimal(f"{abs(there.velocity_ratio):.2f}"),
                travel=f"{self._travel_deg:.0f}°",
            )
            words = f"{here} {words}"
        self.setAccessibleDescription(words)

    def show_travel(self, travel_deg: float) -> None:
        """Mark this servo travel."""
        self._travel_deg = travel_deg
        if self.hasFocus():
            self.look_again()
        self.update()

    def curve(self) -> list[tuple[float, float]]:
        """Servo travel and ratio, from end to end."""
        if self._study is None or self._study.swept is None:
            return []
        zero = self._study.swept.link.servo_neutral_deg
        return [
            (position.servo_deg - zero, min(abs(position.velocity_ratio), MOST_RATIO))
            for position in self._study.swept.positions
        ]

    def _axes(self) -> Axes:
        limit = self._study.limit_deg if self._study else 60.0
        most = max((ratio for _, ratio in self.curve()), default=1.0)
        return drawn_axes(self, (-limit, limit), (0.0, max(most * 1.15, 0.2)))

    def draw(self, painter: QPainter) -> None:
        look = self._view.look
        study, curve = self._study, self.curve()
        if study is None or not curve:
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
        words, metrics = decimal(f"{ratio:.2f}"), QFontMetricsF(painter.font())
        left = point.x() + 8
        if left + metrics.horizontalAdvance(words) > axes.box.right():
            left = point.x() - 8 - metrics.horizontalAdvance(words)
        painter.drawText(QPointF(left, point.y() - 8), words)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        if self.curve():
            self.travel_asked.emit(self._axes().x_at(event.position().x()))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        study, key = self._study, event.key()
        if study is None or not self.curve():
            super().keyPressEvent(event)
        elif key in _STEPS_DEG:
            wanted = self._travel_deg + _STEPS_DEG[key]
            self.travel_asked.emit(min(max(wanted, study.low_deg), study.high_deg))
        elif key in (Qt.Key.Key_Home, Qt.Key.Key_End):
            self.travel_asked.emit(study.low_deg if key == Qt.Key.Key_Home else study.high_deg)
        else:
            super().keyPressEvent(event)
