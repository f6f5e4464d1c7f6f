"""The cells of a table: how they are edited, and how the line over a group of rows is drawn."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QEvent, QModelIndex, QObject, QPersistentModelIndex, QRect, QSize, Qt, QTimer
from PySide6.QtGui import QColor, QFont, QKeyEvent, QPainter
from PySide6.QtWidgets import (
    QComboBox,
    QLineEdit,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QTableView,
    QWidget,
)

from hangar.window.kit.looks import Look
from hangar.window.kit.still_boxes import ListBox
from hangar.window.tables.columns import CHOICES_ROLE

_Index = QModelIndex | QPersistentModelIndex
_PADDING = 14
"""Pixels beside the words of a cell, left and right together, as the style sheet says."""
_OPEN_LIST = (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Up, Qt.Key.Key_Down, Qt.Key.Key_Space)


class HasHeads(QTableView):
    """A table that may have a line of words over some of its rows."""

    def head_over(self, place: int) -> str:
        """The words over the row that is shown at this place; empty where no group begins."""
        raise NotImplementedError

    @property
    def head_high(self) -> int:
        """How high the line over a group is, pixels."""
        return round(self.fontMetrics().height() * 1.5)

    @property
    def head_look(self) -> Look:
        """The colours of that line."""
        raise NotImplementedError


class CellEditor(QStyledItemDelegate):
    """A list for cells with choices, a text line for the others."""

    def createEditor(self, parent: QWidget, _option: QStyleOptionViewItem, index: _Index) -> QWidget:
        choices = index.data(CHOICES_ROLE)
        if choices is None:
            line = QLineEdit(parent)
            line.setAccessibleName(_heading(index))
            return line
        box = ListBox(parent)
        box.setAccessibleName(_heading(index))
        for choice in choices:
            box.addItem(choice.words, choice.value)
        box.activated.connect(lambda: self._taken(box))
        QTimer.singleShot(0, box, box.showPopup)
        return box

    def _taken(self, box: QComboBox) -> None:
        self.commitData.emit(box)
        self.closeEditor.emit(box)

    def eventFilter(self, editor: QObject, event: QEvent) -> bool:
        # A closed list takes the arrow keys as choices, which would edit at the first of them.
        if isinstance(editor, QComboBox) and _opens_list(event):
            editor.showPopup()
            return True
        return super().eventFilter(editor, event)

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: _Index) -> None:
        view = self.parent()
        words = view.head_over(index.row()) if isinstance(view, HasHeads) else ""
        if not words or not isinstance(view, HasHeads):
            super().paint(painter, option, index)
            return
        cell = QStyleOptionViewItem(option)
        head = QRect(option.rect.left(), option.rect.top(), option.rect.width(), view.head_high)
        cell.rect = option.rect.adjusted(0, view.head_high, 0, 0)
        super().paint(painter, cell, index)
        look = view.head_look
        painter.save()
        painter.setClipRect(head)
        painter.fillRect(head, QColor(look.raised))
        font = QFont(option.font)
        font.setBold(True)
        painter.setFont(font)
        painter.setPen(QColor(look.ink))
        # Each cell of the row draws its own part of the one line over all of them.
        line = QRect(
            _PADDING // 2 - view.horizontalHeader().offset(),
            head.top(),
            view.viewport().width(),
            head.height(),
        )
        shown = painter.fontMetrics().elidedText(words, Qt.TextElideMode.ElideRight, line.width() - _PADDING)
        painter.drawText(line, int(Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft), shown)
        painter.restore()

    def setEditorData(self, editor: QWidget, index: _Index) -> None:
        shown = str(index.data(Qt.ItemDataRole.EditRole))
        if isinstance(editor, QComboBox):
            at = editor.findData(shown)
            editor.setCurrentIndex(at if at >= 0 else editor.findText(shown))
        elif isinstance(editor, QLineEdit) and not editor.isModified():
            editor.setText(shown)
            editor.selectAll()

    def setModelData(self, editor: QWidget, model: Any, index: _Index) -> None:
        before = str(index.data(Qt.ItemDataRole.EditRole))
        if isinstance(editor, QComboBox):
            typed = "" if editor.currentData() is None else str(editor.currentData())
        else:
            typed = editor.text() if isinstance(editor, QLineEdit) else ""
        if typed != before:
            model.setData(index, typed)


class WrappedCells(CellEditor):
    """Cells whose words go on below."""

    def sizeHint(self, option: QStyleOptionViewItem, index: _Index) -> QSize:
        # The style measures words over the whole cell, but draws them within the cell's padding.
        inner = QStyleOptionViewItem(option)
        inner.rect = option.rect.adjusted(0, 0, -_PADDING if option.rect.width() > _PADDING else 0, 0)
        return super().sizeHint(inner, index)


def _opens_list(event: QEvent) -> bool:
    if not isinstance(event, QKeyEvent) or event.type() is not QEvent.Type.KeyPress:
        return False
    return event.key() in _OPEN_LIST


def _heading(index: _Index) -> str:
    return str(index.model().headerData(index.column(), Qt.Orientation.Horizontal)).replace("\n", " ")
