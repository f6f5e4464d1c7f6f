"""Read what keepers type: a number with a unit, or a rating at one or more voltages."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache

from hangar.base.errors import BadInput
from hangar.base.text import Text, fixed, text
from hangar.base.unit_table import DOUBTFUL, KINDS, SPELLINGS, UNITS

_SPACES = dict.fromkeys(map(ord, "\u00a0\u2007\u2009\u200a\u202f\t\r\n"), " ")
_SIGNS = {ord("\u2212"): "-", ord("\u2013"): "-", ord("\u2010"): "-", ord("\u2011"): "-"}
_DOTS = {ord(mark): "·" for mark in "⋅∙•‧×*"}
_TIDY = {**_SPACES, **_SIGNS, **_DOTS, ord("\u2019"): "'", ord("\u201d"): '"'}

_NUMBER = re.compile(
    r"[+-]?(?:\d{1,3}(?:[ ']\d{3})+(?:[.,]\d+)?(?!\d)|\d[\d.,]*\d|\d|[.,]\d+)\.?(?:[eE][+-]?\d+)?(?!\d)"
)
_GAUGE_FIRST = re.compile(r"^AWG\s*(\d+)$", re.IGNORECASE)
"""Of all units the one that is written before its number: AWG 22."""
_FRACTION = re.compile(r'(?:(\d+)[ -])?(\d+)/(2|4|8|16|32|64)(?= ?(?:"|″|ins?\b|inch))')
_AT_VOLTS = re.compile(
    r"\s*(?:@|\bat\b|\()\s*(\d+(?:[.,]\d+)?|[.,]\d+)\s*(?:v(?:olts?)?\b)?\s*\)?", re.IGNORECASE
)
_VOLTS_FIRST = re.compile(r"\s*(\d+(?:[.,]\d+)?|[.,]\d+)\s*v(?:olts?)?\s*[:=]", re.IGNORECASE)
_IN_WORDS = {
    "torque": "a torque", "length": "a length", "mass": "a mass", "speed": "a speed",
    "acceleration": "an acceleration", "angle": "an angle", "area": "an area",
    "wing loading": "a wing loading", "voltage": "volts", "current": "a current", "charge": "a charge",
    "resistance": "a resistance", "resistance per length": "a resistance per length", "time": "a time",
    "age": "an age", "servo speed": "a servo speed", "angle per time": "an angle per time",
    "frequency": "a frequency", "power": "a power", "energy": "an energy", "force": "a force",
    "pressure": "a pressure", "density": "a density", "moment of inertia": "a moment of inertia",
    "mass moment": "a mass moment", "angular stiffness": "an angular stiffness",
    "linear stiffness": "a linear stiffness", "per angle": "a number for each degree",
    "gauge": "a gauge", "ratio": "a ratio", "count": "a count", "money": "an amount of money",
    "temperature": "a temperature", "charge rate": "a charge rate",
}  # fmt: skip
WORDS_OF_TABLES = tuple(_IN_WORDS.values())
_BETWEEN = re.compile(r"\s*(?:/|;|\||,|\band\b|\bor\b)\s*", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Quantity:
    """A number with its unit; ``doubts`` are sentences on how an unclear spelling was read."""

    value: float
    unit: str
    doubts: tuple[Text, ...] = ()


@dataclass(frozen=True, slots=True)
class Rating:
    """One rated value, at a voltage where the text says which; unpacks as value, unit, volts."""

    value: float
    unit: str
    volts: float | None = None
    doubts: tuple[Text, ...] = ()

    def __iter__(self) -> Iterator[float | str | None]:
        return iter((self.value, self.unit, self.volts))


def parse_number(typed: str) -> tuple[float, Text | None]:
    """The number in ``text`` and, where its comma can be read two ways, a sentence on the reading.

    Raises:
        BadInput: when the text is no number.

    >>> parse_number("4,6")
    (4.6, None)
    >>> parse_number("1,234.5")
    (1234.5, None)
    >>> parse_number("1,234")[0]
    1234.0
    """
    digits = typed.translate(_TIDY).strip()
    if not _NUMBER.fullmatch(digits):
        raise BadInput('"{typed}" is not a number; a number is wanted, such as 4.6 or 4,6.', typed=typed)
    digits = digits.replace(" ", "").replace("'", "")
    comma, dot = digits.rfind(","), digits.rfind(".")
    doubt = None
    if comma >= 0 and dot >= 0:
        thousands, point = (",", ".") if dot > comma else (".", ",")
        digits = _grouped(digits, thousands, typed).replace(point, ".")
    elif digits.count(",") > 1:
        digits = _grouped(digits, ",", typed)
    elif digits.count(".") > 1:
        digits = _grouped(digits, ".", typed)
    elif re.fullmatch(r"[+-]?[1-9]\d{0,2},\d{3}", digits):
        read, other = digits.replace(",", ""), digits.replace(",", ".")
        doubt = text(
            '"{typed}" was read as {read}; it could also mean {other}.', typed=typed, read=read, other=other
        )
        digits = read
    else:
        digits = digits.replace(",", ".")
    return float(digits), doubt


def _grouped(digits: str, mark: str, typed: str) -> str:
    whole = re.split(r"[eE]", digits)[0].lstrip("+-")
    point = "." if mark == "," else ","
    if not re.fullmatch(rf"\d{{1,3}}(?:{re.escape(mark)}\d{{3}})+(?:{re.escape(point)}\d*)?", whole):
        raise BadInput(
            '"{typed}" is not a number: its dots and commas do not group the digits by three.', typed=typed
        )
    return digits.replace(mark, "")


def _squeezed(word: str) -> str:
    return re.sub(r"[\s·.\-]", "", word).lower()


@cache
def _spellings(kind: str) -> dict[str, tuple[str, bool]]:
    """Every spelling of the units of one kind: squeezed text -> (unit key, doubtful)."""
    plain = {_squeezed(u.key): u.key for u in UNITS.values() if u.kind == kind}
    plain |= {_squeezed(u.symbol): u.key for u in UNITS.values() if u.kind == kind and u.symbol}
    known = {word: (key, True) for word, key in DOUBTFUL.get(kind, {}).items()}
    known |= {word: (key, False) for word, key in SPELLINGS.get(kind, {}).items()}
    known |= {word: (key, False) for word, key in plain.items()}
    return known


def _longest_unit(typed: str, start: int, kind: str) -> tuple[str, bool, int] | None:
    """The longest spelling of this kind that begins at ``start``: key, doubtful, where it ends."""
    known = _spellings(kind)
    best = None
    end = start
    while end < len(typed) and end - start < 24:
        end += 1
        word = _squeezed(typed[start:end])
        if (
            word in known
            and not typed[end - 1].isspace()
            and typed[end - 1] not in "-·."
            and _ends(typed, end)
        ):
            key, doubtful = known[word]
            best = key, doubtful, end
    return best


def _ends(typed: str, end: int) -> bool:
    """A spelling stops where letters stop: "in" is not found at the head of "index"."""
    return (
        end >= len(typed) or not (typed[end].isalpha() or typed[end] in "°²³") or not typed[end - 1].isalpha()
    )


@dataclass(frozen=True, slots=True)
class _ReadNumber:
    value: float
    kind: str | None
    unit: str | None
    doubts: tuple[Text, ...]
    end: int


def _number_at(typed: str, start: int) -> tuple[float, tuple[Text, ...], int] | None:
    fraction = _FRACTION.match(typed, start)
    if fraction:
        whole, top, bottom = fraction.groups()
        return int(whole or 0) + int(top) / int(bottom), (), fraction.end()
    match = _NUMBER.match(typed, start)
    if not match:
        return None
    value, doubt = parse_number(match[0].rstrip(".") if match[0].endswith(".") else match[0])
    return value, (doubt,) if doubt else (), match.end()


def _read_one(typed: str, start: int, kinds: tuple[str, ...]) -> _ReadNumber | None:
    """A number at ``start`` with the unit that follows it, the first of ``kinds`` to know it."""
    number = _number_at(typed, start)
    if number is None:
        return None
    value, doubts, end = number
    after = end
    while after < len(typed) and typed[after] in " -·" and not typed[after + 1 : after + 2].isdigit():
        after += 1
    for kind in kinds:
        unit = _longest_unit(typed, after, kind)
        if unit:
            key, doubtful, stop = unit
            if doubtful:
                doubts += (
                    text('"{typed}" was read as {unit}.', typed=typed[after:stop], unit=UNITS[key].symbol),
                )
            return _ReadNumber(value, kind, key, doubts, stop)
    return _ReadNumber(value, None, None, doubts, end)


def parse_quantity(typed: str, kind: str, default_unit: str | None = None) -> Quantity:
    """The quantity of ``kind`` in what a keeper typed.

    Args:
        typed: such as "45 ozf in", "3,2kg/cm", ".22 s/60" or "12in"; decimal point or comma.
        kind: one of :data:`hangar.base.unit_table.KINDS`; "servo speed" may be written servo_speed.
        default_unit: unit key taken when the text has a bare number.

    Returns:
        Value and unit as typed, not converted; unclear spellings are told in ``doubts``.

    Raises:
        BadInput: no number, an unknown or missing unit, or words that are left over.

    >>> parse_quantity("3.2 kg-cm", "torque")
    Quantity(value=3.2, unit='kgf cm', doubts=())
    >>> parse_quantity("AWG 22", "gauge")
    Quantity(value=22.0, unit='AWG', doubts=())
    >>> str(parse_quantity("106oz", "torque").doubts[0])
    '"oz" was read as ozf·in.'
    """
    kind = _checked_kind(kind, default_unit)
    tidy = typed.translate(_TIDY).strip()
    if kind == "gauge":
        tidy = _GAUGE_FIRST.sub(r"\1 AWG", tidy)
    numbers = list(_all_found(tidy, typed, kind))
    wanted = [number for number in numbers if number.kind == kind]
    bare = [number for number in numbers if number.kind is None]
    if not wanted and len(bare) == 1 and default_unit:
        wanted, bare = [_ReadNumber(bare[0].value, kind, default_unit, bare[0].doubts, 0)], []
    if bare or not wanted:
        raise _no_unit(typed, kind)
    others = (number for number in numbers if number.kind not in (kind, None))
    asides = tuple(
        text('"{typed}" also says {value:g} {unit}.', typed=typed, value=number.value, unit=number.unit)
        for number in others
    )
    return _joined(wanted, asides, typed)


def _joined(wanted: list[_ReadNumber], asides: tuple[Text, ...], typed: str) -> Quantity:
    if [number.unit for number in wanted] == ["ft", "in"]:
        return Quantity(wanted[0].value * 12 + wanted[1].value, "in", asides)
    if len(wanted) > 1:
        raise BadInput('"{typed}" holds {count} values; one is wanted.', typed=typed, count=len(wanted))
    number = wanted[0]
    return Quantity(number.value, str(number.unit), number.doubts + asides)


def _not_understood(typed: str, kind: str, rest: str) -> BadInput:
    return BadInput(
        '"{typed}" cannot be read as {wanted}: "{rest}" is not understood.',
        typed=typed,
        wanted=in_words(kind),
        rest=rest,
    )


def _all_found(tidy: str, typed: str, kind: str) -> Iterator[_ReadNumber]:
    kinds = (kind, *(other for other in KINDS if other != kind))
    at = 0
    while at < len(tidy):
        number = _read_one(tidy, at, kinds)
        if number is None:
            raise _not_understood(typed, kind, tidy[at:])
        yield number
        at = number.end
        while at < len(tidy) and tidy[at] in " ,;.":
            at += 1


def parse_rating(typed: str, kind: str, default_unit: str | None = None) -> list[Rating]:
    """The rated values in what a keeper or a catalogue wrote, each with its voltage where given.

    Args:
        typed: such as "1.8kgcm@4.8 / 2.3kgcm@6.0", "3.7 / 4.7", "4.8V: 3.2 kg-cm" or "9.7 kgf·cm (6 V)".
        kind: usually "torque" or "servo speed".
        default_unit: unit key taken when no value names a unit.

    Returns:
        One rating for each value, in the order written; a unit named once holds for all.

    Raises:
        BadInput: no number, an unknown or missing unit, or words that are left over.

    >>> [tuple(one) for one in parse_rating("1.8kgcm@4.8 / 2.3kgcm@6.0", "torque")]
    [(1.8, 'kgf cm', 4.8), (2.3, 'kgf cm', 6.0)]
    """
    kind = _checked_kind(kind, default_unit)
    tidy = typed.translate(_TIDY).strip()
    read: list[tuple[_ReadNumber, float | None]] = []
    at = 0
    while at < len(tidy):
        volts, at = _volts_before(tidy, at)
        number = _read_one(tidy, at, (kind,))
        if number is None:
            raise _not_understood(typed, kind, tidy[at:])
        at = number.end
        if volts is None:
            volts, at = _volts_after(tidy, at)
        read.append((number, volts))
        at = _next_value(tidy, at, typed, kind)
    if not read:
        raise BadInput(
            '"{typed}" has no number; {wanted} is wanted, such as {example}.',
            typed=typed,
            wanted=in_words(kind),
            example=_example(kind),
        )
    return _ratings(read, typed, kind, default_unit)


def _ratings(
    read: list[tuple[_ReadNumber, float | None]], typed: str, kind: str, default_unit: str | None
) -> list[Rating]:
    named = [number.unit for number, _ in read if number.unit]
    ratings = []
    last: str | None = None
    for number, volts in read:
        unit = number.unit or last or (named[0] if named else default_unit)
        if unit is None:
            raise _no_unit(typed, kind)
        last = number.unit or last
        ratings.append(Rating(number.value, unit, volts, number.doubts))
    return ratings


def _volts_before(tidy: str, at: int) -> tuple[float | None, int]:
    match = _VOLTS_FIRST.match(tidy, at)
    if not match:
        return None, at
    return parse_number(match[1])[0], len(tidy) - len(tidy[match.end() :].lstrip())


def _volts_after(tidy: str, at: int) -> tuple[float | None, int]:
    match = _AT_VOLTS.match(tidy, at)
    return (parse_number(match[1])[0], match.end()) if match else (None, at)


def _next_value(tidy: str, at: int, typed: str, kind: str) -> int:
    if at >= len(tidy):
        return at
    between = _BETWEEN.match(tidy, at)
    if between and between.end() < len(tidy):
        return between.end()
    raise BadInput(
        '"{typed}" cannot be read as {wanted}: "{rest}" is not understood.',
        typed=typed,
        wanted=in_words(kind),
        rest=tidy[at:].strip(),
    )


def _checked_kind(kind: str, default_unit: str | None) -> str:
    kind = kind.replace("_", " ")
    if kind not in KINDS:
        raise BadInput(
            '"{kind}" is no kind of quantity; known are {known}.', kind=kind, known=", ".join(KINDS)
        )
    if default_unit is not None and (default_unit not in UNITS or UNITS[default_unit].kind != kind):
        raise BadInput(
            '"{unit}" is no unit of {kind}; use {allowed}.',
            unit=default_unit,
            kind=fixed(kind),
            allowed=_keys(kind),
        )
    return kind


def _keys(kind: str) -> str:
    return ", ".join(unit.key for unit in UNITS.values() if unit.kind == kind)


def in_words(kind: str) -> Text:
    """A kind of quantity as a sentence names it.

    >>> str(in_words("angle")), str(in_words("voltage"))
    ('an angle', 'volts')
    """
    return fixed(_IN_WORDS[kind])


def _example(kind: str) -> str:
    return f"3.2 {_keys(kind).split(', ')[0]}"


def _no_unit(typed: str, kind: str) -> BadInput:
    return BadInput(
        '"{typed}" does not name a unit of {kind}; use one of {allowed}.',
        typed=typed,
        kind=fixed("volts" if kind == "voltage" else kind),
        allowed=_keys(kind),
    )
