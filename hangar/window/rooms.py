"""The rooms of an open fleet, each built when it is first entered, and the list that leads to them."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtCore import QTimer, Signal
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import QHBoxLayout, QStackedWidget, QVBoxLayout, QWidget

from hangar.answers.judging import count_levels
from hangar.window.flight_line.flight_line import FlightLine
from hangar.window.kit.desk import Desk
from hangar.window.kit.fault_cover import FaultCover, log_fault, uncover
from hangar.window.kit.words import room_titles
from hangar.window.room_list import FLIGHT_LINE, FOLDER, REFITS, SNAG_SHEET, RoomList
from hangar.window.search_controller import SearchController

if TYPE_CHECKING:
    from hangar.window.airframe.airframe_folder import AirframeFolder

# What a room needs is loaded when it is first entered: the Flight Line must not wait for it.
COUNTING_MS = 30
"""Findings that come in one after the other are counted together."""


class Rooms(QWidget):
    """The list on the left, the room on the right. Signals: ``entered(number)``."""

    entered = Signal(int)

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self.titles = room_titles()
        self._builders: tuple[Callable[[], QWidget], ...] = (
            self._build_flight_line,
            self._build_folder,
            self._build_snags,
            self._build_due,
            self._build_day,
            self._build_packs,
            self._build_bay,
            self._build_shopping,
            self._build_library,
            self._build_board,
            self._build_sides,
            self._build_tries,
            self._build_rules,
        )
        self._built: dict[int, QWidget] = {}
        self.list = RoomList(desk.view)
        self.stack = QStackedWidget()
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(0)
        self.search = SearchController(desk, self.stack, self)
        left = QVBoxLayout()
        left.setContentsMargins(4, 8, 2, 0)
        left.addWidget(self.search.field)
        left.addWidget(self.list, 1)
        row.addLayout(left)
        row.addWidget(self.stack, 1)
        self.list.currentRowChanged.connect(self.enter)
        QShortcut(QKeySequence("Ctrl+L"), self).activated.connect(self.open_quick_log)
        self._counting = QTimer(self, singleShot=True, interval=COUNTING_MS)
        self._counting.timeout.connect(self._count)
        desk.judged.connect(lambda _code: self._counting.start())
        desk.touched.connect(lambda _touched: self._counting.start())
        self.enter(FLIGHT_LINE)

    def _build_flight_line(self) -> FlightLine:
        line = FlightLine(self._desk)
        line.aircraft_opened.connect(self.open_folder)
        return line

    def _build_folder(self) -> AirframeFolder:
        from hangar.window.airframe.airframe_folder import AirframeFolder

        folder = AirframeFolder(self._desk)
        folder.refits.plan_wanted.connect(self.open_plan)
        folder.refits.stages_wanted.connect(self.open_stages)
        folder.refits.search_wanted.connect(self.open_search)
        return folder

    def _build_snags(self) -> QWidget:
        from hangar.window.findings.snag_sheet import SnagSheet

        return SnagSheet(self._desk)

    def _build_due(self) -> QWidget:
        from hangar.window.log.due_list import DueList

        return DueList(self._desk)

    def _build_bay(self) -> QWidget:
        from hangar.window.records.shelves import PARTS_BAY, Shelf

        return Shelf(self._desk, PARTS_BAY)

    def _build_library(self) -> QWidget:
        from hangar.window.records.shelves import TYPE_LIBRARY, Shelf

        return Shelf(self._desk, TYPE_LIBRARY)

    def _build_day(self) -> QWidget:
        from hangar.window.log.field_day import FieldDay

        return FieldDay(self._desk)

    def _build_packs(self) -> QWidget:
        from hangar.window.packs.battery_shelf import BatteryShelf

        return BatteryShelf(self._desk)

    def _build_shopping(self) -> QWidget:
        from hangar.window.refit.shopping_list import ShoppingList

        return ShoppingList(self._desk)

    def open_quick_log(self) -> None:
        """Open the three lists by which a flight is logged."""
        from hangar.window.log.quick_log import QuickLog

        if not self._desk.read_only:
            QuickLog(self._desk, parent=self).open()

    def _build_board(self) -> QWidget:
        from hangar.window.refit.refit_board import RefitBoard

        return RefitBoard(self._desk)

    def _build_sides(self) -> QWidget:
        from hangar.window.comparing.side_by_side import SideBySide

        return SideBySide(self._desk)

    def _build_tries(self) -> QWidget:
        from hangar.window.comparing.try_out import TryOut

        return TryOut(self._desk)

    def _build_rules(self) -> QWidget:
        from hangar.window.workshop.workshop_rules import WorkshopRules

        return WorkshopRules(self._desk)

    def open_plan(self, code: str) -> None:
        """Open a plan on the Refit Board."""
        self.enter(REFITS)
        self.room(REFITS).open_plan(code)  # type: ignore[attr-defined]

    def open_stages(self, code: str) -> None:
        """Put a plan in stages."""
        self.enter(REFITS)
        self.room(REFITS).open_stages(code)  # type: ignore[attr-defined]

    def open_search(self, code: str) -> None:
        """Search for a refit of an aircraft."""
        self.enter(REFITS)
        self.room(REFITS).open_search(code)  # type: ignore[attr-defined]

    def room(self, number: int) -> QWidget:
        """The room with this number, built if it is not yet."""
        if number not in self._built:
            room = self._builders[number]()
            self._built[number] = room
            self.stack.addWidget(room)
        return self._built[number]

    def _room_or_fault(self, number: int) -> QWidget:
        """The room, or where it cannot be built a sentence in its place; it is tried again the next time."""
        uncover(self.stack)
        try:
            return self.room(number)
        except Exception as fault:  # noqa: BLE001 a border: one room's fault must not block another
            log_fault(fault)
            cover = FaultCover(fault)
            self.stack.addWidget(cover)
            return cover

    @property
    def folder(self) -> AirframeFolder:
        """The Airframe Folder."""
        return self.room(FOLDER)  # type: ignore[return-value]

    @property
    def current(self) -> int:
        """Number of the room that is open."""
        return int(self.list.currentRow())

    def enter(self, number: int) -> None:
        """Go to a room; the folder opens at the first aircraft when none is chosen yet."""
        if number < 0:
            return
        room = self._room_or_fault(number)
        self.stack.setCurrentWidget(room)
        if not self.list.hasFocus():
            room.setFocus()
        if self.list.currentRow() != number:
            self.list.setCurrentRow(number)
        if number == FOLDER and number in self._built and self.folder.code is None and self._desk.codes():
            self.folder.show_aircraft(self._desk.codes()[0])
        self.entered.emit(number)

    def open_folder(self, code: str) -> None:
        """Open the folder of one aircraft."""
        self.enter(FOLDER)
        self.folder.show_aircraft(code)

    def _count(self) -> None:
        known = [self._desk.known(code) for code in self._desk.codes()]
        findings = [finding for judgement in known if judgement is not None for finding in judgement.findings]
        count = sum(count_levels(findings).values())
        self.list.show_count(SNAG_SHEET, count)
