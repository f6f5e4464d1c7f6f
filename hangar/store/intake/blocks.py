"""Which rows of a grid are headings, data, totals, sections and remarks; which way round it lies."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from functools import lru_cache
from itertools import pairwise

from hangar.store.intake.figures import figures, heading_unit
from hangar.store.intake.grid import Cell, Grid
from hangar.store.intake.phrases import is_ditto
from hangar.store.intake.vocabulary import lexicon, tokens, unit_squeezed, units_of

_RULER = re.compile(r"[-=_*~.#\s]{3,}")
_SUMMING = re.compile(
    r"\b(?:of:)?=?(?:SUM|COUNTA?|AVERAGE|SUMME|ANZAHL2?|MITTELWERT|SOMME|NB|NBVAL|MOYENNE|SOMMA|CONTA\w*|MEDIA|SOM|AANTAL\w*|GEMIDDELDE|SUMA|CONTAR\w*|PROMEDIO|CONTA\.VALORI)\b",
    re.IGNORECASE,
)
_NUMBERED = re.compile(r"^\D{0,20}?[\s.]*(\d{1,2})\s*$")
_TURNED_MOST = 300
"""A list that lies on its side has no more rows than this: they are its fields."""

_DIMENSIONS = ("torque", "speed", "volts", "length", "mass", "charge", "current")


class RowClass(StrEnum):
    """What a row is."""

    DATA = "data"
    TOTAL = "total"
    RULER = "ruler"
    SECTION = "section"
    REMARK = "remark"
    FACT = "fact"


@dataclass(slots=True)
class Row:
    """One row of a block: its class, and the section it stands under ("gone", "todo", "wish" or "")."""

    number: int
    cells: Mapping[int, Cell]
    row_class: RowClass = RowClass.DATA
    section: str = ""
    carried: Cell | None = None
    """The cell of the section line whose words name the aircraft of this row."""


@dataclass(slots=True)
class Block:
    """A table within a grid: the rows of its headings, and the rows below up to the next headings."""

    grid: Grid
    heading_rows: tuple[int, ...]
    headings: dict[int, tuple[Cell | None, Cell | None]]
    """For each column the cell of the upper heading (a group's) and of its own."""

    rows: list[Row] = field(default_factory=list)
    above: list[Row] = field(default_factory=list)
    """Titles, legends and facts between the table before and this one."""

    def heading(self, column: int) -> str:
        """The heading of a column as the keeper wrote it."""
        upper, lower = self.headings.get(column, (None, None))
        cell = lower or upper
        return cell.text if cell is not None else ""

    def group(self, column: int) -> str:
        """The heading above the heading."""
        upper, lower = self.headings.get(column, (None, None))
        return upper.text if upper is not None and lower is not None else ""


@lru_cache(maxsize=10_000)
def heading_strength(text: str) -> float:
    """How much of a text is words that stand above columns, 0 to 1."""
    if len(text) > 60 or not text.strip() or is_ditto(text):
        return 0.0
    if is_bare_unit(text) or channel_of_heading(text) is not None:
        return 1.0
    words = tokens(text)
    if not words or text.lstrip()[0].isdigit():
        return 0.0
    known = sum({hit.start: hit.words for hit in lexicon("roles").find(text)}.values())
    if not known:
        return _mistyped(words)
    with_unit = any(heading_unit(text, dimension) for dimension in _DIMENSIONS)
    numbers = sum(token.word.isdigit() for token in words)
    return min(1.0, (known + with_unit) / max(1, len(words) - numbers))


def is_bare_unit(text: str) -> bool:
    """Whether a text is nothing but a unit, with volts perhaps: "oz-in", "kg@4,8"."""
    bare = (
        re.sub(
            r"(?:(?:@|bei|at|à|bij|a|con)\s*|\s+)\d[.,]?\d*\s*[vV]?\s*$|\d[.,]?\d*\s*[vV]\s*$",
            "",
            text.strip(),
        )
        if not re.search(r"/\s*\d\d", text)
        else text
    )
    plain = unit_squeezed(bare) or unit_squeezed(text)
    return any(plain in units_of(dimension) for dimension in ("torque", "speed", "volts", "current"))


def channel_of_heading(text: str) -> int | None:
    """The channel whose column a heading stands above: "K1", "Canal 3", "Ch. 4"."""
    match = _NUMBERED.match(text)
    if match is None or not 1 <= int(match[1]) <= 32:
        return None
    head = text[: match.start(1)].strip(" .#-:")
    return int(match[1]) if head and lexicon("roles").is_wholly(head, "channel") else None


def _mistyped(words: tuple[object, ...]) -> float:
    return 0.6 if len(words) == 1 and lexicon("roles").like(words[0].word) else 0.0  # type: ignore[attr-defined]


def _is_figure(cell: Cell) -> bool:
    if cell.is_formula or not isinstance(cell.value, str):
        return True
    values = figures(cell.text)
    return bool(values) and values[0].start == 0 and len(values[0].after) < 8


def heading_score(cells: Mapping[int, Cell]) -> float:
    """How many more cells of a row are headings than are anything else; below 2 it is no row of headings."""
    seen: dict[int, Cell] = {id(cell): cell for cell in cells.values()}
    filled = list(seen.values())
    if len(filled) < 2:
        return 0.0
    figures_there = sum(_is_figure(cell) and not heading_unit(cell.text, "volts") for cell in filled)
    if figures_there > 0.2 * len(filled):
        return 0.0
    strong = [
        cell
        for cell in filled
        if not _is_figure(cell) and (heading_strength(cell.text) >= 0.5 or _is_work(cell))
    ]
    named = [cell for cell in strong if heading_strength(cell.text) >= 0.5]
    if len(filled) == 2 and any(lexicon("roles").is_wholly(filled[0].text, name) for name in FACT_ROLES[:5]):
        return 0.0
    if len(named) < 2 or len(strong) < 0.55 * len(filled):
        return 0.0
    return len(strong) - 0.5 * (len(filled) - len(strong))


def _is_work(cell: Cell) -> bool:
    """Whether a cell is wholly the name of a function: a heading where columns are functions."""
    count = len(tokens(cell.text))
    return (
        count > 0
        and sum({hit.start: hit.words for hit in lexicon("functions").find(cell.text)}.values()) == count
    )


def oriented(grid: Grid) -> Grid:
    """The grid with its headings across the top, turned where they run down the side."""
    if grid.height > _TURNED_MOST:
        return grid
    turned = grid.transposed()
    upright = max((_heading_rank(cells) for _, cells in _spread(grid)), default=0.0)
    lying = max((_heading_rank(cells) for _, cells in list(_spread(turned))[:3]), default=0.0)
    return turned if lying > max(2.0, 1.2 * upright) else grid


def _heading_rank(cells: Mapping[int, Cell]) -> float:
    """How many different headings a row holds; names of functions stand in columns of data too."""
    if heading_score(cells) < 2:
        return 0.0
    texts = {cell.text: cell for cell in cells.values()}
    named = [text for text in texts if heading_strength(text) >= 0.5]
    return len(named) + 0.3 * sum(_is_work(cell) for text, cell in texts.items() if text not in named)


def _spread(grid: Grid) -> list[tuple[int, dict[int, Cell]]]:
    """The rows with merged cells counting for their whole area."""
    rows = {number: dict(cells) for number, cells in grid.rows()}
    for merge in grid.merges:
        corner = grid.cells.get((merge.top, merge.left))
        if corner is None or (merge.bottom - merge.top + 1) * (merge.right - merge.left + 1) > 5_000:
            continue
        for row in range(merge.top, merge.bottom + 1):
            for column in range(merge.left, merge.right + 1):
                rows.setdefault(row, {}).setdefault(column, corner)
    return sorted(rows.items())


def segmented(grid: Grid, language: str) -> tuple[list[Block], list[Row]]:
    """The tables of a grid, and the rows that belong to none."""
    rows = _spread(grid)
    starts = _heading_rows(rows)
    blocks: list[Block] = []
    loose: list[Row] = []
    at = 0
    while at < len(rows):
        number, cells = rows[at]
        span = starts.get(number)
        if span:
            block = Block(grid, span, _headings(dict(rows), span), above=loose)
            blocks.append(block)
            loose = []
            at += len(span)
            continue
        if cells:
            row = Row(number, cells)
            if blocks:
                blocks[-1].rows.append(row)
            else:
                loose.append(row)
        elif blocks:
            blocks[-1].rows.append(Row(number, {}))
        at += 1
    for this, following in pairwise(blocks):
        _hand_over_titles(this, following)
    for block in blocks:
        _classify(block, language)
        block.rows = [row for row in block.rows if row.cells]
    return blocks, loose


def _hand_over_titles(this: Block, following: Block) -> None:
    """Single lines right above a row of headings are the title of the table that begins there."""
    moved: list[Row] = []
    while this.rows and (
        not this.rows[-1].cells or len({id(cell) for cell in this.rows[-1].cells.values()}) <= 1
    ):
        row = this.rows.pop()
        if row.cells:
            moved.insert(0, row)
        elif moved:
            break
    facts: list[Row] = []
    while moved and this.rows and _is_fact(this.rows[-1]):
        facts.insert(0, this.rows.pop())
    following.above = [*facts, *moved]


def _heading_rows(rows: list[tuple[int, dict[int, Cell]]]) -> dict[int, tuple[int, ...]]:
    """The rows of headings, each with the second one that belongs to it."""
    scores = {number: heading_score(cells) for number, cells in rows}
    by_number = dict(rows)
    heading_rows: dict[int, tuple[int, ...]] = {}
    taken: set[int] = set()
    for number, _ in rows:
        if scores[number] < 2 or number in taken:
            continue
        span: tuple[int, ...] = (number,)
        if scores.get(number + 1, 0) >= 2:
            span = (number, number + 1)
        elif _is_group_row(by_number.get(number - 1, {}), by_number[number]) and number - 1 not in taken:
            span = (number - 1, number)
        taken |= set(span)
        heading_rows[span[0]] = span
    return heading_rows


def _is_group_row(upper: Mapping[int, Cell], lower: Mapping[int, Cell]) -> bool:
    filled = {id(cell): cell for cell in upper.values()}
    if len(filled) < 2 or not set(upper) <= set(lower) | {max(lower, default=0) + 1}:
        return False
    fitting = [
        cell
        for cell in filled.values()
        if heading_strength(cell.text) >= 0.5 or heading_unit(cell.text, "volts")
    ]
    return len(fitting) >= max(2, 0.5 * len(filled))


def _headings(
    rows: dict[int, dict[int, Cell]], span: tuple[int, ...]
) -> dict[int, tuple[Cell | None, Cell | None]]:
    lower = rows[span[-1]]
    if len(span) == 1:
        return {column: (None, cell) for column, cell in lower.items()}
    upper = rows[span[0]]
    headings: dict[int, tuple[Cell | None, Cell | None]] = {}
    last: Cell | None = None
    for column in range(1, max([*lower, *upper]) + 1):
        last = upper.get(column, last if column in lower else None)
        if column in lower or column in upper:
            headings[column] = (last if column in lower else upper.get(column), lower.get(column))
    return headings


def _classify(block: Block, language: str) -> None:
    section, carried = "", None
    for at, row in enumerate(block.rows):
        if not row.cells:
            continue
        row.row_class, begins = _class_of(row, block, at, language)
        if row.row_class is RowClass.SECTION:
            section = begins
            only = next(iter(row.cells.values()))
            carried = only if not begins else None
        row.section, row.carried = section, carried


def _class_of(row: Row, block: Block, at: int, language: str) -> tuple[RowClass, str]:
    cells = list({id(cell): cell for cell in row.cells.values()}.values())
    if all(_RULER.fullmatch(cell.text) for cell in cells) and any(len(cell.text) >= 3 for cell in cells):
        return RowClass.RULER, ""
    if _is_total(cells, block, language):
        return RowClass.TOTAL, ""
    lex = lexicon("words")
    if len(cells) == 1 and not is_ditto(cells[0].text):
        text = cells[0].text
        for meaning in ("todo", "wish", "gone"):
            if lex.begins(text, meaning) and len(tokens(text)) <= 8:
                return RowClass.SECTION, meaning
        if _is_name_above(text, block, at):
            return RowClass.SECTION, ""
        # A single cell below a list of things to do is one of them.
        return RowClass.REMARK, ""
    if _is_fact(row):
        return RowClass.FACT, ""
    return RowClass.DATA, ""


def _is_name_above(text: str, block: Block, at: int) -> bool:
    """Whether the only words of a row may name the aircraft of the rows below."""
    below = next((row for row in block.rows[at + 1 : at + 3] if row.cells), None)
    if below is None or len({id(cell) for cell in below.cells.values()}) < 2:
        return False
    return (
        len(tokens(text)) <= 7
        and not re.search(r"[.:!?]\s*\w+\s+\w+\s+\w+", text)
        and not text.startswith("#")
    )


def _is_total(cells: list[Cell], block: Block, language: str) -> bool:
    lex = lexicon("words")
    first = cells[0].text
    few = len(cells) <= max(3, len(block.headings) // 3)
    if any(cell.is_formula and _SUMMING.search(cell.formula) for cell in cells) and (
        few or lex.begins(first, "total")
    ):
        return True
    if lex.begins(first, "total") or (len(cells) > 1 and lex.begins(cells[1].text, "total") and few):
        others = cells[1:]
        return few or all(_is_figure(cell) for cell in others)
    return len(cells) == 1 and bool(re.fullmatch(r"\d+\s+\w+", first)) and lex.means(first, "servo", language)


def _is_fact(row: Row) -> bool:
    cells = list({id(cell): cell for cell in row.cells.values()}.values())
    if len(cells) != 2 or _is_figure(cells[0]):
        return False
    meanings = lexicon("roles").meanings(cells[0].text.rstrip(":"))
    wholly = any(lexicon("roles").is_wholly(cells[0].text.rstrip(":"), name) for name in FACT_ROLES)
    return wholly and bool(set(meanings) & set(FACT_ROLES))


FACT_ROLES = ("span", "mass", "power", "class", "regulator", "pack", "fitted", "notes", "aircraft", "owner")
"""What a line of two cells may say of the aircraft of its tab."""
