"""One budget over the whole fleet: what each aircraft gains, its work in order, and one list to buy."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QLineEdit, QProgressBar, QPushButton, QSplitter, QVBoxLayout, QWidget

from hangar.acts.plans import keep_plans
from hangar.answers.board import Step, order_of_work
from hangar.answers.plans import Sketch, plans_from
from hangar.answers.purchases import Purchase, purchases_of
from hangar.answers.refit_limits import usual_request
from hangar.base.errors import BadInput
from hangar.base.text import series
from hangar.base.units import ShowsNumbers
from hangar.parts import Plan
from hangar.window.kit.desk import Desk
from hangar.window.kit.flow_row import FlowRow, side_by_side
from hangar.window.kit.handed_focus import hand_focus
from hangar.window.kit.plain_words import PlainLabel
from hangar.window.kit.words import put, say
from hangar.window.refit.plan_cards import money
from hangar.window.refit.plan_page import money_sign
from hangar.window.refit.refit_search import RefitSearch, search_fleet
from hangar.window.refit.search_state import SearchState
from hangar.window.refit.stages_picture import left_words
from hangar.window.tables.all_columns import LeftOut
from hangar.window.tables.columns import Column
from hangar.window.tables.rows_model import RowsModel
from hangar.window.tables.rows_view import RowsView

if TYPE_CHECKING:
    from hangar.refit.answer import Answer
    from hangar.refit.fleet import FleetAnswer


@dataclass(frozen=True)
class WorkRow:
    """One step of the work on an aircraft, with its hours; None for what is no line of the plan."""

    step: Step
    hours: float | None


class FleetBudget(QWidget):
    """Signals: ``left()`` back to the board."""

    left = Signal()

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self.answer: FleetAnswer | None = None
        self.search = RefitSearch(desk)
        self.back = QPushButton(say("← &Board"))
        self.back.setAccessibleName(say("Back to the board"))
        self.budget = QLineEdit("500")
        self.budget.setAccessibleName(say("Budget for the whole fleet"))
        self.start_button = QPushButton(say("&Search"))
        self.stop_button = QPushButton(say("S&top"))
        self.keep_button = QPushButton(say("&Keep as plans"))
        self.progress = QProgressBar()
        self.progress.setAccessibleName(say("Progress of the search"))
        self.progress.setMinimumWidth(self.fontMetrics().averageCharWidth() * 28)
        self.message = PlainLabel(wordWrap=True)
        self._parts: RowsModel[Answer] = RowsModel(desk, self._columns(), lambda row: row.aircraft.code, self)
        self.table = RowsView(self._parts, say("What each aircraft gains"))
        self.table.choose_whole_rows()
        self._buy: RowsModel[Purchase] = RowsModel(
            desk, self._buy_columns(), lambda row: f"{put(row.what)} {row.price}", self
        )
        self.buying = RowsView(self._buy, say("To buy"))
        self.buying.choose_whole_rows()
        self._work: RowsModel[WorkRow] = RowsModel(
            desk, self._work_columns(), lambda row: row.step.number, self
        )
        self.work = RowsView(self._work, say("Work in order"))
        self.work.choose_whole_rows()
        self._arrange()
        self.back.clicked.connect(self.left)
        self.start_button.clicked.connect(self.begin)
        self.stop_button.clicked.connect(self._stop)
        self.keep_button.clicked.connect(self.keep)
        self.state = SearchState(self.search, self.start_button, self.stop_button, self.progress)
        self.search.found.connect(self._take)
        self.search.failed.connect(desk.trouble)
        self.search.ended.connect(self._show_running)
        self.table.row_chosen.connect(self._show_work)
        desk.touched.connect(lambda _touched: self._fleet_changed())
        self.destroyed.connect(self.search.leave)
        hand_focus(self, self.budget)
        self.message.setText(
            say(
                "One budget is spent where it clears the most warnings and cautions, and nothing is made "
                "worse on any aircraft. A large fleet takes minutes to search."
            )
        )
        self._show_running()

    def _arrange(self) -> None:
        words = PlainLabel(say("B&udget for the whole fleet"))
        words.setBuddy(self.budget)
        row = FlowRow(
            self.back,
            side_by_side(words, self.budget),
            self.start_button,
            self.stop_button,
            self.progress,
            self.keep_button,
        )
        column = QVBoxLayout(self)
        column.setContentsMargins(14, 10, 14, 10)
        column.addLayout(row)
        column.addWidget(self.message)
        halves = QSplitter(Qt.Orientation.Vertical)
        below = QSplitter(Qt.Orientation.Horizontal)
        for splitter, table in ((halves, self.table), (below, self.buying), (below, self.work)):
            panel = QWidget()
            rows = QVBoxLayout(panel)
            rows.setContentsMargins(0, 0, 0, 0)
            rows.addWidget(PlainLabel(table.accessibleName()))
            rows.addWidget(LeftOut(table, panel, has_letter=table is self.table))
            rows.addWidget(table, 1)
            splitter.addWidget(panel)
        halves.addWidget(below)
        for splitter in (halves, below):
            splitter.setChildrenCollapsible(False)
        column.addWidget(halves, 1)
        self.message.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)

    def _columns(self) -> tuple[Column[Answer], ...]:
        def price(row: Answer, _units: ShowsNumbers) -> str:
            return money(row.left.money, money_sign(self._desk)) if row.changes else "—"

        def today(row: Answer, _units: ShowsNumbers) -> str:
            return left_words(row.today.warnings, row.today.cautions)

        def left(row: Answer, _units: ShowsNumbers) -> str:
            return left_words(row.left.warnings, row.left.cautions)

        return (
            Column(say("Aircraft"), lambda row, _u: f"{row.aircraft.code}  {row.aircraft.airframe.name}"),
            Column(say("Price"), price, raw=lambda row: row.left.money, number=True),
            Column(say("Work"), lambda row, _u: say("{hours:.1f} h", hours=row.left.hours),
                   raw=lambda row: row.left.hours, number=True),
            Column(say("Today"), today, wraps=True),
            Column(say("Left after it"), left, wraps=True),
            Column(say("What changes"), lambda row, _u: changes_words(row), tip=changes_words, wraps=True),
            Column(say("What it clears"), lambda row, _u: clears_words(row), tip=clears_words, wraps=True,
                   gives_way=1),
        )  # fmt: skip

    def _buy_columns(self) -> tuple[Column[Purchase], ...]:
        def paid(value: float | None) -> str:
            return "—" if value is None else money(value, money_sign(self._desk))

        return (
            Column(say("Supplier"), lambda row, _u: put(row.supplier or say("not recorded"))),
            Column(say("What"), lambda row, _u: put(row.what), wraps=True),
            Column(say("Buy"), lambda row, _u: f"{row.count:g}", raw=lambda row: row.count, number=True),
            Column(say("Each"), lambda row, _u: paid(row.price), raw=lambda row: row.price, number=True,
                   gives_way=1),
            Column(say("Together"), lambda row, _u: paid(row.cost), raw=lambda row: row.cost, number=True),
            Column(say("For"), lambda row, _u: ", ".join(row.aircraft), wraps=True),
        )  # fmt: skip

    def _work_columns(self) -> tuple[Column[WorkRow], ...]:
        def hours(row: WorkRow, _units: ShowsNumbers) -> str:
            return "—" if row.hours is None else say("{hours:.1f} h", hours=row.hours)

        return (
            Column(say("Step"), lambda row, _u: f"{row.step.number}.", raw=lambda row: row.step.number),
            Column(say("What is done"), lambda row, _u: put(row.step.words), wraps=True),
            Column(say("Work"), hours, raw=lambda row: row.hours, number=True),
            Column(say("Before the next step"), lambda row, _u: put(row.step.check), wraps=True, gives_way=1),
        )  # fmt: skip

    def begin(self) -> None:
        """Search."""
        self._desk.attempt(self._start)

    def _start(self) -> None:
        text = self.budget.text().strip().replace(",", ".")
        try:
            budget = float(text)
        except ValueError:
            raise BadInput('The budget "{text}" is not a number.', text=text) from None
        if not 0 <= budget <= 1e7:
            raise BadInput("The budget is {text}; 0 or more is allowed.", text=text)
        basis = self._desk.basis()
        fleet, library = self._desk.read_all(), basis.library
        asking = replace(usual_request(basis), budget=budget)
        self._show(None)
        self.message.setText(say("Working it out…"))
        self.search.start(lambda progress, stop: search_fleet(fleet, library, asking, progress, stop))
        self._show_running()

    def _stop(self) -> None:
        self.search.stop()
        self.message.setText(say("Stopping…"))

    def _show_running(self) -> None:
        running = self.state.show_running()
        has_plans = self.answer is not None and any(part.changes for part in self.answer.parts)
        self.keep_button.setEnabled(not running and has_plans and not self._desk.read_only)

    def _fleet_changed(self) -> None:
        if self.answer is not None and not self.search.is_running:
            self.message.setText(say("The fleet has changed since this search."))

    def _take(self, answer: FleetAnswer) -> None:
        self._show(answer)
        self.message.setText(" ".join(self._told_parts(answer)))

    def _show(self, answer: FleetAnswer | None) -> None:
        self.answer = answer
        parts = () if answer is None else answer.parts
        ordered = sorted(parts, key=lambda part: (not part.changes, -part.today.warnings, part.aircraft.code))
        self._parts.show_rows(ordered)
        self._buy.show_rows(() if answer is None else purchases_of(answer, self._desk.library()))
        if ordered:
            self.table.choose_row(ordered[0].aircraft.code)
        self._show_work(self.table.current_row if ordered else None)

    def _show_work(self, row: Answer | None) -> None:
        """The work on the chosen aircraft."""
        self._work.show_rows(() if row is None else work_rows(row))

    def _told_parts(self, answer: FleetAnswer) -> list[str]:
        sign = money_sign(self._desk)
        parts = [
            say(
                "{price} of {budget} spent, {hours:.1f} h of work; {today} today, {left} left.",
                price=money(answer.money, sign),
                budget=money(answer.budget, sign),
                hours=sum(part.left.hours for part in answer.parts),
                today=left_words(
                    sum(part.today.warnings for part in answer.parts),
                    sum(part.today.cautions for part in answer.parts),
                ),
                left=left_words(
                    sum(part.left.warnings for part in answer.parts),
                    sum(part.left.cautions for part in answer.parts),
                ),
            )
        ]
        if answer.proved:
            parts.append(say("Proved best for this money."))
        elif answer.stopped:
            parts.append(say("Stopped: not proved best."))
        else:
            parts.append(
                say(
                    "Not proved best: another choice could leave up to {gap:.0f} less, counted in cautions.",
                    gap=max(1.0, answer.worth - answer.bound),
                )
            )
        parts.append(
            say(
                "One warning counts as {count:g} cautions; the limits say so.",
                count=answer.warning_in_cautions,
            )
        )
        if answer.not_asked:
            parts.append(say("Not looked at: {list}.", list=", ".join(answer.not_asked)))
        if answer.spares:
            taken = "; ".join(f"{what}: {code}" for what, code in answer.spares)
            parts.append(say("From Stores: {list}.", list=taken))
        return parts

    def keep(self) -> None:
        """Keep what each aircraft gets as a sketched plan of its own."""
        answer = self.answer
        if answer is None:
            return
        kept = [Sketch(part.aircraft.code, part.lines) for part in answer.parts if part.changes]
        made = plans_from(self._desk, kept, self._desk.today)
        if self._desk.attempt(lambda: self._desk.do(keep_plans, made)):
            self.left.emit()


def work_rows(row: Answer) -> list[WorkRow]:
    """The steps of an aircraft's plan in the order of doing, with their hours; none where nothing is done."""
    if not row.changes:
        return []
    hours = {change.line.number: change.hours for change in row.changes}
    plan = Plan(code=row.lines[0].plan, aircraft=row.aircraft.code, title="", lines=row.lines)
    return [
        WorkRow(step, None if step.line is None else hours[step.line.number]) for step in order_of_work(plan)
    ]


def changes_words(row: Answer) -> str:
    """What changes on an aircraft, in a few words."""
    from hangar.refit.line_words import change_words

    return put(series(change_words(row.lines, row.aircraft))) or say("stays as it is")


def clears_words(row: Answer) -> str:
    """The findings that an aircraft's plan clears."""
    return "; ".join(put(unit.words) for unit in row.clears) or "—"
