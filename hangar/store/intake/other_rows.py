"""Tables of a row an aircraft, and battery logs."""

from __future__ import annotations

from collections.abc import Mapping

from hangar.base.text import text
from hangar.store.intake.account import About
from hangar.store.intake.blocks import Row
from hangar.store.intake.columns import Column
from hangar.store.intake.context import CellWords
from hangar.store.intake.facts import Plane, Seat, SheetPack, SheetRegulator, SheetTest
from hangar.store.intake.figures import figures, quantity
from hangar.store.intake.packs import read_pack
from hangar.store.intake.phrases import Channels, Phrase, is_none, is_type_name, is_unknown, read_phrase
from hangar.store.intake.seat_reader import SeatReader, regulator_kind, volts_in
from hangar.store.intake.servo_rows import on_one_channel, place
from hangar.store.intake.vocabulary import lexicon, squeezed


class FleetRows(SeatReader):
    """A row an aircraft; its servos in a column a channel or a column a function, if there are any."""

    def read(self, rows: list[Row]) -> None:
        """Take every data row."""
        for row in rows:
            taken = self.take(row)
            words = self.get(taken, "aircraft")
            if words is None or words.is_none or words.is_unknown:
                for cell_taken in taken.values():
                    self.account.leave(cell_taken.cell, text("no aircraft is named for this row"), False)
                continue
            self.account.read(words.cell)
            self._plane(self.context.plane(words.text, words.cell), taken)

    def _plane(self, plane: Plane, taken: dict[int, CellWords]) -> None:
        take_sizes(self, plane, taken)
        plane.hints.append(power.text) if (power := self.get(taken, "power")) else None
        for role in ("power", "class"):
            hint = self.get(taken, role)
            if hint is not None:
                if role == "class":
                    plane.hints.append(hint.text)
                self._hint(hint)
        plane.notes += self.notes(taken, "owner", "gear")
        plane.hints += plane.notes
        self.take_pack(plane, taken)
        regulator = self.get(taken, "regulator")
        if regulator is not None:
            take_regulator(self, plane, regulator)
        fitted = self.day(self.get(taken, "fitted"), text("the day the servos were fitted is not known"))
        for column in self.columns.values():
            cell_taken = taken.get(column.at)
            if cell_taken is None:
                continue
            if column.role == "output" or column.role == "work":
                self._seat(plane, cell_taken, column, fitted)
            elif column.role == "price":
                self.account.leave(
                    cell_taken.cell, text("is a price of the aircraft that is not kept"), False
                )

    def _hint(self, hint: CellWords) -> None:
        if hint.is_unknown:
            self.account.doubt(hint.cell, About.CLASS, text("is not known"))
        else:
            self.account.read(hint.cell)

    def _seat(self, plane: Plane, words: CellWords, column: Column, fitted: str) -> None:
        language = self.context.language
        if words.is_none:
            self.account.read(words.cell)
            return
        phrase = read_phrase(words.text, language, "both")
        headed = read_phrase(column.function, language, "function") if column.function else Phrase()
        work = phrase.function or headed.function
        self.account.read(words.cell)
        if self._is_no_servo(plane, words, phrase, work):
            return
        if not work:
            self.account.doubt(words.cell, About.FUNCTION, text("does not say what the servo works"))
        name = None
        if phrase.unknown:
            self.account.doubt(words.cell, About.TYPE, text("the servo is not known"))
        elif phrase.rest and not phrase.no_servo and not phrase.controller:
            if is_type_name(phrase.rest) or len(phrase.rest.split()) <= 3:
                name = self.servo_name(phrase.rest, "", words)
            else:
                self.account.doubt(words.cell, About.TYPE, text("names no servo type that is understood"))
        if name is not None and phrase.drive:
            self.facts.drives.append((name, phrase.drive, words.cell))
        if name is None and not work:
            return
        count = phrase.number or (2 if phrase.y_lead and not phrase.side else 1)
        seat = Seat(work, words.text, phrase.side or headed.side, servo=name, fitted=fitted)
        seat.cells = {"function": words.cell, "servo": words.cell, "channel": words.cell}
        if count > 1:
            self.account.doubt(words.cell, About.CHANNEL, on_one_channel(count))
        place(plane, seat, count, Channels((column.channel,)) if column.channel else None)

    def _is_no_servo(self, plane: Plane, words: CellWords, phrase: Phrase, work: str) -> bool:
        if phrase.controller or phrase.supply:
            volts = volts_in(words.text)
            if phrase.controller:
                plane.powers.add("electric")
            if volts is not None and phrase.supply:
                plane.regulators.append(
                    SheetRegulator(words.text, volts, regulator_kind(words.text), words.cell)
                )
            return True
        return work == "spare" or (work in ("regulator", "ignition") and not is_type_name(phrase.rest))


