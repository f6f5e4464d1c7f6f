"""One dot of the plan view: a servo position that can be dragged, chosen and opened."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, Qt, Signal
from PySide6.QtGui import QColor, QFontMetricsF, QKeyEvent, QPainter, QPainterPath, QPen
from PySide6.QtWidgets import (
    QApplication,
    QGraphicsItem,
    QGraphicsObject,
    QGraphicsSceneContextMenuEvent,
    QGraphicsSceneDragDropEvent,
    QGraphicsSceneHoverEvent,
    QGraphicsSceneMouseEvent,
    QStyleOptionGraphicsItem,
    QWidget,
)

from hangar.base.outlines import Outline
from hangar.rules.finding import Level
from hangar.window.kit.level_marks import draw_mark
from hangar.window.kit.looks import Look
from hangar.window.kit.plain_words import plain_tip
from hangar.window.kit.words import level_word, say
from hangar.window.positions.bay_strip import servo_in

NUDGE = 0.01
ADDING = Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier
"""Held down, a click chooses one more."""


@dataclass(frozen=True)
class DotState:
    """What one dot shows."""

    code: str
    channel: int | None
    title: str
    across: float
    along: float
    level: Level | None
    empty: bool = False
    head: str = ""
    line: str = ""
    """What its plaque says in two lines."""

    @property
    def spoken(self) -> str:
        """The whole in words."""
        words = level_word(self.level) if self.level else say("nothing found")
        if self.channel is None:
            return f"{self.title}: {words}"
        return say("channel {number}, {title}: {words}", number=self.channel, title=self.title, words=words)


class ServoDot(QGraphicsObject):
    """One servo position; it can be dragged, focused and moved with Ctrl and the arrow keys.

    The item lies where the position is; where dots are crowded, ``offset`` sets the disc aside and a thin
    line leads back.

    Signals: ``chosen(code)``; ``added(code)`` with Ctrl or Shift; ``opened(code)``;
    ``moved(code, across, along)`` once, when the move is done; ``servo_dropped(code, what)`` when a spare
    servo is let go over it; ``menu_wanted(code, where)``.
    """

    chosen = Signal(str)
    added = Signal(str)
    opened = Signal(str)
    moved = Signal(str, float, float)
    servo_dropped = Signal(str, str)
    menu_wanted = Signal(str, object)

    def __init__(self, state: DotState, outline: Outline, look: Look) -> None:
        super().__init__()
        self.state = state
        self._outline = outline
        self._look = look
        self._hovered = False
        self._pressed_at: QPointF | None = None
        self.offset = QPointF()
        flag = QGraphicsItem.GraphicsItemFlag
        self.setFlags(flag.ItemIsMovable | flag.ItemIsFocusable | flag.ItemIsSelectable)
        self.setFlag(flag.ItemIgnoresTransformations)
        self.setFlag(flag.ItemSendsGeometryChanges)
        self.setAcceptHoverEvents(True)
        self.setAcceptDrops(True)
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
        self.setToolTip(plain_tip(state.spoken))
        self.setZValue(10 + (4 - state.level.rank if state.level else 0))
        self.update()

    @property
    def words(self) -> str:
        """What stands in the disc: the channel, always; a stroke where there is none."""
        return "–" if self.state.channel is None else str(self.state.channel)

    def contextMenuEvent(self, event: QGraphicsSceneContextMenuEvent) -> None:
        event.accept()
        self.chosen.emit(self.state.code)
        self.menu_wanted.emit(self.state.code, event.screenPos())

    def set_aside(self, offset: QPointF) -> None:
        """Draw the disc so many pixels beside the position."""
        if offset != self.offset:
            self.prepareGeometryChange()
            self.offset = offset
            self.update()

    def boundingRect(self) -> QRectF:
        reach = self.radius * 1.7
        disc = QRectF(-reach, -reach, 2 * reach, 2 * reach)
        return disc.translated(self.offset).united(QRectF(-4, -4, 8, 8))

    def shape(self) -> QPainterPath:
        path = QPainterPath()
        path.addEllipse(self.offset, self.radius * 1.15, self.radius * 1.15)
        return path

    def paint(
        self, painter: QPainter, _option: QStyleOptionGraphicsItem, _widget: QWidget | None = None
    ) -> None:
        look, radius = self._look, self.radius
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        if not self.offset.isNull() and not self._is_dragged:
            painter.setPen(QPen(QColor(look.ink), 1.2))
            painter.drawLine(QPointF(), self.offset)
            painter.setBrush(QColor(look.ink))
            painter.drawEllipse(QPointF(), 2.6, 2.6)
        painter.translate(self.offset)
        if self.hasFocus() or self.isSelected():
            painter.setPen(QPen(QColor(look.focus), 2.2))
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
        painter.drawText(box, Qt.AlignmentFlag.AlignCenter, self.words)
        if level:
            side = radius * 0.95
            draw_mark(painter, QRectF(radius * 0.5, -radius * 1.4, side, side), level, look)

    def hoverEnterEvent(self, _event: QGraphicsSceneHoverEvent) -> None:
        self._hovered = True
        self.update()

    def hoverLeaveEvent(self, _event: QGraphicsSceneHoverEvent) -> None:
        self._hovered = False
        self.update()

    @property
    def _is_dragged(self) -> bool:
        return self._pressed_at is not None and self._pressed_at != self.pos()

    def dragEnterEvent(self, event: QGraphicsSceneDragDropEvent) -> None:
        event.setAccepted(servo_in(event.mimeData()) is not None)
        self._hovered = event.isAccepted()
        self.update()

    def dragLeaveEvent(self, _event: QGraphicsSceneDragDropEvent) -> None:
        self._hovered = False
        self.update()

    def dropEvent(self, event: QGraphicsSceneDragDropEvent) -> None:
        self._hovered = False
        self.update()
        what = servo_in(event.mimeData())
        if what is not None:
            event.acceptProposedAction()
            self.servo_dropped.emit(self.state.code, what)

    def mousePressEvent(self, event: QGraphicsSceneMouseEvent) -> None:
        super().mousePressEvent(event)
        self._pressed_at = self.pos()
        (self.added if event.modifiers() & ADDING else self.chosen).emit(self.state.code)

    def mouseReleaseEvent(self, event: QGraphicsSceneMouseEvent) -> None:
        is_chosen = self.isSelected()
        super().mouseReleaseEvent(event)
        # What is chosen is settled when the button goes down; Qt would turn it over when it comes up.
        self.setSelected(is_chosen)
        if self._is_dragged:
            # The position comes to lie where the disc was dropped.
            self.setPos(self.pos() + self._in_scene(self.offset))
            self.set_aside(QPointF())
        self._pressed_at = None
        self._tell_place()

    def _in_scene(self, pixels: QPointF) -> QPointF:
        views = self.scene().views()
        scale = views[0].transform().m11() if views else 1.0
        return pixels / scale if scale else QPointF()

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
        elif event.key() == Qt.Key.Key_Space:
            (self.added if event.modifiers() & ADDING else self.chosen).emit(self.state.code)
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.opened.emit(self.state.code)
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
