"""How trouble is told: a bar for what the keeper can mend, a dialog for what is a fault of ours."""

from __future__ import annotations

import logging
import sys
import traceback
from collections.abc import Callable
from types import TracebackType

from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QGuiApplication, QResizeEvent
from PySide6.QtWidgets import (
    QApplication,
    QFrame,
    QHBoxLayout,
    QMessageBox,
    QPushButton,
    QScrollArea,
    QWidget,
)
from shiboken6 import isValid

from hangar.base.errors import HangarError
from hangar.window.kit.plain_words import PlainLabel
from hangar.window.kit.words import put, say

_LINES_MOST = 12
_logger = logging.getLogger(__name__)


class Words(QScrollArea):
    """Words as high as they are up to some lines; what is longer is scrolled, so that the window stays."""

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._label = PlainLabel()
        self._label.setWordWrap(True)
        self._label.setAccessibleName(name)
        self._label.setAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        self.setAccessibleName(name)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setWidgetResizable(True)
        self.setWidget(self._label)
        self.viewport().setAutoFillBackground(False)
        self._label.setAutoFillBackground(False)

    def text(self) -> str:
        """The words."""
        return str(self._label.text())

    def show_text(self, words: str) -> None:
        """Show these words from their beginning."""
        self._label.setText(words)
        self.verticalScrollBar().setValue(0)
        self._fit()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        if event.size().width() != event.oldSize().width():
            self._fit()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange:
            self._fit()

    def _fit(self) -> None:
        bar = self.verticalScrollBar().sizeHint().width()
        line = self.fontMetrics().lineSpacing()
        whole = max(line, self._label.heightForWidth(max(1, self.width() - bar)))
        most = _LINES_MOST * line
        self.setFixedHeight(min(whole, most))
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus if whole > most else Qt.FocusPolicy.NoFocus)


class NoticeBar(QFrame):
    """A sentence with a button to put it away; it does not stop the work."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("notice")
        self._words = Words(say("Notice"))
        self._act: Callable[[], object] | None = None
        self.button = QPushButton()
        self.button.clicked.connect(self._do)
        away = QPushButton(say("Put away"))
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
        self._words.show_text(sentence)
        self.show()

    def _do(self) -> None:
        act = self._act
        self.hide()
        if act is not None:
            act()

    def trouble(self, fault: Exception) -> None:
        """Tell of a failure: what the keeper can mend here, anything else in a dialog."""
        if isinstance(fault, HangarError):
            self.tell(put(fault))
        else:
            show_fault(fault, self.window())


def show_fault(fault: BaseException, parent: QWidget | None = None) -> QMessageBox:
    """A dialog for a fault of the program, with the details to copy."""
    _logger.error("unexpected fault", exc_info=fault)
    details = "".join(traceback.format_exception(fault))
    box = QMessageBox(parent)
    box.setIcon(QMessageBox.Icon.Critical)
    box.setTextFormat(Qt.TextFormat.PlainText)
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

    boxes: list[QMessageBox] = []

    def tell(kind: type[BaseException], fault: BaseException, trace: TracebackType | None) -> None:
        if issubclass(kind, KeyboardInterrupt) or QApplication.instance() is None:
            sys.__excepthook__(kind, fault, trace)
        elif boxes and isValid(boxes[-1]) and boxes[-1].isVisible():
            # What is drawn anew again and again would put up a dialog each time, one above the other.
            _logger.error("another unexpected fault", exc_info=fault)
        else:
            boxes[:] = [show_fault(fault, QApplication.activeWindow())]

    sys.excepthook = tell