def take_sizes(reader: SeatReader, plane: Plane, taken: Mapping[int, CellWords]) -> None:
    """Span and mass of an aircraft; a bare figure is taken where only one unit makes sense of it."""
    for role, low, high in (("span", 250.0, 12_000.0), ("mass", 20.0, 150_000.0)):
        words, column = reader.get(taken, role), reader.column(role)
        if words is not None and column is not None:
            take_size(reader, plane, role, words, column.unit, low, high)


def take_size(
    reader: SeatReader,
    plane: Plane,
    role: str,
    cell_words: CellWords,
    unit: tuple[str, float] | None,
    low: float,
    high: float,
) -> None:
    """One size of an aircraft."""
    if cell_words.is_none:
        reader.account.read(cell_words.cell)
        return
    if cell_words.is_unknown:
        reader.account.doubt(cell_words.cell, About.UNIT, text("is not known"), key=role)
        return
    dimension = "length" if role == "span" else "mass"
    default = unit or reader.context.units.get(role) or _only_unit(cell_words.text, role)
    read = quantity(cell_words.text, dimension, default, low, high)
    if read is None:
        words = (
            text("is no span with a unit that makes sense")
            if role == "span"
            else text("is no mass with a unit that makes sense")
        )
        reader.account.doubt(cell_words.cell, About.UNIT, words, key=role)
        return
    if default is not None and unit is None and not read.unit and reader.context.units.get(role) is None:
        reader.account.doubt(
            cell_words.cell, About.UNIT, text("has no unit; taken as {unit}", unit=default[0]), key=role
        )
    reader.account.read(cell_words.cell)
    if role == "span":
        plane.span_mm = round(read.value, 1)
    else:
        plane.mass_g = round(read.value, 1)


def _only_unit(text: str, role: str) -> tuple[str, float] | None:
    values = figures(text)
    number = (values[0].other or values[0].number) if values else 0.0
    if role == "span":
        return ("mm", 1.0) if 400 <= number <= 9000 else ("m", 1000.0) if 0.5 <= number <= 8 else None
    return ("g", 1.0) if number >= 200 else None


def take_regulator(reader: SeatReader, plane: Plane, words: CellWords) -> None:
    """A regulator that a line or a column names for an aircraft."""
    if words.is_none or is_none(words.text):
        reader.account.read(words.cell)
    elif words.is_unknown or is_unknown(words.text):
        reader.account.doubt(words.cell, About.PACK, text("the regulator is not known"))
    else:
        number = figures(words.text)
        volts = volts_in(words.text) or (
            number[0].number if len(number) == 1 and 4 <= number[0].number <= 9 else None
        )
        plane.regulators.append(SheetRegulator(words.text, volts, regulator_kind(words.text), words.cell))
        reader.account.read(words.cell)


