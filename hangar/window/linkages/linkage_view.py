"""The moving drawing of a linkage: servo arm, rod, horn and surface at any servo travel."""

from __future__ import annotations

import math
import time

from PySide6.QtCore import QPointF, QRectF, Qt, Signal
from PySide6.QtGui import QColor, QHideEvent, QKeyEvent, QMouseEvent, QPainter
from PySide6.QtWidgets import QWidget

from hangar.answers.linkages import LinkageStudy
from hangar.window.kit.drawn_picture import DrawnPicture
from hangar.window.kit.motion_clock import Clock, MotionClock
from hangar.window.kit.view_settings import ViewSettings
from hangar.window.kit.words import put, say
from hangar.window.linkages.linkage_drawing import Frame, draw_dragged, draw_linkage
from hangar.window.linkages.tip_drag import TipDrag, grip_at

SWING_S = 4.0
"""Time of one whole swing there and back while it plays."""
# Left and right move the arm's end, up and down the surface.
_STEPS = {
    Qt.Key.Key_Left: 1.0,
    Qt.Key.Key_Down: -1.0,
    Qt.Key.Key_Right: -1.0,
    Qt.Key.Key_Up: 1.0,
    Qt.Key.Key_PageDown: -10.0,
    Qt.Key.Key_PageUp: 10.0,
}


