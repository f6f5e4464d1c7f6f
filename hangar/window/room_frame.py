"""One room: the strip of its pages, and the page that is open."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from hangar.window.kit.aircraft_head import AircraftHead
from hangar.window.kit.desk import Desk
from hangar.window.kit.strip import JoinedStrip, PageStack, RoomyPages, StripPages
from hangar.window.kit.words import page_titles


class RoomFrame(QWidget):
    """Shows the pages given to it; one that is turned by a strip itself lends it to the line of the room.

    Signals: ``asked(page)`` when another page is wanted.
    """

    asked = Signal(int)

    def __init__(
        self,
        desk: Desk,
        title: str,
        numbers: Sequence[int],
        parent: QWidget | None = None,
        *,
        has_head: bool = False,
    ) -> None:
        super().__init__(parent)
        self._numbers = tuple(numbers)
        self._lent: dict[QWidget, QWidget] = {}
        self.pages = PageStack()
        self.strip = JoinedStrip(title)
        self._line = QWidget()
        self._row = QHBoxLayout(self._line)
        self._row.setContentsMargins(12, 8, 12, 4)
        self._row.addWidget(self.strip)
        self._row.addStretch(1)
        titles = page_titles()
        for number in self._numbers:
            self.strip.add(titles[number])
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        if has_head:
            column.addWidget(AircraftHead(desk))
        column.addWidget(self._line)
        self._line.setVisible(len(self._numbers) > 1)
        column.addWidget(RoomyPages(self.pages), 1)
        self.strip.changed.connect(lambda at: self.asked.emit(self._numbers[at]))

    def mark(self, number: int) -> None:
        """Mark a page as the one that is open, without asking for it."""
        self.strip.blockSignals(True)
        self.strip.choose(self._numbers.index(number))
        self.strip.blockSignals(False)

    def show_page(self, number: int, page: QWidget) -> None:
        """Show a page."""
        self.mark(number)
        if self.pages.indexOf(page) < 0:
            self.pages.addWidget(page)
            if isinstance(page, StripPages) and len(self._numbers) > 1:
                self._lent[page] = page.lend_line()
                self._row.addWidget(self._lent[page])
        self.pages.setCurrentWidget(page)
        for lender, line in self._lent.items():
            line.setVisible(lender is page)
