"""OpenDocument spreadsheets (.ods) as grids: values, repeats, merges, comments, struck and hidden cells."""

from __future__ import annotations

import zipfile
import zlib
from collections.abc import Iterator
from datetime import date, datetime
from pathlib import Path
from typing import IO
from xml.etree.ElementTree import Element, ParseError, iterparse

from hangar.base.errors import BadInput
from hangar.store.intake.grid import Cell, Grid, Merge, Value
from hangar.store.limits import CELLS_MOST, COLUMNS_MOST, ROWS_MOST, TEXT_MOST, refuse_large_file
from hangar.store.workbooks import refuse_bomb

_NS = "{urn:oasis:names:tc:opendocument:xmlns:"
_TABLE, _OFFICE, _TEXT, _STYLE = (
    f"{_NS}table:1.0}}",
    f"{_NS}office:1.0}}",
    f"{_NS}text:1.0}}",
    f"{_NS}style:1.0}}",
)


def read_open_document(path: Path) -> list[Grid]:
    """The tabs of an .ods file.

    Raises: BadInput naming the file when it is too large, broken, locked by a password or no spreadsheet.
    """
    refuse_large_file(path)
    try:
        refuse_bomb(path)
        with zipfile.ZipFile(path) as archive, archive.open("content.xml") as content:
            return list(_tabs(path.name, content))
    except (BadInput, OSError):
        raise
    except (
        ParseError,
        zipfile.BadZipFile,
        KeyError,
        ValueError,
        RuntimeError,
        EOFError,
        zlib.error,
    ) as fault:
        words = str(fault).splitlines()[0][:200] if str(fault).strip() else type(fault).__name__
        raise BadInput("{file} is no readable workbook: {fault}.", file=path.name, fault=words) from fault


def _tabs(name: str, content: IO[bytes]) -> Iterator[Grid]:
    struck: set[str] = set()
    reader: _Tab | None = None
    depth = 0
    for event, element in iterparse(content, ("start", "end")):  # noqa: S314  refused before where it declares entities
        if event == "start":
            if element.tag == f"{_TABLE}table":
                depth += 1
                if depth == 1:
                    reader = _Tab(Grid(name, element.get(f"{_TABLE}name", "")), struck)
            continue
        if element.tag == f"{_STYLE}style":
            _note_style(element, struck)
        elif element.tag == f"{_TABLE}table":
            depth -= 1
            if depth == 0 and reader is not None:
                yield reader.grid
            element.clear()
        elif element.tag == f"{_TABLE}table-column" and reader is not None:
            reader.column(element)
        elif element.tag == f"{_TABLE}table-row" and reader is not None and depth == 1:
            reader.row(element)
            element.clear()


def _note_style(element: Element, struck: set[str]) -> None:
    for part in element.iter(f"{_STYLE}text-properties"):
        if part.get(f"{_STYLE}text-line-through-style", "none") != "none":
            struck.add(element.get(f"{_STYLE}name", ""))


class _Tab:
    """Takes the rows of one tab as they come; repeats are counted before anything is stored."""

    def __init__(self, grid: Grid, struck: set[str]) -> None:
        self.grid = grid
        self._struck = struck
        self._row = 0
        self._cells = 0
        self._columns = 0
        self._hidden_columns: set[int] = set()

    def column(self, element: Element) -> None:
        times = min(_repeat(element, "columns"), COLUMNS_MOST)
        if element.get(f"{_TABLE}visibility", "visible") != "visible":
            self._hidden_columns |= set(range(self._columns + 1, self._columns + times + 1))
        self._columns += times

    def row(self, element: Element) -> None:
        times = _repeat(element, "rows")
        hidden = element.get(f"{_TABLE}visibility", "visible") != "visible"
        made = self._cells_of(element, hidden)
        if made:
            for again in range(times):
                self._check(self._row + again + 1, 0, len(made))
                for column, cell in made:
                    copy = Cell(self._row + again + 1, column, cell.text, cell.value, cell.is_formula)
                    copy.struck, copy.hidden, copy.comment, copy.formula = (
                        cell.struck, cell.hidden, cell.comment, cell.formula,
                    )  # fmt: skip
                    self.grid.put(copy)
        self._row += times

    def _check(self, row: int, column: int, more: int) -> None:
        self._cells += more
        if row > ROWS_MOST or column > COLUMNS_MOST or self._cells > CELLS_MOST:
            raise BadInput(
                "{file} is too large at row {row}; allowed are {rows} rows, {columns} columns"
                " and {cells} cells.",
                file=f"{self.grid.file} [{self.grid.tab}]",
                row=row,
                rows=ROWS_MOST,
                columns=COLUMNS_MOST,
                cells=CELLS_MOST,
            )

    def _cells_of(self, element: Element, hidden: bool) -> list[tuple[int, Cell]]:
        made: list[tuple[int, Cell]] = []
        column = 0
        for part in element:
            if part.tag not in (f"{_TABLE}table-cell", f"{_TABLE}covered-table-cell"):
                continue
            times = _repeat(part, "columns")
            cell = _cell(part) if part.tag == f"{_TABLE}table-cell" else None
            if cell is not None:
                self._check(self._row + 1, column + times, 0)
                cell.hidden = hidden
                cell.struck = part.get(f"{_TABLE}style-name", "") in self._struck or cell.struck
                for at in range(column + 1, column + times + 1):
                    cell.hidden = hidden or at in self._hidden_columns
                    made.append((at, cell))
                self._merge(part, column + 1)
            column += times
        return made

    def _merge(self, part: Element, column: int) -> None:
        down = int(part.get(f"{_TABLE}number-rows-spanned", "1"))
        across = int(part.get(f"{_TABLE}number-columns-spanned", "1"))
        if (down > 1 or across > 1) and down <= ROWS_MOST and across <= COLUMNS_MOST:
            row = self._row + 1
            self.grid.merges.append(Merge(row, column, row + down - 1, column + across - 1))


def _repeat(element: Element, what: str) -> int:
    return max(1, int(element.get(f"{_TABLE}number-{what}-repeated", "1")))


def _cell(part: Element) -> Cell | None:
    words = "\n".join("".join(_words(line)) for line in part.findall(f"{_TEXT}p")).strip()[:TEXT_MOST]
    formula = part.get(f"{_TABLE}formula", "")
    value = _value(part, words)
    if not words and value is None and not formula:
        return None
    note = part.find(f"{_OFFICE}annotation")
    comment = (
        " ".join("".join(line.itertext()) for line in note.findall(f"{_TEXT}p")) if note is not None else ""
    )
    shown = words or ("" if value is None else str(value))
    return Cell(0, 0, shown or formula, value, bool(formula), comment=comment, formula=formula)


def _words(line: Element) -> Iterator[str]:
    if line.tag == f"{_TEXT}s":
        yield " " * min(int(line.get(f"{_TEXT}c", "1")), 100)
    yield line.text or ""
    for part in line:
        yield from _words(part)
        yield part.tail or ""


def _value(part: Element, words: str) -> Value:
    kind = part.get(f"{_OFFICE}value-type")
    if kind in ("float", "percentage", "currency"):
        number = float(part.get(f"{_OFFICE}value", "nan"))
        return int(number) if number.is_integer() and abs(number) < 1e15 else number
    if kind == "date":
        written = part.get(f"{_OFFICE}date-value", "")[:19]
        return (
            datetime.fromisoformat(written).replace(tzinfo=None)
            if "T" in written
            else date.fromisoformat(written)
        )
    return words or None
