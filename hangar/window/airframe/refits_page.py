"""The Refits tab of the Airframe Folder: the plans of one aircraft, each opened on the board."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QPushButton, QVBoxLayout, QWidget

from hangar.answers.judging import Judgement
from hangar.parts import Plan
from hangar.window.kit.desk import Desk
from hangar.window.kit.flow_row import FlowRow
from hangar.window.kit.plain_words import PlainLabel
from hangar.window.kit.words import say, word_of
from hangar.window.tables.columns import Column
from hangar.window.tables.rows_model import RowsModel
from hangar.window.tables.rows_view import RowsView


class RefitsPage(QWidget):
    """Signals: ``plan_wanted(code)``; ``stages_wanted(code)`` of a plan; ``search_wanted(aircraft)``."""

    plan_wanted = Signal(str)
    stages_wanted = Signal(str)
    search_wanted = Signal(str)

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._code = ""
        self._model: RowsModel[Plan] = RowsModel(desk, plan_columns(), lambda plan: plan.code, self)
        self.table = RowsView(self._model, say("Plans of this aircraft"))
        self.table.choose_whole_rows()
        self.open_button = QPushButton(say("&Open on the board"))
        self.stages_button = QPushButton(say("&In stages…"))
        self.stages_button.setToolTip(say("What to do this month and next, the most risk gone first."))
        self.new_button = QPushButton(say("&New plan"))
        self.search_button = QPushButton(say("&Search for a refit…"))
        self.empty = PlainLabel(
            say("No plan yet. Search for a refit, or begin a plan by hand."), wordWrap=True
        )
        self.empty.setObjectName("quiet")
        row = FlowRow(self.open_button, self.stages_button, self.new_button, self.search_button)
        column = QVBoxLayout(self)
        column.setContentsMargins(10, 10, 10, 10)
        column.addLayout(row)
        column.addWidget(self.empty)
        column.addWidget(self.table, 1)
        self.table.activated.connect(self._open)
        self.open_button.clicked.connect(self._open)
        self.stages_button.clicked.connect(self._put_in_stages)
        self.new_button.clicked.connect(self._begin)
        self.search_button.clicked.connect(lambda: self.search_wanted.emit(self._code))

    def show_judgement(self, judgement: Judgement) -> None:
        """Show the plans of this aircraft."""
        self._code = judgement.aircraft.code
        plans = judgement.aircraft.plans
        self._model.show_rows(plans)
        self.empty.setVisible(not plans)
        for button in (self.open_button, self.stages_button):
            button.setEnabled(bool(plans))
        self.new_button.setEnabled(not self._desk.read_only)

    def _chosen(self) -> Plan | None:
        return self.table.current_row or next(iter(self._model.rows), None)

    def _open(self) -> None:
        plan = self._chosen()
        if plan is not None:
            self.plan_wanted.emit(plan.code)

    def _put_in_stages(self) -> None:
        plan = self._chosen()
        if plan is not None:
            self.stages_wanted.emit(plan.code)

    def _begin(self) -> None:
        from hangar.window.refit.plan_work import begin_plan

        self._desk.attempt(lambda: self.plan_wanted.emit(begin_plan(self._desk, self._code)))


def plan_columns() -> tuple[Column[Plan], ...]:
    """Title, state, lines, cost, dates, purpose."""
    return (
        Column(say("Plan"), lambda plan, _units: plan.title),
        Column(say("State"), lambda plan, _units: word_of(plan.state)),
        Column(
            say("Lines done"),
            lambda plan, _units: (
                f"{sum(line.done_on is not None for line in plan.lines)} / {len(plan.lines)}"
            ),
        ),
        Column(
            say("Cost"),
            lambda plan, _units: f"{sum((line.price or 0) * line.quantity for line in plan.lines):.2f}",
            number=True,
        ),
        Column(say("Begun"), lambda plan, _units: plan.begun_on.isoformat() if plan.begun_on else "—"),
        Column(say("Due"), lambda plan, _units: plan.due_on.isoformat() if plan.due_on else "—"),
        Column(say("Purpose"), lambda plan, _units: plan.purpose or ""),
    )
