"""The supply picture on screen: boxes and wires, every number on it can be asked "How?"."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QPointF, QRectF, QSizeF, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QFocusEvent,
    QFontMetricsF,
    QKeyEvent,
    QPainter,
    QPainterPath,
    QPen,
    QResizeEvent,
)
from PySide6.QtWidgets import (
    QGraphicsPathItem,
    QGraphicsScene,
    QGraphicsSimpleTextItem,
    QGraphicsView,
    QWidget,
)

from hangar.base.figure import Figure
from hangar.base.text import Text
from hangar.base.units import ShowsNumbers
from hangar.rules.finding import Level
from hangar.window.kit.arrow_ways import WAYS, next_that_way
from hangar.window.kit.looks import Look
from hangar.window.kit.plain_words import plain_tip
from hangar.window.kit.words import put, say
from hangar.window.power.figure_word import FigureWord
from hangar.window.power.supply_places import (
    BUS,
    EDGE,
    PAD,
    SERVO,
    SupplyBox,
    SupplyPlan,
    font_of,
    layout_of,
    lines_of,
)


class SupplyView(QGraphicsView):
    """Draws a supply plan in the program's text size. Signals: ``how_asked(Figure)``.

    Tab and the arrow keys go from number to number, Enter asks how it was made.
    """

    how_asked = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setScene(QGraphicsScene(self))
        self.setRenderHint(QPainter.RenderHint.Antialiasing)
        self.setAccessibleName(say("Picture of the supply"))
        self.setToolTip(say("Tab and the arrow keys go from number to number, Enter tells how."))
        self._shown: tuple[SupplyPlan, ShowsNumbers, Look] | None = None
        self._places: dict[str, QRectF] = {}
        self._brief = False
        self._first_servo = 0.0
        self.words: list[FigureWord] = []

    def show_plan(self, plan: SupplyPlan, units: ShowsNumbers, look: Look) -> None:
        """Draw this plan."""
        self._shown = (plan, units, look)
        scene = self.scene()
        scene.clear()
        self.words = []
        layout = layout_of(plan, units, self._room())
        self._places, self._brief = layout.places, layout.brief
        servos = [self._places[box.name].left() for box in plan.boxes if box.column == SERVO]
        self._first_servo = min(servos, default=0.0)
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

    def _room(self) -> QSizeF:
        """What the picture may take before it scrolls, told as if both bars were there."""
        whole = self.maximumViewportSize()
        down, across = self.verticalScrollBar().sizeHint(), self.horizontalScrollBar().sizeHint()
        return QSizeF(whole.width() - down.width(), whole.height() - across.height())

    def _draw_wire(self, start: str, end: str, look: Look) -> None:
        left, right = self._places[start], self._places[end]
        a, b = QPointF(left.right(), left.center().y()), QPointF(right.left(), right.center().y())
        path = QPainterPath(a)
        # To the second column of servos it runs straight on between the rows of the first.
        bend = QPointF(min(b.x(), self._first_servo), b.y()) if a.x() < self._first_servo else b
        reach = (bend.x() - a.x()) / 2
        path.cubicTo(a + QPointF(reach, 0), bend - QPointF(reach, 0), bend)
        path.lineTo(b)
        item = QGraphicsPathItem(path)
        item.setPen(QPen(QColor(look.line), 2.2))
        item.setZValue(-1)
        self.scene().addItem(item)

    def _label_wire(self, start: str, end: str, figure: Figure, units: ShowsNumbers, look: Look) -> None:
        left, right = self._places[start], self._places[end]
        where = say("from {start} to {end}", start=start, end=end)
        word = self._word("", figure, units, look, where=where, backed=True)
        middle = QPointF((left.right() + right.left()) / 2, (left.center().y() + right.center().y()) / 2)
        size = word.boundingRect()
        word.setPos(middle - QPointF(size.width() / 2, size.height() / 2))

    def _draw_box(self, box: SupplyBox, units: ShowsNumbers, look: Look) -> None:
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
        for text, bold in lines_of(box, units, self._brief):
            top = self._put_line(text, bold, place, top, look)
        for words, figure in box.values:
            word = self._word(words, figure, units, look, where=box.title)
            word.setPos(place.center().x() - word.boundingRect().width() / 2, top)
            top += word.boundingRect().height()

    def _fill_line(self, box: SupplyBox, place: QRectF, units: ShowsNumbers, look: Look) -> None:
        """A servo on one line: its name on the left, its volts and amps on the right."""
        ((text, bold),) = lines_of(box, units, self._brief)
        item = QGraphicsSimpleTextItem(text)
        item.setFont(font_of(bold))
        item.setBrush(QColor(look.ink))
        item.setPos(place.left() + PAD, place.center().y() - item.boundingRect().height() / 2)
        self.scene().addItem(item)
        item.setToolTip(plain_tip(box.note))
        made = [
            self._word(words, figure, units, look, where=f"{box.title}  {box.note}")
            for words, figure in box.values
        ]
        right = place.right() - PAD
        for word in reversed(made):
            size = word.boundingRect()
            word.setPos(right - size.width(), place.center().y() - size.height() / 2)
            right -= size.width() + QFontMetricsF(font_of(bold=False)).averageCharWidth()

    def _put_line(self, text: str, bold: bool, place: QRectF, top: float, look: Look) -> float:
        item = QGraphicsSimpleTextItem(text)
        item.setFont(font_of(bold))
        item.setBrush(QColor(look.ink if bold else look.soft))
        item.setPos(place.center().x() - item.boundingRect().width() / 2, top)
        self.scene().addItem(item)
        return top + item.boundingRect().height()

    def _word(
        self,
        words: str,
        figure: Figure,
        units: ShowsNumbers,
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

    def _draw_collapse(self, why: Text, look: Look) -> None:
        item = QGraphicsSimpleTextItem(put(why))
        item.setFont(font_of(bold=True))
        item.setBrush(QColor(look.levels[Level.WARNING].words))
        bounds = self.scene().itemsBoundingRect()
        item.setPos(bounds.left(), bounds.top() - item.boundingRect().height() - 16)
        self.scene().addItem(item)

    def _draw_again(self) -> None:
        if self._shown is not None:
            self.show_plan(*self._shown)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        if event.oldSize() != event.size():
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
