"""Enter a new position by hand, with its channel where that is not on record."""

from __future__ import annotations

from PySide6.QtWidgets import QWidget

from hangar.parts import Channel, Position
from hangar.parts.fields import Record
from hangar.window.kit.desk import Desk
from hangar.window.records.record_dialog import RecordDialog


class NewPositionDialog(RecordDialog):
    """The form of a position; a channel it names first is entered with the same function."""

    def __init__(self, desk: Desk, aircraft: str, parent: QWidget | None = None) -> None:
        super().__init__(desk, Position, {"aircraft": aircraft}, parent)

    def needed_with(self, _record: Record) -> tuple[Record, ...]:
        if not isinstance(_record, Position) or _record.channel is None:
            return ()
        key = (_record.aircraft, _record.port, _record.channel)
        if self._desk.fleet.record(Channel, *key) is not None:
            return ()
        aircraft, port, number = key
        return (Channel(aircraft=aircraft, port=port, number=number, function=_record.function),)
