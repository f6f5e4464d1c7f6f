"""A table that shows as many columns as the width has room for, the ones that matter most first."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QWidget

from hangar.window.tables.rows_model import RowsModel
from hangar.window.tables.rows_view import RowsView

_GOOD_LETTERS, _FEW_LETTERS, _LEAST_LETTERS = 20, 15, 9
"""Letters that columns of words keep while a lesser column can give way, while any can, and when none can."""
_TELLING = 9
"""From this order on a column gives way only for the few letters."""


class AdaptiveTable(RowsView):
    """A table that never scrolls sideways unless every column is asked for.

    Signals: ``columns_left_out(int)`` with how many columns there is no room for.
    """

    columns_left_out = Signal(int)

    def __init__(self, model: RowsModel[Any], name: str, parent: QWidget | None = None) -> None:
        self._shows_all = False
        super().__init__(model, name, parent)

    @property
    def shows_all(self) -> bool:
        """Whether all columns are shown, whatever the width."""
        return self._shows_all

    def show_all(self, wanted: bool) -> None:
        """Show all columns and scroll, or those that there is room for."""
        self._shows_all = wanted
        self.fit_columns()

    @property
    def left_out(self) -> tuple[str, ...]:
        """Headings of the columns that there is no room for."""
        columns = enumerate(self.rows_model.columns)
        return tuple(one_line(column.heading) for at, column in columns if self.isColumnHidden(at))

    def fit_columns(self) -> None:
        """Make the columns as wide as their words, then let the least telling give way to the width."""
        columns = self.rows_model.columns
        before = self.left_out
        for at in range(len(columns)):
            self.setColumnHidden(at, False)
        super().fit_columns()
        if not self._shows_all:
            self._narrow()
        if self.left_out != before:
            self.columns_left_out.emit(len(self.left_out))

    def _narrow(self) -> None:
        """Leave columns out, in their order, until the rest fits with the words cut; numbers never are."""
        columns = self.rows_model.columns
        shown = set(range(len(columns)))
        words = [at for at, column in enumerate(columns) if not column.number and not column.gives_way]
        room = self.viewport().width()
        letter = self.fontMetrics().averageCharWidth()
        full = {at: self.columnWidth(at) for at in words}
        going = sorted((column.gives_way, at) for at, column in enumerate(columns) if column.gives_way)
        for order, at in going:
            kept = letter * (_FEW_LETTERS if order >= _TELLING else _GOOD_LETTERS)
            spare = sum(max(0, wide - kept) for wide in full.values())
            if sum(self.columnWidth(each) for each in shown) - spare <= room:
                break
            shown.discard(at)
            self.setColumnHidden(at, True)
        over = sum(self.columnWidth(at) for at in shown) - room
        for letters in (_GOOD_LETTERS, _FEW_LETTERS, _LEAST_LETTERS):
            # The servo first: its type is on the plan's tips and in the findings as well.
            for at in reversed(words):
                cut = max(0, min(over, self.columnWidth(at) - letter * letters))
                self.setColumnWidth(at, self.columnWidth(at) - cut)
                over -= cut

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        if event.oldSize().width() != event.size().width():
            self.fit_columns()


def one_line(heading: str) -> str:
    """A heading without its line breaks."""
    return heading.replace("\n", " ")
