"""One wide spreadsheet as a keeper keeps it."""

from __future__ import annotations

from datetime import date

from hangar.store.edit import Edit
from hangar.store.own_tables import Intake
from hangar.store.tables_read import Sheet


def is_wide_sheet(sheet: Sheet) -> bool:
    return not sheet.rows


def read_wide_sheet(sheet: Sheet, edit: Edit, today: date, intake: Intake) -> None:
    raise NotImplementedError
