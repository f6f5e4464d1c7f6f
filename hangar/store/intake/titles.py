"""Lines above and beside a table: the aircraft it is about, and facts such as "Span | 4.02 m"."""

from __future__ import annotations

from hangar.base.text import text
from hangar.store.intake.account import About
from hangar.store.intake.blocks import Block, Row
from hangar.store.intake.columns import unit_of_text
from hangar.store.intake.context import CellWords, Context
from hangar.store.intake.facts import Plane, SheetPack
from hangar.store.intake.figures import heading_unit
from hangar.store.intake.grid import Cell
from hangar.store.intake.other_rows import take_regulator, take_size
from hangar.store.intake.packs import read_pack
from hangar.store.intake.seat_reader import SeatReader
from hangar.store.intake.vocabulary import lexicon, tokens


def name_in_titles(block: Block) -> Cell | None:
    """The line above a table that may name its aircraft: the last short one that is no legend."""
    for row in reversed(block.above):
        cells = list({id(cell): cell for cell in row.cells.values()}.values())
        lex = lexicon("words")
        if len(cells) == 1 and len(tokens(cells[0].text)) <= 8 and not cells[0].text.startswith("#"):
            text = cells[0].text
            if any(lex.begins(text, word) for word in ("todo", "wish", "gone", "total")) or unit_of_text(
                text, "torque"
            ):
                continue
            if lexicon("roles").is_wholly(text.strip(":"), "pack") or lexicon("roles").is_wholly(
                text.strip(":"), "tag"
            ):
                continue
            return cells[0]
    return None


def read_above(block: Block, plane: Plane | None, context: Context) -> None:
    reader = SeatReader(context, block, {}, plane)
    for row in block.above:
        fact_or_title(row, plane, reader, context)


def fact_or_title(row: Row, plane: Plane | None, reader: SeatReader, context: Context) -> None:
    cells = list({id(cell): cell for cell in row.cells.values()}.values())
    if len(cells) == 2 and plane is not None and _take_fact(cells[0], cells[1], plane, reader):
        return
    for cell in cells:
        if context.account.state_of(cell) is None:
            context.account.leave(cell, text("is a title or a remark"))


def _take_fact(label: Cell, cell: Cell, plane: Plane, reader: SeatReader) -> bool:
    """A line such as "Span | 4.02 m" beside a table."""
    head = label.text.rstrip(": ")
    meanings = lexicon("roles").meanings(head)
    taken = CellWords(cell.text, cell.value, cell)
    reader.account.head(cell, label.text)
    reader.account.head(label, label.text)
    for role in ("span", "mass"):
        if role in meanings:
            dimension = "length" if role == "span" else "mass"
            take_size(
                reader,
                plane,
                role,
                taken,
                heading_unit(label.text, dimension),
                *((250.0, 12_000.0) if role == "span" else (20.0, 150_000.0)),
            )
            reader.account.read(label)
            return True
    if "regulator" in meanings:
        take_regulator(reader, plane, taken)
    elif "pack" in meanings and (pack := read_pack(cell.text)) is not None:
        if pack.is_whole and pack.chemistry and pack.series and pack.capacity_mah:
            made = SheetPack(
                pack.chemistry, pack.series, pack.parallel, pack.capacity_mah, cells={"pack": cell}
            )
            plane.packs += [made] * pack.number
            reader.account.read(cell)
        else:
            reader.account.doubt(cell, About.PACK, text("does not tell chemistry, cells and capacity"))
    elif meanings.keys() & {"power", "class"}:
        plane.hints.append(cell.text)
        reader.account.read(cell)
    elif meanings.keys() & {"notes", "owner"}:
        plane.notes.append(f"{head}: {cell.text}")
        reader.account.read(cell)
    else:
        return False
    reader.account.read(label)
    return True
