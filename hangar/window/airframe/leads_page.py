"""The Leads page: runs with computed drop and current, the cut list with its totals, and all fields."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QSplitter, QTabWidget, QVBoxLayout, QWidget

from hangar.parts import Lead
from hangar.parts.protection import LeadCut, lead_cuts, wiring
from hangar.window.airframe.leads_rows import (
    LeadRow,
    TotalRow,
    cut_columns,
    lead_rows,
    run_columns,
    total_columns,
    total_rows,
)
from hangar.window.kit.desk import Desk
from hangar.window.kit.judging import Judgement
from hangar.window.kit.plain_words import PlainLabel
from hangar.window.kit.words import say
from hangar.window.records.records_screen import RecordsScreen
from hangar.window.tables.all_columns import LeftOut
from hangar.window.tables.rows_model import RowsModel
from hangar.window.tables.rows_view import RowsView


class LeadsPage(QTabWidget):
    """Tables of the leads of one aircraft."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._judgement: Judgement | None = None
        self._cut_for: tuple[LeadCut, ...] | None = None
        self.records: RecordsScreen | None = None
        self._runs: RowsModel[LeadRow] = RowsModel(desk, run_columns(desk), lambda row: row.fit.code, self)
        self._cuts: RowsModel[LeadCut] = RowsModel(desk, cut_columns(), lambda cut: cut.fit.code, self)
        self._totals: RowsModel[TotalRow] = RowsModel(desk, total_columns(), lambda row: row, self)
        self.runs = RowsView(self._runs, say("Runs of the leads"))
        self.cuts = RowsView(self._cuts, say("Cut list"))
        self.totals = RowsView(self._totals, say("Totals of the cut list"))
        self.told = PlainLabel(wordWrap=True)
        self.told.setObjectName("quiet")
        self._all = QWidget()
        self._all_column = QVBoxLayout(self._all)
        self._all_column.setContentsMargins(0, 0, 0, 0)
        self.addTab(self._boxed(LeftOut(self.runs, self), self.runs), say("Runs"))
        self.addTab(self._cut_page(), say("Cut list"))
        self.addTab(self._all, say("All fields"))
        self.tabBar().setAccessibleName(say("Tables of the leads"))
        self.runs.how_asked.connect(desk.how_asked)
        self.currentChanged.connect(self._show)

    def _boxed(self, *widgets: QWidget) -> QWidget:
        page = QWidget()
        column = QVBoxLayout(page)
        column.setContentsMargins(10, 10, 10, 10)
        for widget in widgets:
            column.addWidget(widget)
        return page

    def _cut_page(self) -> QWidget:
        halves = QSplitter(Qt.Orientation.Vertical)
        halves.addWidget(self._boxed(LeftOut(self.cuts, self), self.cuts))
        halves.addWidget(self.totals)
        halves.setSizes([320, 240])
        halves.setChildrenCollapsible(False)
        return self._boxed(halves, self.told)

    def show_judgement(self, judgement: Judgement) -> None:
        """Show the leads of this aircraft."""
        self._judgement = judgement
        self._show()

    def _show(self) -> None:
        if self._judgement is None:
            return
        self._runs.show_rows(lead_rows(self._judgement))
        if self.currentIndex() == 1:
            self._show_cuts(lead_cuts(self._judgement.aircraft))
        elif self.currentIndex() == 2:
            self._show_records(self._judgement.aircraft.code)

    def _show_cuts(self, cuts: tuple[LeadCut, ...]) -> None:
        if cuts == self._cut_for:
            return
        self._cut_for = cuts
        self._cuts.show_rows(cuts)
        self._totals.show_rows(total_rows(cuts))
        assert self._judgement is not None
        without = [fit.code for fit in self._judgement.aircraft.fits if fit.lead is None]
        lines = [say("No lead recorded: {codes}.", codes=", ".join(without))] if without else []
        lines.append(
            say(
                "Allow {waste} % for waste. The same list is printed as File, Print, Cut list.",
                waste=wiring()["waste"]["pct"],
            )
        )
        self.told.setText(" ".join(lines))

    def _show_records(self, code: str) -> None:
        if self.records is None:
            self.records = RecordsScreen(self._desk, Lead, preset={"aircraft": code})
            self._all_column.addWidget(self.records)
        else:
            self.records.show_of(aircraft=code)
