"""The one aircraft and the one position that every room opens on."""

from __future__ import annotations

from PySide6.QtCore import QObject, Signal


class Current(QObject):
    """Signals: ``changed()`` when another aircraft or position is current."""

    changed = Signal()

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.aircraft: str | None = None
        self.position: str | None = None

    def choose(self, aircraft: str | None, position: str | None = None) -> None:
        """Make an aircraft current; its position too, or none of it.

        Naming the aircraft that is current already without a position keeps the position.
        """
        if aircraft == self.aircraft and position is None:
            return
        if (aircraft, position) != (self.aircraft, self.position):
            self.aircraft, self.position = aircraft, position
            self.changed.emit()

    def drop_position(self) -> None:
        """Let go of the position; the aircraft stays current."""
        if self.position is not None:
            self.position = None
            self.changed.emit()
