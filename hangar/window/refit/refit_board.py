"""The Refit Board: shelves of plans, one plan's page, the search for a refit, a budget for the fleet."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import (
    QPushButton,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from hangar.answers.board import moves
from hangar.parts.choices import PlanState
from hangar.window.kit.desk import Desk
from hangar.window.kit.flow_row import FlowRow, side_by_side
from hangar.window.kit.handed_focus import hand_focus
from hangar.window.kit.plain_words import PlainLabel
from hangar.window.kit.still_boxes import ListBox
from hangar.window.kit.words import say
from hangar.window.refit.fleet_budget import FleetBudget
from hangar.window.refit.ladder_page import LadderPage
from hangar.window.refit.plan_cards import PlanCard, Shelves, card_of
from hangar.window.refit.plan_page import PlanPage, money_sign
from hangar.window.refit.plan_work import begin_plan
from hangar.window.refit.stages_page import StagesPage

if TYPE_CHECKING:
    from hangar.refit.answer import Answer


class RefitBoard(QStackedWidget):
    """The room. Signals: ``shopping_wanted()`` when the keeper goes to what is to be bought."""

    shopping_wanted = Signal()

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self.setAccessibleName(say("Refit Board"))
        self.shelves = Shelves(desk)
        self.aircraft = ListBox()
        self.aircraft.setAccessibleName(say("Aircraft"))
        self.new_button = QPushButton(say("&New plan"))
        self.search_button = QPushButton(say("&Search for a refit…"))
        self.fleet_button = QPushButton(say("&Budget for the fleet…"))
        self.none_yet = PlainLabel(
            say("No plan yet: let Hangar search for a refit, or begin a plan of your own."), wordWrap=True
        )
        self.none_yet.setContentsMargins(14, 0, 14, 0)
        self.board = self._board()
        self.page = PlanPage(desk)
        self.front = LadderPage(desk)
        self.fleet = FleetBudget(desk)
        self.stages = StagesPage(desk)
        self._came_from: QWidget = self.board
        for widget in (self.board, self.page, self.front, self.fleet, self.stages):
            self.addWidget(widget)
        self._connect()
        self.read_again()

    def _board(self) -> QWidget:
        page = QWidget()
        row = FlowRow()
        row.setContentsMargins(14, 0, 14, 0)
        words = PlainLabel(say("Air&craft"))
        words.setBuddy(self.aircraft)
        row.addWidget(side_by_side(words, self.aircraft))
        for button in (self.new_button, self.search_button, self.fleet_button):
            row.addWidget(button)
        column = QVBoxLayout(page)
        column.setContentsMargins(0, 10, 0, 0)
        column.addLayout(row)
        column.addWidget(self.none_yet)
        column.addWidget(self.shelves, 1)
        return page

    def _connect(self) -> None:
        self.shelves.plan_opened.connect(self.open_plan)
        self.new_button.clicked.connect(self.begin_plan)
        self.search_button.clicked.connect(lambda: self.open_search(str(self.aircraft.currentData())))
        self.fleet_button.clicked.connect(lambda: self.setCurrentWidget(self.fleet))
        for page in (self.page, self.front, self.fleet):
            page.left.connect(self.open_board)
            away = QShortcut(QKeySequence("Alt+Left"), page)
            away.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
            away.activated.connect(self.open_board)
        for kept in (self.front.plan_kept, self.stages.plan_kept):
            kept.connect(self.open_plan)
        self.page.stages_wanted.connect(self.open_stages)
        self.front.stages_wanted.connect(self._stage_lines)
        self.front.shopping_wanted.connect(self.shopping_wanted)
        self.stages.left.connect(self._leave_stages)
        back = QShortcut(QKeySequence("Alt+Left"), self.stages)
        back.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
        back.activated.connect(self._leave_stages)
        self._desk.touched.connect(lambda _touched: self.read_again())
        self._desk.view.changed.connect(self.read_again)
        hand_focus(self, self.shelves)

    def read_again(self) -> None:
        """Read all plans and aircraft."""
        kept = self.aircraft.currentData()
        self.aircraft.clear()
        for frame in self._desk.fleet.airframes():
            self.aircraft.addItem(f"{frame.code}  {frame.name}", frame.code)
        self.aircraft.setCurrentIndex(max(0, self.aircraft.findData(kept)))
        has_aircraft = self.aircraft.count() > 0
        self.new_button.setEnabled(has_aircraft and not self._desk.read_only)
        self.search_button.setEnabled(has_aircraft)
        cards = self._cards()
        self.none_yet.setVisible(not cards)
        self.shelves.show_cards(cards)

    def _cards(self) -> list[tuple[PlanState, PlanCard]]:
        basis = self._desk.basis()
        library, sign = basis.library, money_sign(self._desk)
        cards = []
        for plan in library.plans:
            if plan.aircraft in self._desk.codes():
                way = moves(plan, self._desk.aircraft(plan.aircraft), library)
                cards.append((plan.state, card_of(plan, way, sign)))
        return cards

    def open_board(self) -> None:
        """Go back to the shelves; the focus goes to the plan that was open."""
        code = self.page.code
        self.setCurrentWidget(self.board)
        if code in self.shelves.cards:
            self.shelves.cards[code].setFocus()

    def open_plan(self, code: str) -> None:
        """Open the page of a plan."""
        self.page.show_plan(code)
        self.setCurrentWidget(self.page)
        self.page.setFocus()

    def open_search(self, aircraft: str) -> None:
        """Open the search for a refit of an aircraft."""
        self.front.choose_aircraft(aircraft)
        self.setCurrentWidget(self.front)
        self.front.setFocus()

    def open_stages(self, code: str) -> None:
        """Open the stages of a kept plan."""
        self.stages.show_plan(code)
        self._enter_stages()

    def _stage_lines(self, answer: Answer) -> None:
        self.stages.show_lines(answer.aircraft.code, answer.lines, answer.lines_elsewhere)
        self._enter_stages()

    def _enter_stages(self) -> None:
        self._came_from = self.currentWidget() or self.board
        self.setCurrentWidget(self.stages)
        self.stages.setFocus()

    def _leave_stages(self) -> None:
        self.setCurrentWidget(self._came_from)
        self._came_from.setFocus()

    def begin_plan(self) -> None:
        """Begin an empty plan for the aircraft chosen."""
        code = self.aircraft.currentData()
        if code is not None:
            self._desk.attempt(lambda: self.open_plan(begin_plan(self._desk, str(code))))
