"""A clock for moving pictures: tells the seconds since the start while it runs."""

from __future__ import annotations

import time
from collections.abc import Callable

from PySide6.QtCore import QObject, Qt, QTimer, Signal

Clock = Callable[[], float]
"""Seconds from any fixed moment on."""


class MotionClock(QObject):
    """Ticks about sixty times a second while it runs; the picture follows the clock, not the ticks.

    Signals: ``ticked(float)`` with the seconds since the start.
    """

    ticked = Signal(float)

    def __init__(self, parent: QObject, clock: Clock = time.monotonic) -> None:
        super().__init__(parent)
        self._clock = clock
        self._begun = 0.0
        self._timer = QTimer(self, interval=16)
        self._timer.setTimerType(Qt.TimerType.PreciseTimer)
        self._timer.timeout.connect(self.tick)

    @property
    def running(self) -> bool:
        """Whether it ticks."""
        return self._timer.isActive()

    def start(self, at_s: float = 0.0) -> None:
        """Begin to tick, counting on from so many seconds."""
        self._begun = self._clock() - at_s
        self._timer.start()

    def stop(self) -> None:
        """Tick no more."""
        self._timer.stop()

    def tick(self) -> None:
        """Tell the seconds since the start."""
        self.ticked.emit(self._clock() - self._begun)
