"""A sheet that comes again, changed: sheet then, sheet now and fleet now are held against each other.

What the sheet says as it said then stays as the fleet has it. What it says otherwise is taken where the
fleet still has what the sheet said then, else asked. Nothing is taken away.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from hangar.base.text import Amount, Arg, Text, as_text, text
from hangar.parts.choices import AircraftClass, Drive, Function, PowerKind, Side
from hangar.store.intake.account import About, Account, Answer
from hangar.store.intake.facts import Plane, Seat, SheetRating
from hangar.store.intake.grid import Cell
from hangar.store.intake.present import Present, PresentPlane, PresentSeat, PresentStock, PresentType
from hangar.store.intake.proposal import NewRow, SheetChange
from hangar.store.intake.reading import Reading
from hangar.store.intake.types import SheetType
from hangar.store.intake.vocabulary import squeezed

_LIKE = 0.02
_NO_LONGER = text("no longer in the sheet; it stays")


class Again:
    """Compares what a reading says with what is there."""

    def __init__(
        self, present: Present, base: Reading | None, account: Account, types: Mapping[str, SheetType]
    ) -> None:
        self._present = present
        self._base = base
        self._account = account
        self._types = types
        self.changes: list[SheetChange] = []
        self.asked: list[SheetChange] = []
        """Where sheet and fleet differ and the keeper has to say which is right."""

    # -- what the sheet said before ---------------------------------------------------------------------
    def _before(self, plane: Plane) -> Plane | None:
        return self._base.facts.planes.get(squeezed(plane.name)) if self._base else None

    def _seat_before(self, plane: Plane, seat: Seat) -> Seat | None:
        before = self._before(plane)
        same = [
            other_seat
            for other_seat in plane.seats
            if (other_seat.function, other_seat.side, other_seat.removed is None)
            == (seat.function, seat.side, seat.removed is None)
        ]
        then = (
            [
                other_seat
                for other_seat in before.seats
                if (other_seat.function, other_seat.side, other_seat.removed is None)
                == (seat.function, seat.side, seat.removed is None)
            ]
            if before
            else []
        )
        at = next((number for number, other_seat in enumerate(same) if other_seat is seat), 0)
        return then[at] if at < len(then) else None

    def _decide(
        self, cell: Cell | None, record: Text, field: str, was: Any, now: Any, then: Any, knows_then: bool
    ) -> bool:
        """Whether the fleet takes what the sheet says now; what differs is told or asked."""
        if now == was or now in (None, ""):
            return False
        if knows_then and now == then:
            return False
        if was in (None, "") or (knows_then and then == was):
            if was not in (None, ""):
                self.changes.append(SheetChange(cell, record, field, _said(field, was), _said(field, now)))
            return True
        words = text("says {now}; the fleet has {was}", now=_said(field, now), was=_said(field, was))
        return self._ask(SheetChange(cell, record, field, _said(field, was), _said(field, now)), words)

    def _ask(self, change: SheetChange, words: Text) -> bool:
        """Whether the keeper said that the sheet is right; where he said nothing yet he is asked."""
        self.asked.append(change)
        answers = self._account.replies
        answer = answers.get(change.key, answers.get(About.CHANGED, ""))
        if not answer:
            self._account.doubt(change.cell, About.CHANGED, words, (Answer.FLEET, Answer.SHEET))
        else:
            self._account.read(change.cell)
        if answer == Answer.SHEET:
            self.changes.append(change)
        return answer == Answer.SHEET

    # -- aircraft --------------------------------------------------------------------------------------
    def of_plane(self, plane: Plane, there: PresentPlane) -> list[NewRow]:
        """The fields of an aircraft that the sheet gives otherwise."""
        before = self._before(plane)
        fields = (
            ("span_mm", plane.span_mm, before.span_mm if before else None),
            ("all_up_mass_g", plane.mass_g, before.mass_g if before else None),
            ("aircraft_class", plane.aircraft_class, before.aircraft_class if before else None),
            ("power", plane.power, before.power if before else None),
        )
        knows = before is not None
        values = {
            field: now
            for field, now, then in fields
            if self._decide(
                plane.cell,
                text("{aircraft}", aircraft=plane.name),
                field,
                there.fields.get(field),
                now,
                then,
                knows,
            )
        }
        return [NewRow("airframe", values, {}, (there.code,))] if values else []

    def matched(self, plane: Plane, there: PresentPlane) -> dict[int, PresentSeat]:
        """Which place of the fleet each servo of the sheet is at: a channel is a property, no identity."""
        remaining = list(there.seats)
        seats_there: dict[int, PresentSeat] = {}
        waiting = [seat for seat in plane.seats if seat.removed is None]
        for alike in (_same_all, _same_side, _same_work):
            for seat in list(waiting):
                place = next(
                    (
                        present_seat
                        for present_seat in remaining
                        if alike(seat, present_seat, self._type_code(seat))
                    ),
                    None,
                )
                if place is not None:
                    seats_there[seat.order] = place
                    remaining.remove(place)
                    waiting.remove(seat)
        return seats_there

    def _type_code(self, seat: Seat) -> str:
        return self._types[seat.servo.key].code if seat.servo else ""

    def has_stay(self, there: PresentPlane, seat: Seat) -> bool:
        """Whether the fleet knows that a servo of that type was there."""
        return (seat.function, self._type_code(seat)) in there.past

    def of_seat(self, plane: Plane, there: PresentPlane, seat: Seat, place: PresentSeat) -> list[NewRow]:
        """A place that the fleet has: its channel, its day, its lead."""
        then = self._seat_before(plane, seat)
        record = _seat_words(plane.name, place)
        made: list[NewRow] = []
        channel_then = then.channel if then else None
        if self._decide(
            seat.cells.get("channel"),
            record,
            "channel",
            place.channel,
            seat.channel,
            channel_then,
            then is not None,
        ):
            made.append(NewRow("position", {"channel": seat.channel}, {}, (there.code, place.code)))
        if seat.lead_mm is not None and place.code not in there.leads:
            made.append(
                NewRow("lead", {"aircraft": there.code, "position": place.code, "length_mm": seat.lead_mm})
            )
        if place.servo and self._type_code(seat) == place.servo_type and seat.fitted:
            made += self._corrected(there.code, record, seat, place, then)
        return made

    def _corrected(
        self, code: str, record: Text, seat: Seat, place: PresentSeat, then: Seat | None
    ) -> list[NewRow]:
        """Another day for a servo of the same type: corrected, or another servo of that type?

        That the sheet is right corrects the day; another servo of the type is fitted by hand.
        """
        if seat.fitted == place.since or (then is not None and then.fitted == seat.fitted):
            return []
        was: Arg = place.since or text("no day")
        words = text(
            "says {now}; the fleet has {was}: a correction, or another servo of the type?",
            now=seat.fitted,
            was=was,
        )
        change = SheetChange(seat.cells.get("fitted"), record, "since_on", was, seat.fitted)
        if not self._ask(change, words):
            return []
        key = (place.servo, code, place.code, place.since)
        return [NewRow("installation", {"since_on": seat.fitted}, {}, key)]

    def is_new_servo(self, plane: Plane, seat: Seat, place: PresentSeat) -> bool:
        """Whether the sheet has another servo type at a place than the fleet, and it may be taken."""
        if seat.servo is None:
            return False
        then = self._seat_before(plane, seat)
        then_code = self._base.types[then.servo.key].code if then and then.servo and self._base else ""
        record = _seat_words(plane.name, place)
        return self._decide(
            seat.cells.get("servo"),
            record,
            "servo type",
            place.servo_type,
            self._type_code(seat),
            then_code,
            then is not None,
        )

    def end_stay(self, code: str, before: PresentSeat, seat: Seat) -> list[NewRow]:
        """The servo before leaves its place on the day the new one came."""
        key = (before.servo, code, before.code, before.since)
        return [
            NewRow("installation", {"until_on": seat.fitted}, {}, key),
            NewRow("servo", {"state": "in the bay", "bin": f"{code} {before.code}"}, {}, (before.servo,)),
        ]

    def tell_gone(self, planes: Mapping[str, Plane]) -> None:
        """Say which rows the sheet had before and has no longer."""
        if self._base is None:
            return
        for key, before in self._base.facts.planes.items():
            now = planes.get(key)
            if now is None:
                self.changes.append(
                    SheetChange(
                        None, text("{aircraft}", aircraft=before.name), "aircraft", before.name, _NO_LONGER
                    )
                )
                continue
            for seat in _missing(before.seats, now.seats):
                words = _seat_words(before.name, seat)
                self.changes.append(SheetChange(None, words, "row", words, _NO_LONGER))

    # -- types and spares --------------------------------------------------------------------------------
    def of_type(self, made: SheetType, there: PresentType) -> list[NewRow]:
        """What the sheet adds to a servo type of the fleet."""
        proposeds: list[NewRow] = []
        values: dict[str, Any] = {}
        if made.drive and not there.drive:
            values["drive"] = made.drive
        if made.maker and not there.maker:
            values["maker"] = made.maker
        if values:
            proposeds.append(NewRow("servo-type", values, {}, (there.code,)))
        if made.drive and there.drive and made.drive != there.drive:
            now, was = Drive(made.drive), Drive(there.drive)
            words = text("is {now} in the sheet, {was} in the fleet", now=now, was=was)
            if self._ask(SheetChange(made.names[0].cell, as_text(there.code), "drive", was, now), words):
                proposeds.append(NewRow("servo-type", {"drive": made.drive}, {}, (there.code,)))
        for volts, rated in made.ratings.items():
            torque = made.torque_nm.get(volts)
            has = there.ratings.get(volts)
            if has is None:
                proposeds.append(
                    NewRow(
                        "servo-rating",
                        {
                            "servo_type": there.code,
                            "rated_v": volts,
                            "torque_nm": torque,
                            "transit_s": rated.transit_s,
                        },
                    )
                )
            elif torque and has[0] and abs(torque / has[0] - 1) > _LIKE:
                proposeds += self._rating_again(there.code, rated, volts, torque, has[0])
        return proposeds

    def _rating_again(
        self, code: str, rated: SheetRating, volts: float, torque: float, has: float
    ) -> list[NewRow]:
        """Another stall torque at the same volts."""
        now, was = Amount(torque, "N m", 3), Amount(has, "N m", 3)
        at = Amount(volts, "V")
        words = text("gives {now} at {volts}; the fleet has {was}", now=now, volts=at, was=was)
        record = text("{servo} at {volts}", servo=code, volts=at)
        if not self._ask(SheetChange(rated.name.cell, record, "torque_nm", was, now), words):
            return []
        return [NewRow("servo-rating", {"torque_nm": torque}, {}, (code, volts))]

    def of_stock(self, there: PresentStock, count: float, cells: dict[str, Cell]) -> list[NewRow]:
        """Another number of the same spares."""
        if there.on_hand == count:
            return []
        self.changes.append(
            SheetChange(
                cells.get("code"),
                text("{spare}", spare=there.code),
                "on hand",
                text("{count:g}", count=there.on_hand),
                text("{count:g}", count=count),
            )
        )
        return [NewRow("stock-item", {"on_hand": count}, {}, (there.code,))]


def _said(field: str, value: Any) -> Arg:
    """What a field holds, as it is put into words; a code or a day stays as it is."""
    if field in ("span_mm", "all_up_mass_g") and value is not None:
        return Amount(float(value), "mm" if field == "span_mm" else "g")
    closed = {"aircraft_class": AircraftClass, "power": PowerKind}.get(field)
    return closed(value) if closed and value else value


def _seat_words(aircraft: str, seat: Seat | PresentSeat) -> Text:
    """Which servo of which aircraft."""
    function = Function(seat.function)
    if not seat.side:
        return text("{aircraft} {function}", aircraft=aircraft, function=function)
    return text("{aircraft} {function} {side}", aircraft=aircraft, function=function, side=Side(seat.side))


def _missing(then: Iterable[Seat], now: Iterable[Seat]) -> list[Seat]:
    remaining = [(seat.function, seat.side) for seat in now]
    gone = []
    for seat in then:
        if (seat.function, seat.side) in remaining:
            remaining.remove((seat.function, seat.side))
        else:
            gone.append(seat)
    return gone


def _same_all(seat: Seat, place: PresentSeat, type_code: str) -> bool:
    return (
        (seat.function, seat.side, seat.channel) == (place.function, place.side, place.channel)
        and type_code == place.servo_type
    )  # fmt: skip


def _same_side(seat: Seat, place: PresentSeat, _: str) -> bool:
    return (seat.function, seat.side) == (place.function, place.side)


def _same_work(seat: Seat, place: PresentSeat, _: str) -> bool:
    return seat.function == place.function and seat.channel is not None and seat.channel == place.channel
