"""Findings by level on one line: shape, sign, number and word."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QRect, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFont, QFontMetrics, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from hangar.window.kit.level_marks import draw_mark
from hangar.window.kit.plain_words import plain_tip
from hangar.window.kit.view_settings import ViewSettings
from hangar.window.kit.words import level_count

if TYPE_CHECKING:
    from hangar.rules.finding import Level

GAP_EM = 1.6
_ENDLESS = 10_000
_WRAPPED = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop | Qt.TextFlag.TextWordWrap


class CountsStrip(QWidget):
    """Shows the levels that have findings, then a closing sentence.

    One that ``wraps`` writes the sentence under them where it needs the room; else it is cut.
    """

    def __init__(
        self, view: ViewSettings, name: str, parent: QWidget | None = None, *, wraps: bool = False
    ) -> None:
        super().__init__(parent)
        self._wraps = wraps
        self._view = view
        self._name = name
        self._counts: dict[Level, int] = {}
        self._sentence = ""
        self.setAccessibleName(name)
        # Where the window is too small for all lines it gives way to one, and the sentence is cut.
        upright = QSizePolicy.Policy.Maximum if wraps else QSizePolicy.Policy.Fixed
        self.setSizePolicy(QSizePolicy.Policy.Preferred, upright)
        view.changed.connect(self.updateGeometry)

    @property
    def words(self) -> str:
        """Everything shown, as text."""
        parts = [level_count(level, count) for level, count in self._counts.items()]
        return ", ".join([*parts, self._sentence] if self._sentence else parts)

    def show_counts(self, counts: Mapping[Level, int], sentence: str = "") -> None:
        """Show these counts; levels without findings are left out."""
        self._counts = {level: count for level, count in counts.items() if count}
        self._sentence = sentence
        self.setAccessibleName(f"{self._name}: {self.words}")
        self.setToolTip(plain_tip(self.words))
        self.updateGeometry()
        self.update()

    def _font(self) -> QFont:
        font = QFont(self.font())
        font.setBold(True)
        return font

    def sizeHint(self) -> QSize:
        metrics = self.fontMetrics()
        width = self._counts_width() + metrics.horizontalAdvance(self._sentence)
        high = self.heightForWidth(self.width()) if self._wraps else self._line_high() + 6
        return QSize(round(width) + 4, high)

    def minimumSizeHint(self) -> QSize:
        return QSize(60, self._line_high() + 6)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.updateGeometry()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange:
            self.updateGeometry()

    def heightForWidth(self, width: int) -> int:
        """One line, or more where the sentence needs lines of its own."""
        if self._fits(width):
            return self._line_high() + 6
        return self._below() + self._sentence_high(width) + 6

    def _line_high(self) -> int:
        return QFontMetrics(self._font()).height()

    def _counts_width(self) -> float:
        bold, height = QFontMetrics(self._font()), self._line_high()
        return sum(
            height * (1.3 + GAP_EM) + bold.horizontalAdvance(level_count(level, count))
            for level, count in self._counts.items()
        )

    def _fits(self, width: float) -> bool:
        return self._counts_width() + self.fontMetrics().horizontalAdvance(self._sentence) <= width

    def _below(self) -> int:
        """Where the sentence begins when it has lines of its own."""
        return round(self._line_high() * 1.15) if self._counts else 0

    def _sentence_high(self, width: int) -> int:
        room = QRect(0, 0, max(width, 1), _ENDLESS)
        return self.fontMetrics().boundingRect(room, int(_WRAPPED), self._sentence).height()

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        look = self._view.look
        height = self._line_high()
        below = not self._fits(self.width()) and self.height() >= self.heightForWidth(self.width()) - 3
        left, top = 0.0, 3.0 if below else (self.height() - height) / 2
        for level, count in self._counts.items():
            draw_mark(painter, QRectF(left, top, height, height), level, look)
            left += height * 1.3
            words = level_count(level, count)
            left = self._write(painter, words, left, top, look.levels[level].words, self._font())
            left += height * GAP_EM
        if self._sentence and below:
            painter.setFont(self.font())
            painter.setPen(QColor(look.ink))
            room = QRectF(0, 3 + self._below(), self.width(), self.height())
            painter.drawText(room, int(_WRAPPED), self._sentence)
        elif self._sentence:
            self._write(painter, self._sentence, left, top, look.ink, self.font())
        painter.end()

    def _write(
        self, painter: QPainter, text: str, left: float, top: float, colour: str, font: QFont
    ) -> float:
        painter.setFont(font)
        painter.setPen(QColor(colour))
        metrics = QFontMetrics(font)
        room = QRectF(left, top, max(0.0, self.width() - left), self._line_high())
        shown = metrics.elidedText(text, Qt.TextElideMode.ElideRight, int(room.width()))
        painter.drawText(room, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter, shown)
        return left + metrics.horizontalAdvance(text)
