"""What is left after each stage as columns: warnings below, cautions on top."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen
from PySide6.QtWidgets import QWidget

from hangar.window.kit.drawn_picture import DrawnPicture
from hangar.window.kit.looks import Look
from hangar.window.kit.plain_words import plain_tip
from hangar.window.kit.view_settings import ViewSettings
from hangar.window.kit.words import level_count, say


class StagesPicture(DrawnPicture):
    """Draws one column for today and for each stage; the words are in its accessible description too."""

    WISHED = (24, 12)
    LEAST = (14, 7)

    def __init__(self, view: ViewSettings, parent: QWidget | None = None) -> None:
        super().__init__(view, say("Findings left after each stage"), parent)
        self.steps: tuple[tuple[str, int, int], ...] = ()

    def show_steps(self, steps: Sequence[tuple[str, int, int]]) -> None:
        """Draw these: what each step is called, and the warnings and cautions left with it."""
        self.steps = tuple(steps)
        self.look_again()

    def look_again(self) -> None:
        """Tell the steps in words, too."""
        words = "; ".join(
            f"{name}: {left_words(warnings, cautions)}" for name, warnings, cautions in self.steps
        )
        self.setAccessibleDescription(words)
        self.setToolTip(plain_tip(words))
        self.update()

    def draw(self, painter: QPainter) -> None:
        draw_steps(painter, QRectF(self.rect()), self.steps, self._view.look)


def left_words(warnings: int, cautions: int) -> str:
    """Warnings and cautions that are left, in words."""
    return f"{level_count('warning', warnings)}, {level_count('caution', cautions)}"


def draw_steps(painter: QPainter, rect: QRectF, steps: Sequence[tuple[str, int, int]], look: Look) -> None:
    """Draw the steps within a rectangle, from 0 to the most findings."""
    painter.fillRect(rect, QColor(look.paper))
    if not steps:
        painter.setPen(QColor(look.soft))
        painter.drawText(rect, Qt.AlignmentFlag.AlignCenter, say("Nothing worked out yet."))
        return
    metrics = painter.fontMetrics()
    line = metrics.height()
    box = rect.adjusted(line, line * 2.6, -line, -line * 1.6)
    most = max(warnings + cautions for _, warnings, cautions in steps) or 1
    wide = box.width() / len(steps)
    for at, (name, warnings, cautions) in enumerate(steps):
        left, bottom = box.left() + at * wide, box.bottom()
        for level, count in (("warning", warnings), ("caution", cautions)):
            high = box.height() * count / most
            column = QRectF(left + wide * 0.2, bottom - high, wide * 0.6, high)
            if count:
                painter.fillRect(column, QColor(look.levels[level].fill))
            bottom -= high
        painter.setPen(QColor(look.ink))
        room = QRectF(left + 3, bottom - line * 1.3, wide - 6, line * 1.2)
        wording = left_words(warnings, cautions)
        if metrics.horizontalAdvance(wording) > room.width():
            wording = f"{warnings} + {cautions}"
        painter.drawText(room, Qt.AlignmentFlag.AlignCenter, wording)
        painter.setPen(QColor(look.soft))
        words = metrics.elidedText(name, Qt.TextElideMode.ElideRight, int(wide) - 8)
        below = QRectF(left, box.bottom() + line * 0.2, wide, line * 1.2)
        painter.drawText(below, Qt.AlignmentFlag.AlignCenter, words)
    painter.setPen(QPen(QColor(look.line), 1))
    painter.drawLine(box.bottomLeft(), box.bottomRight())
    painter.setPen(QColor(look.soft))
    head = QRectF(rect.left() + line, rect.top() + 2, rect.width() - 2 * line, line)
    painter.drawText(head, Qt.AlignmentFlag.AlignLeft, say("Warnings and cautions left"))
