"""The keeper's sheet on screen: his cells coloured and marked, with the choosers over them."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QPoint, QRect, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QKeyEvent, QPainter, QPen
from PySide6.QtWidgets import (
    QAbstractItemView,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QTableView,
    QWidget,
)

from hangar.store.intake.grid import Cell, Grid
from hangar.store.intake.reading import Reading
from hangar.window.bring_in.cell_looks import CELL_LOOKS, DOUBTED, LEFT, draw_sign
from hangar.window.bring_in.grid_model import STATE_ROLE, GridModel
from hangar.window.bring_in.role_header import RoleHeader, role_menu
from hangar.window.kit.looks import Look
from hangar.window.kit.words import say

_WIDEST, _NARROWEST = 24, 5
_SIGN = 0.62
"""Share of the height of a letter that a sign has."""


class CellPainter(QStyledItemDelegate):
    """Paints a cell in the colour of its state, its sign before the words."""

    def __init__(self, look: Callable[[], Look], parent: QWidget) -> None:
        super().__init__(parent)
        self._look = look
        self.lit: frozenset[tuple[int, int]] = frozenset()
        """The cells behind what is chosen beside the sheet."""

    def paint(
        self, painter: QPainter, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> None:
        look = self._look()
        state = index.data(STATE_ROLE)
        rect: QRect = option.rect
        painter.save()
        if state is None:
            painter.fillRect(rect, QColor(look.paper))
        else:
            self._paint_cell(painter, option, rect, str(state), index)
        self._paint_edge(painter, option, rect, index)
        painter.restore()

    def _paint_cell(
        self,
        painter: QPainter,
        option: QStyleOptionViewItem,
        rect: QRect,
        state: str,
        index: QModelIndex | QPersistentModelIndex,
    ) -> None:
        colours = CELL_LOOKS[self._look().name][state]
        painter.fillRect(rect, QColor(colours.paper))
        font = index.data(Qt.ItemDataRole.FontRole)
        plain = option.font
        if font is not None:
            plain.setStrikeOut(True)
        painter.setFont(plain)
        high = painter.fontMetrics().ascent() * _SIGN
        box = QRectF(rect.left() + 4, rect.center().y() - high / 2 + 0.5, high, high)
        draw_sign(painter, box, state, colours.mark)
        words = rect.adjusted(round(high) + 9, 0, -3, 0)
        shown = painter.fontMetrics().elidedText(
            str(index.data() or ""), Qt.TextElideMode.ElideRight, words.width()
        )
        painter.setPen(QColor(colours.ink))
        painter.drawText(words, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter, shown)
        if state == DOUBTED:
            pen = QPen(QColor(colours.mark), 2, Qt.PenStyle.DotLine)
            painter.setPen(pen)
            painter.drawLine(rect.left() + 3, rect.bottom() - 1, rect.right() - 3, rect.bottom() - 1)
        elif state == LEFT:
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(QColor(colours.mark))
            corner, size = rect.topRight(), 7
            painter.drawPolygon(
                [corner, corner - QPoint(size, 0), corner + QPoint(0, size)]
            )  # fmt: skip

    def _paint_edge(
        self,
        painter: QPainter,
        option: QStyleOptionViewItem,
        rect: QRect,
        index: QModelIndex | QPersistentModelIndex,
    ) -> None:
        chosen = bool(option.state & QStyle.StateFlag.State_Selected)
        if chosen or (index.row() + 1, index.column() + 1) in self.lit:
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(QPen(QColor(self._look().ink if chosen else self._look().accent), 2))
            painter.drawRect(rect.adjusted(1, 1, -1, -1))

    def sizeHint(self, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex) -> QSize:
        size = super().sizeHint(option, index)
        return QSize(size.width() + option.fontMetrics.ascent() + 8, size.height())


class SheetView(QTableView):
    """One tab of the sheet.

    Signals: ``cell_chosen(Cell | None)`` when the keeper goes to a cell; ``role_said(Column, str, str)``
    when he chose a role and a unit for a column.
    """

    cell_chosen = Signal(object)
    role_said = Signal(object, str, str)

    def __init__(self, look: Callable[[], Look], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName(say("Your sheet"))
        self.grid_model = GridModel(self)
        self.painter = CellPainter(look, self)
        self.setItemDelegate(self.painter)
        self.roles = RoleHeader(Qt.Orientation.Horizontal, look, self)
        self.setHorizontalHeader(self.roles)
        self.sides = RoleHeader(Qt.Orientation.Vertical, look, self)
        self.setVerticalHeader(self.sides)
        for header in (self.roles, self.sides):
            header.wanted.connect(self.choose_role)
        self.setModel(self.grid_model)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setWordWrap(False)
        self.setTabKeyNavigation(False)

    def show_grid(self, grid: Grid, reading: Reading) -> None:
        """Show a tab as it is read now; the place looked at stays."""
        is_other = grid is not self.grid_model.grid
        self.grid_model.show_grid(grid, reading)
        if is_other:
            self._lay_out(grid)
        self._show_roles()

    def _lay_out(self, grid: Grid) -> None:
        self.clearSpans()
        for merge in grid.merges:
            high, wide = merge.bottom - merge.top + 1, merge.right - merge.left + 1
            if high * wide > 1 and merge.bottom <= grid.height and merge.right <= grid.width:
                self.setSpan(merge.top - 1, merge.left - 1, high, wide)
        self._show_roles()
        letter = self.fontMetrics().averageCharWidth()
        self.verticalHeader().setDefaultSectionSize(round(self.fontMetrics().height() * 1.5))
        for column in range(self.grid_model.columnCount()):
            wide = max(self.sizeHintForColumn(column), self.roles.sectionSizeFromContents(column).width())
            self.setColumnWidth(column, min(max(wide, _NARROWEST * letter), _WIDEST * letter))
        self.setCurrentIndex(self.grid_model.index(0, 0))

    def _show_roles(self) -> None:
        model, here = self.grid_model, self.currentIndex()
        table = model.table_at(max(here.row(), 0), max(here.column(), 0))
        roles = None if table is None else lambda section: model.role_words(section, table)
        on_side = model.lies_on_its_side
        self.roles.show_roles(None if on_side else roles)
        self.sides.show_roles(roles if on_side else None)

    def choose_role(self, section: int) -> None:
        """Open the chooser of a column, or of a row where the sheet lies on its side."""
        model, here = self.grid_model, self.currentIndex()
        table = model.table_at(max(here.row(), 0), max(here.column(), 0))
        column = model.column_at(section, table)
        if column is None:
            return
        header = self.sides if model.lies_on_its_side else self.roles
        menu = role_menu(self, column, lambda role, unit: self.role_said.emit(column, role, unit))
        menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        place = header.sectionViewportPosition(section)
        corner = header.viewport().rect().bottomLeft()
        if header is self.sides:
            corner.setY(place + header.sectionSize(section))
        else:
            corner.setX(place)
        menu.popup(header.viewport().mapToGlobal(corner))

    def light(self, cells: Iterable[Cell]) -> None:
        """Frame some cells, and go to the first of them that is on this tab."""
        grid = self.grid_model.grid
        shown = [cell for cell in cells if grid.cells.get((cell.row, cell.column)) is cell]
        self.painter.lit = frozenset((cell.row, cell.column) for cell in shown)
        if shown:
            self.scrollTo(self.grid_model.index_of(shown[0]))
        self.viewport().update()

    def currentChanged(
        self, current: QModelIndex | QPersistentModelIndex, previous: QModelIndex | QPersistentModelIndex
    ) -> None:
        super().currentChanged(current, previous)
        self._show_roles()
        self.cell_chosen.emit(self.grid_model.cell(current))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_F4):
            here = self.currentIndex()
            self.choose_role(here.row() if self.grid_model.lies_on_its_side else here.column())
            return
        super().keyPressEvent(event)
