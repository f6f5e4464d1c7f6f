"""What is asked for through the desk is opened: a servo position in another room, the story of a part."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QApplication

from hangar.window.kit.places import COMPARE, POSITION
from hangar.window.room_list import SIDES, TRIES

if TYPE_CHECKING:
    from hangar.parts import Record
    from hangar.window.kit.desk import Desk
    from hangar.window.rooms import Rooms


class Jumps(QObject):
    """Opens the room, and the place in it, that was asked for through the desk."""

    def __init__(self, desk: Desk, rooms: Rooms) -> None:
        super().__init__(rooms)
        self._rooms = rooms
        self._desk = desk
        desk.place_wanted.connect(self.to_place)
        desk.story_wanted.connect(self.tell_story)

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

    def tell_story(self, kind: type[Record], tag: str) -> None:
        """Show where a servo or pack has been, above the window or dialog that is asked from."""
        from hangar.window.records.life_story_dialog import LifeStoryDialog

        above = QApplication.activeModalWidget() or self._rooms.window()
        LifeStoryDialog(self._desk, kind, tag, above).open()
