"""A tick box whose words go on in a line below where the width ends."""

from __future__ import annotations

from PySide6.QtCore import QRect, QSize, Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QCheckBox, QSizePolicy, QStyle, QStyleOptionButton, QWidget


class WrappingTick(QCheckBox):
    """Asks for the room of its longest word only; `words` is what is said, on one line."""

    def __init__(self, words: str, parent: QWidget | None = None) -> None:
        super().__init__(words, parent)
        self.words = words
        policy = QSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)

    def sizeHint(self) -> QSize:
        return self._around(self.words)

    def minimumSizeHint(self) -> QSize:
        return self._around("\n".join(self.words.split())).boundedTo(
            QSize(self.maximumWidth(), self.sizeHint().height())
        )

    def hasHeightForWidth(self) -> bool:
        return True

    def heightForWidth(self, width: int) -> int:
        return self._around(self._wrapped(width)).height()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        text = self._wrapped(event.size().width())
        if text != self.text():
            self.setText(text)

    def _wrapped(self, width: int) -> str:
        """The words with a line break wherever the next one has no room."""
        lines: list[str] = []
        for word in self.words.split():
            longer = f"{lines[-1]} {word}" if lines else word
            if lines and self._around(longer).width() <= width:
                lines[-1] = longer
            else:
                lines.append(word)
        return "\n".join(lines)

    def _around(self, text: str) -> QSize:
        """The size of box and text together."""
        option = QStyleOptionButton()
        self.initStyleOption(option)
        option.text = text
        shown = Qt.TextFlag.TextShowMnemonic
        size = self.fontMetrics().boundingRect(QRect(), shown, text).size()
        kind = QStyle.ContentsType.CT_CheckBox
        return self.style().sizeFromContents(kind, option, size, self)
