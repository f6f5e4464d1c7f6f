"""What stands in a column: shares of its values that read as channels, functions, types, days and so on."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date
from functools import lru_cache

from hangar.store.intake.days import read_day
from hangar.store.intake.figures import figures
from hangar.store.intake.grid import Cell
from hangar.store.intake.packs import read_pack
from hangar.store.intake.phrases import (
    is_ditto,
    is_none,
    is_type_name,
    is_unknown,
    read_channels,
    read_phrase,
)
from hangar.store.intake.vocabulary import chemistries, lexicon, tokens

_LOOKED_AT = 80
_A_DAY = date(2100, 1, 1)


@dataclass(slots=True)
class Profile:
    """Shares from 0 to 1 of the distinct values of a column; ``count`` values say anything at all."""

    count: int = 0
    filled: int = 0
    shares: dict[str, float] = field(default_factory=dict)
    numbers: list[float] = field(default_factory=list)

    def share(self, what: str) -> float:
        """The share of values that read as this."""
        return self.shares.get(what, 0.0)

    def within(self, low: float, high: float) -> float:
        """The share of values that are numbers between two bounds."""
        return sum(low <= number <= high for number in self.numbers) / self.count if self.count else 0.0


def profile_of(cells: Iterable[Cell], language: str) -> Profile:
    """The profile of a column's cells; dittos, unknowns and strokes say nothing."""
    every = list(cells)
    telling: dict[str, Cell] = {}
    for cell in every:
        if cell.is_unworked or is_ditto(cell.text) or is_unknown(cell.text) or is_none(cell.text):
            continue
        telling.setdefault(cell.text, cell)
    made = Profile(len(telling), len(every))
    some = list(telling.values())[:_LOOKED_AT]
    made.count = len(some)
    if not some:
        return made
    for cell in some:
        for what in _readings(cell.text, isinstance(cell.value, date), language):
            made.shares[what] = made.shares.get(what, 0.0) + 1 / len(some)
        number = _number(cell)
        if number is not None:
            made.numbers.append(number)
    made.shares["distinct"] = len(telling) / max(1, sum(not is_ditto(cell.text) for cell in every))
    return made


def _number(cell: Cell) -> float | None:
    if isinstance(cell.value, int | float) and not isinstance(cell.value, bool):
        return float(cell.value)
    values = figures(cell.text)
    return values[0].number if values and values[0].start == 0 else None


@lru_cache(maxsize=20_000)
def _readings(text: str, is_day: bool, language: str) -> tuple[str, ...]:
    readings = []
    if is_day:
        return ("day", "number")
    day = read_day(text, text, _A_DAY, "dmy")
    if day.day and not day.doubt:
        readings.append("day")
    numbers = figures(text)
    if numbers and numbers[0].start <= 1:
        readings.append("number")
        if text.strip().replace(",", ".").replace(".", "", 1).isdigit():
            readings.append("bare")
    if read_channels(text):
        readings.append("channel")
    readings += _of_words(text, language)
    pack = read_pack(text)
    if pack and pack.chemistry and (pack.series or pack.capacity_mah):
        readings.append("pack")
    if is_type_name(text) and not (pack and pack.chemistry):
        readings.append("type")
    return tuple(readings)


def _of_words(text: str, language: str) -> list[str]:
    of_words = []
    words = tokens(text)
    phrase = read_phrase(text, language, "function")
    if phrase.functions:
        of_words.append("function")
        if len(words) <= 6 and not is_type_name(phrase.rest):
            of_words.append("work only")
    if lexicon("sides").find(text, language) and len(words) == 1:
        of_words.append("side")
    if (
        words
        and any(hit.start == words[0].start for hit in lexicon("kinds", "drive").find(text, language))
        and len(words) <= 3
    ):
        of_words.append("drive")
    of_words += _of_meanings(text, len(words))
    if words and all(word.word.isalpha() for word in words):
        of_words.append("alpha")
    if len(text) > 24:
        of_words.append("long")
    return of_words


def _of_meanings(text: str, count: int) -> list[str]:
    of_meanings = []
    if chemistries()[0].find(text) and count <= 2:
        of_meanings.append("chemistry")
    of_meanings += [what for what in ("power", "class") if lexicon("kinds", what).find(text)]
    if any(lexicon("words").begins(text, word) for word in ("place", "lent", "binned")):
        of_meanings.append("place")
    return of_meanings
