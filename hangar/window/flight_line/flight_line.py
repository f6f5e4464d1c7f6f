"""The Flight Line: one card for each aircraft with its picture, state and findings."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from PySide6.QtCore import QModelIndex, QPoint, Qt, QTimer, Signal
from PySide6.QtGui import QGuiApplication, QResizeEvent, QShowEvent
from PySide6.QtWidgets import QHBoxLayout, QMenu, QVBoxLayout, QWidget

from hangar.answers.judging import Judgement, count_levels, worst_level
from hangar.parts import Aircraft
from hangar.parts.outlines import first_place, outline_of
from hangar.rules.finding import Level
from hangar.window.flight_line.before_day import BeforeDay
from hangar.window.flight_line.card import Card
from hangar.window.flight_line.card_filter import CardFilter
from hangar.window.flight_line.card_photos import CardPhotos
from hangar.window.flight_line.cards import CARD_ROLE, CardList, CardsView
from hangar.window.flight_line.empty_fleet import EmptyFleet
from hangar.window.kit.counts_strip import (
    due_words,
    failure_words,
    is_held,
    last_flight_words,
    pill_words,
    state_words,
    verdict_words,
    worst_words,
)
from hangar.window.kit.desk import Desk
from hangar.window.kit.due_strip import DueStrip, due_day
from hangar.window.kit.handed_focus import hand_focus
from hangar.window.kit.plain_words import PlainLabel
from hangar.window.kit.words import say, word_of

LATER_MS = 40
"""Judgements that come in one after the other are shown together."""


def later_ms(aircraft: int) -> int:
    """How long to wait for the next judgement before what is gathered of all of them is shown."""
    return LATER_MS + aircraft // 5


WIDE_UNITS, HIGH_UNITS = 1200, 480
"""From so many units on there is room for the pane beside the cards, and for the one below them."""
BESIDE_UNITS, BELOW_UNITS = 300, 150
SHORT_DAYS, LONG_DAYS = 21, 42


@dataclass(frozen=True, slots=True)
class _Made:
    """A card and what it was made from."""

    card: Card
    aircraft: Aircraft
    judgement: Judgement | None
    failure: Exception | None
    today: date

    @property
    def is_judged(self) -> bool:
        """Whether its aircraft was judged, or could not be."""
        return self.judgement is not None or self.failure is not None

    def is_from(
        self, aircraft: Aircraft, judgement: Judgement | None, failure: Exception | None, today: date
    ) -> bool:
        """Whether the card was made from these very things."""
        same = self.aircraft is aircraft and self.judgement is judgement and self.failure is failure
        return same and self.today == today


class FlightLine(QWidget):
    """The overview, filled as judgements come. Signals: ``aircraft_opened(code)``; ``day_wanted()``."""

    aircraft_opened = Signal(str)
    day_wanted = Signal()

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._every: dict[str, _Made] = {}
        self._unjudged: set[str] = set()
        self.filter = CardFilter()
        self.empty = PlainLabel(say("No aircraft is like that; Show all brings the others back."))
        self.empty.setObjectName("quiet")
        self.list = CardList(parent=self)
        self.photos = CardPhotos(desk, self)
        self.cards = CardsView(desk.view, self.list, self.photos)
        self.none_yet = EmptyFleet(desk)
        self.before = BeforeDay(desk)
        self.before.day_wanted.connect(self.day_wanted)
        self.due = DueStrip(desk.view)
        self.due.lane_opened.connect(self.aircraft_opened)
        self.due_pane = QWidget()
        self.due_pane.setObjectName("pane")
        self.due_pane.setAttribute(Qt.WidgetAttribute.WA_StyledBackground)
        self.due_title = PlainLabel()
        self.due_title.setObjectName("lead")
        below = QVBoxLayout(self.due_pane)
        below.setContentsMargins(12, 8, 12, 8)
        below.addWidget(self.due_title)
        below.addWidget(self.due, 1)
        column = QVBoxLayout()
        column.setSpacing(4)
        column.addWidget(self.filter)
        column.addWidget(self.empty)
        column.addWidget(self.cards, 3)
        column.addWidget(self.due_pane, 1)
        column.addWidget(self.none_yet, 4)
        row = QHBoxLayout(self)
        row.setContentsMargins(8, 2, 12, 8)
        row.setSpacing(8)
        row.addLayout(column, 1)
        row.addWidget(self.before)
        self._later = QTimer(self, singleShot=True, interval=LATER_MS)
        self._later.timeout.connect(self._show_around)
        self.filter.changed.connect(self._list)
        self.cards.activated.connect(self._open)
        self.cards.clicked.connect(self._open)
        self.cards.setContextMenuPolicy(Qt.ContextMenuPolicy.CustomContextMenu)
        self.cards.customContextMenuRequested.connect(self._open_menu)
        desk.touched.connect(self.read_again)
        desk.judged.connect(self._judged)
        desk.view.changed.connect(self._say_anew)
        self.read_again()

    def read_again(self) -> None:
        """Read all aircraft; a card is made anew where something it shows was."""
        fleet = self._desk.read_all()
        self._every = {aircraft.code: self._made(aircraft) for aircraft in fleet}
        self._unjudged = {code for code, made in self._every.items() if not made.is_judged}
        self._later.setInterval(later_ms(len(fleet)))
        self.filter.fit_height()
        self._list()

    def _say_anew(self) -> None:
        """In other words or units: every card."""
        self._every = {}
        self.read_again()

    def _made(self, aircraft: Aircraft) -> _Made:
        code, today = aircraft.code, self._desk.today
        judgement, failure = self._desk.known(code), self._desk.failure(code)
        before = self._every.get(code)
        if before is not None and before.is_from(aircraft, judgement, failure, today):
            return before
        return _Made(self._card(aircraft), aircraft, judgement, failure, today)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fit()

    def _fit(self) -> None:
        """The panes beside and below the cards are there where the window has room for them."""
        unit = self._desk.view.points / 10
        window = self.window()
        self.before.setFixedWidth(round(BESIDE_UNITS * unit))
        self.before.setVisible(bool(self._every) and window.width() / unit >= WIDE_UNITS)
        high = self.height() / unit - HIGH_UNITS
        self.due_pane.setVisible(bool(self._every) and high > 0)
        self.due_pane.setMaximumHeight(round(max(BELOW_UNITS, high) * unit))

    def _show_around(self) -> None:
        """What comes due and what to do, once the judgements that came in together are there."""
        if not self.isVisible():
            return
        self.before.read_again()
        due = [judgement for judgement in map(self._desk.known, self._desk.codes()) if judgement]
        due = [judgement for judgement in due if judgement.due]
        room = self.due.lanes_in(self.due_pane.maximumHeight() - 2 * self.due_title.sizeHint().height())
        shown = due
        if len(due) > room:
            soonest = sorted(due, key=lambda judgement: judgement.due[0].days)[:room]
            shown = sorted(soonest, key=lambda judgement: judgement.aircraft.code)
        self.due_title.setText(
            say("What comes due")
            if len(shown) == len(due)
            else say(
                "What comes due on the {shown} of {all} aircraft on which it is due first",
                shown=len(shown),
                all=len(due),
            )
        )
        every = [due_day(judgement.aircraft.code, item) for judgement in shown for item in judgement.due]
        days = LONG_DAYS if self.width() > self.fontMetrics().height() * 90 else SHORT_DAYS
        self.due.show_due([judgement.aircraft.code for judgement in shown], every, self._desk.today, days)

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._fit()
        self._later.start()

    def _judged(self, code: str) -> None:
        made = self._made(self._desk.aircraft(code))
        if code in self._every:
            self._every[code] = made
            self._unjudged.discard(code)
        if self._unjudged and self.filter.shows_all:
            # The order is that of the codes until all is known, so no other card moves.
            self.list.show_card(made.card)
            self._later.start()
        else:
            self._list()

    def _list(self) -> None:
        # In order only when all is known: a card must not jump while the others are looked over.
        every = [made.card for made in self._every.values()]
        shown = self.filter.chosen_of(every, is_judged=not self._unjudged)
        self._later.start()
        self.list.show_cards(shown)
        self.empty.setVisible(bool(self._every) and not shown)
        is_empty = not self._every
        self.none_yet.setVisible(is_empty)
        for part in (self.cards, self.filter):
            part.setVisible(not is_empty)
        hand_focus(self, self.none_yet if is_empty else self.cards)

    def _card(self, aircraft: Aircraft) -> Card:
        judgement = self._desk.known(aircraft.code)
        findings = judgement.findings if judgement else ()
        airframe = aircraft.airframe
        last_flown = max((flight.flown_on for flight in aircraft.flights), default=None)
        next_due = judgement.due[0] if judgement and judgement.due else None
        return Card(
            code=airframe.code,
            name=airframe.name,
            kind=word_of(airframe.aircraft_class),
            outline=outline_of(aircraft).name,
            pill=pill_words(aircraft, judgement.findings if judgement else None),
            state=state_words(aircraft, judgement.findings if judgement else None),
            verdict=failure_words(self._desk.failure(aircraft.code)) or verdict_words(judgement),
            flown=last_flight_words(last_flown),
            due=due_words(judgement),
            counts=tuple((level.value, count) for level, count in count_levels(findings).items() if count),
            worst=worst_words(findings),
            spots=_spots(aircraft, judgement) if judgement else (),
            is_held=is_held(aircraft, judgement.findings if judgement else None),
            state_key=airframe.state.value,
            is_overdue=next_due is not None and next_due.days < 0,
            due_on=next_due.due_on if next_due else None,
            flown_on=last_flown,
        )

    def card_menu(self, card: Card) -> QMenu:
        """What can be done with the aircraft of a card."""
        menu = QMenu(self)
        menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        ways = [(say("Open this aircraft"), lambda: self.aircraft_opened.emit(card.code))]
        if not self._desk.read_only:
            ways += [
                (say("Fit out…"), lambda: self._begin("fit-out", card.code)),
                (say("Copy this aircraft…"), lambda: self._begin("copy", card.code)),
            ]
        ways.append((say("Copy the words"), lambda: QGuiApplication.clipboard().setText(card.spoken)))
        if not self._desk.read_only:
            ways.append(
                (say("&Bring in tables…").replace("&", ""), lambda: self._desk.entry_wanted.emit("table"))
            )
        for words, act in ways:
            menu.addAction(words).triggered.connect(lambda _on=False, act=act: act())
        return menu

    def _begin(self, way: str, code: str) -> None:
        self._desk.current.choose(code, None)
        self._desk.entry_wanted.emit(way)

    def _open_menu(self, where: QPoint) -> None:
        """By the menu key that of the card with the cursor."""
        index = self.cards.indexAt(where)
        index = index if index.isValid() else self.cards.currentIndex()
        if index.isValid():
            self.cards.setCurrentIndex(index)
            self.card_menu(index.data(CARD_ROLE)).popup(self.cards.viewport().mapToGlobal(where))

    def _open(self, index: QModelIndex) -> None:
        self.aircraft_opened.emit(index.data(CARD_ROLE).code)


def _spots(aircraft: Aircraft, judgement: Judgement) -> tuple[tuple[float, float, str], ...]:
    """Where on the outline something is found, the gravest last."""
    outline = outline_of(aircraft)
    levels = [(fit, worst_level(judgement.about(fit.code, fit.tag))) for fit in aircraft.fits]
    spots = [
        (*first_place(outline, fit.position), level)
        for fit, level in levels
        if level in (Level.WARNING, Level.CAUTION)
    ]
    return tuple(
        (across, along, level.value) for across, along, level in sorted(spots, key=lambda spot: -spot[2].rank)
    )
