"""The first page: look at the invented fleet, open one, begin one, or bring in one's own tables."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QRadioButton, QScrollArea, QVBoxLayout, QWidget

from hangar.window.kit.flow_row import FlowRow
from hangar.window.kit.plain_words import MarkupLabel, PlainLabel, markup
from hangar.window.kit.view_settings import UNIT_WORDS, ViewSettings
from hangar.window.kit.way_button import WayButton
from hangar.window.kit.words import say


class WelcomePage(QWidget):
    """Four ways to begin. Signals: ``demo_wanted``, ``open_wanted``, ``new_wanted``, ``bring_in_wanted``."""

    demo_wanted = Signal()
    open_wanted = Signal()
    new_wanted = Signal()
    bring_in_wanted = Signal()

    def __init__(self, view: ViewSettings, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._view = view
        view.propose_seat_units()
        title = MarkupLabel(
            markup("<span style='font-size:xx-large'><b>{name}</b></span>", name=say("Hangar"))
        )
        about = PlainLabel(
            say(
                "Keep the records of your model aircraft in one place: servos, packs, leads and flights. "
                "Hangar works the loads and the supply out and says what does not match."
            )
        )
        about.setWordWrap(True)
        page = QWidget()
        page.setMaximumWidth(self.fontMetrics().averageCharWidth() * 110)
        around = QScrollArea(widgetResizable=True)
        around.setFrameShape(QScrollArea.Shape.NoFrame)
        around.setAlignment(Qt.AlignmentFlag.AlignHCenter)
        around.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        around.setWidget(page)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(around)
        column = QVBoxLayout(page)
        column.setContentsMargins(48, 36, 48, 36)
        column.setSpacing(12)
        column.addStretch(1)
        column.addWidget(title)
        column.addWidget(about)
        column.addSpacing(10)
        self.demo = WayButton(
            say("Look at the &invented fleet"),
            say("Some aircraft of a club that does not exist, with faults to find. Nothing to lose."),
        )
        self.bring_in = WayButton(
            say("&Bring in my own tables"),
            say("A spreadsheet or CSV files become a fleet; rows that cannot be read are listed."),
        )
        self.new = WayButton(say("Begi&n an empty fleet"), say("Enter the first aircraft by hand."))
        self.open = WayButton(say("&Open a fleet"), say("A file that ends in .hangar."))
        for way in (self.demo, self.bring_in, self.new, self.open):
            column.addWidget(way)
        column.addSpacing(10)
        column.addLayout(self._unit_row())
        caution = PlainLabel(
            say("The maker's manual, the club's rules and the law govern. Computed loads are estimates.")
        )
        caution.setObjectName("quiet")
        caution.setWordWrap(True)
        column.addSpacing(10)
        column.addWidget(caution)
        column.addStretch(2)
        self.demo.clicked.connect(self.demo_wanted)
        self.bring_in.clicked.connect(self.bring_in_wanted)
        self.new.clicked.connect(self.new_wanted)
        self.open.clicked.connect(self.open_wanted)

    def _unit_row(self) -> FlowRow:
        """In which units numbers are shown; any unit can be typed whatever is chosen."""
        row = FlowRow(PlainLabel(say("Show numbers in")), gap=12)
        self.units: dict[str, QRadioButton] = {}
        for name, words in UNIT_WORDS.items():
            button = QRadioButton(words)
            button.setAccessibleName(say("Show numbers in {units}", units=words))
            button.setChecked(name == self._view.seat_units)
            button.clicked.connect(partial(self._view.choose_seat_units, name))
            self.units[name] = button
            row.addWidget(button)
        return row
