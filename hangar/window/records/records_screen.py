"""A table of all records of one kind, with adding, removing, filtering and editing in place."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QPushButton, QVBoxLayout, QWidget

from hangar.parts.fields import Record, columns, key_of
from hangar.window.kit.desk import Desk
from hangar.window.kit.plain_words import PlainLabel
from hangar.window.kit.words import say, sentence_case
from hangar.window.records.paste_rows import paste_action
from hangar.window.records.record_dialog import RecordDialog
from hangar.window.records.telling_fields import giving_way
from hangar.window.tables.all_columns import LeftOut
from hangar.window.tables.columns import Column, field_columns
from hangar.window.tables.rows_model import RowsModel
from hangar.window.tables.rows_view import RowsView

FILTER_FROM = 12
"""A table shorter than this needs no filter."""


class RecordsScreen(QWidget):
    """One kind of record as a table.

    Args of the constructor:
        preset: fields every record here has (the aircraft, say); they are not shown nor asked for.
        names: the fields to show, in order; None shows all.
        extra: further read-only columns, before the field number ``extra_at`` or behind all.
    """

    def __init__(
        self,
        desk: Desk,
        kind: type[Record],
        *,
        preset: Mapping[str, Any] | None = None,
        names: Sequence[str] | None = None,
        extra: Iterable[Column[Any]] = (),
        extra_at: int | None = None,
        can_add: bool = True,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._desk = desk
        self.kind = kind
        self._preset: dict[str, Any] = dict(preset or {})
        shown = names or [spec.name for spec in columns(kind) if spec.name not in self._preset]
        order = giving_way(kind, shown)
        own = tuple(
            replace(column, gives_way=order[name])
            for name, column in zip(shown, field_columns(desk, kind, shown), strict=True)
        )
        self._model: RowsModel[Record] = RowsModel(
            desk, (*own[:extra_at], *extra, *(() if extra_at is None else own[extra_at:])), key_of, self
        )
        self.names = tuple(shown)
        title = say(sentence_case(kind.TITLE))
        self.table = RowsView(self._model, title)
        self.left_out = LeftOut(self.table, self)
        self.filter = QLineEdit()
        self.filter.setPlaceholderText(say("Show only rows with…"))
        self.filter.setAccessibleName(say("Filter of {table}", table=title))
        self.filter.setClearButtonEnabled(True)
        self.add_button = QPushButton(say("&Add…"))
        self.add_button.setAccessibleName(say("Add {what}", what=title))
        self.remove_button = QPushButton(say("&Remove"))
        self.remove_button.setAccessibleName(say("Remove {what}", what=title))
        self.empty = PlainLabel(say("Nothing is entered here yet."))
        self.empty.setObjectName("quiet")
        self.can_add = can_add
        self._arrange(can_add)
        self._connect()
        self.read_again()

    def _arrange(self, can_add: bool) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(10, 10, 10, 10)
        row = QHBoxLayout()
        column.addLayout(row)
        row.addWidget(self.filter, 2)
        row.addWidget(self.empty)
        row.addWidget(self.left_out, 5)
        row.addStretch(1)
        row.addWidget(self.add_button)
        row.addWidget(self.remove_button)
        for button in (self.add_button, self.remove_button):
            button.setVisible(can_add)
            button.setEnabled(not self._desk.read_only)
        column.addWidget(self.table, 1)

    def _connect(self) -> None:
        self.filter.textChanged.connect(self.table.filter_words)
        self.add_button.clicked.connect(self.open_new)
        self.remove_button.clicked.connect(self.remove_chosen)
        delete = QShortcut(QKeySequence.StandardKey.Delete, self.table)
        delete.setContext(Qt.ShortcutContext.WidgetShortcut)
        delete.activated.connect(self.remove_chosen)
        self.table.how_asked.connect(self._desk.how_asked)
        if self.can_add:
            self.table.addAction(
                paste_action(self._desk, self.table, self.kind, self.names, lambda: self.preset)
            )
        self._desk.touched.connect(self._touched)

    @property
    def preset(self) -> dict[str, Any]:
        """Fields that every record here has."""
        return dict(self._preset)

    def show_of(self, **preset: Any) -> None:
        """Show the records that have these fields instead."""
        self._preset = preset
        self.read_again()

    def read_again(self) -> None:
        """Read the rows from the fleet."""
        rows = self._desk.records(self.kind, **self._preset)
        self._model.show_rows(rows)
        self.empty.setVisible(not rows)
        self.remove_button.setEnabled(bool(rows) and not self._desk.read_only)
        self.filter.setVisible(len(rows) >= FILTER_FROM or bool(self.filter.text()))

    def _touched(self, touched: frozenset[str]) -> None:
        if self.kind.KIND in touched:
            self.read_again()

    def open_new(self) -> RecordDialog:
        """Open the form for a new record."""
        dialog = RecordDialog(self._desk, self.kind, self._preset, self)
        dialog.made.connect(self.table.choose_row)
        dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        dialog.open()
        return dialog

    def remove_chosen(self) -> None:
        """Take the record under the cursor away; undo brings it back."""
        record = self.table.current_row
        if record is None or self._desk.read_only:
            return
        key = key_of(record)
        label = say("Remove {what} {name}", what=self.kind.TITLE, name=" ".join(str(part) for part in key))
        self._desk.edit(label, lambda edit: edit.remove(self.kind, key))
