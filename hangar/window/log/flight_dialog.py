"""Enter a flight of any day; of an aircraft that must not have flown it is asked about first."""

from __future__ import annotations

from typing import Any, cast

from PySide6.QtWidgets import QDialogButtonBox, QPushButton

from hangar.acts.flights import MustNotFly, log_flights
from hangar.acts.hindrances import Hindrances
from hangar.base.errors import BadInput
from hangar.base.text import Text
from hangar.parts import Flight, Record
from hangar.window.kit.words import say
from hangar.window.records.record_dialog import RecordDialog


class FlightDialog(RecordDialog):
    """The form for a flight."""

    def __init__(self, *args: Any) -> None:
        super().__init__(*args)
        self._although = False
        self.although_button = QPushButton(say("Log it all &the same"))
        self.although_button.hide()
        self.although_button.clicked.connect(self.save_although)
        self.buttons.addButton(self.although_button, QDialogButtonBox.ButtonRole.ActionRole)

    def save_although(self) -> None:
        """Log the flight of an aircraft that must not fly; that is kept with it."""
        self._although = True
        try:
            self.save()
        finally:
            self._although = False

    def put_in(self, record: Record, label: Text) -> None:  # noqa: ARG002 an act names its own edit
        """Log the flight, or say why the aircraft must not fly and offer to log it all the same."""
        self.although_button.hide()
        hindrances = Hindrances(self._desk.fleet, self._desk.today)
        try:
            self._desk.do(log_flights, [cast(Flight, record)], hindrances, although=self._although)
        except MustNotFly as fault:
            self.although_button.show()
            raise BadInput(fault.question) from fault
