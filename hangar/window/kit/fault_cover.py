"""A page that cannot be shown is covered by a sentence; the other pages go on working."""

from __future__ import annotations

import logging
import traceback

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QPushButton, QVBoxLayout, QWidget

from hangar.answers.judging import Judgement
from hangar.base.errors import HangarError
from hangar.window.kit.desk import Desk
from hangar.window.kit.plain_words import PlainLabel
from hangar.window.kit.words import say

_logger = logging.getLogger(__name__)


class FaultCover(QWidget):
    """One sentence that says what to do, and the details to copy; ``over`` is the page it lies on."""

    def __init__(self, fault: Exception, over: QWidget | None = None) -> None:
        super().__init__(over)
        self._details = "".join(traceback.format_exception(fault))
        self.setAutoFillBackground(True)
        self.sentence = PlainLabel(
            say(
                "This page met a fault of Hangar's own and cannot be shown; go on with the other pages, "
                "your fleet is as it was after the last edit, and send the details to who looks after Hangar."
            ),
            wordWrap=True,
        )
        self.sentence.setAccessibleName(say("Why this page is not shown"))
        copy = QPushButton(say("Copy details"))
        copy.clicked.connect(lambda: QGuiApplication.clipboard().setText(self._details))
        column = QVBoxLayout(self)
        column.setContentsMargins(24, 24, 24, 24)
        column.addWidget(self.sentence)
        column.addWidget(copy, 0, Qt.AlignmentFlag.AlignLeft)
        column.addStretch(1)
        if over is not None:
            over.installEventFilter(self)
            self.setGeometry(over.rect())
            self.show()
            self.raise_()

    def eventFilter(self, over: QObject, event: QEvent) -> bool:
        if event.type() == QEvent.Type.Resize and isinstance(over, QWidget):
            self.setGeometry(over.rect())
        return False


def show_page(page: QWidget, judgement: Judgement, desk: Desk) -> None:
    """Show an aircraft on a page; where the page fails, it is covered until it can be shown again."""
    try:
        page.show_judgement(judgement)  # type: ignore[attr-defined]  # pages have it
    except HangarError as fault:
        desk.trouble.emit(fault)
    except Exception as fault:  # noqa: BLE001 a border: one page's fault must not block another
        log_fault(fault)
        uncover(page)
        FaultCover(fault, page)
    else:
        uncover(page)


def log_fault(fault: Exception) -> None:
    """Write a fault of the program into the log."""
    _logger.error("unexpected fault", exc_info=fault)


def uncover(page: QWidget) -> None:
    """Take the sentence off a page, or out of the place of a room."""
    for cover in page.findChildren(FaultCover, options=Qt.FindChildOption.FindDirectChildrenOnly):
        cover.hide()
        cover.setParent(None)
        cover.deleteLater()
