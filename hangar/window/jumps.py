"""Ways to take a servo position from one room into another."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject

from hangar.rules.finding import Finding
from hangar.window.room_list import SIDES, TRIES

if TYPE_CHECKING:
    from hangar.window.desk import Desk
    from hangar.window.rooms import Rooms

COMPARE, TRY_OUT, POSITION = "compare", "try-out", "position"
"""What can be done with a position elsewhere."""
MOST_PLACES = 4
"""A finding that concerns more positions than that names the first of them only."""


class Jumps(QObject):
    """Opens the room, and the place in it, that was asked for through the desk."""

    def __init__(self, desk: Desk, rooms: Rooms) -> None:
        super().__init__(rooms)
        self._rooms = rooms
        desk.place_wanted.connect(self.to_place)

    def to_place(self, room: str, aircraft: str, position: str) -> None:
        """Show a servo position in the room that is wanted."""
        if room == POSITION:
            folder = self._rooms.folder
            folder.tabs.setCurrentWidget(folder.positions)
            self._rooms.open_folder(aircraft)
            folder.positions.table.choose_row(position)
            folder.positions.table.setFocus()
            return
        number = SIDES if room == COMPARE else TRIES
        self._rooms.enter(number)
        self._rooms.room(number).show_place(aircraft, position)  # type: ignore[attr-defined]


def places_of(desk: Desk, finding: Finding) -> tuple[str, ...]:
    """Codes of the servo positions that a finding is about, by themselves or by their servos' tags."""
    if finding.aircraft not in desk.codes():
        return ()
    fits = desk.aircraft(finding.aircraft).fits
    named = [fit.code for fit in fits if {fit.code, fit.tag} & set(finding.about)]
    return tuple(named[:MOST_PLACES])
