"""Next Field Day: choose the aircraft that go along, and see what they need the evening before."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from PySide6.QtCore import Qt, QTimer
from PySide6.QtWidgets import (
    QLineEdit,
    QListWidgetItem,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from hangar.answers.field_day import TakeRow, take_rows
from hangar.answers.judging import Judgement
from hangar.answers.packs import PackCase
from hangar.base.units import ShowsNumbers
from hangar.parts import FedPack
from hangar.parts.choices import PackState
from hangar.parts.thresholds import Thresholds
from hangar.rules.finding import Finding, Level
from hangar.rules.releasing import flight_hindrances, unknown_essentials
from hangar.window.kit.desk import Desk
from hangar.window.kit.field_text import UNKNOWN
from hangar.window.kit.handed_focus import hand_focus
from hangar.window.kit.kept_splitter import KeptSplitter
from hangar.window.kit.plain_words import Markup, MarkupLabel, markup, plain
from hangar.window.kit.strip import StripPages
from hangar.window.kit.words import put, say, say_plural, sentence_case
from hangar.window.log.day_choice import DayChoice
from hangar.window.log.due_list import days_words
from hangar.window.packs.pack_words import charging_words, title_words
from hangar.window.paper.printing import PrintRow, open_print_dialog
from hangar.window.tables.columns import Column
from hangar.window.tables.rows_model import RowsModel
from hangar.window.tables.rows_view import RowsView


@dataclass(frozen=True)
class DayPack:
    """A pack that goes along, with the figures of its test under load."""

    aircraft: str
    feed: str
    fed: FedPack
    is_tested: bool
    load_a: float
    least_v: float
    healthy_v: float | None

    @property
    def pack(self) -> object:
        """The pack."""
        return self.fed.pack

    @property
    def case(self) -> PackCase:
        """The pack as the Battery Shelf knows it."""
        fed = self.fed
        return PackCase(
            fed.pack, fed.pack_type, fed.fit, fed.load_tests, fed.capacity_tests, fed.cells, fed.charges,
            fed.flight_logs, fed.testers, fed.set_aside,
        )  # fmt: skip


def day_packs(judgements: Iterable[Judgement], thresholds: Thresholds) -> tuple[DayPack, ...]:
    """Every pack of these aircraft, with the lines that the field sheet prints for it."""
    return tuple(row for judgement in judgements for row in _packs_of(judgement, thresholds))


def _packs_of(judgement: Judgement, thresholds: Thresholds) -> Iterator[DayPack]:
    from hangar.answers.case import AircraftCase
    from hangar.answers.checklists import test_load_a
    from hangar.survey.packs import load_test_lines

    aircraft = judgement.aircraft
    load_a = test_load_a(aircraft.airframe.aircraft_class, thresholds)
    case = AircraftCase(judgement=judgement)
    tested = {fed.pack.tag for _, fed in case.tested_packs}
    for path in aircraft.paths:
        for fed in path.packs:
            lines = load_test_lines(fed, load_a, judgement.conditions)
            yield DayPack(
                aircraft=aircraft.code,
                feed=path.feed.code,
                fed=fed,
                is_tested=fed.pack.tag in tested,
                load_a=load_a,
                least_v=lines.least_v,
                healthy_v=None if lines.is_typical else lines.ready_v,
            )


def charge_columns() -> tuple[Column[DayPack], ...]:
    """What to charge and how."""
    return (
        Column(say("Pack"), lambda row, _units: row.fed.pack.tag, level=_unfit),
        Column(say("Where"), lambda row, _units: f"{row.aircraft} {row.feed}"),
        Column(say("What it is"), lambda row, _units: title_words(row.case)),
        Column(
            say("Last charged"),
            lambda row, _units: str(row.fed.pack.charged_on or UNKNOWN),
            raw=lambda row: row.fed.pack.charged_on,
        ),
        Column(say("To charge it"), lambda row, units: charging_words(row.case, units), widest=90),
    )


def _unfit(row: DayPack) -> Level | None:
    unfit = row.fed.pack.state in (PackState.QUARANTINE, PackState.RETIRED)
    return Level.WARNING if unfit or row.fed.pack.swollen or row.fed.pack.crashed else None


def load_test_columns() -> tuple[Column[DayPack], ...]:
    """How to test under load and what to read at the least."""
    return (
        Column(say("Pack"), lambda row, _units: row.fed.pack.tag),
        Column(say("Where"), lambda row, _units: f"{row.aircraft} {row.feed}"),
        Column(say("Load"), lambda row, units: units.show(row.load_a, "A"), number=True),
        Column(say("Not below"), lambda row, units: units.show(row.least_v, "V", 3), number=True),
        Column(
            say("Charged it shows at least"),
            lambda row, units: UNKNOWN if row.healthy_v is None else units.show(row.healthy_v, "V", 3),
            number=True,
        ),
        Column(say("Last test"), _last_test),
    )


def _last_test(row: DayPack, units: ShowsNumbers) -> str:
    test = row.case.newest_test
    if test is None:
        return say("none on record")
    return say(
        "{day}: {volts} at {load}",
        day=test.tested_at.date(),
        volts=units.show(test.loaded_v, "V", 3),
        load=units.show(test.load_a, "A"),
    )


def take_columns() -> tuple[Column[TakeRow], ...]:
    """What, for which aircraft, where it lies."""
    return (
        Column(say("Take along"), lambda row, _units: put(row.what)),
        Column(say("For"), lambda row, _units: row.why),
        Column(say("Bin"), lambda row, _units: row.where),
    )


@dataclass(frozen=True)
class OpenRow:
    """Something that stands open: a finding, or a thing that falls due by the day."""

    aircraft: str
    what: str
    words: str
    finding: Finding | None = None


def open_rows(judgements: Iterable[Judgement]) -> tuple[OpenRow, ...]:
    """Open warnings and cautions, gravest first."""
    rows = [
        (judgement.aircraft.code, finding) for judgement in judgements for finding in judgement.open_findings
    ]
    grave = [pair for pair in rows if pair[1].level.value in ("warning", "caution")]
    grave.sort(key=lambda pair: (pair[1].level.rank, pair[0]))
    return tuple(
        OpenRow(code, ", ".join(finding.about), put(finding.sentence), finding) for code, finding in grave
    )


def open_columns() -> tuple[Column[OpenRow], ...]:
    """Aircraft with the level's mark, what it is about, the sentence."""
    return (
        Column(
            say("Aircraft"),
            lambda row, _units: row.aircraft,
            level=lambda row: row.finding.level if row.finding else None,
        ),
        Column(say("Concerns"), lambda row, _units: row.what, widest=24),
        Column(say("Finding"), lambda row, _units: row.words, tip=lambda row: row.words),
    )


