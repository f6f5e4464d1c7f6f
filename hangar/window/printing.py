"""Write a file for the keeper from a room: ask where, print in the background, tell how it ended."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtWidgets import QFileDialog, QHBoxLayout, QLabel, QPushButton, QWidget

from hangar.base.errors import HangarError, StoreFault
from hangar.window import file_work
from hangar.window.desk import Desk
from hangar.window.errand import Errand
from hangar.window.judging import Judgement
from hangar.window.words import say

Judged = Callable[[], tuple[Judgement, ...]]


class PrintRow(QWidget):
    """Buttons that write files, and a line that tells what became of it."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self.buttons: dict[str, QPushButton] = {}
        self.told = QLabel(wordWrap=True)
        self.told.setObjectName("quiet")
        self.told.setAccessibleName(self.tr("What was written"))
        self._row = QHBoxLayout(self)
        self._row.setContentsMargins(0, 0, 0, 0)
        self._row.addWidget(self.told, 1)

    def add_sheet(self, kind: str, words: str, name: str, judged: Judged) -> QPushButton:
        """A button that prints one kind of sheet for some aircraft into one PDF file."""

        def ask() -> None:
            path = self._ask(name, self.tr("PDF (*.pdf)"))
            if path is not None:
                self.print_sheets(kind, judged(), path)

        return self._add(kind, words, ask)

    def add_text(self, name: str, words: str, text: Callable[[], str]) -> QPushButton:
        """A button that writes a table of comma-separated values."""

        def ask() -> None:
            path = self._ask(f"{name}.csv", self.tr("Tables (*.csv)"))
            if path is not None:
                self.write_text(text(), path)

        return self._add(name, words, ask)

    def _add(self, name: str, words: str, act: Callable[[], None]) -> QPushButton:
        button = QPushButton(words)
        button.clicked.connect(act)
        self.buttons[name] = button
        self._row.addWidget(button)
        return button

    def _ask(self, name: str, kinds: str) -> Path | None:
        path, _ = QFileDialog.getSaveFileName(self, self.tr("Write a file"), name, kinds)
        return Path(path) if path else None

    def print_sheets(self, kind: str, judged: tuple[Judgement, ...], out: Path) -> Errand | None:
        """Print in the background; None when there is nothing to print."""
        if not judged:
            self.told.setText(self.tr("Choose an aircraft first."))
            return None
        around = self._desk.around()
        errand = Errand(self._desk, lambda: file_work.print_sheets(kind, judged, around, out))
        errand.done.connect(self._written)
        errand.failed.connect(self._desk.trouble)
        self.told.setText(self.tr("Printing…"))
        errand.start()
        return errand

    def write_text(self, text: str, out: Path) -> None:
        """Write a text file."""
        try:
            _write(text, out)
        except HangarError as fault:
            self._desk.trouble.emit(fault)
        else:
            self._written(out)

    def _written(self, out: object) -> None:
        self.told.setText(self.tr("Written to {path}.").format(path=out))


def _write(text: str, out: Path) -> None:
    try:
        out.write_text(text, encoding="utf-8", newline="")
    except OSError as fault:
        raise StoreFault(
            say("{path} cannot be written: {why}.").format(path=out, why=fault.strerror)
        ) from fault
