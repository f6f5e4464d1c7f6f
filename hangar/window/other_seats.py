"""What others write to the same fleet: asked for every few seconds, and read again where it is shown."""

from __future__ import annotations

from PySide6.QtCore import QObject, QTimer

from hangar.window.kit.background_task import BackgroundTask
from hangar.window.kit.desk import Desk

ASKED_EVERY_MS = 4000
TOLD_AFTER = 2
"""A writer at work makes one question fail; only what lasts longer is told."""


class OtherSeats(QObject):
    """Belongs to a desk whose fleet others may write to, and asks as long as that is open."""

    def __init__(self, desk: Desk, every_ms: int = ASKED_EVERY_MS) -> None:
        super().__init__(desk)
        self._desk = desk
        self._failed_times = 0
        self.timer = QTimer(self, singleShot=True, interval=every_ms)
        self.timer.timeout.connect(self._ask)
        self.timer.start()

    def _ask(self) -> None:
        # A server may take its time: the window does not wait for it.
        task = BackgroundTask(self, self._desk.fleet.changes_elsewhere)
        task.done.connect(self._answered)
        task.failed.connect(self._failed)
        task.start()

    def _answered(self, touched: object) -> None:
        self._failed_times = 0
        self.timer.start()
        if isinstance(touched, frozenset):
            self._desk.read_elsewhere(touched)  # type: ignore[arg-type]

    def _failed(self, fault: Exception) -> None:
        self._failed_times += 1
        self.timer.start()
        if self._failed_times == TOLD_AFTER:
            self._desk.trouble.emit(fault)
