"""Every reading of an aircraft beside what was predicted of it; one can be set aside and taken back in."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from PySide6.QtWidgets import QPushButton, QVBoxLayout, QWidget

from hangar.acts.setting_aside import set_aside, take_back_in
from hangar.answers.beside import Beside
from hangar.answers.judging import Judgement
from hangar.base.text import text
from hangar.base.units import ShowsNumbers
from hangar.parts.fields import key_of
from hangar.window.kit.desk import Desk
from hangar.window.kit.flow_row import FlowRow
from hangar.window.kit.handed_focus import hand_focus
from hangar.window.kit.lead_on import LeadOn
from hangar.window.kit.plain_words import PlainLabel, plain_tip
from hangar.window.kit.words import put, say, sentence_case
from hangar.window.tables.all_columns import LeftOut
from hangar.window.tables.columns import Column
from hangar.window.tables.rows_model import RowsModel
from hangar.window.tables.rows_view import RowsView

if TYPE_CHECKING:
    from hangar.rules.finding import Level


class MeasuredView(QWidget):
    """One row a reading, the newest first."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._judgement: Judgement | None = None
        self._model: RowsModel[Beside] = RowsModel(desk, beside_columns(), beside_key, self)
        self.table = RowsView(self._model, say("Readings beside what was predicted"))
        self.table.choose_whole_rows()
        self.aside = QPushButton(say("Set asi&de or take back in"))
        self.message = PlainLabel(wordWrap=True)
        self.message.setAccessibleName(say("What the chosen reading says"))
        nothing = say("No reading yet: load tests, bench checks, flight logs and filled sheets come here.")
        self.lead_on = LeadOn(nothing, say("Open the &time line"))
        column = QVBoxLayout(self)
        column.setContentsMargins(10, 10, 10, 10)
        column.addWidget(self.lead_on)
        column.addWidget(LeftOut(self.table, self))
        column.addWidget(self.table, 1)
        column.addWidget(self.message)
        column.addLayout(FlowRow(self.aside))
        hand_focus(self, self.table)
        self.aside.clicked.connect(self.turn_aside)
        self.table.row_chosen.connect(lambda _row: self._chosen())

    def show_judgement(self, judgement: Judgement) -> None:
        """Show the readings of this aircraft."""
        self._judgement = judgement
        if self.isVisible():
            self._show()

    def showEvent(self, event: Any) -> None:
        """Work the rows when they are first looked at."""
        super().showEvent(event)
        self._show()

    def _show(self) -> None:
        from hangar.answers.readings_beside import readings_beside

        if self._judgement is None:
            return
        limits = self._desk.basis().thresholds
        rows = readings_beside(self._judgement.survey, limits)
        self._model.show_rows(rows)
        self.lead_on.setVisible(not rows)
        self._chosen()

    def _chosen(self) -> None:
        row = self.table.current_row
        can = row is not None and row.can_be_set_aside
        self.aside.setEnabled(can and not self._desk.read_only)
        tip = ""
        if row is None:
            tip = say("Choose a reading first.")
        elif not can:
            tip = say("It is a field of the part: blank it in the part's form.")
        self.aside.setToolTip(plain_tip(tip))
        self.message.setText("" if row is None else beside_words(row))

    def turn_aside(self) -> None:
        """Set the chosen reading aside, or take it back in; undo does the opposite."""
        row = self.table.current_row
        if row is None or not row.can_be_set_aside or self._desk.read_only:
            return
        if row.is_aside:
            label = text("Take {reading} back in", reading=row.name)
            self._desk.edit(label, lambda edit: take_back_in(edit, row.record))
        else:
            label = text("Set {reading} aside", reading=row.name)
            self._desk.edit(label, lambda edit: set_aside(edit, row.record, self._desk.today))


def beside_words(row: Beside) -> str:
    """The word for a reading, and what to look for where it does not fit."""
    words = sentence_case(put(row.words))
    causes, kind = row.look_for, row.informs
    wording = words if causes is None else say("{words}: look for {causes}.", words=words, causes=put(causes))
    if kind is None:
        return wording
    informs = say(
        "It informs: {figure} ({formula}; error {error}). It counts {lapses}.",
        figure=put(kind.informs), formula=put(kind.formula), error=put(kind.error), lapses=put(kind.lapses),
    )  # fmt: skip
    return f"{wording.removesuffix('.')}. {informs}"


def beside_key(row: Beside) -> tuple[object, ...]:
    """What a reading is found by."""
    return (row.record.KIND, *key_of(row.record), row.field)


def beside_columns() -> tuple[Column[Beside], ...]:
    """Day, of what, reading, predicted, measured, and the word."""
    return (
        Column(say("Day"), lambda row, _units: str(row.read_on), raw=lambda row: row.read_on),
        Column(say("Of"), lambda row, _units: row.about, gives_way=2),
        Column(say("Reading"), lambda row, _units: sentence_case(put(row.name))),
        Column(
            say("Predicted"),
            _predicted,
            raw=lambda row: None if row.predicted is None else row.predicted.expected,
            number=True,
            help=say("Where nine readings out of ten should lie by everything that was known before."),
            gives_way=1,
        ),
        Column(
            say("Measured"),
            lambda row, units: units.show(row.measured, row.unit, 3),
            raw=lambda row: row.measured,
            figure=lambda row: row.figure,
            number=True,
            help=say("How? tells what all readings say together."),
        ),
        Column(
            say("Says"),
            lambda row, _units: put(row.words),
            level=_level,
            tip=beside_words,
            wraps=True,
        ),
    )


def _predicted(row: Beside, _units: ShowsNumbers) -> str:
    return "" if row.predicted_words is None else put(row.predicted_words)


def _level(row: Beside) -> Level | None:
    from hangar.answers.predicted import Fits
    from hangar.rules.finding import Level

    return Level.ADVISORY if row.word is Fits.NOT and not row.is_aside else None
