"""What a keeper's words mean: functions and sides, dates, chemistries, leads, classes of aircraft."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime

from hangar.base.errors import BadInput
from hangar.base.text import NOTHING, Text, text
from hangar.base.units import convert, parse_quantity
from hangar.parts.choices import AircraftClass, Chemistry, Drive, Function, PowerKind, Side
from hangar.store.cells import Raw, plain_text

_FUNCTIONS: tuple[tuple[str, Function, str], ...] = (
    (r"v[\s-]?tail|vee[\s-]?tail|ruddervator|v[\s-]?leitwerk", Function.V_TAIL, "VT"),
    (r"aileron|\bail|querruder", Function.AILERON, "AIL"),
    (r"elevator|\bele|höhenruder", Function.ELEVATOR, "ELE"),
    (r"tow|schlepp", Function.TOW_RELEASE, "TOW"),
    (r"steer|nose ?wheel", Function.STEERING, "STEER"),
    (r"rudder|\brud|seitenruder", Function.RUDDER, "RUD"),
    (r"spoiler|air ?brake|störklappe|bremsklappe", Function.SPOILER, "SPOIL"),
    (r"flap|wölbklappe|landeklappe", Function.FLAP, "FLAP"),
    (r"throttle|\bthr|carb|\bgas\b|drossel", Function.THROTTLE, "THR"),
    (r"collective|\bcoll|main pitch", Function.COLLECTIVE, "COLL"),
    (r"cyclic|swash", Function.CYCLIC, "CYC"),
    (r"gain", Function.GAIN, "GAIN"),
    (r"tail|yaw|gyro", Function.TAIL, "TAIL"),
    (r"door", Function.DOOR, "DOOR"),
    (r"retract|undercarriage|landing gear|\bgear\b|fahrwerk", Function.RETRACT, "GEAR"),
    (r"brake", Function.BRAKE, "BRAKE"),
    (r"choke", Function.CHOKE, "CHOKE"),
    (r"smoke", Function.SMOKE, "SMOKE"),
    (r"mode|flight phase", Function.MODE, "MODE"),
    (r"light", Function.LIGHTS, "LIGHT"),
    (r"spare|free|unused", Function.SPARE, "SPARE"),
)  # fmt: skip
_LEFT = re.compile(r"\b(?:l|lh|left|port|links)\b", re.IGNORECASE)
_RIGHT = re.compile(r"\b(?:r|rh|right|stbd|starboard|rechts)\b", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Duty:
    """A function as a keeper words it; ``stem`` begins the position's code."""

    function: Function
    side: Side
    stem: str
    understood: bool = True


def duty_of(words: str) -> Duty:
    """The function and side that words such as "L aileron" or "V tail R" mean."""
    left, right = bool(_LEFT.search(words)), bool(_RIGHT.search(words))
    side = Side.LEFT if left and not right else Side.RIGHT if right and not left else Side.MIDDLE
    ending = {Side.LEFT: "-L", Side.RIGHT: "-R", Side.MIDDLE: ""}[side]
    for pattern, function, stem in _FUNCTIONS:
        if re.search(pattern, words, re.IGNORECASE):
            return Duty(function, side, stem + ending)
    return Duty(Function.SPARE, side, "SPARE" + ending, understood=False)


def drive_of(words: str) -> tuple[Drive | None, float | None]:
    """Analog or digital, and the pulse centre in microseconds where the words name one."""
    drive = None
    if re.match(r"\s*dig", words, re.IGNORECASE):
        drive = Drive.DIGITAL
    elif re.match(r"\s*an", words, re.IGNORECASE):
        drive = Drive.ANALOG
    pulse = re.search(r"(\d{3,4})\s*(?:us|µs|μs)", words, re.IGNORECASE)
    return drive, float(pulse[1]) if pulse else None


