"""Random keepers' sheets whose truth is known, for they were made from it."""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from pathlib import Path
from random import Random

from hangar.store.intake.vocabulary import squeezed
from tests.store.intake.forge_words import DECIMAL_COMMA, WORDS, Words

TODAY = date(2026, 3, 14)
UNITS = {"kg·cm": 0.0980665, "Ncm": 0.01, "oz-in": 0.0070615518, "N·m": 1.0, "kgcm": 0.0980665, "N cm": 0.01}
REPEATED = ("servo", "drive", "torque", "speed", "volts", "fitted")
MAKERS = ("Tessivar", "Ostrafell", "Brundel", "Kvastor", "Lumbeck")
NAMES = ("Turnstone", "Dunnalow", "Windrush", "Marlet", "Corbin", "Fennimore", "Grebeling", "Sedgewick")


AILERONS = (("aileron", "left"), ("aileron", "right"))
FLAPS = (("flap", "left"), ("flap", "right"))
BRAKES = (("spoiler", "left"), ("spoiler", "right"))
WORK: tuple[tuple[tuple[str, str], ...], ...] = (
    (*AILERONS, ("elevator", ""), ("throttle", ""), ("rudder", "")),
    (*AILERONS, ("v-tail", "left"), ("v-tail", "right"), *FLAPS),
    (AILERONS[0], ("elevator", ""), ("rudder", ""), AILERONS[1], *BRAKES, ("tow release", "")),
    (("elevator", ""), ("rudder", ""), ("throttle", ""), ("retract", "")),
)
PACKS = (None, ("NiMH", 5, 2000), ("LiFePO4", 2, 2300), ("NiCd", 4, 1100), ("Li-ion", 2, 3400))


@dataclass(frozen=True)
class Type:
    maker: str
    model: str
    digital: bool
    torque_nm: float
    transit_s: float
    volts: float


@dataclass(frozen=True)
class Seat:
    function: str
    side: str
    channel: int
    servo: Type
    fitted: str
    count: int = 1


@dataclass(frozen=True)
class Plane:
    name: str
    seats: tuple[Seat, ...]
    pack: tuple[str, int, int] | None = None


@dataclass(frozen=True)
class Style:
    """How one keeper writes."""

    language: str
    shape: str
    unit: str
    unit_in: str
    day_order: str
    separator: str
    encoding: str
    kind: str
    dittos: bool
    carries: bool
    title: bool
    total: bool
    blank_lines: bool
    several_files: bool = False


@dataclass
class Forged:
    """A sheet with its truth: for each fact the cell that says it."""

    rows: list[list[str]] = field(default_factory=list)
    facts: list[tuple[str, Plane, Seat, int, int]] = field(default_factory=list)
    """What, of which aircraft and seat, in which row and column of the file."""


def fleet(chance: Random) -> list[Plane]:
    """A few aircraft with their servos."""
    types = []
    for _ in range(chance.randint(2, 5)):
        maker = chance.choice(MAKERS)
        short = maker[:2].upper()
        models = (
            f"{short}-{chance.randint(11, 99) * 10}", f"{maker[0]}{chance.randint(2, 89)} mini",
            f"{short} {chance.randint(100, 999)}HV",
        )  # fmt: skip
        torque, time = round(chance.uniform(0.15, 2.2), 3), round(chance.uniform(0.07, 0.24), 2)
        digital, volts = chance.random() < 0.6, chance.choice((4.8, 6.0, 7.4))
        types.append(Type(maker, chance.choice(models), digital, torque, time, volts))
    unique = {squeezed(other_type.model): other_type for other_type in types}
    planes = []
    for name in chance.sample(NAMES, chance.randint(1, 4)):
        work = chance.choice(WORK)
        seats = [
            Seat(function, side, channel, chance.choice(list(unique.values())), _day(chance))
            for channel, (function, side) in enumerate(work, start=1)
        ]
        whole = f"{name} {chance.choice((40, 60, 90))}" if chance.random() < 0.6 else name
        planes.append(Plane(whole, tuple(seats), chance.choice(PACKS)))
    return planes


def _day(chance: Random) -> str:
    year = chance.randint(1992, 2025)
    exact = chance.random()
    if exact < 0.6:
        return f"{year}-{chance.randint(1, 12):02}-{chance.randint(1, 28):02}"
    if exact < 0.8:
        return f"{year}-{chance.randint(1, 12):02}"
    return str(year) if exact < 0.92 else ""


