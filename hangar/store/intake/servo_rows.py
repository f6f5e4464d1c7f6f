"""Rows that tell of one servo or a group of servos each: lists of fitted servos and inventories."""

from __future__ import annotations

from collections.abc import Mapping

from hangar.base.text import Text, series, text
from hangar.store.intake.account import About
from hangar.store.intake.blocks import Row
from hangar.store.intake.context import CellWords
from hangar.store.intake.facts import Plane, Seat, SheetRegulator, SheetStock, TypeName
from hangar.store.intake.figures import figures
from hangar.store.intake.phrases import (
    Channels,
    Phrase,
    count_in_remark,
    is_type_name,
    read_channels,
    read_phrase,
)
from hangar.store.intake.ratings import RatingReader
from hangar.store.intake.seat_reader import SeatReader, regulator_kind, volts_in
from hangar.store.intake.vocabulary import lexicon

_NO_SEAT = ("regulator", "ignition", "spare")


class ServoRows(SeatReader):
    """Reads a table of a row a servo, or a row a group of them."""

    def read(self, rows: list[Row]) -> None:
        """Take every data row."""
        self._ratings = RatingReader(self)
        self._last: Plane | None = None
        for row in rows:
            self._row(self.take(row), row)

    # -- whose row it is ------------------------------------------------------------------------------
    def _row(self, taken: dict[int, CellWords], row: Row) -> None:
        function, servo = self._phrases(taken)
        if self._is_stock(taken, function):
            self._stock(taken, servo)
            return
        plane = self._plane(taken, row)
        if plane is None:
            self._homeless(taken)
            return
        self._last = plane
        self._seats(plane, taken, function, servo)

    def _plane(self, taken: Mapping[int, CellWords], row: Row) -> Plane | None:
        words = self.get(taken, "aircraft")
        if words is not None and not words.is_none and not words.is_unknown:
            self.account.read(words.cell)
            return self.context.plane(words.text, words.cell)
        if words is not None:
            self.account.doubt(words.cell, About.PLACE, text("names no aircraft"))
            return None
        if row.carried is not None and not row.section:
            self.account.read(row.carried)
            return self.context.plane(row.carried.text.strip(" :-#="), row.carried)
        return self._last or self.own_plane

    def _homeless(self, taken: Mapping[int, CellWords]) -> None:
        for words in taken.values():
            self.account.leave(words.cell, text("no aircraft is named for this row"), False)

    def _phrases(self, taken: Mapping[int, CellWords]) -> tuple[Phrase, Phrase]:
        language = self.context.language
        words, servo = self.get(taken, "function"), self.get(taken, "servo") or self.get(taken, "model")
        side = self.get(taken, "side")
        function = read_phrase(words.text, language, "function") if words else Phrase()
        if side is not None:
            beside = read_phrase(side.text, language, "function")
            self.account.read(side.cell)
            function = function._replace(side=function.side or beside.side)
        kind = "both" if words is None and self.column("function") is None else "servo"
        return function, read_phrase(servo.text, language, kind) if servo else Phrase()

    # -- parts that lie about ---------------------------------------------------------------------------
    def _is_stock(self, taken: Mapping[int, CellWords], function: Phrase) -> bool:
        where = self.get(taken, "aircraft")
        if where is None:
            place = self.get(taken, "place")
            has_home = self.get(taken, "function") or self.get(taken, "channel")
            return (place is not None and not has_home) or (
                self.column("aircraft") is None
                and self.own_plane is None
                and not has_home
                and not function.functions
            )
        if self.get(taken, "function") or self.get(taken, "channel"):
            return False
        lex = lexicon("words")
        if any(lex.begins(where.text, word) for word in ("place", "lent", "binned")):
            return True
        return self.column("tag") is not None and self.column("function") is not None and where.is_none

    def _stock(self, taken: Mapping[int, CellWords], servo: Phrase) -> None:
        where = self.get(taken, "aircraft") or self.get(taken, "place")
        name = self._name(taken, servo)
        lex = lexicon("words")
        place = where.text if where else ""
        stock_found = SheetStock(1, name, place=place, price=self.price(taken), notes=self.notes(taken))
        if where is not None:
            stock_found.cell = where.cell
            stock_found.is_scrapped = lex.begins(place, "binned")
            if lex.begins(place, "lent"):
                self.account.doubt(where.cell, About.PLACE, text("is lent; it was put among the spares"))
            else:
                self.account.read(where.cell)
        stock_found.tag = self._tag(taken)
        self.drive(name, taken)
        self._ratings.take(name, taken)
        for role in ("fitted", "removed"):
            self.day(self.get(taken, role), text("the day is not known"))
        if name is not None:
            self.facts.stock.append(stock_found)

    def _tag(self, taken: Mapping[int, CellWords]) -> str:
        words = self.get(taken, "tag")
        if words is None or words.is_none or words.is_unknown:
            return ""
        self.account.read(words.cell)
        return words.text

    # -- the servos of a row ------------------------------------------------------------------------------
    def _name(self, taken: Mapping[int, CellWords], servo: Phrase) -> TypeName | None:
        words = self.get(taken, "servo") or self.get(taken, "model")
        maker = self.get(taken, "maker")
        if maker is not None:
            self.account.read(maker.cell)
        if words is None:
            return None
        if words.is_none:
            self.account.read(words.cell)
            return None
        if servo.unknown:
            self.account.doubt(words.cell, About.TYPE, text("the servo type is not known"))
            return None
        if (servo.no_servo or servo.controller or servo.supply) and not is_type_name(
            servo.rest.split(",")[0].replace("BEC", "")
        ):
            self.account.read(words.cell)
            return None
        if servo.controller or lexicon("words").begins(words.text, "no servo", self.context.language):
            self.account.read(words.cell)
            return None
        maker_words = maker.text if maker is not None and not maker.is_none else ""
        if not servo.rest:
            self.account.doubt(words.cell, About.TYPE, text("names no servo type"))
            return None
        self.account.read(words.cell)
        return self.servo_name(servo.rest, maker_words, words)

    def _seats(self, plane: Plane, taken: dict[int, CellWords], function: Phrase, servo: Phrase) -> None:
        work = function.function or servo.function
        notes = self.notes(taken, "gear")
        plane.hints += notes
        self._owner(plane, taken)
        if work in _NO_SEAT or servo.supply:
            self._no_seat(plane, taken, work, servo)
            return
        name = self._name(taken, servo)
        if name is None and servo.controller:
            plane.powers.add("electric")
        self.drive(name, taken)
        if name is not None:
            self._drive_in_words(name, taken, function, servo)
        self._ratings.take(name, taken)
        self.take_pack(plane, taken)
        words = self.get(taken, "function")
        channels = self._channels(taken)
        if not work and words is None and not channels and name is None:
            return
        count = self._count(taken, function, servo, channels, notes)
        self._tell_group(taken, count, channels, function, servo)
        made = self._seat(taken, work, function, servo, name, notes)
        if made.removed is None and not work and words is None:
            self._tell_no_work(taken)
        self._place(plane, made, count, channels)

    def _tell_no_work(self, taken: Mapping[int, CellWords]) -> None:
        for role in ("servo", "model", "channel"):
            words = self.get(taken, role)
            if words is not None:
                self.account.doubt(
                    words.cell, About.FUNCTION, text("the row does not say what the servo works")
                )
                return

    def _owner(self, plane: Plane, taken: Mapping[int, CellWords]) -> None:
        cell_words, column = self.get(taken, "owner"), self.column("owner")
        if cell_words is not None and column is not None:
            self.account.read(cell_words.cell)
            words = f"{column.heading}: {cell_words.text}"
            if words not in plane.notes:
                plane.notes.append(words)
        for role in ("class", "power"):
            hint = self.get(taken, role)
            if hint is not None:
                self.account.read(hint.cell)
                plane.hints.append(hint.text)

    def _drive_in_words(
        self, name: TypeName, taken: Mapping[int, CellWords], function: Phrase, servo: Phrase
    ) -> None:
        for words, role in ((function, "function"), (servo, "servo")):
            cell_words = self.get(taken, role)
            if words.drive and cell_words is not None:
                self.facts.drives.append((name, words.drive, cell_words.cell))

    def _no_seat(self, plane: Plane, taken: Mapping[int, CellWords], work: str, servo: Phrase) -> None:
        """Rows of a regulator, an ignition pack or a free channel."""
        self.take_pack(plane, taken, for_ignition=work == "ignition")
        named = self.get(taken, "servo") or self.get(taken, "function")
        if work == "regulator" or servo.supply:
            words = " ".join(
                words.text for words in (self.get(taken, "function"), self.get(taken, "servo")) if words
            )
            if named is not None:
                volts = volts_in(named.text) or volts_in(words) or self._volts_beside(taken)
                plane.regulators.append(SheetRegulator(words, volts, regulator_kind(words), named.cell))
        for cell_words in taken.values():
            self.account.read(cell_words.cell)

    def _volts_beside(self, taken: Mapping[int, CellWords]) -> float | None:
        words = self.get(taken, "volts")
        return (
            next((figure.number for figure in figures(words.text) if 2.5 <= figure.number <= 15), None)
            if words
            else None
        )

    def _channels(self, taken: Mapping[int, CellWords]) -> Channels | None:
        words = self.get(taken, "channel")
        if words is None:
            return None
        if words.is_none:
            self.account.read(words.cell)
            return None
        channels = read_channels(words.text)
        if channels is None:
            self.account.doubt(words.cell, About.CHANNEL, text("names no channel"))
        else:
            self.account.read(words.cell)
        return channels

    def _count(
        self,
        taken: Mapping[int, CellWords],
        function: Phrase,
        servo: Phrase,
        channels: Channels | None,
        notes: list[str],
    ) -> int:
        number = function.number or servo.number
        if number:
            return number
        language = self.context.language
        remarks = [count_in_remark(note, language) for note in notes]
        for column in self.columns.values():
            cell = taken.get(column.at)
            if column.role == "notes" and cell is not None:
                remark = count_in_remark(cell.text, language)
                if remark.is_unsure:
                    self.account.doubt(cell.cell, About.COUNT, text("leaves open how many servos there are"))
                elif remark.number and remark.number > 1:
                    self.account.doubt(
                        cell.cell,
                        About.CHANNEL,
                        on_one_channel(remark.number),
                    )
        counted = [remark.number for remark in remarks if remark.number]
        if counted:
            return counted[0]
        if channels and len(channels.numbers) > 1:
            return len(channels.numbers)
        on_y = function.y_lead or servo.y_lead or any(remark.y_lead for remark in remarks)
        return 2 if on_y and not function.side and not servo.side else 1

    def _tell_group(
        self,
        taken: Mapping[int, CellWords],
        count: int,
        channels: Channels | None,
        function: Phrase,
        servo: Phrase,
    ) -> None:
        if count < 2:
            return
        several = channels is not None and len(channels.numbers) > 1
        cell_words = (
            self.get(taken, "channel") if several else self.get(taken, "function") or self.get(taken, "servo")
        )
        if cell_words is not None:
            sided = bool(function.side or servo.side)
            words = (
                _on_channels(count, channels, sided) if several and channels else on_one_channel(count, sided)
            )
            self.account.doubt(cell_words.cell, About.CHANNEL, words)

    def _seat(
        self,
        taken: Mapping[int, CellWords],
        work: str,
        function: Phrase,
        servo: Phrase,
        name: TypeName | None,
        notes: list[str],
    ) -> Seat:
        words = self.get(taken, "function")
        seat = Seat(work, words.text if words else "", function.side or servo.side, servo=name, notes=notes)
        for role in ("function", "servo", "model", "channel", "fitted", "tag", "lead"):
            cell = self.get(taken, role)
            if cell is not None:
                seat.cells["servo" if role == "model" else role] = cell.cell
        if words is not None:
            self.account.read(words.cell)
            if not work:
                reason = (
                    text("what the servo works is not known")
                    if function.unknown
                    else text("is no function that is understood")
                )
                self.account.doubt(words.cell, About.FUNCTION, reason)
        seat.fitted = self.day(self.get(taken, "fitted"), text("the day it was fitted is not known"))
        gone = self.get(taken, "removed")
        if gone is not None and not gone.is_none:
            seat.removed = self.day(gone, text("the day it was taken out is not known"))
        seat.lead_mm = self.lead(taken)
        seat.tag = self._tag(taken)
        seat.price = self.price(taken)
        return seat

    def _place(self, plane: Plane, seat: Seat, count: int, channels: Channels | None) -> None:
        place(plane, seat, count, channels)


def on_one_channel(count: int, is_side_known: bool = False) -> Text:
    """Several servos on one channel, and what is not known of them."""
    if is_side_known:
        return text("{count} servos on one channel; how are they joined?", count=count)
    return text("{count} servos on one channel; on which side is each?", count=count)


def _on_channels(count: int, channels: Channels, is_side_known: bool) -> Text:
    numbers = series(channels.numbers, ",")
    if is_side_known:
        return text(
            "{count} servos on channels {numbers}; how are they joined?", count=count, numbers=numbers
        )
    return text("{count} servos on channels {numbers}; on which side is each?", count=count, numbers=numbers)


def place(plane: Plane, seat: Seat, count: int, channels: Channels | None) -> None:
    """Give an aircraft the places of a row: as many as it stands for, spread over its channels."""
    numbers = channels.numbers if channels else ()
    for number in range(count):
        placed = Seat(
            seat.function, seat.words, seat.side, None, seat.servo, seat.fitted, seat.removed, seat.lead_mm,
            seat.tag if number == 0 else "", seat.price, seat.notes, seat.cells, count,
        )  # fmt: skip
        placed.channel = numbers[number * len(numbers) // count] if numbers else None
        placed.order = len(plane.seats)
        plane.seats.append(placed)
