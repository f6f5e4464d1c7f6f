"""The search field above the rooms, and the way from what was found to the place where it is."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import QStackedWidget, QWidget

from hangar.parts import Airframe, Pack, Plan, Position, Record, Servo, Snag, StockItem
from hangar.parts.fields import key_of
from hangar.window.search_page import SearchField, SearchPage

if TYPE_CHECKING:
    from hangar.window.kit.desk import Desk
    from hangar.window.records.shelves import Shelf
    from hangar.window.rooms import Rooms
    from hangar.window.searching import Found


class Searching(QObject):
    """Owns the field and, once something is asked for, the page of what was found."""

    def __init__(self, desk: Desk, rooms: Rooms, stack: QStackedWidget) -> None:
        super().__init__(rooms)
        self._desk, self._rooms, self._stack = desk, rooms, stack
        self._before: QWidget | None = None
        self._page: SearchPage | None = None
        self.field = SearchField()
        self.field.asked.connect(self.look_for)
        self.field.into_list.connect(self._into_list)
        self.field.left.connect(self.leave)
        QShortcut(QKeySequence(QKeySequence.StandardKey.Find), rooms).activated.connect(self.field.begin)

    @property
    def page(self) -> SearchPage:
        """The page of what was found, built when something is first asked for."""
        if self._page is None:
            self._page = SearchPage(self._desk)
            self._page.chosen.connect(self.go_to)
            self._stack.addWidget(self._page)
        return self._page

    def look_for(self, text: str) -> None:
        """Show what holds these words instead of the room."""
        if not text.strip():
            self.leave()
            return
        page = self.page
        if self._stack.currentWidget() is not page:
            self._before = self._stack.currentWidget()
            self._stack.setCurrentWidget(page)
        page.look_for(text)

    def leave(self) -> None:
        """Go back to the room that was open."""
        if self._page is not None and self._before is not None:
            if self._stack.currentWidget() is self._page:
                self._stack.setCurrentWidget(self._before)
            self._before = None

    def _into_list(self) -> None:
        if self._page is not None and self._stack.currentWidget() is self._page:
            self._page.table.setFocus()

    def go_to(self, found: Found) -> None:
        """Open the place where a record is kept."""
        self._before = None
        self.field.clear()
        if isinstance(found.record, Pack):
            self._open_pack(found.record.tag)
        elif isinstance(found.record, Plan):
            self._rooms.open_plan(found.record.code)
        elif found.aircraft is not None:
            self._open_folder(found)
        else:
            self._open_table(found.record)

    def _open_pack(self, tag: str) -> None:
        from hangar.window.room_list import SHELF

        self._rooms.enter(SHELF)
        self._rooms.room(SHELF).open_pack(tag)  # type: ignore[attr-defined]

    def _open_folder(self, found: Found) -> None:
        folder = self._rooms.folder
        pages: dict[type[Record], QWidget] = {
            Airframe: folder.positions,
            Position: folder.positions,
            Servo: folder.positions,
            Snag: folder.snags,
        }
        page = pages.get(found.kind, folder.radio)
        folder.tabs.setCurrentWidget(page)
        self._rooms.open_folder(str(found.aircraft))
        if found.position is not None and page is folder.positions:
            folder.positions.table.choose_row(found.position)
            folder.positions.table.setFocus()
        elif page is folder.radio:
            screen = folder.radio.screens.get(found.kind)
            if screen is not None:
                folder.radio.setCurrentWidget(screen)
                screen.table.choose_row(key_of(found.record))

    def _open_table(self, record: Record) -> None:
        from hangar.window.room_list import BAY, LIBRARY

        number = BAY if isinstance(record, Servo | StockItem) else LIBRARY
        self._rooms.enter(number)
        shelf: Shelf = self._rooms.room(number)  # type: ignore[assignment]
        screen = shelf.open_kind(type(record))
        screen.filter.clear()
        screen.table.choose_row(key_of(record))
        screen.table.setFocus()
