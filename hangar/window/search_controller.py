"""The search field above the rooms and the page of what was found."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import QStackedWidget, QWidget

from hangar.window.search_page import SearchField, SearchPage

if TYPE_CHECKING:
    from hangar.window.kit.desk import Desk
    from hangar.window.search_page import FoundRecord


class SearchController(QObject):
    """Owns the field and, once it is used, the page of what was found. Signals: ``chosen(Found)``.

    The page is shown in ``stack`` instead of the room; ``parent`` is where the keys of the field work.
    """

    chosen = Signal(object)

    def __init__(self, desk: Desk, stack: QStackedWidget, parent: QWidget) -> None:
        super().__init__(parent)
        self._desk, self._stack = desk, stack
        self._before: QWidget | None = None
        self._page: SearchPage | None = None
        self.field = SearchField()
        self.field.asked.connect(self.look_for)
        self.field.into_list.connect(self._into_list)
        self.field.left.connect(self.leave)
        QShortcut(QKeySequence(QKeySequence.StandardKey.Find), parent).activated.connect(self.field.begin)

    @property
    def page(self) -> SearchPage:
        """The page of what was found, built when something is first asked for."""
        if self._page is None:
            self._page = SearchPage(self._desk)
            self._page.chosen.connect(self._choose)
            self._stack.addWidget(self._page)
        return self._page

    def look_for(self, text: str) -> None:
        """Show what holds these words instead of the room."""
        if not text.strip():
            self.leave()
            return
        page = self.page
        if self._stack.currentWidget() is not page:
            self._before = self._stack.currentWidget()
            self._stack.setCurrentWidget(page)
        page.look_for(text)

    def leave(self) -> None:
        """Go back to the room that was open."""
        if self._page is not None and self._before is not None:
            if self._stack.currentWidget() is self._page:
                self._stack.setCurrentWidget(self._before)
            self._before = None

    def _into_list(self) -> None:
        if self._page is not None and self._stack.currentWidget() is self._page:
            self._page.table.setFocus()

    def _choose(self, record: FoundRecord) -> None:
        self._before = None
        self.field.clear()
        self.chosen.emit(record)
