"""Long work away from the window: plain values in, plain values out, the answer comes as a signal."""

from __future__ import annotations

import gc
import sys
from collections.abc import Callable

from PySide6.QtCore import QCoreApplication, QObject, QThreadPool, Signal
from shiboken6 import isValid

TURN_S = 0.0005
"""How long a task may keep the interpreter to itself while the window waits for it."""


class _CollectorPause(QObject):
    """Holds Python's cycle collector back while any task runs.

    The collector runs in whichever thread happens to allocate; on the pool it would destroy widgets
    that wait in a cycle, outside the one thread in which Qt allows that. It is let go again in the
    window's own thread. Meanwhile the threads take shorter turns, so that the window does not stutter.
    """

    left = Signal()

    def __init__(self, parent: QObject | None) -> None:
        super().__init__(parent)
        self._held = 0
        self._was_on = False
        self.left.connect(self._leave)

    def enter(self) -> None:
        """A task begins."""
        if self._held == 0:
            self._was_on = gc.isenabled()
            gc.disable()
            self._turn_s = sys.getswitchinterval()
            sys.setswitchinterval(TURN_S)
        self._held += 1

    def _leave(self) -> None:
        self._held -= 1
        if self._held == 0:
            sys.setswitchinterval(self._turn_s)
            if self._was_on:
                gc.enable()


_shared: list[_CollectorPause] = []


def _collecting() -> _CollectorPause:
    """The one of the running application, made in the window's thread."""
    if not _shared or not isValid(_shared[0]):
        _shared[:] = [_CollectorPause(QCoreApplication.instance())]
    return _shared[0]


class BackgroundTask(QObject):
    """One piece of work on the pool, owned by a long-lived parent.

    Signals, exactly one of them, once: ``done(answer)`` or ``failed(Exception)``.
    """

    done = Signal(object)
    failed = Signal(object)
    _came = Signal(object, bool)
    _over = Signal()

    def __init__(self, parent: QObject, work: Callable[[], object]) -> None:
        super().__init__(parent)
        self._work = work
        self._dropped = False
        self._came.connect(self._tell)
        self._over.connect(self.deleteLater)

    def start(self) -> None:
        """Begin; signals arrive in the window's own thread."""
        self._collecting = _collecting()
        self._collecting.enter()
        QThreadPool.globalInstance().start(self._run)

    def drop(self) -> None:
        """Nobody wants the answer any more."""
        self._dropped = True

    def _run(self) -> None:
        try:
            answer = self._work()
        except Exception as fault:  # noqa: BLE001 a border: what went wrong is told in the window
            if self._is_wanted():
                self._came.emit(fault, False)
        else:
            if self._is_wanted():
                self._came.emit(answer, True)
        collecting = self._collecting
        if isValid(self):
            self._over.emit()
        if isValid(collecting):
            collecting.left.emit()

    def _tell(self, what: object, well: bool) -> None:
        """Pass the answer on; it may have been dropped while it waited for the window."""
        if not self._dropped:
            (self.done if well else self.failed).emit(what)

    def _is_wanted(self) -> bool:
        # The fleet may have been closed meanwhile, and this with it.
        return not self._dropped and isValid(self)
