"""Findings by level on one line: shape, sign, number and word."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFont, QFontMetrics, QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from hangar.window.kit.level_marks import draw_mark
from hangar.window.kit.plain_words import plain_tip
from hangar.window.kit.view_settings import ViewSettings
from hangar.window.kit.words import level_count

if TYPE_CHECKING:
    from hangar.rules.finding import Level

GAP_EM = 1.6


class CountsStrip(QWidget):
    """Shows the levels that have findings, then a closing sentence."""

    def __init__(self, view: ViewSettings, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._view = view
        self._name = name
        self._counts: dict[Level, int] = {}
        self._sentence = ""
        self.setAccessibleName(name)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
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
        bold, plain = QFontMetrics(self._font()), self.fontMetrics()
        height = bold.height()
        width = sum(
            height * (1.3 + GAP_EM) + bold.horizontalAdvance(level_count(level, count))
            for level, count in self._counts.items()
        )
        return QSize(round(width + plain.horizontalAdvance(self._sentence)) + 4, height + 6)

    def minimumSizeHint(self) -> QSize:
        return QSize(60, self.sizeHint().height())

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        look = self._view.look
        height = QFontMetrics(self._font()).height()
        left, top = 0.0, (self.height() - height) / 2
        for level, count in self._counts.items():
            draw_mark(painter, QRectF(left, top, height, height), level, look)
            left += height * 1.3
            left = self._write(
                painter, level_count(level, count), left, look.levels[level].words, self._font()
            )
            left += height * GAP_EM
        if self._sentence:
            self._write(painter, self._sentence, left, look.ink, self.font())
        painter.end()

    def _write(self, painter: QPainter, text: str, left: float, colour: str, font: QFont) -> float:
        painter.setFont(font)
        painter.setPen(QColor(colour))
        metrics = QFontMetrics(font)
        room = QRectF(left, 0, max(0.0, self.width() - left), self.height())
        shown = metrics.elidedText(text, Qt.TextElideMode.ElideRight, int(room.width()))
        painter.drawText(room, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter, shown)
        return left + metrics.horizontalAdvance(text)
