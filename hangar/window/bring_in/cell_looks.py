"""How the cells of a keeper's sheet look: a colour and a sign for what became of each."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QPainter, QPen, QPolygonF

READ, DOUBTED, UNUSED, LEFT = "read", "doubted", "unused", "left"


@dataclass(frozen=True)
class CellLook:
    """Paper, ink and mark of a cell: ink keeps 4.5 : 1 to the paper, the mark 3 : 1."""

    paper: str
    ink: str
    mark: str


CELL_LOOKS: dict[str, dict[str, CellLook]] = {
    "light": {
        READ: CellLook("#DCECE6", "#1F2A30", "#0B5C66"),
        DOUBTED: CellLook("#FBE2A2", "#1F2A30", "#714C00"),
        UNUSED: CellLook("#E7E8E3", "#4C585E", "#59656B"),
        LEFT: CellLook("#F8DAD5", "#1F2A30", "#9B1A14"),
    },
    "dark": {
        READ: CellLook("#1D3A38", "#EAECE6", "#7CCFD2"),
        DOUBTED: CellLook("#4B3B12", "#FFF6E0", "#FFCB57"),
        UNUSED: CellLook("#2A3338", "#B4BFBF", "#9AA6A8"),
        LEFT: CellLook("#4C2522", "#F6EAE8", "#FF9A90"),
    },
}


def draw_sign(painter: QPainter, box: QRectF, state: str, colour: str) -> None:
    """Draw the sign of a state: a tick, a question mark, a stroke, a cross."""
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    pen = QPen(QColor(colour), max(1.4, box.width() / 7))
    pen.setCapStyle(Qt.PenCapStyle.RoundCap)
    painter.setPen(pen)

    def at(across: float, down: float) -> QPointF:
        return QPointF(box.left() + across * box.width(), box.top() + down * box.height())

    if state == READ:
        painter.drawPolyline(QPolygonF([at(0.1, 0.55), at(0.4, 0.85), at(0.9, 0.15)]))
    elif state == DOUBTED:
        font = QFont(painter.font())
        font.setBold(True)
        font.setPixelSize(max(8, round(box.height() * 1.25)))
        painter.setFont(font)
        painter.drawText(box.adjusted(-4, -4, 4, 4), Qt.AlignmentFlag.AlignCenter, "?")
    elif state == UNUSED:
        painter.drawLine(at(0.15, 0.5), at(0.85, 0.5))
    else:
        painter.drawLine(at(0.15, 0.15), at(0.85, 0.85))
        painter.drawLine(at(0.85, 0.15), at(0.15, 0.85))
    painter.restore()
