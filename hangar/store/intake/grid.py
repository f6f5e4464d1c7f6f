"""The cells of a sheet as they lie in a file, each with its place and its marks."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import date, datetime, time

Value = str | int | float | bool | date | datetime | time | None


@dataclass(slots=True)
class Cell:
    """One cell that holds anything; ``row`` and ``column`` count from 1 as a spreadsheet does.

    ``text`` is what the keeper sees. ``is_formula`` marks a cell whose content is worked out;
    ``value`` is None there when the file does not hold the result.
    """

    row: int
    column: int
    text: str
    value: Value
    is_formula: bool = False
    struck: bool = False
    hidden: bool = False
    comment: str = ""
    formula: str = ""

    @property
    def is_unworked(self) -> bool:
        """Whether it is a formula of which the file does not tell the result."""
        return self.is_formula and self.value is None


@dataclass(frozen=True, slots=True)
class Merge:
    """A merged area, its corners included."""

    top: int
    left: int
    bottom: int
    right: int


@dataclass(slots=True)
class Grid:
    """One tab, or a text file whole; ``tab`` is "" for a text file."""

    file: str
    tab: str
    cells: dict[tuple[int, int], Cell] = field(default_factory=dict)
    merges: list[Merge] = field(default_factory=list)
    is_transposed: bool = False

    @property
    def height(self) -> int:
        """The number of the last row that holds anything."""
        return max((row for row, _ in self.cells), default=0)

    @property
    def width(self) -> int:
        """The number of the last column that holds anything."""
        return max((column for _, column in self.cells), default=0)

    def put(self, cell: Cell) -> None:
        """Keep a cell."""
        self.cells[cell.row, cell.column] = cell

    def rows(self) -> Iterator[tuple[int, dict[int, Cell]]]:
        """Every row from the first to the last with its cells by column; a blank one is empty."""
        by_row: dict[int, dict[int, Cell]] = {}
        for (row, column), cell in sorted(self.cells.items()):
            by_row.setdefault(row, {})[column] = cell
        for row in range(1, self.height + 1):
            yield row, by_row.get(row, {})

    def transposed(self) -> Grid:
        """The same cells with rows and columns exchanged; each cell keeps its own place in the file."""
        turned = Grid(self.file, self.tab, is_transposed=not self.is_transposed)
        turned.cells = {(column, row): cell for (row, column), cell in self.cells.items()}
        turned.merges = [Merge(merge.left, merge.top, merge.right, merge.bottom) for merge in self.merges]
        return turned
