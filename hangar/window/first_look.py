"""The Flight Line as it is shown while the fleet is still being opened: nothing is judged yet."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from hangar.base.outlines import outline_for
from hangar.store.glance import Glimpse
from hangar.window.cards import Card, CardList, CardsView
from hangar.window.room_list import RoomList
from hangar.window.view_settings import ViewSettings
from hangar.window.words import say, word_of


def first_card(glimpse: Glimpse) -> Card:
    """What can be said of an aircraft before it is looked over."""
    flown = glimpse.last_flown_on
    state = word_of(glimpse.state)
    return Card(
        code=glimpse.code,
        name=glimpse.name,
        kind=word_of(glimpse.aircraft_class),
        outline=outline_for(glimpse.aircraft_class, glimpse.wing_count, glimpse.v_tail),
        state=f"{state}: {glimpse.state_reason}"
        if glimpse.state == "held" and glimpse.state_reason
        else state,
        verdict=say("Looking it over…"),
        flown=say("Last flight {day}").format(day=flown) if flown else say("No flight logged"),
    )


class FirstLook(QWidget):
    """Looks like the rooms to come and cannot be used yet."""

    def __init__(
        self, view: ViewSettings, glimpses: Iterable[Glimpse], parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self.list = CardList((first_card(glimpse) for glimpse in glimpses), self)
        rooms = RoomList(view)
        cards = CardsView(view, self.list)
        for widget in (rooms, cards):
            widget.setEnabled(False)
        line = QWidget()
        column = QVBoxLayout(line)
        column.setContentsMargins(6, 6, 6, 6)
        column.addWidget(cards)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(0)
        row.addWidget(rooms)
        row.addWidget(line, 1)
