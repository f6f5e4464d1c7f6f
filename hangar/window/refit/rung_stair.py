"""The stair of the ladder: money across, the warnings and cautions that are left upwards."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen
from PySide6.QtWidgets import QWidget

from hangar.window.kit.drawn_picture import DrawnPicture
from hangar.window.kit.plain_words import plain_tip
from hangar.window.kit.view_settings import ViewSettings
from hangar.window.kit.words import say
from hangar.window.refit.rung_words import RungRow

WARNING_WEIGHT = 3
"""Height of a warning beside that of a caution: common practice, no source; for the picture only."""


class RungStair(DrawnPicture):
    """Steps from rung to rung; the chosen one is filled."""

    WISHED = (24, 8)
    LEAST = (14, 5)

    def __init__(self, view: ViewSettings, parent: QWidget | None = None) -> None:
        super().__init__(view, say("Findings left against money"), parent)
        self.rows: tuple[RungRow, ...] = ()
        self.chosen: RungRow | None = None

    def show_rungs(self, rows: Sequence[RungRow], chosen: RungRow | None) -> None:
        """Draw these rungs."""
        self.rows, self.chosen = tuple(rows), chosen
        self.look_again()

    def look_again(self) -> None:
        """Tell the steps in words, too."""
        words = "; ".join(f"{row.price:g}: {row.warnings} + {row.cautions}" for row in self.rows)
        self.setAccessibleDescription(words)
        self.setToolTip(
            plain_tip(say("Money: warnings + cautions left. A warning is drawn as high as three cautions."))
        )
        self.update()

    def draw(self, painter: QPainter) -> None:
        look, line = self._view.look, float(painter.fontMetrics().height())
        rect = QRectF(self.rect())
        painter.setPen(QColor(look.soft))
        head = QRectF(rect.left() + 8, rect.top(), rect.width() - 16, line * 1.2)
        painter.drawText(head, Qt.AlignmentFlag.AlignLeft, say("warnings and cautions left"))
        if len(self.rows) < 2:
            return
        box = rect.adjusted(line * 2, line * 1.7, -line * 2, -line * 1.6)
        most = max(_weight(row) for row in self.rows) or 1
        dear = max(row.price for row in self.rows) or 1.0

        def place(row: RungRow) -> QPointF:
            across = box.left() + box.width() * max(0.0, row.price) / dear
            return QPointF(across, box.bottom() - box.height() * _weight(row) / most)

        painter.setPen(QPen(QColor(look.line), 1))
        painter.drawLine(box.bottomLeft(), box.bottomRight())
        painter.setPen(QPen(QColor(look.accent), 2))
        at = place(self.rows[0])
        for row in self.rows[1:]:
            there = place(row)
            painter.drawLine(at, QPointF(there.x(), at.y()))
            painter.drawLine(QPointF(there.x(), at.y()), there)
            at = there
        for row in self.rows:
            there = place(row)
            painter.setPen(QPen(QColor(look.accent), 2))
            painter.setBrush(QColor(look.accent if row is self.chosen else look.paper))
            painter.drawEllipse(there, 5, 5)
        self._draw_money(painter, box, dear, line)

    def _draw_money(self, painter: QPainter, box: QRectF, dear: float, line: float) -> None:
        painter.setPen(QColor(self._view.look.soft))
        for share in (0.0, 0.5, 1.0):
            at = box.left() + box.width() * share
            room = QRectF(at - line * 3, box.bottom() + 2, line * 6, line * 1.2)
            painter.drawText(room, Qt.AlignmentFlag.AlignCenter, f"{dear * share:.0f}")


def _weight(row: RungRow) -> int:
    return WARNING_WEIGHT * row.warnings + row.cautions
