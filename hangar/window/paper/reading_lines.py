"""One box of a sheet on screen: its name, the place to type, what is expected, and how the reading lies."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtWidgets import QCheckBox, QGridLayout, QLineEdit, QWidget

from hangar.base.text import listed
from hangar.window.kit.plain_words import PlainLabel
from hangar.window.kit.view_settings import ViewSettings
from hangar.window.kit.words import put, say
from hangar.window.packs.pack_words import FIT, LOOK, UNKNOWN, verdict_icon

if TYPE_CHECKING:
    from hangar.answers.bench_bands import ReadingBand
    from hangar.sheets.box_list import ListedBox

NAME, ENTRY, EXPECTED, MARK, VERDICT = range(5)
"""Columns of the page."""

_RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
_ENTRY_LETTERS, _WORDS_LETTERS = 14, 40


def box_words(what: str) -> str:
    """What a box asks, where its short name on paper needs more words."""
    longer = {
        "Control": say("Direction, full travel and centre right"),
        "Direction": say("Direction right"),
        "Failsafe": say("Failsafe proved"),
        "Passed": say("Passed"),
        "Idle A": say("Current of all servos at rest"),
        "Peak A": say("Highest current of all"),
        "Lowest V": say("Lowest bus volts, sticks stirred"),
        "Rest V": say("Pack at rest"),
        "Out V": say("Regulator without load"),
        "Alone V": say("Lowest bus volts on it alone"),
        "Regulator C": say("Heat of the regulator"),
        "Stalled V": say("Volts at the servo"),
        "Case C": say("Heat of the servo case"),
        "Range m": say("Distance with full control"),
        "Mass": say("Mass"),
        "Balance mm": say("Balance behind the datum"),
        "Tested": say("Tested under load"),
        "At rest": say("Volts at rest"),
        "Load": say("Load"),
        "Read": say("Volts under load"),
        "Currents": say("Currents right"),
        "Throws": say("Throws right"),
        "Free play": say("Free play right"),
        "Play": say("Free play in all"),
        "Up deg": say("Up or left, degrees"),
        "Up mm": say("Up or left, millimetres"),
        "Down deg": say("Down or right, degrees"),
        "Down mm": say("Down or right, millimetres"),
        "After": say("After how many seconds"),
        "It did": say("It did"),
        "Date 2": say("Date of the release"),
        "Neutral": say("Neutral"),
        "Moving": say("Moving"),
        "End A": say("End A"),
        "End B": say("End B"),
        "Low rate": say("Low rate, higher end"),
        "Put back": say("Put back"),
        "Charged": say("Charged"),
        "Last": say("Charged last"),
        "Stick": say("Stick: answer"),
        "No signal": say("Without a signal"),
        "Pilot": say("Pilot"),
        "Looked at by": say("Looked at by"),
        "Helper": say("Helper"),
        "Date, time": say("Date, time"),
        "Date": say("Date"),
        "Flights today": say("Flights today"),
        "Minutes": say("Minutes of each flight"),
        "Remarks": say("Remarks"),
        "Snag found": say("Snag found"),
        "Bench-checked by": say("Bench-checked by"),
        "Second person": say("Second person"),
        "Keeper releases it": say("Keeper releases it"),
        "Signature": say("Signature"),
        "Charged by": say("Charged by"),
    }
    return longer.get(what, what)


class ReadingLine(QObject):
    """The widgets of one box in a row of the page's grid. Signals: ``edited()``."""

    edited = Signal()

    def __init__(
        self,
        box: ListedBox,
        bands: tuple[ReadingBand, ...],
        view: ViewSettings,
        hint: str,
        parent: QWidget,
        words: str = "",
    ) -> None:
        super().__init__(parent)
        self.box = box
        self._bands = bands
        self._view = view
        self._name = words or box_words(box.what)
        self.entry: QCheckBox | QLineEdit = self._tick_box() if box.tick else self._line(hint)
        self.mark = PlainLabel()
        self.verdict = PlainLabel(wordWrap=True)
        self.entry.setAccessibleName(f"{box.about} {self._name}".strip())

    def _tick_box(self) -> QCheckBox:
        made = QCheckBox()
        made.toggled.connect(self._changed)
        return made

    def _line(self, hint: str) -> QLineEdit:
        made = QLineEdit(self.box.value)
        made.setPlaceholderText(hint)
        letters = _ENTRY_LETTERS if self.box.about else _WORDS_LETTERS
        made.setMinimumWidth(made.fontMetrics().averageCharWidth() * letters)
        made.textChanged.connect(self._changed)
        return made

    def put_into(self, grid: QGridLayout, row: int) -> None:
        """Lay the widgets into a row."""
        name = PlainLabel(self._name, wordWrap=True)
        name.setBuddy(self.entry)
        if isinstance(self.entry, QCheckBox):
            grid.addWidget(self.entry, row, NAME, _RIGHT)
            grid.addWidget(name, row, ENTRY, 1, 2)
        else:
            name.setAlignment(_RIGHT)
            grid.addWidget(name, row, NAME)
            grid.addWidget(self.entry, row, ENTRY)
            expected = PlainLabel(self._expected(), wordWrap=True)
            expected.setAccessibleName(say("Expected"))
            self.entry.setAccessibleDescription(self._expected())
            grid.addWidget(expected, row, EXPECTED)
        grid.addWidget(self.mark, row, MARK)
        grid.addWidget(self.verdict, row, VERDICT)

    def _expected(self) -> str:
        return put(listed((band.text for band in self._bands), joint="or"))

    @property
    def text(self) -> str:
        """What is typed; a tick counts as text."""
        if isinstance(self.entry, QCheckBox):
            return "yes" if self.entry.isChecked() else ""
        return str(self.entry.text()).strip()

    @property
    def is_filled(self) -> bool:
        """Whether something was entered that the sheet does not print itself."""
        return self.text not in ("", self.box.value)

    def show_text(self, text: str) -> None:
        """Put in what was typed before."""
        if isinstance(self.entry, QCheckBox):
            self.entry.setChecked(bool(text))
        else:
            self.entry.setText(text)

    def refuse(self, sentence: str) -> None:
        """Say beside the box what is wrong with it."""
        self._tell(LOOK, put(sentence))
        self.entry.setAccessibleDescription(put(sentence))

    def _changed(self) -> None:
        self.look()
        self.edited.emit()

    def look(self) -> None:
        """Say how the reading lies against what is expected."""
        text = self.text
        if not text or not self._bands or self.box.tick:
            self._tell("", "")
            return
        within, fault = self._verdict(text)
        if within is None:
            self._tell(UNKNOWN, put(fault))
        else:
            self._tell(FIT if within else LOOK, say("within") if within else say("OUT"))

    def _verdict(self, text: str) -> tuple[bool | None, str]:
        """Whether one of the bands holds the reading; None and why where none can be asked."""
        from hangar.answers.bench_bands import AllowedBands

        return AllowedBands(self._bands).verdict_and_fault(text)

    def _tell(self, mark: str, words: str) -> None:
        size = round(self.verdict.fontMetrics().height() * 1.1)
        if mark:
            self.mark.setPixmap(verdict_icon(mark, self._view.look, size).pixmap(size, size))
        else:
            self.mark.clear()
        self.verdict.setText(words)
        self.entry.setAccessibleDescription(", ".join(part for part in (self._expected(), words) if part))
