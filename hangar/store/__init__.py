"""The fleet file: records in, records out, every edit undoable."""

from __future__ import annotations

from typing import TYPE_CHECKING

from hangar.base.on_demand import names_on_demand

if TYPE_CHECKING:
    from hangar.store.broken import BrokenFile
    from hangar.store.edit import Edit
    from hangar.store.file import FileReport, check_file
    from hangar.store.fleet import Fleet
    from hangar.store.journal import Change
    from hangar.store.papers import Owner
    from hangar.store.reach import Reach
    from hangar.store.report import BringInReport, CellNote
    from hangar.store.restore import restore_backup
    from hangar.store.seats import Conflict
    from hangar.store.tables_io import bring_in, take_out
    from hangar.store.whereabouts import Whereabouts

_HOMES = {
    "BrokenFile": "broken",
    "Conflict": "seats",
    "Edit": "edit",
    "FileReport": "file",
    "check_file": "file",
    "Fleet": "fleet",
    "Change": "journal",
    "BringInReport": "report",
    "CellNote": "report",
    "bring_in": "tables_io",
    "take_out": "tables_io",
    "Owner": "papers",
    "restore_backup": "restore",
    "Reach": "reach",
    "Whereabouts": "whereabouts",
}

if not TYPE_CHECKING:
    # The window must be on screen before all this is loaded.
    __getattr__ = names_on_demand(__name__, _HOMES)

__all__ = [
    "BringInReport",
    "BrokenFile",
    "CellNote",
    "Change",
    "Conflict",
    "Edit",
    "FileReport",
    "Fleet",
    "Owner",
    "Reach",
    "Whereabouts",
    "bring_in",
    "check_file",
    "restore_backup",
    "take_out",
]
