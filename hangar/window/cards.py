"""Cards of aircraft: what one shows, the list of them, and how they are drawn."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from PySide6.QtCore import QAbstractListModel, QModelIndex, QPersistentModelIndex, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFont, QFontMetrics, QPainter, QPen, QResizeEvent
from PySide6.QtWidgets import (
    QApplication,
    QListView,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QWidget,
)

from hangar.base.outlines import load_outline
from hangar.window.level_marks import draw_mark
from hangar.window.outlines import draw_outline
from hangar.window.view_settings import ViewSettings
from hangar.window.words import level_count, say

CARD_ROLE = Qt.ItemDataRole.UserRole + 1
_TOP = QModelIndex()
_Index = QModelIndex | QPersistentModelIndex


@dataclass(frozen=True, kw_only=True)
class Card:
    """What a card shows of one aircraft, all in words; ``counts`` are open findings by level."""

    code: str
    name: str
    kind: str
    outline: str
    state: str
    verdict: str
    flown: str
    due: str = ""
    counts: tuple[tuple[str, int], ...] = ()

    @property
    def spoken(self) -> str:
        """The card read out."""
        counts = ", ".join(level_count(level, count) for level, count in self.counts)
        parts = (
            f"{self.code} {self.name}",
            self.kind,
            self.state,
            self.verdict,
            counts,
            self.flown,
            self.due,
        )
        return ". ".join(part for part in parts if part)


class CardList(QAbstractListModel):
    """Cards in a row; the cursor stays while the same aircraft are there."""

    def __init__(self, cards: Iterable[Card] = (), parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._cards = tuple(cards)

    @property
    def cards(self) -> tuple[Card, ...]:
        """The cards shown."""
        return self._cards

    def show_cards(self, cards: Iterable[Card]) -> None:
        """Show these cards instead."""
        fresh = tuple(cards)
        if [card.code for card in fresh] != [card.code for card in self._cards]:
            self.beginResetModel()
            self._cards = fresh
            self.endResetModel()
            return
        before, self._cards = self._cards, fresh
        for at, card in enumerate(fresh):
            if card != before[at]:
                self.dataChanged.emit(self.index(at), self.index(at))

    def rowCount(self, parent: _Index = _TOP) -> int:
        return 0 if parent.isValid() else len(self._cards)

    def data(self, index: _Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        if not index.isValid():
            return None
        card = self._cards[index.row()]
        if role == CARD_ROLE:
            return card
        if role == Qt.ItemDataRole.DisplayRole:
            return f"{card.code} {card.name}"
        return card.spoken if role == Qt.ItemDataRole.AccessibleTextRole else None


class CardsView(QListView):
    """Cards beside and below each other, as many abreast as there is room for."""

    def __init__(self, view: ViewSettings, cards: CardList, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName(self.tr("Aircraft of this fleet"))
        self.setViewMode(QListView.ViewMode.IconMode)
        self.setResizeMode(QListView.ResizeMode.Adjust)
        self.setMovement(QListView.Movement.Static)
        self.setUniformItemSizes(True)
        self.setVerticalScrollMode(QListView.ScrollMode.ScrollPerPixel)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOn)
        self.setStyleSheet("QListView { background: transparent; border: none; }")
        self.setModel(cards)
        self.setItemDelegate(CardPainter(view, self))
        view.changed.connect(self.fit_cards)

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


class CardPainter(QStyledItemDelegate):
    """Draws one card."""

    def __init__(self, view: ViewSettings, cards: CardsView) -> None:
        super().__init__(cards)
        self._view = view
        self._cards = cards

    def sizeHint(self, _option: QStyleOptionViewItem, _index: _Index) -> QSize:
        return self._cards.gridSize()

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: _Index) -> None:
        card = index.data(CARD_ROLE)
        look = self._view.look
        box = QRectF(option.rect).adjusted(6, 6, -6, -6)
        focused = bool(option.state & QStyle.StateFlag.State_HasFocus)
        chosen = bool(option.state & QStyle.StateFlag.State_Selected)
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(QColor(look.accent if focused or chosen else look.raised), 3 if focused else 1.5))
        painter.setBrush(QColor(look.paper))
        painter.drawRoundedRect(box, 10, 10)
        picture = box.adjusted(10, 12, 0, -12)
        picture.setWidth(box.width() * 0.24)
        draw_outline(painter, picture, load_outline(card.outline), look)
        self._write(painter, card, box.adjusted(box.width() * 0.30, 12, -12, -10))
        painter.restore()

    def _write(self, painter: QPainter, card: Card, room: QRectF) -> None:
        look = self._view.look
        font = QApplication.font()
        step = QFontMetrics(font).height() * 1.12
        title = f"{card.code}  {card.name}"
        top = _line(painter, title, room, room.top(), _sized(font, 1.18, True), look.ink) + 2
        top = _line(painter, card.kind, room, top, font, look.soft)
        top = _line(painter, card.state, room, top + step * 0.25, _sized(font, 1.0, True), look.ink)
        if card.counts:
            top = self._counts(painter, card, room, top + step * 0.1)
        if "warning" not in dict(card.counts):
            _line(painter, card.verdict, room, top, font, look.soft)
        small = _sized(font, 0.92, False)
        line = QFontMetrics(small).height()
        _line(painter, card.flown, room, room.bottom() - 2 * line, small, look.soft)
        _line(painter, card.due, room, room.bottom() - line, small, look.soft)

    def _counts(self, painter: QPainter, card: Card, room: QRectF, top: float) -> float:
        """Marks with their counts in words, two in a row."""
        look = self._view.look
        font = QApplication.font()
        size = float(QFontMetrics(font).height())
        across, left = room.width() / 2, room.left()
        for at, (level, count) in enumerate(card.counts):
            x, y = left + across * (at % 2), top + size * 1.28 * (at // 2)
            draw_mark(painter, QRectF(x, y, size, size), level, look)
            cell = QRectF(x + size * 1.35, y, across - size * 1.35, size)
            strong = _sized(font, 1.0, level == "warning")
            _line(painter, level_count(level, count), cell, y, strong, look.levels[level].words)
        return top + size * 1.28 * ((len(card.counts) + 1) // 2)


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
