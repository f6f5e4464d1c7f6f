"""XLSX workbooks as grids, with their marks: struck out, hidden, merged, comments, formulas, results."""

from __future__ import annotations

from datetime import date, datetime, time
from pathlib import Path
from typing import Any

from hangar.base.errors import BadInput
from hangar.store.cells import write_cell
from hangar.store.intake.grid import Cell, Grid, Merge, Value
from hangar.store.limits import CELLS_MOST, COLUMNS_MOST, ROWS_MOST, TEXT_MOST
from hangar.store.workbooks import guarded


def read_workbook_grids(path: Path) -> list[Grid]:
    """The tabs of a workbook.

    Raises: BadInput naming the file when it is too large, broken, locked by a password or no workbook.
    """
    with guarded(path) as load:
        grids = [_grid(path.name, tab) for tab in load().worksheets]
        if any(cell.is_formula for grid in grids for cell in grid.cells.values()):
            for grid, tab in zip(grids, load(read_only=True, data_only=True).worksheets, strict=False):
                _take_results(grid, tab)
    return grids


def _grid(name: str, tab: Any) -> Grid:
    grid = Grid(name, tab.title)
    rows = {at for at, line in tab.row_dimensions.items() if line.hidden}
    columns = _hidden_columns(tab)
    struck: dict[int, bool] = {}
    # The sheet is kept as a table of the cells that are there: a lone far cell costs nothing.
    for number, ((row, column), source) in enumerate(tab._cells.items(), start=1):
        if row > ROWS_MOST or column > COLUMNS_MOST or number > CELLS_MOST:
            raise BadInput(
                "{file} is too large at row {row}; allowed are {rows} rows, {columns} columns"
                " and {cells} cells.",
                file=f"{name} [{tab.title}]",
                row=row,
                rows=ROWS_MOST,
                columns=COLUMNS_MOST,
                cells=CELLS_MOST,
            )
        value = source.value
        if value is None:
            continue
        cell = _cell(row, column, source, value)
        if cell is None:
            continue
        style = source._style.fontId
        if style not in struck:
            struck[style] = bool(source.font and source.font.strike)
        cell.struck = struck[style]
        cell.hidden = row in rows or column in columns
        cell.comment = source.comment.text if source.comment else ""
        grid.put(cell)
    grid.merges = [
        Merge(merged.min_row, merged.min_col, merged.max_row, merged.max_col)
        for merged in tab.merged_cells.ranges
    ]
    return grid


def _hidden_columns(tab: Any) -> set[int]:
    return {
        at
        for line in tab.column_dimensions.values()
        if line.hidden
        for at in range(line.min or 0, min(line.max or 0, COLUMNS_MOST) + 1)
    }


def _cell(row: int, column: int, source: Any, value: Any) -> Cell | None:
    if source.data_type == "f":
        formula = str(getattr(value, "text", value))[:TEXT_MOST]
        return Cell(row, column, formula, None, True, formula=formula)
    plain = _plain(value)
    text = (plain if isinstance(plain, str) else write_cell(plain)).strip()[:TEXT_MOST]
    return Cell(row, column, text, text if isinstance(plain, str) else plain) if text else None


def _plain(value: Any) -> Value:
    if isinstance(value, datetime):
        return value.date() if value.time() == time() else value
    if isinstance(value, str | bool | int | float | date | time):
        return value
    return str(value)


def _take_results(grid: Grid, tab: Any) -> None:
    tab.reset_dimensions()
    wanted = {key for key, cell in grid.cells.items() if cell.is_formula}
    last = max(row for row, _ in wanted) if wanted else 0
    for row in tab.iter_rows(max_row=last, values_only=False):
        for source in row:
            key = (getattr(source, "row", 0), getattr(source, "column", 0))
            if key in wanted and source.value is not None:
                cell = grid.cells[key]
                cell.value = _plain(source.value)
                cell.text = write_cell(cell.value).strip() or cell.text