_CHEMISTRIES: tuple[tuple[str, Chemistry], ...] = (
    (r"lsd|low self", Chemistry.NIMH_LSD),
    (r"nimh|nickel metal", Chemistry.NIMH),
    (r"nicd|nicad|nickel cad", Chemistry.NICD),
    (r"lifepo4?|\blife\b|lfp", Chemistry.LIFEPO4),
    (r"lihv|high voltage lipo", Chemistry.LIHV),
    (r"lipo|li polymer", Chemistry.LIPO),
    (r"liion|li ion|lion\b|lithium ion", Chemistry.LI_ION),
)


def chemistry_of(words: str) -> Chemistry | None:
    """The cell chemistry that words such as "Li-ion 2S" mean."""
    plain = re.sub(r"[-_]", "", words.lower())
    return next((chemistry for pattern, chemistry in _CHEMISTRIES if re.search(pattern, plain)), None)


def cells_of(words: str) -> int | None:
    """The cells in series that words such as "2S" or "5 cell" name."""
    found = re.search(r"\b(\d{1,2})\s*(?:s|cells?)\b", words, re.IGNORECASE)
    return int(found[1]) if found else None


@dataclass(frozen=True, slots=True)
class Day:
    """A day as a keeper wrote it; ``remark`` says how it was read, ``sure`` whether it can only mean that."""

    day: date
    remark: Text = NOTHING
    sure: bool = True


_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")


def day_of(raw: Raw, today: date) -> Day:
    """The day in a cell: 2024-03-02, 14/5/2021, May 1997, 1997.

    Raises: BadInput when it is no day, or one to come.
    """
    text = plain_text(raw)
    found = Day(raw.date()) if isinstance(raw, datetime) else Day(raw) if isinstance(raw, date) else None
    try:
        found = found or _written_day(text)
    except ValueError as fault:
        raise BadInput("is no day of the calendar.") from fault
    if found is None:
        raise BadInput("is no date; expected one such as 2021-05-14, 14/5/2021, May 2021 or 2021.")
    if found.day.year < 1930 or found.day > today:
        raise BadInput(
            "would be {day}; expected a day from 1930 to {today}.",
            day=found.day.isoformat(),
            today=today.isoformat(),
        )
    return found


def _written_day(written: str) -> Day | None:
    iso = re.fullmatch(r"(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})", written)
    if iso:
        return Day(date(int(iso[1]), int(iso[2]), int(iso[3])))
    numbers = re.fullmatch(r"(\d{1,2})[-/. ](\d{1,2})[-/. ](\d{2}|\d{4})", written)
    if numbers:
        return _ordered(int(numbers[1]), int(numbers[2]), int(numbers[3]))
    worded = re.fullmatch(
        r"(?:(\d{1,2})(?:st|nd|rd|th)?\.?[\s-]+)?([a-z]{3,9})\.?[\s,-]+(\d{4})", written, re.I
    )
    if worded and worded[2].lower()[:3] in _MONTHS:
        month = _MONTHS.index(worded[2].lower()[:3]) + 1
        if worded[1]:
            return Day(date(int(worded[3]), month, int(worded[1])))
        return Day(
            date(int(worded[3]), month, 1), text("names no day; taken as the first of the month"), sure=False
        )
    year = re.fullmatch(r"(?:ca?\.?\s*)?(\d{4})", written, re.IGNORECASE)
    if year:
        return Day(
            date(int(year[1]), 1, 1), text("names only the year; taken as the first of January"), sure=False
        )
    return None


def _ordered(first: int, second: int, year: int) -> Day:
    if year < 100:
        year += 1900 if year >= 50 else 2000
    if second > 12:
        return Day(date(year, first, second), text("read as month/day/year"), sure=False)
    if first > 12 or first == second:
        return Day(date(year, second, first), text("read as day/month/year"))
    return Day(
        date(year, second, first), text("read as day/month/year; it could be month/day/year"), sure=False
    )


@dataclass(frozen=True, slots=True)
class Wire:
    """A lead as a keeper wrote it."""

    length_mm: float
    awg: int | None
    doubts: tuple[Text, ...] = ()


