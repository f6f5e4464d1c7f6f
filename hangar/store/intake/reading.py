"""Reads the tables of a file: from grids to facts, with an account of every cell."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date

from hangar.base.text import Text, text
from hangar.store.intake.account import About, Account, Answer
from hangar.store.intake.blocks import Block, Row, RowClass, oriented, segmented
from hangar.store.intake.columns import Column, columns_of, unit_of_text
from hangar.store.intake.context import Context, TableReader
from hangar.store.intake.days import read_day
from hangar.store.intake.facts import Facts, Plane
from hangar.store.intake.figures import heading_unit
from hangar.store.intake.grid import Grid
from hangar.store.intake.other_rows import FleetRows, PackLog
from hangar.store.intake.planes import settle_planes
from hangar.store.intake.seat_reader import SeatReader
from hangar.store.intake.servo_rows import ServoRows
from hangar.store.intake.stock_rows import StockRows, TypeRows
from hangar.store.intake.titles import fact_or_title, name_in_titles, read_above
from hangar.store.intake.types import SheetType, settle_ratings, settle_types
from hangar.store.intake.vocabulary import language_of, lexicon, tokens

_LANGUAGE_CELLS = 3_000
_COMMON_TABS = re.compile(
    r"(?:sheet|tabelle|feuil|feuille|foglio|blad|hoja|tab|table|servos?|sheet)?\s*\d*", re.IGNORECASE
)


@dataclass(frozen=True, slots=True)
class KnownFleet:
    """What the fleet has already, as far as a reading goes by it."""

    makers: Mapping[str, str] = field(default_factory=dict)
    """Makers of servo types by squeezed type."""
    torques_nm: Mapping[tuple[str, float], float] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Answers:
    """What the keeper said of the sheet: roles of columns by heading, the order of days, units, classes."""

    columns: Mapping[str, str] = field(default_factory=dict)
    order: str = ""
    torque_unit: str = ""
    classes: Mapping[str, str] = field(default_factory=dict)
    replies: Mapping[str, str] = field(default_factory=dict)
    """Answers to any other question, by its key."""

    @property
    def are_none(self) -> bool:
        """Whether nothing was said."""
        return self == Answers()


@dataclass(slots=True)
class TableRead:
    """One table as it was understood."""

    block: Block
    kind: str
    columns: dict[int, Column]


@dataclass(slots=True)
class Reading:
    """All that a file says, with what became of every cell."""

    grids: list[Grid]
    account: Account
    facts: Facts
    types: dict[str, SheetType]
    language: str
    order: str
    tables: list[TableRead] = field(default_factory=list)
    answers: Answers = field(default_factory=Answers)


def read_file(
    grids: Iterable[Grid], today: date, known: KnownFleet = KnownFleet(), answers: Answers = Answers()
) -> Reading:
    """The reading of a file that explains it best, with questions for what is not sure.

    The same grids, day, fleet and answers give the same reading.
    """
    every = list(grids)
    account = Account(every, answers.replies)
    some = [cell.text for grid in every for cell in list(grid.cells.values())[:_LANGUAGE_CELLS]]
    context = Context(
        account, Facts(), language_of(some), today, classes=answers.classes, aliases=_aliases(answers.replies)
    )
    tables = _tables(every, context, answers)
    _take_legends(tables, context)
    context.order = answers.order or _order_of_days(tables, context)
    if answers.torque_unit and (unit := heading_unit(answers.torque_unit, "torque")):
        context.units["torque"] = unit
    for grid_tables, plain in _by_grid(tables, every):
        _read_grid(grid_tables, plain, context, len(every) > 1)
    types = settle_types(context.facts, account, known.makers)
    settle_ratings(context.facts, account, types, known.torques_nm)
    _fit_log_packs(context)
    settle_planes(context.facts.planes.values(), account, answers.classes)
    account.close()
    account.has_tables = any(isinstance(table, TableRead) and table.kind for table in tables)
    return Reading(
        every,
        account,
        context.facts,
        types,
        context.language,
        context.order,
        [table for table in tables if isinstance(table, TableRead)],
        answers,
    )


def _aliases(answers: Mapping[str, str]) -> dict[str, str]:
    """Names that the keeper called those of one aircraft: the later one and the one it goes by."""
    asked = f"{About.NAME}:"
    pairs = (
        key.removeprefix(asked).partition("/") for key, answer in answers.items()
        if key.startswith(asked) and answer == Answer.ONE_AIRCRAFT
    )  # fmt: skip
    return {other: name for name, _, other in pairs}


def _tables(
    grids: list[Grid], context: Context, answers: Answers
) -> list[TableRead | tuple[Grid, list[Row]]]:
    tables: list[TableRead | tuple[Grid, list[Row]]] = []
    for grid in grids:
        turned = oriented(grid)
        blocks, loose = segmented(turned, context.language)
        for block in blocks:
            _repair_shifts(block)
            columns = columns_of(block, context.language, answers.columns)
            tables.append(TableRead(block, _kind(columns), columns))
        if not blocks:
            tables.append((grid, loose))
    return tables


def _repair_shifts(block: Block) -> None:
    """A row that stands in a column without heading, empty in every other row, is one place too far left."""
    data = [row for row in block.rows if row.row_class is RowClass.DATA]
    for spacer in range(1, max(block.headings, default=0)):
        if spacer in block.headings:
            continue
        inside = [row for row in data if spacer in row.cells]
        if inside and len(inside) <= 0.2 * len(data):
            for row in inside:
                row.cells = {at + (at >= spacer): cell for at, cell in row.cells.items()}


def _kind(columns: Mapping[int, Column]) -> str:
    roles = {column.role for column in columns.values()}
    outputs = sum(column.role in ("output", "work") for column in columns.values())
    measured = roles & {"rest", "loaded", "load", "measured", "tested", "resistance"}
    is_servo = roles & {"servo", "model"}
    if len(measured) >= 2 and roles & {"tag", "pack"} and not roles & {"function", "channel"}:
        return "log"
    if outputs >= 2 and not roles & {"function", "channel"}:
        return "fleet"
    if "count" in roles and roles & {"description", "servo", "model"} and not roles & {"function", "channel"}:
        return "stock"
    if is_servo and roles & {"function", "channel", "aircraft", "place", "tag"}:
        return "servos"
    if roles & {"function"} and roles & {"channel", "fitted"}:
        return "servos"
    if is_servo and roles & {"torque", "speed", "drive"}:
        return "types"
    if "pack" in roles and roles & {"tag", "bought"}:
        return "log"
    if "aircraft" in roles and roles & {"span", "mass", "power", "class", "pack", "regulator"}:
        return "fleet"
    if "tag" in roles and len(roles & {"chemistry", "cells", "capacity"}) >= 2:
        return "log"
    return ""


def _take_legends(tables: list[TableRead | tuple[Grid, list[Row]]], context: Context) -> None:
    """Units and the order of days that titles and legends of the file tell."""
    for row in _plain_rows(tables):
        for cell in {id(cell): cell for cell in row.cells.values()}.values():
            if len(cell.text) < 6 or len(tokens(cell.text)) < 3:
                continue
            for role in ("torque", "span", "mass", "lead"):
                unit = unit_of_text(cell.text, role)
                if unit and role not in context.units:
                    context.units[role] = unit
                    context.account.read(cell)
            for meaning, order in (("day first", "dmy"), ("month first", "mdy")):
                if lexicon("words").means(cell.text, meaning) and not context.order:
                    context.order = order
                    context.account.read(cell)


def _plain_rows(tables: list[TableRead | tuple[Grid, list[Row]]]) -> Iterable[Row]:
    for table in tables:
        if isinstance(table, TableRead):
            yield from table.block.above
            yield from (
                row for row in table.block.rows if row.row_class in (RowClass.REMARK, RowClass.SECTION)
            )
        else:
            yield from table[1]


def _order_of_days(tables: list[TableRead | tuple[Grid, list[Row]]], context: Context) -> str:
    """The order of day and month that the days of the file prove, or the habit of its language."""
    if context.order:
        return context.order
    proofs: set[str] = set()
    for table in tables:
        if not isinstance(table, TableRead):
            continue
        places = [
            at
            for at, column in table.columns.items()
            if column.role in ("fitted", "removed", "bought", "tested")
        ]
        for row in table.block.rows:
            for at in places:
                cell = row.cells.get(at)
                if cell is not None and isinstance(cell.value, str):
                    proofs.add(read_day(cell.text, cell.value, context.today).proves)
    proofs.discard("")
    if len(proofs) == 1:
        return proofs.pop()
    # Only English speakers write the month first, and not all of them.
    return "dmy" if not proofs and context.language not in ("en", "") else ""


def _by_grid(
    tables: list[TableRead | tuple[Grid, list[Row]]], grids: list[Grid]
) -> Iterable[tuple[list[TableRead], list[Row]]]:
    for grid in grids:
        inside = [
            table
            for table in tables
            if isinstance(table, TableRead)
            and (table.block.grid.file, table.block.grid.tab) == (grid.file, grid.tab)
        ]
        plain = [
            row
            for table in tables
            if not isinstance(table, TableRead) and table[0] is grid
            for row in table[1]
        ]
        yield inside, plain


def _read_grid(tables: list[TableRead], plain: list[Row], context: Context, has_tabs: bool) -> None:
    plane: Plane | None = None
    for number, table in enumerate(tables):
        block = table.block
        if number == 0:
            plane = _plane_of(table, context, has_tabs)
        row_plane = plane
        if number and not _has_plane(table):
            title = name_in_titles(block)
            row_plane = plane = (
                context.plane(title.text.strip(" :-#="), title)
                if title is not None and table.kind in ("servos", "") and plane is not None and not has_tabs
                else plane
            )
        _head(table, context)
        read_above(block, row_plane, context)
        _read_table(table, row_plane, context)
    for row in plain:
        for cell in row.cells.values():
            context.account.leave(cell, text("belongs to no table that is understood"), False)


def _has_plane(table: TableRead) -> bool:
    return any(column.role == "aircraft" for column in table.columns.values())


def _plane_of(table: TableRead, context: Context, has_tabs: bool) -> Plane | None:
    """The aircraft that a tab is about, where no column names one."""
    block = table.block
    if _has_plane(table) or table.kind not in ("servos", "log"):
        return None
    title = name_in_titles(block)
    tab = block.grid.tab
    if has_tabs and tab and not _COMMON_TABS.fullmatch(tab.strip()):
        plane = context.plane(tab.strip(), title or next(iter(block.grid.cells.values()), None))
        if title is not None:
            plane.hints.append(title.text)
            context.account.read(title)
        return plane
    if title is not None and table.kind == "servos" and not any(row.carried for row in block.rows):
        context.account.read(title)
        return context.plane(title.text.strip(" :-#="), title)
    if (
        tab
        and table.kind == "servos"
        and not _COMMON_TABS.fullmatch(tab.strip())
        and not any(row.carried for row in block.rows)
    ):
        return context.plane(tab.strip(), next(iter(block.grid.cells.values()), None))
    return None


def _head(table: TableRead, context: Context) -> None:
    """Say under which heading each cell stands; headings that gave a meaning are read."""
    block = table.block
    key = min((at for row in block.rows for at in row.cells), default=0)
    for row in block.rows:
        for at, cell in row.cells.items():
            # Of a table on its side the heading that the keeper sees above a cell is the aircraft's name.
            turned = block.grid.is_transposed and key in row.cells
            context.account.head(cell, row.cells[key].text if turned else block.heading(at))
    for at, pair in block.headings.items():
        column = table.columns.get(at)
        for cell in filter(None, pair):
            context.account.head(cell, cell.text)
            if column is not None and column.role:
                context.account.read(cell)
            elif column is None or not column.profile.filled:
                context.account.leave(cell, text("heads an empty column"))
            else:
                context.account.leave(cell, text("heads a column that is not understood"), False)


_READERS: dict[str, type[TableReader]] = {
    "servos": ServoRows, "fleet": FleetRows, "log": PackLog, "stock": StockRows, "types": TypeRows,
}  # fmt: skip


def _read_table(table: TableRead, plane: Plane | None, context: Context) -> None:
    block, account = table.block, context.account
    reader_kind = _READERS.get(table.kind)
    wished = lexicon("words").begins(block.grid.tab, "wish") or any(
        lexicon("words").begins(cell.text, "wish") for row in block.above for cell in row.cells.values()
    )
    kept: list[Row] = []
    gone: list[Row] = []
    for row in block.rows:
        if _is_kept_as_gone(row, account) and reader_kind is not None:
            gone.append(row)
        elif row.row_class is not RowClass.DATA or row.section:
            _tell_row(row, plane, table, context)
        elif wished or reader_kind is None:
            reason = (
                text("is a wish, not a part that is there")
                if wished
                else text("belongs to no table that is understood")
            )
            for cell in row.cells.values():
                account.leave(cell, reason, wished)
        elif _is_struck(row) and account.replies.get(About.STRUCK) != Answer.STILL_RIGHT:
            _tell_struck(row, account)
        else:
            kept.append(row)
    if reader_kind is not None and not wished:
        reader = reader_kind(context, block, table.columns, plane)
        reader.read(kept)  # type: ignore[attr-defined]
    if gone and reader_kind is not None:
        before = set(context.facts.planes)
        reader_kind(context, block, table.columns, plane).read(gone)  # type: ignore[attr-defined]
        for key in context.facts.planes.keys() - before:
            context.facts.planes[key].is_gone = True


def _is_kept_as_gone(row: Row, account: Account) -> bool:
    return (
        row.row_class is RowClass.DATA
        and row.section == "gone"
        and account.replies.get(About.GONE) == Answer.PASSED_ON
    )


def _is_struck(row: Row) -> bool:
    return sum(cell.struck for cell in row.cells.values()) > len(row.cells) / 2


def _leave_out(row: Row, account: Account, about: About, left_out: Text, why: Text, other: Answer) -> None:
    """Leave a row out: asked about once, at its first cell, unless the keeper has said so already."""
    is_settled = about in account.replies
    for number, cell in enumerate(row.cells.values()):
        if number == 0 and not is_settled:
            account.doubt(cell, about, left_out, (Answer.LEAVE_OUT, other))
        else:
            account.leave(cell, why, is_settled)


def _tell_struck(row: Row, account: Account) -> None:
    left_out = text("the row is struck out; it was left out")
    why = text("stands in a row that is struck out")
    _leave_out(row, account, About.STRUCK, left_out, why, Answer.STILL_RIGHT)


def _tell_row(row: Row, plane: Plane | None, table: TableRead, context: Context) -> None:
    account = context.account
    if row.row_class is RowClass.FACT and plane is not None and not row.section:
        fact_or_title(row, plane, SeatReader(context, table.block, {}, plane), context)
        return
    reasons = {
        RowClass.TOTAL: text("is a row of totals"),
        RowClass.RULER: text("is a ruler"),
        RowClass.REMARK: text("is a remark"),
        RowClass.FACT: text("is a remark"),
    }
    if row.row_class is RowClass.DATA and row.section == "gone":
        left_out = text("stands under what was passed on; it was left out")
        why = text("stands under what was passed on")
        _leave_out(row, account, About.GONE, left_out, why, Answer.PASSED_ON)
        return
    reason = reasons.get(
        row.row_class,
        text("is a title") if row.row_class is RowClass.SECTION else text("is something to do or to buy"),
    )
    for cell in row.cells.values():
        if account.state_of(cell) is None:
            account.leave(cell, reason)


def _fit_log_packs(context: Context) -> None:
    """Put the packs of a battery log into the aircraft that it names last for each."""
    for key, pack in context.facts.log_packs.items():
        named = context.facts.pack_planes.get(key)
        if named is None:
            continue
        plane = context.plane(named[0], named[1])
        same = next(
            (pack_found for pack_found in plane.packs if pack_found.kind == pack.kind and not pack_found.tag),
            None,
        )
        if same is not None:
            plane.packs.remove(same)
        plane.packs.append(pack)
