"""How trouble is told: a bar for what the keeper can mend, a dialog for what is a fault of ours."""

from __future__ import annotations

import logging
import sys
import traceback
from collections.abc import Callable
from types import TracebackType

from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QApplication, QFrame, QHBoxLayout, QLabel, QMessageBox, QPushButton, QWidget

from hangar.base.errors import HangarError
from hangar.window.kit.words import retold, say

_logger = logging.getLogger(__name__)


class NoticeBar(QFrame):
    """A sentence with a button to put it away; it does not stop the work."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("notice")
        self._words = QLabel()
        self._words.setWordWrap(True)
        self._words.setAccessibleName(self.tr("Notice"))
        self._act: Callable[[], object] | None = None
        self.button = QPushButton()
        self.button.clicked.connect(self._do)
        away = QPushButton(self.tr("Put away"))
        away.clicked.connect(self.hide)
        row = QHBoxLayout(self)
        row.setContentsMargins(12, 6, 8, 6)
        row.addWidget(self._words, 1)
        row.addWidget(self.button)
        row.addWidget(away)
        self.hide()

    @property
    def sentence(self) -> str:
        """What the bar says; empty when it is put away."""
        return "" if self.isHidden() else str(self._words.text())

    def tell(self, sentence: str, words: str = "", act: Callable[[], object] | None = None) -> None:
        """Show a sentence, with a button of these words that does something about it."""
        self._act = act
        self.button.setText(words)
        self.button.setVisible(act is not None)
        self._words.setText(retold(sentence))
        self.show()

    def _do(self) -> None:
        act = self._act
        self.hide()
        if act is not None:
            act()

    def trouble(self, fault: Exception) -> None:
        """Tell of a failure: what the keeper can mend here, anything else in a dialog."""
        if isinstance(fault, HangarError):
            self.tell(str(fault))
        else:
            show_fault(fault, self.window())


def show_fault(fault: BaseException, parent: QWidget | None = None) -> QMessageBox:
    """A dialog for a fault of the program, with the details to copy."""
    _logger.error("unexpected fault", exc_info=fault)
    details = "".join(traceback.format_exception(fault))
    box = QMessageBox(parent)
    box.setIcon(QMessageBox.Icon.Critical)
    box.setWindowTitle(say("Something went wrong"))
    box.setText(
        say(
            "Hangar met a fault of its own. Your fleet file is as it was after the last finished edit. "
            "The details help to mend it."
        )
    )
    box.setDetailedText(details)
    copy = box.addButton(say("Copy details"), QMessageBox.ButtonRole.ActionRole)
    box.addButton(QMessageBox.StandardButton.Close)
    copy.clicked.connect(lambda: QGuiApplication.clipboard().setText(details))
    box.open()
    return box


def catch_faults() -> None:
    """Show every exception that nothing caught; Qt would only print those raised in slots."""

    def tell(kind: type[BaseException], fault: BaseException, trace: TracebackType | None) -> None:
        if issubclass(kind, KeyboardInterrupt) or QApplication.instance() is None:
            sys.__excepthook__(kind, fault, trace)
        else:
            show_fault(fault, QApplication.activeWindow())

    sys.excepthook = tell