def wire_of(written: str, unit: str | None) -> Wire:
    """The length and gauge in words such as "24 in 26ga".

    Raises: BadInput when there is no length.
    """
    gauge = re.search(r"(?:\b(\d{2})\s*(?:awg|ga|gauge)\b)|(?:\bawg\s*(\d{2})\b)", written, re.IGNORECASE)
    rest = (written[: gauge.start()] + written[gauge.end() :]).strip(" ,;/") if gauge else written
    doubts: tuple[Text, ...] = ()
    bare = re.fullmatch(r"\d+(?:[.,]\d+)?", rest)
    if bare and unit is None:
        # Leads are 100 to 2000 mm long, 4 to 80 in: the size of a bare number tells which is meant.
        unit = "in" if float(rest.replace(",", ".")) < 90 else "mm"
        doubts = (text("has no unit; read as {unit}.", unit=unit),)
    read = parse_quantity(rest, "length", unit)
    awg = int(gauge[1] or gauge[2]) if gauge else None
    return Wire(round(convert(read.value, read.unit, "mm"), 3), awg, doubts + read.doubts)


@dataclass(frozen=True, slots=True)
class ClassGuess:
    """The class and power of an aircraft as its rows suggest, and what suggested them."""

    aircraft_class: AircraftClass
    power: PowerKind
    because: Text


def guess_class(words: Iterable[str], functions: Iterable[Function]) -> ClassGuess:
    """The class that an aircraft's name, notes and functions suggest."""
    whole = " ".join(words)
    said = whole.lower()
    has = set(functions)
    turbine = "turbine" in said
    electric = bool(re.search(r"electric|\besc\b|brushless|\bedf\b|\b[3-9]s\b|\b1[0-4]s\b", said))
    rotor = re.search(r"heli|rotor", said)
    if rotor or has & {Function.CYCLIC, Function.COLLECTIVE}:
        because = (
            text('"{word}" in its words', word=whole[rotor.start() : rotor.end()])
            if rotor
            else text("a cyclic or collective servo")
        )
        return _helicopter(turbine, electric, because)
    if turbine:
        return ClassGuess(AircraftClass.JET_TURBINE, PowerKind.TURBINE, text('"turbine" in its words'))
    if re.search(r"\bedf\b|ducted", said):
        return ClassGuess(AircraftClass.JET_EDF, PowerKind.ELECTRIC, text("a ducted fan in its words"))
    if Function.TOW_RELEASE in has and Function.THROTTLE not in has:
        return ClassGuess(AircraftClass.SAIL_SCALE, PowerKind.TOW, text("a tow release and no throttle"))
    if re.search(r"glider|sail|soar|thermal|slope", said):
        return ClassGuess(AircraftClass.SAIL_THERMAL, PowerKind.NONE, text("a word for sailplanes"))
    if Function.THROTTLE not in has and has & {Function.V_TAIL, Function.FLAP, Function.SPOILER}:
        return ClassGuess(
            AircraftClass.SAIL_THERMAL, PowerKind.NONE, text("flaps or a V-tail and no throttle")
        )
    power = PowerKind.ELECTRIC if electric else PowerKind.GLOW if Function.THROTTLE in has else PowerKind.NONE
    if re.search(r"\b3d\b|aerobat", said):
        return ClassGuess(AircraftClass.AEROBATIC_3D, power, text("a word for aerobatics"))
    if re.search(r"giant|1/[34]|third scale|quarter scale", said):
        return ClassGuess(AircraftClass.GIANT, power, text("a word for giant scale"))
    return ClassGuess(AircraftClass.SPORT, power, text("nothing that says otherwise"))


def _helicopter(turbine: bool, electric: bool, because: Text) -> ClassGuess:
    if turbine:
        return ClassGuess(AircraftClass.HELI_TURBINE, PowerKind.TURBINE, because)
    if electric:
        return ClassGuess(AircraftClass.HELI_EL, PowerKind.ELECTRIC, because)
    return ClassGuess(AircraftClass.HELI_IC, PowerKind.GLOW, because)
