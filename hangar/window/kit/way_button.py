"""A large button that says in one line what it does, and below what for."""

from __future__ import annotations

from PySide6.QtCore import QRect, QSize, Qt
from PySide6.QtGui import QFont, QFontMetrics, QPainter, QPaintEvent
from PySide6.QtWidgets import QPushButton, QSizePolicy, QStyle, QStyleOptionButton, QWidget

_ACROSS, _DOWN = 16, 10
"""Room between the border and the words, in pixels."""


class WayButton(QPushButton):
    """The title, bold, with its key; the words below go on in as many lines as it takes.

    Qt's own button of this kind keeps its letters at one size, whatever the keeper has chosen.
    """

    def __init__(self, title: str, about: str, parent: QWidget | None = None) -> None:
        super().__init__(title, parent)
        self.about = about
        self.setAccessibleName(title.replace("&", ""))
        self.setAccessibleDescription(about)
        policy = QSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)

    def _bold(self) -> QFont:
        font = QFont(self.font())
        font.setBold(True)
        return font

    def _about_room(self, width: int) -> QRect:
        """The rectangle of the words below the title, in a button that is so wide."""
        top = _DOWN + QFontMetrics(self._bold()).height() + 2
        room = QRect(_ACROSS, top, max(1, width - 2 * _ACROSS), 10_000)
        return self.fontMetrics().boundingRect(room, Qt.TextFlag.TextWordWrap, self.about)

    def sizeHint(self) -> QSize:
        title = QFontMetrics(self._bold()).horizontalAdvance(self.text())
        width = max(title, self.fontMetrics().horizontalAdvance(self.about)) + 2 * _ACROSS + 2
        return QSize(width, self.heightForWidth(width))

    def minimumSizeHint(self) -> QSize:
        width = QFontMetrics(self._bold()).horizontalAdvance(self.text()) + 2 * _ACROSS
        return QSize(width, self.heightForWidth(self.width()))

    def hasHeightForWidth(self) -> bool:
        return True

    def heightForWidth(self, width: int) -> int:
        return self._about_room(width).bottom() + 1 + _DOWN

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        option = QStyleOptionButton()
        self.initStyleOption(option)
        option.text = ""
        style, ink = self.style(), self.palette().buttonText().color()
        style.drawControl(QStyle.ControlElement.CE_PushButton, option, painter, self)
        painter.setPen(ink)
        painter.setFont(self._bold())
        flags = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop
        title = self.rect().adjusted(_ACROSS, _DOWN, -_ACROSS, 0)
        painter.drawText(title, flags | Qt.TextFlag.TextShowMnemonic, self.text())
        painter.setFont(self.font())
        painter.drawText(self._about_room(self.width()), flags | Qt.TextFlag.TextWordWrap, self.about)
        painter.end()
