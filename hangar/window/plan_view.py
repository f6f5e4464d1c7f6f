"""The plan view: an outline from above with one numbered dot for each servo position."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, Qt, Signal
from PySide6.QtGui import QColor, QFontMetricsF, QKeyEvent, QPainter, QPainterPath, QPen, QResizeEvent
from PySide6.QtWidgets import (
    QApplication,
    QGraphicsItem,
    QGraphicsObject,
    QGraphicsPathItem,
    QGraphicsScene,
    QGraphicsSceneHoverEvent,
    QGraphicsSceneMouseEvent,
    QGraphicsView,
    QStyleOptionGraphicsItem,
    QWidget,
)

from hangar.base.outlines import Outline
from hangar.rules.finding import Level
from hangar.window.level_marks import draw_mark
from hangar.window.looks import Look
from hangar.window.outlines import outline_pen, path_of
from hangar.window.words import level_word, say

MARGIN = 70.0
NUDGE = 0.01


@dataclass(frozen=True)
class DotState:
    """What one dot shows."""

    code: str
    number: int
    title: str
    across: float
    along: float
    level: Level | None
    empty: bool = False


class ServoDot(QGraphicsObject):
    """One servo position; it can be dragged, focused and moved with Ctrl and the arrow keys.

    Signals: ``chosen(code)``; ``moved(code, across, along)`` once, when the move is done.
    """

    chosen = Signal(str)
    moved = Signal(str, float, float)

    def __init__(self, state: DotState, outline: Outline, look: Look) -> None:
        super().__init__()
        self.state = state
        self._outline = outline
        self._look = look
        self._hovered = False
        flag = QGraphicsItem.GraphicsItemFlag
        self.setFlags(flag.ItemIsMovable | flag.ItemIsFocusable | flag.ItemIsSelectable)
        self.setFlag(flag.ItemIgnoresTransformations)
        self.setFlag(flag.ItemSendsGeometryChanges)
        self.setAcceptHoverEvents(True)
        self.setCursor(Qt.CursorShape.OpenHandCursor)
        self.show_state(state)

    @property
    def radius(self) -> float:
        """Radius on screen, following the text size."""
        return QFontMetricsF(QApplication.font()).height() * 0.78

    def show_state(self, state: DotState) -> None:
        """Show another state of the same position."""
        self.prepareGeometryChange()
        self.state = state
        self.setPos(state.across * self._outline.width, state.along * self._outline.height)
        words = level_word(state.level) if state.level else say("nothing found")
        self.setToolTip(f"{state.number}. {state.title}: {words}")
        self.setZValue(10 + (4 - state.level.rank if state.level else 0))
        self.update()

    def boundingRect(self) -> QRectF:
        reach = self.radius * 1.7
        return QRectF(-reach, -reach, 2 * reach, 2 * reach)

    def shape(self) -> QPainterPath:
        path = QPainterPath()
        path.addEllipse(QPointF(), self.radius * 1.15, self.radius * 1.15)
        return path

    def paint(
        self, painter: QPainter, _option: QStyleOptionGraphicsItem, _widget: QWidget | None = None
    ) -> None:
        look, radius = self._look, self.radius
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        if self.hasFocus() or self.isSelected():
            painter.setPen(QPen(QColor(look.accent), 3.0))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawEllipse(QPointF(), radius + 4, radius + 4)
        level = self.state.level
        fill = look.levels[level].fill if level else look.paper
        edge = look.levels[level].edge if level else look.ink
        ink = look.levels[level].sign if level else look.ink
        style = (
            Qt.PenStyle.DashLine if self.state.empty or level is Level.CANT_TELL else Qt.PenStyle.SolidLine
        )
        painter.setPen(QPen(QColor(edge), 2.4 if self._hovered else 1.6, style))
        painter.setBrush(QColor(fill))
        painter.drawEllipse(QPointF(), radius, radius)
        font = QApplication.font()
        font.setBold(True)
        painter.setFont(font)
        painter.setPen(QColor(ink))
        box = QRectF(-radius, -radius, 2 * radius, 2 * radius)
        painter.drawText(box, Qt.AlignmentFlag.AlignCenter, str(self.state.number))
        if level:
            side = radius * 1.05
            draw_mark(painter, QRectF(radius * 0.42, -radius * 1.45, side, side), level, look)

    def hoverEnterEvent(self, _event: QGraphicsSceneHoverEvent) -> None:
        self._hovered = True
        self.update()

    def hoverLeaveEvent(self, _event: QGraphicsSceneHoverEvent) -> None:
        self._hovered = False
        self.update()

    def mousePressEvent(self, event: QGraphicsSceneMouseEvent) -> None:
        super().mousePressEvent(event)
        self.chosen.emit(self.state.code)

    def mouseReleaseEvent(self, event: QGraphicsSceneMouseEvent) -> None:
        super().mouseReleaseEvent(event)
        self._tell_place()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        step = {
            Qt.Key.Key_Left: (-NUDGE, 0.0),
            Qt.Key.Key_Right: (NUDGE, 0.0),
            Qt.Key.Key_Up: (0.0, -NUDGE),
            Qt.Key.Key_Down: (0.0, NUDGE),
        }.get(Qt.Key(event.key()))
        if step and event.modifiers() & Qt.KeyboardModifier.ControlModifier:
            self.moveBy(step[0] * self._outline.width, step[1] * self._outline.height)
            self._tell_place()
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space):
            self.chosen.emit(self.state.code)
        else:
            super().keyPressEvent(event)

    def itemChange(self, change: QGraphicsItem.GraphicsItemChange, value: object) -> object:
        if change is QGraphicsItem.GraphicsItemChange.ItemPositionChange and isinstance(value, QPointF):
            return QPointF(
                min(max(value.x(), 0.0), self._outline.width), min(max(value.y(), 0.0), self._outline.height)
            )
        if change is QGraphicsItem.GraphicsItemChange.ItemSelectedHasChanged:
            self.update()
        return super().itemChange(change, value)

    def _tell_place(self) -> None:
        across = round(self.x() / self._outline.width, 3)
        along = round(self.y() / self._outline.height, 3)
        if (across, along) != (round(self.state.across, 3), round(self.state.along, 3)):
            self.moved.emit(self.state.code, across, along)


class PlanView(QGraphicsView):
    """Shows the outline as large as it fits, with the dots on it.

    Signals: ``position_chosen(code)``; ``dot_moved(code, across, along)`` with fractions of the sheet.
    """

    position_chosen = Signal(str)
    dot_moved = Signal(str, float, float)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setScene(QGraphicsScene(self))
        self.setRenderHint(QPainter.RenderHint.Antialiasing)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setAccessibleName(self.tr("Plan view with servo positions"))
        self.setMinimumSize(220, 220)
        self.dots: dict[str, ServoDot] = {}
        self._drawn: tuple[str, Look, tuple[str, ...]] | None = None

    def show_plan(self, outline: Outline, states: tuple[DotState, ...], look: Look) -> None:
        """Show an outline with dots; only what changed is drawn anew."""
        codes = tuple(state.code for state in states)
        if self._drawn != (outline.name, look, codes):
            self._draw(outline, states, look)
            self._drawn = (outline.name, look, codes)
        for state in states:
            self.dots[state.code].show_state(state)
        self.setAccessibleDescription("; ".join(self.dots[code].toolTip() for code in codes))

    def _draw(self, outline: Outline, states: tuple[DotState, ...], look: Look) -> None:
        scene = self.scene()
        scene.clear()
        self.dots = {}
        for part in outline.parts:
            item = QGraphicsPathItem(path_of(part))
            item.setPen(outline_pen(part, look, 1.4))
            if part.filled:
                item.setBrush(QColor(look.outline))
            scene.addItem(item)
        for state in states:
            dot = ServoDot(state, outline, look)
            dot.chosen.connect(self.position_chosen)
            dot.moved.connect(self.dot_moved)
            scene.addItem(dot)
            self.dots[state.code] = dot
        scene.setSceneRect(-MARGIN, -MARGIN, outline.width + 2 * MARGIN, outline.height + 2 * MARGIN)
        self._fit()

    def choose(self, code: str) -> None:
        """Mark one dot as the chosen one."""
        for other, dot in self.dots.items():
            dot.setSelected(other == code)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fit()

    def _fit(self) -> None:
        self.fitInView(self.sceneRect(), Qt.AspectRatioMode.KeepAspectRatio)
