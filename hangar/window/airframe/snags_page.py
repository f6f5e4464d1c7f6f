"""The Snags page: findings of the rules, snags written down by the keeper, what is worth measuring next."""

from __future__ import annotations

from PySide6.QtCore import QEvent, Qt
from PySide6.QtWidgets import QScrollArea, QSplitter, QWidget

from hangar.answers.judging import Judgement
from hangar.parts import Snag
from hangar.window.findings.findings_panel import FindingsPanel
from hangar.window.findings.measure_panel import MeasurePanel
from hangar.window.kit.desk import Desk
from hangar.window.kit.strip import StripPages
from hangar.window.kit.words import say
from hangar.window.records.records_screen import RecordsScreen

_LINES_ABOVE, _LINES_BELOW = 15, 7
"""Lines of text that the findings and the lists below them are never lower than."""


class SnagsPage(QScrollArea):
    """Findings of the rules above; below, snags the keeper wrote down and what is worth measuring next.

    Where large text leaves too few lines to each, the whole page scrolls down.
    """

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self.panel = FindingsPanel(desk)
        self.snags: RecordsScreen | None = None
        self.measure = MeasurePanel(desk)
        self.lists = StripPages(say("Lists below the findings"))
        self._halves = QSplitter(Qt.Orientation.Vertical)
        self._halves.addWidget(self.panel)
        self._halves.setChildrenCollapsible(False)
        self.setWidgetResizable(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFrameShape(QScrollArea.Shape.NoFrame)
        self.setAccessibleName(say("Findings and snags"))
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setWidget(self._halves)
        self.measure.counted.connect(self._count)
        self._leave_room()

    def show_judgement(self, judgement: Judgement) -> None:
        """Show what is wrong with this aircraft, and what is not known of it."""
        code = judgement.aircraft.code
        if self.snags is None:
            self.snags = RecordsScreen(self._desk, Snag, preset={"aircraft": code})
            self.lists.addTab(self.snags, say("Snags"))
            self.lists.addTab(self.measure, say("Worth measuring next"))
            self._halves.addWidget(self.lists)
            self._halves.setSizes([380, 300])
        else:
            self.snags.show_of(aircraft=code)
        self.panel.show_findings(judgement.findings)
        self.measure.show_judgement(judgement)

    def _count(self, count: int) -> None:
        title = say("Worth measuring next")
        self.lists.setTabText(self.lists.indexOf(self.measure), f"{title} ({count})" if count else title)

    def _leave_room(self) -> None:
        line = self.fontMetrics().height()
        self.panel.setMinimumHeight(line * _LINES_ABOVE)
        self.lists.setMinimumHeight(line * _LINES_BELOW)
        bar = self.verticalScrollBar().sizeHint().width()
        self.setMinimumWidth(self._halves.minimumSizeHint().width() + bar)

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange and hasattr(self, "_halves"):
            self._leave_room()
