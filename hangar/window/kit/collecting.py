"""Python's cycle collector in a program with windows: it runs in their own thread, between two events."""

from __future__ import annotations

import gc

from PySide6.QtCore import QObject, QTimer
from PySide6.QtWidgets import QApplication

PAUSE_MS = 1000


def collect_between_events(app: QApplication) -> None:
    """Take the collector out of Python's hands for as long as the application lives.

    Left to itself it runs wherever something is allocated: in a thread beside the window, where Qt
    forbids that a widget is destroyed, or while Qt goes through a list of widgets, of which it then
    clears one away. Either ends the program. From here on it runs only when the event loop asks for it.
    """
    if app.findChild(_Collector) is None:
        _Collector(app)


def collect_when_due() -> None:
    """Look for garbage where Python by itself would have: the oldest generation whose count is reached."""
    for generation in (2, 1, 0):
        if gc.get_count()[generation] > gc.get_threshold()[generation]:
            gc.collect(generation)
            return


class _Collector(QObject):
    def __init__(self, app: QApplication) -> None:
        super().__init__(app)
        gc.disable()
        clock = QTimer(self)
        clock.timeout.connect(collect_when_due)
        clock.start(PAUSE_MS)
