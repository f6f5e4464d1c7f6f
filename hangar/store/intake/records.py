"""The records that a reading proposes, each field with the cell it comes from."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterable
from typing import Any

from hangar.base.text import text
from hangar.parts.choices import AircraftState
from hangar.store.intake.account import About, Account
from hangar.store.intake.again import Again
from hangar.store.intake.facts import Plane, Seat, SheetPack, SheetRating
from hangar.store.intake.grid import Cell
from hangar.store.intake.pack_tests import PackTests
from hangar.store.intake.packs import PackRead, pack_code
from hangar.store.intake.present import NOTHING, Present, PresentPlane, PresentSeat
from hangar.store.intake.proposal import NewRow, Proposal, SheetChange
from hangar.store.intake.reading import Reading
from hangar.store.intake.vocabulary import folded, squeezed

PORT = "main"
_STEMS = {
    "aileron": "AIL", "elevator": "ELE", "rudder": "RUD", "v-tail": "VT", "flap": "FLAP", "spoiler": "SPOIL",
    "throttle": "THR", "cyclic": "CYC", "collective": "COLL", "tail": "TAIL", "retract": "GEAR",
    "door": "DOOR", "brake": "BRAKE", "steering": "STEER", "thrust vector": "VEC", "tow release": "TOW",
    "choke": "CHOKE", "smoke": "SMOKE", "gain": "GAIN",
    "mode": "MODE", "lights": "LIGHT", "spare": "SPARE", "engine stop": "STOP",
}  # fmt: skip


def proposed(reading: Reading, present: Present = NOTHING, base: Reading | None = None) -> Proposal:
    """What a reading would write into a fleet that holds ``present``.

    ``base`` is the reading of the copy that was brought in before: what the sheet says now as it said
    then stays as the fleet has it.
    """
    maker = Maker(reading, present, base)
    return Proposal(maker.made(), maker.changes, maker.again.asked)


def function_of_code(code: str) -> tuple[str, str] | None:
    """What a position's code says of its work and its side, where it is made as ours are.

    >>> function_of_code("AIL-L"), function_of_code("RUD"), function_of_code("QX")
    (('aileron', 'left'), ('rudder', ''), None)
    """
    stem, _, rest = code.upper().partition("-")
    function = next((name for name, made in _STEMS.items() if made == stem), None)
    side = {"L": "left", "R": "right"}.get(rest.partition("-")[0], "")
    return (function, side) if function is not None else None


def made_code(name: str, taken: Iterable[str]) -> str:
    """A code of 2 to 6 characters for an aircraft's name that no other has.

    >>> made_code("Windrush Mk2", ()), made_code("Windrush Mk3", ()), made_code("Windrush Mk 2", ["WINM2"])
    ('WINM2', 'WINM3', 'WINM22')
    """
    words = re.findall(r"[a-z]+|\d+", folded(name))
    head = next((word for word in words if word.isalpha()), "x")
    rest = "".join(word[:1] if word.isalpha() else word for word in words if word is not head)
    stem = (head[: max(3, 4 - len(rest))] + rest)[:5].upper().ljust(2, "X")
    used = set(taken)
    code, number = stem, 1
    while code in used:
        number += 1
        code = f"{stem[: 6 - len(str(number))]}{number}"
    return code


def _rating_cells(rated: SheetRating) -> dict[str, Cell]:
    given = {"torque_nm": rated.torque_cell, "transit_s": rated.speed_cell, "rated_v": rated.volts_cell}
    return {name: cell for name, cell in given.items() if cell is not None}


class Maker:
    """Makes the records of a reading, aircraft by aircraft."""

    def __init__(self, reading: Reading, present: Present, base: Reading | None) -> None:
        self.reading = reading
        self.present = present
        self.again = Again(present, base, reading.account, reading.types)
        self.account: Account = reading.account
        self.codes, self.tags = set(present.codes), set(present.tags)
        self.out: list[NewRow] = []
        self.pack_types: set[str] = set(present.pack_types)
        self.pack_tags: dict[int, str] = {}

    @property
    def changes(self) -> list[SheetChange]:
        """How the sheet differs from the fleet."""
        return self.again.changes

    def put(self, kind: str, cells: dict[str, Cell] | None = None, /, **values: Any) -> None:
        """Propose a record."""
        self.out.append(NewRow(kind, values, cells or {}))

    def made(self) -> list[NewRow]:
        """Everything that the reading proposes."""
        self._types()
        for plane in self.reading.facts.planes.values():
            self._plane(plane)
        for pack in self.reading.facts.log_packs.values():
            self._pack(pack, "")
        self._stock()
        self.out += PackTests(self.reading.facts, self.account, self.present, self.pack_tags).made()
        self.again.tell_gone(self.reading.facts.planes)
        return self.out

    def _types(self) -> None:
        for key, made in self.reading.types.items():
            there = self.present.types.get(key)
            if there is not None:
                made.code = there.code
                self.out += self.again.of_type(made, there)
                continue
            values = {"code": made.code, "maker": made.maker or None, "drive": made.drive or None}
            if made.pulse_us is not None:
                values["pulse_us"] = made.pulse_us  # type: ignore[assignment]
            self.put("servo-type", {"code": made.names[0].cell}, **values)
            for volts, rated in sorted(made.ratings.items()):
                self.put(
                    "servo-rating",
                    _rating_cells(rated),
                    servo_type=made.code,
                    rated_v=volts,
                    torque_nm=made.torque_nm.get(volts),
                    transit_s=rated.transit_s,
                )

    def _plane(self, plane: Plane) -> None:
        there = self.present.planes.get(squeezed(plane.name))
        if there is not None:
            self._plane_again(plane, there)
            return
        code = made_code(plane.name, self.codes)
        self.codes.add(code)
        open_fields = [
            name
            for name, words in (("aircraft_class", plane.aircraft_class), ("power", plane.power))
            if not words
        ]
        cells = dict.fromkeys(open_fields or ["name"], plane.cell) if plane.cell else {}
        self.put(
            "airframe", cells, code=code, name=plane.name, aircraft_class=plane.aircraft_class or None,
            power=plane.power or None, span_mm=plane.span_mm, all_up_mass_g=plane.mass_g,
            notes="; ".join(plane.notes) or None,
            **({"state": AircraftState.PASSED_ON.value} if plane.is_gone else {}),
        )  # fmt: skip
        self._channels(plane, code)
        used: set[str] = set()
        for seat in plane.seats:
            self._seat(plane, code, seat, used)
        self._supply(plane, code)

    def _plane_again(self, plane: Plane, there: PresentPlane) -> None:
        """An aircraft that the fleet has: only what differs is proposed."""
        self.out += self.again.of_plane(plane, there)
        matched = self.again.matched(plane, there)
        used = {seat.code for seat in there.seats}
        fresh: list[Seat] = []
        for seat in plane.seats:
            place = matched.get(seat.order)
            if place is None:
                if seat.removed is None or not self.again.has_stay(there, seat):
                    fresh.append(seat)
                continue
            self.out += self.again.of_seat(plane, there, seat, place)
            if self.again.is_new_servo(plane, seat, place):
                self._servo(there.code, place.code, seat, place)
        self._channels(plane, there.code, set(there.channels))
        for seat in fresh:
            self._seat(plane, there.code, seat, used)
        self._supply(plane, there.code, there)

    def _channels(self, plane: Plane, code: str, present: Iterable[int] = ()) -> None:
        counts: dict[int, list[Seat]] = defaultdict(list)
        for seat in plane.seats:
            if seat.channel is not None and seat.removed is None:
                counts[seat.channel].append(seat)
        for seat in plane.seats:
            if seat.channel is not None and seat.channel not in counts:
                counts[seat.channel] = [seat]
        for number, seats in counts.items():
            if number in set(present):
                continue
            self.put(
                "channel",
                aircraft=code,
                port=PORT,
                number=number,
                function=seats[0].function,
                y_lead=len(seats) > 1,
            )

    def _seat(self, plane: Plane, code: str, seat: Seat, used: set[str]) -> None:
        stem = _STEMS.get(seat.function, "SPARE") + {"left": "-L", "right": "-R"}.get(seat.side, "")
        place, number = stem, 1
        same = self._same_place(seat, stem, plane)
        if same and same in used:
            place = same
        else:
            while place in used:
                number += 1
                place = f"{stem}-{number}"
            used.add(place)
            name = seat.words or place
            self.put("position", seat.cells, aircraft=code, code=place, name=name, function=seat.function,
                     side=seat.side or None, port=PORT, channel=seat.channel)  # fmt: skip
            if seat.lead_mm is not None:
                self.put(
                    "lead",
                    {"length_mm": seat.cells["lead"]},
                    aircraft=code,
                    position=place,
                    length_mm=seat.lead_mm,
                )
        if seat.servo is not None:
            self._servo(code, place, seat)

    def _same_place(self, seat: Seat, stem: str, plane: Plane) -> str:
        """A servo that was taken out, and the one that came after it, had one place."""
        others = [
            other_seat
            for other_seat in plane.seats
            if other_seat.function == seat.function
            and other_seat.side == seat.side
            and other_seat.channel == seat.channel
        ]
        return (
            stem
            if any(seat.removed is not None for seat in others)
            and len([seat for seat in others if seat.removed is None]) <= 1
            else ""
        )

    def _servo(self, code: str, place: str, seat: Seat, before: PresentSeat | None = None) -> None:
        assert seat.servo is not None
        made = self.reading.types[seat.servo.key]
        if before is not None and before.servo:
            self.out += self.again.end_stay(code, before, seat)
        tag = self._tag(seat.tag, f"{code}-{place}", seat.cells.get("tag"))
        is_there = seat.removed is None
        state = "fitted" if is_there else "in the bay"
        self.put("servo", seat.cells, tag=tag, servo_type=made.code, state=state,
                 price=seat.price, notes="; ".join(dict.fromkeys(seat.notes)) or None)  # fmt: skip
        self.put("installation", seat.cells, servo=tag, aircraft=code, position=place, since_on=seat.fitted,
                 until_on=seat.removed)  # fmt: skip

    def _tag(self, given: str, made: str, cell: Cell | None) -> str:
        if given and given in self.tags:
            self.account.doubt(cell, About.NAME, text("is the number of another part too"))
            given = ""
        tag, number = given or made, 1
        while tag in self.tags:
            number += 1
            tag = f"{given or made}-{number}"
        self.tags.add(tag)
        return tag

    def _supply(self, plane: Plane, code: str, there: PresentPlane | None = None) -> None:
        regulator = None
        if there is not None and there.regulators:
            plane.regulators = []
        for number, regulator_found in enumerate(plane.regulators, start=1):
            type_code = f"{regulator_found.words[:60]} ({code})"
            kind = {"bec": "speed-controller supply"}.get(regulator_found.kind, regulator_found.kind) or None
            if number > 9:
                break
            self.put("regulator-type", {"code": regulator_found.cell}, code=type_code, regulator=kind)
            regulator = "REG" if number == 1 else f"REG-{number}"
            self.put(
                "regulator",
                {"set_v": regulator_found.cell},
                aircraft=code,
                code=regulator,
                regulator_type=type_code,
                set_v=regulator_found.set_v,
            )
        feeds: set[str] = set(there.feeds) if there is not None else set()
        remaining = list(there.packs) if there is not None else []
        for pack in plane.packs:
            if pack.kind in remaining:
                remaining.remove(pack.kind)
                continue
            tag = self._pack(pack, code)
            role, feed = ("ignition", "IGN") if pack.for_ignition else ("receiver", "RX")
            name, number = feed, 1
            while name in feeds:
                number += 1
                name = f"{feed}-{number}"
            feeds.add(name)
            first = regulator is not None and role == "receiver" and number == 1
            self.put("feed", aircraft=code, code=name, role=role, regulator="REG" if first else None)
            self.put(
                "pack-fit",
                {"pack": pack.cells["pack"]},
                pack=tag,
                aircraft=code,
                feed=name,
                since_on="",
                until_on=None,
            )
        if regulator is not None and "RX" not in feeds:
            self.put("feed", aircraft=code, code="RX", role="receiver", regulator="REG")

    def _pack(self, pack: SheetPack, code: str) -> str:
        type_code = self._pack_type(pack)
        if pack.tag and id(pack) in self.pack_tags:
            return self.pack_tags[id(pack)]
        if pack.tag and pack.tag in self.present.packs:
            return pack.tag
        tag = self._tag(pack.tag, f"{code or 'PACK'}-P", pack.cells.get("tag"))
        self.pack_tags[id(pack)] = tag
        self.put("pack", pack.cells, tag=tag, pack_type=type_code, bought_on=pack.bought or None,
                 cycles=pack.cycles, notes="; ".join(dict.fromkeys(pack.notes)) or None)  # fmt: skip
        return tag

    def _pack_type(self, pack: SheetPack) -> str:
        type_code = pack_code(PackRead(pack.chemistry, pack.series, pack.parallel, pack.capacity_mah))
        if type_code not in self.pack_types:
            self.pack_types.add(type_code)
            self.put("pack-type", pack.cells, code=type_code, chemistry=pack.chemistry, series=pack.series,
                     parallel=pack.parallel, capacity_mah=pack.capacity_mah)  # fmt: skip
        return type_code

    def _stock(self) -> None:
        for number, stock_found in enumerate(self.reading.facts.stock, start=1):
            cells = {"code": stock_found.cell} if stock_found.cell else {}
            if stock_found.tag and stock_found.tag in self.present.tags:
                continue
            if (
                stock_found.servo is not None
                and stock_found.count == 1
                and (stock_found.tag or stock_found.is_scrapped)
            ):
                made = self.reading.types[stock_found.servo.key]
                tag = self._tag(stock_found.tag, f"S-{number}", stock_found.cell)
                state = "scrapped" if stock_found.is_scrapped else "in the bay"
                self.put(
                    "servo",
                    cells,
                    tag=tag,
                    servo_type=made.code,
                    state=state,
                    bin=stock_found.place or None,
                    price=stock_found.price,
                    notes="; ".join(stock_found.notes) or None,
                )
            elif stock_found.servo is not None:
                made = self.reading.types[stock_found.servo.key]
                self._stock_item(
                    number, "servo", made.code, stock_found.count, stock_found.place, stock_found.price, cells
                )
            elif stock_found.pack is not None:
                self._stock_item(
                    number,
                    "pack",
                    self._pack_type(stock_found.pack),
                    stock_found.count,
                    stock_found.place,
                    stock_found.price,
                    cells,
                )

    def _stock_item(
        self,
        number: int,
        kind: str,
        part_type: str,
        count: int,
        place: str,
        price: float | None,
        cells: dict[str, Cell],
    ) -> None:
        there = self.present.stock.get((kind, part_type, place))
        if there is not None:
            self.out += self.again.of_stock(there, float(count), cells)
            return
        code = f"S-{number}"
        while code in self.present.stock_codes:
            code += "x"
        self.put(
            "stock-item",
            cells,
            code=code,
            kind=kind,
            part_type=part_type,
            on_hand=float(count),
            bin=place or None,
            price=price,
        )
