"""The supply picture on screen: boxes and wires, every number on it can be asked "How?"."""

from __future__ import annotations

from collections import defaultdict

from PySide6.QtCore import QEvent, QPointF, QRectF, QSizeF, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QFocusEvent,
    QFont,
    QFontMetricsF,
    QKeyEvent,
    QPainter,
    QPainterPath,
    QPen,
    QResizeEvent,
)
from PySide6.QtWidgets import (
    QApplication,
    QGraphicsPathItem,
    QGraphicsScene,
    QGraphicsSimpleTextItem,
    QGraphicsView,
    QWidget,
)

from hangar.base.figure import Figure
from hangar.base.units import UnitChoice
from hangar.rules.finding import Level
from hangar.window.arrow_ways import WAYS, next_that_way
from hangar.window.figure_word import FigureWord
from hangar.window.looks import Look
from hangar.window.supply_plan import BUS, SERVO, SupplyBox, SupplyPlan
from hangar.window.words import say

PAD, GAP_ROW = 6.0, 8.0
EDGE = 12.0
LEAST_GAP, MOST_GAP = 26.0, 92.0
"""Room between two columns of boxes, px; what a number on the wire needs comes on top of the least."""


class SupplyView(QGraphicsView):
    """Draws a supply plan in the program's text size. Signals: ``how_asked(Figure)``.

    Tab and the arrow keys go from number to number, Enter asks how it was made.
    """

    how_asked = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setScene(QGraphicsScene(self))
        self.setRenderHint(QPainter.RenderHint.Antialiasing)
        self.setAccessibleName(self.tr("Picture of the supply"))
        self.setToolTip(self.tr("Tab and the arrow keys go from number to number, Enter tells how."))
        self._shown: tuple[SupplyPlan, UnitChoice, Look] | None = None
        self._places: dict[str, QRectF] = {}
        self.words: list[FigureWord] = []

    def show_plan(self, plan: SupplyPlan, units: UnitChoice, look: Look) -> None:
        """Draw this plan."""
        self._shown = (plan, units, look)
        scene = self.scene()
        scene.clear()
        self.words = []
        self._places = _places(plan, units, float(self.viewport().width()))
        for wire in plan.wires:
            self._draw_wire(wire.start, wire.end, look)
        for box in plan.boxes:
            self._draw_box(box, units, look)
        for wire in plan.wires:
            if wire.current is not None:
                self._label_wire(wire.start, wire.end, wire.current, units, look)
        if plan.collapse:
            self._draw_collapse(plan.collapse, look)
        scene.setSceneRect(scene.itemsBoundingRect().adjusted(-EDGE, -EDGE, EDGE, EDGE))
        self.setAccessibleDescription("; ".join(word.spoken for word in self.words))

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
        where = say("from {start} to {end}").format(start=start, end=end)
        word = self._word("", figure, units, look, where=where, backed=True)
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
        if box.column == SERVO:
            self._fill_line(box, place, units, look)
            return
        top = place.top() + PAD
        for text, bold in _lines(box):
            top = self._put_line(text, bold, place, top, look)
        for words, figure in box.values:
            word = self._word(words, figure, units, look, where=box.title)
            word.setPos(place.center().x() - word.boundingRect().width() / 2, top)
            top += word.boundingRect().height()

    def _fill_line(self, box: SupplyBox, place: QRectF, units: UnitChoice, look: Look) -> None:
        """A servo on one line: its name on the left, its volts on the right."""
        ((text, bold),) = _lines(box)
        item = QGraphicsSimpleTextItem(text)
        item.setFont(_font(bold))
        item.setBrush(QColor(look.ink))
        item.setPos(place.left() + PAD, place.center().y() - item.boundingRect().height() / 2)
        self.scene().addItem(item)
        for words, figure in box.values:
            word = self._word(words, figure, units, look, where=text)
            size = word.boundingRect()
            word.setPos(place.right() - PAD - size.width(), place.center().y() - size.height() / 2)

    def _put_line(self, text: str, bold: bool, place: QRectF, top: float, look: Look) -> float:
        item = QGraphicsSimpleTextItem(text)
        item.setFont(_font(bold))
        item.setBrush(QColor(look.ink if bold else look.soft))
        item.setPos(place.center().x() - item.boundingRect().width() / 2, top)
        self.scene().addItem(item)
        return top + item.boundingRect().height()

    def _word(
        self,
        words: str,
        figure: Figure,
        units: UnitChoice,
        look: Look,
        *,
        where: str,
        backed: bool = False,
    ) -> FigureWord:
        word = FigureWord(words, figure, units, look, where=where, backed=backed)
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

    def _draw_again(self) -> None:
        if self._shown is not None:
            self.show_plan(*self._shown)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        if event.oldSize().width() != event.size().width():
            self._draw_again()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange and hasattr(self, "words"):
            self._draw_again()

    @property
    def focused(self) -> FigureWord | None:
        """The number that the keys stand on."""
        held = self.scene().focusItem()
        return held if isinstance(held, FigureWord) else None

    def focus_on(self, word: FigureWord) -> None:
        """Put the keys on a number and tell it."""
        self.scene().setFocusItem(word)
        self.ensureVisible(word)
        self.setAccessibleDescription(word.spoken)

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        if self.words and self.focused is None:
            self.focus_on(self.words[-1 if event.reason() is Qt.FocusReason.BacktabFocusReason else 0])

    def focusNextPrevChild(self, forward: bool) -> bool:
        """Go through the numbers, then on to the next widget."""
        words, held = self.words, self.focused
        at = words.index(held) + (1 if forward else -1) if held in words else -1
        if 0 <= at < len(words):
            self.focus_on(words[at])
            return True
        return super().focusNextPrevChild(forward)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        held = self.focused
        if held is None or event.key() not in WAYS:
            super().keyPressEvent(event)
            return
        places = {word: word.sceneBoundingRect().center() for word in self.words}
        best = next_that_way(places, places[held], WAYS[event.key()])
        if best is not None:
            self.focus_on(best)


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
    values = [
        plain.horizontalAdvance(f"{words} {units.show(figure.expected, figure.unit)}".strip()) + 4
        for words, figure in box.values
    ]
    if box.column == SERVO:
        beside = sum(value + plain.height() for value in values)
        return QSizeF(widths[0] + beside + 2 * PAD, plain.height() + 2 * PAD)
    height = (plain.height() + 2) * (len(widths) + len(values))
    return QSizeF(max(widths + values) + 2 * PAD + 6, height + 2 * PAD)


