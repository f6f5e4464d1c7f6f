"""The packs of one aircraft: a load test to enter, its verdict, the trends."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QComboBox, QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from hangar.answers.judging import Judgement
from hangar.answers.packs import PackCase, pack_cases
from hangar.window.kit.desk import Desk
from hangar.window.kit.plain_words import PlainLabel
from hangar.window.kit.still_boxes import ListBox
from hangar.window.kit.words import say, word_of
from hangar.window.packs.pack_page import PackPage
from hangar.window.packs.pack_words import title_words


class AircraftPacksPage(QWidget):
    """A list of the packs on this aircraft's paths, and the page of the chosen one.

    Signals: ``fit_wanted()`` where none is fitted yet.
    """

    fit_wanted = Signal()

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._judgement: Judgement | None = None
        self._cases: tuple[PackCase, ...] = ()
        self.choice = ListBox()
        self.choice.setAccessibleName(say("Pack shown"))
        self.choice.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToContents)
        self.page = PackPage(desk)
        self.empty = PlainLabel(say("No pack is fitted in this aircraft."))
        self.empty.setObjectName("quiet")
        self.fit_button = QPushButton(say("Fit a pac&k…"))
        self.fit_button.setProperty("main", True)
        self.fit_button.setEnabled(not desk.read_only)
        self.fit_button.clicked.connect(self.fit_wanted)
        head = QHBoxLayout()
        head.setContentsMargins(10, 10, 10, 0)
        label = PlainLabel(say("Pac&k"))
        label.setBuddy(self.choice)
        for widget in (label, self.choice, self.empty, self.fit_button):
            head.addWidget(widget)
        head.addStretch(1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addLayout(head)
        column.addWidget(self.page, 1)
        self.choice.currentIndexChanged.connect(self._chosen)
        desk.view.changed.connect(self._list)

    def show_judgement(self, judgement: Judgement) -> None:
        """Show the packs of an aircraft as it was judged last."""
        self._judgement = judgement
        self._list()

    def choose(self, tag: str) -> None:
        """Show this pack."""
        self.choice.setCurrentIndex(max(0, self.choice.findData(tag)))

    def _list(self) -> None:
        if self._judgement is None:
            return
        feeds = {
            fed.pack.tag: word_of(path.feed.role)
            for path in self._judgement.aircraft.paths
            for fed in path.packs
        }
        self._cases = tuple(case for case in pack_cases(self._desk) if case.tag in feeds)
        chosen = self.choice.currentData()
        self.choice.blockSignals(True)
        self.choice.clear()
        for case in self._cases:
            words = say(
                "{tag}, {what}, feeds: {feeds}", tag=case.tag, what=title_words(case), feeds=feeds[case.tag]
            )
            self.choice.addItem(words, case.tag)
        self.choice.setCurrentIndex(max(0, self.choice.findData(chosen)))
        self.choice.blockSignals(False)
        for widget in (self.empty, self.fit_button):
            widget.setVisible(not self._cases)
        self.choice.setVisible(bool(self._cases))
        self.page.setVisible(bool(self._cases))
        self._chosen()

    def _chosen(self) -> None:
        case = next((case for case in self._cases if case.tag == self.choice.currentData()), None)
        if case is not None:
            self.page.show_case(case)