def style(chance: Random) -> Style:
    """One keeper's way of writing."""
    language = chance.choice(list(WORDS))
    kind = chance.choice(("csv", "csv", "csv", "txt", "xlsx", "ods", "xlsm"))
    return Style(
        language,
        chance.choice(
            (
                *("rows", "rows", "rows", "sections", "channels", "functions", "turned"),
                *("groups", "two headings"),
            )
        ),
        chance.choice(list(UNITS)),
        chance.choice(("heading", "heading", "cell", "title")),
        "mdy" if language == "en" and chance.random() < 0.5 else "dmy",
        chance.choice(";,\t") if kind == "csv" else "\t",
        chance.choice(("utf-8", "utf-8-sig", "cp1252", "utf-16")),
        kind,
        *(chance.random() < 0.3 for _ in range(5)),
    )


class _Writer:
    def __init__(self, chance: Random, how: Style) -> None:
        self.chance = chance
        self.how = how
        self.words: Words = WORDS[how.language]
        self.made = Forged()

    def number(self, value: float, digits: int) -> str:
        text = f"{value:.{digits}f}"
        return text.replace(".", ",") if self.how.language in DECIMAL_COMMA else text

    def day(self, day: str) -> str:
        if len(day) == 4 or not day:
            return day
        year, month = int(day[:4]), int(day[5:7])
        if len(day) == 7:
            return f"{self.words.months[month - 1]} {year}"
        first, second = (month, int(day[8:])) if self.how.day_order == "mdy" else (int(day[8:]), month)
        return f"{first}/{second}/{year}"

    def torque(self, servo: Type) -> str:
        digits = 3 if self.how.unit == "N·m" else 1 if UNITS[self.how.unit] > 0.05 else 0
        text = self.number(servo.torque_nm / UNITS[self.how.unit], digits)
        return f"{text} {self.how.unit}" if self.how.unit_in == "cell" else text

    def function(self, seat: Seat, number: int = 0) -> str:
        word = self.chance.choice(self.words.functions[seat.function])
        if seat.count > 1:
            return f"{seat.count}x {word}" if number % 2 else f"{seat.count} x {word}"
        side = {"left": self.words.left, "right": self.words.right}.get(seat.side, "")
        return f"{word} {side}".strip()

    def servo(self, servo: Type) -> str:
        return self.chance.choice(
            (f"{servo.maker} {servo.model}", f"{servo.maker} {servo.model}", servo.model)
        )


def forged(chance: Random, how: Style, planes: Sequence[Plane]) -> Forged:
    """The sheet that a keeper of that style has of these aircraft."""
    write = _Writer(chance, how)
    if how.title:
        write.made.rows += [[write.words.title], []]
    if how.unit_in == "title" and how.shape in _BY_ROWS:
        write.made.rows += [[write.words.unit_title.format(unit=how.unit)], []]
    (_rows if how.shape in _BY_ROWS else _fleet)(write, planes)
    return write.made


_BY_ROWS = ("rows", "sections", "groups", "two headings")


def _rows(write: _Writer, planes: Sequence[Plane]) -> None:
    how, words, made = write.how, write.words, write.made
    heads = dict(words.heads)
    unit = f" ({how.unit})" if how.unit_in == "heading" else ""
    order = ["channel", "function", "servo", "drive", "torque", "speed", "volts", "fitted", "pack"]
    if write.chance.random() < 0.4:
        write.chance.shuffle(order)
    if how.shape != "sections":
        order.insert(0, "aircraft")
    if how.shape == "two headings":
        # A heading over those of the servo: what stands below it belongs together.
        order.sort(key=lambda role: _OF_SERVO.index(role) if role in _OF_SERVO else -1)
        first = order.index("servo")
        made.rows.append(["", *([""] * (first - 1)), write.chance.choice(heads["servo"])])
    made.rows.append(
        [write.chance.choice(heads[role]) + (unit if role == "torque" else "") for role in order]
    )
    above: dict[str, str] = {}
    for plane in planes:
        if how.shape == "sections":
            made.rows.append([plane.name])
        seats = _grouped(plane.seats) if how.shape == "groups" else plane.seats
        for number, seat in enumerate(seats):
            cells = {
                "aircraft": "" if how.carries and number else plane.name,
                "channel": str(seat.channel),
                "function": write.function(seat, number if how.shape == "groups" else 0),
                "servo": write.servo(seat.servo),
                "drive": words.digital if seat.servo.digital else words.analog,
                "torque": write.torque(seat.servo),
                "speed": write.number(seat.servo.transit_s, 2),
                "volts": write.number(seat.servo.volts, 1),
                "fitted": write.day(seat.fitted),
                "pack": _pack(plane, write) if not number else "",
            }
            line = []
            for role in order:
                text = cells[role]
                same = (
                    text
                    and text == above.get(role)
                    and role in ("servo", "drive", "torque", "speed", "volts", "fitted")
                )
                line.append(write.chance.choice(words.dittos) if how.dittos and same and number else text)
                above[role] = text
            row = len(made.rows) + 1
            made.rows.append(line)
            for role in ("channel", "function", "servo", "drive", "torque", "speed", "fitted"):
                made.facts.append((role, plane, seat, row, order.index(role) + 1))
        if how.blank_lines:
            made.rows.append([])
    if how.total:
        made.rows.append([f"{words.total}: {sum(len(plane.seats) for plane in planes)} servos"])


