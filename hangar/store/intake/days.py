"""Days as keepers write them, as exact as they are: a whole day, a month, a year, or not known."""

from __future__ import annotations

import re
from datetime import date, datetime, timedelta
from typing import NamedTuple

from hangar.base.text import NOTHING, Text, text
from hangar.store.intake.grid import Value
from hangar.store.intake.vocabulary import lexicon, month_of, tokens

FIRST_YEAR = 1930
_SERIAL_DAYS = range(20_000, 60_000)
_SERIAL_START = date(1899, 12, 30)


class DayRead(NamedTuple):
    """A day as far as it is known: "1997", "1997-05", "1997-05-14", or "" for none.

    ``doubt`` says what is not sure about it, nothing where all is; ``proves`` is "dmy" or "mdy" where
    it shows the order, and ``hangs_on`` is true where the order decides it.
    """

    day: str
    doubt: Text = NOTHING
    proves: str = ""
    hangs_on: bool = False


def read_day(written: str, value: Value, today: date, order: str = "") -> DayRead:
    """The day in a cell; ``order`` is "dmy" or "mdy" for days such as 3/4/99, "" while it is not known."""
    if isinstance(value, datetime):
        value = value.date()
    if isinstance(value, date):
        return _checked(DayRead(value.isoformat()), today)
    if isinstance(value, int | float) and not isinstance(value, bool):
        return _of_number(float(value), today)
    try:
        day_read = _of_text(written.strip()[:60], order, today)
    except ValueError:
        return _impossible(written, today)
    return _checked(day_read, today)


def _checked(day_read: DayRead, today: date) -> DayRead:
    if not day_read.day:
        return day_read
    year = int(day_read.day[:4])
    if year < FIRST_YEAR or day_read.day[: len(day_read.day)] > today.isoformat()[: len(day_read.day)]:
        doubt = text(
            "would be {day}, which lies outside {first} to today", day=day_read.day, first=FIRST_YEAR
        )
        return DayRead("", doubt)
    return day_read


def _of_number(number: float, today: date) -> DayRead:
    if number.is_integer() and FIRST_YEAR <= number <= today.year:
        return DayRead(str(int(number)))
    if int(number) in _SERIAL_DAYS:
        day = _SERIAL_START + timedelta(days=int(number))
        return DayRead(
            day.isoformat(), text("is a number; taken as the day {day} that lost its form", day=day)
        )
    return DayRead("", text("is no day"))


def _impossible(written: str, today: date) -> DayRead:
    year = re.search(r"(\d{4})|[/.\- ](\d{2})$", written.strip())
    if not year:
        return DayRead("", text("is no day of the calendar"))
    offered = int(year[1]) if year[1] else _whole_year(int(year[2]), today)
    return DayRead("", text("is no day of the calendar; the year {year} could be kept", year=offered))


def _of_text(written: str, order: str, today: date) -> DayRead:
    iso = re.fullmatch(r"(\d{4})[-/.](\d{1,2})(?:[-/.](\d{1,2}))?(?:[T ]\d\d:\d\d.*)?", written)
    if iso:
        return DayRead(_iso(int(iso[1]), int(iso[2]), int(iso[3]) if iso[3] else None))
    three = re.fullmatch(r"(\d{1,2})\s*[-/. ]\s*(\d{1,2})\.?\s*[-/. ]\s*'?(\d{4}|\d{2})", written)
    if three:
        return _ordered(written, int(three[1]), int(three[2]), _whole_year(int(three[3]), today), order)
    two = re.fullmatch(r"(\d{1,2})\s*[-/.]\s*(\d{4})", written)
    if two:
        return DayRead(_iso(int(two[2]), int(two[1]), None))
    year = re.fullmatch(r"'?(\d{4}|\d{2})", written)
    if year:
        return DayRead(str(_whole_year(int(year[1]), today)))
    return _of_words(written, today)


def _ordered(written: str, first: int, second: int, year: int, order: str) -> DayRead:
    if second > 12 and first <= 12:
        return DayRead(_iso(year, first, second), proves="mdy")
    if first > 12 and second <= 12:
        return DayRead(_iso(year, second, first), proves="dmy")
    if first == second:
        return DayRead(_iso(year, first, second))
    if "." in written:
        # Dots stand between day, month and year in that order only.
        return DayRead(_iso(year, second, first))
    if order == "mdy":
        return DayRead(_iso(year, first, second), hangs_on=True)
    value = _iso(year, second, first)
    return DayRead(value if order else str(year), hangs_on=True)


def _of_words(written: str, today: date) -> DayRead:
    words = [token.word for token in tokens(written)]
    months = month_of()
    named = [word for word in words if word in months]
    numbers = [int(word) for word in words if word.isdigit()]
    joined = re.fullmatch(r"([a-z]{3,10})'?(\d{2}|\d{4})", "".join(words))
    if not named and joined and joined[1] in months:
        named, numbers = [joined[1]], [int(joined[2])]
    rest = [
        word for word in words if word not in months and not re.fullmatch(r"\d+(?:st|nd|rd|th|er|e)?", word)
    ]
    ordinals = [re.fullmatch(r"(\d+)(?:st|nd|rd|th|er)", word) for word in words]
    numbers += [int(part[1]) for part in ordinals if part]
    years = [number for number in numbers if number > 31]
    if len(named) == 1 and numbers:
        year = years[0] if years else numbers[-1]
        days = [number for number in numbers if number != year]
        made = _iso(_whole_year(year, today), months[named[0]], days[0] if days else None)
        vague = [word for word in rest if word not in ("de", "di", "of", "the", "del", "le", "den")]
        doubt = text("is not quite sure; taken as it stands") if vague or "?" in written else NOTHING
        return DayRead(made, doubt)
    return _vague_year(written, words, years, numbers, today)


def _vague_year(written: str, words: list[str], years: list[int], numbers: list[int], today: date) -> DayRead:
    lex = lexicon("words")
    hits = {hit.meaning for hit in lex.find(written)}
    sure_words = sum(hit.words for hit in lex.find(written) if hit.meaning in ("season", "late"))
    if len(numbers) in (1, 2) and (years or hits & {"season", "late"} or "?" in written or len(words) == 1):
        year = years[0] if years else numbers[-1]
        if year >= 1000 or year < 100:
            whole = _whole_year(year, today)
            rest_count = len(words) - len(numbers) - sure_words
            if rest_count <= 0 or re.fullmatch(r"(?:ca?|q)", words[0]):
                return DayRead(str(whole), text("is not exact; the year {year} was taken", year=whole))
    return DayRead("", text("is no day"))


def _whole_year(year: int, today: date) -> int:
    if year >= 100:
        return year
    return 2000 + year if year <= today.year % 100 else 1900 + year


def _iso(year: int, month: int, day: int | None) -> str:
    if day is None:
        date(year, month, 1)
        return f"{year:04}-{month:02}"
    return date(year, month, day).isoformat()
