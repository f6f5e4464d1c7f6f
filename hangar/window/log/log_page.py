"""The Logbook page: one time line with a filter, quick logging, snags and inspections."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, time
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtGui import QDragEnterEvent, QDropEvent, QKeySequence, QShortcut
from PySide6.QtWidgets import QCheckBox, QDialog, QLineEdit, QPushButton, QVBoxLayout, QWidget

from hangar.acts.flights import MustNotFly, log_flights, next_snag_number, same_again
from hangar.acts.hindrances import Hindrances
from hangar.answers.judging import Judgement
from hangar.base.errors import HangarError
from hangar.base.kept_text import read_kept, said_in
from hangar.base.units import ShowsNumbers
from hangar.parts import Aircraft, BenchCheck, Flight, FlightLog, LoadTest, Record, Snag
from hangar.parts.choices import Severity
from hangar.window.kit.asking_files import ask_open
from hangar.window.kit.desk import Desk
from hangar.window.kit.field_text import LONGEST_HEAD, folded, plain_text
from hangar.window.kit.flow_row import FlowRow
from hangar.window.kit.handed_focus import hand_focus
from hangar.window.kit.plain_words import PlainLabel, plain_tip
from hangar.window.kit.words import put, say, say_plural, sentence_case
from hangar.window.log.flight_log_dialog import LOG_ENDINGS, FlightLogDialog, dropped_log
from hangar.window.log.log_dialogs import CloseSnagDialog, InspectionDialog
from hangar.window.log.logbook_tables import LogbookTables
from hangar.window.log.measured_view import MeasuredView
from hangar.window.log.quick_log import QuickLog
from hangar.window.records.record_dialog import RecordDialog
from hangar.window.tables.columns import Column
from hangar.window.tables.rows_model import RowsModel
from hangar.window.tables.rows_view import RowsView

if TYPE_CHECKING:
    from hangar.rules.finding import Level


_LATE = time(23, 59)


class Entry(StrEnum):
    """Kinds of entry, as the filter names them."""

    FLIGHT = "flight"
    FLIGHT_LOG = "flight log"
    LOAD_TEST = "load test"
    BENCH_CHECK = "bench check"
    RANGE_CHECK = "range check"
    INSPECTION = "inspection"
    SNAG = "snag"


@dataclass(frozen=True)
class LogRow:
    """One entry; ``level`` is the name of a level's mark where the entry calls for one."""

    when: datetime
    entry: Entry
    what: str
    about: str
    remark: str
    record: Record
    level: str = ""
    is_end: bool = False

    @property
    def pack(self) -> str | None:
        """Tag of the pack it is about, if one."""
        return self.record.pack if isinstance(self.record, LoadTest) else None


def log_rows(aircraft: Aircraft, units: ShowsNumbers) -> tuple[LogRow, ...]:
    """Every entry of the log, the newest first."""
    rows = [
        *(_flight(flight, units) for flight in aircraft.flights),
        *(_flight_log(log, units) for log in aircraft.flight_logs),
        *_load_tests(aircraft, units),
        *_bench_checks(aircraft, units),
        *_range_checks(aircraft, units),
        *_inspections(aircraft),
        *_snags(aircraft),
    ]
    return tuple(sorted(rows, key=lambda row: row.when, reverse=True))


def _at(day: date, count: int = 0) -> datetime:
    """A day without a time of its own: after what has one; several of a day keep their order."""
    return datetime.combine(day, time(_LATE.hour, _LATE.minute, min(59, count)))


def _flight(flight: Flight, units: ShowsNumbers) -> LogRow:
    facts = [units.show(flight.minutes_min, "min")]
    if flight.put_back_mah is not None:
        facts.append(say("{charge} put back", charge=units.show(flight.put_back_mah, "mAh")))
    if flight.lowest_v is not None:
        facts.append(say("lowest {volts}", volts=units.show(flight.lowest_v, "V", 3)))
    hurt = say("CRASH") if flight.crashed else say("hard landing") if flight.hard_landing else ""
    remark = ", ".join(part for part in (hurt, put(said_in(flight.remarks))) if part)
    level = "warning" if flight.crashed else "caution" if flight.hard_landing else ""
    what = say("flight {number}: {facts}", number=flight.number, facts=", ".join(facts))
    return LogRow(
        _at(flight.flown_on, flight.number), Entry.FLIGHT, what, flight.packs or "", remark, flight, level
    )