_OF_SERVO = ("servo", "drive", "torque", "speed", "volts", "fitted")


def _grouped(seats: Sequence[Seat]) -> list[Seat]:
    """Servos that do the same work in one row, with their number; the keeper knows the first channel."""
    by_function: dict[str, Seat] = {}
    for seat in seats:
        first = by_function.get(seat.function)
        by_function[seat.function] = replace(first, count=first.count + 1) if first else seat
    return [replace(seat, side="") if seat.count > 1 else seat for seat in by_function.values()]


def _seat_of(plane: Plane, work: tuple[str, str] | None, channel: int) -> Seat | None:
    for seat in plane.seats:
        if (seat.function, seat.side) == work if work else seat.channel == channel:
            return seat
    return None


def _without(seats: tuple[Seat, ...], at: int) -> tuple[Seat, ...]:
    return seats[:at] + seats[at + 1 :]


def _pack(plane: Plane, write: _Writer) -> str:
    if plane.pack is None:
        return ""
    chemistry, cells, mah = plane.pack
    short = {"LiFePO4": "LiFe", "Li-ion": "Li-Ion"}.get(chemistry, chemistry)
    return write.chance.choice(
        (
            f"{cells}S {short} {mah}",
            f"{short} {cells}S {mah} mAh",
            f"{cells} {write.words.cells} {short} {mah}",
        )
    )


def _fleet(write: _Writer, planes: Sequence[Plane]) -> None:
    how, words, made = write.how, write.words, write.made
    top = max(len(plane.seats) for plane in planes)
    if how.shape == "functions":
        works = list(dict.fromkeys((seat.function, seat.side) for plane in planes for seat in plane.seats))
        heads = [
            write.function(Seat(function, side, 1, planes[0].seats[0].servo, "")) for function, side in works
        ]
    else:
        works = []
        heads = [f"{words.channel} {number}" for number in range(1, top + 1)]
    table = [[words.heads["aircraft"][0], *heads, words.heads["pack"][0]]]
    places = []
    for plane in planes:
        line = [plane.name]
        for at in range(len(heads)):
            seat = next(
                (
                    seat
                    for seat in plane.seats
                    if ((seat.function, seat.side) == works[at] if works else seat.channel == at + 1)
                ),
                None,
            )
            if seat is None:
                line.append("")
                continue
            line.append(
                write.servo(seat.servo) if works else f"{write.function(seat)} {write.servo(seat.servo)}"
            )
            places += [
                (role, plane, seat, len(table), at + 1)
                for role in ("function", "servo", *(() if works else ("channel",)))
            ]
        table.append([*line, _pack(plane, write)])
    first = len(made.rows)
    if how.shape == "turned":
        table = [list(line) for line in zip(*table, strict=True)]
        places = [(role, plane, seat, column, row) for role, plane, seat, row, column in places]
    made.rows += table
    made.facts += [
        (role, plane, seat, first + row + 1, column + 1) for role, plane, seat, row, column in places
    ]


def put(made: Forged, how: Style, folder: Path) -> Path:
    """Write a forged sheet as the kind of file its keeper uses."""
    path = folder / f"liste.{how.kind}"
    width = max(len(row) for row in made.rows)
    rows = [row + [""] * (width - len(row)) for row in made.rows]
    if how.kind in ("xlsx", "xlsm"):
        import openpyxl

        book = openpyxl.Workbook()
        assert book.active is not None
        for row in rows:
            book.active.append([_typed(cell) for cell in row])
        book.save(path)
    elif how.kind == "ods":
        from tests.store.intake.small_ods import write_ods

        write_ods(path, {"liste": rows})
    else:
        text = io.StringIO(newline="")
        csv.writer(text, delimiter=how.separator, lineterminator="\r\n").writerows(rows)
        path.write_bytes(text.getvalue().encode(how.encoding, "replace"))
    return path


def _typed(text: str) -> object:
    plain = text.replace(",", ".")
    return (
        float(plain)
        if plain.replace(".", "", 1).isdigit() and "." in plain
        else int(text)
        if text.isdigit()
        else text or None
    )
