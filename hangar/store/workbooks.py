"""XLSX workbooks in and out; a hostile one is refused before it can fill the memory or run anything."""

from __future__ import annotations

import warnings
import zipfile
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import ExitStack, contextmanager
from pathlib import Path
from typing import Any

from hangar.base.errors import BadInput
from hangar.store.backups import settle
from hangar.store.cells import Raw, write_cell
from hangar.store.limits import (
    CELLS_MOST,
    COLUMNS_MOST,
    PARTS_MOST,
    ROWS_MOST,
    UNPACKED_MOST_BYTES,
    refuse_large_file,
)

_HEAD_BYTES = 4096
_XML_ENDINGS = (".xml", ".rels", ".vml")


def read_workbook(path: Path) -> list[tuple[str, tuple[tuple[Raw, ...], ...]]]:
    """The tabs of a workbook, each a name and its rows; the values as they were last computed.

    Raises: BadInput naming the file when it is too large, broken, locked by a password or no workbook.
    """
    with guarded(path) as load:
        return [(tab.title, _rows(path, tab)) for tab in load(read_only=True, data_only=True).worksheets]


@contextmanager
def guarded(path: Path) -> Iterator[Callable[..., Any]]:
    """Read a workbook within: every fault of its reader becomes one sentence.

    Yields: what loads the workbook, with the options of ``openpyxl.load_workbook``; it may be called again.
    Raises: BadInput naming the file when it is too large, broken, locked by a password or no workbook.
    """
    # openpyxl takes a tenth of a second to load; a fleet is opened far more often than a workbook.
    import openpyxl

    refuse_large_file(path)
    with ExitStack() as stack, warnings.catch_warnings():
        warnings.simplefilter("ignore")

        def load(**options: bool) -> Any:
            # Opened here, for openpyxl leaves a file open that it fails to read.
            file = stack.enter_context(path.open("rb"))
            return openpyxl.load_workbook(file, keep_links=False, **options)

        try:
            refuse_bomb(path)
            yield load
        except (BadInput, OSError):
            raise
        except Exception as fault:
            # A broken workbook makes its reader fail in any way at all.
            words = str(fault).splitlines()[0][:200] if str(fault).strip() else type(fault).__name__
            raise BadInput("{name} is no readable workbook: {words}.", name=path.name, words=words) from fault


def refuse_bomb(path: Path) -> None:
    """Refuse a packed file that would fill the memory, or names what no table needs.

    Raises: BadInput naming the file; zipfile's own faults when it is no packed file.
    """
    with zipfile.ZipFile(path) as archive:
        parts = archive.infolist()
        # The reader of the archive gives no more bytes of a part than it states here.
        unpacked = sum(part.file_size for part in parts)
        if len(parts) > PARTS_MOST or unpacked > UNPACKED_MOST_BYTES:
            raise BadInput(
                "{name} unpacks to {unpacked:.0f} MB in {count} parts; allowed is {most:.0f} MB in "
                "{parts} parts.",
                name=path.name,
                unpacked=unpacked / 1000000.0,
                count=len(parts),
                most=UNPACKED_MOST_BYTES / 1000000.0,
                parts=PARTS_MOST,
            )
        for part in parts:
            if part.filename.lower().endswith(_XML_ENDINGS):
                with archive.open(part) as file:
                    head = file.read(_HEAD_BYTES).replace(b"\x00", b"")
                if b"<!DOCTYPE" in head or b"<!ENTITY" in head:
                    raise BadInput(
                        "{name} holds what no table needs, in {part}; save it anew.",
                        name=path.name,
                        part=part.filename,
                    )


def _rows(path: Path, tab: Any) -> tuple[tuple[Raw, ...], ...]:
    # The size a tab states for itself may be a lie that costs gigabytes.
    tab.reset_dimensions()
    rows: list[tuple[Raw, ...]] = []
    cells = 0
    for row in tab.iter_rows(values_only=True):
        cells += len(row)
        if len(rows) >= ROWS_MOST or len(row) > COLUMNS_MOST or cells > CELLS_MOST:
            raise BadInput(
                "{name} [{title}] is too large at row {row}; allowed are {rows} rows, {columns} "
                "columns and {cells} cells.",
                name=path.name,
                title=tab.title,
                row=len(rows) + 1,
                rows=ROWS_MOST,
                columns=COLUMNS_MOST,
                cells=CELLS_MOST,
            )
        rows.append(tuple(row))
    while rows and all(cell is None for cell in rows[-1]):
        rows.pop()
    return tuple(rows)


def _is_kept_whole(value: Any) -> bool:
    """Whether a number is still the same after openpyxl wrote it with 16 figures; else it goes as text."""
    if isinstance(value, bool) or not isinstance(value, int | float):
        return False
    return float(f"{value:.16g}") == value


def write_workbook(path: Path, tables: Mapping[str, tuple[Sequence[str], Iterable[Sequence[Any]]]]) -> None:
    """Write tables as the tabs of one workbook, whole or not at all; texts are never formulas."""
    import openpyxl
    from openpyxl.cell import WriteOnlyCell

    book = openpyxl.Workbook(write_only=True)

    def cell(tab: Any, value: Any) -> Any:
        if value is None or _is_kept_whole(value):
            return value
        made = WriteOnlyCell(tab, value=write_cell(value))
        made.data_type = "s"
        return made

    draft = path.with_name(path.name + ".part")
    try:
        for title, (headers, rows) in tables.items():
            tab = book.create_sheet(title)
            tab.append([cell(tab, header) for header in headers])
            for row in rows:
                tab.append([cell(tab, value) for value in row])
        book.save(draft)
        settle(draft, path)
    finally:
        draft.unlink(missing_ok=True)
