"""Long work away from the window: plain values in, plain values out, the answer comes as a signal."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QObject, QThreadPool, Signal
from shiboken6 import isValid


class Errand(QObject):
    """One piece of work on the pool, owned by a long-lived parent.

    Signals, exactly one of them, once: ``done(answer)`` or ``failed(Exception)``.
    """

    done = Signal(object)
    failed = Signal(object)
    _over = Signal()

    def __init__(self, parent: QObject, work: Callable[[], object]) -> None:
        super().__init__(parent)
        self._work = work
        self._dropped = False
        self._over.connect(self.deleteLater)

    def start(self) -> None:
        """Begin; signals arrive in the window's own thread."""
        QThreadPool.globalInstance().start(self._run)

    def drop(self) -> None:
        """Nobody wants the answer any more."""
        self._dropped = True

    def _run(self) -> None:
        try:
            answer = self._work()
        except Exception as fault:  # noqa: BLE001 a border: what went wrong is told in the window
            if self._is_wanted():
                self.failed.emit(fault)
        else:
            if self._is_wanted():
                self.done.emit(answer)
        if isValid(self):
            self._over.emit()

    def _is_wanted(self) -> bool:
        # The fleet may have been closed meanwhile, and this with it.
        return not self._dropped and isValid(self)