class LinkageView(DrawnPicture):
    """Draws a linkage; the arm is turned by dragging or with the arrow keys, or swings by itself.

    The tip of the arm or of the horn is dragged to another radius; that of the arm goes from hole to hole
    where the holes are known.

    Signals: ``travel_changed(float)`` with the servo travel in degrees; ``playing_changed(bool)``;
    ``radius_dragged(str, float)`` with the field of the linkage and its new radius in mm.
    """

    WISHED = (30, 16)
    LEAST = (14, 10)
    TAKES_KEYS = True

    travel_changed = Signal(float)
    playing_changed = Signal(bool)
    radius_dragged = Signal(str, float)

    def __init__(
        self, view: ViewSettings, clock: Clock = time.monotonic, parent: QWidget | None = None
    ) -> None:
        super().__init__(view, say("Moving drawing of the linkage"), parent)
        self._study: LinkageStudy | None = None
        self._travel_deg = 0.0
        self._held_at: float | None = None
        self._holes: tuple[float, ...] = ()
        self._drag: TipDrag | None = None
        self.setMouseTracking(True)
        self.clock = MotionClock(self, clock)
        self.clock.ticked.connect(self._swing)
        self.setToolTip(
            say("Drag the arm or use the arrow keys to turn it; Home and End go to the ends, 0 to neutral, "
                    "Space plays. Drag the tip of arm or horn to another radius.")
        )  # fmt: skip

    @property
    def travel_deg(self) -> float:
        """Servo travel shown, counted from neutral."""
        return self._travel_deg

    @property
    def playing(self) -> bool:
        """Whether the arm swings by itself."""
        return self.clock.running

    def show_study(self, study: LinkageStudy | None, holes: tuple[float, ...] = ()) -> None:
        """Show this linkage, at the travel it stands at as far as it reaches.

        Args:
            holes: radii in mm that the arm can have; none where that is not known.
        """
        self._study, self._holes, self._drag = study, holes, None
        if study is None or study.link is None:
            self.pause()
        self.set_travel(self._travel_deg)
        self._describe()
        self.update()

    def set_travel(self, travel_deg: float) -> None:
        """Turn the arm to this travel, or as far as the linkage goes."""
        low, high = (self._study.low_deg, self._study.high_deg) if self._study else (0.0, 0.0)
        held = min(max(travel_deg, low), high)
        if held != self._travel_deg:
            self._travel_deg = held
            self.travel_changed.emit(held)
            self.update()
            if not self.playing:
                self._describe()

    def play(self) -> None:
        """Let the arm swing from end to end."""
        if self._study is not None and self._study.link is not None and not self.playing:
            self.clock.start(self._phase_s())
            self.playing_changed.emit(True)

    def pause(self) -> None:
        """Let the arm stand where it is."""
        if self.playing:
            self.clock.stop()
            self._describe()
            self.playing_changed.emit(False)

    def toggle(self) -> None:
        """Play when it stands, stand when it plays."""
        if self.playing:
            self.pause()
        else:
            self.play()

    def _phase_s(self) -> float:
        """The moment of the swing at which the arm stands where it stands."""
        study = self._study
        end = 0.0 if study is None else study.high_deg if self._travel_deg >= 0.0 else -study.low_deg
        share = max(-1.0, min(1.0, self._travel_deg / end)) if end else 0.0
        return math.asin(share) / (2.0 * math.pi) * SWING_S

    def _swing(self, passed_s: float) -> None:
        if self._study is not None:
            swing = math.sin(2.0 * math.pi * passed_s / SWING_S)
            self.set_travel(swing * (self._study.high_deg if swing > 0.0 else -self._study.low_deg))

    def _describe(self) -> None:
        study = self._study
        if study is None or study.link is None:
            self.setAccessibleDescription(put(study.why) if study else "")
            return
        words = say(
            "{position}, servo travel {travel}", position=study.code, travel=f"{self._travel_deg:.0f}°"
        )
        self.setAccessibleDescription(". ".join([words, *(put(zone.words) for zone in study.zones)]))

    def frame(self) -> Frame | None:
        """Where on the widget the linkage is drawn; None when there is none."""
        if self._study is None or self._study.link is None:
            return None
        return Frame.fitting(self._study, QRectF(self.rect()), self.fontMetrics().height())

    def draw(self, painter: QPainter) -> None:
        look = self._view.look
        frame = self.frame()
        if frame is not None and self._study is not None:
            draw_linkage(painter, frame, self._study, self._travel_deg, look)
            if self._drag is not None:
                words = self._view.reader.show(self._drag.radius_mm, "mm")
                draw_dragged(painter, self._drag.pivot, self._drag.tip, words, look)
        elif self._study is not None:
            painter.setPen(QColor(look.ink))
            inner = self.rect().adjusted(20, 20, -20, -20)
            painter.drawText(
                inner, Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap, put(self._study.why)
            )

    def mousePressEvent(self, event: QMouseEvent) -> None:
        if event.button() is not Qt.MouseButton.LeftButton:
            return
        self._drag = self._grip(event.position())
        angle = self._angle_at(event.position())
        if self._drag is None and angle is not None:
            self._held_at = angle - self._travel_deg
        if angle is not None:
            self.pause()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        if self._drag is not None:
            self._drag = self._drag.moved_to(event.position())
            self.update()
            return
        angle = self._angle_at(event.position())
        if self._held_at is not None and angle is not None:
            turn = math.remainder(angle - self._held_at - self._travel_deg, 360.0)
            self.set_travel(self._travel_deg + turn)
        elif self._grip(event.position()) is not None:
            self.setCursor(Qt.CursorShape.SizeAllCursor)
        else:
            self.unsetCursor()

    def mouseReleaseEvent(self, _event: QMouseEvent) -> None:
        drag, self._drag, self._held_at = self._drag, None, None
        if drag is not None and drag.is_another:
            self.radius_dragged.emit(drag.field, drag.radius_mm)
        self.update()

    def _grip(self, where: QPointF) -> TipDrag | None:
        """The tip of arm or horn at a point of the widget; none where no record says how long it is."""
        frame, study = self.frame(), self._study
        if frame is None or study is None or study.fit.linkage is None:
            return None
        return grip_at(where, frame, study, self._travel_deg, self._holes, self.fontMetrics().height() * 0.8)

    def _angle_at(self, where: QPointF) -> float | None:
        """Direction from the servo's shaft to a point of the widget, degrees."""
        frame = self.frame()
        if frame is None:
            return None
        away = where - frame.at((0.0, 0.0))
        return math.degrees(math.atan2(-away.y(), away.x()))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        key = Qt.Key(event.key())
        if key is Qt.Key.Key_Escape and self._drag is not None:
            self._drag = None
            self.update()
            return
        if self._study is None or self._study.link is None:
            super().keyPressEvent(event)
        elif key is Qt.Key.Key_Space:
            self.toggle()
        elif key in _STEPS:
            self._move_to(self._travel_deg + _STEPS[key])
        elif key is Qt.Key.Key_Home:
            self._move_to(self._study.low_deg)
        elif key is Qt.Key.Key_End:
            self._move_to(self._study.high_deg)
        elif key is Qt.Key.Key_0:
            self._move_to(0.0)
        else:
            super().keyPressEvent(event)

    def _move_to(self, travel_deg: float) -> None:
        self.pause()
        self.set_travel(travel_deg)

    def hideEvent(self, event: QHideEvent) -> None:
        self.pause()
        super().hideEvent(event)
