"""One plan: where it stands, what it costs and changes, its lines, its work and its bench check."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QGroupBox,
    QHBoxLayout,
    QPushButton,
    QSizePolicy,
    QSplitter,
    QTabWidget,
    QVBoxLayout,
    QWidget,
)

from hangar.acts import plans
from hangar.answers.board import ORDER, Move, moves, reserved_elsewhere
from hangar.answers.outlook import Outlook, outlook_of, peak_bus, predictions, weakest
from hangar.answers.plans import plan_named
from hangar.base.kept_text import said_in
from hangar.base.text import Text
from hangar.parts import Plan
from hangar.parts.choices import PlanState
from hangar.window.findings.findings_panel import FindingsPanel
from hangar.window.kit.desk import Desk
from hangar.window.kit.field_text import figure_text
from hangar.window.kit.flow_row import FlowRow
from hangar.window.kit.handed_focus import hand_focus
from hangar.window.kit.plain_words import Markup, MarkupLabel, PlainLabel, markup, plain_tip
from hangar.window.kit.words import put, say, word_of
from hangar.window.refit.plan_bench import PlanBench
from hangar.window.refit.plan_cards import balance_words, cost_words, do_not_fit_words, mass_words
from hangar.window.refit.plan_lines import PlanLines
from hangar.window.refit.plan_work import PlanWork
from hangar.window.refit.refit_search import RefitSearch


def money_sign(desk: Desk) -> str:
    """The keeper's money sign; empty when none is chosen."""
    kept = [setting.value for setting in desk.basis().settings if setting.name == "money.sign"]
    return kept[0] if kept else ""


