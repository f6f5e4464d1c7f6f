"""A day as keepers type it: 2031-05-20, 20.5.31, 20 May 2031, in the order of their country, or today."""

from __future__ import annotations

import re
from datetime import date, datetime, time, timedelta
from functools import cache

from PySide6.QtCore import QLocale

from hangar.base.part_day import part_day
from hangar.window.kit.words import language_spoken, say

_YEARS_AHEAD = 20
"""A year of two digits is no more than so many years from today; else it is of the century before."""
_NUMBERS = re.compile(r"(\d{1,2})\s*([./-])\s*(\d{1,2})(?:\s*\2\s*(\d{4}|\d{2})?)?")
_MONTH = re.compile(r"(\d{1,2})\s*[./-]\s*(\d{4})")
_STEP = re.compile(r"([+-])\s*(\d{1,4})")
_CLOCK = re.compile(r"(.*?)[\s,T]+(\d{1,2}:\d{2})")


def month_goes_first() -> bool:
    """Whether this country writes the month before the day."""
    form = QLocale.system().dateFormat(QLocale.FormatType.ShortFormat)
    return -1 < form.find("M") < form.find("d")


def typed_day(typed: str, today: date, *, is_whole: bool = True, month_first: bool | None = None) -> date:
    """The day that was typed.

    Args:
        typed: what stands in the field.
        today: the day that it is.
        is_whole: whether a year or a month alone is not enough.
        month_first: whether 3/4/2031 is a day in March; None asks the country that the computer is set to.
            Dots stand between day, month and year in that order everywhere.

    Raises: ValueError when it is no day.

    >>> day = date(2031, 5, 20)
    >>> str(typed_day("1.6.", day)), str(typed_day("3/4/30", day, month_first=True))
    ('2031-06-01', '2030-03-04')
    >>> str(typed_day("+7", day)), str(typed_day("5/2030", day, is_whole=False))
    ('2031-05-27', '2030-05')
    """
    words = " ".join(typed.casefold().split())
    spoken = {say("today"): 0, say("yesterday"): -1, say("tomorrow"): 1}
    named = {word.casefold(): days for word, days in spoken.items()} | _NEAR
    if words in named:
        return today + timedelta(days=named[words])
    if step := _STEP.fullmatch(words):
        return today + timedelta(days=int(step[1] + step[2]))
    if numbers := _NUMBERS.fullmatch(words):
        day, month = int(numbers[1]), int(numbers[3])
        goes_first = month_goes_first() if month_first is None else month_first
        if numbers[2] != "." and goes_first:
            day, month = month, day
        return date(_whole_year(numbers[4], today), month, day)
    if (alone := _MONTH.fullmatch(words)) and not is_whole:
        return part_day(f"{int(alone[2]):04}-{int(alone[1]):02}")
    if found_day := _with_month_name(words, today):
        return found_day
    return date.fromisoformat(typed.strip()) if is_whole else part_day(typed.strip())


def is_either_way(typed: str) -> bool:
    """Whether day and month could each stand first in what is written, and it would be another day.

    >>> is_either_way("3/4/2031"), is_either_way("3.4.2031"), is_either_way("13/4/2031")
    (True, False, False)
    """
    numbers = _NUMBERS.match(" ".join(typed.split()))
    if numbers is None or numbers[2] == ".":
        return False
    first, second = int(numbers[1]), int(numbers[3])
    return first != second and first <= 12 and second <= 12


def typed_moment(typed: str, today: date) -> datetime:
    """The day and time that were typed; a day alone is its beginning.

    Raises: ValueError when it is none.

    >>> str(typed_moment("20.5.2031 9:30", date(2031, 5, 20)))
    '2031-05-20 09:30:00'
    """
    try:
        return datetime.fromisoformat(typed.strip())
    except ValueError:
        pass
    clock = _CLOCK.fullmatch(typed.strip())
    if clock is None:
        return datetime.combine(typed_day(typed, today), time())
    hours, minutes = clock[2].split(":")
    return datetime.combine(typed_day(clock[1], today), time(int(hours), int(minutes)))


_NEAR = {"today": 0, "yesterday": -1, "tomorrow": 1}


def _whole_year(written: str | None, today: date) -> int:
    if not written:
        return today.year
    year = int(written)
    if len(written) > 2:
        return year
    year += today.year // 100 * 100
    return year if year <= today.year + _YEARS_AHEAD else year - 100


@cache
def _month_names(language: str) -> dict[str, int]:
    """The months by name and by their first three letters, in English and the language spoken."""
    names: dict[str, int] = {}
    for locale in (QLocale("en"), QLocale(language)):
        for month in range(1, 13):
            for form in (QLocale.FormatType.LongFormat, QLocale.FormatType.ShortFormat):
                name = locale.monthName(month, form).casefold().strip(".")
                names[name] = names[name[:3]] = month
    return names


def _with_month_name(words: str, today: date) -> date | None:
    parts = [part for part in re.split(r"[\s.,/-]+", words) if part]
    months = _month_names(language_spoken())
    named = [part for part in parts if part in months]
    numbers = [part for part in parts if part.isdigit()]
    if len(named) != 1 or len(numbers) + 1 != len(parts) or len(numbers) not in (1, 2):
        return None
    days = [number for number in numbers if len(number) < 3]
    years = [number for number in numbers if len(number) == 4] or days[1:]
    if not days or len(days) + len(years) < len(numbers):
        return None
    return date(_whole_year(years[0] if years else None, today), months[named[0]], int(days[0]))
