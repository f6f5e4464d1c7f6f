"""The Snags page: findings of the rules, snags written down by the keeper, what is worth measuring next."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QSplitter, QTabWidget, QWidget

from hangar.parts import Snag
from hangar.window.findings.findings_panel import FindingsPanel
from hangar.window.findings.measure_panel import MeasurePanel
from hangar.window.kit.desk import Desk
from hangar.window.kit.judging import Judgement
from hangar.window.records.records_screen import RecordsScreen


class SnagsPage(QSplitter):
    """Findings of the rules above; below, snags the keeper wrote down and what is worth measuring next."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(Qt.Orientation.Vertical, parent)
        self._desk = desk
        self.panel = FindingsPanel(desk)
        self.addWidget(self.panel)
        self.snags: RecordsScreen | None = None
        self.measure = MeasurePanel(desk)
        self.lists = QTabWidget()
        self.lists.setDocumentMode(True)
        self.lists.tabBar().setAccessibleName(self.tr("Lists below the findings"))
        self.measure.counted.connect(self._count)

    def show_judgement(self, judgement: Judgement) -> None:
        """Show what is wrong with this aircraft, and what is not known of it."""
        code = judgement.aircraft.code
        if self.snags is None:
            self.snags = RecordsScreen(self._desk, Snag, preset={"aircraft": code})
            self.lists.addTab(self.snags, self.tr("Snags"))
            self.lists.addTab(self.measure, self.tr("Worth measuring next"))
            self.addWidget(self.lists)
            self.setSizes([380, 300])
        else:
            self.snags.show_of(aircraft=code)
        self.panel.show_findings(judgement.findings)
        self.measure.show_judgement(judgement)

    def _count(self, count: int) -> None:
        title = self.tr("Worth measuring next")
        self.lists.setTabText(self.lists.indexOf(self.measure), f"{title} ({count})" if count else title)
