"""One pack: its two verdicts, a load test to enter, its trends, cells, charging and storing."""

from __future__ import annotations

from functools import partial

from PySide6.QtWidgets import QGroupBox, QPushButton, QVBoxLayout, QWidget

from hangar.acts.setting_aside import set_aside, take_back_in
from hangar.answers.pack_trends import capacity_trend, resistance_trend
from hangar.answers.packs import PackCase, learned_of
from hangar.base.text import text
from hangar.parts import CellReading, Pack, SetAside
from hangar.parts.choices import PackState
from hangar.parts.fields import key_of
from hangar.parts.readings import is_aside
from hangar.survey.learned import LearnedPack, PackReading
from hangar.window.kit.column_page import ColumnPage
from hangar.window.kit.desk import Desk
from hangar.window.kit.flow_row import FlowRow
from hangar.window.kit.plain_words import MarkupLabel, PlainLabel, markup
from hangar.window.kit.words import put, say, say_plural
from hangar.window.packs.load_test_entry import LoadTestEntry
from hangar.window.packs.pack_words import (
    VerdictLine,
    charge_words,
    charging_words,
    health_words,
    reading_columns,
    reading_key,
    state_title,
    storage_words,
    title_words,
)
from hangar.window.packs.trend_picture import TrendPicture
from hangar.window.tables.all_columns import LeftOut
from hangar.window.tables.columns import field_columns
from hangar.window.tables.rows_model import RowsModel
from hangar.window.tables.rows_view import RowsView

_STATES = (
    (PackState.IN_USE, "Put in &use"),
    (PackState.STORAGE, "To &storage"),
    (PackState.QUARANTINE, "&Quarantine"),
    (PackState.RETIRED, "Re&tire"),
)


