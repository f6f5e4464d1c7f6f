"""The table widget every screen uses: sorting, filtering, copying out, editing, asking "How?"."""

from __future__ import annotations

from collections.abc import Callable, Collection, Hashable, Sequence
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import (
    SIGNAL,
    QEvent,
    QItemSelection,
    QItemSelectionModel,
    QModelIndex,
    QPersistentModelIndex,
    QPoint,
    QSize,
    QSortFilterProxyModel,
    Qt,
    QTimer,
    Signal,
)
from PySide6.QtGui import (
    QAction,
    QColor,
    QFont,
    QFontMetrics,
    QGuiApplication,
    QKeyEvent,
    QKeySequence,
    QPainter,
    QPaintEvent,
    QResizeEvent,
)
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHeaderView,
    QMenu,
    QWidget,
)

from hangar.base.figure import Figure
from hangar.window.kit.field_text import UNKNOWN
from hangar.window.kit.looks import Look
from hangar.window.kit.words import say
from hangar.window.tables.cells import CellEditor, HasHeads, WrappedCells
from hangar.window.tables.columns import FIGURE_ROLE, ROW_ROLE, SORT_ROLE
from hangar.window.tables.rows_model import RowsModel, fitting_widths, part_of

if TYPE_CHECKING:
    from hangar.window.kit.view_settings import ViewSettings
from hangar.window.kit.when_seen import WhenSeen

_Index = QModelIndex | QPersistentModelIndex
_ROWS_LOOKED_AT = 200
"""Rows that are looked at to find out how wide a column is, and whether anything is entered in it."""
_MOST_WRAPPED = 400
"""Rows of a table with more than these are all one line high: to measure them all would take too long."""
LEAST_ROWS = 4
"""A table is never lower than so many of its rows."""
_BAR_UNITS = 4
"""Width of the bar of a chosen row."""
_ACTIVATED = SIGNAL("activated(QModelIndex)")


