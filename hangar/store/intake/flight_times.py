"""Times as loggers write them, as seconds that rise: plain numbers, clocks, days with times."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from datetime import date, datetime, timedelta
from itertools import pairwise
from statistics import median

_CLOCK = re.compile(
    r"(?:(?P<h>\d{1,4}):)?(?P<m>\d{1,4}):(?P<s>\d{1,2})(?:[.,:](?P<f>\d{1,9}))?\s*(?P<half>[AaPp]\.?[Mm]\.?)?"
)
_DAY = re.compile(r"(\d{1,4})[-./](\d{1,2})[-./](\d{1,4})")
_DAY_S = 86_400.0
_UNITS = (("s", 1.0), ("ms", 0.001), ("µs", 1e-6), ("days", _DAY_S), ("min", 60.0))
_STEP_S = (0.004, 6.0)
"""Rows of a log that tells anything of a flight follow each other so closely."""


def clock_s(words: str) -> float | None:
    """Seconds of "14:07:12.400", "0:00,2", "1:07:12 PM"; None for anything else.

    >>> clock_s("14:07:12.400"), clock_s("1:30,5"), clock_s("12:00:05 AM")
    (50832.4, 90.5, 5.0)
    """
    match = _CLOCK.fullmatch(words.strip())
    if match is None:
        return None
    hours, minutes, seconds = int(match["h"] or 0), int(match["m"]), int(match["s"])
    if seconds > 60 or (match["h"] is not None and minutes > 59):
        return None
    if match["half"]:
        hours = hours % 12 + (12 if match["half"][0] in "pP" else 0)
    part = float(f"0.{match['f']}") if match["f"] else 0.0
    return hours * 3600.0 + minutes * 60.0 + seconds + part


def day_numbers(words: str) -> tuple[int, int, int] | None:
    """The three numbers of a day in the order they stand; None for anything else."""
    match = _DAY.fullmatch(words.strip())
    return None if match is None else (int(match[1]), int(match[2]), int(match[3]))


def _ordinal(numbers: tuple[int, int, int], order: str) -> int | None:
    year, month, day = {
        "ymd": numbers,
        "dmy": (numbers[2], numbers[1], numbers[0]),
        "mdy": (numbers[2], numbers[0], numbers[1]),
    }[order]  # fmt: skip
    try:
        return date(year + 2000 if year < 100 else year, month, day).toordinal()
    except ValueError:
        return None


def days_s(days: Sequence[tuple[int, int, int] | None]) -> tuple[list[float], str]:
    """Seconds of each day and the order of its numbers: the one in which the days rise by one at most."""
    known = sorted({day for day in days if day is not None}, key=days.index)
    best, least = "ymd", math.inf
    for order in ("ymd", "dmy", "mdy"):
        ordinals = [_ordinal(day, order) for day in known]
        if not ordinals or any(ordinal is None for ordinal in ordinals):
            continue
        whole = [ordinal for ordinal in ordinals if ordinal is not None]
        jumps = sum(abs(later - sooner) for sooner, later in pairwise(whole))
        falls = sum(later < sooner for sooner, later in pairwise(whole))
        if jumps + 1000 * falls < least:
            best, least = order, jumps + 1000 * falls
    days_read = [math.nan if day is None else _ordinal(day, best) for day in days]
    return [math.nan if value is None else value * _DAY_S for value in days_read], best


def stamp_s(words: str) -> float | None:
    """Seconds of a day with a time in one, with a zone or without: "2026-09-19T14:07:12.092+02:00"."""
    plain = words.strip().replace(",", ".")
    if len(plain) < 15 or not plain[:4].isdigit():
        return None
    try:
        moment = datetime.fromisoformat(plain)
    except ValueError:
        return None
    zone = moment.utcoffset() or timedelta()
    return (moment.replace(tzinfo=None) - zone - datetime(1970, 1, 1)).total_seconds()  # noqa: DTZ001


def split_stamp(words: str) -> tuple[tuple[int, int, int], float] | None:
    """Day and clock of "19.09.2026 14:07:12": the order of the day's numbers is told by all days."""
    day, _, clock = words.strip().replace("T", " ").partition(" ")
    numbers, seconds = day_numbers(day), clock_s(clock)
    return None if numbers is None or seconds is None else (numbers, seconds)


def past_midnight(seconds: Sequence[float]) -> list[float]:
    """Clock times that go on rising past midnight, or past twelve on a clock of twelve hours."""
    made, added, last = [], 0.0, math.nan
    for second in seconds:
        fallen = last - second
        if fallen > 0.9 * _DAY_S:
            added += _DAY_S
        elif 0.9 * 43_200.0 < fallen < 1.02 * 43_200.0:
            added += 43_200.0
        if not math.isnan(second):
            last = second
        made.append(second + added)
    return made


def unit_of_numbers(values: Sequence[float]) -> tuple[str, float] | None:
    """The unit of bare times by the step from row to row; None where no unit makes a log of a flight."""
    known = [value for value in values if not math.isnan(value)]
    steps = [later - sooner for sooner, later in pairwise(known) if later > sooner]
    if not steps:
        return None
    step = median(steps)
    if 20_000.0 < known[0] < 80_000.0 and step < 1e-3:
        return "days", _DAY_S
    return next(
        ((unit, factor) for unit, factor in _UNITS if _STEP_S[0] <= step * factor <= _STEP_S[1]), None
    )


def evened(seconds: list[float]) -> list[float]:
    """Times of rows that share a stamp are spread between that stamp and the next one.

    So it is with a clock of whole seconds beside five rows a second, and with rows rounded onto one.
    """
    made = list(seconds)
    steps = [later - sooner for sooner, later in pairwise(seconds) if later > sooner]
    if not steps or len(steps) > 0.995 * (len(seconds) - 1):
        return made
    quantum = median(steps)
    if len(steps) > 0.7 * (len(seconds) - 1):
        return _smoothed(made, quantum)
    first = 0
    for at in range(1, len(seconds) + 1):
        if at == len(seconds) or seconds[at] != seconds[first]:
            ahead = seconds[at] - seconds[first] if at < len(seconds) else quantum
            room = min(ahead, quantum) if ahead > 0 else quantum
            for inside in range(first, at):
                made[inside] = seconds[first] + room * (inside - first) / (at - first)
            first = at
    return made


def _smoothed(seconds: list[float], quantum: float) -> list[float]:
    """Times that were rounded to their own step: the middle of what nine rows say, between gaps."""
    made = list(seconds)
    first = 0
    for at in range(1, len(seconds) + 1):
        if at == len(seconds) or not -0.5 * quantum <= seconds[at] - seconds[at - 1] <= 2.5 * quantum:
            part = seconds[first:at]
            count = len(part)
            if count >= 9:
                step = (part[-1] - part[0]) / (count - 1)
                away = [value - step * number for number, value in enumerate(part)]
                for number in range(count):
                    near = away[max(0, number - 4) : number + 5]
                    made[first + number] = step * number + sum(near) / len(near)
            first = at
    for at in range(1, len(made)):
        made[at] = max(made[at], made[at - 1] + 1e-3)
    return made
