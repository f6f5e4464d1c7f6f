"""The supply picture on screen: boxes and wires, every number on it can be asked "How?"."""

from __future__ import annotations

from collections import defaultdict

from PySide6.QtCore import QPointF, QRectF, QSizeF, Qt, Signal
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QKeyEvent, QPainter, QPainterPath, QPen, QResizeEvent
from PySide6.QtWidgets import (
    QApplication,
    QGraphicsItem,
    QGraphicsObject,
    QGraphicsPathItem,
    QGraphicsScene,
    QGraphicsSceneMouseEvent,
    QGraphicsSimpleTextItem,
    QGraphicsView,
    QStyleOptionGraphicsItem,
    QWidget,
)

from hangar.base.figure import Figure
from hangar.base.units import UnitChoice
from hangar.rules.finding import Level
from hangar.window.looks import Look
from hangar.window.supply_plan import BUS, SERVO, SupplyBox, SupplyPlan
from hangar.window.words import retold

PAD, GAP_ROW, GAP_COLUMN = 8.0, 12.0, 92.0


class FigureWord(QGraphicsObject):
    """A number on the picture. Signals: ``how_asked(Figure)``."""

    how_asked = Signal(object)

    def __init__(self, words: str, figure: Figure, units: UnitChoice, look: Look, *, backed: bool) -> None:
        super().__init__()
        self.figure = figure
        self._look = look
        self._backed = backed
        shown = units.show(figure.expected, figure.unit)
        self._text = f"{words} {shown}".strip()
        self._font = QApplication.font()
        metrics = QFontMetricsF(self._font)
        self._size = QSizeF(metrics.horizontalAdvance(self._text) + 4, metrics.height() + 2)
        self.setFlag(QGraphicsItem.GraphicsItemFlag.ItemIsFocusable)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setToolTip(f"{retold(figure.name)}: {shown} ({retold(figure.basis)})")

    def boundingRect(self) -> QRectF:
        return QRectF(QPointF(), self._size)

    def paint(
        self, painter: QPainter, _option: QStyleOptionGraphicsItem, _widget: QWidget | None = None
    ) -> None:
        painter.setFont(self._font)
        if self._backed:
            painter.fillRect(self.boundingRect(), QColor(self._look.paper))
        painter.setPen(QColor(self._look.accent))
        painter.drawText(self.boundingRect(), Qt.AlignmentFlag.AlignCenter, self._text)
        if self.hasFocus():
            painter.drawRect(self.boundingRect())

    def mousePressEvent(self, event: QGraphicsSceneMouseEvent) -> None:
        super().mousePressEvent(event)
        event.accept()
        self.how_asked.emit(self.figure)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space):
            self.how_asked.emit(self.figure)
        else:
            super().keyPressEvent(event)


