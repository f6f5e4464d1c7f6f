"""One line of a page for something that holds until a day for a reason: given in writing, or taken back."""

from __future__ import annotations

from datetime import date

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QLineEdit, QPushButton, QWidget

from hangar.window.kit.day_field import DayLine
from hangar.window.kit.flow_row import FlowRow, side_by_side
from hangar.window.kit.plain_words import PlainLabel
from hangar.window.kit.view_settings import ViewSettings
from hangar.window.kit.words import say


class UntilStrip(QWidget):
    """The day, the reason, and the two buttons. Signals: ``given()``, ``taken_back()``."""

    given = Signal()
    taken_back = Signal()

    def __init__(
        self, view: ViewSettings, until: str, give: str, reason_name: str, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self.label = PlainLabel(until)
        self.until = DayLine(view, until.replace("&", ""))
        self.label.setBuddy(self.until)
        self.reason = QLineEdit()
        self.reason.setPlaceholderText(say("Reason, in your own words"))
        self.reason.setAccessibleName(reason_name)
        self.give = QPushButton(give)
        self.take_back = QPushButton(say("Take back"))
        self.setLayout(FlowRow(side_by_side(self.label, self.until), self.reason, self.give, self.take_back))
        self.give.clicked.connect(self.given)
        self.reason.returnPressed.connect(self.given)
        self.take_back.clicked.connect(self.taken_back)

    def fill(self, until: date, reason: str) -> None:
        """Put a day and a reason into the fields."""
        self.until.show_day(until)
        self.reason.setText(reason)

    def show_given(self, is_given: bool) -> None:
        """Offer to take back what is given, else to give it."""
        self.give.setVisible(not is_given)
        self.take_back.setVisible(is_given)
        self.until.setEnabled(not is_given)
        self.reason.setEnabled(not is_given)
