"""What each column of a logger's file was taken for, and which of its flights is read: both can be chosen."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QGridLayout, QWidget

from hangar.answers.flight_record import LoggedFlight
from hangar.window.kit.plain_words import PlainLabel
from hangar.window.kit.still_boxes import ListBox
from hangar.window.kit.words import say

_MOST_COLUMNS = 24
_ACROSS = 4


class ColumnChoosers(QWidget):
    """A chooser over each column, and one for the flight where the file holds several."""

    chosen = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.columns: dict[str, ListBox] = {}
        self.flight = ListBox()
        self.flight.setAccessibleName(say("Flight of the file"))
        self.flight.activated.connect(lambda _at: self.chosen.emit())
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._labels: list[PlainLabel] = []

    def show_flight(self, read: LoggedFlight) -> None:
        """Show what the columns of this log were taken for."""
        self._clear()
        place = 0
        if read.flights > 1:
            self.flight.clear()
            for number in range(1, read.flights + 1):
                self.flight.addItem(
                    say("flight {number} of {count}", number=number, count=read.flights), number
                )
            self.flight.setCurrentIndex(read.number - 1)
            self._put(say("Flight"), self.flight, place)
            place += 1
        self.flight.setVisible(read.flights > 1)
        for heading, words in list(read.columns.items())[:_MOST_COLUMNS]:
            chooser = ListBox()
            chooser.setAccessibleName(say("Column {heading} holds", heading=heading))
            for key, column_word in column_words().items():
                chooser.addItem(column_word, key)
            if chooser.findData(words) < 0:
                chooser.addItem(words, words)
            chooser.setCurrentIndex(chooser.findData(words))
            chooser.activated.connect(lambda _at: self.chosen.emit())
            self.columns[heading] = chooser
            self._put(heading, chooser, place)
            place += 1

    def _put(self, words: str, chooser: ListBox, place: int) -> None:
        row, column = divmod(place, _ACROSS)
        label = PlainLabel(words)
        self._labels.append(label)
        self._grid.addWidget(label, 2 * row, column)
        self._grid.addWidget(chooser, 2 * row + 1, column)

    def _clear(self) -> None:
        for widget in (*self._labels, *self.columns.values()):
            self._grid.removeWidget(widget)
            widget.deleteLater()
        self._labels, self.columns = [], {}

    @property
    def mapping(self) -> dict[str, str]:
        """What each column is to be taken for, by its heading."""
        return {heading: str(chooser.currentData()) for heading, chooser in self.columns.items()}

    @property
    def wanted(self) -> int | None:
        """The flight that is wanted; None where the file holds one."""
        return None if self.flight.count() < 2 else int(self.flight.currentData())


def column_words() -> dict[str, str]:
    """What a column may hold, by the word it is remembered by."""
    return {
        "unused": say("not used"),
        "time": say("time"),
        "time [s]": say("time in seconds"),
        "time [ms]": say("time in milliseconds"),
        "date": say("date"),
        "count": say("number of the row"),
        "bus [V]": say("volts of the bus"),
        "bus [mV]": say("millivolts of the bus"),
        "input [V]": say("volts before the regulator"),
        "pack 1 [V]": say("volts of pack 1"),
        "pack 2 [V]": say("volts of pack 2"),
        "amps [A]": say("amps"),
        "amps [mA]": say("milliamps"),
        "amps 1 [A]": say("amps of pack 1"),
        "amps 2 [A]": say("amps of pack 2"),
        "charge": say("charge used"),
    }
