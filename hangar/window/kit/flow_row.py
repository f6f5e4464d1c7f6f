"""Widgets in a row that goes on below where the width ends, as words do in a text."""

from __future__ import annotations

from PySide6.QtCore import QPoint, QRect, QSize, Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QLayout, QLayoutItem, QSizePolicy, QWidget


class FlowRow(QLayout):
    """Lays widgets out one beside the other, in as many lines as it takes.

    What a line has left over goes to its widgets that want to expand, such as a field to type in.
    """

    def __init__(self, *widgets: QWidget, gap: int = 6) -> None:
        super().__init__()
        self._items: list[QLayoutItem] = []
        self._gap = gap
        self.setContentsMargins(0, 0, 0, 0)
        for widget in widgets:
            self.addWidget(widget)

    def addItem(self, item: QLayoutItem) -> None:
        self._items.append(item)

    def count(self) -> int:
        return len(self._items)

    def itemAt(self, at: int) -> QLayoutItem | None:
        return self._items[at] if 0 <= at < len(self._items) else None

    def takeAt(self, at: int) -> QLayoutItem | None:
        return self._items.pop(at) if 0 <= at < len(self._items) else None

    def expandingDirections(self) -> Qt.Orientation:
        return Qt.Orientation(0)

    def hasHeightForWidth(self) -> bool:
        return True

    def heightForWidth(self, width: int) -> int:
        return self._lay(QRect(0, 0, width, 0), place=False)

    def setGeometry(self, rect: QRect) -> None:
        super().setGeometry(rect)
        self._lay(rect, place=True)

    def sizeHint(self) -> QSize:
        sizes = [item.sizeHint() for item in self._shown()]
        wide = sum(size.width() for size in sizes) + self._gap * max(0, len(sizes) - 1)
        return QSize(wide, max((size.height() for size in sizes), default=0)) + self._border()

    def minimumSize(self) -> QSize:
        size = QSize()
        for item in self._shown():
            size = size.expandedTo(item.minimumSize())
        return size + self._border()

    def _border(self) -> QSize:
        margins = self.contentsMargins()
        return QSize(margins.left() + margins.right(), margins.top() + margins.bottom())

    def _shown(self) -> list[QLayoutItem]:
        return [item for item in self._items if not item.isEmpty()]

    def _lay(self, rect: QRect, *, place: bool) -> int:
        """Put every widget in its place, or only find how high that would be."""
        room = rect.marginsRemoved(self.contentsMargins())
        top = room.top()
        for line in self._lines(room.width()):
            high = max(item.sizeHint().height() for item in line)
            if place:
                self._place(line, QRect(room.left(), top, room.width(), high))
            top += high + self._gap
        bottom = max(room.top(), top - self._gap)
        return bottom - rect.top() + self.contentsMargins().bottom()

    def _lines(self, width: int) -> list[list[QLayoutItem]]:
        lines: list[list[QLayoutItem]] = []
        left = 0
        for item in self._shown():
            wide = item.sizeHint().width()
            if lines and left + wide <= width:
                lines[-1].append(item)
            else:
                lines.append([item])
                left = 0
            left += wide + self._gap
        return lines

    def _place(self, line: list[QLayoutItem], room: QRect) -> None:
        growing = [item for item in line if _grows(item)]
        used = sum(item.sizeHint().width() for item in line) + self._gap * (len(line) - 1)
        more = max(0, room.width() - used) // max(1, len(growing))
        left = room.left()
        for item in line:
            size = item.sizeHint()
            if item in growing:
                size.setWidth(size.width() + more)
            item.setGeometry(QRect(QPoint(left, room.top()), size))
            left += size.width() + self._gap


def _grows(item: QLayoutItem) -> bool:
    widget = item.widget()
    policy = QSizePolicy.Policy.Expanding
    return widget is not None and widget.sizePolicy().horizontalPolicy() is policy


class SentencePane(QWidget):
    """A pane that is never lower than the lines of its sentences and rows at the width that it has.

    For what lies in a splitter, which does not ask how high its panes are at a width.
    """

    def minimumSizeHint(self) -> QSize:
        least, layout = super().minimumSizeHint(), self.layout()
        if layout is None or not layout.hasHeightForWidth():
            return least
        return least.expandedTo(QSize(0, layout.minimumHeightForWidth(self.width())))

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        if event.size().width() != event.oldSize().width():
            self.updateGeometry()


def side_by_side(*widgets: QWidget) -> QWidget:
    """Widgets that stay on one line of a row, such as a label and its box."""
    held = QWidget()
    row = QHBoxLayout(held)
    row.setContentsMargins(0, 0, 0, 0)
    for widget in widgets:
        row.addWidget(widget)
    return held
