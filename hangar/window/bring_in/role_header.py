"""The chooser over each column of a keeper's sheet: what it holds, and in which unit."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QPointF, QRect, QSize, Qt, Signal
from PySide6.QtGui import QBrush, QColor, QFontMetrics, QPainter, QPolygonF
from PySide6.QtWidgets import QHeaderView, QMenu, QWidget

from hangar.store.intake.answering import units_for
from hangar.store.intake.columns import Column
from hangar.store.intake.role_words import NOT_USED, ROLE_WORDS
from hangar.window.kit.looks import Look
from hangar.window.kit.words import put, say

_EDGE, _CARET = 6, 8
_LIKELY_MOST = 6


class RoleHeader(QHeaderView):
    """Letters or numbers as a spreadsheet has them, with the role below. Signal: ``wanted(section)``."""

    wanted = Signal(int)

    def __init__(self, orientation: Qt.Orientation, look: Callable[[], Look], parent: QWidget) -> None:
        super().__init__(orientation, parent)
        self._look = look
        self._words: Callable[[int], str] | None = None
        self.setSectionsClickable(True)
        self.setHighlightSections(True)
        self.sectionClicked.connect(self._clicked)

    def show_roles(self, words: Callable[[int], str] | None) -> None:
        """Show what each section holds; None for a header of plain numbers."""
        self._words = words
        self.updateGeometry()
        self.viewport().update()

    @property
    def has_roles(self) -> bool:
        """Whether a click chooses a role."""
        return self._words is not None

    def words(self, section: int) -> str:
        """The role shown over a section."""
        return self._words(section) if self._words is not None else ""

    def _clicked(self, section: int) -> None:
        if self.words(section):
            self.wanted.emit(section)

    def sizeHint(self) -> QSize:
        line = self.fontMetrics().height()
        if self.orientation() == Qt.Orientation.Horizontal:
            return QSize(0, (2 if self.has_roles else 1) * line + 2 * _EDGE)
        wide = self.fontMetrics().horizontalAdvance("00000")
        if self.has_roles:
            longest = max((self._wide(section) for section in range(min(self.count(), 300))), default=0)
            wide += longest + _CARET + _EDGE
        return QSize(wide + 2 * _EDGE, line)

    def sectionSizeFromContents(self, section: int) -> QSize:
        size = super().sectionSizeFromContents(section)
        if self.orientation() == Qt.Orientation.Horizontal and self.words(section):
            size.setWidth(max(size.width(), self._wide(section) + 3 * _EDGE + _CARET))
        return size

    def _wide(self, section: int) -> int:
        font = self.font()
        font.setBold(True)
        return QFontMetrics(font).horizontalAdvance(self.words(section))

    def paintSection(self, painter: QPainter, rect: QRect, section: int) -> None:
        look, words = self._look(), self.words(section)
        painter.save()
        painter.fillRect(rect, QColor(look.raised))
        painter.setPen(QColor(look.window))
        painter.drawLine(rect.topRight(), rect.bottomRight())
        painter.drawLine(rect.bottomLeft(), rect.bottomRight())
        inner = rect.adjusted(_EDGE, 2, -_EDGE, -2)
        plain = str(self.model().headerData(section, self.orientation()) or "")
        painter.setPen(QColor(look.soft))
        flat = self.orientation() == Qt.Orientation.Vertical
        if not words:
            painter.drawText(inner, Qt.AlignmentFlag.AlignCenter, plain)
            painter.restore()
            return
        number = painter.fontMetrics().horizontalAdvance("00000") if flat else 0
        above = inner.height() if flat else inner.height() // 2
        painter.drawText(
            QRect(inner.left(), inner.top(), inner.width(), above),
            Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter,
            plain,
        )
        below = inner.adjusted(number, 0 if flat else above, -_CARET - 2, 0)
        font = painter.font()
        is_used = words != put(NOT_USED)
        font.setBold(is_used)
        painter.setFont(font)
        painter.setPen(QColor(look.accent if is_used else look.soft))
        shown = painter.fontMetrics().elidedText(words, Qt.TextElideMode.ElideRight, below.width())
        painter.drawText(below, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter, shown)
        middle = below.center().y()
        left = inner.right() - _CARET + 1
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QBrush(QColor(look.soft)))
        painter.drawPolygon(
            QPolygonF(
                [QPointF(left, middle - 2), QPointF(left + _CARET, middle - 2), QPointF(left + 4, middle + 3)]
            )
        )
        painter.restore()


def role_menu(parent: QWidget, column: Column, chosen: Callable[[str, str], object]) -> QMenu:
    """The roles that a column may have, the likeliest first; ``chosen`` is told role and unit."""
    menu = QMenu(parent)
    menu.setAccessibleName(say("What the column holds"))
    likely = [role for role in column.likely if role in ROLE_WORDS][:_LIKELY_MOST]
    if column.role and column.role not in likely:
        likely.insert(0, column.role)
    for role in likely:
        _add(menu, role, column, chosen)
    menu.addSeparator()
    action = menu.addAction(put(NOT_USED))
    action.triggered.connect(lambda: chosen("", ""))
    more = menu.addMenu(say("&Something else"))
    for role in sorted(ROLE_WORDS, key=lambda name: put(ROLE_WORDS[name]).casefold()):
        if role not in likely:
            _add(more, role, column, chosen)
    return menu


def _add(menu: QMenu, role: str, column: Column, chosen: Callable[[str, str], object]) -> None:
    words = put(ROLE_WORDS[role])
    units = units_for(role)
    if len(units) < 2:
        action = menu.addAction(words)
        action.setCheckable(True)
        action.setChecked(role == column.role)
        action.triggered.connect(lambda: chosen(role, ""))
        return
    below = menu.addMenu(words)
    for unit in units:
        action = below.addAction(unit.symbol)
        action.setCheckable(True)
        action.setChecked(role == column.role and bool(column.unit) and column.unit[0] == unit.symbol)  # type: ignore[index]
        action.triggered.connect(lambda _on=False, symbol=unit.symbol: chosen(role, symbol))
