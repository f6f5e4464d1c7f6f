"""The chosen position in full: what sits there, its figures as bars, and what can be done with it."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFont, QFontMetrics, QPainter, QPaintEvent, QPen, QResizeEvent
from PySide6.QtWidgets import QGridLayout, QSizePolicy, QWidget

from hangar.base.figure import Figure
from hangar.parts import ServoFit
from hangar.survey.model import PositionSurvey
from hangar.window.kit.desk import Desk
from hangar.window.kit.looks import CAP, TITLE
from hangar.window.kit.plain_words import plain_tip
from hangar.window.kit.view_settings import ViewSettings
from hangar.window.kit.words import say

MOST_OF_LIMIT = 2.0
"""A bar ends at this many times its limit."""


@dataclass(frozen=True)
class Gauge:
    """One figure: its name, the value in words, a remark, how far the bar goes, 0 to 1, and its limit."""

    name: str
    value: str
    remark: str = ""
    part: float | None = None
    limit: float | None = None


class GaugeBox(QWidget):
    """Name, value and remark above a bar with a tick where the limit lies."""

    def __init__(self, view: ViewSettings, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._view = view
        self._gauge: Gauge | None = None
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def show_gauge(self, gauge: Gauge) -> None:
        """Show a figure."""
        self._gauge = gauge
        self.setAccessibleName(f"{gauge.name}: {gauge.value} {gauge.remark}".strip())
        self.setToolTip(plain_tip(self.accessibleName()))
        self.update()

    def _font(self, size: float, *, is_bold: bool = False) -> QFont:
        font = QFont(self.font())
        font.setPointSizeF(font.pointSizeF() * size)
        font.setBold(is_bold)
        return font

    def sizeHint(self) -> QSize:
        high = self.fontMetrics().height()
        return QSize(high * 10, round(high * 3.6))

    def minimumSizeHint(self) -> QSize:
        return QSize(self.fontMetrics().height() * 6, self.sizeHint().height())

    @property
    def value_wide(self) -> int:
        """The width at which its number is whole."""
        metrics = QFontMetrics(self._font(TITLE, is_bold=True))
        return metrics.horizontalAdvance(self._gauge.value) + 12 if self._gauge else 0

    def paintEvent(self, _event: QPaintEvent) -> None:
        gauge, look = self._gauge, self._view.look
        if gauge is None:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        high, wide = self.fontMetrics().height(), self.width() - 6
        self._write(painter, gauge.name, QRectF(0, 0, wide, high), look.soft, self._font(CAP))
        value = self._font(TITLE, is_bold=True)
        painter.setFont(value)
        room = QRectF(0, high, wide, high * 1.5)
        self._write(painter, gauge.value, room, look.ink, value)
        used = painter.fontMetrics().horizontalAdvance(gauge.value) + high / 2
        small = QFontMetrics(self._font(CAP))
        beside = room.adjusted(used, 0, 0, 0)
        if small.horizontalAdvance(gauge.remark) > beside.width():
            # Beside its name there is more room than beside a long number.
            left = small.horizontalAdvance(gauge.name) + high / 2
            beside = QRectF(left, 0, wide - left, high)
        self._write(painter, gauge.remark, beside, look.soft, self._font(CAP))
        if gauge.part is not None:
            self._draw_bar(painter, QRectF(0, high * 2.8, wide, high * 0.36), gauge)
        painter.end()

    def _write(self, painter: QPainter, words: str, room: QRectF, colour: str, font: QFont) -> None:
        painter.setFont(font)
        painter.setPen(QColor(colour))
        shown = painter.fontMetrics().elidedText(words, Qt.TextElideMode.ElideRight, int(room.width()))
        painter.drawText(room, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter, shown)

    def _draw_bar(self, painter: QPainter, bar: QRectF, gauge: Gauge) -> None:
        look = self._view.look
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(look.raised))
        painter.drawRoundedRect(bar, 2, 2)
        painter.setBrush(QColor(look.accent))
        part = min(1.0, max(0.0, gauge.part or 0.0))
        painter.drawRoundedRect(QRectF(bar.left(), bar.top(), bar.width() * part, bar.height()), 2, 2)
        if gauge.limit is not None:
            across = bar.left() + bar.width() * min(1.0, gauge.limit)
            painter.setPen(QPen(QColor(look.ink), 2))
            painter.drawLine(QPointF(across, bar.top() - 3), QPointF(across, bar.bottom() + 3))


class PositionGauges(QWidget):
    """Four figures of a position in a row, or two and two where it is narrow."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self.boxes = tuple(GaugeBox(desk.view) for _ in range(4))
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(12)
        self._grid.setVerticalSpacing(2)
        for at, box in enumerate(self.boxes):
            self._grid.addWidget(box, 0, at)
        self._abreast = len(self.boxes)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fit()

    def _fit(self) -> None:
        """Four abreast where every number is whole, else two and two."""
        widest = max(box.value_wide for box in self.boxes)
        abreast = 4 if self.width() >= 4 * widest + 36 else 2
        if abreast != self._abreast:
            self._abreast = abreast
            for at, box in enumerate(self.boxes):
                self._grid.addWidget(box, at // abreast, at % abreast)

    def show_position(self, fit: ServoFit | None, survey: PositionSurvey | None) -> None:
        """Show the figures of a position; a stroke for what is not known."""
        for box, gauge in zip(self.boxes, self._gauges(fit, survey), strict=True):
            box.show_gauge(gauge)
        self._fit()

    def _gauges(self, fit: ServoFit | None, survey: PositionSurvey | None) -> tuple[Gauge, ...]:
        show = self._desk.view.reader.show
        kind = fit.servo_type if fit else None

        def words(figure: Figure | None) -> str:
            return "—" if figure is None else show(figure.expected, figure.unit)

        control = survey.control_left if survey else None
        held, wanted = (survey.held_deg, survey.wanted_deg) if survey else (None, None)
        torque, load = (survey.torque_nm, survey.load_nm) if survey else (None, None)
        volts = survey.delivered_v if survey else None
        least = kind.supply_min_v if kind else None
        transit = survey.transit_s if survey else None
        of_wanted = (
            say("holds {held} of {wanted}", held=words(held), wanted=words(wanted))
            if held is not None and wanted is not None
            else ""
        )
        needed = say("needs {load}", load=words(load)) if load is not None else say("need not known")
        works = "" if least is None else say("made for {volts} and more", volts=show(least, "V"))
        return (
            Gauge(
                say("Control left"), words(control), of_wanted, None if control is None else control.expected
            ),
            _against(say("Torque there"), words(torque), needed, torque, load.expected if load else None),
            _against(say("Volts there"), words(volts), works, volts, least),
            Gauge(say("60° in"), words(transit)),
        )


def _against(name: str, value: str, remark: str, figure: Figure | None, limit: float | None) -> Gauge:
    """A figure against the limit that it must reach; its bar ends at twice that."""
    if figure is None or not limit:
        return Gauge(name, value, remark)
    return Gauge(name, value, remark, figure.expected / limit / MOST_OF_LIMIT, 1 / MOST_OF_LIMIT)