class SupplyView(QGraphicsView):
    """Draws a supply plan as large as it fits. Signals: ``how_asked(Figure)``."""

    how_asked = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setScene(QGraphicsScene(self))
        self.setRenderHint(QPainter.RenderHint.Antialiasing)
        self.setAccessibleName(self.tr("Picture of the supply"))
        self._places: dict[str, QRectF] = {}
        self.words: list[FigureWord] = []

    def show_plan(self, plan: SupplyPlan, units: UnitChoice, look: Look) -> None:
        """Draw this plan."""
        scene = self.scene()
        scene.clear()
        self.words = []
        self._places = _places(plan, units)
        for wire in plan.wires:
            self._draw_wire(wire.start, wire.end, look)
        for box in plan.boxes:
            self._draw_box(box, units, look)
        for wire in plan.wires:
            if wire.current is not None:
                self._label_wire(wire.start, wire.end, wire.current, units, look)
        if plan.collapse:
            self._draw_collapse(plan.collapse, look)
        scene.setSceneRect(scene.itemsBoundingRect().adjusted(-24, -24, 24, 24))
        self.setAccessibleDescription("; ".join(word.toolTip() for word in self.words))
        self._fit()

    def _draw_wire(self, start: str, end: str, look: Look) -> None:
        left, right = self._places[start], self._places[end]
        a, b = QPointF(left.right(), left.center().y()), QPointF(right.left(), right.center().y())
        path = QPainterPath(a)
        reach = (b.x() - a.x()) / 2
        path.cubicTo(a + QPointF(reach, 0), b - QPointF(reach, 0), b)
        item = QGraphicsPathItem(path)
        item.setPen(QPen(QColor(look.line), 2.2))
        item.setZValue(-1)
        self.scene().addItem(item)

    def _label_wire(self, start: str, end: str, figure: Figure, units: UnitChoice, look: Look) -> None:
        left, right = self._places[start], self._places[end]
        word = self._word("", figure, units, look, backed=True)
        middle = QPointF((left.right() + right.left()) / 2, (left.center().y() + right.center().y()) / 2)
        size = word.boundingRect()
        word.setPos(middle - QPointF(size.width() / 2, size.height() / 2))

    def _draw_box(self, box: SupplyBox, units: UnitChoice, look: Look) -> None:
        place = self._places[box.name]
        path = QPainterPath()
        path.addRoundedRect(place, 6, 6)
        frame = QGraphicsPathItem(path)
        frame.setPen(QPen(QColor(look.line), 1.4))
        frame.setBrush(QColor(look.raised if box.column == BUS else look.paper))
        self.scene().addItem(frame)
        top = place.top() + PAD
        for text, bold in _lines(box):
            top = self._put_line(text, bold, place, top, look)
        for words, figure in box.values:
            word = self._word(words, figure, units, look)
            word.setPos(place.center().x() - word.boundingRect().width() / 2, top)
            top += word.boundingRect().height()

    def _put_line(self, text: str, bold: bool, place: QRectF, top: float, look: Look) -> float:
        item = QGraphicsSimpleTextItem(text)
        item.setFont(_font(bold))
        item.setBrush(QColor(look.ink if bold else look.soft))
        item.setPos(place.center().x() - item.boundingRect().width() / 2, top)
        self.scene().addItem(item)
        return top + item.boundingRect().height()

    def _word(
        self, words: str, figure: Figure, units: UnitChoice, look: Look, *, backed: bool = False
    ) -> FigureWord:
        word = FigureWord(words, figure, units, look, backed=backed)
        word.how_asked.connect(self.how_asked)
        self.scene().addItem(word)
        self.words.append(word)
        return word

    def _draw_collapse(self, text: str, look: Look) -> None:
        item = QGraphicsSimpleTextItem(text)
        item.setFont(_font(bold=True))
        item.setBrush(QColor(look.levels[Level.WARNING].words))
        bounds = self.scene().itemsBoundingRect()
        item.setPos(bounds.left(), bounds.top() - item.boundingRect().height() - 16)
        self.scene().addItem(item)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fit()

    def _fit(self) -> None:
        """Fit the picture in, but never draw words larger than the text size."""
        bounds = self.sceneRect()
        if bounds.isEmpty():
            return
        room = self.viewport().size()
        scale = min(1.0, room.width() / bounds.width(), room.height() / bounds.height())
        self.resetTransform()
        self.scale(max(scale, 0.6), max(scale, 0.6))


def _font(bold: bool) -> QFont:
    font = QApplication.font()
    font.setBold(bold)
    return font


def _lines(box: SupplyBox) -> tuple[tuple[str, bool], ...]:
    if box.column == SERVO:
        return ((f"{box.title}  {box.note}", True),)
    return ((box.title, True), (box.note, False)) if box.note else ((box.title, True),)


def _size(box: SupplyBox, units: UnitChoice) -> QSizeF:
    bold, plain = QFontMetricsF(_font(bold=True)), QFontMetricsF(_font(bold=False))
    widths = [(bold if strong else plain).horizontalAdvance(text) for text, strong in _lines(box)]
    widths += [
        plain.horizontalAdvance(f"{words} {units.show(figure.expected, figure.unit)}")
        for words, figure in box.values
    ]
    height = (plain.height() + 2) * (len(_lines(box)) + len(box.values))
    return QSizeF(max(widths) + 2 * PAD + 6, height + 2 * PAD)


def _places(plan: SupplyPlan, units: UnitChoice) -> dict[str, QRectF]:
    """Where each box goes: columns from left to right, each centred on the same line."""
    by_column: dict[int, list[SupplyBox]] = defaultdict(list)
    for box in plan.boxes:
        by_column[box.column].append(box)
    places: dict[str, QRectF] = {}
    left = 0.0
    for column in sorted(by_column):
        boxes = by_column[column]
        sizes = [_size(box, units) for box in boxes]
        width = max(size.width() for size in sizes)
        top = -(sum(size.height() for size in sizes) + GAP_ROW * (len(boxes) - 1)) / 2
        for box, size in zip(boxes, sizes, strict=True):
            places[box.name] = QRectF(left, top, width, size.height())
            top += size.height() + GAP_ROW
        left += width + GAP_COLUMN
    return places
