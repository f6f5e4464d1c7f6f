"""Worth measuring next: what nobody entered yet, by how much the findings hang on it."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtCore import QModelIndex, Signal
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from hangar.answers.judging import Judgement, JudgingBasis
from hangar.parts import KIND_BY_NAME
from hangar.rules.finding import Level
from hangar.window.kit.background_task import BackgroundTask
from hangar.window.kit.desk import Desk
from hangar.window.kit.plain_words import PlainLabel
from hangar.window.kit.words import level_word, put, say, sentence_case
from hangar.window.records.field_dialog import FieldDialog
from hangar.window.tables.columns import Column
from hangar.window.tables.rows_model import RowsModel
from hangar.window.tables.rows_view import RowsView

if TYPE_CHECKING:
    from hangar.rules.measure_next import Change, Measurement

MOST = 8
_MOST_TOLD = 3


def worth_measuring(
    judgement: Judgement, basis: JudgingBasis, heed: Callable[[], None] = lambda: None
) -> tuple[Measurement, ...]:
    """What is worth measuring on an aircraft, the most telling first; what ``heed`` raises ends the work."""
    from hangar.rules.measure_next import measure_next

    thresholds = basis.thresholds
    return measure_next(
        judgement.aircraft, judgement.conditions, thresholds, basis.library, most=MOST, heed=heed
    )


def measure_columns() -> tuple[Column[Measurement], ...]:
    """What, why, how, and how long it takes."""
    return (
        Column(
            say("What is not known"),
            lambda row, _units: sentence_case(put(row.words)),
            tip=lambda row: sentence_case(put(row.words)),
            widest=34,
        ),
        Column(
            say("What it could change"),
            lambda row, _units: reason_words(row),
            tip=lambda row: "\n".join(change_words(change) for change in row.changes),
            widest=34,
        ),
        Column(
            say("Takes"),
            lambda row, _units: say("{count:g} min", count=row.minutes),
            raw=lambda row: row.minutes,
            number=True,
        ),
        Column(say("How to find it out"), lambda row, _units: put(row.how), tip=lambda row: put(row.how)),
    )


def reason_words(row: Measurement) -> str:
    """Why it is worth the time, in a line."""
    lines = list(dict.fromkeys(change_words(change) for change in row.changes))
    lead = [say("cannot be judged without it")] if row.vital else []
    more = [say("and {count} more", count=len(lines) - _MOST_TOLD)] if len(lines) > _MOST_TOLD else []
    return "; ".join((*lead, *lines[:_MOST_TOLD], *more))


def change_words(change: Change) -> str:
    """One finding that could come, go, or change its level."""
    place = f", {change.about}" if change.about else ""
    title = f"{put(change.title)}{place}"
    if change.before is Level.CANT_TELL and change.after is None:
        return say("{finding} can be told", finding=title)
    if change.before is None and change.after is not None:
        return say("{finding} may come as {level}", finding=title, level=level_word(change.after))
    if change.after is None and change.before is not None:
        return say("{finding} may go", finding=title)
    words = tuple(level_word(level) for level in (change.before, change.after) if level is not None)
    return f"{title}: {' → '.join(words)}"


class NoLongerWantedError(Exception):
    """Another list is wanted by now, or none."""


class Turn:
    """Which list is wanted: one that is worked out for an aircraft as it was ends at its next trial."""

    def __init__(self) -> None:
        self._number = 0

    def begin(self) -> Callable[[], None]:
        """Want another list; the answer is called again and again by the work on it."""
        self._number += 1
        number = self._number

        def heed() -> None:
            if self._number != number:
                raise NoLongerWantedError

        return heed


class MeasurePanel(QWidget):
    """The list with a button that opens the field. Signals: ``counted(int)`` when it was worked out."""

    counted = Signal(int)

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._judgement: Judgement | None = None
        self._task: BackgroundTask | None = None
        self._turn = turn = Turn()
        self.destroyed.connect(lambda: turn.begin())
        self._model: RowsModel[Measurement] = RowsModel(
            desk, measure_columns(), lambda row: (row.words, row.field), self
        )
        self.table = RowsView(self._model, say("Worth measuring next"))
        self.table.choose_whole_rows()
        self.message = PlainLabel(wordWrap=True)
        self.message.setObjectName("quiet")
        self.message.setAccessibleName(say("About this list"))
        self.enter_button = QPushButton(say("&Enter it…"))
        self.enter_button.setToolTip(say("Fill in the field of the chosen line (Enter)"))
        row = QHBoxLayout()
        row.addWidget(self.message, 1)
        row.addWidget(self.enter_button)
        column = QVBoxLayout(self)
        column.setContentsMargins(10, 4, 10, 4)
        column.addLayout(row)
        column.addWidget(self.table, 1)
        self.enter_button.clicked.connect(self.open_field)
        self.table.activated.connect(self._activated)
        self.table.doubleClicked.connect(self._activated)
        self.table.row_chosen.connect(self._chosen)
        self._chosen(None)

    @property
    def measurements(self) -> tuple[Measurement, ...]:
        """What is listed."""
        return self._model.rows

    @property
    def is_asking(self) -> bool:
        """Whether the list is being worked out."""
        return self._task is not None

    def show_judgement(self, judgement: Judgement) -> None:
        """Work out the list of this aircraft beside the event loop."""
        if judgement is self._judgement:
            return
        before, self._judgement = self._judgement, judgement
        if self._task is not None:
            self._task.drop()
        if before is None or before.aircraft.code != judgement.aircraft.code:
            self._model.show_rows(())
            self._chosen(None)
            self.counted.emit(0)
        basis, heed = self._desk.basis(), self._turn.begin()
        self.message.setText(say("Working out which missing figure matters most…"))
        self._task = BackgroundTask(self._desk, lambda: (judgement, worth_measuring(judgement, basis, heed)))
        self._task.done.connect(self._worked_out)
        self._task.failed.connect(self._failed)
        self._task.start()

    def _worked_out(self, ranking: tuple[Judgement, tuple[Measurement, ...]]) -> None:
        judgement, measurements = ranking
        if judgement is not self._judgement:
            return
        self._task = None
        self._model.show_rows(measurements)
        self.table.fit_columns()
        if measurements:
            self.table.choose_row((measurements[0].words, measurements[0].field))
            self.message.setText(
                say("Not entered yet, the most telling first: what could change once it is known.")
            )
        else:
            self.message.setText(say("No figure that is missing would change a finding."))
        self._chosen(self.table.current_row)
        self.counted.emit(len(measurements))

    def _failed(self, fault: Exception) -> None:
        self._task = None
        self.message.setText(say("This could not be worked out."))
        self._desk.trouble.emit(fault)

    def _chosen(self, row: Measurement | None) -> None:
        self.enter_button.setEnabled(row is not None and bool(row.kind) and not self._desk.read_only)

    def _activated(self, _index: QModelIndex) -> None:
        self.open_field()

    def open_field(self) -> FieldDialog | None:
        """Open the field of the chosen line; None where a whole record is missing."""
        row: Measurement | None = self.table.current_row
        if row is None or not row.kind or self._desk.read_only:
            return None
        record = self._desk.fleet.record(KIND_BY_NAME[row.kind], *row.key)
        if record is None:
            return None
        dialog = FieldDialog(self._desk, record, row.field, put(row.how), self)
        dialog.open()
        return dialog
