"""The Flight Line: one card for each aircraft with its picture, state and findings."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import (
    QAbstractListModel,
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    QRectF,
    QSize,
    Qt,
    Signal,
)
from PySide6.QtGui import QColor, QFont, QFontMetrics, QPainter, QPen, QResizeEvent
from PySide6.QtWidgets import (
    QApplication,
    QListView,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QVBoxLayout,
    QWidget,
)

from hangar.parts import Aircraft
from hangar.parts.outlines import outline_of
from hangar.rules.finding import Level
from hangar.window.aircraft_words import (
    due_words,
    failure_words,
    last_flight_words,
    state_words,
    verdict_words,
)
from hangar.window.desk import Desk
from hangar.window.judging import Judgement, count_levels
from hangar.window.level_marks import draw_mark
from hangar.window.outlines import draw_outline
from hangar.window.words import level_count, say, word_of

CARD_ROLE = Qt.ItemDataRole.UserRole + 1
_TOP = QModelIndex()
_Index = QModelIndex | QPersistentModelIndex


@dataclass(frozen=True)
class Card:
    """What one card shows."""

    aircraft: Aircraft
    judgement: Judgement | None
    lines: tuple[str, ...]

    @property
    def spoken(self) -> str:
        """The card read out."""
        airframe = self.aircraft.airframe
        counts = ", ".join(
            level_count(level, count)
            for level, count in count_levels(self.judgement.findings if self.judgement else ()).items()
            if count
        )
        parts = (f"{airframe.code} {airframe.name}", word_of(airframe.aircraft_class), *self.lines, counts)
        return ". ".join(part for part in parts if part)


class CardsModel(QAbstractListModel):
    """All aircraft as cards, filled in as the judgements come."""

    def __init__(self, desk: Desk, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._cards: tuple[Card, ...] = ()
        desk.touched.connect(self.read_again)
        desk.judged.connect(self._judged)
        desk.view.changed.connect(self._repaint)
        self.read_again()

    def read_again(self) -> None:
        """Read all aircraft; the cursor stays when the same aircraft are there."""
        cards = tuple(self._card(aircraft) for aircraft in self._desk.read_all())
        same = [card.aircraft.code for card in cards] == [card.aircraft.code for card in self._cards]
        if same:
            self._cards = cards
            self._repaint()
            return
        self.beginResetModel()
        self._cards = cards
        self.endResetModel()

    def _card(self, aircraft: Aircraft) -> Card:
        judgement = self._desk.known(aircraft.code)
        lines = (
            state_words(aircraft, judgement.findings if judgement else None),
            failure_words(self._desk.failure(aircraft.code)) or verdict_words(judgement),
            last_flight_words(aircraft),
            due_words(judgement),
        )
        return Card(aircraft, judgement, lines)

    def _judged(self, code: str) -> None:
        for at, card in enumerate(self._cards):
            if card.aircraft.code == code:
                fresh = self._card(self._desk.aircraft(code))
                self._cards = (*self._cards[:at], fresh, *self._cards[at + 1 :])
                self.dataChanged.emit(self.index(at), self.index(at))

    def _repaint(self) -> None:
        if self._cards:
            self.dataChanged.emit(self.index(0), self.index(len(self._cards) - 1))

    def rowCount(self, parent: _Index = _TOP) -> int:
        return 0 if parent.isValid() else len(self._cards)

    def data(self, index: _Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        if not index.isValid():
            return None
        card = self._cards[index.row()]
        if role == CARD_ROLE:
            return card
        if role == Qt.ItemDataRole.DisplayRole:
            return f"{card.aircraft.code} {card.aircraft.airframe.name}"
        return card.spoken if role == Qt.ItemDataRole.AccessibleTextRole else None


class CardPainter(QStyledItemDelegate):
    """Draws one card."""

    def __init__(self, desk: Desk, view: QListView) -> None:
        super().__init__(view)
        self._desk = desk
        self._view = view

    def sizeHint(self, _option: QStyleOptionViewItem, _index: _Index) -> QSize:
        return self._view.gridSize()

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: _Index) -> None:
        card = index.data(CARD_ROLE)
        look = self._desk.view.look
        box = QRectF(option.rect).adjusted(6, 6, -6, -6)
        state = option.state
        focused = bool(state & QStyle.StateFlag.State_HasFocus)
        chosen = bool(state & QStyle.StateFlag.State_Selected)
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(QColor(look.accent if focused or chosen else look.raised), 3 if focused else 1.5))
        painter.setBrush(QColor(look.paper))
        painter.drawRoundedRect(box, 10, 10)
        picture = box.adjusted(10, 12, 0, -12)
        picture.setWidth(box.width() * 0.24)
        draw_outline(painter, picture, outline_of(card.aircraft), look)
        self._write(painter, card, box.adjusted(box.width() * 0.30, 12, -12, -10))
        painter.restore()

    def _write(self, painter: QPainter, card: Card, room: QRectF) -> None:
        look = self._desk.view.look
        font = QApplication.font()
        step = QFontMetrics(font).height() * 1.12
        airframe = card.aircraft.airframe
        title = f"{airframe.code}  {airframe.name}"
        top = _line(painter, title, room, room.top(), _sized(font, 1.18, True), look.ink) + 2
        top = _line(painter, word_of(airframe.aircraft_class), room, top, font, look.soft)
        state, verdict, flown, due = card.lines
        warned = verdict == say("Do not fly before the warnings are cured")
        top = _line(painter, state, room, top + step * 0.25, _sized(font, 1.0, True), look.ink)
        if card.judgement is None:
            _line(painter, verdict, room, top, font, look.soft)
        elif warned or any(count_levels(card.judgement.findings).values()):
            top = self._counts(painter, card.judgement, room, top + step * 0.1)
        if card.judgement is not None and not warned:
            top = _line(painter, verdict, room, top, font, look.soft)
        small = _sized(font, 0.92, False)
        line = QFontMetrics(small).height()
        _line(painter, flown, room, room.bottom() - 2 * line, small, look.soft)
        _line(painter, due, room, room.bottom() - line, small, look.soft)

    def _counts(self, painter: QPainter, judgement: Judgement, room: QRectF, top: float) -> float:
        """Marks with their counts in words, two in a row."""
        look = self._desk.view.look
        font = QApplication.font()
        metrics = QFontMetrics(font)
        size = metrics.height() * 1.0
        across, left = room.width() / 2, room.left()
        shown = [(level, count) for level, count in count_levels(judgement.findings).items() if count]
        for at, (level, count) in enumerate(shown):
            x, y = left + across * (at % 2), top + metrics.height() * 1.28 * (at // 2)
            draw_mark(painter, QRectF(x, y, size, size), level, look)
            cell = QRectF(x + size * 1.35, y, across - size * 1.35, size)
            strong = _sized(font, 1.0, level is Level.WARNING)
            _line(painter, level_count(level, count), cell, y, strong, look.levels[level].words)
        return top + metrics.height() * 1.28 * ((len(shown) + 1) // 2)


def _sized(font: QFont, factor: float, bold: bool) -> QFont:
    sized = QFont(font)
    sized.setPointSizeF(font.pointSizeF() * factor)
    sized.setBold(bold)
    return sized


def _line(painter: QPainter, text: str, room: QRectF, top: float, font: QFont, colour: str) -> float:
    """Write one line, cut with an ellipsis where it is too long; returns where the next one begins."""
    painter.setFont(font)
    painter.setPen(QColor(colour))
    metrics = QFontMetrics(font)
    shown = metrics.elidedText(text, Qt.TextElideMode.ElideRight, int(room.width()))
    painter.drawText(
        QRectF(room.left(), top, room.width(), metrics.height()),
        Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter,
        shown,
    )
    return top + metrics.height()


class CardsView(QListView):
    """Cards beside and below each other, as many abreast as there is room for."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setViewMode(QListView.ViewMode.IconMode)
        self.setResizeMode(QListView.ResizeMode.Adjust)
        self.setMovement(QListView.Movement.Static)
        self.setUniformItemSizes(True)
        self.setVerticalScrollMode(QListView.ScrollMode.ScrollPerPixel)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOn)
        self.setStyleSheet("QListView { background: transparent; border: none; }")

    def resizeEvent(self, event: QResizeEvent) -> None:
        self.fit_cards()
        super().resizeEvent(event)

    def fit_cards(self) -> None:
        """Share the width out among the cards abreast."""
        metrics = QFontMetrics(QApplication.font())
        least = metrics.horizontalAdvance(say("No open warnings on the data entered")) * 1.5
        room = self.viewport().width() - 2
        abreast = max(1, int(room // least))
        self.setGridSize(QSize(room // abreast, round(metrics.height() * 9.3) + 42))


class FlightLine(QWidget):
    """The overview. Signals: ``aircraft_opened(code)``."""

    aircraft_opened = Signal(str)

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.cards = CardsView()
        self.cards.setAccessibleName(self.tr("Aircraft of this fleet"))
        self.cards.setModel(CardsModel(desk, self))
        self.cards.setItemDelegate(CardPainter(desk, self.cards))
        self.setFocusProxy(self.cards)
        column = QVBoxLayout(self)
        column.setContentsMargins(6, 6, 6, 6)
        column.addWidget(self.cards)
        self.cards.activated.connect(self._open)
        self.cards.clicked.connect(self._open)
        desk.view.changed.connect(self.cards.fit_cards)

    def _open(self, index: QModelIndex) -> None:
        self.aircraft_opened.emit(index.data(CARD_ROLE).aircraft.code)
