"""Read what keepers type: a number with a unit, or a rating at one or more voltages."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache

from hangar.base.errors import BadInput
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
_IN_WORDS = {"voltage": "volts", "money": "an amount of money", "per angle": "a number for each degree"}
_BETWEEN = re.compile(r"\s*(?:/|;|\||,|\band\b|\bor\b)\s*", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Quantity:
    """A number with its unit; ``doubts`` are sentences on how an unclear spelling was read."""

    value: float
    unit: str
    doubts: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Rating:
    """One rated value, at a voltage where the text says which; unpacks as value, unit, volts."""

    value: float
    unit: str
    volts: float | None = None
    doubts: tuple[str, ...] = ()

    def __iter__(self) -> Iterator[float | str | None]:
        return iter((self.value, self.unit, self.volts))


def parse_number(text: str) -> tuple[float, str | None]:
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
    digits = text.translate(_TIDY).strip()
    if not _NUMBER.fullmatch(digits):
        raise BadInput(f'"{text}" is not a number; a number is wanted, such as 4.6 or 4,6.')
    digits = digits.replace(" ", "").replace("'", "")
    comma, dot = digits.rfind(","), digits.rfind(".")
    doubt = None
    if comma >= 0 and dot >= 0:
        thousands, point = (",", ".") if dot > comma else (".", ",")
        digits = _grouped(digits, thousands, text).replace(point, ".")
    elif digits.count(",") > 1:
        digits = _grouped(digits, ",", text)
    elif digits.count(".") > 1:
        digits = _grouped(digits, ".", text)
    elif re.fullmatch(r"[+-]?[1-9]\d{0,2},\d{3}", digits):
        read, other = digits.replace(",", ""), digits.replace(",", ".")
        doubt = f'"{text}" was read as {read}; it could also mean {other}.'
        digits = read
    else:
        digits = digits.replace(",", ".")
    return float(digits), doubt


def _grouped(digits: str, mark: str, text: str) -> str:
    whole = re.split(r"[eE]", digits)[0].lstrip("+-")
    point = "." if mark == "," else ","
    if not re.fullmatch(rf"\d{{1,3}}(?:{re.escape(mark)}\d{{3}})+(?:{re.escape(point)}\d*)?", whole):
        raise BadInput(f'"{text}" is not a number: its dots and commas do not group the digits by three.')
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


def _longest_unit(text: str, start: int, kind: str) -> tuple[str, bool, int] | None:
    """The longest spelling of this kind that begins at ``start``: key, doubtful, where it ends."""
    known = _spellings(kind)
    best = None
    end = start
    while end < len(text) and end - start < 24:
        end += 1
        word = _squeezed(text[start:end])
        if word in known and not text[end - 1].isspace() and text[end - 1] not in "-·." and _ends(text, end):
            key, doubtful = known[word]
            best = key, doubtful, end
    return best


def _ends(text: str, end: int) -> bool:
    """A spelling stops where letters stop: "in" is not found at the head of "index"."""
    return end >= len(text) or not (text[end].isalpha() or text[end] in "°²³") or not text[end - 1].isalpha()


@dataclass(frozen=True, slots=True)
class _Found:
    value: float
    kind: str | None
    unit: str | None
    doubts: tuple[str, ...]
    end: int


def _number_at(text: str, start: int) -> tuple[float, tuple[str, ...], int] | None:
    fraction = _FRACTION.match(text, start)
    if fraction:
        whole, top, bottom = fraction.groups()
        return int(whole or 0) + int(top) / int(bottom), (), fraction.end()
    match = _NUMBER.match(text, start)
    if not match:
        return None
    value, doubt = parse_number(match[0].rstrip(".") if match[0].endswith(".") else match[0])
    return value, (doubt,) if doubt else (), match.end()


def _read_one(text: str, start: int, kinds: tuple[str, ...]) -> _Found | None:
    """A number at ``start`` with the unit that follows it, the first of ``kinds`` to know it."""
    number = _number_at(text, start)
    if number is None:
        return None
    value, doubts, end = number
    after = end
    while after < len(text) and text[after] in " -·" and not text[after + 1 : after + 2].isdigit():
        after += 1
    for kind in kinds:
        unit = _longest_unit(text, after, kind)
        if unit:
            key, doubtful, stop = unit
            if doubtful:
                doubts += (f'"{text[after:stop]}" was read as {UNITS[key].symbol}.',)
            return _Found(value, kind, key, doubts, stop)
    return _Found(value, None, None, doubts, end)


def parse_quantity(text: str, kind: str, default_unit: str | None = None) -> Quantity:
    """The quantity of ``kind`` in what a keeper typed.

    Args:
        text: such as "45 ozf in", "3,2kg/cm", ".22 s/60" or "12in"; decimal point or comma.
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
    >>> parse_quantity("106oz", "torque").doubts
    ('"oz" was read as ozf·in.',)
    """
    kind = _checked_kind(kind, default_unit)
    tidy = text.translate(_TIDY).strip()
    if kind == "gauge":
        tidy = _GAUGE_FIRST.sub(r"\1 AWG", tidy)
    found = list(_all_found(tidy, text, kind))
    wanted = [one for one in found if one.kind == kind]
    bare = [one for one in found if one.kind is None]
    if not wanted and len(bare) == 1 and default_unit:
        wanted, bare = [_Found(bare[0].value, kind, default_unit, bare[0].doubts, 0)], []
    if bare or not wanted:
        raise BadInput(_missing_unit(text, kind))
    others = (one for one in found if one.kind not in (kind, None))
    asides = tuple(f'"{text}" also says {one.value:g} {one.unit}.' for one in others)
    return _joined(wanted, asides, text)


def _joined(wanted: list[_Found], asides: tuple[str, ...], text: str) -> Quantity:
    if [one.unit for one in wanted] == ["ft", "in"]:
        return Quantity(wanted[0].value * 12 + wanted[1].value, "in", asides)
    if len(wanted) > 1:
        raise BadInput(f'"{text}" holds {len(wanted)} values; one is wanted.')
    one = wanted[0]
    return Quantity(one.value, str(one.unit), one.doubts + asides)


def _all_found(tidy: str, text: str, kind: str) -> Iterator[_Found]:
    kinds = (kind, *(other for other in KINDS if other != kind))
    at = 0
    while at < len(tidy):
        one = _read_one(tidy, at, kinds)
        if one is None:
            raise BadInput(f'"{text}" cannot be read as {in_words(kind)}: "{tidy[at:]}" is not understood.')
        yield one
        at = one.end
        while at < len(tidy) and tidy[at] in " ,;.":
            at += 1


def parse_rating(text: str, kind: str, default_unit: str | None = None) -> list[Rating]:
    """The rated values in what a keeper or a catalogue wrote, each with its voltage where given.

    Args:
        text: such as "1.8kgcm@4.8 / 2.3kgcm@6.0", "3.7 / 4.7", "4.8V: 3.2 kg-cm" or "9.7 kgf·cm (6 V)".
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
    tidy = text.translate(_TIDY).strip()
    read: list[tuple[_Found, float | None]] = []
    at = 0
    while at < len(tidy):
        volts, at = _volts_before(tidy, at)
        one = _read_one(tidy, at, (kind,))
        if one is None:
            raise BadInput(f'"{text}" cannot be read as {in_words(kind)}: "{tidy[at:]}" is not understood.')
        at = one.end
        if volts is None:
            volts, at = _volts_after(tidy, at)
        read.append((one, volts))
        at = _next_value(tidy, at, text, kind)
    if not read:
        raise BadInput(f'"{text}" has no number; {in_words(kind)} is wanted, such as {_example(kind)}.')
    return _ratings(read, text, kind, default_unit)


