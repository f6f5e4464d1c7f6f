"""Garbage is looked for between events only.

Python looks for objects that hold each other whenever enough were made, in whatever thread and function that
happens. A widget found so would be destroyed beside the thread it lives in, or in the middle of Qt going
through its widgets, and the program with it.
"""

from __future__ import annotations

import gc

from PySide6.QtCore import QCoreApplication, QObject, QTimer

_EVERY_MS = 500
_NAME = "garbage collector"


class GarbageTimer(QObject):
    """Looks for garbage while no event is worked on, as often as Python itself would."""

    def __init__(self, app: QCoreApplication) -> None:
        super().__init__(app, objectName=_NAME)
        gc.disable()
        self._timer = QTimer(self, interval=_EVERY_MS)
        self._timer.timeout.connect(self.look)
        self._timer.start()

    def look(self) -> None:
        """Go over the youngest objects, and over older ones when their turn has come."""
        counts, most = gc.get_count(), gc.get_threshold()
        due = [generation for generation in range(3) if counts[generation] > most[generation]]
        if due:
            gc.collect(max(due))


def collect_between_events(app: QCoreApplication) -> None:
    """Let garbage be looked for between events only, from now on; once is enough."""
    if app.findChild(GarbageTimer, _NAME) is None:
        GarbageTimer(app)
