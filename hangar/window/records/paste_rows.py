"""Look at pasted rows before they are taken: bad cells are marked and named, good rows go in as one step."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from functools import partial
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import Qt
from PySide6.QtGui import QAction, QGuiApplication, QKeySequence
from PySide6.QtWidgets import QDialog, QDialogButtonBox, QVBoxLayout, QWidget

from hangar.base.errors import HangarError
from hangar.parts.fields import Record
from hangar.rules.finding import Level
from hangar.window.kit.desk import Desk
from hangar.window.kit.plain_words import PlainLabel
from hangar.window.kit.stoppable_task import StoppableTask
from hangar.window.kit.words import put, say
from hangar.window.records.pasting import Pasted, PastedRow, heading_with_unit, read_block, take_rows
from hangar.window.tables.columns import Column
from hangar.window.tables.rows_model import RowsModel
from hangar.window.tables.rows_view import RowsView

if TYPE_CHECKING:
    from hangar.store import Touched

MANY = 300
"""From so many rows on they are read and taken beside the window, with their share and a Stop button."""


def paste_columns(desk: Desk, pasted: Pasted) -> tuple[Column[PastedRow], ...]:
    """The cells as pasted, each bad one marked, and what becomes of the row."""

    def cell(at: int, row: PastedRow, _units: object) -> str:
        return row.cells[at] if at < len(row.cells) else ""

    def level(at: int, row: PastedRow) -> Level | None:
        return Level.CAUTION if at in row.refused else None

    def tip(at: int, row: PastedRow) -> str:
        return row.refused.get(at, "")

    def unknown(at: int) -> str:
        return say("{heading}: no such field, not taken", heading=pasted.headings[at].strip())

    shown = [
        Column(
            heading_with_unit(desk, spec) if spec else unknown(at),
            partial(cell, at),
            level=partial(level, at),
            tip=partial(tip, at),
            widest=26,
        )
        for at, spec in enumerate(pasted.fields)
    ]
    return (
        Column(say("Row"), lambda row, _units: str(row.number), raw=lambda row: row.number, number=True),
        *shown,
        Column(
            say("What becomes of it"),
            lambda row, _units: row.outcome if row.is_good else say("left out: {why}", why=row.outcome),
            level=lambda row: None if row.is_good else Level.CAUTION,
            tip=lambda row: row.outcome,
            widest=90,
        ),
    )


class PasteDialog(QDialog):
    """The preview; only good rows are taken."""

    def __init__(self, desk: Desk, pasted: Pasted, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self._desk, self.pasted = desk, pasted
        self.setWindowTitle(say("Paste rows of {what}", what=say(pasted.kind.TITLE)))
        self.resize(940, 460)
        model: RowsModel[PastedRow] = RowsModel(
            desk, paste_columns(desk, pasted), lambda row: row.number, self
        )
        model.show_rows(pasted.rows)
        self.table = RowsView(model, say("Rows to paste"))
        words = say("Can be taken: {good}. Left out: {bad}.")
        told = PlainLabel(words.format(good=len(pasted.good), bad=len(pasted.bad)), wordWrap=True)
        self.refusal = PlainLabel(wordWrap=True)
        self.refusal.setObjectName("refusal")
        buttons = QDialogButtonBox(
            QDialogButtonBox.StandardButton.Ok | QDialogButtonBox.StandardButton.Cancel
        )
        self.take_button = buttons.button(QDialogButtonBox.StandardButton.Ok)
        self.take_button.setText(say("&Take the good rows"))
        self.take_button.setEnabled(bool(pasted.good))
        buttons.accepted.connect(self.take)
        buttons.rejected.connect(self.reject)
        column = QVBoxLayout(self)
        column.addWidget(told)
        column.addWidget(self.table, 1)
        column.addWidget(self.refusal)
        column.addWidget(buttons)

    def take(self) -> None:
        """Take the good rows in one step, or say why the store would not."""
        desk, pasted = self._desk, self.pasted
        if len(pasted.good) < MANY:
            try:
                self._taken(take_rows(desk.fleet, pasted))
            except HangarError as fault:
                self.refusal.setText(put(fault))
            return
        taking = StoppableTask(
            self, say("Taking the rows…"), lambda heed: take_rows(desk.fleet, pasted, heed)
        )
        taking.done.connect(self._taken)
        taking.failed.connect(lambda fault: self._not_taken(put(fault)))
        taking.stopped.connect(lambda: self._not_taken(say("Stopped; no row was taken.")))
        self.take_button.setEnabled(False)
        desk.rest()
        taking.start()

    def _taken(self, touched: Touched) -> None:
        self._desk.was_edited = True
        self._desk.read_elsewhere(touched)
        self._desk.start_judging()
        self.accept()

    def _not_taken(self, words: str) -> None:
        self._desk.start_judging()
        self.take_button.setEnabled(True)
        self.refusal.setText(words)


def paste_action(
    desk: Desk,
    table: QWidget,
    kind: type[Record],
    names: Sequence[str],
    preset: Callable[[], Mapping[str, Any]],
) -> QAction:
    """The action that pastes the clipboard's rows into a table of records.

    Args:
        desk: where the rows go.
        table: the table that has the focus when rows are pasted.
        kind: of the records.
        names: fields of the table, in its order.
        preset: gives the fields that every record of the table has at the time.
    """
    action = QAction(say("Paste rows…"), table)
    action.setShortcut(QKeySequence(QKeySequence.StandardKey.Paste))
    action.setShortcutContext(Qt.ShortcutContext.WidgetShortcut)
    action.triggered.connect(lambda: open_paste(desk, table, kind, names, preset()))
    action.setEnabled(not desk.read_only)
    return action


def open_paste(
    desk: Desk, parent: QWidget, kind: type[Record], names: Sequence[str], preset: Mapping[str, Any]
) -> PasteDialog | None:
    """Open the preview of what is on the clipboard; None where it follows later, or after telling why not."""
    text = QGuiApplication.clipboard().text()
    if text.count("\n") < MANY:
        try:
            return _open(desk, parent, read_block(desk, kind, text, preset, names))
        except HangarError as fault:
            desk.trouble.emit(fault)
            return None
    reading = StoppableTask(
        parent, say("Reading the rows…"), lambda heed: read_block(desk, kind, text, preset, names, heed)
    )
    reading.done.connect(lambda pasted: _open(desk, parent, pasted))
    reading.failed.connect(desk.trouble)
    reading.start()
    return None


def _open(desk: Desk, parent: QWidget, pasted: Pasted) -> PasteDialog:
    dialog = PasteDialog(desk, pasted, parent)
    dialog.open()
    return dialog
