"""The fleet at a glance: a row an aircraft, a column a system, in each cell what is open there."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from PySide6.QtCore import QEvent, QModelIndex, QPersistentModelIndex, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QKeyEvent, QMouseEvent, QPainter
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHeaderView,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QTableWidget,
    QTableWidgetItem,
    QWidget,
)

from hangar.answers.finding_groups import System, system_of
from hangar.answers.judging import count_levels
from hangar.rules.finding import Finding, Level
from hangar.window.kit.level_marks import draw_mark
from hangar.window.kit.plain_words import plain_tip
from hangar.window.kit.view_settings import ViewSettings
from hangar.window.kit.words import level_count, say, sentence_case, word_of

_COUNTS = Qt.ItemDataRole.UserRole + 11
_MOST_ROWS = 9
"""Aircraft shown at once; with more of them the matrix scrolls."""
_SHOWN = (Level.WARNING, Level.CAUTION, Level.ADVISORY, Level.CANT_TELL)


class SystemMatrix(QTableWidget):
    """Signals: ``chosen()`` when the keeper chose another cell, or none."""

    chosen = Signal()

    def __init__(self, view: ViewSettings, parent: QWidget | None = None) -> None:
        super().__init__(0, len(System), parent)
        self._view = view
        self.setAccessibleName(say("Findings by aircraft and system"))
        self.setHorizontalHeaderLabels([sentence_case(word_of(system)) for system in System])
        self.setItemDelegate(_CountCells(view, self))
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setTabKeyNavigation(False)
        self.setShowGrid(False)
        self.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Stretch)
        self.horizontalHeader().setHighlightSections(False)
        self.verticalHeader().setHighlightSections(False)
        self.verticalHeader().setStyleSheet("QHeaderView::section { border: 0; }")
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setToolTip(say("A cell lists only what it counts; Escape lists all again."))
        self.itemSelectionChanged.connect(self.chosen)
        view.changed.connect(self._fit)

    def show_findings(self, codes: Sequence[str], findings: Iterable[Finding]) -> None:
        """Count these findings; the chosen cell stays chosen where its aircraft is still there."""
        kept = self.cell_chosen
        counted: dict[tuple[str, System], list[Finding]] = {}
        for finding in findings:
            counted.setdefault((finding.aircraft, system_of(finding)), []).append(finding)
        before = self.blockSignals(True)
        self.setRowCount(len(codes))
        self.setVerticalHeaderLabels(list(codes))
        for row, code in enumerate(codes):
            for column, system in enumerate(System):
                counts = count_levels(counted.get((code, system), ()))
                self.setItem(row, column, _item(code, system, counts))
        self.clearSelection()
        if kept is not None and kept[0] in codes:
            self.setCurrentCell(list(codes).index(kept[0]), list(System).index(kept[1]))
        self.blockSignals(before)
        self._fit()

    @property
    def cell_chosen(self) -> tuple[str, System] | None:
        """Aircraft and system of the cell chosen; None where all are wanted."""
        items = self.selectedItems()
        if not items:
            return None
        head = self.verticalHeaderItem(items[0].row())
        return head.text(), list(System)[items[0].column()]

    def is_wanted(self, finding: Finding) -> bool:
        """Whether a finding is counted in the cell chosen, or any where none is."""
        cell = self.cell_chosen
        return cell is None or cell == (finding.aircraft, system_of(finding))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape and self.selectedItems():
            self.clearSelection()
            return
        super().keyPressEvent(event)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        item = self.itemAt(event.position().toPoint())
        if item is None or item.isSelected():
            self.clearSelection()
            return
        super().mousePressEvent(event)

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange and hasattr(self, "_view"):
            self._fit()

    def _fit(self) -> None:
        """As high as its rows, up to a number of them."""
        line = round(self.fontMetrics().height() * 1.5)
        self.verticalHeader().setMinimumSectionSize(line)
        self.verticalHeader().setDefaultSectionSize(line)
        for row in range(self.rowCount()):
            self.setRowHeight(row, line)
        head = self.horizontalHeader().sizeHint().height()
        self.setFixedHeight(head + line * max(1, min(self.rowCount(), _MOST_ROWS)) + 4)
        self.viewport().update()

    def minimumSizeHint(self) -> QSize:
        return QSize(100, super().minimumSizeHint().height())


def _item(code: str, system: System, counts: dict[Level, int]) -> QTableWidgetItem:
    item = QTableWidgetItem()
    item.setData(_COUNTS, {str(level): count for level, count in counts.items()})
    shown = [level_count(level, counts[level]) for level in _SHOWN if counts[level]]
    words = ", ".join(shown) or say("nothing found")
    item.setData(Qt.ItemDataRole.AccessibleTextRole, f"{code}, {word_of(system)}: {words}")
    item.setToolTip(plain_tip(f"{code}, {sentence_case(word_of(system))}: {words}"))
    return item


class _CountCells(QStyledItemDelegate):
    """Marks with their numbers on the wash of the gravest."""

    def __init__(self, view: ViewSettings, parent: QWidget) -> None:
        super().__init__(parent)
        self._view = view

    def paint(
        self, painter: QPainter, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> None:
        look, counts = self._view.look, index.data(_COUNTS) or {}
        levels = [level for level in _SHOWN if counts.get(str(level))]
        room = QRectF(option.rect).adjusted(2, 1.5, -2, -1.5)
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        is_chosen = bool(option.state & QStyle.StateFlag.State_Selected)
        if levels:
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(QColor(look.levels[levels[0]].wash))
            painter.drawRoundedRect(room, 3, 3)
        if is_chosen:
            pen = painter.pen()
            pen.setStyle(Qt.PenStyle.SolidLine)
            pen.setColor(QColor(look.focus))
            pen.setWidthF(2.0)
            painter.setPen(pen)
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRoundedRect(room.adjusted(1, 1, -1, -1), 3, 3)
        high = painter.fontMetrics().height()
        wide = [
            high * 1.05 + painter.fontMetrics().horizontalAdvance(str(counts[str(level)])) for level in levels
        ]
        gap = min(high * 0.5, max(2.0, (room.width() - sum(wide)) / (len(wide) + 1))) if wide else 0.0
        left = room.center().x() - (sum(wide) + gap * max(0, len(wide) - 1)) / 2
        for level, width in zip(levels, wide, strict=True):
            side = high * 0.9
            draw_mark(painter, QRectF(left, room.center().y() - side / 2, side, side), level, look)
            painter.setPen(QColor(look.levels[level].words))
            place = QRectF(left + high * 1.05, room.top(), width, room.height())
            painter.drawText(place, Qt.AlignmentFlag.AlignVCenter, str(counts[str(level)]))
            left += width + gap
        if not levels:
            painter.setPen(QColor(look.soft))
            painter.drawText(room, Qt.AlignmentFlag.AlignCenter, "·")
        painter.restore()
