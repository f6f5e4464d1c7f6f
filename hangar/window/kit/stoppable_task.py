"""Work that takes long enough to be watched: its share is shown, and the keeper can stop it."""

from __future__ import annotations

from collections.abc import Callable
from threading import Event

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtWidgets import QProgressDialog, QWidget

from hangar.window.kit.background_task import BackgroundTask
from hangar.window.kit.words import say

Heed = Callable[[float], None]
SHOWN_AFTER_MS = 300


class _StoppedError(Exception):
    """The keeper stopped the work."""


class StoppableTask(QObject):
    """One piece of work beside the event loop, with a bar and a Stop button above the window.

    ``work`` is given a function to call again and again with the share done, 0 to 1; the call that
    comes after Stop does not return, so the work must leave nothing half-done behind.
    Signals, exactly one of them, once: ``done(answer)``, ``failed(Exception)`` or ``stopped()``.
    """

    done = Signal(object)
    failed = Signal(object)
    stopped = Signal()

    def __init__(self, window: QWidget, words: str, work: Callable[[Heed], object]) -> None:
        super().__init__(window)
        self._work = work
        self._stop = Event()
        self._percent = -1
        self.bar = QProgressDialog(words, say("&Stop"), 0, 100, window)
        self.bar.setWindowModality(Qt.WindowModality.WindowModal)
        self.bar.setMinimumDuration(SHOWN_AFTER_MS)
        self.bar.setAutoClose(False)
        self.bar.setAutoReset(False)
        self.bar.setAccessibleName(words)
        self.bar.canceled.connect(self.stop)

    def start(self) -> None:
        """Begin; signals arrive in the window's own thread."""
        self.bar.setValue(0)
        self._task = task = BackgroundTask(self, lambda: self._work(self._heed))
        task.moved.connect(self._show)
        task.done.connect(self._done)
        task.failed.connect(self._failed)
        task.start()

    def stop(self) -> None:
        """Ask the work to end; ``stopped`` tells when it has."""
        self._stop.set()

    def _heed(self, share: float) -> None:
        if self._stop.is_set():
            raise _StoppedError
        percent = int(100 * share)
        if percent != self._percent:
            self._percent = percent
            self._task.report(percent)

    def _show(self, percent: int) -> None:
        # Showing a value lets the window draw, so one that comes after the end must not be shown.
        if not self._stop.is_set():
            self.bar.setValue(percent)

    def _done(self, answer: object) -> None:
        self._end()
        self.done.emit(answer)

    def _failed(self, fault: Exception) -> None:
        self._end()
        if isinstance(fault, _StoppedError):
            self.stopped.emit()
        else:
            self.failed.emit(fault)

    def _end(self) -> None:
        self._stop.set()
        self.bar.hide()
        self.bar.deleteLater()
        self.deleteLater()
