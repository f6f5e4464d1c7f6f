"""The ways into a fleet: an aircraft from its layout, a copy, fitting out; each a page, none a dialog."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject

from hangar.window.kit.desk import Desk
from hangar.window.room_list import FLIGHT_LINE, PLANS
from hangar.window.rooms import Rooms

if TYPE_CHECKING:
    from hangar.window.file_menu import FileMenu
    from hangar.window.new_aircraft.workbench import Workbench


class Entry(QObject):
    """Shows the pages of entering in the place of the rooms, and goes back to them."""

    def __init__(self, desk: Desk, rooms: Rooms, files: FileMenu) -> None:
        super().__init__(rooms)
        self._desk, self._rooms, self._files = desk, rooms, files
        self._bench: Workbench | None = None
        desk.entry_wanted.connect(self.begin)

    @property
    def bench(self) -> Workbench:
        """The pages, built when they are first wanted."""
        if self._bench is None:
            from hangar.window.new_aircraft.workbench import Workbench

            self._bench = Workbench(self._desk)
            self._rooms.stack.addWidget(self._bench)
            self._bench.left.connect(self._leave)
            self._bench.findings_wanted.connect(self._to_findings)
            self._bench.paste_wanted.connect(self._files.ask_bring_in)
        return self._bench

    def begin(self, way: str) -> None:
        """Enter by one of the ways: kit, copy, fit-out, table, demo; or a position, a pack, a plan."""
        if way == "table":
            self._files.ask_bring_in()
        elif way == "demo":
            self._files.open_demo()
        elif way == "plan":
            self._rooms.enter(PLANS)
        elif way in ("position", "pack"):
            self._begin_in_airframe(way)
        elif not self._desk.read_only:
            bench = self.bench
            self._rooms.stack.setCurrentWidget(bench)
            code = self._desk.current.aircraft or next(iter(self._desk.codes()), "")
            if way == "copy":
                bench.begin_copy(code)
            elif way == "fit-out" and code:
                bench.begin_fit_out(code)
            else:
                bench.begin_kit()

    def _begin_in_airframe(self, way: str) -> None:
        """The first position or pack of the current aircraft, where it is entered."""
        code = self._desk.current.aircraft
        if code is None:
            return
        folder = self._rooms.folder
        folder.open_page(folder.positions if way == "position" else folder.power)
        self._rooms.open_folder(code)
        if way == "position":
            folder.positions.open_new()
        else:
            folder.power.fit_pack()

    def _leave(self) -> None:
        if self._rooms.stack.currentWidget() is self._bench:
            self._rooms.enter(FLIGHT_LINE)

    def _to_findings(self, code: str) -> None:
        self._rooms.open_folder(code)
        self._rooms.folder.open_page(self._rooms.folder.snags)
        self._rooms.folder.tabs.setFocus()
