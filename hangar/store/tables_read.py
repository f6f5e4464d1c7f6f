"""Table files as plain grids: CSV with its separator, encoding and decimal sign found out, and XLSX."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

from hangar.base.errors import BadInput, words_of
from hangar.store.cells import Raw
from hangar.store.limits import CELLS_MOST, COLUMNS_MOST, ROWS_MOST, refuse_large_file
from hangar.store.workbooks import read_workbook

OWN_ENDINGS = (".csv", ".tsv", ".xlsx", ".xlsm")
"""Of tables of our own form."""

ENDINGS = (*OWN_ENDINGS, ".ods", ".txt", ".tab")
"""Of tables of any form, keepers' own sheets too."""

FORM_ENDINGS = (".pdf", ".json")
"""Of filled sheets and of what a phone gives back of one; they are read box by box, not as tables."""

_COMMA_DECIMAL = re.compile(r"[+-]?\d+,(?:\d{1,2}|\d{4,})")
_DOT_DECIMAL = re.compile(r"[+-]?\d*\.(?:\d{1,2}|\d{4,})")


@dataclass(frozen=True, slots=True)
class Sheet:
    """One table as it lies in a file: the first row of ``rows`` is row 1."""

    file: str
    title: str
    rows: tuple[tuple[Raw, ...], ...]
    decimal: str | None = None

    @property
    def headers(self) -> tuple[str, ...]:
        """The headings."""
        return tuple("" if cell is None else str(cell).strip() for cell in self.rows[0]) if self.rows else ()


def files_of(sources: Iterable[Path]) -> list[Path]:
    """The table files and filled sheets among the sources, those of a folder in the order of their names.

    Of a folder with tables the tables count: papers may lie beside them.
    Raises: BadInput for a source that is not there or holds neither.
    """
    files: list[Path] = []
    for source in sources:
        if source.is_dir():
            files += _inside(source)
        elif not source.is_file():
            raise BadInput("There is no file or folder {source}.", source=str(source))
        elif source.suffix.lower() not in (*ENDINGS, *FORM_ENDINGS):
            endings = ", ".join((*ENDINGS, *FORM_ENDINGS))
            raise BadInput(
                "{source} is neither a table nor a filled sheet; expected a file ending in {endings}.",
                source=str(source),
                endings=endings,
            )
        else:
            files.append(source)
    return files


def _inside(folder: Path) -> list[Path]:
    files = sorted(folder.iterdir())
    inside = [path for path in files if _is_table(path)]
    # Beside tables a text file is a note; alone it may be somebody's list.
    inside = [path for path in inside if path.suffix.lower() not in (".txt", ".tab")] or inside
    inside = inside or [path for path in files if path.suffix.lower() in FORM_ENDINGS and path.is_file()]
    if not inside:
        endings = ", ".join((*ENDINGS, *FORM_ENDINGS))
        raise BadInput(
            "{folder} holds no tables and no filled sheets; expected files ending in {endings}.",
            folder=str(folder),
            endings=endings,
        )
    return inside


def _is_table(path: Path) -> bool:
    # Spreadsheet programs put a hidden or ~$ file beside the one they have open.
    return path.is_file() and path.suffix.lower() in ENDINGS and not path.name.startswith((".", "~$"))


def read_sheets(path: Path) -> list[Sheet]:
    """The tables of a file.

    Raises: BadInput naming the file when it cannot be read.
    """
    try:
        if path.suffix.lower() in (".xlsx", ".xlsm"):
            return _read_workbook(path)
        return [_read_text(path)]
    except OSError as fault:
        raise BadInput(
            "{name} cannot be read: {cause}.", name=path.name, cause=fault.strerror or str(fault)
        ) from fault


def _read_text(path: Path) -> Sheet:
    refuse_large_file(path)
    return sheet_of_text(path, path.read_bytes())


def sheet_of_text(path: Path, content: bytes) -> Sheet:
    """The table in the bytes of a CSV file called ``path``.

    Raises: BadInput when they are no table, or too large a one.
    """
    text = decoded(content)
    separator = separator_of(text)
    if text[:4].lower() == "sep=":
        text = text.partition("\n")[2]
    try:
        rows = tuple(
            _bounded(path, csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=False))
        )
    except csv.Error as fault:
        raise BadInput(
            "{name} is no readable table: {fault}.", name=path.name, fault=words_of(fault)
        ) from fault
    return Sheet(path.name, path.stem, rows, decimal_of(rows))


def _bounded(path: Path, rows: Iterable[list[str]]) -> Iterator[tuple[str, ...]]:
    cells = 0
    for number, row in enumerate(rows, start=1):
        cells += len(row)
        if number > ROWS_MOST or len(row) > COLUMNS_MOST or cells > CELLS_MOST:
            raise BadInput(
                "{name} is too large at row {number}; allowed are {rows} rows, {columns} columns and "
                "{cells} cells.",
                name=path.name,
                number=number,
                rows=ROWS_MOST,
                columns=COLUMNS_MOST,
                cells=CELLS_MOST,
            )
        yield tuple(row)


def decoded(content: bytes) -> str:
    """The text of a file, whatever of the usual encodings a spreadsheet wrote it in."""
    if content.startswith((b"\xff\xfe", b"\xfe\xff")):
        return content.decode("utf-16", "replace")
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError:
        return content.decode("cp1252", "replace")


def separator_of(text: str) -> str:
    """What stands between the columns: comma, semicolon, tab or bar."""
    hint = re.match(r"sep=(.)", text, re.IGNORECASE)
    if hint:
        return hint[1]
    first = next((line for line in text.splitlines() if line.strip()), "")
    bare = re.sub(r'"[^"]*"', "", first)
    return max(",;\t|", key=bare.count)


def decimal_of(rows: Iterable[Iterable[Raw]]) -> str | None:
    """The decimal sign that the numbers of a table show, or None when they show both or none."""
    signs = set()
    for row in rows:
        for cell in row:
            if isinstance(cell, str):
                if _COMMA_DECIMAL.fullmatch(cell.strip()):
                    signs.add(",")
                elif _DOT_DECIMAL.fullmatch(cell.strip()):
                    signs.add(".")
    return signs.pop() if len(signs) == 1 else None


def _read_workbook(path: Path) -> list[Sheet]:
    tabs = read_workbook(path)
    several = len(tabs) > 1
    return [
        Sheet(f"{path.name} [{title}]" if several else path.name, title, rows, decimal_of(rows))
        for title, rows in tabs
        if any(any(_filled(cell) for cell in row) for row in rows)
    ]


def _filled(cell: Raw) -> bool:
    return cell is not None and str(cell).strip() != ""
