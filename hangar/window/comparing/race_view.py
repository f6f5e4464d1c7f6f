"""The race: the old and the new servo's arms swing side by side in real time."""

from __future__ import annotations

import math
import time
from typing import Protocol

from PySide6.QtCore import QPointF, QRectF, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QFocusEvent,
    QFont,
    QFontMetricsF,
    QHideEvent,
    QKeyEvent,
    QPainter,
    QPen,
)
from PySide6.QtWidgets import QWidget

from hangar.answers.race import Racer, race_over_s, result_words
from hangar.window.kit.drawn_picture import DrawnPicture
from hangar.window.kit.looks import Look
from hangar.window.kit.motion_clock import Clock, MotionClock
from hangar.window.kit.view_settings import ViewSettings
from hangar.window.kit.words import decimal, put, say

STEP_S = 0.02
"""Time between two of the faint lines that an arm leaves behind."""
LINGER_S = 0.3
_RACE_KEYS = (Qt.Key.Key_Space, Qt.Key.Key_Left, Qt.Key.Key_Right, Qt.Key.Key_Home)


class _EndOf(Protocol):
    """Where an arm's end is at a turn, so far out."""

    def __call__(self, turned_deg: float, share: float = 1.0) -> QPointF: ...


class RaceView(DrawnPicture):
    """Two dials; Space starts and holds the race, Left and Right step through it, Home goes back.

    Signals: ``over()`` when everything that arrives has arrived; ``start_wanted()`` by the keys.
    """

    WISHED = (26, 15)
    LEAST = (14, 10)
    TAKES_KEYS = True

    over = Signal()
    start_wanted = Signal()

    def __init__(
        self, view: ViewSettings, clock: Clock = time.monotonic, parent: QWidget | None = None
    ) -> None:
        super().__init__(view, say("Race of the two servos"), parent)
        self._racers: tuple[Racer, Racer] | None = None
        self._angle_deg = 60.0
        self._slower = 1.0
        self.passed_s: float | None = None
        self.clock = MotionClock(self, clock)
        self.clock.ticked.connect(self._advance)
        self.setToolTip(
            say("Space starts and holds the race, Left and Right step through it, Home goes back.")
        )

    @property
    def racers(self) -> tuple[Racer, Racer] | None:
        """The old and the new servo."""
        return self._racers

    @property
    def _newer(self) -> Racer | None:
        return self._racers[1] if self._racers else None

    @property
    def running(self) -> bool:
        """Whether the arms are under way."""
        return self.clock.running

    def show_racers(self, old: Racer, new: Racer, angle_deg: float) -> None:
        """Put these two at the start."""
        self.stop()
        self._racers, self._angle_deg = (old, new), angle_deg
        self.passed_s = None
        self.setAccessibleDescription(put(result_words(old, new)))
        self.update()

    def start(self, slower: float = 1.0) -> None:
        """Let them go; ``slower`` stretches the time."""
        if self._racers is not None:
            self._slower = slower
            self.passed_s = 0.0
            self.clock.start()

    def stop(self) -> None:
        """Hold them where they are."""
        self.clock.stop()

    def angles_deg(self) -> tuple[float, float]:
        """Where both arms are; at the start before the race."""
        if self._racers is None or self.passed_s is None:
            return 0.0, 0.0
        old, new = self._racers
        return old.angle_deg(self.passed_s), new.angle_deg(self.passed_s)

    def _advance(self, passed_s: float) -> None:
        self.passed_s = passed_s / self._slower
        self.update()
        if self._racers is not None and self.passed_s >= race_over_s(*self._racers) + LINGER_S / self._slower:
            self.stop()
            self.over.emit()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        key = event.key()
        if self._racers is None or key not in _RACE_KEYS:
            super().keyPressEvent(event)
        elif key == Qt.Key.Key_Space and not self.running:
            self.start_wanted.emit()
        else:
            self.stop()
            if key != Qt.Key.Key_Space:
                step = {Qt.Key.Key_Left: -STEP_S, Qt.Key.Key_Right: STEP_S}.get(Qt.Key(key))
                self._stand_at(0.0 if step is None else (self.passed_s or 0.0) + step)
            self._tell_where()

    def _stand_at(self, passed_s: float) -> None:
        """Hold the arms where they are after so long."""
        assert self._racers is not None
        self.passed_s = min(max(passed_s, 0.0), race_over_s(*self._racers))
        self.update()

    def _tell_where(self) -> None:
        old, new = self.angles_deg()
        self.setAccessibleDescription(
            say(
                "After {time} s: old {old}, new {new}.",
                time=decimal(f"{self.passed_s or 0.0:.2f}"),
                old=f"{old:.0f}°",
                new=f"{new:.0f}°",
            )
        )

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        self.update()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        self.update()

    def hideEvent(self, event: QHideEvent) -> None:
        self.stop()
        super().hideEvent(event)

    def draw(self, painter: QPainter) -> None:
        if self._racers is not None:
            half = self.width() / 2
            angles = self.angles_deg()
            for at, title in enumerate((say("old"), say("new"))):
                room = QRectF(at * half, 0, half, self.height()).adjusted(8, 8, -8, -8)
                self._draw_one(painter, room, self._racers[at], title, angles[at])

    def _draw_one(self, painter: QPainter, room: QRectF, racer: Racer, title: str, angle_deg: float) -> None:
        look = self._view.look
        high = QFontMetricsF(painter.font()).height()
        words = f"{title}: {racer.name}"
        bold = QFont(painter.font())
        bold.setBold(True)
        painter.save()
        painter.setFont(bold)
        painter.setPen(QColor(look.ink))
        shown = QFontMetricsF(bold).elidedText(words, Qt.TextElideMode.ElideRight, room.width())
        painter.drawText(room, Qt.AlignmentFlag.AlignHCenter | Qt.AlignmentFlag.AlignTop, shown)
        painter.restore()
        painter.setPen(QColor(look.soft))
        second = room.adjusted(0, high * 1.2, 0, 0)
        painter.drawText(
            second, Qt.AlignmentFlag.AlignHCenter | Qt.AlignmentFlag.AlignTop, decimal(f"{racer.volts:.2f} V")
        )
        painter.setPen(QColor(look.ink))
        painter.drawText(
            room, Qt.AlignmentFlag.AlignHCenter | Qt.AlignmentFlag.AlignBottom, self._time_words(racer)
        )
        dial = room.adjusted(0, high * 2.6, 0, -high * 1.6)
        colour = look.accent if racer is self._newer else look.soft
        self._draw_dial(painter, dial, racer, angle_deg, colour)

    def _time_words(self, racer: Racer) -> str:
        if racer.motion is None:
            return put(racer.why)
        if not math.isfinite(racer.arrives_s):
            return say("stalled by the load")
        if self.passed_s is None or self.passed_s >= racer.arrives_s:
            return say("{angle} in {time:.3f} s", angle=f"{self._angle_deg:.0f}°", time=racer.arrives_s)
        return decimal(f"{self.passed_s:.3f} s")

    def _draw_dial(self, painter: QPainter, room: QRectF, racer: Racer, angle_deg: float, arm: str) -> None:
        look = self._view.look
        half = math.radians(min(self._angle_deg, 170.0) / 2)
        wide = 2 * max(math.sin(half), 0.35)
        radius = max(10.0, min(room.width() / wide, room.height() * 0.82))
        centre = QPointF(room.center().x(), room.top() + room.height() * 0.5 + radius * 0.5)

        def end(turned_deg: float, share: float = 1.0) -> QPointF:
            angle = math.radians(90.0 + self._angle_deg / 2 - turned_deg)
            return centre + QPointF(math.cos(angle), -math.sin(angle)) * radius * share

        self._draw_marks(painter, racer, end, centre, look)
        width = max(6.0, radius * 0.09)
        for colour, thick in ((look.ink, width + 2.5), (arm, width)):
            painter.setPen(QPen(QColor(colour), thick, Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap))
            painter.drawLine(centre, end(angle_deg, 0.93))
        painter.setPen(QPen(QColor(look.ink), 1.4))
        painter.setBrush(QColor(look.paper))
        painter.drawEllipse(centre, width * 0.6, width * 0.6)

    def _draw_marks(self, painter: QPainter, racer: Racer, end: _EndOf, centre: QPointF, look: Look) -> None:
        """Start, finish, and a faint line for every fiftieth of a second under way."""
        painter.setPen(QPen(QColor(look.line), 1.2))
        if math.isfinite(racer.arrives_s):
            for step in range(1, min(200, math.ceil(racer.arrives_s / STEP_S))):
                turned = racer.angle_deg(step * STEP_S)
                painter.drawLine(end(turned, 0.72), end(turned, 0.98))
        painter.setPen(QPen(QColor(look.ink), 1.4, Qt.PenStyle.DashLine))
        painter.drawLine(centre, end(0.0))
        painter.setPen(QPen(QColor(look.ink), 3.0))
        painter.drawLine(end(self._angle_deg, 0.62), end(self._angle_deg, 1.02))
