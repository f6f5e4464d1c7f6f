"""The Airframe Folder: everything about one aircraft, behind tabs."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import (
    QGridLayout,
    QHBoxLayout,
    QSizePolicy,
    QTabWidget,
    QVBoxLayout,
    QWidget,
)

from hangar.answers.judging import Difference, count_levels
from hangar.parts.outlines import Outline, outline_of
from hangar.window.airframe.leads_page import LeadsPage
from hangar.window.airframe.papers_page import PapersPage
from hangar.window.airframe.particulars_page import ParticularsPage
from hangar.window.airframe.refits_page import RefitsPage
from hangar.window.airframe.snags_page import SnagsPage
from hangar.window.kit.counts_strip import CountsStrip, state_words, verdict_words
from hangar.window.kit.desk import Desk
from hangar.window.kit.fault_cover import show_page
from hangar.window.kit.outlines import draw_outline
from hangar.window.kit.plain_words import MarkupLabel, PlainLabel, markup, plain, plain_tip
from hangar.window.kit.still_boxes import ListBox
from hangar.window.kit.words import put, say, word_of
from hangar.window.linkages.linkages_page import LinkagesPage
from hangar.window.log.log_page import LogPage
from hangar.window.positions.positions_screen import PositionsScreen
from hangar.window.power.power_page import PowerPage
from hangar.window.records.records_page import RADIO_KINDS, RecordsPage


class Silhouette(QWidget):
    """A small picture of the aircraft."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._outline: Outline | None = None

    def sizeHint(self) -> QSize:
        side = round(self.fontMetrics().height() * 4.2)
        return QSize(side, side)

    def show_outline(self, outline: Outline) -> None:
        """Show this outline."""
        self._outline = outline
        self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:
        if self._outline is not None:
            painter = QPainter(self)
            draw_outline(painter, QRectF(self.rect()), self._outline, self._desk.view.look)
            painter.end()


