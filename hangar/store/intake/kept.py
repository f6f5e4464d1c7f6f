"""A sheet packed into text, so that its next copy can be held against it."""

from __future__ import annotations

import base64
import json
import zlib
from collections.abc import Iterable
from datetime import date, datetime, time
from typing import Any

from hangar.store.intake.grid import Cell, Grid, Merge, Value
from hangar.store.intake.reading import Reading
from hangar.store.intake.vocabulary import squeezed

_PART = 30_000
_MOST = 100_000_000
_ALIKE = 0.8


def packed(grids: Iterable[Grid]) -> list[str]:
    """The cells of a file as a few pieces of text."""
    data = [
        {
            "file": grid.file, "tab": grid.tab,
            "merges": [[merge.top, merge.left, merge.bottom, merge.right] for merge in grid.merges],
            "cells": [_as_list(cell) for cell in grid.cells.values()],
        }
        for grid in grids
    ]  # fmt: skip
    whole = base64.b85encode(zlib.compress(json.dumps(data, ensure_ascii=False).encode(), 9)).decode()
    return [whole[at : at + _PART] for at in range(0, len(whole), _PART)]


def unpacked(parts: Iterable[str]) -> list[Grid]:
    """The grids that :func:`packed` made text of; empty where the text is damaged."""
    try:
        made = zlib.decompressobj().decompress(base64.b85decode("".join(parts)), _MOST)
        data = json.loads(made)
        return [_grid(grid_data) for grid_data in data]
    except (ValueError, zlib.error, KeyError, TypeError):
        return []


def fingerprint(reading: Reading) -> str:
    """The headings of a file's tables, by which its next copy is known."""
    words = {squeezed(column.heading) for table in reading.tables for column in table.columns.values()}
    return " ".join(sorted(words - {""}))


def is_alike(name: str, other: str) -> bool:
    """Whether two fingerprints are of copies of one sheet: four of five headings are the same.

    >>> is_alike("ch model servo", "ch model servo"), is_alike("ch model servo", "akku volt")
    (True, False)
    """
    mine, yours = set(name.split()), set(other.split())
    return bool(mine) and len(mine & yours) >= _ALIKE * max(len(mine), len(yours))


def _as_list(cell: Cell) -> list[Any]:
    value = {"d": cell.value.isoformat()} if isinstance(cell.value, date | time) else cell.value
    plain = [cell.row, cell.column, cell.text, None if value == cell.text else value]
    marks = [cell.value is not None, cell.is_formula, cell.struck, cell.formula, cell.comment]
    return plain if marks == [True, False, False, "", ""] else plain + marks


def _value(kept: Any) -> Value:
    if isinstance(kept, dict):
        text = str(kept["d"])
        return datetime.fromisoformat(text) if "T" in text else date.fromisoformat(text)
    return kept  # type: ignore[no-any-return]


def _grid(data: dict[str, Any]) -> Grid:
    grid = Grid(data["file"], data["tab"])
    grid.merges = [Merge(*corners) for corners in data["merges"]]
    for row, column, text, value, *marks in data["cells"]:
        cell = Cell(row, column, text, text if value is None else _value(value))
        if marks:
            if not marks[0]:
                cell.value = None
            cell.is_formula, cell.struck, cell.formula, cell.comment = marks[1:]
        grid.put(cell)
    return grid
