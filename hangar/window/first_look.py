"""The Flight Line as it is shown while the fleet is still being opened: nothing is judged yet."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtCore import QRectF, Qt, Signal
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QWidget

from hangar.base.outlines import outline_for
from hangar.parts.choices import AircraftState
from hangar.store.glance import Glimpse
from hangar.window.flight_line.card import Card, card_size, draw_card, filter_height
from hangar.window.kit.looks import Look
from hangar.window.kit.words import room_titles, say, word_of

ITEM_HIGH, ITEM_LEFT, LIST_WIDER, MENUS_HIGHER = 22, 18, 48, 4
"""What the list of rooms and the menus add to their text, so that nothing jumps when they take over."""


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

    def __init__(self, look: Look, glimpses: Iterable[Glimpse]) -> None:
        super().__init__()
        self._look = look
        self._top = 0.0
        self.make_room_for_menus(True)
        self.cards = tuple(first_card(glimpse) for glimpse in glimpses)
        self.setAccessibleName(", ".join(card.spoken for card in self.cards))

    def make_room_for_menus(self, is_wanted: bool) -> None:
        """Leave room above for the menus that come a moment later, or stop leaving it."""
        self._top = float(self.fontMetrics().height() + MENUS_HIGHER) if is_wanted else 0.0
        self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.translate(0, self._top)
        left = self._draw_rooms(painter)
        self._draw_cards(painter, left)
        painter.end()
        self.painted.emit()

    def _draw_rooms(self, painter: QPainter) -> float:
        metrics = self.fontMetrics()
        titles = room_titles()
        width = max(metrics.horizontalAdvance(f"{title}  (888)") for title in titles) + LIST_WIDER
        high = metrics.height() + ITEM_HIGH
        painter.setFont(self.font())
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(self._look.accent))
        painter.drawRoundedRect(QRectF(6, 2, width - 12, high - 4), 6, 6)
        for at, title in enumerate(titles):
            painter.setPen(QColor(self._look.ink if at else self._look.on_accent))
            room = QRectF(ITEM_LEFT, at * high, width - ITEM_LEFT, high)
            painter.drawText(room, Qt.AlignmentFlag.AlignVCenter, title)
        return float(width)

    def _draw_cards(self, painter: QPainter, left: float) -> None:
        room = self.width() - left - 12
        size = card_size(int(room), self.font())
        abreast = max(1, int(room // size.width()))
        edge = QPen(QColor(self._look.raised), 1.5)
        above = 6 + filter_height(self.fontMetrics())
        for at, card in enumerate(self.cards):
            top = above + size.height() * (at // abreast)
            if top > self.height():
                return
            place = QRectF(left + 6 + size.width() * (at % abreast), top, size.width(), size.height())
            draw_card(painter, place, card, self._look, self.font(), edge)