class PackLog(SeatReader):
    """A battery log: packs, and under each what was measured on it."""

    def read(self, rows: list[Row]) -> None:
        """Take every data row."""
        tag, pack = "", None
        for row in rows:
            taken = self.take(row)
            words = self.get(taken, "tag")
            if words is not None and not words.is_none:
                tag = words.text
                self.account.read(words.cell)
            pack = self._pack(tag, taken)
            self._test(tag, taken)
            if pack is not None:
                pack.notes += self.notes(taken)
            else:
                self.notes(taken)
            self.price(taken)

    def _pack(self, tag: str, taken: Mapping[int, CellWords]) -> SheetPack | None:
        key = squeezed(tag)
        pack = self.facts.log_packs.get(key)
        words = self._pack_words(taken)
        if words is not None and not words[1].is_ditto:
            read = read_pack(words[0])
            if read is not None and read.is_whole and read.chemistry and read.series and read.capacity_mah:
                self.account.read(*(pack_cell.cell for pack_cell in self._pack_cells(taken)))
                if pack is None:
                    pack = SheetPack(
                        read.chemistry,
                        read.series,
                        read.parallel,
                        read.capacity_mah,
                        tag,
                        cells={"pack": words[1].cell},
                    )
                    pack.for_ignition = read.for_ignition
                    self.facts.log_packs[key or f"#{len(self.facts.log_packs)}"] = pack
            elif not words[1].is_none:
                self.account.doubt(
                    words[1].cell, About.PACK, text("does not tell chemistry, cells and capacity")
                )
        if pack is None:
            return None
        self._of_pack(pack, key, taken)
        return pack

    def _of_pack(self, pack: SheetPack, key: str, taken: Mapping[int, CellWords]) -> None:
        bought = self.get(taken, "bought")
        if bought is not None:
            pack.bought = self.day(bought, text("the day it was bought is not known")) or pack.bought
        cycles = self.get(taken, "cycles")
        if cycles is not None and (numbers := figures(cycles.text)):
            pack.cycles = int(numbers[0].number)
            self.account.read(cycles.cell)
        where = self.get(taken, "aircraft")
        if where is not None and not where.is_none and not where.is_unknown:
            lex = lexicon("words")
            self.account.read(where.cell)
            if any(lex.begins(where.text, word) for word in ("place", "lent", "binned")):
                pack.notes.append(where.text)
            else:
                self.facts.pack_planes[key] = (where.text, where.cell)
        elif self.own_plane is not None:
            self.facts.pack_planes[key] = (self.own_plane.name, pack.cells["pack"])

    def _figure(self, taken: Mapping[int, CellWords], role: str, dimension: str) -> float | None:
        words, column = self.get(taken, role), self.column(role)
        if words is None or column is None or words.is_none:
            return None
        read = quantity(words.text, dimension, column.unit or ("", 1.0), 0.01, 50_000)
        if read is None:
            self.account.doubt(words.cell, About.TEST, text("is no figure that is understood"))
            return None
        self.account.read(words.cell)
        return round(read.value, 4)

    def _test(self, tag: str, taken: Mapping[int, CellWords]) -> None:
        roles = (
            ("load", "current"),
            ("rest", "volts"),
            ("loaded", "volts"),
            ("load_time", "duration"),
            ("measured", "charge"),
            ("resistance", "resistance"),
        )
        by_role = {role: self._figure(taken, role, dimension) for role, dimension in roles}
        if all(value is None for value in by_role.values()):
            if self.get(taken, "tested") is not None:
                self.day(self.get(taken, "tested"), text("the day of the test is not known"))
            return
        on = self.day(self.get(taken, "tested"), text("the day of the test is not known"))
        test = SheetTest(
            tag,
            on,
            by_role["load"],
            by_role["rest"],
            by_role["loaded"],
            by_role["load_time"],
            by_role["measured"],
            by_role["resistance"],
        )
        for role in ("tested", *by_role):
            words = self.get(taken, role)
            if words is not None:
                test.cells[role] = words.cell
        self.facts.tests.append(test)
