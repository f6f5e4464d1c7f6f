"""The aircraft, positions and fitted servos of a keeper's sheet."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date

from hangar.base.errors import BadInput, words_of
from hangar.base.text import text
from hangar.base.units import parse_number
from hangar.parts import Airframe, Channel, Installation, Lead, Position, Servo
from hangar.parts.choices import Function, ServoState
from hangar.parts.fields import specs
from hangar.store.codec import checked_values
from hangar.store.wide_book import Book, Line
from hangar.store.wide_columns import Role
from hangar.store.wide_words import Duty, day_of, duty_of, guess_class, wire_of

PORT = "main"


@dataclass(slots=True)
class FoundAircraft:
    """An aircraft of the sheet with its rows; ``is_new`` when the fleet did not have it."""

    name: str
    code: str = ""
    is_new: bool = True
    lines: list[Line] = field(default_factory=list)


def take_aircraft(book: Book, types: dict[int, str]) -> list[FoundAircraft]:
    """Take the aircraft of the sheet with their positions, servos and leads."""
    found: dict[str, FoundAircraft] = {}
    for line in book.lines:
        entry = found.setdefault(_squeezed(line.model), FoundAircraft(line.model))
        entry.lines.append(line)
    present = {_squeezed(airframe.name): airframe for airframe in book.known(Airframe)}
    codes = {airframe.code for airframe in present.values()}
    for key, entry in found.items():
        if key in present:
            entry.code, entry.is_new = present[key].code, False
        else:
            entry.code = made_code(entry.name, codes)
            codes.add(entry.code)
            _take_airframe(book, entry)
    _Fitter(book, types).take(found.values())
    return list(found.values())


def _squeezed(name: str) -> str:
    return re.sub(r"[^a-z0-9]", "", name.lower())


def made_code(name: str, taken: Iterable[str]) -> str:
    """A code of 2 to 6 characters for an aircraft's name that no other has.

    >>> made_code("Windrush Mk2", ()), made_code("Windrush Mk3", ()), made_code("Windrush Mk 2", ["WINM2"])
    ('WINM2', 'WINM3', 'WINM22')
    """
    words = re.findall(r"[a-z]+|\d+", name.lower())
    head = next((word for word in words if word.isalpha()), "x")
    rest = "".join(word[:1] if word.isalpha() else word for word in words if word is not head)
    stem = (head[: max(3, 4 - len(rest))] + rest)[:5].upper().ljust(2, "X")
    used = set(taken)
    code, number = stem, 1
    while code in used:
        number += 1
        code = f"{stem[: 6 - len(str(number))]}{number}"
    return code


def _take_airframe(book: Book, entry: FoundAircraft) -> None:
    first = entry.lines[0]
    words = [entry.name, *(line.text(Role.NOTES) for line in entry.lines)]
    words += [line.text(Role.FUNCTION) for line in entry.lines]
    guess = guess_class(words, (duty_of(line.text(Role.FUNCTION)).function for line in entry.lines))
    book.take(
        Airframe(code=entry.code, name=entry.name, aircraft_class=guess.aircraft_class, power=guess.power),
        first,
    )
    book.state(first.number, Role.MODEL, entry.name, text("was given the code {code}.", code=entry.code))
    words_of_guess = text(
        "class guessed as {aircraft_class}, power as {power}: {because}.",
        aircraft_class=guess.aircraft_class,
        power=guess.power,
        because=guess.because,
    )
    book.doubt(first, Role.MODEL, words_of_guess)


class _Fitter:
    """Takes positions and the servos fitted there, line by line."""

    def __init__(self, book: Book, types: dict[int, str]) -> None:
        self.book = book
        self.types = types
        self.tags = {servo.tag for servo in book.known(Servo)}
        self.type_of = {servo.tag: servo.servo_type for servo in book.known(Servo)}
        self.positions = {(each.aircraft, each.code) for each in book.known(Position)}
        self.channels = {
            (each.aircraft, each.number): "" for each in book.known(Channel) if each.port == PORT
        }
        self.stays = {(s.aircraft, s.position): s for s in book.known(Installation) if s.until_on is None}
        self.made: list[tuple[Line, str]] = []
        self.undated: list[Line] = []

    def take(self, found: Iterable[FoundAircraft]) -> None:
        """Take every line of every aircraft, then say what was made up."""
        for entry in found:
            used: set[str] = set()
            for line in entry.lines:
                duty = self._duty(line)
                code, number = duty.stem, 1
                while code in used:
                    number += 1
                    code = f"{duty.stem}-{number}"
                used.add(code)
                self._take_line(line, entry.code, code, duty)
        if self.made:
            (first, tag), (_, last) = self.made[0], self.made[-1]
            words = text(
                "tags {tag} to {last} were made up for {count} servos that had none.",
                tag=tag,
                last=last,
                count=len(self.made),
            )
            if len(self.made) == 1:
                words = text("tag {tag} was made up for a servo that had none.", tag=tag)
            self.book.state(first.number, Role.SERVO, first.text(Role.SERVO), words)
        if self.undated:
            day = self.book.today.isoformat()
            words = text(
                "{count} rows give no day; their servos count as fitted from {day} on.",
                count=len(self.undated),
                day=day,
            )
            if len(self.undated) == 1:
                words = text("one row gives no day; its servo counts as fitted from {day} on.", day=day)
            self.book.state(self.undated[0].number, Role.FITTED, "", words)

    def _duty(self, line: Line) -> Duty:
        words = line.text(Role.FUNCTION)
        duty = duty_of(words)
        if not duty.understood:
            self.book.doubt(line, Role.FUNCTION, text("is no function Hangar knows; taken as spare."))
        return duty

    def _take_line(self, line: Line, aircraft: str, code: str, duty: Duty) -> None:
        book, place = self.book, (aircraft, code)
        servo_type = self.types.get(line.number)
        stay = self.stays.get(place)
        if stay is not None:
            if servo_type == self.type_of.get(stay.servo):
                words = text(
                    "{aircraft} {code} has servo {servo} of that type already; nothing was changed.",
                    aircraft=aircraft,
                    code=code,
                    servo=stay.servo,
                )
                book.state(line.number, Role.SERVO, line.text(Role.SERVO), words)
            else:
                words = text(
                    "{aircraft} {code} holds servo {servo} of another type; the row was left out.",
                    aircraft=aircraft,
                    code=code,
                    servo=stay.servo,
                )
                book.refuse(line, Role.SERVO, words)
            return
        if place not in self.positions:
            self._take_position(line, aircraft, code, duty)
        if servo_type is not None:
            self._take_servo(line, aircraft, code, servo_type)

    def _take_position(self, line: Line, aircraft: str, code: str, duty: Duty) -> None:
        channel = self._channel(line, aircraft, duty.function)
        name = line.text(Role.FUNCTION) or code
        position = Position(
            aircraft=aircraft,
            code=code,
            name=name,
            function=duty.function,
            side=duty.side,
            port=PORT,
            channel=channel,
            notes=line.text(Role.NOTES) or None,
        )
        self.book.take(position, line)
        self._take_lead(line, aircraft, code)

    def _channel(self, line: Line, aircraft: str, function: Function) -> int | None:
        cell = line.text(Role.CHANNEL)
        if not cell:
            return None
        spec = next(spec for spec in specs(Channel) if spec.name == "number")
        try:
            number = int(spec.check(parse_number(cell)[0]))
        except BadInput as fault:
            self.book.refuse(
                line,
                Role.CHANNEL,
                text("{fault} The position was taken without a channel.", fault=words_of(fault)),
            )
            return None
        other = self.channels.get((aircraft, number))
        if other is None:
            self.channels[aircraft, number] = line.text(Role.FUNCTION) or str(function)
            self.book.take(Channel(aircraft=aircraft, port=PORT, number=number, function=function), line)
        elif other:
            self.book.doubt(
                line,
                Role.CHANNEL,
                text(
                    'channel {number} is used by "{other}" already; both were taken.',
                    number=number,
                    other=other,
                ),
            )
        return number

    def _take_lead(self, line: Line, aircraft: str, code: str) -> None:
        cell = line.text(Role.LEAD)
        if not cell or cell == "?":
            return
        try:
            wire = wire_of(cell, self.book.layout.units.get(Role.LEAD))
            lead = Lead(aircraft=aircraft, position=code, length_mm=wire.length_mm, awg=wire.awg)
            checked_values(lead)
        except BadInput as fault:
            self.book.refuse(line, Role.LEAD, text("{fault} The lead was left out.", fault=words_of(fault)))
            return
        for words in wire.doubts:
            self.book.doubt(line, Role.LEAD, words)
        self.book.take(lead, line)

    def _take_servo(self, line: Line, aircraft: str, position: str, servo_type: str) -> None:
        tag = line.text(Role.TAG)
        if tag in self.tags:
            self.book.doubt(
                line, Role.TAG, text("is the tag of another servo already; a new one was made up.")
            )
            tag = ""
        if not tag:
            tag = self._made_tag()
            self.made.append((line, tag))
        self.tags.add(tag)
        self.book.take(Servo(tag=tag, servo_type=servo_type, state=ServoState.FITTED), line)
        since = self._since(line)
        self.book.take(Installation(servo=tag, aircraft=aircraft, position=position, since_on=since), line)

    def _made_tag(self) -> str:
        number = len(self.made) + 1
        while f"W-{number:02d}" in self.tags:
            number += 1
        return f"W-{number:02d}"

    def _since(self, line: Line) -> date:
        cell = line.text(Role.FITTED)
        if not cell:
            self.undated.append(line)
            return self.book.today
        if re.fullmatch(r"[?\-–]+", cell):
            words = text(
                "is not known; the servo counts as fitted from {day} on.",
                day=self.book.today.isoformat(),
            )
            self.book.doubt(line, Role.FITTED, words)
            return self.book.today
        try:
            found = day_of(line.raw.get(Role.FITTED), self.book.today)
        except BadInput as fault:
            words = text(
                "{fault} The servo counts as fitted from {day} on.",
                fault=words_of(fault),
                day=self.book.today.isoformat(),
            )
            self.book.refuse(line, Role.FITTED, words)
            return self.book.today
        if found.remark:
            words = text("{remark}: {day}.", remark=found.remark, day=found.day.isoformat())
            if found.sure:
                self.book.state(line.number, Role.FITTED, cell, words)
            else:
                self.book.doubt(line, Role.FITTED, words)
        return found.day
