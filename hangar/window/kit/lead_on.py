"""What a page says while there is nothing for it to show: one sentence, and the button that begins."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QPushButton, QVBoxLayout, QWidget

from hangar.window.kit.plain_words import PlainLabel


class LeadOn(QWidget):
    """The sentence and the button. Signals: ``wanted()`` when the button is pressed."""

    wanted = Signal()

    def __init__(
        self, words: str, act: str, parent: QWidget | None = None, *, is_allowed: bool = True
    ) -> None:
        super().__init__(parent)
        self.words = PlainLabel(words, wordWrap=True)
        self.button = QPushButton(act)
        self.button.setProperty("main", True)
        self.button.setEnabled(is_allowed)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 4)
        column.addWidget(self.words)
        column.addWidget(self.button, 0, Qt.AlignmentFlag.AlignLeft)
        self.button.clicked.connect(self.wanted)