def _flight_log(log: FlightLog, units: ShowsNumbers) -> LogRow:
    from hangar.answers.flight_logs import events_of

    facts = [units.show(log.minutes_min, "min")]
    if log.minimum_v is not None:
        facts.append(say("lowest {volts}", volts=units.show(log.minimum_v, "V", 3)))
    if log.used_mah is not None:
        facts.append(say("{charge} used", charge=units.show(log.used_mah, "mAh")))
    happened = len(events_of(log))
    what = say("flight log {number}: {facts}", number=log.number, facts=", ".join(facts))
    remark = ""
    if happened:
        remark = say_plural("{count} thing to look at", "{count} things to look at", count=happened)
    packs = ", ".join(pack.pack for pack in log.packs)
    level = "caution" if happened else ""
    return LogRow(_at(log.flown_on, log.number), Entry.FLIGHT_LOG, what, packs, remark, log, level)


def _load_tests(aircraft: Aircraft, units: ShowsNumbers) -> Iterator[LogRow]:
    for fed in (fed for path in aircraft.paths for fed in path.packs):
        for test in fed.load_tests:
            words = say(
                "{loaded} at {load}, {rest} at rest",
                loaded=units.show(test.loaded_v, "V", 3),
                load=units.show(test.load_a, "A", 2),
                rest=units.show(test.rest_v, "V", 3),
            )
            yield LogRow(test.tested_at, Entry.LOAD_TEST, words, test.pack, test.by or "", test)


def _bench_checks(aircraft: Aircraft, units: ShowsNumbers) -> Iterator[LogRow]:
    for fit in aircraft.fits:
        for check in fit.bench_checks:
            wrong = _wrong_on_bench(check)
            level = "caution" if wrong else ""
            row_words = _bench_words(check, units)
            yield LogRow(check.checked_at, Entry.BENCH_CHECK, row_words, fit.code, wrong, check, level)


def _bench_words(check: BenchCheck, units: ShowsNumbers) -> str:
    neutral, end_a, end_b = (
        units.show(value, "mA") if value else ""
        for value in (check.neutral_ma, check.end_a_ma, check.end_b_ma)
    )
    readings = (
        neutral and say("{value} at neutral", value=neutral),
        end_a and say("{value} at end A", value=end_a),
        end_b and say("{value} at end B", value=end_b),
    )
    return ", ".join(filter(None, readings)) or say("bench check")


def _wrong_on_bench(check: BenchCheck) -> str:
    signs = (
        (check.jitter is True, say("jitter")),
        (check.direction_ok is False, say("wrong direction")),
        (check.centre_ok is False, say("off centre")),
    )
    return ", ".join(words for is_wrong, words in signs if is_wrong)


def _range_checks(aircraft: Aircraft, units: ShowsNumbers) -> Iterator[LogRow]:
    for check in aircraft.range_checks:
        distance = "" if check.distance_m is None else units.show(check.distance_m, "m")
        words = say("passed") if check.passed else say("FAILED")
        what = ", ".join(part for part in (words, distance, check.method or "") if part)
        level = "" if check.passed else "warning"
        yield LogRow(_at(check.checked_on), Entry.RANGE_CHECK, what, check.site or "", "", check, level)


def _inspections(aircraft: Aircraft) -> Iterator[LogRow]:
    words = {True: say("passed"), False: say("NOT PASSED"), None: say("not finished")}
    for inspection in aircraft.inspections:
        due = say("next due {day}", day=inspection.next_due_on) if inspection.next_due_on else ""
        what = ", ".join(part for part in (say(str(inspection.kind)), words[inspection.passed], due) if part)
        level = "caution" if inspection.passed is False else ""
        yield LogRow(
            _at(inspection.inspected_on),
            Entry.INSPECTION,
            what,
            inspection.by or "",
            put(said_in(inspection.findings)),
            inspection,
            level,
        )


_SEVERITY = {Severity.GROUNDS: "warning", Severity.LIMITS: "caution", Severity.NOTE: "advisory"}


def _snags(aircraft: Aircraft) -> Iterator[LogRow]:
    for snag in aircraft.snags:
        level = "" if snag.closed_on else _SEVERITY[snag.severity]
        state = say("closed {day}", day=snag.closed_on) if snag.closed_on else say("open")
        what = say("raised ({severity}): {text}", severity=say(str(snag.severity)), text=read_kept(snag.text))
        raised = _at(snag.raised_on, snag.number)
        yield LogRow(raised, Entry.SNAG, what, snag.part or "", state, snag, level)
        if snag.closed_on is not None:
            closed = say("closed: {text}", text=read_kept(snag.text))
            yield LogRow(
                _at(snag.closed_on, 50),
                Entry.SNAG,
                closed,
                snag.part or "",
                snag.action or "",
                snag,
                is_end=True,
            )


