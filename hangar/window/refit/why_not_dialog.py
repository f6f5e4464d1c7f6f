"""Why the types that a rung does not take are not taken, each with its first reason."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QDialog, QDialogButtonBox, QVBoxLayout, QWidget

from hangar.window.kit.desk import Desk
from hangar.window.kit.plain_words import PlainLabel
from hangar.window.kit.words import put, say
from hangar.window.refit.refit_search import RefitSearch
from hangar.window.tables.columns import Column
from hangar.window.tables.rows_model import RowsModel
from hangar.window.tables.rows_view import RowsView

if TYPE_CHECKING:
    from hangar.refit.refusal import Refusal

Asked = Callable[[Callable[[], bool]], object]


class WhyNotDialog(QDialog):
    """The types of the library at one place; it is worked out beside the window."""

    def __init__(self, desk: Desk, place: str, asked: Asked, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle(say("Why not another type at {place}?", place=place))
        self.resize(900, 480)
        self.summary = PlainLabel(say("Working it out…"), wordWrap=True)
        self.model: RowsModel[tuple[int, Refusal]] = RowsModel(desk, _columns(), lambda row: row[0], self)
        self.table = RowsView(self.model, say("Types that are not taken"))
        self.table.choose_whole_rows()
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Close)
        buttons.rejected.connect(self.reject)
        column = QVBoxLayout(self)
        column.addWidget(self.summary)
        column.addWidget(self.table, 1)
        column.addWidget(buttons)
        self.search = RefitSearch(desk)
        self.search.found.connect(self.show_refusals)
        self.search.failed.connect(desk.trouble)
        self.finished.connect(self.search.leave)
        self.search.start(lambda _progress, stop: asked(stop))

    def show_refusals(self, refusals: tuple[Refusal, ...]) -> None:
        """Show them, those that could be fitted first."""
        words = say("Those that could be fitted come first, each judged in the place of what is taken.")
        self.summary.setText(words if refusals else say("No servo is chosen there."))
        self.model.show_rows(enumerate(refusals))


def _columns() -> tuple[Column[tuple[int, Refusal]], ...]:
    return (
        Column(say("Type"), lambda row, _units: put(row[1].what)),
        Column(
            say("Reason"), lambda row, _units: put(row[1].why), tip=lambda row: put(row[1].why), wraps=True
        ),
    )
