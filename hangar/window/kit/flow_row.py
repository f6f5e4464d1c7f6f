"""Widgets in a row that goes on below where the width ends, as words do in a text."""

from __future__ import annotations

from PySide6.QtCore import QPoint, QRect, QSize, Qt
from PySide6.QtWidgets import QHBoxLayout, QLayout, QLayoutItem, QWidget


class FlowRow(QLayout):
    """Lays widgets out one beside the other, in as many lines as it takes."""

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
        left, top, high = room.left(), room.top(), 0
        for item in self._shown():
            size = item.sizeHint()
            if left > room.left() and left + size.width() > room.left() + room.width():
                left, top, high = room.left(), top + high + self._gap, 0
            if place:
                item.setGeometry(QRect(QPoint(left, top), size))
            left += size.width() + self._gap
            high = max(high, size.height())
        return top + high - rect.top() + self.contentsMargins().bottom()


def side_by_side(*widgets: QWidget) -> QWidget:
    """Widgets that stay on one line of a row, such as a label and its box."""
    held = QWidget()
    row = QHBoxLayout(held)
    row.setContentsMargins(0, 0, 0, 0)
    for widget in widgets:
        row.addWidget(widget)
    return held
