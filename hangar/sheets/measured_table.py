"""Predicted beside measured on a sheet: one row a reading, with its word."""

from __future__ import annotations

from collections.abc import Sequence

from hangar.answers.beside import Beside
from hangar.answers.predicted import Fits
from hangar.base.text import text
from hangar.sheets.kit import Cell, Sheet, heads
from hangar.sheets.style import SheetStyle

MEASURED_TITLE = text("Measured beside predicted")
_MOST_ROWS = 24


def measured_table(sheet: Sheet, rows: Sequence[Beside], most: int = _MOST_ROWS) -> None:
    """A table of readings beside what was predicted of each; says so where there are none.

    Args:
        sheet: the sheet to draw on; the heading is the caller's.
        rows: the readings, the newest first; those that do not fit are drawn before all others.
        most: how many rows to draw; how many were left out is said.
    """
    every = [row for row in rows if not row.is_aside]
    # What does not fit is not left out for being old.
    counted = sorted(every, key=lambda row: row.word is not Fits.NOT)
    if not counted:
        sheet.write(text("Nothing was measured on this aircraft yet."))
        return
    sheet.table(
        heads("Day", "Of", "Reading", "Predicted", "Measured", "Says"),
        [20, 24, 44, 40, 22, 36],
        [_row(sheet.style, row) for row in counted[:most]],
    )
    if len(counted) > most:
        sheet.write(text("{count} older readings stand in the program's log.", count=len(counted) - most))
    for row in counted[:most]:
        if row.look_for is not None:
            sheet.write(
                text("{name} ({about}) does not fit: look for {causes}.", name=row.name,
                     about=row.about or text("the aircraft"), causes=row.look_for)
            )  # fmt: skip


def _row(style: SheetStyle, row: Beside) -> list[Cell]:
    return [
        row.read_on,
        row.about or "-",
        row.name,
        row.predicted_words or "-",
        style.show(row.measured, row.unit, 3),
        row.words,
    ]