def log_columns() -> tuple[Column[LogRow], ...]:
    """When, which kind, what, about what, remark."""
    return (
        Column(say("When"), lambda row, _units: when_words(row.when), raw=lambda row: row.when.isoformat()),
        Column(say("Entry"), lambda row, _units: say(sentence_case(row.entry)), level=_level),
        Column(
            say("What"), lambda row, _units: sentence_case(row.what), tip=lambda row: row.what, wraps=True
        ),
        Column(folded(say("Pack, part or person"), LONGEST_HEAD), lambda row, _units: row.about, widest=24),
        Column(say("Remark"), lambda row, _units: row.remark, tip=lambda row: row.remark, wraps=True),
    )


def _level(row: LogRow) -> Level | None:
    from hangar.rules.finding import Level

    return Level(row.level) if row.level else None


def when_words(when: datetime) -> str:
    """Day and time; the day alone where no time was noted."""
    return (
        plain_text(when.date())
        if (when.hour, when.minute) == (_LATE.hour, _LATE.minute)
        else plain_text(when)
    )


def log_key(row: LogRow) -> tuple[object, ...]:
    """What tells one entry from another."""
    from hangar.parts.fields import key_of

    return (row.entry, row.is_end, *key_of(row.record))


def open_snag(row: LogRow | None) -> Snag | None:
    """The snag of a row that is still to be closed."""
    record = None if row is None else row.record
    return record if isinstance(record, Snag) and record.closed_on is None else None