class PackPage(ColumnPage):
    """Everything about one pack."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self.case: PackCase | None = None
        self.setAccessibleName(say("The chosen pack"))
        self.heading = MarkupLabel(wordWrap=True)
        self.where = PlainLabel(wordWrap=True)
        self.where.setObjectName("quiet")
        self.charged = VerdictLine(desk.view, say("Is it charged?"))
        self.healthy = VerdictLine(desk.view, say("Is it healthy?"))
        self.stored = VerdictLine(desk.view, say("On the shelf"))
        self.charging = PlainLabel(wordWrap=True)
        self.entry = LoadTestEntry(desk)
        self.resistance = TrendPicture(desk.view, say("Resistance over time"))
        self.capacity = TrendPicture(desk.view, say("Capacity over time"))
        self._resistance_words = PlainLabel(wordWrap=True)
        self._capacity_words = PlainLabel(wordWrap=True)
        names = ("read_on", "cell", "cell_v", "loaded")
        self._cells: RowsModel[CellReading] = RowsModel(
            desk, field_columns(desk, CellReading, names), key_of, self
        )
        self.cells = RowsView(self._cells, say("Cell readings"))
        self._readings: RowsModel[PackReading] = RowsModel(
            desk, reading_columns(lambda: self._learned), reading_key, self
        )
        self.readings = RowsView(self._readings, say("Readings of its resistance"))
        self._learned: LearnedPack | None = None
        self.aside = QPushButton(say("Set asi&de or take back in"))
        self.story = QPushButton(say("&Where has it been?"))
        self.buttons = {state: QPushButton(say(words)) for state, words in _STATES}
        self._arrange()
        self.story.clicked.connect(self.open_story)
        self.aside.clicked.connect(self.turn_aside)
        for state, button in self.buttons.items():
            button.clicked.connect(partial(self.set_state, state))
        desk.view.changed.connect(self._show)

    def _arrange(self) -> None:
        verdicts = QGroupBox(say("Verdicts"))
        column = QVBoxLayout(verdicts)
        column.setSpacing(10)
        to_charge = MarkupLabel(markup("<b>{words}</b>", words=say("To charge it")))
        for widget in (self.charged, self.healthy, self.stored, to_charge):
            column.addWidget(widget)
        column.addWidget(self.charging)
        resistance = self._group(say("Resistance of a cell"), self.resistance, self._resistance_words)
        capacity = self._group(say("Capacity"), self.capacity, self._capacity_words)
        cells = QWidget()
        below = QVBoxLayout(cells)
        below.setContentsMargins(0, 0, 0, 0)
        below.addWidget(
            self._group(
                say("Readings of its resistance"), LeftOut(self.readings, self), self.readings, self.aside
            )
        )
        below.addWidget(self._group(say("Cell readings"), self.cells))
        for table in (self.readings, self.cells):
            table.setMinimumHeight(self.fontMetrics().height() * 8)
        self.arrange(
            (
                ((verdicts, resistance), (self.entry, capacity)),
                ((verdicts, self.entry, resistance, capacity),),
            ),
            above=self._head(),
            below=cells,
        )

    def _head(self) -> QWidget:
        head = QWidget()
        column = QVBoxLayout(head)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(4)
        column.addWidget(self.heading)
        column.addWidget(self.where)
        column.addLayout(FlowRow(*self.buttons.values(), self.story))
        return head

    def _group(self, title: str, *widgets: QWidget) -> QGroupBox:
        box = QGroupBox(title)
        column = QVBoxLayout(box)
        for widget in widgets:
            column.addWidget(widget)
        return box

    def show_case(self, case: PackCase) -> None:
        """Show this pack."""
        self.case = case
        self._show()

    def _show(self) -> None:
        case = self.case
        if case is None:
            return
        today, units = self._desk.today, self._desk.view.reader
        pack = case.pack
        self.heading.show_markup(
            markup(
                "<span style='font-size:x-large'><b>{tag}</b></span> &nbsp;{title} &nbsp;<b>{state}</b>",
                tag=case.tag,
                title=title_words(case),
                state=state_title(pack.state),
            )
        )
        self.where.setText(self._facts(case))
        self.charged.show_verdict(charge_words(case, today, units))
        self.healthy.show_verdict(health_words(case, today, units))
        self.stored.show_verdict(storage_words(case, self._desk))
        self.charging.setText(charging_words(case, units))
        self.entry.show_case(case)
        for picture, words, trend in (
            (self.resistance, self._resistance_words, resistance_trend(case, today)),
            (self.capacity, self._capacity_words, capacity_trend(case)),
        ):
            picture.show_trend(trend)
            words.setText(put(trend.summary()))
        self._learned = learned_of(case, today)
        self._readings.show_rows(self._learned.readings[::-1])
        self.aside.setEnabled(bool(self._learned.readings) and not self._desk.read_only)
        self._cells.show_rows(sorted(case.cells, key=lambda cell: (cell.read_on, cell.cell), reverse=True))
        for state, button in self.buttons.items():
            button.setEnabled(not self._desk.read_only and state is not pack.state)

    def _facts(self, case: PackCase) -> str:
        pack = case.pack
        if case.place is not None:
            place = say("in {place} since {day}", place=case.place_words, day=case.place.since_on)
        else:
            place = say("bin {bin}", bin=pack.bin) if pack.bin else say("fitted nowhere")
        facts = [
            say("type {code}", code=pack.pack_type),
            place,
            say("bought {day}", day=pack.bought_on) if pack.bought_on else "",
            "" if pack.cycles is None else say_plural("{count} cycle", "{count} cycles", count=pack.cycles),
            say("last charged {day}", day=pack.charged_on) if pack.charged_on else "",
            pack.notes or "",
        ]
        return ", ".join(fact for fact in facts if fact)

    def set_state(self, state: PackState) -> None:
        """Put the pack into another state; undo brings the one before back."""
        case = self.case
        if case is None or self._desk.read_only:
            return
        label = text("Pack {tag}: {state}", tag=case.tag, state=state)
        self._desk.edit(label, lambda edit: edit.set_pack_state(case.tag, state, self._desk.today))

    def turn_aside(self) -> None:
        """Set the chosen reading aside, or take it back in; undo does the opposite."""
        reading = self.readings.current_row
        if reading is None or self._desk.read_only:
            return
        record = reading.record
        if is_aside(record, self._desk.records(SetAside)):
            label = text("Take {reading} back in", reading=reading.name)
            self._desk.edit(label, lambda edit: take_back_in(edit, record))
        else:
            label = text("Set {reading} aside", reading=reading.name)
            self._desk.edit(label, lambda edit: set_aside(edit, record, self._desk.today))

    def open_story(self) -> None:
        """Show where the pack has been."""
        if self.case is not None:
            self._desk.story_wanted.emit(Pack, self.case.tag)
