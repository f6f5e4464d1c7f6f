"""The pages on which an aircraft is begun, copied and fitted out, one in place of the other."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QStackedWidget, QWidget

from hangar.window.kit.desk import Desk
from hangar.window.new_aircraft.copy_page import CopyPage
from hangar.window.new_aircraft.fit_out_page import FitOutPage
from hangar.window.new_aircraft.kit_page import KitPage


class Workbench(QStackedWidget):
    """Signals: ``left()``; ``findings_wanted(code)``; ``paste_wanted()``."""

    left = Signal()
    findings_wanted = Signal(str)
    paste_wanted = Signal()

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.kit = KitPage(desk)
        self.copy = CopyPage(desk)
        self.fit_out = FitOutPage(desk)
        for page in (self.kit, self.copy, self.fit_out):
            self.addWidget(page)
            page.left.connect(self.left)
        for page in (self.kit, self.copy):
            page.entered.connect(self.begin_fit_out)
        self.kit.copy_wanted.connect(lambda: self.begin_copy(""))
        self.kit.paste_wanted.connect(self.paste_wanted)
        self.fit_out.findings_wanted.connect(self.findings_wanted)

    def begin_kit(self) -> None:
        """Begin an aircraft from its layout."""
        self.setCurrentWidget(self.kit)
        self.kit.begin()

    def begin_copy(self, code: str) -> None:
        """Copy an aircraft."""
        self.setCurrentWidget(self.copy)
        self.copy.begin(code)

    def begin_fit_out(self, code: str) -> None:
        """Fit an aircraft out."""
        self.setCurrentWidget(self.fit_out)
        self.fit_out.show_aircraft(code)