class AirframeFolder(QWidget):
    """Heading, findings counts with what the last edit did to them, and the pages."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._code: str | None = None
        self.choice = ListBox()
        self.choice.setAccessibleName(say("Aircraft shown"))
        self.picture = Silhouette(desk)
        self.heading = MarkupLabel()
        self.heading.setWordWrap(True)
        self.heading.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self.counts = CountsStrip(desk.view, say("Findings of this aircraft"), wraps=True)
        self.change = PlainLabel()
        self.change.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self.change.setAccessibleName(say("What the last edit did to the findings"))
        self.tabs = QTabWidget()
        self.tabs.setDocumentMode(True)
        self.setFocusProxy(self.tabs.tabBar())
        self.particulars = ParticularsPage(desk)
        self.positions = PositionsScreen(desk)
        self.power = PowerPage(desk)
        self.linkages = LinkagesPage(desk)
        self.leads = LeadsPage(desk)
        self.radio = RecordsPage(desk, RADIO_KINDS)
        self.snags = SnagsPage(desk)
        self.refits = RefitsPage(desk)
        self.logbook = LogPage(desk)
        self.papers = PapersPage(desk)
        self._pages: tuple[tuple[str, QWidget], ...] = (
            (say("Particulars"), self.particulars),
            (say("Positions"), self.positions),
            (say("Power"), self.power),
            (say("Linkages"), self.linkages),
            (say("Leads"), self.leads),
            (say("Radio and surfaces"), self.radio),
            (say("Snags && findings"), self.snags),
            (say("Refits"), self.refits),
            (say("Logbook"), self.logbook),
            (say("Papers"), self.papers),
        )
        for title, page in self._pages:
            self.tabs.addTab(page, title)
        self.tabs.setCurrentWidget(self.positions)
        self.tabs.setAccessibleName(say("Pages of this aircraft"))
        self._arrange()
        self._connect()
        self._list_aircraft()

    def _arrange(self) -> None:
        words = QGridLayout()
        words.setVerticalSpacing(2)
        words.addWidget(self.heading, 0, 0)
        words.addWidget(self.choice, 0, 1)
        words.addWidget(self.counts, 1, 0, 1, 2)
        words.addWidget(self.change, 2, 0, 1, 2)
        words.setColumnStretch(0, 1)
        head = QHBoxLayout()
        head.setContentsMargins(14, 10, 14, 4)
        head.setSpacing(16)
        head.addWidget(self.picture)
        head.addLayout(words, 1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addLayout(head)
        column.addWidget(self.tabs, 1)

    def _connect(self) -> None:
        self.choice.activated.connect(lambda: self.show_aircraft(str(self.choice.currentData())))
        self.tabs.currentChanged.connect(self._show)
        self._desk.touched.connect(self._touched)
        self._desk.judged.connect(self._judged)
        self._desk.view.changed.connect(self._show)

    @property
    def code(self) -> str | None:
        """Code of the aircraft shown."""
        return self._code

    def show_aircraft(self, code: str) -> None:
        """Open the folder of this aircraft."""
        self._code = code
        self.choice.setCurrentIndex(self.choice.findData(code))
        self._show()

    def _list_aircraft(self) -> None:
        self.choice.clear()
        for airframe in self._desk.fleet.airframes():
            self.choice.addItem(f"{airframe.code}  {airframe.name}", airframe.code)
        self.choice.setCurrentIndex(self.choice.findData(self._code))

    def _touched(self, touched: frozenset[str]) -> None:
        if "airframe" in touched:
            codes = self._desk.codes()
            if self._code not in codes:
                self._code = codes[0] if codes else None
            self._list_aircraft()
            if self._code is None:
                self._show_nothing()
        self._show()

    def _show_nothing(self) -> None:
        """The last aircraft is gone; what was said of it goes too."""
        self.heading.show_markup(plain(say("No aircraft is entered yet.")))
        self.counts.show_counts({})
        self.change.clear()
        self.tabs.setEnabled(False)

    def _judged(self, code: str) -> None:
        if code == self._code:
            self._show_heading()

    def _show(self) -> None:
        if self._code is None or not self.isVisible():
            return
        judgement = self._desk.judgement(self._code)
        if judgement is None:
            return
        self._show_heading()
        page = self.tabs.currentWidget()
        if page is not None:
            show_page(page, judgement, self._desk)

    def showEvent(self, _event: object) -> None:
        self._show()

    def _show_heading(self) -> None:
        judgement = self._desk.known(self._code) if self._code else None
        if judgement is None:
            return
        self.tabs.setEnabled(True)
        aircraft = judgement.aircraft
        look = self._desk.view.look
        self.picture.show_outline(outline_of(aircraft))
        self.heading.show_markup(
            markup(
                "<span style='font-size:x-large'><b>{code}</b> &nbsp;{name}</span> &nbsp;<b>{state}</b>"
                " &nbsp;<span style='color:{soft}'>{kind}</span>",
                code=aircraft.code,
                name=aircraft.airframe.name,
                state=state_words(aircraft, judgement.findings),
                soft=look.soft,
                kind=word_of(aircraft.airframe.aircraft_class),
            )
        )
        self.counts.show_counts(count_levels(judgement.findings), verdict_words(judgement))
        difference = self._desk.difference(aircraft.code)
        self.change.setText(difference_words(difference))
        self.change.setToolTip(plain_tip(difference_tip(difference)))


def difference_words(difference: Difference | None) -> str:
    """What the last edit did to the findings, on one line."""
    if difference is None:
        return say("Findings follow every edit at once.")
    if not difference.gone and not difference.new:
        return say("The last edit changed no finding.")
    gone = say("{count} gone", count=len(difference.gone))
    new = say("{count} new", count=len(difference.new))
    first = put((*difference.new, *difference.gone)[0].message)
    return say("The last edit: {gone}, {new}. {first}", gone=gone, new=new, first=first)


def difference_tip(difference: Difference | None) -> str:
    """All findings that came or went."""
    if difference is None:
        return ""
    lines = [say("gone: {line}", line=put(finding.message)) for finding in difference.gone]
    lines += [say("new: {line}", line=put(finding.message)) for finding in difference.new]
    return "\n".join(lines)