def due_rows(judgements: Iterable[Judgement], days: int) -> tuple[OpenRow, ...]:
    """What is due by the day, the earliest first."""
    rows = [
        (judgement.aircraft.code, item)
        for judgement in judgements
        for item in judgement.due
        if item.days <= days
    ]
    rows.sort(key=lambda pair: (pair[1].due_on, pair[0]))
    return tuple(
        OpenRow(
            code,
            say("{what} {about}", what=say(sentence_case(str(item.what))), about=put(item.about)),
            say("{left}; {why}", left=days_words(item.days), why=put(item.why)),
        )
        for code, item in rows
    )


def due_columns() -> tuple[Column[OpenRow], ...]:
    """Aircraft, what, how soon and why."""
    return (
        Column(say("Aircraft"), lambda row, _units: row.aircraft),
        Column(say("Due"), lambda row, _units: row.what),
        Column(say("When and why"), lambda row, _units: row.words, tip=lambda row: row.words),
    )


_WITHIN_DAYS = 3


class FieldDay(QWidget):
    """A row an aircraft on the left; lists of what those that go along need on the right."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self.choice = DayChoice(desk)
        self.filter = QLineEdit()
        self.filter.setPlaceholderText(say("Show only aircraft with…"))
        self.filter.setAccessibleName(say("Filter of aircraft"))
        self.filter.setClearButtonEnabled(True)
        self.none_button = QPushButton(say("Take &none"))
        self.message = MarkupLabel(wordWrap=True)
        self.tabs = StripPages(say("Lists for the day"))
        self.tables: dict[str, RowsView] = {}
        self.open = self._table("open", say("Open findings"), open_columns())
        self.charge = self._table("charge", say("Charge"), charge_columns())
        self.test = self._table("test", say("Test under load"), load_test_columns())
        self.due = self._table("due", say("Due"), due_columns())
        self.take = self._table("take", say("Tools and spares"), take_columns())
        self.print_row = PrintRow(desk)
        self.print_row.add_sheet("field", say("&Print all field sheets…"), self.judged)
        self.print_row.add_sheet("charging", say("Print the &charging card…"), self.judged)
        self._arrange()
        self._later = QTimer(self, singleShot=True, interval=30)
        self._later.timeout.connect(self.read_again)
        self.choice.itemChanged.connect(self._ticked)
        self.filter.textChanged.connect(self.choice.filter_words)
        self.choice.card_wanted.connect(self._open_card)
        self.none_button.clicked.connect(lambda: self.choice.choose())
        desk.touched.connect(lambda _touched: self._later.start())
        desk.judged.connect(lambda _code: self._later.start())
        desk.view.changed.connect(self._later.start)
        self.read_again()

    def _table(self, name: str, title: str, columns: tuple[Column[Any], ...]) -> RowsView:
        model: RowsModel[Any] = RowsModel(self._desk, columns, lambda row: row, self)
        view = RowsView(model, title)
        view.choose_whole_rows()
        self.tables[name] = view
        return view

    def _arrange(self) -> None:
        left = QWidget()
        column = QVBoxLayout(left)
        column.setContentsMargins(10, 10, 4, 10)
        for widget in (self.filter, self.choice, self.none_button):
            column.addWidget(widget)
        right = QWidget()
        lists = QVBoxLayout(right)
        lists.setContentsMargins(4, 10, 10, 10)
        for view in self.tables.values():
            self.tabs.addTab(view, view.accessibleName())
        for part in (self.message, self.tabs, self.print_row):
            lists.addWidget(part)
        halves = KeptSplitter(self._desk.view, "field day rows", Qt.Orientation.Horizontal)
        halves.addWidget(left)
        halves.addWidget(right)
        halves.setSizes([620, 630])
        halves.setChildrenCollapsible(False)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(halves)
        hand_focus(self, self.choice)

    def _open_card(self, code: str) -> None:
        """The card of one aircraft: to fly by, or to rectify by where it is held."""
        if self._desk.judgement(code) is not None:
            open_print_dialog(self._desk, "field", (code,), self)

    def _ticked(self, item: QListWidgetItem) -> None:
        self.choice.take(item)
        self._later.start()

    def judged(self) -> tuple[Judgement, ...]:
        """The judgements of the aircraft chosen."""
        judgements = (self._desk.judgement(code) for code in self.choice.codes)
        return tuple(judgement for judgement in judgements if judgement is not None)

    def read_again(self) -> None:
        """Make all lists again for the aircraft chosen."""
        self.choice.read_again()
        self.choice.filter_words(self.filter.text())
        judged = self.judged()
        packs = day_packs(judged, self._desk.basis().thresholds)
        self.open.rows_model.show_rows(open_rows(judged))
        self.charge.rows_model.show_rows(packs)
        self.test.rows_model.show_rows(row for row in packs if row.is_tested)
        self.due.rows_model.show_rows(due_rows(judged, _WITHIN_DAYS))
        aircraft = [judgement.aircraft for judgement in judged]
        self.take.rows_model.show_rows(take_rows(aircraft, self._desk.basis().library) if aircraft else ())
        for at, view in enumerate(self.tables.values()):
            count = len(view.rows_model.rows)
            self.tabs.setTabText(
                at, f"{view.accessibleName()}  ({count})" if count else view.accessibleName()
            )
        self.message.show_markup(self._words(judged))

    def _words(self, judged: tuple[Judgement, ...]) -> Markup:
        if not judged:
            return plain(say("Tick the aircraft that go along; the lists for the day appear here."))
        codes = ", ".join(judgement.aircraft.code for judgement in judged)
        words = say_plural(
            "{count} aircraft goes along: {codes}.",
            "{count} aircraft go along: {codes}.",
            count=len(judged),
            codes=codes,
        )
        warned = " ".join(self._warnings(judged))
        if warned:
            return markup("{words} <b>{warned}</b>", words=words, warned=warned)
        return plain(f"{words} {say('No open warnings on the data entered.')}")

    def _warnings(self, judged: tuple[Judgement, ...]) -> Iterator[str]:
        """Which must not fly, and which cannot be judged at all."""
        held = [
            judgement.aircraft.code
            for judgement in judged
            if flight_hindrances(judgement.aircraft, judgement.findings)
        ]
        if held:
            yield say("Must not fly as they are: {codes}.", codes=", ".join(held))
        sound = {
            judgement.aircraft.code for judgement in judged if not unknown_essentials(judgement.aircraft)
        }
        unjudged = [code for code in self.choice.codes if code not in sound]
        if unjudged:
            yield say("Cannot be judged: {codes}.", codes=", ".join(unjudged))
