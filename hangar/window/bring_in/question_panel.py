"""The questions on a keeper's sheet, one for each cause, each answered by one click."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import (
    QAbstractItemView,
    QButtonGroup,
    QHBoxLayout,
    QListWidget,
    QListWidgetItem,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from hangar.base.text import Text, text
from hangar.parts.choices import AircraftClass, PowerKind
from hangar.store.intake.account import About, Answer, Entry, Question
from hangar.store.intake.answering import Choice, choices, with_class, with_said
from hangar.store.intake.proposal import SheetChange
from hangar.store.intake.reading import Answers
from hangar.store.rehearsal import Heard, Rehearsal
from hangar.window.kit.flow_row import FlowRow
from hangar.window.kit.plain_words import PlainLabel
from hangar.window.kit.still_boxes import ListBox
from hangar.window.kit.words import put, say, word_of

_SAMPLES = 3
_LISTED_MOST = 400
_TITLES: dict[About, Text] = {
    About.CLASS: text("Classes"),
    About.UNIT: text("Unit"),
    About.DAY_ORDER: text("Order of days"),
    About.DAY: text("Days"),
    About.CHANNEL: text("Channels and sides"),
    About.COUNT: text("How many"),
    About.TYPE: text("Types"),
    About.DRIVE: text("Analog or digital"),
    About.RATING: text("Ratings"),
    About.FUNCTION: text("Functions"),
    About.PACK: text("Packs"),
    About.TEST: text("Tests"),
    About.PLACE: text("Places"),
    About.BLOCK: text("Rows"),
    About.FORMULA: text("Formulas"),
    About.STRUCK: text("Struck out"),
    About.GONE: text("Passed on"),
    About.NAME: text("Names"),
    About.LEAD: text("Leads"),
    About.CHANGED: text("Sheet or fleet"),
    About.COLUMN: text("Columns"),
}


def question_title(question: Question) -> str:
    """A question in a word or two, with the number of cells that hang on it."""
    return f"{put(_TITLES[question.about])} ({question.decides})"


def question_words(question: Question) -> str:
    """What is asked, behind the first cells it is about."""
    some = ", ".join(say("“{text}”", text=_short(entry.cell.text)) for entry in question.cells[:_SAMPLES])
    more = len(question.cells) - _SAMPLES
    if more > 0:
        some = say("{cells} and {count} more", cells=some, count=more)
    heading = next((entry.heading for entry in question.cells if entry.heading), "")
    asked = put(question.text)
    if heading and question.about is not About.CLASS:
        return say("{cells} below “{heading}”: {asked}", cells=some, heading=_short(heading), asked=asked)
    return say("{cells}: {asked}", cells=some, asked=asked)


def _short(words: str) -> str:
    plain = " ".join(words.split())
    return plain if len(plain) <= 40 else f"{plain[:39]}…"


@dataclass(frozen=True)
class _Line:
    words: str
    entry: Entry | None
    plane: str = ""
    change: SheetChange | None = None


class QuestionPanel(QWidget):
    """One question at a time. Signals: ``answered(Answers)``; ``cells_wanted(tuple of cells)``."""

    answered = Signal(object)
    cells_wanted = Signal(object)

    def __init__(self, rehearsal: Rehearsal, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName(say("Questions"))
        self._rehearsal = rehearsal
        self._heard: Heard | None = None
        self._questions: list[Question] = []
        self._key = ""
        self._lines: list[_Line] = []
        self.choices: tuple[Choice, ...] = ()
        self.ways = QWidget()
        self._ways = FlowRow(gap=4)
        self.ways.setLayout(self._ways)
        self._group = QButtonGroup(self)
        self.asked = PlainLabel(wordWrap=True)
        self.asked.setAccessibleName(say("Question"))
        self.cells = QListWidget()
        self.cells.setAccessibleName(say("What the question is about"))
        self.cells.setWordWrap(True)
        self.cells.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.cells.currentRowChanged.connect(self._light)
        self.answers = QWidget()
        self._answers = FlowRow(gap=6)
        self.answers.setLayout(self._answers)
        self.kind, self.drive = ListBox(), ListBox()
        self._fill_classes()
        self._arrange()
        for number in range(1, 10):
            keys = QShortcut(QKeySequence(f"Alt+{number}"), self)
            keys.activated.connect(partial(self.answer, number - 1))

    def _fill_classes(self) -> None:
        for box, name, members in (
            (self.kind, say("Class"), AircraftClass),
            (self.drive, say("Drive"), PowerKind),
        ):
            box.setAccessibleName(name)
            box.addItem(say("{what}: not said", what=name), "")
            for member in members:
                box.addItem(word_of(member), member.value)

    def _arrange(self) -> None:
        left = QWidget()
        column = QVBoxLayout(left)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.ways)
        column.addWidget(self.asked)
        column.addWidget(self.answers)
        column.addStretch(1)
        area = QScrollArea(widgetResizable=True)
        area.setFrameShape(QScrollArea.Shape.NoFrame)
        area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        area.setWidget(left)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(area, 3)
        row.addWidget(self.cells, 2)

    # -- what is asked -----------------------------------------------------------------------------------
    def show_heard(self, heard: Heard) -> None:
        """Show the questions that are open now; the one looked at stays where it is still open."""
        self._heard = heard
        self._questions = heard.reading.account.questions()
        keys = [question.key for question in self._questions]
        if self._key not in keys:
            self._key = keys[0] if keys else ""
        self._show_ways()
        self._show_question()

    def _show_ways(self) -> None:
        _empty(self._ways)
        for number, question in enumerate(self._questions, start=1):
            button = QPushButton(f"{number}  {question_title(question)}")
            button.setCheckable(True)
            button.setAutoDefault(False)
            button.setChecked(question.key == self._key)
            button.setAccessibleName(say("Question {number}: {title}", number=number,
                                         title=question_title(question)))  # fmt: skip
            button.clicked.connect(partial(self.go_to, question.key))
            self._ways.addWidget(button)
            button.show()

    @property
    def question(self) -> Question | None:
        """The question that is shown."""
        return next((question for question in self._questions if question.key == self._key), None)

    def go_to(self, key: str) -> None:
        """Show another question."""
        self._key = key
        self._show_ways()
        self._show_question()
        self._light(-1)

    def point_to(self, key: str) -> None:
        """Show the question of a cell, without lighting others."""
        if key != self._key and any(question.key == key for question in self._questions):
            self._key = key
            self._show_ways()
            self._show_question()

    def _show_question(self) -> None:
        question, heard = self.question, self._heard
        _empty(self._answers)
        self.cells.blockSignals(True)
        self.cells.clear()
        if question is None or heard is None:
            self.choices, self._lines = (), []
            self.asked.setText(
                say("No question is open. What is not understood stays as it is in your sheet.")
            )
            self.cells.hide()
            self.cells.blockSignals(False)
            return
        self.asked.setText(question_words(question))
        self._lines = self._lines_of(question, heard)
        several = question.about in (About.CLASS, About.CHANGED)
        modes = QAbstractItemView.SelectionMode
        self.cells.setSelectionMode(modes.ExtendedSelection if several else modes.SingleSelection)
        for line in self._lines[:_LISTED_MOST]:
            self.cells.addItem(QListWidgetItem(line.words))
        self.cells.show()
        if several:
            self.cells.selectAll()
        self.cells.blockSignals(False)
        self._show_answers(question, heard)

    def _lines_of(self, question: Question, heard: Heard) -> list[_Line]:
        if question.about is About.CHANGED:
            open_ones = [
                change for change in heard.proposal.asked if change.key not in heard.reading.answers.replies
            ]
            entry = heard.reading.account.entry
            return [
                _Line(put(change.words), entry(change.cell) if change.cell else None, change=change)
                for change in open_ones
            ]
        if question.about is About.CLASS:
            wanted = {id(entry.cell): entry for entry in question.cells}
            planes = heard.reading.facts.planes.values()
            return [
                _Line(put(wanted[id(plane.cell)].reason), wanted[id(plane.cell)], plane.name)
                for plane in planes
                if plane.cell is not None and id(plane.cell) in wanted
                and not (plane.aircraft_class and plane.power)
            ]  # fmt: skip
        return [
            _Line(say("row {row}: “{text}” {why}", row=entry.cell.row, text=_short(entry.cell.text),
                      why=entry.reason), entry)
            for entry in question.cells
        ]  # fmt: skip

    def _show_answers(self, question: Question, heard: Heard) -> None:
        self.choices = choices(heard.reading, question, self._rehearsal.today)
        if question.about is About.CLASS:
            for box in (self.kind, self.drive):
                self._answers.addWidget(box)
                box.show()
            self._button(say("&Say so of the chosen"), self._say_classes)
            self._button(say("&Leave open what is not said"), partial(self.answer, 0))
            return
        for box in (self.kind, self.drive):
            box.hide()
        for number, choice in enumerate(self.choices, start=1):
            words = f"{number}  {put(choice.words)}"
            if choice.effect:
                words = say("{answer}: {effect}", answer=words, effect=choice.effect)
            self._button(words, partial(self.answer, number - 1))

    def _button(self, words: str, act: Callable[[], object]) -> None:
        button = QPushButton(words)
        button.setAutoDefault(False)
        button.clicked.connect(act)
        self._answers.addWidget(button)
        button.show()

    # -- what is answered --------------------------------------------------------------------------------
    def answer(self, number: int) -> None:
        """Give one of the answers shown."""
        question = self.question
        if question is None or self._heard is None or number >= len(self.choices):
            return
        if question.about is About.CHANGED:
            reply = (Answer.FLEET, Answer.SHEET)[number]
            answers = self._heard.reading.answers
            for line in self._chosen_lines():
                if line.change is not None:
                    answers = with_said(answers, line.change.key, reply)
            self.answered.emit(answers)
            return
        self.answered.emit(self.choices[number].answers)

    def _chosen_lines(self) -> Sequence[_Line]:
        rows = {index.row() for index in self.cells.selectedIndexes()}
        if len(self._lines) > _LISTED_MOST and len(rows) == _LISTED_MOST:
            return self._lines
        return [line for number, line in enumerate(self._lines) if number in rows]

    def _say_classes(self) -> None:
        if self._heard is None:
            return
        answers: Answers = self._heard.reading.answers
        words = [str(box.currentData()) for box in (self.kind, self.drive)]
        if any(words):
            planes = {plane.name: plane for plane in self._heard.reading.facts.planes.values()}
            for line in self._chosen_lines():
                plane = planes[line.plane]
                known = (words[0] or plane.aircraft_class, words[1] or plane.power)
                answers = with_class(answers, line.plane, *known)
            self.answered.emit(answers)

    def _light(self, row: int) -> None:
        question = self.question
        if question is None:
            return
        if 0 <= row < len(self._lines):
            entry = self._lines[row].entry
            self.cells_wanted.emit((entry.cell,) if entry else ())
        else:
            self.cells_wanted.emit(tuple(entry.cell for entry in question.cells))


def _empty(row: FlowRow) -> None:
    while (item := row.takeAt(0)) is not None:
        widget = item.widget()
        if widget is not None:
            widget.hide()
            if isinstance(widget, QPushButton):
                widget.deleteLater()
