"""The fleet file: records in, records out, every edit undoable."""

from hangar.store.edit import Edit
from hangar.store.file import FileReport, check_file
from hangar.store.fleet import Fleet
from hangar.store.journal import Change
from hangar.store.report import BringInReport, CellNote
from hangar.store.tables_io import bring_in, take_out
from hangar.store.touched import Touched

__all__ = [
    "BringInReport",
    "CellNote",
    "Change",
    "Edit",
    "FileReport",
    "Fleet",
    "Touched",
    "bring_in",
    "check_file",
    "take_out",
]
