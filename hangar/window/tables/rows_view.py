"""The table widget every screen uses: sorting, filtering, copying out, editing, asking "How?"."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import (
    QEvent,
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    QPoint,
    QSortFilterProxyModel,
    Qt,
    QTimer,
    Signal,
)
from PySide6.QtGui import QAction, QFont, QFontMetrics, QGuiApplication, QKeyEvent, QKeySequence, QResizeEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QComboBox,
    QLineEdit,
    QMenu,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QTableView,
    QWidget,
)

from hangar.base.figure import Figure
from hangar.window.tables.row_parts import part_of
from hangar.window.tables.rows_model import CHOICES_ROLE, FIGURE_ROLE, ROW_ROLE, SORT_ROLE, RowsModel

_Index = QModelIndex | QPersistentModelIndex
_LAST_LETTERS = 24
"""Letters that the last column keeps where it takes the room that is left."""
_OPEN_LIST = (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Up, Qt.Key.Key_Down, Qt.Key.Key_Space)


class CellEditor(QStyledItemDelegate):
    """A list for cells with choices, a text line for the others."""

    def createEditor(self, parent: QWidget, _option: QStyleOptionViewItem, index: _Index) -> QWidget:
        choices = index.data(CHOICES_ROLE)
        if choices is None:
            line = QLineEdit(parent)
            line.setAccessibleName(_heading(index))
            return line
        box = QComboBox(parent)
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


def _opens_list(event: QEvent) -> bool:
    if not isinstance(event, QKeyEvent) or event.type() is not QEvent.Type.KeyPress:
        return False
    return event.key() in _OPEN_LIST


def _heading(index: _Index) -> str:
    return str(index.model().headerData(index.column(), Qt.Orientation.Horizontal)).replace("\n", " ")


class RowsView(QTableView):
    """A table over a :class:`RowsModel`.

    Signals: ``row_chosen(row)`` when another row becomes current; ``how_asked(Figure)``.
    """

    row_chosen = Signal(object)
    how_asked = Signal(object)

    def __init__(self, model: RowsModel[Any], name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.rows_model = model
        self._proxy = QSortFilterProxyModel(self)
        self._proxy.setSourceModel(model)
        self._proxy.setSortRole(SORT_ROLE)
        self._proxy.setFilterKeyColumn(-1)
        self._proxy.setFilterCaseSensitivity(Qt.CaseSensitivity.CaseInsensitive)
        self.setModel(self._proxy)
        self.setItemDelegate(CellEditor(self))
        self.setAccessibleName(name)
        self.setSortingEnabled(True)
        self.sortByColumn(-1, Qt.SortOrder.AscendingOrder)
        self.setAlternatingRowColors(True)
        self.setShowGrid(False)
        self.setWordWrap(False)
        self.setTabKeyNavigation(False)
        self.setSelectionMode(QAbstractItemView.SelectionMode.ExtendedSelection)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.verticalHeader().setVisible(False)
        self.setContextMenuPolicy(Qt.ContextMenuPolicy.CustomContextMenu)
        self._make_actions()
        self._connect(model)
        self.fit_columns()

    def _make_actions(self) -> None:
        self.copy_action = QAction(self.tr("Copy as table"), self)
        self.copy_action.setShortcut(QKeySequence.StandardKey.Copy)
        self.copy_action.setShortcutContext(Qt.ShortcutContext.WidgetShortcut)
        self.copy_action.triggered.connect(self.copy_cells)
        self.how_action = QAction(self.tr("How was this number made?"), self)
        self.how_action.setShortcut(QKeySequence("Ctrl+H"))
        self.how_action.setShortcutContext(Qt.ShortcutContext.WidgetShortcut)
        self.how_action.triggered.connect(self.ask_how)
        self.story_action = QAction(self.tr("Where has this part been?"), self)
        self.story_action.setShortcut(QKeySequence("Ctrl+Shift+H"))
        self.story_action.setShortcutContext(Qt.ShortcutContext.WidgetShortcut)
        self.story_action.triggered.connect(self.tell_story)
        self.addActions([self.how_action, self.story_action, self.copy_action])

    def _connect(self, model: RowsModel[Any]) -> None:
        self.customContextMenuRequested.connect(self._open_menu)
        self.clicked.connect(self._clicked)
        self.selectionModel().currentChanged.connect(self._current_changed)
        model.modelReset.connect(self.fit_columns)
        model.dataChanged.connect(self._data_changed)
        model.look_changed.connect(self._fit_later)

    def _fit_later(self) -> None:
        # The style sheet reaches the heading after this signal.
        QTimer.singleShot(0, self, self.fit_columns)

    def fit_columns(self) -> None:
        """Make every column as wide as its words, within reason."""
        metrics = self.fontMetrics()
        bold = QFont(self.font())
        bold.setBold(True)
        head = QFontMetrics(bold)
        for at, column in enumerate(self.rows_model.columns):
            lines = column.heading.split("\n")
            wanted = max(self.sizeHintForColumn(at), *(head.horizontalAdvance(line) + 24 for line in lines))
            self.setColumnWidth(at, min(wanted, metrics.averageCharWidth() * column.widest))
        if self.horizontalHeader().stretchLastSection():
            self._cut_last(metrics.averageCharWidth() * _LAST_LETTERS)
        self.verticalHeader().setDefaultSectionSize(round(self.fontMetrics().height() * 1.7))

    def _cut_last(self, least: int) -> None:
        """Cut the last column, whose tip tells the whole, before the table scrolls sideways."""
        last = len(self.rows_model.columns) - 1
        others = sum(self.columnWidth(at) for at in range(last))
        room = max(least, self.viewport().width() - others)
        self.setColumnWidth(last, min(self.columnWidth(last), room))

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        if self.horizontalHeader().stretchLastSection() and event.oldSize().width() != event.size().width():
            self.fit_columns()

    def choose_whole_rows(self) -> None:
        """Let the last column take the room that is left, and a click choose a whole row."""
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.horizontalHeader().setStretchLastSection(True)

    def filter_words(self, text: str) -> None:
        """Show only rows that hold this text in any column."""
        self._proxy.setFilterFixedString(text)

    @property
    def current_row(self) -> Any:
        """The row under the cursor, or None."""
        return self.currentIndex().data(ROW_ROLE) if self.currentIndex().isValid() else None

    @property
    def asked_figure(self) -> Figure | None:
        """The computed number under the cursor, or None."""
        figure = self.currentIndex().data(FIGURE_ROLE) if self.currentIndex().isValid() else None
        return figure if isinstance(figure, Figure) else None

    def choose_row(self, key: Any) -> None:
        """Put the cursor on the row with this key, keeping the column."""
        at = self.rows_model.row_of(key)
        if at is None:
            return
        column = max(0, self.currentIndex().column())
        index = self._proxy.mapFromSource(self.rows_model.index(at, column))
        if index.row() != self.currentIndex().row():
            self.setCurrentIndex(index)

    def cell(self, key: Any, heading: str) -> QModelIndex:
        """The view's index of a cell, by row key and column heading."""
        at = self.rows_model.row_of(key)
        headings = [column.heading.replace("\n", " ") for column in self.rows_model.columns]
        if at is None or heading not in headings:
            return QModelIndex()
        return self._proxy.mapFromSource(self.rows_model.index(at, headings.index(heading)))

    def ask_how(self) -> None:
        """Ask how the number under the cursor was made."""
        if self.asked_figure is not None:
            self.how_asked.emit(self.asked_figure)

    def tell_story(self) -> None:
        """Tell where the servo or pack of the row under the cursor has been."""
        part = part_of(self.current_row)
        if part is not None:
            self.rows_model.desk.story_wanted.emit(*part)

    def copy_cells(self) -> None:
        """Put the chosen cells with their headings on the clipboard, tabs between."""
        QGuiApplication.clipboard().setText(self.cells_as_text())

    def cells_as_text(self) -> str:
        """The chosen cells (all when one or none is chosen) as tab-separated text with headings."""
        chosen = self.selectionModel().selectedIndexes()
        rows = sorted({index.row() for index in chosen})
        columns = sorted({index.column() for index in chosen})
        if len(chosen) <= 1:
            rows, columns = list(range(self._proxy.rowCount())), list(range(self._proxy.columnCount()))
        lines = [[self.rows_model.columns[at].heading.replace("\n", " ") for at in columns]]
        lines += [[str(self._proxy.index(row, column).data()) for column in columns] for row in rows]
        return "\n".join("\t".join(_one_line(cell) for cell in line) for line in lines)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        current = self.currentIndex()
        enter = event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter)
        if enter and current.isValid() and self.state() != QAbstractItemView.State.EditingState:
            if current.flags() & Qt.ItemFlag.ItemIsEditable:
                self.edit(current)
            elif self.asked_figure is not None:
                self.ask_how()
            else:
                self.activated.emit(current)
            return
        super().keyPressEvent(event)

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange and hasattr(self, "_proxy"):
            self.fit_columns()

    def _clicked(self, index: QModelIndex) -> None:
        if index.data(FIGURE_ROLE) is not None:
            self.ask_how()

    def _current_changed(self, current: QModelIndex, before: QModelIndex) -> None:
        if current.isValid() and current.row() != before.row():
            self.row_chosen.emit(current.data(ROW_ROLE))

    def _data_changed(self) -> None:
        if self.currentIndex().isValid():
            self.row_chosen.emit(self.current_row)

    def _open_menu(self, where: QPoint) -> None:
        menu = QMenu(self)
        self.how_action.setEnabled(self.asked_figure is not None)
        self.story_action.setEnabled(part_of(self.current_row) is not None)
        menu.addActions(self.actions())
        menu.exec(self.viewport().mapToGlobal(where))
        self.how_action.setEnabled(True)
        self.story_action.setEnabled(True)
        menu.deleteLater()


def _one_line(text: str) -> str:
    return text.replace("\t", " ").replace("\n", " ")
