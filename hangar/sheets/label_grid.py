"""Label sheets by their measures: where each label lies on the paper."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import cache

from hangar.base.errors import BadInput
from hangar.base.places import resources_dir
from hangar.base.text import series
from hangar.sheets.style import MARGIN_MM, PAPERS_MM, SheetStyle

_EDGE_MM = 4.5
"""White that a usual printer leaves at the edge of the paper."""


@dataclass(frozen=True, kw_only=True)
class LabelGrid:
    """Labels of one size in columns and rows; ``cut_lines`` are drawn on plain paper."""

    paper: str
    columns: int
    rows: int
    width_mm: float
    height_mm: float
    left_mm: float
    top_mm: float
    step_x_mm: float
    step_y_mm: float
    cut_lines: bool = False

    @property
    def count(self) -> int:
        """Labels on one page."""
        return self.columns * self.rows

    @property
    def inset_mm(self) -> float:
        """White inside each label; on a sheet without margins so much that a printer reaches every word."""
        least = 0.8 if self.height_mm < 15.0 else 1.6
        return max(least, _EDGE_MM - self.left_mm, _EDGE_MM - self.top_mm)

    @property
    def room_mm(self) -> tuple[float, float]:
        """Width and height inside the white of a label."""
        return self.width_mm - 2 * self.inset_mm, self.height_mm - 2 * self.inset_mm

    @property
    def size_words(self) -> str:
        """Size of one label: ``63.5 x 38.1 mm``."""
        return f"{self.width_mm:.4g} x {self.height_mm:.4g} mm"

    def corner(self, number: int) -> tuple[float, float]:
        """Upper left corner of a label of a page, counted from 0 along the rows."""
        row, column = divmod(number, self.columns)
        return self.left_mm + column * self.step_x_mm, self.top_mm + row * self.step_y_mm


@cache
def label_grids() -> dict[str, LabelGrid]:
    """The label sheets known by name."""
    rows = tomllib.loads((resources_dir() / "label_sheets.toml").read_text("utf-8"))
    return {name: LabelGrid(**row) for name, row in rows.items()}


def grid_for(style: SheetStyle) -> LabelGrid:
    """The label sheet chosen, or labels to cut from plain paper.

    Raises: BadInput for an unknown sheet, one of another paper, or a first label that is not on it.
    """
    grid = _named(style) if style.label_grid else _plain(style.paper)
    if not 1 <= style.label_start <= grid.count:
        raise BadInput(
            "the first free label is {first}; the sheet has labels 1 to {count}.",
            first=style.label_start,
            count=grid.count,
        )
    return grid


def _named(style: SheetStyle) -> LabelGrid:
    grids = label_grids()
    if style.label_grid not in grids:
        raise BadInput(
            "'{found}' is no label sheet; allowed is {grids}.",
            found=style.label_grid,
            grids=series(grids, ","),
        )
    grid = grids[style.label_grid]
    if grid.paper != style.paper:
        raise BadInput(
            "label sheet {grid} is {paper}; the paper chosen is {chosen}.",
            grid=style.label_grid,
            paper=grid.paper,
            chosen=style.paper,
        )
    return grid


def _plain(paper: str) -> LabelGrid:
    page_width, page_height = PAPERS_MM[paper]
    columns, height = 3, 34.0
    width = (page_width - 2 * MARGIN_MM) / columns
    rows = int((page_height - 2 * MARGIN_MM) // height)
    return LabelGrid(
        paper=paper, columns=columns, rows=rows, width_mm=width, height_mm=height, left_mm=MARGIN_MM,
        top_mm=MARGIN_MM, step_x_mm=width, step_y_mm=height, cut_lines=True,
    )  # fmt: skip