class TimeLine(QWidget):
    """Every entry of one aircraft's log, the newest first."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._judgement: Judgement | None = None
        self._model: RowsModel[LogRow] = RowsModel(desk, log_columns(), log_key, self)
        self.table = RowsView(self._model, say("Log"))
        self.table.choose_whole_rows()
        self.none_yet = PlainLabel(
            say("Nothing is logged of this aircraft yet; begin with one of the buttons above."), wordWrap=True
        )
        self.none_yet.setObjectName("quiet")
        self.filter = QLineEdit()
        self.filter.setPlaceholderText(say("Show only entries with…"))
        self.filter.setAccessibleName(say("Filter of the log"))
        self.filter.setClearButtonEnabled(True)
        self.entries = {entry: self._entry_box(entry) for entry in Entry}
        self.log_button = QPushButton(say("&Log a flight…"))
        self.again_button = QPushButton(say("Same &again"))
        self.raise_button = QPushButton(say("&Raise a snag…"))
        self.close_button = QPushButton(say("&Close the snag…"))
        self.inspect_button = QPushButton(say("Enter an &inspection…"))
        self.read_button = QPushButton(say("Read a flight log…"))
        self.show_button = QPushButton(say("Show the flight log…"))
        self._arrange()
        self._connect()

    def _entry_box(self, entry: Entry) -> QCheckBox:
        button = QCheckBox(say(sentence_case(entry)))
        button.setChecked(True)
        button.setAccessibleName(say("Show {what}", what=say(entry)))
        return button

    def _arrange(self) -> None:
        acts, filters = FlowRow(), FlowRow()
        for button in self._buttons():
            button.setEnabled(not self._desk.read_only or button is self.read_button)
            acts.addWidget(button)
        for entry in self.entries.values():
            filters.addWidget(entry)
        filters.addWidget(self.filter)
        column = QVBoxLayout(self)
        column.setContentsMargins(10, 10, 10, 10)
        column.addLayout(acts)
        column.addLayout(filters)
        column.addWidget(self.none_yet)
        column.addWidget(self.table, 1)
        hand_focus(self, self.table)

    def _buttons(self) -> tuple[QPushButton, ...]:
        flights = (self.log_button, self.again_button, self.read_button, self.show_button)
        return (*flights, self.raise_button, self.close_button, self.inspect_button)

    def _connect(self) -> None:
        for button in self.entries.values():
            button.toggled.connect(lambda _on: self._show())
        self.filter.textChanged.connect(self.table.filter_words)
        self.log_button.clicked.connect(self.open_quick_log)
        self.again_button.clicked.connect(self.log_again)
        self.raise_button.clicked.connect(self.open_snag)
        self.close_button.clicked.connect(self.open_close_snag)
        self.inspect_button.clicked.connect(self.open_inspection)
        self.read_button.clicked.connect(self.ask_flight_log)
        self.show_button.clicked.connect(self.open_kept_log)
        self.read_button.setToolTip(say("Choose a logger's file of a flight, or drop it here."))
        self.setAcceptDrops(True)
        self.table.row_chosen.connect(lambda _row: self._snag_chosen())
        self.again_button.setToolTip(say("Log this aircraft's last flight once more (F6)"))
        again = QShortcut(QKeySequence("F6"), self)
        again.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
        again.activated.connect(self.log_again)

    def show_judgement(self, judgement: Judgement) -> None:
        """Show the log of this aircraft."""
        self._judgement = judgement
        self._show()

    def _show(self) -> None:
        if self._judgement is None:
            return
        rows = log_rows(self._judgement.aircraft, self._desk.view.reader)
        wanted = {entry for entry, button in self.entries.items() if button.isChecked()}
        self._model.show_rows(row for row in rows if row.entry in wanted)
        self.none_yet.setVisible(not rows)
        self._snag_chosen()

    def _snag_chosen(self) -> None:
        is_open = open_snag(self.table.current_row) is not None
        self.close_button.setEnabled(is_open and not self._desk.read_only)
        tip = "" if is_open else say("Choose an open snag in the log first.")
        self.close_button.setToolTip(plain_tip(tip))
        row = self.table.current_row
        self.show_button.setEnabled(row is not None and isinstance(row.record, FlightLog))

    @property
    def code(self) -> str:
        """Code of the aircraft shown."""
        return self._judgement.aircraft.code if self._judgement else ""

    def log_again(self) -> None:
        """Log this aircraft's last flight once more, as flown today."""
        if not self.code or self._desk.read_only:
            return
        try:
            flight = same_again(self._desk, self._desk.today, self.code)
            self._desk.do(log_flights, [flight], Hindrances(self._desk.fleet, self._desk.today))
        except MustNotFly as fault:
            self.open_quick_log().ask(fault)
        except HangarError as fault:
            self._desk.trouble.emit(fault)

    def open_quick_log(self) -> QuickLog:
        """Open the three lists of quick logging at this aircraft."""
        dialog = QuickLog(self._desk, self.code or None, self)
        dialog.open()
        return dialog

    def open_snag(self) -> QDialog:
        """Open the form for a snag found today."""
        preset = {
            "aircraft": self.code,
            "raised_on": self._desk.today,
            "number": next_snag_number(self._desk, self.code, self._desk.today),
            "action": None,
            "closed_on": None,
        }
        dialog = RecordDialog(self._desk, Snag, preset, self)
        dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        dialog.open()
        return dialog

    def open_close_snag(self) -> CloseSnagDialog | None:
        """Ask what was done about the chosen snag."""
        snag = open_snag(self.table.current_row)
        if snag is None:
            return None
        dialog = CloseSnagDialog(self._desk, snag, self)
        dialog.open()
        return dialog

    def open_inspection(self) -> InspectionDialog | None:
        """Open the items of an inspection of this aircraft."""
        if self._judgement is None:
            return None
        dialog = InspectionDialog(self._desk, self._judgement, self)
        dialog.open()
        return dialog

    def ask_flight_log(self) -> FlightLogDialog | None:
        """Ask for a logger's file and read it."""
        kinds = say("Tables of loggers ({endings})", endings=" ".join(f"*{name}" for name in LOG_ENDINGS))
        path = ask_open(self, self._desk.view, say("Read a flight log"), kinds)
        return None if path is None else self.open_flight_log(path)

    def open_flight_log(self, path: Path) -> FlightLogDialog | None:
        """Read a logger's file as a flight of this aircraft."""
        if self._judgement is None:
            return None
        title = say("Flight log {file} of {code}", file=path.name, code=self.code)
        dialog = FlightLogDialog(self._desk, title, self)
        dialog.open()
        dialog.read_file(path, self._judgement)
        return dialog

    def open_kept_log(self) -> FlightLogDialog | None:
        """Show what is kept of the chosen log."""
        row = self.table.current_row
        if row is None or not isinstance(row.record, FlightLog):
            return None
        title = say("Flight log {file} of {code}", file=row.record.file_name, code=self.code)
        dialog = FlightLogDialog(self._desk, title, self)
        dialog.show_kept(row.record)
        dialog.open()
        return dialog

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        """Take a logger's file."""
        if dropped_log(event.mimeData()) is not None:
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        """Read the logger's file that was let go here."""
        path = dropped_log(event.mimeData())
        if path is not None:
            event.acceptProposedAction()
            self.open_flight_log(path)


class LogPage(LogbookTables):
    """The time line, and behind it the tables of each kind of record."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(desk, parent)
        self.time_line = TimeLine(desk)
        self.addTab(self.time_line, say("Time line"))
        self.measured = MeasuredView(desk)
        self.measured.lead_on.wanted.connect(lambda: self.setCurrentWidget(self.time_line))
        self.addTab(self.measured, say("Measured and predicted"))
        self.strip.setAccessibleName(say("Tables of the logbook"))

    def show_judgement(self, judgement: Judgement) -> None:
        """Show the log of this aircraft."""
        super().show_judgement(judgement)
        self.time_line.show_judgement(judgement)
        self.measured.show_judgement(judgement)
