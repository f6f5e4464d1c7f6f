"""One budget over the whole fleet: what each aircraft gets, and the risk before and after."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QLineEdit,
    QProgressBar,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from hangar.acts.plans import keep_plans
from hangar.answers.plans import Sketch, plans_from
from hangar.answers.refit_limits import usual_limits
from hangar.base.errors import BadInput
from hangar.base.units import ShowsNumbers
from hangar.window.kit.desk import Desk
from hangar.window.kit.flow_row import FlowRow, side_by_side
from hangar.window.kit.plain_words import PlainLabel
from hangar.window.kit.words import put, say
from hangar.window.refit.plan_cards import money
from hangar.window.refit.plan_page import money_sign
from hangar.window.refit.refit_search import RefitSearch, search_fleet
from hangar.window.refit.search_state import SearchState
from hangar.window.refit.stages_picture import risk_words
from hangar.window.tables.all_columns import LeftOut
from hangar.window.tables.columns import Column
from hangar.window.tables.rows_model import RowsModel
from hangar.window.tables.rows_view import RowsView

if TYPE_CHECKING:
    from hangar.refit.fleet_plan import FleetPlan, FleetPoint


class FleetBudget(QWidget):
    """Signals: ``left()`` back to the board."""

    left = Signal()

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self.plan: FleetPlan | None = None
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
        self.told = PlainLabel(wordWrap=True)
        self._model: RowsModel[FleetPoint] = RowsModel(
            desk, self._columns(), lambda row: row.aircraft.code, self
        )
        self.table = RowsView(self._model, say("What each aircraft gets"))
        self.table.choose_whole_rows()
        self._arrange()
        self.back.clicked.connect(self.left)
        self.start_button.clicked.connect(self.begin)
        self.stop_button.clicked.connect(self.search.stop)
        self.keep_button.clicked.connect(self.keep)
        self.state = SearchState(self.search, self.start_button, self.stop_button, self.progress)
        self.search.found.connect(self._take)
        self.search.failed.connect(desk.trouble)
        self.search.ended.connect(self._show_running)
        self.destroyed.connect(self.search.leave)
        self.setFocusProxy(self.budget)
        self.told.setText(
            say(
                "One budget is spent where it removes the most shortage of torque; risk is counted on what "
                "the checks find then. A large fleet takes minutes to search."
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
        column.addWidget(self.told)
        column.addWidget(LeftOut(self.table, self))
        column.addWidget(self.table, 1)
        self.told.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)

    def _columns(self) -> tuple[Column[FleetPoint], ...]:
        def price(row: FleetPoint, _units: ShowsNumbers) -> str:
            return money(row.point.price, money_sign(self._desk)) if row.point.changes else "—"

        return (
            Column(say("Aircraft"), lambda row, _u: f"{row.aircraft.code}  {row.aircraft.airframe.name}"),
            Column(say("Price"), price, raw=lambda row: row.point.price, number=True),
            Column(say("Risk before"), lambda row, _u: f"{row.risk_before:g}",
                   raw=lambda row: row.risk_before, tip=self._counted, number=True, gives_way=2),
            Column(say("Risk after"), lambda row, _u: f"{row.risk_after:g}", raw=lambda row: row.risk_after,
                   tip=self._counted, number=True),
            Column(say("Shortage before"), lambda row, _u: f"{row.shortage_before:.2f}",
                   raw=lambda row: row.shortage_before, number=True, gives_way=1),
            Column(say("Shortage after"), lambda row, _u: f"{row.shortage_after:.2f}",
                   raw=lambda row: row.shortage_after, number=True),
            Column(say("Findings cured"), lambda row, _u: str(len(row.point.cured)), number=True,
                   gives_way=3),
            Column(say("Changes"), lambda row, _u: changes_words(row), tip=changes_words, wraps=True),
        )  # fmt: skip

    def _counted(self, _row: FleetPoint) -> str:
        return risk_words(self.plan.measure) if self.plan is not None else ""

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
        fleet, library = self._desk.read_all(), self._desk.basis().library
        self.told.setText("")
        basis = self._desk.basis()
        usual_limits(basis)
        self.search.start(lambda progress, stop: search_fleet(fleet, library, budget, basis, progress, stop))
        self._show_running()

    def _show_running(self) -> None:
        running = self.state.show_running()
        self.keep_button.setEnabled(not running and self.plan is not None and not self._desk.read_only)

    def _take(self, plan: FleetPlan) -> None:
        self.plan = plan
        self._model.show_rows(sorted(plan.parts, key=lambda row: row.shortage_after - row.shortage_before))
        proof = (
            say("Proved to leave the least shortage.")
            if plan.exact
            else say(
                "Not proved best; another may leave up to {gap} less shortage.", gap=f"{100 * plan.gap:.1f} %"
            )
        )
        spent = say(
            "{price} of {budget} spent; risk {before} → {after}, shortage {short} → {left}.",
            price=money(plan.price, money_sign(self._desk)),
            budget=money(plan.budget, money_sign(self._desk)),
            before=f"{plan.risk_before:g}",
            after=f"{plan.risk_after:g}",
            short=f"{plan.shortage_before:.2f}",
            left=f"{plan.shortage_after:.2f}",
        )
        self.told.setText(" ".join((spent, proof, risk_words(plan.measure), *map(put, plan.notes[1:]))))

    def keep(self) -> None:
        """Keep what each aircraft gets as a sketched plan of its own."""
        plan = self.plan
        if plan is None:
            return
        kept = [Sketch(part.aircraft.code, part.point.changes) for part in plan.parts if part.point.changes]
        made = plans_from(self._desk, kept, self._desk.today)
        if self._desk.attempt(lambda: self._desk.do(keep_plans, made)):
            self.left.emit()


def changes_words(row: FleetPoint) -> str:
    """What changes on an aircraft, in a few words."""
    from hangar.refit.line_words import change_words

    return "; ".join(map(put, change_words(row.point.changes, row.aircraft))) or say("stays as it is")
