"""The Flight Line as it is shown while the fleet is still being opened: nothing is judged yet."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtCore import QRectF, Signal
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QWidget

from hangar.base.outlines import outline_for
from hangar.parts.choices import AircraftState
from hangar.store.glance import Glimpse
from hangar.window.flight_line.card import Card, card_size, draw_card, filter_height
from hangar.window.kit.icons import draw_icon
from hangar.window.kit.view_settings import ViewSettings
from hangar.window.kit.words import say, word_of
from hangar.window.room_list import ROOM_ICONS

RAIL_WIDE, LINE_HIGH = 88, 34
"""Units of the rail and of the line of menus to come, so that nothing jumps when they take over."""


def first_card(glimpse: Glimpse) -> Card:
    """What can be said of an aircraft before it is looked over."""
    flown = glimpse.last_flown_on
    return Card(
        code=glimpse.code,
        name=glimpse.name,
        kind=word_of(glimpse.aircraft_class),
        outline=outline_for(glimpse.aircraft_class, glimpse.wing_count, glimpse.v_tail),
        state=_state_words(glimpse.state, glimpse.state_reason),
        verdict=say("Looking it over…"),
        flown=say("Last flight {day}", day=flown) if flown else say("No flight logged"),
    )


def _state_words(state: str, reason: str | None) -> str:
    """The state on record; whether one on the line may stay there is not judged yet."""
    if state == AircraftState.ON_THE_LINE:
        return say("Not judged yet")
    return f"{word_of(state)}: {reason}" if state == AircraftState.HELD and reason else word_of(state)


class FirstLook(QWidget):
    """Drawn like the rooms to come; drawn by hand, because lists cost time before the first paint.

    Signals: ``painted()`` each time it was drawn.
    """

    painted = Signal()

    def __init__(self, view: ViewSettings, glimpses: Iterable[Glimpse]) -> None:
        super().__init__()
        self._look = view.look
        self._view = view
        self._has_frame = True
        self.cards = tuple(first_card(glimpse) for glimpse in glimpses)
        self.setAccessibleName(", ".join(card.spoken for card in self.cards))

    def give_way_to_frame(self) -> None:
        """The menus came above; only the rail is drawn here from now on."""
        self._has_frame = False
        self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        left = self._draw_rooms(painter)
        if self._has_frame:
            painter.translate(0, self._unit(LINE_HIGH))
        self._draw_cards(painter, left)
        painter.end()
        self.painted.emit()

    def _unit(self, units: float) -> float:
        return units * self._view.points / 10

    def _draw_rooms(self, painter: QPainter) -> float:
        """The rail: as wide and in the colours of the one to come."""
        wide = self._unit(RAIL_WIDE)
        painter.fillRect(QRectF(0, 0, wide, self.height()), QColor(self._look.rail))
        side, step = self._unit(26), self._unit(74)
        for at, name in enumerate(ROOM_ICONS):
            place = QRectF((wide - side) / 2, self._unit(16) + at * step, side, side)
            draw_icon(painter, place, name, self._look.rail_ink)
        return wide

    def _draw_cards(self, painter: QPainter, left: float) -> None:
        room = self.width() - left - 12
        size = card_size(int(room), self.font())
        abreast = max(1, int(room // size.width()))
        edge = QPen(QColor(self._look.hair), 1)
        above = 6 + filter_height(self.fontMetrics())
        for at, card in enumerate(self.cards):
            top = above + size.height() * (at // abreast)
            if top > self.height():
                return
            place = QRectF(left + 6 + size.width() * (at % abreast), top, size.width(), size.height())
            draw_card(painter, place, card, self._look, self.font(), edge)