def _ratings(
    read: list[tuple[_Found, float | None]], text: str, kind: str, default_unit: str | None
) -> list[Rating]:
    named = [one.unit for one, _ in read if one.unit]
    ratings = []
    last: str | None = None
    for one, volts in read:
        unit = one.unit or last or (named[0] if named else default_unit)
        if unit is None:
            raise BadInput(_missing_unit(text, kind))
        last = one.unit or last
        ratings.append(Rating(one.value, unit, volts, one.doubts))
    return ratings


def _volts_before(tidy: str, at: int) -> tuple[float | None, int]:
    match = _VOLTS_FIRST.match(tidy, at)
    if not match:
        return None, at
    return parse_number(match[1])[0], len(tidy) - len(tidy[match.end() :].lstrip())


def _volts_after(tidy: str, at: int) -> tuple[float | None, int]:
    match = _AT_VOLTS.match(tidy, at)
    return (parse_number(match[1])[0], match.end()) if match else (None, at)


def _next_value(tidy: str, at: int, text: str, kind: str) -> int:
    if at >= len(tidy):
        return at
    between = _BETWEEN.match(tidy, at)
    if between and between.end() < len(tidy):
        return between.end()
    raise BadInput(f'"{text}" cannot be read as {in_words(kind)}: "{tidy[at:].strip()}" is not understood.')


def _checked_kind(kind: str, default_unit: str | None) -> str:
    kind = kind.replace("_", " ")
    if kind not in KINDS:
        raise BadInput(f'"{kind}" is no kind of quantity; known are {", ".join(KINDS)}.')
    if default_unit is not None and (default_unit not in UNITS or UNITS[default_unit].kind != kind):
        raise BadInput(f'"{default_unit}" is no unit of {kind}; use {_keys(kind)}.')
    return kind


def _keys(kind: str) -> str:
    return ", ".join(unit.key for unit in UNITS.values() if unit.kind == kind)


def in_words(kind: str) -> str:
    """A kind of quantity as a sentence names it.

    >>> in_words("angle"), in_words("voltage")
    ('an angle', 'volts')
    """
    return _IN_WORDS.get(kind) or f"{'an' if kind[0] in 'aeiou' else 'a'} {kind}"


def _example(kind: str) -> str:
    return f"3.2 {_keys(kind).split(', ')[0]}"


def _missing_unit(text: str, kind: str) -> str:
    what = "volts" if kind == "voltage" else kind
    return f'"{text}" does not name a unit of {what}; use one of {_keys(kind)}.'
