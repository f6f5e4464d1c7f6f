"""The Try-out room: turn things on a copy of an aircraft and see at once what would follow."""

from __future__ import annotations

from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QHideEvent
from PySide6.QtWidgets import (
    QGridLayout,
    QHBoxLayout,
    QPushButton,
    QScrollArea,
    QSplitter,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from hangar.answers.judging import Judgement
from hangar.answers.outcomes import Outcome
from hangar.answers.trials import Knob, Trial, knobs_of, plan_lines, tried, turned
from hangar.window.comparing.comparison_bars import ComparisonBars
from hangar.window.comparing.knob_row import (
    Answer,
    KnobRow,
    TrialRow,
    answer_of_today,
    answer_to,
    bar_rows,
    trial_columns,
    trial_rows,
)
from hangar.window.comparing.outcome_list import OutcomeList, trial_verdict
from hangar.window.comparing.torque_speed_view import TorqueSpeedView, crossing_words
from hangar.window.kit.background_task import BackgroundTask
from hangar.window.kit.desk import Desk
from hangar.window.kit.flow_row import SentencePane
from hangar.window.kit.handed_focus import hand_focus
from hangar.window.kit.kept_splitter import KeptSplitter
from hangar.window.kit.place_chooser import PlaceChooser, no_place_yet
from hangar.window.kit.plain_words import PlainLabel
from hangar.window.kit.verdict_bar import VerdictBar
from hangar.window.kit.words import put, say
from hangar.window.refit.plan_work import keep_plan
from hangar.window.tables.all_columns import LeftOut
from hangar.window.tables.rows_model import RowsModel
from hangar.window.tables.rows_view import RowsView

_LINES_OF_TABLE = 9
"""Height that the table of figures keeps, in lines of text."""


class TryOut(QWidget):
    """Sliders on the left; on the right the verdict, the torque picture, what comes and goes, the figures."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._stale = True
        self._today: Judgement | None = None
        self._task: BackgroundTask | None = None
        self._question = 0
        self._asks_again = False
        self.answer: Answer | None = None
        self.rows: dict[str, KnobRow] = {}
        self.place = PlaceChooser(desk)
        self.reset_button = QPushButton(say("&Back to today"))
        self.keep_button = QPushButton(say("&Keep as a plan"))
        self.held_words = PlainLabel(wordWrap=True)
        self.held_words.setAccessibleName(say("What a plan can hold"))
        self.held_words.setObjectName("quiet")
        self.lead_on = no_place_yet(desk)
        self.verdict = VerdictBar(desk.view)
        self.difference = OutcomeList(desk.view)
        self._model: RowsModel[TrialRow] = RowsModel(desk, trial_columns(), lambda row: row.name, self)
        self.table = RowsView(self._model, say("Figures today and as tried"))
        self.picture = TorqueSpeedView(desk.view)
        self.bars = ComparisonBars(desk.view)
        self._pictures = QStackedWidget()
        self.crossing = PlainLabel(wordWrap=True)
        self.crossing.setAccessibleName(say("Torque against air speed in words"))
        self._panel = QScrollArea()
        self._arrange()
        self._connect()
        self._leave_room()

    def _leave_room(self) -> None:
        """The table keeps four rows and its head, the pictures what they need."""
        self.table.setMinimumHeight(self.fontMetrics().height() * _LINES_OF_TABLE)
        self._pictures.setMinimumHeight(self.picture.minimumSizeHint().height())

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange and hasattr(self, "_pictures"):
            self._leave_room()

    def _arrange(self) -> None:
        head = QHBoxLayout()
        head.addWidget(self.place)
        head.addStretch(1)
        head.addWidget(self.reset_button)
        head.addWidget(self.keep_button)
        self._panel.setWidgetResizable(True)
        self._panel.setFrameShape(QScrollArea.Shape.NoFrame)
        self._panel.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._panel.setAccessibleName(say("What can be changed"))
        picture = SentencePane()
        seen = QVBoxLayout(picture)
        seen.setContentsMargins(0, 0, 0, 0)
        scroll = QScrollArea(widgetResizable=True)
        scroll.setFrameShape(QScrollArea.Shape.NoFrame)
        scroll.setAccessibleName(say("Today and as tried as bars"))
        scroll.setWidget(self.bars)
        self._pictures.addWidget(self.picture)
        self._pictures.addWidget(scroll)
        seen.addWidget(self._pictures, 1)
        seen.addWidget(self.crossing)
        upper = QSplitter(Qt.Orientation.Horizontal)
        upper.addWidget(picture)
        upper.addWidget(self.difference)
        upper.setSizes([440, 340])
        upper.setChildrenCollapsible(False)
        lower = QWidget()
        below = QVBoxLayout(lower)
        below.setContentsMargins(0, 0, 0, 0)
        below.addWidget(LeftOut(self.table, lower))
        below.addWidget(self.table, 1)
        split = QSplitter(Qt.Orientation.Vertical)
        split.addWidget(upper)
        split.addWidget(lower)
        split.setSizes([260, 260])
        split.setChildrenCollapsible(False)
        right = SentencePane()
        column = QVBoxLayout(right)
        column.setContentsMargins(8, 0, 0, 0)
        column.addWidget(self.lead_on)
        column.addWidget(self.verdict)
        column.addWidget(split, 1)
        whole = KeptSplitter(self._desk.view, "try out", Qt.Orientation.Horizontal)
        whole.addWidget(self._panel)
        whole.addWidget(right)
        whole.setSizes([360, 780])
        whole.setStretchFactor(1, 1)
        whole.setChildrenCollapsible(False)
        frame = QVBoxLayout(self)
        frame.setContentsMargins(12, 12, 12, 12)
        frame.addLayout(head)
        frame.addWidget(self.held_words)
        frame.addWidget(whole, 1)
        hand_focus(self, self.place.aircraft_box)

    def _connect(self) -> None:
        self.place.chosen.connect(self._start)
        self.reset_button.clicked.connect(self.reset)
        self.keep_button.clicked.connect(self.keep)
        self.table.how_asked.connect(self._desk.how_asked)
        self._desk.touched.connect(self._touched)
        self._desk.view.changed.connect(self._look_changed)

    def showEvent(self, _event: object) -> None:
        self._refresh()

    def hideEvent(self, event: QHideEvent) -> None:
        self._drop_errand()
        self._stale = True
        super().hideEvent(event)

    def _touched(self) -> None:
        self._stale = True
        self._refresh()

    def _look_changed(self) -> None:
        for row in self.rows.values():
            row.show_value()
        self._touched()

    def _refresh(self) -> None:
        """Take up the aircraft as it stands, when it changed and somebody looks; what is turned stays."""
        if self._stale and self.isVisible():
            self._stale = False
            self.place.read_again()
            self._start(keep=True)

    def show_place(self, code: str, position: str) -> None:
        """Try things at this position."""
        self._refresh()
        self.place.choose(code, position)

    @property
    def knobs(self) -> tuple[Knob, ...]:
        """Everything that can be turned here."""
        return tuple(row.knob for row in self.rows.values())

    @property
    def values(self) -> dict[str, float]:
        """Where every knob stands."""
        return {name: row.value for name, row in self.rows.items()}

    def _start(self, *, keep: bool = False) -> None:
        """Take up the chosen aircraft and position."""
        kept = {name: row.value for name, row in self.rows.items() if row.is_turned} if keep else {}
        self._drop_errand()
        code, fit = self.place.code, self.place.fit
        self._today = self._desk.judgement(code) if code in self._desk.codes() and code else None
        library = self._desk.basis().library
        self._build(knobs_of(self._today.survey, fit, library) if self._today and fit else ())
        for name, value in kept.items():
            if name in self.rows:
                self.rows[name].set(value)
        if self._today is not None and self._position and not kept:
            self.answer = answer_of_today(self._today, self._position)
            self._show_answer(self.answer)
        self.ask()

    def _trial_today(self) -> Trial:
        assert self._today is not None
        return Trial(self._today.aircraft, self._today.conditions)

    @property
    def _position(self) -> str:
        fit = self.place.fit
        return fit.code if fit else ""

    def _speed_today(self) -> float | None:
        position = self._today.survey.positions.get(self._position) if self._today else None
        speed = position.load_speed_m_s if position else None
        return None if speed is None else speed.expected

    def _build(self, knobs: tuple[Knob, ...]) -> None:
        page = QWidget()
        grid = QGridLayout(page)
        grid.setVerticalSpacing(3)
        grid.setColumnStretch(0, 1)
        self.rows = {}
        for at, knob in enumerate(knobs):
            row = KnobRow(knob, self._desk.view, page)
            row.place(grid, at)
            row.turned.connect(self.ask)
            self.rows[knob.name] = row
        grid.setRowStretch(2 * len(knobs), 1)
        self._panel.setWidget(page)
        self._panel.setMinimumWidth(page.sizeHint().width() + 24)

    def reset(self) -> None:
        """Turn everything back to today's value."""
        for row in self.rows.values():
            row.reset()
        self.ask()

    def ask(self) -> None:
        """Work out what is turned; while one answer is under way, only the newest question waits."""
        self._write_held()
        if self._today is None or not self._position:
            self._show_nothing()
            return
        if self._task is not None:
            self._asks_again = True
            return
        trial = tried(self._trial_today(), self.knobs, self.values)
        basis, position, speed = self._desk.basis(), self._position, self._speed_today()
        self._question += 1
        question = self._question
        self._task = BackgroundTask(self._desk, lambda: (question, answer_to(trial, basis, position, speed)))
        # Methods, not lambdas: a lambda that holds the task would leave a ring to the collector.
        self._task.done.connect(self._answered)
        self._task.failed.connect(self._failed)
        self._task.start()

    def _drop_errand(self) -> None:
        if self._task is not None:
            self._task.drop()
            self._task = None
            self._question += 1
        self._asks_again = False

    def _answered(self, numbered: tuple[int, Answer]) -> None:
        question, answer = numbered
        if question != self._question:
            return
        self._task = None
        self.answer = answer
        self._show_answer(answer)
        self._ask_again()

    def _failed(self, fault: Exception) -> None:
        if self._task is not None:
            self._task = None
            self._desk.trouble.emit(fault)
            self._ask_again()

    def _ask_again(self) -> None:
        if self._asks_again:
            self._asks_again = False
            self.ask()

    @property
    def is_asking(self) -> bool:
        """Whether an answer is under way."""
        return self._task is not None

    def _show_nothing(self) -> None:
        self.answer = None
        self.lead_on.setVisible(self.place.is_bare)
        self.verdict.setVisible(not self.place.is_bare)
        self.verdict.tell(None, say("Choose an aircraft and a position."))
        self.difference.clear()
        self._model.show_rows(())
        self.picture.show_curves(None, None)
        self.crossing.setText(say("Choose an aircraft and a position."))

    def _show_answer(self, answer: Answer) -> None:
        assert self._today is not None
        self.lead_on.hide()
        self.verdict.show()
        outcome = Outcome.of(self._today, answer.judgement)
        is_turned = bool(turned(self.knobs, self.values))
        self.verdict.tell(*trial_verdict(outcome, self._position, is_turned=is_turned))
        self.difference.show_outcome(outcome)
        self._model.show_rows(trial_rows(self._today.survey, answer.judgement.survey, self._position))
        self.table.fit_columns()
        self._show_curves(answer)

    def _show_curves(self, answer: Answer) -> None:
        from hangar.survey.load_curve import load_curve

        today = None
        if answer.curve is not None and self._today is not None:
            today = load_curve(self._today.survey, self._position, answer.curve.speeds_m_s[-1])
        self.picture.show_curves(today, answer.curve)
        self._pictures.setCurrentIndex(0 if answer.curve is not None else 1)
        if answer.curve is None:
            self.bars.show_figures(bar_rows(self._model.rows), say("Today"), say("Tried"))
        key = ""
        if answer.curve is not None:
            key = say(" Load: full line the most, dashed line expected, shaded its band; dotted lines today.")
        self.crossing.setText(crossing_words(answer.curve, self._desk.view) + key)

    def _write_held(self) -> None:
        changed = turned(self.knobs, self.values)
        lost = ", ".join(put(knob.title) for knob in changed if knob.lines is None)
        can = any(knob.lines is not None for knob in changed)
        self.keep_button.setEnabled(can and not self._desk.read_only)
        self.reset_button.setEnabled(bool(changed))
        if not changed:
            self.held_words.setText(
                say(
                    "Nothing here touches {aircraft} until you keep it as a plan.",
                    aircraft=self.place.code or "—",
                )
            )
        elif lost:
            self.held_words.setText(say("A plan cannot hold: {what}.", what=lost))
        else:
            self.held_words.setText(say("A plan can hold all that was changed here."))

    def keep(self) -> str | None:
        """Keep what a plan can hold; returns the plan's code."""
        code = self.place.code
        lines = plan_lines(self.knobs, self.values)
        if not lines or code is None:
            return None
        changed = turned(self.knobs, self.values)
        purpose = "; ".join(self._turned_words(knob) for knob in changed)
        kept = keep_plan(self._desk, code, say("try-out"), purpose, lines)
        if kept:
            self.held_words.setText(say("Kept as plan {code}; undo takes it back.", code=kept))
        return kept

    def _turned_words(self, knob: Knob) -> str:
        value = self.values[knob.name]
        units = self._desk.view.reader
        shown = put(knob.names[round(value)]) if knob.names else units.show(value, knob.unit)
        return f"{put(knob.title)}: {shown}"