class PlanPage(QWidget):
    """A plan's page.

    Signals: ``left()`` when the keeper goes back to the board; ``stages_wanted(code)``.
    """

    left = Signal()
    stages_wanted = Signal(str)

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self.code: str | None = None
        self.outlook: Outlook | None = None
        self.search = RefitSearch(desk)
        self.working = PlainLabel(wordWrap=True)
        self.working.setObjectName("quiet")
        self.working.setAccessibleName(say("Whether the plan is being worked out"))
        self.stop_button = QPushButton(say("S&top"))
        self.back = QPushButton(say("← &Board"))
        self.back.setAccessibleName(say("Back to the board"))
        self.heading = MarkupLabel()
        self.heading.setWordWrap(True)
        self.heading.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self.heading.setMinimumWidth(self.fontMetrics().averageCharWidth() * 16)
        self.bench_button = QPushButton(say("Put on the benc&h"))
        self.remove_button = QPushButton(say("Remove &plan"))
        self.stages_button = QPushButton(say("&In stages…"))
        self.stages_button.setToolTip(say("What to do this month and next, the most warnings gone first."))
        self.move_row = FlowRow()
        self.moves: dict[PlanState, QPushButton] = {}
        self.missing = PlainLabel(wordWrap=True)
        self.missing.setAccessibleName(say("What is missing"))
        self.sums = MarkupLabel(wordWrap=True)
        self._parts: list[str] = []
        self.sums.setAccessibleName(say("Cost, mass and balance"))
        self.lines = PlanLines(desk)
        self.work = PlanWork(desk)
        self.bench = PlanBench(desk)
        self.before = FindingsPanel(desk)
        self.after = FindingsPanel(desk)
        self.tabs = QTabWidget()
        self.tabs.setDocumentMode(True)
        self.tabs.setAccessibleName(say("Pages of this plan"))
        self.tabs.addTab(self.lines, say("Lines"))
        self.tabs.addTab(self._findings(), say("Findings before and after"))
        self.tabs.addTab(self.work, say("Order of work"))
        self.tabs.addTab(self.bench, say("Bench check"))
        self.tabs.addTab(self.bench.gates_page, say("Proofs and release"))
        self._arrange()
        self.stop_button.clicked.connect(self._stop_or_ask)
        self.search.moved.connect(lambda _share, words: self._show_working(words))
        self.search.found.connect(self._take)
        self.search.failed.connect(self._say_why)
        self.destroyed.connect(self.search.leave)
        self.back.clicked.connect(self.left)
        self.bench_button.clicked.connect(self._put_on_bench)
        self.remove_button.clicked.connect(self._remove)
        self.stages_button.clicked.connect(lambda: self.stages_wanted.emit(str(self.code)))
        desk.touched.connect(lambda _touched: self.read_again())
        desk.view.changed.connect(self.read_again)

    def _arrange(self) -> None:
        head = QHBoxLayout()
        head.addWidget(self.back)
        head.addWidget(self.heading, 1)
        head.addLayout(FlowRow(self.stages_button, self.bench_button, self.remove_button))
        column = QVBoxLayout(self)
        column.setContentsMargins(14, 10, 14, 6)
        column.addLayout(head)
        row = QHBoxLayout()
        row.addLayout(self.move_row, 1)
        row.addWidget(self.working, 1)
        row.addWidget(self.stop_button)
        column.addLayout(row)
        column.addWidget(self.missing)
        column.addWidget(self.sums)
        column.addWidget(self.tabs, 1)
        hand_focus(self, self.tabs.tabBar())

    def _findings(self) -> QWidget:
        both = QSplitter(Qt.Orientation.Horizontal)
        for title, panel in (
            (say("As it is"), self.before),
            (say("After the open lines"), self.after),
        ):
            box = QGroupBox(title)
            panel.table.setAccessibleName(say("Findings: {when}", when=title))
            QVBoxLayout(box).addWidget(panel)
            both.addWidget(box)
            panel.strip.hide()
        return both

    def show_plan(self, code: str) -> None:
        """Show the plan of that code."""
        if code != self.code:
            self.outlook = None
        self.code = code
        self.read_again()

    def read_again(self) -> None:
        """Read the plan again and judge what it would do."""
        plan = plan_named(self._desk, self.code) if self.code else None
        if plan is None:
            if self.code is not None:
                self.code = None
                self.left.emit()
            return
        if plan.aircraft not in self._desk.codes():
            return
        self._show(plan)
        self._ask(plan)

    def _show(self, plan: Plan) -> None:
        aircraft = self._desk.aircraft(plan.aircraft)
        frame = aircraft.airframe
        soft = self._desk.view.look.soft
        dates = say("begun {day}", day=plan.begun_on) if plan.begun_on else ""
        due = say("due {day}", day=plan.due_on) if plan.due_on else ""
        small = " · ".join(part for part in (plan.purpose or "", dates, due, put(said_in(plan.note))) if part)
        self.heading.show_markup(
            markup(
                "<span style='font-size:x-large'><b>{title}</b></span> &nbsp; {aircraft} &nbsp;"
                "<b>{state}</b><br><span style='color:{soft}'>{small}</span>",
                title=plan.title,
                aircraft=f"{frame.code} {frame.name}, {word_of(frame.state).lower()}",
                state=word_of(plan.state),
                soft=soft,
                small=small,
            )
        )
        self.stages_button.setEnabled(any(line.done_on is None for line in plan.lines))
        self.bench_button.setVisible(frame.state != "on the bench")
        for button in (self.bench_button, self.remove_button):
            button.setEnabled(not self._desk.read_only)
        self._show_moves(plan, moves(plan, aircraft, self._desk.basis().library))
        self._show_sums(plan)
        self.lines.show_plan(plan)
        self.work.show_plan(plan)
        judgement = self._desk.judgement(plan.aircraft)
        if judgement is not None:
            self.bench.show_plan(plan, judgement)

    def _show_moves(self, plan: Plan, moves: tuple[Move, ...]) -> None:
        while (item := self.move_row.takeAt(0)) is not None:
            if (widget := item.widget()) is not None:
                widget.hide()
                widget.deleteLater()
        self.moves = {}
        gaps: tuple[Text, ...] = ()
        for move in moves:
            button = QPushButton(_move_words(plan.state, move.state))
            button.setEnabled(move.is_open and not self._desk.read_only)
            button.setToolTip(plain_tip("\n".join(map(put, move.missing))))
            button.setAccessibleDescription(" ".join(map(put, move.missing)))
            button.clicked.connect(lambda _on=False, move=move: self._move(move))
            self.move_row.addWidget(button)
            self.moves[move.state] = button
            gaps = gaps or move.missing
        lines = list(map(put, gaps))
        more = " " + say("And {count} more.", count=len(lines) - 1) if len(lines) > 1 else ""
        self.missing.setText(say("Missing: {gaps}", gaps=lines[0]) + more if lines else "")
        self.missing.setToolTip(plain_tip("\n".join(lines)))
        self.missing.setAccessibleDescription(" ".join(lines))
        self.missing.setVisible(bool(gaps))

    def _show_sums(self, plan: Plan) -> None:
        cost = say("Cost {cost}", cost=cost_words(plan, money_sign(self._desk)))
        parts: list[str] = [markup("<b>{cost}</b>", cost=cost)]
        outlook = self.outlook
        units = self._desk.view.reader
        if outlook is not None and outlook.plan.code == plan.code:
            if words := do_not_fit_words(outlook):
                parts.insert(0, markup("<b>{words}</b>", words=words))
            before, after = outlook.before.survey, outlook.after.survey
            parts += [
                say("Mass {mass}", mass=mass_words(outlook, units)),
                say("Balance {balance}", balance=balance_words(outlook, units)),
                say(
                    "Bus at peak {before} → {after}",
                    before=figure_text(peak_bus(before), units),
                    after=figure_text(peak_bus(after), units),
                ),
                say(
                    "Least control left {before} → {after}",
                    before=figure_text(weakest(before), units),
                    after=figure_text(weakest(after), units),
                ),
                _difference_words(outlook),
            ]
        held = reserved_elsewhere(plan, self._desk.basis().library)
        mine = [line.from_stock for line in plan.lines if line.from_stock and line.done_on is None]
        if mine:
            parts.append(say("Reserved in Stores: {tags}", tags=", ".join(mine)))
        clash = [f"{tag} ({held[tag]})" for tag in mine if tag in held]
        if clash:
            parts.append(say("Also wanted by another plan: {tags}", tags=", ".join(clash)))
        self._tell_sums(parts)

    def _tell_sums(self, parts: list[str]) -> None:
        self._parts = parts
        self.sums.show_markup(Markup(" &nbsp;·&nbsp; ").joined(parts))

    def _ask(self, plan: Plan) -> None:
        aircraft, basis = self._desk.aircraft(plan.aircraft), self._desk.basis()
        self.search.start(lambda progress, stop: outlook_of(plan, aircraft, basis, progress, stop))
        self._show_working("")

    def _show_working(self, words: str) -> None:
        running = self.search.is_running
        self.working.setText(words)
        self.working.setVisible(bool(words))
        self.stop_button.setText(say("S&top") if running else say("Work it o&ut"))
        self.stop_button.setVisible(running or bool(words))

    def _stop_or_ask(self) -> None:
        if self.search.is_running:
            self.search.stop()
            self._show_working(say("Stopping…"))
        else:
            self.read_again()

    def _take(self, outlook: Outlook | None) -> None:
        if outlook is None:
            self._show_working(say("Stopped: what this plan does is not worked out."))
            return
        self._show_working("")
        if outlook.plan.code != self.code:
            return
        self.outlook = outlook
        self._show_sums(outlook.plan)
        self.before.show_findings(outlook.before.findings)
        self.after.show_findings(outlook.after.findings)

    def _say_why(self, fault: Exception) -> None:
        self._show_working("")
        self.outlook = None
        self._tell_sums([*self._parts, put(fault)])
        self.after.show_findings(())

    def _move(self, move: Move) -> None:
        plan = plan_named(self._desk, self.code or "")
        if plan is not None:
            outlook = self.outlook
            known = predictions(outlook) if outlook is not None and outlook.plan.code == plan.code else None
            self._desk.attempt(lambda: self._desk.do(plans.move_plan, plan, move, known))

    def _put_on_bench(self) -> None:
        plan = plan_named(self._desk, self.code or "")
        if plan is not None:
            self._desk.attempt(lambda: self._desk.do(plans.put_on_bench, plan.aircraft))

    def _remove(self) -> None:
        plan = plan_named(self._desk, self.code or "")
        if plan is not None:
            self._desk.attempt(lambda: self._desk.do(plans.remove_plan, plan))


def _move_words(now: PlanState, then: PlanState) -> str:
    word = word_of(then)
    if then is PlanState.DROPPED:
        return say("Drop the plan")
    if now in ORDER and ORDER.index(then) < ORDER.index(now):
        return say("Back to {state}", state=word)
    return say("On to {state}", state=word)


def _difference_words(outlook: Outlook) -> str:
    difference = outlook.difference
    return say("Findings: {gone} gone, {new} new", gone=len(difference.gone), new=len(difference.new))
