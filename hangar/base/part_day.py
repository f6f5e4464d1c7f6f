"""A day of which only the year or the month is known, or nothing at all."""

from __future__ import annotations

import re
from calendar import monthrange
from datetime import date
from typing import Any

_PARTS = re.compile(r"(\d{4})(?:-(\d{2}))?")


class PartDay(date):
    """The first day that it may be, which remembers how much of it is known.

    It sorts and counts as that first day; ``isoformat`` gives what is known: "1997-05", "1997", or ""
    where nothing is. A day that is known whole is a plain date.

    >>> part_day("1997") < date(1997, 1, 2), part_day("1997").isoformat(), part_day("1997-05-14")
    (True, '1997', datetime.date(1997, 5, 14))
    """

    __slots__ = ("_text",)
    _text: str

    def __new__(cls, text: str) -> PartDay:
        match = _PARTS.fullmatch(text)
        if text and not match:
            raise ValueError(f"{text!r} is no year and no month of a year")
        made = (
            super().__new__(cls, int(match[1]), int(match[2] or 1), 1)
            if match
            else super().__new__(cls, 1, 1, 1)
        )
        made._text = text
        return made

    def isoformat(self) -> str:
        """What is known of it, in the order year, month."""
        return self._text

    __str__ = isoformat

    def __repr__(self) -> str:
        return f"PartDay({self._text!r})"

    def __eq__(self, other: object) -> bool:
        return isinstance(other, date) and self.isoformat() == other.isoformat()

    def __ne__(self, other: object) -> bool:
        return not self == other

    def __hash__(self) -> int:
        return hash(self._text)

    def __reduce__(self) -> tuple[Any, ...]:
        return PartDay, (self._text,)

    @property
    def last(self) -> date:
        """The last day that it may be; of one that is not known the last of all."""
        if not self._text:
            return date.max
        month = int(self._text[5:7]) if len(self._text) > 4 else 12
        return date(self.year, month, monthrange(self.year, month)[1])


UNKNOWN_DAY = PartDay("")


def part_day(text: str) -> date:
    """The day that a text gives as far as it is known.

    Raises: ValueError when it is no such day.
    """
    return date.fromisoformat(text) if len(text) == 10 else PartDay(text)


def is_known(day: date) -> bool:
    """Whether anything of a day is known."""
    return day.isoformat() != ""


def is_whole(day: date) -> bool:
    """Whether a day is known to the day."""
    return len(day.isoformat()) == 10
