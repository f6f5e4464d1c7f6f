"""A day's copy of a fleet on a server, put aside on this machine while it is open."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

from PySide6.QtCore import QObject, QTimer

from hangar.window.kit.background_task import BackgroundTask
from hangar.window.kit.desk import Desk

FIRST_ASKED_MS = 30_000
"""Opening and judging come first."""

ASKED_EVERY_MS = 3_600_000


class ServerCopies(QObject):
    """Belongs to a desk whose fleet is on a server; looks every hour whether the newest copy is a day old."""

    def __init__(self, desk: Desk, address: str, folder: Path, first_ms: int = FIRST_ASKED_MS) -> None:
        super().__init__(desk)
        self._desk = desk
        self._address = address
        self._folder = folder
        self._is_told = False
        self.timer = QTimer(self, singleShot=True, interval=first_ms)
        self.timer.timeout.connect(self._ask)
        self.timer.start()

    def _ask(self) -> None:
        # On a connection of its own: what the keeper does meanwhile does not wait for it.
        task = BackgroundTask(self, self._keep)
        task.done.connect(self._go_on)
        task.failed.connect(self._failed)
        task.start()

    def _keep(self) -> None:
        from hangar.store.server_copies import is_copy_due, keep_copy

        now = datetime.now()  # noqa: DTZ005
        if is_copy_due(self._address, self._folder, now):
            keep_copy(self._address, self._folder, now)

    def _go_on(self) -> None:
        self.timer.start(ASKED_EVERY_MS)

    def _failed(self, fault: Exception) -> None:
        self._go_on()
        if not self._is_told:
            self._is_told = True
            self._desk.trouble.emit(fault)
