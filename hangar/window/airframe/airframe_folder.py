"""The Airframe room: everything about one aircraft, behind six tabs."""

from __future__ import annotations

from typing import Any

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
from hangar.window.kit.late_page import LatePage
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


class AircraftData(PagesOfOne):
    """What the aircraft is, its radio and surfaces, its papers."""

    def __init__(self, desk: Desk) -> None:
        self.particulars = ParticularsPage(desk)
        self.radio = RecordsPage(desk, RADIO_KINDS)
        self.papers = PapersPage(desk)
        super().__init__(
            desk,
            say("Pages of the particulars"),
            (say("The aircraft"), self.particulars),
            (say("Radio and surfaces"), self.radio),
            (say("Papers"), self.papers),
        )


class AirframeFolder(QWidget):
    """The current aircraft in its head line, and the pages; each is built when it is first turned to."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self.head = AircraftHead(desk)
        self.choice, self.counts, self.change = self.head.choice, self.head.counts, self.head.change
        self.tabs = QTabWidget()
        self.tabs.setDocumentMode(True)
        hand_focus(self, self.tabs.tabBar())
        self._positions = LatePage(lambda: PositionsScreen(desk))
        self._power = LatePage(lambda: PowerPage(desk))
        self._linkages = LatePage(lambda: LinkagesPage(desk))
        self._snags = LatePage(lambda: SnagsPage(desk))
        self._logbook = LatePage(lambda: LogPage(desk))
        self._data = LatePage(lambda: AircraftData(desk))
        self._pages: list[tuple[str, LatePage[Any]]] = [
            (say("Positions"), self._positions),
            (say("Power"), self._power),
            (say("Linkages and leads"), self._linkages),
            (say("Findings"), self._snags),
            (say("Log"), self._logbook),
            (say("Particulars"), self._data),
        ]
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

    @property
    def positions(self) -> PositionsScreen:
        """Which servo sits where."""
        return self._positions.page

    @property
    def power(self) -> PowerPage:
        """Packs, regulators and switches."""
        return self._power.page

    @property
    def linkages(self) -> LinkagesPage:
        """Linkages and leads."""
        return self._linkages.page

    @property
    def snags(self) -> SnagsPage:
        """Its findings and snags."""
        return self._snags.page

    @property
    def logbook(self) -> LogPage:
        """What was flown, tested and done."""
        return self._logbook.page

    @property
    def data(self) -> AircraftData:
        """The particulars, behind three tabs."""
        return self._data.page

    @property
    def particulars(self) -> ParticularsPage:
        """What the aircraft is."""
        return self.data.particulars

    @property
    def radio(self) -> RecordsPage:
        """Receivers, channels, surfaces and rotors."""
        return self.data.radio

    @property
    def papers(self) -> PapersPage:
        """Photos and papers."""
        return self.data.papers

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
        for at, (_title, tab) in enumerate(self._pages):
            if tab.holds(page):
                self.tabs.setCurrentIndex(at)
                if tab is self._data and page is not self.data:
                    self.data.setCurrentWidget(page)

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