def _places(plan: SupplyPlan, units: UnitChoice, room: float) -> dict[str, QRectF]:
    """Where each box goes: columns from left to right, each centred on the same line."""
    by_column: dict[int, list[SupplyBox]] = defaultdict(list)
    for box in plan.boxes:
        by_column[box.column].append(box)
    sizes = {box.name: _size(box, units) for box in plan.boxes}
    wide = {at: max(sizes[box.name].width() for box in boxes) for at, boxes in by_column.items()}
    gap = _gap(plan, units, room - sum(wide.values()) - 2 * EDGE, len(wide) - 1)
    places: dict[str, QRectF] = {}
    left = 0.0
    for column in sorted(by_column):
        boxes = by_column[column]
        heights = [sizes[box.name].height() for box in boxes]
        top = -(sum(heights) + GAP_ROW * (len(boxes) - 1)) / 2
        for box, height in zip(boxes, heights, strict=True):
            places[box.name] = QRectF(left, top, wide[column], height)
            top += height + GAP_ROW
        left += wide[column] + gap
    return places


def _gap(plan: SupplyPlan, units: UnitChoice, spare: float, gaps: int) -> float:
    """As much room between the columns as is left, but enough for the numbers on the wires."""
    metrics = QFontMetricsF(_font(bold=False))
    currents = [wire.current for wire in plan.wires if wire.current is not None]
    words = [metrics.horizontalAdvance(units.show(one.expected, one.unit)) for one in currents]
    least = LEAST_GAP + max(words, default=0.0)
    return max(least, min(MOST_GAP, spare / gaps)) if gaps else least
