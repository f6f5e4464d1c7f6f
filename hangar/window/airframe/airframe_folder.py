"""The Airframe room: everything about one aircraft, behind six tabs."""

from __future__ import annotations

from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import QSizePolicy, QTabWidget, QVBoxLayout, QWidget

from hangar.answers.judging import Judgement
from hangar.window.airframe.papers_page import PapersPage
from hangar.window.airframe.particulars_page import ParticularsPage
from hangar.window.airframe.snags_page import SnagsPage
from hangar.window.kit.aircraft_head import AircraftHead
from hangar.window.kit.desk import Desk
from hangar.window.kit.fault_cover import show_page
from hangar.window.kit.handed_focus import hand_focus
from hangar.window.kit.strip import StripPages
from hangar.window.kit.words import say
from hangar.window.linkages.linkages_page import LinkagesPage
from hangar.window.log.log_page import LogPage
from hangar.window.positions.positions_screen import PositionsScreen
from hangar.window.power.power_page import PowerPage
from hangar.window.records.records_page import RADIO_KINDS, RecordsPage


class PagesOfOne(StripPages):
    """Several pages of one aircraft; only the one on top is kept up to date."""

    def __init__(self, desk: Desk, name: str, *pages: tuple[str, QWidget]) -> None:
        super().__init__(name)
        self._desk = desk
        self._judgement: Judgement | None = None
        for title, page in pages:
            self.addTab(page, title)
        self.currentChanged.connect(self._show)

    def show_judgement(self, judgement: Judgement) -> None:
        """Show an aircraft as it was judged last."""
        self._judgement = judgement
        self._show()

    def _show(self) -> None:
        page = self.currentWidget()
        if self._judgement is not None and page is not None:
            show_page(page, self._judgement, self._desk)


class AirframeFolder(QWidget):
    """The current aircraft in its head line, and the pages."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self.head = AircraftHead(desk)
        self.choice, self.counts, self.change = self.head.choice, self.head.counts, self.head.change
        self.tabs = QTabWidget()
        self.tabs.setDocumentMode(True)
        hand_focus(self, self.tabs.tabBar())
        self.positions = PositionsScreen(desk)
        self.power = PowerPage(desk)
        self.linkages = LinkagesPage(desk)
        self.snags = SnagsPage(desk)
        self.logbook = LogPage(desk)
        self.particulars = ParticularsPage(desk)
        self.radio = RecordsPage(desk, RADIO_KINDS)
        self.papers = PapersPage(desk)
        self.data = PagesOfOne(
            desk,
            say("Pages of the particulars"),
            (say("The aircraft"), self.particulars),
            (say("Radio and surfaces"), self.radio),
            (say("Papers"), self.papers),
        )
        self._pages: tuple[tuple[str, QWidget], ...] = (
            (say("Positions"), self.positions),
            (say("Power"), self.power),
            (say("Linkages and leads"), self.linkages),
            (say("Findings"), self.snags),
            (say("Log"), self.logbook),
            (say("Particulars"), self.data),
        )
        for at, (title, page) in enumerate(self._pages):
            self.tabs.addTab(page, title)
            key = QShortcut(QKeySequence(f"Ctrl+{at + 1}"), self)
            key.activated.connect(lambda at=at: self.tabs.setCurrentIndex(at))
        self.tabs.setAccessibleName(say("Pages of this aircraft"))
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.head)
        column.addWidget(self.tabs, 1)
        self._connect()
        self._ask_for_one()
        self._keep_one_current()

    def _connect(self) -> None:
        self.tabs.currentChanged.connect(self._show)
        self.tabs.currentChanged.connect(self._ask_for_one)
        self._desk.current.changed.connect(self._show)
        self._desk.touched.connect(self._touched)
        self._desk.view.changed.connect(self._show)

    @property
    def code(self) -> str | None:
        """Code of the aircraft shown."""
        return self._desk.current.aircraft

    def show_aircraft(self, code: str) -> None:
        """Make this aircraft the current one, and show it."""
        if code == self.code:
            self._show()
        else:
            self._desk.current.choose(code)

    def open_page(self, page: QWidget) -> None:
        """Turn to a page, on whichever tab it lies."""
        for at in range(self.tabs.count()):
            tab = self.tabs.widget(at)
            if tab is page or (tab is not None and tab.isAncestorOf(page)):
                self.tabs.setCurrentIndex(at)
                if isinstance(tab, StripPages) and tab is not page:
                    tab.setCurrentWidget(page)

    def _ask_for_one(self) -> None:
        """Of the tabs only the one on top asks for height."""
        for _title, page in self._pages:
            is_shown = page is self.tabs.currentWidget()
            policy = page.sizePolicy()
            policy.setVerticalPolicy(QSizePolicy.Policy.Preferred if is_shown else QSizePolicy.Policy.Ignored)
            page.setSizePolicy(policy)

    def _touched(self, touched: frozenset[str]) -> None:
        if "airframe" in touched:
            self._keep_one_current()
        self._show()

    def _keep_one_current(self) -> None:
        """The aircraft that is current may be gone; the first of the fleet takes its place."""
        codes = self._desk.codes()
        if self.code not in codes:
            self._desk.current.choose(codes[0] if codes else None)
        self.tabs.setEnabled(bool(codes))

    def _show(self) -> None:
        if self.code is None or not self.isVisible():
            return
        judgement = self._desk.judgement(self.code)
        page = self.tabs.currentWidget()
        if judgement is not None and page is not None:
            show_page(page, judgement, self._desk)

    def showEvent(self, _event: object) -> None:
        self._show()
