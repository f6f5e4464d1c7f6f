"""Rows pasted out of a keeper's own sheet: looked through as the whole sheet is, then taken as one step."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtWidgets import QWidget

from hangar.base.text import text
from hangar.parts import CapacityTest, LoadTest, Pack, PackFit, PackType, Position, Record, Servo, ServoType
from hangar.window.kit.desk import Desk
from hangar.window.kit.words import say

if TYPE_CHECKING:
    from hangar.store import Edit
    from hangar.store.intake.reading import Answers
    from hangar.store.rehearsal import Rehearsal
    from hangar.window.bring_in.rehearsal_dialog import RehearsalDialog

_TOLD_BY_SHEETS: tuple[type[Record], ...] = (
    Position, Servo, ServoType, Pack, PackFit, PackType, LoadTest, CapacityTest,
)  # fmt: skip


def open_rows(
    desk: Desk, parent: QWidget, kind: type[Record], rows: str, aircraft: str = ""
) -> RehearsalDialog | None:
    """Show rows as they are read, those of an aircraft where they name none; None where none is understood.

    Without headings only the rows of positions show what they are.
    """
    if kind not in _TOLD_BY_SHEETS:
        return None
    from hangar.store.intake.reading import Answers
    from hangar.store.rehearsal import rehearsal_of_rows
    from hangar.window.bring_in.rehearsal_dialog import RehearsalDialog

    name = next((airframe.name for airframe in desk.fleet.airframes() if airframe.code == aircraft), "")
    made = rehearsal_of_rows(desk.fleet, rows, say("Pasted rows"), name, desk.today)
    if made.has_own_headings is False and kind is not Position:
        return None
    heard = made.heard(Answers())
    if not heard.reading.account.has_tables:
        return None
    dialog = RehearsalDialog(made, heard, lambda: desk.view.look, parent)
    if desk.read_only:
        dialog.only_look()
    dialog.wanted.connect(lambda answers: _take(desk, dialog, made, answers))
    dialog.open()
    return dialog


def _take(desk: Desk, dialog: RehearsalDialog, made: Rehearsal, answers: Answers) -> None:
    def work(edit: Edit) -> None:
        from hangar.store.keeper_sheet import take_keeper_sheets

        take_keeper_sheets(made.grids, edit, made.today, answers, are_rows=True)

    if desk.edit(text("Paste rows of a sheet"), work):
        dialog.accept()
