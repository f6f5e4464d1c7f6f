"""Write a file for the keeper from a room: a sheet through the print dialog, a table as text."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QPushButton, QVBoxLayout, QWidget

from hangar.answers.judging import Judgement
from hangar.base.errors import HangarError, StoreFault
from hangar.window.kit.asking_files import ask_save
from hangar.window.kit.desk import Desk
from hangar.window.kit.flow_row import FlowRow
from hangar.window.kit.plain_words import PlainLabel
from hangar.window.kit.words import say

if TYPE_CHECKING:
    from hangar.window.paper.print_dialog import PrintDialog

ReadingVerdict = Callable[[], tuple[Judgement, ...]]


def open_print_dialog(desk: Desk, kind: str, codes: tuple[str, ...], parent: QWidget) -> PrintDialog:
    """Show the print dialog for a kind of sheet of some aircraft."""
    # Printers and sheets are loaded with the first dialog, for the start must be quick.
    from hangar.window.paper.print_dialog import PrintDialog

    dialog = PrintDialog(desk, kind, codes, parent)
    dialog.open()
    return dialog


class PrintRow(QWidget):
    """Buttons that print or write files, and a line that tells what became of it."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self.buttons: dict[str, QPushButton] = {}
        self.message = PlainLabel(wordWrap=True)
        self.message.setObjectName("quiet")
        self.message.setAccessibleName(say("What was written"))
        self.message.hide()
        self._row = FlowRow()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.message)
        column.addLayout(self._row)

    def _tell(self, words: str) -> None:
        self.message.setText(words)
        self.message.setVisible(bool(words))

    def add_sheet(self, kind: str, words: str, judged: ReadingVerdict) -> QPushButton:
        """A button that prints one kind of sheet for some aircraft."""
        return self._add(kind, words, lambda: self.print_sheets(kind, judged()))

    def add_text(self, name: str, words: str, text: Callable[[], str]) -> QPushButton:
        """A button that writes a table of comma-separated values."""

        def ask() -> None:
            path = self._ask(f"{name}.csv", say("Tables (*.csv)"))
            if path is not None:
                self.write_text(text(), path)

        return self._add(name, words, ask)

    def _add(self, name: str, words: str, act: Callable[[], object]) -> QPushButton:
        button = QPushButton(words)
        button.clicked.connect(lambda _on=False: act())
        self.buttons[name] = button
        self._row.addWidget(button)
        return button

    def _ask(self, name: str, kinds: str) -> Path | None:
        return ask_save(self, self._desk.view, say("Write a file"), name, kinds)

    def print_sheets(self, kind: str, judged: tuple[Judgement, ...]) -> PrintDialog | None:
        """Show the print dialog; None when there is nothing to print."""
        if not judged:
            self._tell(say("Choose an aircraft first."))
            return None
        self._tell("")
        codes = tuple(judgement.aircraft.code for judgement in judged)
        return open_print_dialog(self._desk, kind, codes, self)

    def write_text(self, text: str, out: Path) -> None:
        """Write a text file."""
        try:
            _write(text, out)
        except HangarError as fault:
            self._desk.trouble.emit(fault)
        else:
            self._tell(say("Written to {path}.", path=str(out)))


def _write(text: str, out: Path) -> None:
    try:
        out.write_text(text, encoding="utf-8", newline="")
    except OSError as fault:
        raise StoreFault(
            say("{path} cannot be written: {why}.", path=str(out), why=fault.strerror)
        ) from fault
