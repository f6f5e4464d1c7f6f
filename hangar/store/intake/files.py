"""A file of any kind that keepers have their list in, as grids."""

from __future__ import annotations

import zipfile
from collections.abc import Callable
from pathlib import Path

from hangar.base.errors import BadInput
from hangar.store.intake.grid import Grid
from hangar.store.intake.open_document import read_open_document
from hangar.store.intake.text_file import read_text
from hangar.store.intake.workbook import read_workbook_grids
from hangar.store.limits import KEEPER_ROWS_MOST


def read_grids(path: Path, known: Callable[[str], int] | None = None) -> list[Grid]:
    """The tables of a file; what kind it is says its content, not its name.

    Raises: BadInput naming the file when it cannot be read.
    """
    try:
        with path.open("rb") as file:
            head = file.read(8)
        if head.startswith(b"\xd0\xcf\x11\xe0"):
            raise BadInput(
                "{file} is a workbook of the form before 2007; save it as .xlsx or .ods.", file=path.name
            )
        if not head.startswith(b"PK") and path.suffix.lower() not in (".xlsx", ".xlsm", ".ods"):
            return [_bounded(read_text(path, known))]
        grids = read_open_document(path) if _is_open_document(path) else read_workbook_grids(path)
        return [_bounded(grid) for grid in grids if grid.cells]
    except OSError as fault:
        raise BadInput(
            "{file} cannot be read: {fault}.", file=path.name, fault=fault.strerror or str(fault)
        ) from fault


def _bounded(grid: Grid) -> Grid:
    if grid.height > KEEPER_ROWS_MOST:
        raise BadInput(
            "{file} has {rows} rows; allowed in a keeper's own sheet are {most}.",
            file=grid.file,
            rows=grid.height,
            most=KEEPER_ROWS_MOST,
        )
    return grid


def _is_open_document(path: Path) -> bool:
    try:
        with zipfile.ZipFile(path) as archive:
            return "content.xml" in archive.namelist()
    except (zipfile.BadZipFile, ValueError, RuntimeError):
        return path.suffix.lower() == ".ods"
