"""A line to type in that says beside itself what it refuses."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QLineEdit, QVBoxLayout, QWidget

from hangar.base.errors import HangarError
from hangar.window.kit.plain_words import PlainLabel
from hangar.window.kit.words import put


class ToldLine(QWidget):
    """Signals: ``entered()`` when the keeper left the line or pressed Enter with another text."""

    entered = Signal()

    def __init__(self, name: str, placeholder: str = "", parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._shown = ""
        self.line = QLineEdit()
        self.line.setAccessibleName(name)
        self.line.setPlaceholderText(placeholder)
        self.refusal_label = PlainLabel(wordWrap=True)
        self.refusal_label.setObjectName("refusal")
        self.refusal_label.hide()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(2)
        column.addWidget(self.line)
        column.addWidget(self.refusal_label)
        self.setFocusProxy(self.line)
        self.line.editingFinished.connect(self._finish)

    @property
    def text(self) -> str:
        """What stands in the line, without blanks at its ends."""
        return str(self.line.text()).strip()

    @property
    def refusal(self) -> str:
        """What stands beside it; empty when nothing is wrong."""
        return str(self.refusal_label.text())

    def show_text(self, text: str) -> None:
        """Put a text in; what was refused before is forgotten."""
        self._shown = text.strip()
        self.line.setText(text)
        self.line.setCursorPosition(0)
        self.refuse("")

    def refuse(self, sentence: str) -> None:
        """Say beside the line what is wrong; an empty sentence takes it back."""
        self.refusal_label.setText(sentence)
        self.refusal_label.setVisible(bool(sentence))
        self.line.setAccessibleDescription(sentence)

    def attempt(self, step: Callable[[], object]) -> bool:
        """Do something with what is typed; a refusal is told here."""
        try:
            step()
        except HangarError as fault:
            self.refuse(put(fault))
            return False
        self.refuse("")
        return True

    def _finish(self) -> None:
        if self.text == self._shown:
            self.refuse("")
        else:
            self.entered.emit()
