"""The Power page: the supply as a picture, the packs with their load tests, the volts through a flight."""

from __future__ import annotations

from PySide6.QtWidgets import QWidget

from hangar.answers.judging import Judgement
from hangar.window.kit.desk import Desk
from hangar.window.kit.fault_cover import show_page
from hangar.window.kit.strip import StripPages
from hangar.window.kit.words import say
from hangar.window.packs.aircraft_packs_page import AircraftPacksPage
from hangar.window.power.flight_trace_page import FlightTracePage
from hangar.window.power.power_screen import PowerScreen
from hangar.window.records.records_page import SUPPLY_KINDS, RecordsPage


class PowerPage(StripPages):
    """Three looks at the supply of one aircraft, and its tables; only the one on top is kept up to date."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(say("Pages of the supply"), parent)
        self._desk = desk
        self._judgement: Judgement | None = None
        self.supply = PowerScreen(desk)
        self.packs = AircraftPacksPage(desk)
        self.trace = FlightTracePage(desk)
        self.records = RecordsPage(desk, SUPPLY_KINDS)
        self.addTab(self.supply, say("Supply"))
        self.addTab(self.packs, say("Packs and load tests"))
        self.addTab(self.trace, say("Volts in flight"))
        self.addTab(self.records, say("All fields"))
        self.packs.fit_wanted.connect(self.fit_pack)
        self.currentChanged.connect(self._show)

    def show_judgement(self, judgement: Judgement) -> None:
        """Show an aircraft as it was judged last."""
        self._judgement = judgement
        self._show()

    def fit_pack(self) -> None:
        """The page with the panel that fits one."""
        self.setCurrentWidget(self.supply)
        self.supply.fit_button.setChecked(True)

    def _show(self) -> None:
        page = self.currentWidget()
        if self._judgement is not None and isinstance(
            page, (PowerScreen, AircraftPacksPage, FlightTracePage, RecordsPage)
        ):
            show_page(page, self._judgement, self._desk)
