"""The plan view: an outline from above with a dot for each servo position, its channel in it."""

from __future__ import annotations

import math
from collections.abc import Sequence

from PySide6.QtCore import QEvent, QPointF, QRect, QRectF, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QContextMenuEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPen,
    QResizeEvent,
    QTransform,
)
from PySide6.QtWidgets import QApplication, QGraphicsPathItem, QGraphicsScene, QGraphicsView, QWidget

from hangar.base.outlines import Outline
from hangar.window.kit.arrow_ways import WAYS, next_that_way
from hangar.window.kit.looks import Look
from hangar.window.kit.outlines import draw_grid, outline_pen, path_of
from hangar.window.kit.words import say
from hangar.window.positions.plaques import draw_plaque, place_plaques, plaque_size
from hangar.window.positions.servo_dot import ADDING, DotState, ServoDot

Place = tuple[float, float]
ROUNDS = 80


def spread_apart(places: Sequence[Place], least: float) -> tuple[Place, ...]:
    """Places as near to the given ones as they get with room between each two.

    Args:
        places: where the dots belong, px.
        least: the smallest distance wanted between two middles, px, above 0.

    Returns: one place for each given one; those that nothing crowds stay where they are.

    >>> spread_apart(((0.0, 0.0), (4.0, 0.0), (90.0, 0.0)), 10.0)
    ((-3.0, 0.0), (7.0, 0.0), (90.0, 0.0))
    """
    moved = [list(place) for place in places]
    for _ in range(ROUNDS):
        crowded = False
        for at, values in enumerate(moved):
            for other in moved[at + 1 :]:
                crowded |= _push(values, other, least)
        if not crowded:
            break
    return tuple((round(x, 2), round(y, 2)) for x, y in moved)


def _push(values: list[float], other: list[float], least: float) -> bool:
    """Push two apart by what they lack, each by half; those on one spot go left and right."""
    across, down = other[0] - values[0], other[1] - values[1]
    far = math.hypot(across, down)
    if far >= least - 0.01:
        return False
    way = (across / far, down / far) if far > 1e-6 else (1.0, 0.0)
    half = (least - far) / 2
    for axis in (0, 1):
        values[axis] -= half * way[axis]
        other[axis] += half * way[axis]
    return True


MARGIN = 70.0
ROOM_BETWEEN = 130.0
"""Pixels that the drawing needs between the plaques at its sides."""
OVER = 0.55
"""The share of the plaques' width that the drawing makes room for."""
APART = 2.35
"""Smallest distance between two dots, in radii: the mark of one must not hide the number of another."""


