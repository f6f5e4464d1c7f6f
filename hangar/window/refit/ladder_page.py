"""The ladder of one aircraft's refits: one sentence, the rungs, and the chosen rung with all its lines."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QProgressBar, QPushButton, QSplitter, QVBoxLayout, QWidget

from hangar.acts.plans import reserve_spares
from hangar.answers.plans import plan_named
from hangar.window.kit.desk import Desk
from hangar.window.kit.flow_row import FlowRow
from hangar.window.kit.handed_focus import hand_focus
from hangar.window.kit.plain_words import PlainLabel
from hangar.window.kit.when_seen import WhenSeen
from hangar.window.kit.words import say
from hangar.window.refit.ladder_form import LadderForm
from hangar.window.refit.plan_page import money_sign
from hangar.window.refit.plan_work import begin_plans
from hangar.window.refit.refit_search import RefitSearch, search_ladder
from hangar.window.refit.rung_list import RungList
from hangar.window.refit.rung_page import RungPage
from hangar.window.refit.rung_stair import RungStair
from hangar.window.refit.rung_words import RungRow, VerdictLabel, looks_words, rows_of, verdict, why_not_less
from hangar.window.refit.search_state import SearchState
from hangar.window.refit.why_not_dialog import WhyNotDialog

if TYPE_CHECKING:
    from hangar.refit.answer import Ladder

_ASKED_ABOUT = frozenset({"airframe", "position", "installation", "plan", "plan_line"})
"""Kinds of record that the fields of the search show."""


class LadderPage(QWidget):
    """Signals: ``left()`` back to the board; ``plan_kept(code)``; ``stages_wanted(answer)``;
    ``shopping_wanted()``.
    """

    left = Signal()
    plan_kept = Signal(str)
    stages_wanted = Signal(object)
    shopping_wanted = Signal()

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self.ladder: Ladder | None = None
        self.rows: tuple[RungRow, ...] = ()
        self._kept: dict[int, str] = {}
        self.search = RefitSearch(desk)
        self.asking = LadderForm(desk)
        self.start_button = QPushButton(say("&Work out the ladder"))
        self.start_button.setProperty("main", True)
        self.stop_button = QPushButton(say("S&top"))
        self.progress = QProgressBar()
        self.progress.setAccessibleName(say("Progress of the search"))
        self.verdict = VerdictLabel(desk.view)
        self.message = PlainLabel(wordWrap=True)
        self.message.setObjectName("quiet")
        self.rungs = RungList(desk.view)
        self.stair = RungStair(desk.view)
        self.rung = RungPage(desk)
        self.keep_button = QPushButton(say("&Keep as plan"))
        self.reserve_button = QPushButton(say("&Reserve what is in"))
        self.reserve_button.setToolTip(say("Keep it as a plan whose lines name the spares they take."))
        self.shopping_button = QPushButton(say("To &shopping"))
        self.shopping_button.setToolTip(say("Keep it as a plan, and open the list of what is to be bought."))
        self.stages_button = QPushButton(say("&In stages…"))
        self.why_button = QPushButton(say("Why not &less?"))
        self.why_not_button = QPushButton(say("Wh&y not that type?"))
        self.why_not_button.setToolTip(
            say("Types that could go where the chosen line is, each with the first reason against it.")
        )
        self._arrange()
        self._connect()
        self._show_ladder(None)

    def _arrange(self) -> None:
        top = FlowRow(self.asking, self.start_button, self.stop_button, self.progress)
        left = QWidget()
        column = QVBoxLayout(left)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.verdict)
        column.addWidget(self.message)
        column.addWidget(self.rungs, 1)
        column.addWidget(self.stair)
        right = QWidget()
        rows = QVBoxLayout(right)
        rows.setContentsMargins(0, 0, 0, 0)
        rows.addWidget(self.rung, 1)
        rows.addLayout(
            FlowRow(
                self.keep_button,
                self.reserve_button,
                self.shopping_button,
                self.stages_button,
                self.why_button,
                self.why_not_button,
            )
        )
        halves = self._halves = QSplitter(Qt.Orientation.Horizontal)
        halves.addWidget(left)
        halves.addWidget(right)
        halves.setChildrenCollapsible(False)
        halves.setStretchFactor(0, 3)
        halves.setStretchFactor(1, 4)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(12, 4, 12, 8)
        whole.addLayout(top)
        whole.addWidget(halves, 1)

    def _connect(self) -> None:
        self.start_button.clicked.connect(self.begin)
        self.stop_button.clicked.connect(self._stop)
        self.keep_button.clicked.connect(self.keep)
        self.reserve_button.clicked.connect(self.reserve)
        self.shopping_button.clicked.connect(self.to_shopping)
        self.stages_button.clicked.connect(self._put_in_stages)
        self.why_button.clicked.connect(self.say_why_not_less)
        self.why_not_button.clicked.connect(lambda: self._desk.attempt(self.ask_why_not))
        self.rungs.rung_chosen.connect(self._choose)
        self.state = SearchState(self.search, self.start_button, self.stop_button, self.progress)
        self.search.found.connect(self._take)
        self.search.failed.connect(self._desk.trouble)
        self.search.ended.connect(self._show_running)
        self._desk.touched.connect(self._touched)
        self._desk.view.changed.connect(WhenSeen(self, lambda: self._show_ladder(self.ladder)).ask)
        self.destroyed.connect(self.search.leave)
        hand_focus(self, self.rungs)

    @property
    def code(self) -> str | None:
        """Code of the aircraft that is asked about."""
        return self.asking.code

    def choose_aircraft(self, code: str) -> None:
        """Ask about this aircraft; another one's ladder goes."""
        other = code != self.asking.code
        self.asking.show_aircraft(code)
        if other:
            self.search.leave()
            self._show_ladder(None)

    def _touched(self, touched: frozenset[str]) -> None:
        if touched & _ASKED_ABOUT and self.asking.code is not None:
            self.asking.show_aircraft(self.asking.code)
        if self.ladder is not None and not self.search.is_running:
            self.message.setText(say("The fleet has changed since this search."))

    def begin(self) -> None:
        """Work the ladder out."""
        self._desk.attempt(self._start)

    def _start(self) -> None:
        code = self.asking.code
        if code is None:
            return
        asking = self.asking.asking()
        aircraft, library = self._desk.aircraft(code), self._desk.library()
        self._show_ladder(None)
        self.verdict.setText(say("Working it out…"))
        self.search.start(lambda progress, stop: search_ladder(aircraft, library, asking, progress, stop))
        self._show_running()

    def _stop(self) -> None:
        self.search.stop()
        self.message.setText(say("Stopping…"))

    def _take(self, ladder: Ladder) -> None:
        self._show_ladder(ladder)

    def _show_ladder(self, ladder: Ladder | None) -> None:
        if ladder is not self.ladder:
            self._kept = {}
        self.ladder = ladder
        self.rows = () if ladder is None else rows_of(ladder)
        sign = money_sign(self._desk)
        if ladder is None:
            self.verdict.setText(say("Not worked out yet."))
            self.message.setText(
                say("The ladder says what the least is that clears every warning, and what more money buys.")
            )
        else:
            self.verdict.setText(verdict(self.rows, sign))
            self.message.setText(self._proof_words())
        chosen = next((at for at, row in enumerate(self.rows) if not row.is_today), 0)
        self.rungs.show_rungs(self.rows, sign, self._usual(chosen))
        self.stair.show_rungs(self.rows, self.rungs.rung)
        if not self.rows:
            self.rung.show_rung(None, sign)
        self._show_running()

    def _usual(self, first: int) -> int:
        """The rung that clears, else the first that does something."""
        from hangar.refit.answer import Rung

        return next((at for at, row in enumerate(self.rows) if row.rung is Rung.CLEAR), first)

    def _proof_words(self) -> str:
        if any(row.answer.stopped for row in self.rows):
            return say("The search was stopped: what is shown is not proved best.")
        parts = [looks_words(self.rows)]
        for row in self.rows:
            gap = row.answer.gap
            if not row.answer.proved:
                parts.append(
                    say(
                        "Not proved best: another refit could leave up to {warnings} warnings and "
                        "{cautions} cautions less, or cost {money:.0f} less.",
                        warnings=gap.warnings, cautions=gap.cautions, money=gap.money,
                    )
                )  # fmt: skip
                break
        return " ".join(parts)

    def _show_running(self) -> None:
        running = self.state.show_running()
        row = self.rungs.rung
        has_plan = not running and row is not None and not row.is_today
        for button in (self.keep_button, self.reserve_button, self.shopping_button):
            button.setEnabled(has_plan and not self._desk.read_only)
        self.stages_button.setEnabled(has_plan)
        self.why_button.setEnabled(has_plan)
        self.why_not_button.setEnabled(not running and row is not None)

    def _choose(self, row: RungRow) -> None:
        self.rung.show_rung(row, money_sign(self._desk))
        self.stair.show_rungs(self.rows, row)
        self._show_running()

    def say_why_not_less(self) -> None:
        """Say what the rung below leaves that this one clears."""
        row = self.rungs.rung
        if row is not None:
            at = self.rows.index(row)
            self.message.setText(why_not_less(row, self.rows[at - 1] if at else None))

    def ask_why_not(self) -> None:
        """Open the types that could go where the chosen line is; without one, at the first position."""
        row = self.rungs.rung
        if row is None or self.code is None:
            return
        aircraft, library, asking = row.answer.aircraft, self._desk.library(), self.asking.asking()
        place, picks = self.rung.chosen_position(), row.answer.picks

        def asked(stop: Callable[[], bool]) -> object:
            from hangar.refit.why_not import why_not

            return why_not(aircraft, library, asking, picks, place, stop)

        WhyNotDialog(self._desk, place, asked, self).show()

    def _put_in_stages(self) -> None:
        row = self.rungs.rung
        if row is not None and not row.is_today:
            self.stages_wanted.emit(row.answer)

    def keep(self) -> None:
        """Keep the chosen rung as a sketched plan, and open it."""
        self._desk.attempt(lambda: self.plan_kept.emit(self._keep()))

    def _keep(self) -> str:
        """Code of the plan that holds the chosen rung, entered if it is not yet."""
        row = self.rungs.rung
        assert row is not None
        at = self.rows.index(row)
        kept = self._kept.get(at)
        if kept is None or plan_named(self._desk, kept) is None:
            kept = self._kept[at] = begin_plans(self._desk, row.answer)
        return kept

    def reserve(self) -> None:
        """Keep the rung as a plan and let its lines take the spares that lie in Stores."""

        def step() -> None:
            plan = plan_named(self._desk, self._keep())
            if plan is not None:
                self._desk.do(reserve_spares, plan, self._desk.library())
                self.message.setText(say("Reserved for plan {code}.", code=plan.code))

        self._desk.attempt(step)

    def to_shopping(self) -> None:
        """Keep the rung as a plan, and go to what is to be bought."""

        def step() -> None:
            self._keep()
            self.shopping_wanted.emit()

        self._desk.attempt(step)
