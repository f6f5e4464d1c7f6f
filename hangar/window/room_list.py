"""The list of rooms on the left."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QListWidget, QWidget

from hangar.window.kit.view_settings import ViewSettings
from hangar.window.kit.words import room_titles, say

FLIGHT_LINE, FOLDER, SNAG_SHEET, DUE, FIELD_DAY, SHELF, BAY, SHOPPING, LIBRARY = range(9)
REFITS, SIDES, TRIES, RULES = range(LIBRARY + 1, LIBRARY + 5)


class RoomList(QListWidget):
    """As wide as its longest title, the count behind the Snag Sheet among them."""

    def __init__(self, view: ViewSettings, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("rooms")
        self.setAccessibleName(say("Rooms"))
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.addItems(room_titles())
        self.setCurrentRow(FLIGHT_LINE)
        self._fit()
        view.changed.connect(self._fit)

    def _fit(self) -> None:
        titles = list(room_titles())
        titles[SNAG_SHEET] = f"{titles[SNAG_SHEET]}  (8888)"
        widest = max(map(self.fontMetrics().horizontalAdvance, titles))
        self.setFixedWidth(widest + 48)

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        # Rows that were measured before the window's style came would lie upon each other.
        self.scheduleDelayedItemsLayout()

    def show_count(self, number: int, count: int) -> None:
        """Write a count behind a room's title; none for zero."""
        title = room_titles()[number]
        self.item(number).setText(f"{title}  ({count})" if count else title)