class RowsView(HasHeads):
    """A table over a :class:`RowsModel`; it shows as many columns as the width has room for.

    Signals: ``row_chosen(row)`` when another row becomes current; ``how_asked(Figure)``;
    ``columns_left_out(int)`` with how many columns there is no room for.
    """

    row_chosen = Signal(object)
    how_asked = Signal(object)
    columns_left_out = Signal(int)

    def __init__(self, model: RowsModel[Any], name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.rows_model = model
        self._shows_all = False
        self._group_of: Callable[[Any], str] | None = None
        self._group_heads: dict[int, str] = {}
        self._had_heads = False
        self._wanted: tuple[int, ...] = ()
        self._heads: tuple[int, ...] = ()
        self._heights: dict[int, int] = {}
        self._proxy = QSortFilterProxyModel(self)
        self._proxy.setSourceModel(model)
        self._proxy.setSortRole(SORT_ROLE)
        self._proxy.setFilterKeyColumn(-1)
        self._proxy.setFilterCaseSensitivity(Qt.CaseSensitivity.CaseInsensitive)
        self.setModel(self._proxy)
        self._plain, self._wrapped = CellEditor(self), WrappedCells(self)
        self.setItemDelegate(self._plain)
        self.setAccessibleName(name)
        # Said before: else a table that is filled already would be sorted by its first column once in vain.
        self.horizontalHeader().setSortIndicator(-1, Qt.SortOrder.AscendingOrder)
        self.setSortingEnabled(True)
        self.setAlternatingRowColors(False)
        self.setShowGrid(False)
        self.setWordWrap(False)
        self.setTabKeyNavigation(False)
        self.setSelectionMode(QAbstractItemView.SelectionMode.ExtendedSelection)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.verticalHeader().setVisible(False)
        # A heading on two lines would be cut as if it stood on one.
        self.horizontalHeader().setTextElideMode(Qt.TextElideMode.ElideNone)
        self.horizontalHeader().setResizeContentsPrecision(_ROWS_LOOKED_AT)
        self.setContextMenuPolicy(Qt.ContextMenuPolicy.CustomContextMenu)
        self._make_actions()
        self._connect(model)
        self._recall()
        self.fit_columns()

    def _recall(self) -> None:
        """Order and columns as this seat left them the last time."""
        view, name = self.rows_model.desk.view, f"table/{self.accessibleName()}"
        kept = view.kept(name, {})
        at, falls, every = kept.get("by"), kept.get("falls"), kept.get("every")
        if isinstance(at, int) and 0 <= at < len(self.rows_model.columns):
            self.sortByColumn(at, Qt.SortOrder.DescendingOrder if falls else Qt.SortOrder.AscendingOrder)
        self._shows_all = every is True
        self.horizontalHeader().sortIndicatorChanged.connect(lambda _at, _order: self._keep(view, name))
        self.columns_left_out.connect(lambda _count: self._keep(view, name))

    def _keep(self, view: ViewSettings, name: str) -> None:
        header = self.horizontalHeader()
        by, order = header.sortIndicatorSection(), header.sortIndicatorOrder()
        falls = order is Qt.SortOrder.DescendingOrder
        now = {"by": by, "falls": falls, "every": self._shows_all}
        if now != view.kept(name, {"by": -1, "falls": False, "every": False}):
            view.keep(name, now)

    def _make_actions(self) -> None:
        self.copy_action = QAction(say("Copy the table"), self)
        self.copy_action.setShortcut(QKeySequence.StandardKey.Copy)
        self.copy_action.setShortcutContext(Qt.ShortcutContext.WidgetShortcut)
        self.copy_action.triggered.connect(self.copy_cells)
        self.how_action = QAction(say("How was this number made?"), self)
        self.how_action.setShortcut(QKeySequence("Ctrl+H"))
        self.how_action.setShortcutContext(Qt.ShortcutContext.WidgetShortcut)
        self.how_action.triggered.connect(self.ask_how)
        self.story_action = QAction(say("Where has this part been?"), self)
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
        self._look = WhenSeen(self, self._fit_later)
        model.look_changed.connect(self._look.ask)
        self._proxy.layoutChanged.connect(self._place_heads)
        proxy = self._proxy
        for other_rows in (
            proxy.layoutAboutToBeChanged,
            proxy.rowsAboutToBeInserted,
            proxy.rowsAboutToBeRemoved,
            proxy.modelAboutToBeReset,
            self.horizontalHeader().sectionResized,
            self.horizontalHeader().sectionMoved,
        ):
            other_rows.connect(self._measure_anew)

    def _fit_later(self) -> None:
        # The style sheet reaches the heading after this signal.
        QTimer.singleShot(0, self, self.fit_columns)

    @property
    def shows_all(self) -> bool:
        """Whether all columns are shown, whatever the width."""
        return self._shows_all

    def show_all(self, wanted: bool) -> None:
        """Show all columns and scroll, or those that there is room for."""
        self._shows_all = wanted
        self.fit_columns()
        self.columns_left_out.emit(len(self.left_out))

    @property
    def left_out(self) -> tuple[str, ...]:
        """Headings of the columns that there is no room for."""
        columns = enumerate(self.rows_model.columns)
        return tuple(_one_line(column.heading) for at, column in columns if self.isColumnHidden(at))

    def fit_columns(self) -> None:
        """Make every column as wide as its words, within reason and the width of the table."""
        metrics = self.fontMetrics()
        bold = QFont(self.font())
        bold.setBold(True)
        head = QFontMetrics(bold)
        wanted, heads = [], []
        for at, column in enumerate(self.rows_model.columns):
            heads.append(max(head.horizontalAdvance(line) + 24 for line in column.heading.split("\n")))
            words = max(self.sizeHintForColumn(at), heads[at])
            wanted.append(words if column.wraps else min(words, metrics.averageCharWidth() * column.widest))
        self._wanted, self._heads = tuple(wanted), tuple(heads)
        self._share_room()

    def _share_room(self) -> None:
        """Give each column its width; the least telling give way where there is not enough."""
        widths, room = self._wanted, self.viewport().width()
        if not self._shows_all and sum(widths) > room:
            columns = self.rows_model.columns
            empty = [bool(column.gives_way) and self._is_empty(at) for at, column in enumerate(columns)]
            letter = self.fontMetrics().averageCharWidth()
            widths = fitting_widths(columns, widths, self._heads, empty, room, letter)
        before = self.left_out
        for at, width in enumerate(widths):
            self.setColumnHidden(at, not width)
            if width:
                self.setColumnWidth(at, width)
        self._keep_cursor_seen()
        self._wrap(widths)
        self._place_heads()
        self.updateGeometry()
        if self.left_out != before:
            self.columns_left_out.emit(len(self.left_out))

    def sizeHintForRow(self, row: int) -> int:
        """How high a row wants to be; Qt asks this of every row some thirty times while a page opens."""
        high = self._heights.get(row)
        if high is None:
            high = self._heights[row] = super().sizeHintForRow(row)
        return high

    def _measure_anew(self) -> None:
        self._heights.clear()

    def dataChanged(self, first: _Index, last: _Index, roles: Sequence[int] = ()) -> None:
        self._measure_anew()
        super().dataChanged(first, last, roles)

    def _wrap(self, widths: Sequence[int]) -> None:
        """Let the rows be as high as their sentences where these are cut."""
        sized = zip(self.rows_model.columns, widths, self._wanted, strict=True)
        is_cut = any(column.wraps and width < wanted for column, width, wanted in sized)
        wraps = is_cut and self.rows_model.rowCount() <= _MOST_WRAPPED
        high, rows = round(self.fontMetrics().height() * 1.7), self.verticalHeader()
        self._measure_anew()
        self.setWordWrap(wraps)
        # What measures each cell in Python is kept from long tables.
        self.setItemDelegate(self._wrapped if wraps else self._plain)
        rows.setMinimumSectionSize(high)
        mode = QHeaderView.ResizeMode
        rows.setSectionResizeMode(mode.ResizeToContents if wraps else mode.Interactive)
        if not wraps:
            rows.setDefaultSectionSize(high)

    def group_by(self, group_of: Callable[[Any], str] | None) -> None:
        """Put the words of its group over the first row of each, while no column orders the rows."""
        self._group_of = group_of
        # A third click on a heading gives the groups back.
        self.horizontalHeader().setSortIndicatorClearable(group_of is not None)
        self._group_heads = {}
        self._place_heads()

    @property
    def head_look(self) -> Look:
        """The colours of the line over a group."""
        return self.rows_model.desk.view.look

    def head_over(self, place: int) -> str:
        """The words over the row that is shown at this place; empty where no group begins."""
        return self._group_heads.get(place, "")

    def _place_heads(self) -> None:
        self._group_heads = {}
        before = None
        if self._group_of is not None and self.horizontalHeader().sortIndicatorSection() < 0:
            for place in range(self._proxy.rowCount()):
                group = self._group_of(self._proxy.index(place, 0).data(ROW_ROLE))
                if group and group != before:
                    self._group_heads[place] = group
                before = group
        if self._group_of is None and not self._had_heads:
            return
        self._had_heads = bool(self._group_heads)
        high = self.verticalHeader().defaultSectionSize()
        for place in range(self._proxy.rowCount()):
            more = self.head_high if place in self._group_heads else 0
            if self.rowHeight(place) != high + more:
                self.setRowHeight(place, high + more)
        self.viewport().update()

    def _is_empty(self, at: int) -> bool:
        model = self.rows_model
        rows = range(min(model.rowCount(), _ROWS_LOOKED_AT))
        return all(model.index(row, at).data() in ("", UNKNOWN) for row in rows)

    def _keep_cursor_seen(self) -> None:
        current = self.currentIndex()
        if current.isValid() and self.isColumnHidden(current.column()):
            self.selectionModel().setCurrentIndex(
                current.siblingAtColumn(self._first_seen()), QItemSelectionModel.SelectionFlag.NoUpdate
            )

    def _first_seen(self) -> int:
        columns = range(len(self.rows_model.columns))
        return next((at for at in columns if not self.isColumnHidden(at)), 0)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        if event.oldSize().width() != event.size().width():
            self._share_room()

    def minimumSizeHint(self) -> QSize:
        """Room for the headings and a few rows, as far as there are any."""
        rows = range(min(LEAST_ROWS, self._proxy.rowCount()))
        usual = self.verticalHeader().defaultSectionSize()
        shown = sum(min(self.rowHeight(row), 2 * usual) for row in rows)
        head = self.horizontalHeader().sizeHint().height()
        least = head + max(shown, usual) + 2 * self.frameWidth() + 2
        return QSize(super().minimumSizeHint().width(), least)

    def choose_whole_rows(self) -> None:
        """Let the last column take the room that is left, and a click choose a whole row."""
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.horizontalHeader().setStretchLastSection(True)

    def filter_words(self, text: str) -> None:
        """Show only rows that hold this text in any column."""
        self._proxy.setFilterFixedString(text)
        self._place_heads()

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
        column = self.currentIndex().column() if self.currentIndex().isValid() else self._first_seen()
        index = self._proxy.mapFromSource(self.rows_model.index(at, column))
        if index.row() != self.currentIndex().row():
            # Whatever key is held down meanwhile: this row and no other.
            flag = QItemSelectionModel.SelectionFlag.ClearAndSelect
            self.selectionModel().setCurrentIndex(index, flag)
            self.scrollTo(index)

    @property
    def chosen_rows(self) -> tuple[Any, ...]:
        """The rows in which anything is chosen, in the order shown."""
        places = sorted({index.row() for index in self.selectionModel().selectedIndexes()})
        return tuple(self._proxy.index(place, 0).data(ROW_ROLE) for place in places)

    def choose_rows(self, keys: Collection[Hashable]) -> None:
        """Choose the whole rows with these keys; the cursor goes to the first of them."""
        selection = QItemSelection()
        first = QModelIndex()
        for place in range(self._proxy.rowCount()):
            start = self._proxy.index(place, 0)
            if self.rows_model.key_of(start.data(ROW_ROLE)) in keys:
                selection.select(start, start.siblingAtColumn(self._proxy.columnCount() - 1))
                first = first if first.isValid() else start.siblingAtColumn(self._first_seen())
        flag = QItemSelectionModel.SelectionFlag
        if first.isValid():
            self.selectionModel().setCurrentIndex(first, flag.NoUpdate)
        self.selectionModel().select(selection, flag.ClearAndSelect)

    def choose_place(self, place: int) -> None:
        """Put the cursor on the row that is shown at this place from the top, or on the last one."""
        row = min(max(0, place), self._proxy.rowCount() - 1)
        self.setCurrentIndex(self._proxy.index(row, max(0, self.currentIndex().column())))

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

    def paintEvent(self, event: QPaintEvent) -> None:
        """The rows; at the left edge of each chosen one a bar in the colour of what is chosen."""
        super().paintEvent(event)
        view = self.rows_model.desk.view
        wide = max(2, round(_BAR_UNITS * view.points / 10))
        painter = QPainter(self.viewport())
        for place in {index.row() for index in self.selectionModel().selectedIndexes()}:
            top, high = self.rowViewportPosition(place), self.rowHeight(place)
            if -high < top < self.viewport().height():
                painter.fillRect(0, top, wide, high - 1, QColor(view.look.accent))
        painter.end()

    def changeEvent(self, event: QEvent) -> None:
        if hasattr(self, "_heights"):
            self._measure_anew()
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
        current = self.currentIndex()
        if current.isValid() and self.receivers(_ACTIVATED):
            opening = menu.addAction(say("Open this row"))
            opening.triggered.connect(lambda _on=False: self.activated.emit(current))
        if current.isValid() and current.flags() & Qt.ItemFlag.ItemIsEditable:
            editing = menu.addAction(say("Edit this cell"))
            editing.setShortcut(QKeySequence("F2"))
            editing.triggered.connect(lambda _on=False: self.edit(current))
        self.how_action.setEnabled(self.asked_figure is not None)
        self.story_action.setEnabled(part_of(self.current_row) is not None)
        menu.addActions(self.actions())
        menu.exec(self.viewport().mapToGlobal(where))
        self.how_action.setEnabled(True)
        self.story_action.setEnabled(True)
        menu.deleteLater()


def _one_line(text: str) -> str:
    return text.replace("\t", " ").replace("\n", " ")
