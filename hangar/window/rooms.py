"""The rooms of an open fleet, each page built when it is first entered, and the rail that leads to them."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtCore import QTimer, Signal
from PySide6.QtGui import QKeySequence, QResizeEvent, QShortcut
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from hangar.answers.judging import count_levels
from hangar.rules.finding import Level
from hangar.window.flight_line.empty_fleet import EmptyFleet
from hangar.window.flight_line.flight_line import FlightLine
from hangar.window.kit.desk import Desk
from hangar.window.kit.fault_cover import FaultCover, log_fault, uncover
from hangar.window.kit.strip import PageStack
from hangar.window.kit.words import page_titles, room_titles
from hangar.window.room_frame import RoomFrame
from hangar.window.room_list import (
    AIRFRAME,
    FIELD_DAY,
    FINDINGS,
    FLIGHT_LINE,
    LADDER,
    OF_AIRCRAFT,
    PLANS,
    REFIT,
    ROOM_OF,
    ROOMS,
    SHOPPING,
    Rail,
    are_pages,
)
from hangar.window.search_controller import SearchController

if TYPE_CHECKING:
    from hangar.window.airframe.airframe_folder import AirframeFolder
    from hangar.window.refit.refit_board import RefitBoard

# What a page needs is loaded when it is first entered: the Flight Line must not wait for it.
COUNTING_MS = 30
"""Findings that come in one after the other are counted together."""
NARROW_UNITS = 1200
"""Below so many units of width the rail shows icons without words."""


class Rooms(QWidget):
    """The rail on the left, the room on the right; ways to begin while a page has no aircraft to show.

    It opens on ``page``. Signals: ``entered(page)``.
    """

    entered = Signal(int)

    def __init__(self, desk: Desk, page: int = FLIGHT_LINE, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self.titles = page_titles()
        self._builders: dict[int, Callable[[], QWidget]] = self._ways_to_build()
        self._built: dict[int, QWidget] = {}
        self._last_of = [pages[0] for pages in ROOMS]
        self._page = -1
        self.rail = Rail(desk.view)
        self.stack = PageStack()
        self._frames: dict[int, RoomFrame] = {}
        self._begin: dict[int, EmptyFleet] = {}
        self.search = SearchController(desk, self.stack, self)
        self._row = QHBoxLayout(self)
        self._row.setContentsMargins(0, 0, 0, 0)
        self._row.setSpacing(0)
        self._column = QVBoxLayout()
        self._column.setSpacing(0)
        self._row.addWidget(self.rail)
        self._column.addWidget(self.search.field)
        self._column.addWidget(self.stack, 1)
        self._row.addLayout(self._column, 1)
        self.rail.asked.connect(self.enter_room)
        QShortcut(QKeySequence("Ctrl+L"), self).activated.connect(self.open_quick_log)
        self._counting = QTimer(self, singleShot=True, interval=COUNTING_MS)
        self._counting.timeout.connect(self._count)
        desk.judged.connect(lambda _code: self._counting.start())
        desk.touched.connect(lambda _touched: self._counting.start())
        desk.touched.connect(lambda _touched: self._follow_fleet())
        desk.view.changed.connect(self._fit)
        self.enter(page)

    def lend_frame(self) -> tuple[Rail, QWidget]:
        """Give rail and search field to the window that has places for them."""
        self._row.removeWidget(self.rail)
        self._column.removeWidget(self.search.field)
        return self.rail, self.search.field

    def _ways_to_build(self) -> dict[int, Callable[[], QWidget]]:
        return dict(
            enumerate(
                (
                    self._build_flight_line,
                    self._build_folder,
                    self._build_findings,
                    self._build_day,
                    self._build_due,
                    self._build_packs,
                    self._build_spares,
                    self._build_types,
                    self._build_shopping,
                    self._build_board,
                    self._build_sides,
                    self._build_tries,
                    self._build_board,
                )
            )
        )

    def _build_flight_line(self) -> FlightLine:
        line = FlightLine(self._desk)
        line.aircraft_opened.connect(self.open_folder)
        line.day_wanted.connect(lambda: self.enter(FIELD_DAY))
        return line

    def _build_folder(self) -> AirframeFolder:
        from hangar.window.airframe.airframe_folder import AirframeFolder

        return AirframeFolder(self._desk)

    def _build_findings(self) -> QWidget:
        from hangar.window.findings.snag_sheet import SnagSheet

        sheet = SnagSheet(self._desk)
        sheet.limits_wanted.connect(self.open_limits)
        return sheet

    def _build_due(self) -> QWidget:
        from hangar.window.log.due_list import DueList

        return DueList(self._desk)

    def _build_day(self) -> QWidget:
        from hangar.window.log.field_day import FieldDay

        return FieldDay(self._desk)

    def _build_packs(self) -> QWidget:
        from hangar.window.packs.battery_shelf import BatteryShelf

        return BatteryShelf(self._desk)

    def _build_spares(self) -> QWidget:
        from hangar.window.records.shelves import PARTS_BAY, Shelf

        return Shelf(self._desk, PARTS_BAY)

    def _build_types(self) -> QWidget:
        from hangar.window.records.shelves import TYPE_LIBRARY, Shelf

        return Shelf(self._desk, TYPE_LIBRARY)

    def _build_shopping(self) -> QWidget:
        from hangar.window.refit.shopping_list import ShoppingList

        return ShoppingList(self._desk)

    def _build_board(self) -> QWidget:
        """The ladder and the plans are sides of one board."""
        built = self._built.get(LADDER) or self._built.get(PLANS)
        if built is not None:
            return built
        from hangar.window.refit.refit_board import RefitBoard

        board = RefitBoard(self._desk)
        board.currentChanged.connect(lambda _at: self._board_turned())
        board.shopping_wanted.connect(lambda: self.enter(SHOPPING))
        return board

    def _build_sides(self) -> QWidget:
        from hangar.window.comparing.side_by_side import SideBySide

        return SideBySide(self._desk)

    def _build_tries(self) -> QWidget:
        from hangar.window.comparing.try_out import TryOut

        return TryOut(self._desk)

    def open_quick_log(self) -> None:
        """Open the three lists by which a flight is logged."""
        from hangar.window.log.quick_log import QuickLog

        if not self._desk.read_only:
            QuickLog(self._desk, parent=self).open()

    def open_limits(self) -> None:
        """Open the limits of the checks, law and codes."""
        from hangar.window.workshop.workshop_rules import LimitsDialog

        LimitsDialog(self._desk, self.window()).open()

    @property
    def board(self) -> RefitBoard:
        """The ladder and the plans."""
        return self.room(PLANS)  # type: ignore[return-value]

    def open_plan(self, code: str) -> None:
        """Open a plan."""
        self.enter(PLANS)
        self.board.open_plan(code)

    def open_stages(self, code: str) -> None:
        """Put a plan in stages."""
        self.enter(PLANS)
        self.board.open_stages(code)

    def open_search(self, code: str) -> None:
        """Search for a refit of an aircraft."""
        self._desk.current.choose(code)
        self.enter(LADDER)

    def _board_turned(self) -> None:
        """The board was turned from within: its strip follows."""
        page = LADDER if self.board.currentWidget() is self.board.front else PLANS
        if self._page in (LADDER, PLANS) and page != self._page:
            self._page = self._last_of[REFIT] = page
            self._frame(REFIT).mark(page)

    def room(self, number: int) -> QWidget:
        """The page with this number, built if it is not yet."""
        if number not in self._built:
            self._built[number] = self._builders[number]()
        return self._built[number]

    def _room_or_fault(self, number: int) -> QWidget:
        """The page, or where it cannot be built a sentence in its place; it is tried again the next time."""
        try:
            return self.room(number)
        except Exception as fault:  # noqa: BLE001 a border: one page's fault must not block another
            log_fault(fault)
            return FaultCover(fault)

    def _is_bare(self, number: int) -> bool:
        """Whether a page waits for the first aircraft."""
        return number in OF_AIRCRAFT and not self._desk.codes()

    def _ways_to_begin(self, room: int) -> EmptyFleet:
        """What stands in a room until there is an aircraft."""
        if room not in self._begin:
            self._begin[room] = EmptyFleet(self._desk)
        return self._begin[room]

    def _follow_fleet(self) -> None:
        """The first aircraft came, or the last one went: the page that is open changes with it."""
        if self._page in OF_AIRCRAFT and self._is_bare(self._page) != isinstance(self.page, EmptyFleet):
            self.enter(self._page)

    def _frame(self, room: int) -> RoomFrame:
        if room not in self._frames:
            frame = RoomFrame(self._desk, room_titles()[room], ROOMS[room], has_head=room == REFIT)
            frame.asked.connect(self.enter)
            self._frames[room] = frame
            self.stack.addWidget(frame)
        return self._frames[room]

    @property
    def folder(self) -> AirframeFolder:
        """The Airframe room."""
        return self.room(AIRFRAME)  # type: ignore[return-value]

    def is_built(self, number: int) -> bool:
        """Whether a page was entered already."""
        return number in self._built

    @property
    def last_pages(self) -> list[int]:
        """The page of each room that was open last."""
        return list(self._last_of)

    def remember_pages(self, pages: list[object]) -> None:
        """Let each room open on the page that was open in it when the fleet was left."""
        if are_pages(pages):
            self._last_of = [int(str(page)) for page in pages]

    @property
    def page(self) -> QWidget | None:
        """What is open: a page, or the sentence in its place."""
        frame = self.stack.currentWidget()
        return frame.pages.currentWidget() if isinstance(frame, RoomFrame) else frame

    @property
    def current(self) -> int:
        """Number of the page that is open."""
        return self._page

    def enter_room(self, room: int) -> None:
        """Go to a room, to the page of it that was open last."""
        self.enter(self._last_of[room])

    def enter(self, number: int) -> None:
        """Go to a page; it opens on the current aircraft and position."""
        if number < 0:
            return
        room = ROOM_OF[number]
        frame = self._frame(room)
        uncover(frame.pages)
        page = self._ways_to_begin(room) if self._is_bare(number) else self._room_or_fault(number)
        self._page = self._last_of[room] = number
        frame.show_page(number, page)
        self.stack.setCurrentWidget(frame)
        self.rail.choose(room)
        if not self._rail_has_focus:
            page.setFocus()
        if number != FLIGHT_LINE:
            self._make_one_current()
        if not self._is_bare(number):
            self._turn_board(number)
        self.entered.emit(number)

    @property
    def _rail_has_focus(self) -> bool:
        return any(button.hasFocus() for button in self.rail.buttons)

    def _make_one_current(self) -> None:
        """Every room opens on an aircraft; the first of the fleet while none was chosen."""
        codes = self._desk.codes()
        if codes and self._desk.current.aircraft not in codes:
            self._desk.current.choose(codes[0])

    def _turn_board(self, number: int) -> None:
        if number not in (LADDER, PLANS) or number not in self._built:
            return
        if number == LADDER:
            code = self._desk.current.aircraft
            if code is not None:
                self.board.open_search(code)
        elif self.board.currentWidget() is self.board.front:
            self.board.open_board()

    def show_place(self, number: int, aircraft: str, position: str) -> None:
        """Compare or try out at a servo position."""
        self.enter(number)
        self.room(number).show_place(aircraft, position)  # type: ignore[attr-defined]

    def open_folder(self, code: str) -> None:
        """Open the Airframe room of one aircraft."""
        self._desk.current.choose(code)
        self.enter(AIRFRAME)
        self.folder.show_aircraft(code)

    def _count(self) -> None:
        codes = self._desk.codes()
        # All findings are counted, so the more there are the longer it waits for the next judgement.
        self._counting.setInterval(COUNTING_MS + len(codes) // 5)
        known = [self._desk.known(code) for code in codes]
        findings = [finding for judgement in known if judgement for finding in judgement.findings]
        self.rail.show_count(ROOM_OF[FINDINGS], count_levels(findings)[Level.WARNING])

    def _fit(self) -> None:
        self.rail.show_words(self.window().width() * 10 / self._desk.view.points >= NARROW_UNITS)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fit()