class PlanView(QGraphicsView):
    """Shows the outline as large as it fits, with the dots on it.

    Arrow keys go to the next dot that way, Space chooses it, Enter opens it, Ctrl with an arrow key
    moves it. A frame drawn over several chooses them, as Ctrl or Shift with a click adds one.

    Signals: ``position_chosen(code)``; ``position_added(code)``; ``several_chosen(codes)`` by a frame;
    ``position_opened(code)``; ``dot_moved(code, across, along)`` with fractions of the sheet;
    ``servo_dropped(code, what)``; ``menu_wanted(code, where)``.
    """

    position_chosen = Signal(str)
    position_added = Signal(str)
    several_chosen = Signal(object)
    position_opened = Signal(str)
    dot_moved = Signal(str, float, float)
    servo_dropped = Signal(str, str)
    menu_wanted = Signal(str, object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setScene(QGraphicsScene(self))
        self.setRenderHint(QPainter.RenderHint.Antialiasing)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setAccessibleName(say("Plan view with servo positions"))
        self.setToolTip(
            say("Arrow keys go from dot to dot, Space chooses, Enter fits a servo, Ctrl with an arrow "
                    "key moves the dot.")
        )  # fmt: skip
        self.setMinimumSize(220, 220)
        self.setAcceptDrops(True)
        self.setDragMode(QGraphicsView.DragMode.RubberBandDrag)
        self._has_band = False
        self._before: tuple[str, ...] = ()
        self.rubberBandChanged.connect(lambda band, _from, _to: self._band_drawn(band))
        self.dots: dict[str, ServoDot] = {}
        self._drawn: tuple[str, Look, tuple[str, ...]] | None = None
        self._typed = ""
        self._look: Look | None = None
        self.plaques: dict[str, QRectF] = {}

    def show_plan(self, outline: Outline, states: tuple[DotState, ...], look: Look) -> None:
        """Show an outline with dots; only what changed is drawn anew."""
        self._look = look
        codes = tuple(state.code for state in states)
        if self._drawn != (outline.name, look, codes):
            self._draw(outline, states, look)
            self._drawn = (outline.name, look, codes)
        for state in states:
            self.dots[state.code].show_state(state)
        self._fit()
        self._describe()

    def _describe(self) -> None:
        """Tell the chosen dot first, then all others."""
        ordered = sorted(self.dots.values(), key=lambda dot: not dot.isSelected())
        self.setAccessibleDescription("; ".join(dot.toolTip() for dot in ordered))

    @property
    def _focused(self) -> ServoDot | None:
        """The dot of several chosen from which the arrow keys go on."""
        item = self.scene().focusItem()
        return item if isinstance(item, ServoDot) and item.isSelected() else None

    @property
    def chosen(self) -> ServoDot | None:
        """The dot that is marked as the chosen one."""
        return next((dot for dot in self.dots.values() if dot.isSelected()), None)

    def _spread(self) -> None:
        """Set dots that would lie on each other aside."""
        dots = tuple(self.dots.values())
        places = [self.viewportTransform().map(dot.scenePos()) for dot in dots]
        apart = max((dot.radius for dot in dots), default=1.0) * APART
        spread = spread_apart([(place.x(), place.y()) for place in places], apart)
        for dot, place, moved in zip(dots, places, spread, strict=True):
            aside = QPointF(*moved) - place
            dot.set_aside(aside if aside.manhattanLength() > 0.5 else QPointF())
        self._place_plaques()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        dot = self._focused or self.chosen or next(iter(self.dots.values()), None)
        if dot is None:
            super().keyPressEvent(event)
        elif event.text().isdigit() and not event.modifiers():
            self._take_digit(event.text())
        elif event.key() in WAYS and not event.modifiers() & Qt.KeyboardModifier.ControlModifier:
            self._go(dot, WAYS[event.key()], is_adding=bool(event.modifiers() & ADDING))
        else:
            self.scene().setFocusItem(dot)
            super().keyPressEvent(event)

    def _take_digit(self, digit: str) -> None:
        """A channel is typed: its dot is chosen, or that of the number typed so far."""
        typed = self._typed + digit
        for wanted in (typed, digit):
            for code, dot in self.dots.items():
                if dot.words == wanted:
                    self._typed = wanted
                    self.scene().setFocusItem(dot)
                    self.choose(code)
                    self.position_chosen.emit(code)
                    return
        self._typed = ""

    def drawBackground(self, painter: QPainter, _rect: QRectF | QRect) -> None:
        if self._look is None:
            return
        painter.save()
        painter.resetTransform()
        draw_grid(painter, QRectF(self.viewport().rect()), self._look)
        painter.restore()

    def drawForeground(self, painter: QPainter, _rect: QRectF | QRect) -> None:
        """The plaques: position, servo and word beside the drawing, led to their dots."""
        if self._look is None or not self.dots:
            return
        painter.save()
        painter.resetTransform()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        for code, box in self.plaques.items():
            dot = self.dots[code]
            middle = self._middle(dot)
            edge = QPointF(box.right() if box.center().x() < middle.x() else box.left(), box.center().y())
            way = middle - edge
            far = math.hypot(way.x(), way.y())
            if far > dot.radius:
                painter.setPen(QPen(QColor(self._look.pen), 1.0))
                painter.drawLine(edge, middle - way * (dot.radius / far))
            draw_plaque(painter, box, dot.state, self._look, is_chosen=dot.isSelected())
        painter.restore()

    def _middle(self, dot: ServoDot) -> QPointF:
        return QPointF(self.viewportTransform().map(dot.scenePos())) + dot.offset

    def _place_plaques(self) -> None:
        """All of them where there is room at both sides; else that of the chosen dot only."""
        font = QApplication.font()
        states = [dot.state for dot in self.dots.values() if dot.state.head]
        size = plaque_size(states, font)
        view = self.viewport().rect()
        if not states:
            self.plaques = {}
            return
        if view.width() < 2 * size.width() + ROOM_BETWEEN:
            states = [dot.state for dot in self.dots.values() if dot.isSelected() and dot.state.head]
        discs = {code: self._middle(dot) for code, dot in self.dots.items()}
        radius = next(iter(self.dots.values())).radius
        self.plaques = place_plaques(
            {state.code: discs[state.code] for state in states}, list(discs.values()), radius, size, view
        )
        self.viewport().update()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        at = event.position()
        hit = next((code for code, box in self.plaques.items() if box.contains(at)), None)
        over_dot = self.itemAt(at.toPoint()) in self.dots.values()
        if hit is not None and not over_dot:
            self._chosen_by_hand(hit, is_adding=bool(event.modifiers() & ADDING))
            self.setFocus()
            return
        self._before = tuple(code for code, dot in self.dots.items() if dot.isSelected())
        super().mousePressEvent(event)

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        hit = next((code for code, box in self.plaques.items() if box.contains(event.position())), None)
        if hit is not None:
            self.position_opened.emit(hit)
            return
        super().mouseDoubleClickEvent(event)

    def _band_drawn(self, band: QRect) -> None:
        self._has_band = self._has_band or not band.isEmpty()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        super().mouseReleaseEvent(event)
        if self._has_band:
            self._has_band = False
            self.several_chosen.emit(tuple(code for code, dot in self.dots.items() if dot.isSelected()))
        elif self.chosen is None:
            # A click beside all of them, which Qt takes for a wish to choose none.
            self.choose(*self._before)

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        """By the menu key that of the chosen dot; over a plaque that of its dot."""
        at = QPointF(event.pos())
        over = next((code for code, box in self.plaques.items() if box.contains(at)), None)
        chosen = self.chosen
        if event.reason() is QContextMenuEvent.Reason.Keyboard and chosen is not None:
            where = self.viewport().mapToGlobal(self._middle(chosen).toPoint())
            self.menu_wanted.emit(chosen.state.code, where)
        elif over is not None and self.itemAt(event.pos()) not in self.dots.values():
            self.menu_wanted.emit(over, event.globalPos())
        else:
            super().contextMenuEvent(event)

    def _chosen_by_hand(self, code: str, *, is_adding: bool) -> None:
        if is_adding:
            self.position_added.emit(code)
        else:
            self.choose(code)
            self.position_chosen.emit(code)

    def _go(self, dot: ServoDot, way: tuple[int, int], *, is_adding: bool) -> None:
        places = {
            code: self.viewportTransform().map(dot.scenePos()) + dot.offset for code, dot in self.dots.items()
        }
        best = next_that_way(places, places[dot.state.code], way)
        if best is not None:
            self.scene().setFocusItem(self.dots[best])
            self._chosen_by_hand(best, is_adding=is_adding)

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
            dot.added.connect(self.position_added)
            dot.opened.connect(self.position_opened)
            dot.moved.connect(self.dot_moved)
            dot.servo_dropped.connect(self.servo_dropped)
            dot.menu_wanted.connect(self.menu_wanted)
            scene.addItem(dot)
            self.dots[state.code] = dot
        scene.setSceneRect(-MARGIN, -MARGIN, outline.width + 2 * MARGIN, outline.height + 2 * MARGIN)
        self._fit()

    def choose(self, *codes: str) -> None:
        """Mark these dots as the chosen ones, no others."""
        for other, dot in self.dots.items():
            dot.setSelected(other in codes)
        self._place_plaques()
        self._describe()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fit()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange and hasattr(self, "dots"):
            for dot in self.dots.values():
                dot.show_state(dot.state)
            self._fit()

    def _fit(self) -> None:
        """As large as it fits beside the plaques; these may lie over the tips of a rotor or a wing."""
        states = [dot.state for dot in self.dots.values() if dot.state.head]
        plaque = plaque_size(states, QApplication.font()).width() if states else 0.0
        view = self.viewport().rect()
        has_all = bool(states) and view.width() >= 2 * plaque + ROOM_BETWEEN
        beside = OVER * 2 * plaque if has_all else 0.0
        room = self.sceneRect().adjusted(MARGIN / 2, MARGIN / 2, -MARGIN / 2, -MARGIN / 2)
        if room.width() <= 0 or room.height() <= 0:
            return
        scale = min(max(60.0, view.width() - beside) / room.width(), view.height() / room.height())
        self.setTransform(QTransform.fromScale(scale, scale))
        self.centerOn(self.sceneRect().center())
        self._spread()
