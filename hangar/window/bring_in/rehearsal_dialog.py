"""A keeper's own sheet before it comes in: how each cell is read, what comes of it, what is asked."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QKeySequence, QPainter, QPaintEvent, QShortcut
from PySide6.QtWidgets import (
    QDialog,
    QHBoxLayout,
    QPushButton,
    QSplitter,
    QVBoxLayout,
    QWidget,
)

from hangar.base.text import listed, text
from hangar.store.intake.account import Account, State
from hangar.store.intake.answering import with_column
from hangar.store.intake.columns import Column
from hangar.store.intake.grid import Cell, Grid
from hangar.store.intake.reading import Answers
from hangar.store.rehearsal import Heard, Rehearsal
from hangar.store.rehearsal_outcome import outcomes
from hangar.window.bring_in.cell_looks import CELL_LOOKS, DOUBTED, LEFT, READ, UNUSED, draw_sign
from hangar.window.bring_in.outcome_tree import OutcomeTree
from hangar.window.bring_in.question_panel import QuestionPanel
from hangar.window.bring_in.sheet_view import SheetView
from hangar.window.kit.background_task import BackgroundTask
from hangar.window.kit.flow_row import FlowRow
from hangar.window.kit.looks import Look
from hangar.window.kit.notice import Words
from hangar.window.kit.plain_words import PlainLabel
from hangar.window.kit.still_boxes import ListBox
from hangar.window.kit.words import put, say, say_plural


class StateSign(QWidget):
    """The colour and the sign of one state, as the cells wear it."""

    def __init__(self, state: str, look: Callable[[], Look], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._state, self._look = state, look

    def sizeHint(self) -> QSize:
        side = round(self.fontMetrics().height() * 1.1)
        return QSize(side, side)

    def paintEvent(self, _event: QPaintEvent) -> None:
        colours = CELL_LOOKS[self._look().name][self._state]
        painter = QPainter(self)
        painter.fillRect(self.rect(), colours.paper)
        edge = self.width() * 0.28
        draw_sign(painter, QRectF(self.rect()).adjusted(edge, edge, -edge, -edge), self._state, colours.mark)
        painter.end()


class AccountLine(QWidget):
    """How many cells are in each state, beside the sign of the state: it is the legend too."""

    def __init__(self, look: Callable[[], Look], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        row = FlowRow(gap=14)
        self.setLayout(row)
        self._labels: dict[str, PlainLabel] = {}
        for state in (READ, DOUBTED, UNUSED, LEFT):
            held = QWidget()
            pair = QHBoxLayout(held)
            pair.setContentsMargins(0, 0, 0, 0)
            pair.setSpacing(6)
            sign = StateSign(state, look)
            sign.setFixedSize(sign.sizeHint())
            self._labels[state] = PlainLabel()
            pair.addWidget(sign)
            pair.addWidget(self._labels[state])
            row.addWidget(held)

    def show_account(self, account: Account) -> None:
        """Show the sum of all cells."""
        entries_left = account.left
        for state, words in (
            (READ, say_plural("{count} cell read", "{count} cells read", count=account.count(State.READ))),
            (DOUBTED, say("{count} doubted", count=account.count(State.DOUBTED))),
            (UNUSED, say("{count} of no use here", count=account.count(State.UNUSED) - entries_left)),
            (LEFT, say("{count} left out, not understood", count=entries_left)),
        ):
            self._labels[state].setText(words)

    @property
    def words(self) -> str:
        """All of it in one line."""
        return ", ".join(label.text() for label in self._labels.values())


class RehearsalDialog(QDialog):
    """The sheet on the left, what comes of it on the right, the questions below; nothing is written here.

    Signal: ``wanted(Answers)`` when the keeper wants it brought in so. The dialog stays until it was.
    """

    wanted = Signal(object)

    def __init__(
        self, rehearsal: Rehearsal, heard: Heard, look: Callable[[], Look], parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle(say("Bring in: {files}", files=_names(rehearsal)))
        self._rehearsal = rehearsal
        self._steps: list[Answers] = [heard.reading.answers]
        self._task: BackgroundTask | None = None
        self.may_take = True
        """Whether the fleet can be written to."""
        self.heard = heard
        self.tabs = ListBox()
        self.tabs.setAccessibleName(say("Tab of the sheet"))
        self.sheet = SheetView(look)
        self.tree = OutcomeTree(look)
        self.account = AccountLine(look)
        self.questions = QuestionPanel(rehearsal)
        self.message = Words(say("What became of it"))
        self.message.hide()
        self.undo_button = QPushButton(say("&Undo the last answer"))
        self.anew_button = QPushButton(say("Read it as if for the &first time"))
        self.stop_button = QPushButton(say("Leave it, bring &nothing in"))
        self.take_button = QPushButton(say("&Bring in"))
        self._fill_tabs()
        self._arrange()
        self._connect()
        self.show_heard(heard)
        self._tell_kept()
        self.sheet.setFocus()

    def _fill_tabs(self) -> None:
        several = len(self._rehearsal.grids) > 1
        files = {grid.file for grid in self._rehearsal.grids}
        for grid in self._rehearsal.grids:
            place = f"{grid.file}: {grid.tab}" if len(files) > 1 and grid.tab else grid.tab or grid.file
            self.tabs.addItem(place)
        self.tabs.setVisible(several)

    def _arrange(self) -> None:
        top = QHBoxLayout()
        self.hint = PlainLabel(
            say(
                "Over each column stands what it is taken for; click there, or press Enter, to say otherwise."
            ),
            wordWrap=True,
        )
        self.hint.setObjectName("quiet")
        top.addWidget(self.tabs)
        top.addWidget(self.hint, 1)
        self.across = QSplitter(Qt.Orientation.Horizontal)
        self.across.addWidget(self.sheet)
        self.across.addWidget(self.tree)
        self.across.setStretchFactor(0, 5)
        self.across.setStretchFactor(1, 3)
        below = QWidget()
        column = QVBoxLayout(below)
        column.setContentsMargins(0, 4, 0, 0)
        column.addWidget(self.account)
        column.addWidget(self.questions, 1)
        self.down = QSplitter(Qt.Orientation.Vertical)
        self.down.addWidget(self.across)
        self.down.addWidget(below)
        self.down.setStretchFactor(0, 3)
        self.down.setStretchFactor(1, 1)
        self.down.setChildrenCollapsible(False)
        buttons = FlowRow(gap=8)
        for button in (self.undo_button, self.anew_button, self.stop_button, self.take_button):
            button.setAutoDefault(False)
            buttons.addWidget(button)
        held = QWidget()
        held.setLayout(buttons)
        whole = QVBoxLayout(self)
        whole.addLayout(top)
        whole.addWidget(self.message)
        whole.addWidget(self.down, 1)
        whole.addWidget(held)
        room = self.screen().availableSize()
        self.resize(min(1440, room.width() * 96 // 100), min(900, room.height() * 90 // 100))
        wide, high = self.width(), self.height()
        self.across.setSizes([wide * 64 // 100, wide * 36 // 100])
        self.down.setSizes([high * 62 // 100, high * 38 // 100])

    def _connect(self) -> None:
        self.tabs.currentIndexChanged.connect(self._show_tab)
        self.sheet.role_said.connect(self._say_role)
        self.sheet.cell_chosen.connect(self._show_cell)
        self.tree.cells_wanted.connect(self.light)
        self.questions.cells_wanted.connect(self.light)
        self.questions.answered.connect(self.say_so)
        self.undo_button.clicked.connect(self.undo)
        self.anew_button.clicked.connect(lambda: self.say_so(Answers()))
        self.stop_button.clicked.connect(self.reject)
        self.take_button.clicked.connect(lambda: self.wanted.emit(self.heard.reading.answers))
        keys = QShortcut(QKeySequence(QKeySequence.StandardKey.Undo), self)
        keys.activated.connect(self.undo)

    def _tell_kept(self) -> None:
        before = self._rehearsal.before
        is_kept = before.read_on is not None and not self.heard.reading.answers.are_none
        self.anew_button.setVisible(is_kept)
        if before.read_on is not None:
            self.tell(
                say("Brought in before, on {day}, and read as you said then; what differs stands first.",
                    day=before.read_on)
                if is_kept
                else say("Brought in before, on {day}; what differs stands first.", day=before.read_on)
            )  # fmt: skip

    def only_look(self) -> None:
        """The fleet is open for reading only: nothing can be brought in."""
        self.may_take = False
        self.take_button.setEnabled(False)
        self.tell(say("This fleet is open for reading only; nothing can be brought in."))

    def tell(self, words: str) -> None:
        """Say something above the sheet."""
        self.message.show_text(words)
        self.message.setVisible(bool(words))

    # -- what is read ------------------------------------------------------------------------------------
    @property
    def grid(self) -> Grid:
        """The tab that is shown."""
        return self._rehearsal.grids[max(0, self.tabs.currentIndex())]

    def show_heard(self, heard: Heard) -> None:
        """Show the sheet as it is read now."""
        self.heard = heard
        self._show_tab()
        results = outcomes(heard)
        if self._rehearsal.before.parts:
            results = (
                *(outcome for outcome in results if outcome.is_difference),
                *(outcome for outcome in results if not outcome.is_difference),
            )
        self.tree.show_outcomes(results)
        self.account.show_account(heard.reading.account)
        self.questions.show_heard(heard)
        self.undo_button.setEnabled(len(self._steps) > 1)

    def _show_tab(self) -> None:
        self.sheet.show_grid(self.grid, self.heard.reading)

    def say_so(self, answers: Answers) -> None:
        """Read the sheet again with these answers, beside the window; the newest wins."""
        if answers == self._steps[-1]:
            return
        self._steps.append(answers)
        self._read(answers)

    def undo(self) -> None:
        """Take the last answer back."""
        if len(self._steps) > 1:
            self._steps.pop()
            self._read(self._steps[-1])

    @property
    def is_reading(self) -> bool:
        """Whether an answer is still being read with."""
        return self._task is not None

    def _read(self, answers: Answers) -> None:
        if self._task is not None:
            self._task.drop()
        rehearsal = self._rehearsal
        self._task = task = BackgroundTask(self, lambda: rehearsal.heard(answers))
        self.take_button.setEnabled(False)
        task.done.connect(self._heard_again)
        task.failed.connect(self._not_heard)
        task.start()

    def _not_heard(self, fault: Exception) -> None:
        """What went wrong with an answer is told, and the answer is taken back."""
        self._task = None
        self._steps = self._steps[:-1] or self._steps
        self.take_button.setEnabled(self.may_take)
        self.tell(put(fault))

    def _heard_again(self, heard: Heard) -> None:
        self._task = None
        self.take_button.setEnabled(self.may_take)
        self.show_heard(heard)

    def _say_role(self, column: Column, role: str, unit: str) -> None:
        self.say_so(with_column(self._steps[-1], column.address, role, unit))

    # -- which cell belongs to what ----------------------------------------------------------------------
    def light(self, cells: Sequence[Cell]) -> None:
        """Show where some cells stand, on their tab."""
        if cells:
            here = self.grid.cells
            if not any(here.get((cell.row, cell.column)) is cell for cell in cells):
                grids = self._rehearsal.grids
                at = next(
                    (
                        number
                        for number, grid in enumerate(grids)
                        if grid.cells.get((cells[0].row, cells[0].column)) is cells[0]
                    ),
                    self.tabs.currentIndex(),
                )
                self.tabs.setCurrentIndex(at)
        self.sheet.light(cells)

    def _show_cell(self, cell: Cell | None) -> None:
        if cell is None:
            return
        self.sheet.light(())
        self.tree.show_cell(cell)
        entry = self.heard.reading.account.entry(cell)
        if entry.question and entry.state is State.DOUBTED:
            self.questions.point_to(entry.question)


def _names(rehearsal: Rehearsal) -> str:
    names = [source.name for source in rehearsal.sources]
    return put(text("{files}", files=listed(names, joint=",", most=3)))
