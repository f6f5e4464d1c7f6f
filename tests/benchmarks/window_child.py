"""Run in a process of its own: open a window, tell when it was painted and what it cost, and end.

``python -m tests.benchmarks.window_child empty`` or ``... start FLEET`` or ``... stalls FLEET``.
Times are those of the system's steady clock, so that the parent can subtract its own.
"""

from __future__ import annotations

import json
import sys
import time
from pathlib import Path
from typing import Any

SETTLED_S = 0.5
"""How long the window stays open after the last aircraft was judged."""

told: dict[str, float] = {}


def note(moment: str) -> None:
    """Keep the first time of a moment: on the clock, and in processor time since the process began."""
    if moment not in told:
        told[moment] = time.monotonic()
        told[f"{moment}_processor"] = time.process_time()


def memory_mib(name: str) -> float:
    """VmHWM (the most) or VmRSS (at present) of this process."""
    for line in Path("/proc/self/status").read_text(encoding="ascii").splitlines():
        if line.startswith(name):
            return int(line.split()[1]) / 1024
    return 0.0


def empty() -> None:
    """The floor: Qt's main window with nothing in it."""
    from PySide6.QtCore import QTimer
    from PySide6.QtGui import QPaintEvent
    from PySide6.QtWidgets import QApplication, QMainWindow

    class Window(QMainWindow):
        def paintEvent(self, event: QPaintEvent) -> None:
            super().paintEvent(event)
            note("painted")
            QTimer.singleShot(0, app.quit)

    app = QApplication(sys.argv[:1])
    window = Window()
    window.resize(1000, 700)
    window.show()
    app.exec()
    told["memory_mib"] = memory_mib("VmHWM")


def start(fleet: str, *, watch_stalls: bool) -> None:
    """The ``hangar`` command on a fleet file."""
    from hangar.__main__ import main

    _listen(watch_stalls)
    sys.argv[1:] = [fleet]
    main()


def _listen(watch_stalls: bool) -> None:
    """Have the program's own moments noted; nothing of it is left out or brought forward."""
    import hangar.window.start  # noqa: F401 the order of its imports is part of what is measured

    # isort: split
    from PySide6.QtCore import QTimer

    from hangar.window.first_look import FirstLook
    from hangar.window.main_window import MainWindow

    painted, taken = FirstLook.paintEvent, MainWindow.take_fleet

    def paint(self: Any, event: Any) -> None:
        painted(self, event)
        if "painted" not in told:
            note("painted")
            if watch_stalls:
                self.beat = _Beat(self.window())

    def take_fleet(self: Any, *given: Any) -> None:
        taken(self, *given)
        note("ready")
        told["memory_mib"] = memory_mib("VmRSS")
        if not watch_stalls:
            QTimer.singleShot(0, self, self.close)

    FirstLook.paintEvent = paint  # type: ignore[method-assign, assignment]
    MainWindow.take_fleet = take_fleet  # type: ignore[method-assign, assignment]


class _Beat:
    """Asks for a turn of the event loop again and again, and notes the longest wait for one."""

    def __init__(self, window: Any) -> None:
        from PySide6.QtCore import QTimer

        self.window = window
        self.timer = QTimer(window, interval=1)
        self.timer.timeout.connect(self.beat)
        self.last, self.busy = time.monotonic(), time.thread_time()
        self.settled = 0.0
        window.beat = self
        self.timer.start()

    def beat(self) -> None:
        now, busy = time.monotonic(), time.thread_time()
        phase = "judging" if "ready" in told else "opening"
        for name, waited in ((f"{phase}_ms", now - self.last), (f"{phase}_busy_ms", busy - self.busy)):
            told[name] = max(told.get(name, 0.0), 1000 * waited)
        self.last, self.busy = now, busy
        desk = self.window.desk
        if desk is None or any(desk.known(code) is None for code in desk.codes()):
            return
        self.settled = self.settled or now
        if now - self.settled > SETTLED_S:
            told["judged"] = self.settled
            told["settled_mib"] = memory_mib("VmRSS")
            self.timer.stop()
            self.window.close()


if __name__ == "__main__":
    if sys.argv[1] == "empty":
        empty()
    else:
        start(sys.argv[2], watch_stalls=sys.argv[1] == "stalls")
    print(json.dumps(told))
