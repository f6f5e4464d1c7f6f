"""The Flight Line: one card for each aircraft with its picture, state and findings."""

from __future__ import annotations

from PySide6.QtCore import QModelIndex, Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from hangar.answers.judging import count_levels
from hangar.parts import Aircraft
from hangar.parts.outlines import outline_of
from hangar.window.flight_line.card import Card
from hangar.window.flight_line.card_filter import CardFilter
from hangar.window.flight_line.card_photos import CardPhotos
from hangar.window.flight_line.cards import CARD_ROLE, CardList, CardsView
from hangar.window.kit.counts_strip import (
    due_words,
    failure_words,
    last_flight_words,
    state_words,
    verdict_words,
    worst_words,
)
from hangar.window.kit.desk import Desk
from hangar.window.kit.plain_words import PlainLabel
from hangar.window.kit.words import say, word_of


class FlightLine(QWidget):
    """The overview, filled in as the judgements come. Signals: ``aircraft_opened(code)``."""

    aircraft_opened = Signal(str)

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._every: tuple[Card, ...] = ()
        self.filter = CardFilter()
        self.empty = PlainLabel(say("No aircraft is like that; Show all brings the others back."))
        self.empty.setObjectName("quiet")
        self.list = CardList(parent=self)
        self.photos = CardPhotos(desk, self)
        self.cards = CardsView(desk.view, self.list, self.photos)
        self.setFocusProxy(self.cards)
        column = QVBoxLayout(self)
        column.setContentsMargins(6, 6, 6, 6)
        column.setSpacing(0)
        column.addWidget(self.filter)
        column.addWidget(self.empty)
        column.addWidget(self.cards, 1)
        self.filter.changed.connect(self._list)
        self.cards.activated.connect(self._open)
        self.cards.clicked.connect(self._open)
        desk.touched.connect(self.read_again)
        desk.judged.connect(self._judged)
        desk.view.changed.connect(self.read_again)
        self.read_again()

    def read_again(self) -> None:
        """Read all aircraft."""
        self._every = tuple(self._card(aircraft) for aircraft in self._desk.read_all())
        self.filter.fit_height()
        self._list()

    def _judged(self, code: str) -> None:
        self._every = tuple(
            self._card(self._desk.aircraft(code)) if card.code == code else card for card in self._every
        )
        self._list()

    def _list(self) -> None:
        shown = self.filter.chosen_of(self._every)
        self.list.show_cards(shown)
        self.empty.setVisible(bool(self._every) and not shown)

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
            state=state_words(aircraft, judgement.findings if judgement else None),
            verdict=failure_words(self._desk.failure(aircraft.code)) or verdict_words(judgement),
            flown=last_flight_words(last_flown),
            due=due_words(judgement),
            counts=tuple((level.value, count) for level, count in count_levels(findings).items() if count),
            worst=worst_words(findings),
            state_key=airframe.state.value,
            is_overdue=next_due is not None and next_due.days < 0,
            due_on=next_due.due_on if next_due else None,
            flown_on=last_flown,
        )

    def _open(self, index: QModelIndex) -> None:
        self.aircraft_opened.emit(index.data(CARD_ROLE).code)
