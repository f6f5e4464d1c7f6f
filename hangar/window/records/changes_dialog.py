"""Every change made to the fleet, newest first; each can be seen with what it was before."""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum
from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QDialog, QDialogButtonBox, QVBoxLayout, QWidget

from hangar.base.units import ShowsNumbers
from hangar.parts import KIND_BY_NAME
from hangar.parts.fields import FieldSpec, columns
from hangar.window.kit.desk import Desk
from hangar.window.kit.field_text import field_text, heading_of, plain_text
from hangar.window.kit.plain_words import PlainLabel
from hangar.window.kit.words import put, say, sentence_case
from hangar.window.tables.columns import Column
from hangar.window.tables.rows_model import RowsModel
from hangar.window.tables.rows_view import RowsView

MOST_CHANGES = 1000
"""Changes shown until older ones are asked for: a history may have many thousands."""


def change_key(change: Any) -> tuple[Any, ...]:
    """What makes a change the same row when the table is shown again."""
    return (change.when, change.label, change.kind, tuple(change.key), change.undone)


def change_columns() -> tuple[Column[Any], ...]:
    """When, what, and the values before and after."""
    return (
        Column(say("When"), lambda change, _units: change.when.strftime("%Y-%m-%d %H:%M:%S")),
        Column(say("What was done"), lambda change, _units: put(change.label), wraps=True),
        Column(say("Record"), lambda change, _units: record_words(change.kind, change.key)),
        Column(
            say("Fields changed"),
            lambda change, units: changed_words(change.kind, change.before, change.after, units),
            wraps=True,
        ),
        Column(say("Undone"), lambda change, _units: say("undone") if change.undone else ""),
    )


def record_words(kind: str, key: tuple[Any, ...]) -> str:
    """A record by its title and its key."""
    name = " ".join(plain_text(part) for part in key)
    return f"{say(sentence_case(KIND_BY_NAME[kind].TITLE))} {name}"


def changed_words(
    kind: str, before: Mapping[str, Any] | None, after: Mapping[str, Any] | None, units: ShowsNumbers
) -> str:
    """The fields that differ by their labels, old and new value in the keeper's units.

    Args:
        kind: the name of the record's kind.
        before: what stood in the fields; None where the record was added.
        after: what stands in them; None where it was removed.
    """
    if before is None or after is None:
        return say("added") if before is None else say("removed")
    specs = {spec.name: spec for spec in columns(KIND_BY_NAME[kind])}
    return "; ".join(
        f"{heading_of(specs[name])}: {_shown(specs[name], before.get(name), units)} → "
        f"{_shown(specs[name], value, units)}"
        for name, value in after.items()
        if name in specs and before.get(name) != value
    )


def _shown(spec: FieldSpec, value: Any, units: ShowsNumbers) -> str:
    """A value of the journal, which keeps choices as plain words."""
    if isinstance(value, str) and issubclass(spec.type, StrEnum):
        value = next((choice for choice in spec.type if choice.value == value), value)
    return field_text(spec, value, units)


class ChangesDialog(QDialog):
    """The journal of the whole fleet; it follows edits while it is open."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle(say("Changes made to the fleet"))
        self.resize(960, 520)
        self._desk = desk
        self._model: RowsModel[Any] = RowsModel(desk, change_columns(), change_key, self)
        self.table = RowsView(self._model, say("Changes made to the fleet"))
        self._none = PlainLabel(say("Nothing has been changed yet."))
        self._most: int | None = MOST_CHANGES
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Close)
        buttons.rejected.connect(self.reject)
        self.older = buttons.addButton(say("Show &older changes too"), QDialogButtonBox.ButtonRole.ActionRole)
        self.older.clicked.connect(self._show_older)
        column = QVBoxLayout(self)
        column.addWidget(self._none)
        column.addWidget(self.table, 1)
        column.addWidget(buttons)
        desk.touched.connect(self._show)
        self._show()

    def _show(self, _touched: object = None) -> None:
        changes = self._desk.fleet.history(most=self._most)
        self._model.show_rows(tuple(sorted(changes, key=lambda change: change.when, reverse=True)))
        self._none.setVisible(not changes)
        self.older.setVisible(self._most is not None and len(changes) >= self._most)

    def _show_older(self) -> None:
        self._most = None
        self._show()
