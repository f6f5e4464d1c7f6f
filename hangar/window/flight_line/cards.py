"""The list of cards on the Flight Line."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtCore import QAbstractListModel, QModelIndex, QPersistentModelIndex, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPen, QResizeEvent
from PySide6.QtWidgets import (
    QApplication,
    QListView,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QWidget,
)

from hangar.window.flight_line.card import Card, card_size, draw_card
from hangar.window.flight_line.card_photos import CardPhotos
from hangar.window.kit.view_settings import ViewSettings
from hangar.window.kit.words import say

CARD_ROLE = Qt.ItemDataRole.UserRole + 1
_TOP = QModelIndex()
_Index = QModelIndex | QPersistentModelIndex


class CardList(QAbstractListModel):
    """Cards in a row; the cursor stays while the same aircraft are there."""

    def __init__(self, cards: Iterable[Card] = (), parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._cards = list(cards)
        self._place = {card.code: at for at, card in enumerate(self._cards)}

    @property
    def cards(self) -> tuple[Card, ...]:
        """The cards shown."""
        return tuple(self._cards)

    def place_of(self, code: str) -> QModelIndex:
        """Where the card of an aircraft is; nowhere when it is not shown."""
        at = self._place.get(code)
        return QModelIndex() if at is None else self.index(at)

    def show_card(self, card: Card) -> None:
        """Show this card in the place of the one that its aircraft has."""
        place = self.place_of(card.code)
        if place.isValid() and self._cards[place.row()] != card:
            self._cards[place.row()] = card
            self.dataChanged.emit(place, place)

    def show_cards(self, cards: Iterable[Card]) -> None:
        """Show these cards instead."""
        fresh = list(cards)
        if [card.code for card in fresh] != [card.code for card in self._cards]:
            self.beginResetModel()
            self._cards = fresh
            self._place = {card.code: at for at, card in enumerate(fresh)}
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

    def __init__(
        self,
        view: ViewSettings,
        cards: CardList,
        photos: CardPhotos | None = None,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self.setAccessibleName(say("Aircraft of this fleet"))
        self.setViewMode(QListView.ViewMode.IconMode)
        self.setResizeMode(QListView.ResizeMode.Adjust)
        self.setMovement(QListView.Movement.Static)
        self.setUniformItemSizes(True)
        self.setVerticalScrollMode(QListView.ScrollMode.ScrollPerPixel)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOn)
        self.setObjectName("cards")
        self.setModel(cards)
        self.setItemDelegate(CardPainter(view, self, photos))
        self._list = cards
        if photos is not None:
            photos.ready.connect(self._draw_again)
        view.changed.connect(self.fit_cards)

    def resizeEvent(self, event: QResizeEvent) -> None:
        self.fit_cards()
        super().resizeEvent(event)

    def _draw_again(self, code: str) -> None:
        self.update(self._list.place_of(code))

    def fit_cards(self) -> None:
        """Share the width out among the cards abreast."""
        self.setGridSize(card_size(self.viewport().width() - 2, QApplication.font()))


class CardPainter(QStyledItemDelegate):
    """Draws one card."""

    def __init__(self, view: ViewSettings, cards: CardsView, photos: CardPhotos | None = None) -> None:
        super().__init__(cards)
        self._photos = photos
        self._view = view
        self._cards = cards

    def sizeHint(self, _option: QStyleOptionViewItem, _index: _Index) -> QSize:
        return self._cards.gridSize()

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: _Index) -> None:
        look = self._view.look
        focused = bool(option.state & QStyle.StateFlag.State_HasFocus)
        chosen = bool(option.state & QStyle.StateFlag.State_Selected)
        edge = QPen(QColor(look.focus if focused or chosen else look.hair), 2 if focused else 1)
        card = index.data(CARD_ROLE)
        photo = self._photos.photo(card.code) if self._photos else None
        draw_card(painter, QRectF(option.rect), card, look, QApplication.font(), edge, photo)
