"""Numbers with their units as keepers write them."""

from __future__ import annotations

import re
from functools import lru_cache
from typing import NamedTuple

from hangar.store.intake.vocabulary import unit_squeezed, units_of

_NUMBER = r"\d{1,3}(?:[.,]\d{3})+(?:[.,]\d+)?(?![\d])|\d*[.,]\d+|\d+"
_FIGURE = re.compile(rf"(?<![\w.,])(?:[+-]\s?)?({_NUMBER})(?![\d])\s*(\"|''|”)?")
_PER_ANGLE = re.compile(r"(s|sec|sek|seg|secs)\.?\s*/\s*(60|45|40)\s*(?:°|deg\b|grad\b|º)?", re.IGNORECASE)
_LONGEST = 200


class Figure(NamedTuple):
    """A number in a text with the words right after it."""

    number: float
    other: float | None
    """What it is if its only dot or comma parts thousands."""
    after: str
    start: int
    end: int


@lru_cache(maxsize=20_000)
def figures(text: str) -> tuple[Figure, ...]:
    """The numbers in a text, each with what follows up to the next one."""
    plain = _PER_ANGLE.sub(
        lambda match: "sec" if match[2] == "60" else f"s{'forty' if match[2] == '40' else 'fortyfive'}",
        text[:_LONGEST],
    )
    matches = list(_FIGURE.finditer(plain))
    made = []
    for at, match in enumerate(matches):
        end = matches[at + 1].start() if at + 1 < len(matches) else len(plain)
        number, other = _number(match[1])
        made.append(
            Figure(number, other, (match[2] or "") + plain[match.end() : end], match.start(), match.end())
        )
    return tuple(made)


def _number(words: str) -> tuple[float, float | None]:
    signs = [sign for sign in words if sign in ".,"]
    if not signs:
        return float(words), None
    if len(set(signs)) == 2:
        return float(words.replace(signs[0], "").replace(",", ".")), None
    if len(signs) > 1:
        return float(words.replace(signs[0], "")), None
    plain = float(words.replace(",", "."))
    head, _, tail = words.replace(",", ".").partition(".")
    return plain, float(head + tail) if len(tail) == 3 and head not in ("", "0") else None


class Reading(NamedTuple):
    """A quantity: its value in the stored unit, and the unit written beside it, "" for none."""

    value: float
    unit: str
    end: int


def unit_after(after: str, dimension: str) -> tuple[str, float] | None:
    """The unit of a dimension that the words after a number begin with, and its factor."""
    parts = re.findall(r"[A-Za-zµΩω°\"'”’]+|\(", after[:24])
    known = units_of(dimension)
    for count in range(min(3, len(parts)), 0, -1):
        unit = known.get(unit_squeezed("".join(parts[:count])))
        if unit is not None and not re.match(r"\s*[(@]", after[:2]):
            return unit.symbol, unit.factor
    return None


def quantity(
    text: str, dimension: str, default: tuple[str, float] | None, low: float, high: float
) -> Reading | None:
    """The first quantity of a dimension in a text, in the stored unit.

    ``default`` is the unit of a bare number. A dot or comma before three figures parts thousands where
    only that lies between ``low`` and ``high``.
    """
    for figure in figures(text):
        given = unit_after(figure.after, dimension)
        unit = given or default
        if unit is None:
            continue
        for number in (figure.number, figure.other):
            if number is not None and low <= number * unit[1] <= high:
                return Reading(number * unit[1], given[0] if given else "", figure.end)
    return None


def bare_number(text: str) -> float | None:
    """The number that a text is, and nothing but that."""
    values = figures(text)
    if len(values) != 1 or text.strip()[: values[0].end].strip() != text.strip().rstrip():
        return None
    return values[0].number


def heading_unit(heading: str, dimension: str) -> tuple[str, float] | None:
    """The unit of a dimension that a heading ends with or holds in brackets.

    >>> heading_unit("Torque oz-in", "torque")[0], heading_unit("Coppia (kg·cm)", "torque")[0]
    ('ozf·in', 'kgf·cm')
    """
    known = units_of(dimension)
    plain = _PER_ANGLE.sub(lambda match: "sec" if match[2] == "60" else f"s{match[2]}", heading)
    plain = (
        re.sub(r"(?:@|bei|at|à|bij|a|con|mit)?\s*\d[\d.,]*\s*v?\b", " ", plain, flags=re.IGNORECASE)
        if dimension in ("torque", "speed") and not re.search(r"s(?:45|40)", plain)
        else plain
    )
    inside = re.findall(r"[(\[]([^)\]]*)[)\]]", plain)
    for words in [*inside, plain]:
        parts = re.findall(r"[A-Za-z0-9µΩω°\"'”]+", words)
        for count in range(len(parts), 0, -1):
            unit = known.get(unit_squeezed("".join(parts[-count:])))
            if unit is not None:
                return unit.symbol, unit.factor
        for part in parts:
            unit = known.get(unit_squeezed(part))
            if unit is not None and len(part) > 1 and dimension == "torque":
                return unit.symbol, unit.factor
    return None


def heading_volts(heading: str) -> float | None:
    """The volts that a heading of ratings names, as in "kg@4,8" or "6.0 V"."""
    for figure in figures(heading.replace("@", " ")):
        if 3.0 <= figure.number <= 9.0 and not re.match(r"\s*(?:°|deg)", figure.after):
            return figure.number
    return None
