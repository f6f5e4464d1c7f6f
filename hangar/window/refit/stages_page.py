"""A refit in stages: the money of each on the left; on the right what is done when, and what is left."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QHBoxLayout,
    QProgressBar,
    QPushButton,
    QSplitter,
    QVBoxLayout,
    QWidget,
)

from hangar.acts.plans import keep_plans
from hangar.answers.board import open_lines
from hangar.answers.plans import Sketch, plan_named, plans_from
from hangar.answers.refit_limits import usual_request
from hangar.base.errors import BadInput
from hangar.base.kept_text import kept_text
from hangar.base.text import text
from hangar.base.units import ShowsNumbers
from hangar.parts import Aircraft, Plan, PlanLine
from hangar.window.kit.desk import Desk
from hangar.window.kit.down_scroll import DownScroll
from hangar.window.kit.flow_row import FlowRow
from hangar.window.kit.handed_focus import hand_focus
from hangar.window.kit.plain_words import MarkupLabel, PlainLabel, markup
from hangar.window.kit.words import put, say, say_plural
from hangar.window.refit.plan_cards import money
from hangar.window.refit.plan_page import money_sign
from hangar.window.refit.refit_search import RefitSearch, search_stages
from hangar.window.refit.search_state import SearchState
from hangar.window.refit.stage_budgets import StageBudgets
from hangar.window.refit.stages_picture import StagesPicture, left_words
from hangar.window.tables.all_columns import LeftOut
from hangar.window.tables.columns import Column
from hangar.window.tables.rows_model import RowsModel
from hangar.window.tables.rows_view import RowsView

if TYPE_CHECKING:
    from hangar.refit.stages import Stage, Stages


@dataclass(frozen=True)
class StageRow:
    """One stage under the name the keeper gave it."""

    number: int
    name: str
    stage: Stage


class StagesPage(QWidget):
    """Signals: ``left()`` back to where the refit was chosen; ``plan_kept(code)`` of the first stage."""

    left = Signal()
    plan_kept = Signal(str)

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._aircraft = ""
        self._title = ""
        self._lines: tuple[PlanLine, ...] = ()
        self._elsewhere: Mapping[str, tuple[PlanLine, ...]] = {}
        self._plan: Plan | None = None
        self._names: tuple[str, ...] = ()
        self.staged: Stages | None = None
        self.search = RefitSearch(desk)
        self.back = QPushButton(say("← &Back"))
        self.heading = MarkupLabel(wordWrap=True)
        self.budgets = StageBudgets()
        self.start_button = QPushButton(say("&Work out the stages"))
        self.stop_button = QPushButton(say("S&top"))
        self.progress = QProgressBar()
        self.progress.setAccessibleName(say("Progress of the search"))
        self.message = PlainLabel(wordWrap=True)
        self.message.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.message.setAccessibleName(say("What was worked out"))
        self.picture = StagesPicture(desk.view)
        self._model: RowsModel[StageRow] = RowsModel(desk, self._columns(), lambda row: row.number, self)
        self.table = RowsView(self._model, say("What each stage does"))
        self.table.choose_whole_rows()
        self.why = PlainLabel(wordWrap=True)
        self.why.setAccessibleName(say("Why this stage does what it does"))
        self.why.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.keep_button = QPushButton(say("&Keep as separate plans"))
        self.copy_button = QPushButton(say("&Copy the table"))
        self._arrange()
        self._connect()
        self._show_running()

    def _columns(self) -> tuple[Column[StageRow], ...]:
        def spent(value: float) -> str:
            return money(value, money_sign(self._desk))

        def done(row: StageRow, _units: ShowsNumbers) -> str:
            bundles = (f"{put(bundle.words)} ({spent(bundle.price)})" for bundle in row.stage.bundles)
            return "; ".join(bundles) or say("nothing")

        def left(row: StageRow, _units: ShowsNumbers) -> str:
            value = row.stage.answer.left
            return left_words(value.warnings, value.cautions)

        def clears(row: StageRow, _units: ShowsNumbers) -> str:
            return "; ".join(put(unit.words) for unit in row.stage.clears) or "—"

        return (
            Column(say("Stage"), lambda row, _u: f"{row.number}. {row.name}", raw=lambda row: row.number),
            Column(say("Money"), lambda row, _u: spent(row.stage.budget), raw=lambda row: row.stage.budget,
                   number=True, gives_way=2),
            Column(say("At hand"), lambda row, _u: spent(row.stage.at_hand),
                   raw=lambda row: row.stage.at_hand, number=True, gives_way=1,
                   help=say("With what the stages before left over.")),
            Column(say("Spent"), lambda row, _u: spent(row.stage.price), raw=lambda row: row.stage.price,
                   number=True),
            Column(say("Work"), lambda row, _u: say("{hours:.1f} h", hours=row.stage.hours),
                   raw=lambda row: row.stage.hours, number=True, gives_way=2),
            Column(say("Left after it"), left, tip=lambda row: left(row, self._desk.view.reader), wraps=True),
            Column(say("What is done"), done, tip=lambda row: done(row, self._desk.view.reader), wraps=True),
            Column(say("What it clears"), clears, tip=lambda row: clears(row, self._desk.view.reader),
                   wraps=True, gives_way=3),
        )  # fmt: skip

    def _arrange(self) -> None:
        head = QHBoxLayout()
        head.addWidget(self.back)
        head.addWidget(self.heading, 1)
        whole = QSplitter(Qt.Orientation.Horizontal)
        whole.addWidget(self._asking())
        whole.addWidget(self._telling())
        whole.setSizes([360, 960])
        whole.setStretchFactor(1, 1)
        whole.setChildrenCollapsible(False)
        column = QVBoxLayout(self)
        column.setContentsMargins(14, 10, 14, 10)
        column.addLayout(head)
        column.addWidget(whole, 1)
        hand_focus(self, self.budgets)

    def _asking(self) -> QWidget:
        panel = QWidget()
        column = QVBoxLayout(panel)
        column.setContentsMargins(0, 0, 8, 0)
        column.addWidget(self.budgets)
        row = QHBoxLayout()
        row.addWidget(self.start_button)
        row.addWidget(self.stop_button)
        column.addLayout(row)
        column.addWidget(self.progress)
        column.addWidget(self.message)
        column.addStretch(1)
        return DownScroll(panel)

    def _telling(self) -> QWidget:
        panel = QSplitter(Qt.Orientation.Vertical)
        panel.addWidget(self.picture)
        below = QWidget()
        column = QVBoxLayout(below)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(LeftOut(self.table, below))
        column.addWidget(self.table, 1)
        column.addWidget(self.why)
        column.addLayout(FlowRow(self.keep_button, self.copy_button))
        panel.addWidget(below)
        panel.setSizes([260, 380])
        panel.setChildrenCollapsible(False)
        return panel

    def _connect(self) -> None:
        self.back.clicked.connect(self.left)
        self.start_button.clicked.connect(self.begin)
        self.budgets.asked.connect(self.begin)
        self.stop_button.clicked.connect(self._stop)
        self.keep_button.clicked.connect(self.keep)
        self.copy_button.clicked.connect(self.copy_table)
        self.state = SearchState(self.search, self.start_button, self.stop_button, self.progress)
        self.search.found.connect(self._take)
        self.search.failed.connect(self._desk.trouble)
        self.search.ended.connect(self._show_running)
        self.table.row_chosen.connect(self._show_why)
        self._desk.touched.connect(lambda _touched: self._fleet_changed())
        self.destroyed.connect(self.search.leave)

    def show_plan(self, code: str) -> None:
        """Ask about the open lines of a kept plan."""
        from hangar.refit.bundles import lines_elsewhere

        plan = plan_named(self._desk, code)
        if plan is not None:
            lines = open_lines(plan)
            there = lines_elsewhere(plan.aircraft, lines, self._givers(plan.aircraft, lines))
            self._show(plan.aircraft, lines, there, plan.title, plan)

    def show_lines(
        self, aircraft: str, lines: tuple[PlanLine, ...], elsewhere: Mapping[str, tuple[PlanLine, ...]]
    ) -> None:
        """Ask about a refit that is not kept yet, with what its swaps do on other aircraft."""
        title = say("Refit of {aircraft}", aircraft=aircraft)
        self._show(aircraft, lines, elsewhere, title, None)

    def _givers(self, own: str, lines: tuple[PlanLine, ...]) -> tuple[Aircraft, ...]:
        """The other aircraft of the fleet, where parts come off some of them."""
        from hangar.refit.bundles import givers_of

        return self._desk.read_all() if givers_of(own, lines) else ()

    def _show(
        self, aircraft: str, lines: tuple[PlanLine, ...], elsewhere: Mapping[str, tuple[PlanLine, ...]],
        title: str, plan: Plan | None,
    ) -> None:  # fmt: skip
        self.search.leave()
        self._aircraft, self._lines, self._title, self._plan = aircraft, lines, title, plan
        self._elsewhere = elsewhere
        lines = (*lines, *(line for there in elsewhere.values() for line in there))
        self.staged = None
        self._model.show_rows(())
        self.picture.show_steps(())
        self.why.setText("")
        self.message.setText("")
        price = money(sum((line.price or 0.0) * line.quantity for line in lines), money_sign(self._desk))
        sums = say_plural(
            "{count} change for {price}", "{count} changes for {price}", count=len(lines), price=price
        )
        self.heading.show_markup(
            markup(
                "<span style='font-size:x-large'><b>{title}</b></span> &nbsp; {aircraft} · {sums}",
                title=title,
                aircraft=aircraft,
                sums=sums,
            )
        )
        self._show_running()

    def begin(self) -> None:
        """Work the stages out."""
        asked = self.budgets.read()
        if asked is not None and not self.search.is_running:
            self._desk.attempt(lambda: self._start(asked))

    def _start(self, asked: list[tuple[str, float]]) -> None:
        from hangar.refit.partners import Partners

        if not self._lines:
            raise BadInput("Every change is carried out; nothing is left to put in stages.")
        aircraft, basis, lines = self._desk.aircraft(self._aircraft), self._desk.basis(), self._lines
        library, elsewhere = basis.library, self._elsewhere
        asking = replace(usual_request(basis), swap_with=Partners(self._givers(self._aircraft, lines)))
        self._names = tuple(name for name, _ in asked)
        budgets = tuple(value for _, value in asked)
        self.staged = None
        self.message.setText("")
        self.search.start(
            lambda progress, stop: search_stages(
                aircraft, lines, elsewhere, budgets, library, asking, progress, stop
            )
        )
        self._show_running()

    def _stop(self) -> None:
        self.search.stop()
        self.message.setText(say("Stopping…"))

    def _show_running(self) -> None:
        running = self.state.show_running()
        is_done = not running and self.staged is not None
        self.copy_button.setEnabled(is_done)
        self.keep_button.setEnabled(is_done and not self._desk.read_only)

    def _take(self, staged: Stages) -> None:
        self.staged = staged
        rows = zip(self._names, staged.stages, strict=True)
        self._model.show_rows(StageRow(at, name, stage) for at, (name, stage) in enumerate(rows, 1))
        lefts = [staged.today, *(stage.answer.left for stage in staged.stages)]
        names = (say("today"), *self._names)
        self.picture.show_steps(
            [(name, left.warnings, left.cautions) for name, left in zip(names, lefts, strict=True)]
        )
        self.message.setText("\n\n".join(_told_parts(staged)))
        self.table.choose_row(1)
        self._show_why(self.table.current_row)

    def _show_why(self, row: StageRow | None) -> None:
        if row is None:
            self.why.setText("")
            return
        done = "; ".join(put(bundle.words) for bundle in row.stage.bundles) or say("nothing")
        self.why.setText(f"{row.number}. {row.name}: {done}.\n{self._why(row.stage)}")

    def _why(self, stage: Stage) -> str:
        """What a stage clears; where it clears nothing, why nothing else is done."""
        if stage.clears:
            return say("It clears: {list}.", list="; ".join(put(unit.words) for unit in stage.clears))
        if stage.bundles:
            return say("It clears no warning and no caution; it is done as the money reaches.")
        return say(
            "Nothing that {money} pays leaves fewer warnings or cautions.",
            money=money(stage.at_hand, money_sign(self._desk)),
        )

    def _fleet_changed(self) -> None:
        if self.staged is not None and not self.search.is_running:
            self.message.setText(say("The fleet has changed since this search."))

    def copy_table(self) -> None:
        """Put the whole table on the clipboard, tabs between."""
        self.table.clearSelection()
        self.table.copy_cells()

    def keep(self) -> None:
        """Keep every stage that does something as a plan of its own, all in one undoable edit."""
        self._desk.attempt(self._keep)

    def _keep(self) -> None:
        staged = self.staged
        if staged is None:
            return
        sketches = [
            Sketch(
                self._aircraft,
                tuple(line for bundle in row.stage.bundles for line in bundle.lines),
                f"{self._title}: {row.name}",
                kept_text(text("Stage {number} of {count}.", number=row.number, count=len(staged.stages))),
            )
            for row in self._model.rows
            if row.stage.bundles
        ]
        moved = [line for sketch in sketches for line in sketch.lines]
        # Of a kept plan the other aircraft have theirs already.
        for row in self._model.rows if self._plan is None else ():
            for bundle in row.stage.bundles:
                sketches += [
                    Sketch(code, lines, f"{self._title}: {row.name}")
                    for code, lines in bundle.elsewhere.items()
                ]
        made = plans_from(self._desk, sketches, self._desk.today)
        self._desk.do(keep_plans, made, self._plan, moved)
        self.staged = None
        self._show_running()
        self.plan_kept.emit(made[0].code)


def _told_parts(staged: Stages) -> list[str]:
    """Whether it is proved, what no stage does and why, and what to know when reading it."""
    if staged.stopped:
        proof = say("Stopped: not proved best.")
    elif staged.proved:
        proof = say("Every order was tried: proved best.")
    else:
        proof = say("Not every order was tried: not proved best.")
    parts = [proof]
    parts += [
        say("In no stage: {words}: {why}.", words=put(bundle.words), why=put(why))
        for bundle, why in staged.left
    ]
    brings = {unit.words: None for stage in staged.stages for unit in stage.answer.brings}
    if brings:
        parts.append(say("The plan itself brings: {list}.", list="; ".join(map(put, brings))))
    else:
        parts.append(say("No stage leaves anything worse than today."))
    if staged.unpriced:
        parts.append(
            say_plural(
                "{count} line has no price and counts as costing nothing.",
                "{count} lines have no price and count as costing nothing.",
                count=staged.unpriced,
            )
        )
    return parts
