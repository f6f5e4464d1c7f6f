"""Which cards of the Flight Line are shown, and in which order."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QFontMetrics, QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QPushButton, QWidget

from hangar.parts.choices import AircraftState
from hangar.window.flight_line.card import Card, filter_height
from hangar.window.kit.plain_words import PlainLabel
from hangar.window.kit.still_boxes import ListBox
from hangar.window.kit.words import say, word_of

ANY, WARNINGS, WARNINGS_OR_CAUTIONS, QUIET, OVERDUE = "any", "warnings", "cautions", "quiet", "overdue"
BY_CODE, WORST_FIRST, DUE_FIRST, LONGEST_UNFLOWN = "code", "worst", "due", "unflown"
_LEVELS = ("warning", "caution", "can't tell", "advisory")
_FAR, _NEVER = date.max, date.min


def wanted(card: Card, words: str, state: str, look_for: str) -> bool:
    """Whether a card holds every word, is in the state and shows what is looked for."""
    if state not in (ANY, card.state_key) or not _shows(card, look_for):
        return False
    asked = words.lower().split()
    spoken = card.spoken.lower() if asked else ""
    return all(word in spoken for word in asked)


def _shows(card: Card, look_for: str) -> bool:
    if look_for == ANY:
        return True
    counts = dict(card.counts)
    if look_for == WARNINGS:
        return "warning" in counts
    if look_for == WARNINGS_OR_CAUTIONS:
        return "warning" in counts or "caution" in counts
    if look_for == QUIET:
        return not counts
    return card.is_overdue


def in_order(cards: Iterable[Card], order: str) -> list[Card]:
    """The cards by code, or by what the keeper looks for first."""
    by_code = sorted(cards, key=lambda card: card.code)
    if order == WORST_FIRST:
        return sorted(by_code, key=lambda card: [-dict(card.counts).get(level, 0) for level in _LEVELS])
    if order == DUE_FIRST:
        return sorted(by_code, key=lambda card: card.due_on or _FAR)
    if order == LONGEST_UNFLOWN:
        return sorted(by_code, key=lambda card: card.flown_on or _NEVER)
    return by_code


LEAST_LETTERS = 12
"""Letters of a choice that are seen in the narrowest window."""


class CardFilter(QWidget):
    """Words, state, findings, order. Signals: ``changed()``; Escape shows all again."""

    changed = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.words = QLineEdit()
        self.words.setPlaceholderText(say("Show only aircraft with…"))
        self.words.setAccessibleName(say("Filter of aircraft"))
        self.words.setClearButtonEnabled(True)
        self.state = ListBox()
        self.state.setAccessibleName(say("State of the aircraft shown"))
        self.state.addItem(say("in any state"), ANY)
        for state in AircraftState:
            self.state.addItem(word_of(state), state.value)
        self.findings = ListBox()
        self.findings.setAccessibleName(say("Findings of the aircraft shown"))
        for key, text in (
            (ANY, say("with any findings")),
            (WARNINGS, say("with open warnings")),
            (WARNINGS_OR_CAUTIONS, say("with warnings or cautions")),
            (QUIET, say("without open findings")),
            (OVERDUE, say("with something overdue")),
        ):
            self.findings.addItem(text, key)
        self.order = ListBox()
        self.order.setAccessibleName(say("Order of the cards"))
        for key, text in (
            (WORST_FIRST, say("worst first")),
            (BY_CODE, say("by code")),
            (DUE_FIRST, say("next due first")),
            (LONGEST_UNFLOWN, say("longest unflown first")),
        ):
            self.order.addItem(text, key)
        self.message = PlainLabel()
        self.message.setObjectName("quiet")
        self.all_button = QPushButton(say("Show &all"))
        self._arrange()
        self.words.textChanged.connect(self.changed)
        for choice in (self.state, self.findings, self.order):
            choice.currentIndexChanged.connect(self.changed)
        self.all_button.clicked.connect(self.show_all)

    def _arrange(self) -> None:
        row = QHBoxLayout(self)
        row.setContentsMargins(6, 4, 6, 4)
        row.addWidget(self.words, 1)
        for widget in (self.state, self.findings, self.order, self.message, self.all_button):
            row.addWidget(widget)
        self.fit_height()

    def fit_height(self) -> None:
        """Be as high as the first look leaves room for."""
        self.setFixedHeight(filter_height(QFontMetrics(self.font())))
        for choice in (self.state, self.findings, self.order):
            # Its longest entry is cut before the window is forced wider; the open list shows it in full.
            choice.setMinimumWidth(self.fontMetrics().averageCharWidth() * LEAST_LETTERS)
            choice.view().setMinimumWidth(choice.view().sizeHintForColumn(0))

    @property
    def shows_all(self) -> bool:
        """Whether no aircraft is left out."""
        choices = (self.state.currentData(), self.findings.currentData())
        return not self.words.text().strip() and choices == (ANY, ANY)

    def show_all(self) -> None:
        """Show every aircraft again; the order stays."""
        self.words.clear()
        self.state.setCurrentIndex(0)
        self.findings.setCurrentIndex(0)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.show_all()
        else:
            super().keyPressEvent(event)

    def chosen_of(self, cards: Iterable[Card], *, is_judged: bool = True) -> list[Card]:
        """The cards to show, in order; says how many are left out."""
        every = list(cards)
        words, state = self.words.text(), str(self.state.currentData())
        look_for, order = str(self.findings.currentData()), str(self.order.currentData())
        if order == WORST_FIRST and not is_judged:
            order = BY_CODE
        shown = in_order((card for card in every if wanted(card, words, state, look_for)), order)
        wording = say("{shown} of {all} aircraft", shown=len(shown), all=len(every))
        self.message.setText(wording if len(shown) < len(every) else "")
        self.all_button.setVisible(len(shown) < len(every))
        return shown
