"""What every kind of table with servos needs: types, packs, leads and remarks of a row."""

from __future__ import annotations

import re
from collections.abc import Mapping

from hangar.base.text import text
from hangar.store.intake.account import About
from hangar.store.intake.context import CellWords, TableReader
from hangar.store.intake.facts import Plane, SheetPack, SheetRegulator, TypeName
from hangar.store.intake.figures import bare_number, figures, quantity, unit_after
from hangar.store.intake.packs import read_pack
from hangar.store.intake.vocabulary import lexicon

_PULSE = re.compile(r"(\d{3,4})\s*(?:us|µs|μs|usec)", re.IGNORECASE)


class SeatReader(TableReader):
    """What every kind of table with servos needs: types, packs, leads and remarks of a row."""

    def servo_name(self, text: str, maker: str, cell: TypeName | CellWords) -> TypeName:
        """A type as named in a cell; types are told apart when all names are known."""
        at = cell.cell
        name = TypeName(text, maker, at)
        self.facts.names.append(name)
        return name

    def take_pack(self, plane: Plane, taken: Mapping[int, CellWords], for_ignition: bool = False) -> None:
        """The packs that a row names for its aircraft."""
        lines = self._pack_words(taken)
        if lines is None:
            return
        words, first = lines
        if first.is_none:
            self.account.read(first.cell)
            return
        read = read_pack(words)
        if read is None and not first.is_unknown and self._is_of_supply(first, plane):
            return
        if read is None or not read.is_whole:
            lacks = (
                text("the pack is not known")
                if first.is_unknown
                else text("the pack does not tell chemistry, cells and capacity")
            )
            self.account.doubt(first.cell, About.PACK, lacks)
            return
        self.account.read(*(pack_cell.cell for pack_cell in self._pack_cells(taken)))
        assert read.chemistry
        assert read.series
        assert read.capacity_mah
        made = SheetPack(
            read.chemistry, read.series, read.parallel, read.capacity_mah, cells={"pack": first.cell}
        )
        made.for_ignition = read.for_ignition or for_ignition
        there = sum(pack.kind == made.kind and pack.for_ignition == made.for_ignition for pack in plane.packs)
        for _ in range(max(0, read.number - there)):
            plane.packs.append(made)

    def _is_of_supply(self, first: CellWords, plane: Plane) -> bool:
        kind = regulator_kind(first.text)
        if kind or lexicon("functions").is_wholly(first.text, "regulator"):
            volts = volts_in(first.text)
            if volts is not None:
                plane.regulators.append(SheetRegulator(first.text, volts, kind, first.cell))
            self.account.read(first.cell)
            return True
        if lexicon("kinds", "power").find(first.text):
            plane.hints.append(first.text)
            self.account.read(first.cell)
            return True
        return False

    def _pack_cells(self, taken: Mapping[int, CellWords]) -> list[CellWords]:
        return [
            cell_taken
            for cell_taken in (self.get(taken, role) for role in ("pack", "chemistry", "cells", "capacity"))
            if cell_taken
        ]

    def _pack_words(self, taken: Mapping[int, CellWords]) -> tuple[str, CellWords] | None:
        cells = self._pack_cells(taken)
        if not cells:
            return None
        words = []
        for role in ("pack", "chemistry", "cells", "capacity"):
            cell_taken = self.get(taken, role)
            if cell_taken is not None and not cell_taken.is_none:
                bare = bare_number(cell_taken.text) is not None
                words.append(
                    cell_taken.text
                    + ("S" if role == "cells" and bare else "mAh" if role == "capacity" and bare else "")
                )
        return " ".join(words), cells[0]

    def lead(self, taken: Mapping[int, CellWords]) -> float | None:
        """The length of the lead that a row tells, in millimetres."""
        words, column = self.get(taken, "lead"), self.column("lead")
        if words is None or column is None:
            return None
        if words.is_none:
            self.account.read(words.cell)
            return None
        read = quantity(words.text, "length", column.unit or self.context.units.get("lead"), 20, 6000)
        if read is None:
            self.account.doubt(words.cell, About.LEAD, text("is no length with a unit"), ("mm", "cm", "in"))
            return None
        self.account.read(words.cell)
        return round(read.value, 3)

    def notes(self, taken: Mapping[int, CellWords], *roles: str) -> list[str]:
        """The remarks of a row, word for word."""
        numbers = []
        for column in self.columns.values():
            cell_words = taken.get(column.at)
            if cell_words is not None and column.role in ("notes", *roles):
                self.account.read(cell_words.cell)
                words = cell_words.text if column.role == "notes" else f"{column.heading}: {cell_words.text}"
                if not cell_words.is_none and not cell_words.is_ditto:
                    numbers.append(words)
        for column in self.columns.values():
            cell_words = taken.get(column.at)
            if cell_words is not None and cell_words.cell.comment:
                numbers.append(cell_words.cell.comment)
        return numbers

    def price(self, taken: Mapping[int, CellWords]) -> float | None:
        """What a row says was paid."""
        prices = [taken[column.at] for column in self.of_role("price") if column.at in taken]
        known = None
        for words in prices:
            numbers = figures(words.text)
            if numbers:
                self.account.read(words.cell)
                known = numbers[0].number if known is None else known
            else:
                self.account.leave(words.cell, text("is no price"), words.is_none)
        return known

    def drive(self, name: TypeName | None, taken: Mapping[int, CellWords]) -> None:
        """Whether a row says the type is analog or digital."""
        words = self.get(taken, "drive")
        if words is None:
            return
        if name is None:
            self.account.leave(words.cell, text("belongs to no servo type"), words.is_none)
            return
        if words.is_none:
            self.account.read(words.cell)
            return
        hits = [hit.meaning for hit in lexicon("kinds", "drive").find(words.text, self.context.language)]
        if not hits:
            hits = [hit.meaning for hit in lexicon("kinds", "drive").find(words.text)]
        pulse = _PULSE.search(words.text)
        if pulse:
            self.facts.pulses.append((name, float(pulse[1]), words.cell))
        if len(set(hits)) == 1:
            self.account.read(words.cell)
            self.facts.drives.append((name, hits[0], words.cell))
        else:
            self.account.doubt(words.cell, About.DRIVE, text("says neither analog nor digital"))


def volts_in(text: str) -> float | None:
    """The volts that words of a regulator name, as in "BEC 7,4 V 10 A"."""
    for figure in figures(text):
        if unit_after(figure.after, "volts") and 2.5 <= figure.number <= 15:
            return figure.number
    return None


def regulator_kind(text: str) -> str:
    """The kind of regulator that words name, "" for none."""
    hits = lexicon("kinds", "regulator").find(text)
    return hits[0].meaning if hits else ""
