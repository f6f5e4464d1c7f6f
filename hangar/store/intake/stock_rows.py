"""Tables of parts: a stock list, and a list of servo types."""

from __future__ import annotations

import re
from collections.abc import Mapping

from hangar.base.text import text
from hangar.store.intake.account import About
from hangar.store.intake.blocks import Row
from hangar.store.intake.context import CellWords
from hangar.store.intake.facts import SheetPack, SheetRating, SheetStock, TypeName
from hangar.store.intake.figures import figures, unit_after
from hangar.store.intake.packs import read_pack
from hangar.store.intake.phrases import read_phrase
from hangar.store.intake.ratings import RatingReader
from hangar.store.intake.seat_reader import SeatReader
from hangar.store.intake.vocabulary import lexicon


class StockRows(SeatReader):
    """A stock list: a row a kind of part with how many of it there are."""

    def read(self, rows: list[Row]) -> None:
        """Take every data row that is a servo or a pack."""
        self._ratings = RatingReader(self)
        for row in rows:
            self._row(self.take(row))

    def _row(self, taken: dict[int, CellWords]) -> None:
        words = (
            self.get(taken, "description")
            or self.get(taken, "servo")
            or self.get(taken, "model")
            or self.get(taken, "pack")
        )
        if words is None:
            for cell_taken in taken.values():
                self.account.leave(cell_taken.cell, text("names no part"), False)
            return
        count = self._count(taken)
        place_said = self.get(taken, "place") or self.get(taken, "aircraft")
        stock_found = SheetStock(count, place=place_said.text if place_said else "", cell=words.cell)
        if not self._is_servo(taken, words, stock_found) and not self._is_pack(words, stock_found):
            for cell_taken in taken.values():
                self.account.leave(cell_taken.cell, text("is no servo and no pack"), cell_taken.is_none)
            return
        self.account.read(words.cell)
        for role in ("count", "place", "aircraft", "tag"):
            said_too = self.get(taken, role)
            self.account.read(said_too.cell if said_too else None)
        stock_found.price = self.price(taken)
        for column in self.columns.values():
            if column.role in ("group", "notes", "price") and column.at in taken:
                self.account.read(taken[column.at].cell)
        if count > 0:
            self.facts.stock.append(stock_found)

    def _count(self, taken: Mapping[int, CellWords]) -> int:
        words = self.get(taken, "count")
        numbers = figures(words.text) if words else ()
        if words is not None and not numbers:
            self.account.doubt(words.cell, About.COUNT, text("is no number of parts"))
            return 0
        return int(numbers[0].number) if numbers else 1

    def _is_servo(
        self, taken: Mapping[int, CellWords], cell_words: CellWords, stock_found: SheetStock
    ) -> bool:
        lex = lexicon("words")
        groups = [taken[column.at].text for column in self.of_role("group") if column.at in taken]
        named = self.get(taken, "servo") is not None or (
            self.get(taken, "model") is not None and self.get(taken, "description") is None
        )
        if (
            not named
            and not lex.means(cell_words.text, "servo item")
            and not any(lex.means(group, "servo item") for group in groups)
        ):
            return False
        if read_pack(cell_words.text) is not None:
            return False
        words, figures_part = described(cell_words.text, self.context.language)
        if not words:
            self.account.doubt(cell_words.cell, About.TYPE, text("names no servo type"))
            return True
        maker = self.get(taken, "maker")
        self.account.read(maker.cell if maker else None)
        name = self.servo_name(words, maker.text if maker else "", cell_words)
        stock_found.servo = name
        self.drive(name, taken)
        phrase = read_phrase(cell_words.text, self.context.language, "servo")
        if phrase.drive:
            self.facts.drives.append((name, phrase.drive, cell_words.cell))
        take_described(self, name, figures_part, cell_words)
        self._ratings.take(name, taken)
        return True

    def _is_pack(self, words: CellWords, stock_found: SheetStock) -> bool:
        read = read_pack(words.text)
        if read is None:
            return False
        if not (read.is_whole and read.chemistry and read.series and read.capacity_mah):
            self.account.doubt(words.cell, About.PACK, text("does not tell chemistry, cells and capacity"))
            return False
        stock_found.pack = SheetPack(
            read.chemistry, read.series, read.parallel, read.capacity_mah, cells={"pack": words.cell}
        )
        return True


def described(text: str, language: str) -> tuple[str, str]:
    """A description parted into the type's name and what it gives.

    >>> described("SERVO EBBLAND 3001 DIG 14KG 7.4V", "en")
    ('EBBLAND 3001', 'DIG 14KG 7.4V')
    """
    end = len(text)
    for hit in lexicon("kinds", "drive").find(text, language):
        if hit.end - hit.start >= 3:
            end = min(end, hit.start)
    for figure in figures(text):
        if any(unit_after(figure.after, kind) for kind in ("torque", "volts", "speed")) and not re.match(
            r"[A-Za-z]", figure.after.strip()[2:3] or " "
        ):
            end = min(end, figure.start)
    head = text[:end]
    for hit in lexicon("words").find(head):
        if hit.meaning == "servo item":
            head = head[: hit.start] + " " * (hit.end - hit.start) + head[hit.end :]
    return " ".join(head.split()).strip(" -,;:"), text[end:].strip()


def take_described(reader: SeatReader, name: TypeName, description: str, cell_words: CellWords) -> None:
    """The ratings in a description: torques with their volts, and times after them."""
    torques: list[tuple[float, tuple[str, float]]] = []
    times: list[float] = []
    volts: list[float] = []
    for figure in figures(description):
        torque = unit_after(figure.after, "torque")
        if unit_after(figure.after, "volts") and 2.4 <= figure.number <= 15:
            volts.append(figure.number)
        elif torque:
            torques.append((figure.number, torque))
        elif 0.02 <= figure.number <= 0.6:
            times.append(figure.number)
    if not volts and (torques or times):
        reader.account.doubt(cell_words.cell, About.RATING, text("gives no volts beside its figures"))
    for number, at in enumerate(volts):
        rated = SheetRating(name, at, torque_cell=cell_words.cell, speed_cell=cell_words.cell)
        if len(torques) == len(volts):
            rated.torque, rated.torque_unit = torques[number]
        rated.transit_s = times[number] if len(times) == len(volts) else None
        if rated.torque is not None or rated.transit_s is not None:
            reader.facts.ratings.append(rated)
    if volts and {len(torques), len(times)} - {0, len(volts)}:
        words = text("gives not {count} figures for {count} volts", count=len(volts))
        reader.account.doubt(cell_words.cell, About.RATING, words)


class TypeRows(SeatReader):
    """A list of servo types with their ratings, none of them fitted."""

    def read(self, rows: list[Row]) -> None:
        """Take every data row."""
        ratings = RatingReader(self)
        for row in rows:
            taken = self.take(row)
            words, maker = self.get(taken, "servo") or self.get(taken, "model"), self.get(taken, "maker")
            if words is None or words.is_none or words.is_unknown:
                continue
            phrase = read_phrase(words.text, self.context.language, "servo")
            self.account.read(words.cell, maker.cell if maker else None)
            if not phrase.rest:
                self.account.doubt(words.cell, About.TYPE, text("names no servo type"))
                continue
            name = self.servo_name(phrase.rest, maker.text if maker else "", words)
            self.drive(name, taken)
            ratings.take(name, taken)
            self.notes(taken, "gear")
            self.price(taken)
