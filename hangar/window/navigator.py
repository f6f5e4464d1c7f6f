"""What is asked for is opened where it is: a servo position in another room, a record that was found."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QApplication

from hangar.parts import Airframe, Pack, Plan, Position, Record, Servo, Snag, StockItem
from hangar.parts.fields import key_of
from hangar.window.kit.place_chooser import COMPARE as COMPARING
from hangar.window.kit.place_chooser import POSITION
from hangar.window.room_list import COMPARE, PACKS, SPARES, TRY_OUT, TYPES
from hangar.window.rooms import Rooms

if TYPE_CHECKING:
    from hangar.window.kit.desk import Desk
    from hangar.window.records.shelves import Shelf
    from hangar.window.search_page import FoundRecord


class Navigator(QObject):
    """Opens the room, and the place in it, that was asked for through the desk or found by the search."""

    def __init__(self, desk: Desk, rooms: Rooms) -> None:
        super().__init__(rooms)
        self._rooms = rooms
        self._desk = desk
        desk.place_wanted.connect(self.to_place)
        desk.story_wanted.connect(self.tell_story)
        rooms.search.chosen.connect(self.to_record)

    def to_place(self, room: str, aircraft: str, position: str) -> None:
        """Show a servo position in the room that is wanted."""
        if room == POSITION:
            folder = self._rooms.folder
            folder.open_page(folder.positions)
            self._rooms.open_folder(aircraft)
            folder.positions.table.choose_row(position)
            folder.positions.table.setFocus()
            return
        self._rooms.show_place(COMPARE if room == COMPARING else TRY_OUT, aircraft, position)

    def tell_story(self, kind: type[Record], tag: str) -> None:
        """Show where a servo or pack has been, above the window or dialog that is asked from."""
        from hangar.window.records.life_story_dialog import LifeStoryDialog

        above = QApplication.activeModalWidget() or self._rooms.window()
        LifeStoryDialog(self._desk, kind, tag, above).open()

    def to_record(self, record: FoundRecord) -> None:
        """Open the place where a record is kept."""
        if isinstance(record.record, Pack):
            self._open_pack(record.record.tag)
        elif isinstance(record.record, Plan):
            self._rooms.open_plan(record.record.code)
        elif record.aircraft is not None:
            self._open_folder(record)
        else:
            self._open_table(record.record)

    def _open_pack(self, tag: str) -> None:
        self._rooms.enter(PACKS)
        self._rooms.room(PACKS).open_pack(tag)  # type: ignore[attr-defined]

    def _open_folder(self, record: FoundRecord) -> None:
        folder = self._rooms.folder
        self._rooms.open_folder(str(record.aircraft))
        if record.kind in (Airframe, Position, Servo):
            folder.open_page(folder.positions)
            if record.position is not None:
                folder.positions.table.choose_row(record.position)
                folder.positions.table.setFocus()
        elif record.kind is Snag:
            folder.open_page(folder.snags)
        else:
            folder.open_page(folder.radio)
            screen = folder.radio.screens.get(record.kind)
            if screen is not None:
                folder.radio.setCurrentWidget(screen)
                screen.table.choose_row(key_of(record.record))

    def _open_table(self, record: Record) -> None:
        number = SPARES if isinstance(record, Servo | StockItem) else TYPES
        self._rooms.enter(number)
        shelf: Shelf = self._rooms.room(number)  # type: ignore[assignment]
        screen = shelf.open_kind(type(record))
        screen.filter.clear()
        screen.table.choose_row(key_of(record))
        screen.table.setFocus()
