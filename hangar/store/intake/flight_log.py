"""A logger's table: which column is what, in which unit, and the rows of one flight in the order of time."""

from __future__ import annotations

import hashlib
import io
import math
import re
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from pathlib import Path
from statistics import median

from hangar.base.errors import BadInput
from hangar.base.text import Text, text
from hangar.store.intake.flight_columns import LogColumn, assigned, number_of
from hangar.store.intake.flight_times import (
    clock_s,
    day_numbers,
    days_s,
    evened,
    past_midnight,
    split_stamp,
    stamp_s,
    unit_of_numbers,
)
from hangar.store.intake.text_file import decoded, rows_within_limits
from hangar.store.intake.vocabulary import lexicon, unit_squeezed, units_of
from hangar.store.limits import refuse_large_file

_LEAST_ROWS = 20
_SEPARATORS = ";\t|,"
_APART_S = 120.0
"""A longer wait between two rows parts two flights."""

_COMMENT = ("#", "//", "%", "!", "*")


@dataclass
class ReadLog:
    """One flight of a log.

    Attributes:
        name: the file's name.
        check_sum: SHA-256 of the whole file.
        heading_line: the headings as they stand, by which another log of the logger is known.
        time_s: seconds from the first row of the flight, rising.
        columns: what was understood of each column, with its values in V or A.
        started: day and time of the first row where the log tells them, else None.
        doubts: what was taken without being sure.
        flights: how many flights the file holds.
        flight: which of them this is, from 1.
    """

    name: str
    check_sum: str
    heading_line: str
    time_s: list[float]
    columns: list[LogColumn]
    started: float | None = None
    doubts: list[Text] = field(default_factory=list)
    flights: int = 1
    flight: int = 1

    def with_role(self, role: str) -> list[LogColumn]:
        """The columns of a role, in their order."""
        return [column for column in self.columns if column.role == role]

    def mapping(self) -> dict[str, str]:
        """Role and unit of each column by its heading, to be remembered."""
        return {column.heading: column.words for column in self.columns}


def read_flight_log(
    path: Path, near_v: float | None = None, remembered: Mapping[str, Mapping[str, str]] | None = None,
    flight: int | None = None,
) -> ReadLog:  # fmt: skip
    """Read a logger's table.

    Args:
        path: the file.
        near_v: volts of the aircraft's packs, by which a column without heading is known.
        remembered: roles of columns by heading, of heading lines seen before.
        flight: which flight of the file, from 1; None takes the longest.

    Raises: BadInput naming the file when it holds no readable log, or not so many flights.
    """
    try:
        refuse_large_file(path)
        content = path.read_bytes()
    except OSError as fault:
        raise BadInput(
            "{file} cannot be read: {fault}.", file=path.name, fault=fault.strerror or str(fault)
        ) from fault
    return flight_log_of(path.name, content, near_v, remembered, flight)


def flight_log_of(
    name: str,
    content: bytes,
    near_v: float | None = None,
    remembered: Mapping[str, Mapping[str, str]] | None = None,
    flight: int | None = None,
) -> ReadLog:
    """The flight in the bytes of a file called ``name``; raises BadInput as :func:`read_flight_log`."""
    rows, above = _rows_of(name, content)
    first, width = _first_data(rows)
    if first is None:
        raise BadInput("{file} holds no log: no rows of numbers were found in it.", file=name)
    headings, units = _headings(rows, first, width)
    data = [row for row in rows[first:] if _is_data(row) and len(row) >= min(2, width)]
    if len(data) < _LEAST_ROWS:
        raise BadInput(
            "{file} has {rows} rows of numbers; a log of a flight needs {least} or more.",
            file=name,
            rows=len(data),
            least=_LEAST_ROWS,
        )
    line = " | ".join(headings)
    by_column = [[row[at] if at < len(row) else "" for row in data] for at in range(width)]
    log = ReadLog(name, hashlib.sha256(content).hexdigest(), line, [], [])
    known = (remembered or {}).get(line, {})
    log.columns = assigned(headings, units, by_column, near_v, known, log.doubts)
    seconds, used = _times(log, by_column, [*above, *(cell for row in rows[:first] for cell in row)])
    _one_flight(log, seconds, used, flight)
    return log


def _rows_of(name: str, content: bytes) -> tuple[list[list[str]], list[str]]:
    """The filled rows, and the words of comment lines."""
    if not content.strip():
        raise BadInput("{file} is empty; expected a logger's table.", file=name)
    if (
        content[:2000].count(0) > 0
        and not content.startswith((b"\xff\xfe", b"\xfe\xff"))
        and not _is_wide(content)
    ):
        raise BadInput("{file} is no table in text; save the log as CSV.", file=name)
    plain = decoded(content).replace("\x00", "")
    lines = plain.splitlines()
    comments = [line.lstrip("#/%!* ") for line in lines if line.startswith(_COMMENT)]
    kept = [line for line in lines if line.strip() and not line.startswith(_COMMENT)]
    separator = _separator(kept[len(kept) // 2 : len(kept) // 2 + 200])
    rows = rows_within_limits(name, io.StringIO("\n".join(kept)), separator)
    made = [[cell.strip() for cell in row if cell or separator != " "] for _, row in rows]
    return made, comments


def _is_wide(content: bytes) -> bool:
    return content[:4000].count(0) > len(content[:4000]) // 4 and bool(
        re.search(rb"[0-9]\x00[0-9.,]\x00|\x00[0-9]\x00[0-9.,]", content[:4000])
    )


def _separator(lines: Sequence[str]) -> str:
    """The sign between columns; a comma only where no other sign parts the lines, as it may stand in numbers.

    >>> _separator(["0,1;6,83;0,2"]), _separator(["0.1,6.83", "0.2,6.82"]), _separator(["1 6.8 0.1"])
    (';', ',', ' ')
    """
    for sign in _SEPARATORS:
        counts = Counter(line.count(sign) for line in lines)
        usual, often = counts.most_common(1)[0] if counts else (0, 0)
        if usual and often >= 0.7 * len(lines):
            return sign
    return " "


def _is_value(cell: str) -> bool:
    return number_of(cell) is not None or clock_s(cell) is not None or stamp_s(cell) is not None


def _is_data(row: Sequence[str]) -> bool:
    filled = [cell for cell in row if cell]
    values = sum(
        _is_value(cell) or day_numbers(cell) is not None or split_stamp(cell) is not None for cell in filled
    )
    return len(filled) >= 2 and values >= max(2, 0.5 * len(filled))


def _first_data(rows: Sequence[Sequence[str]]) -> tuple[int | None, int]:
    """Number of the first row of numbers, and the usual width."""
    widths = Counter(len(row) for row in rows[-2000:] if len(row) > 1)
    if not widths:
        return None, 0
    width = widths.most_common(1)[0][0]
    for at, row in enumerate(rows[:200]):
        if len(row) >= min(width, 2) and abs(len(row) - width) <= 1 and _is_data(row):
            return at, width
    return None, width


def _headings(rows: Sequence[Sequence[str]], first: int, width: int) -> tuple[list[str], list[str]]:
    """The headings above the numbers, and the units of a row of units between."""
    above = [row for row in rows[max(0, first - 3) : first] if len([cell for cell in row if cell]) >= 2]
    units = [""] * width
    if len(above) > 1 and _is_units(above[-1]):
        units = [*above.pop(), *[""] * width][:width]
    heading = above[-1] if above else []
    return [(heading[at] if at < len(heading) else "") or f"column {at + 1}" for at in range(width)], units


def _is_units(row: Sequence[str]) -> bool:
    known = {
        written for dimension in ("log_volts", "log_amps", "log_time") for written in units_of(dimension)
    }
    filled = [unit_squeezed(cell) for cell in row if cell]
    short = all(len(cell.strip("[]()")) <= 6 for cell in row)
    return short and len(filled) >= 2 and sum(cell in known for cell in filled) >= 2


def _times(log: ReadLog, cells: list[list[str]], words: Sequence[str]) -> tuple[list[float], list[int]]:
    """Seconds of each row that has a time, and the numbers of those rows."""
    column = next(iter(log.with_role("time")), None)
    days = next(iter(log.with_role("date")), None)
    if column is None:
        count = next(iter(log.with_role("count")), None)
        return _by_number(log, count, cells, words)
    column_cells = cells[column.at]
    seconds = [stamp_s(cell) for cell in column_cells]
    if _mostly(seconds):
        log.started = next((second for second in seconds if second is not None), None)
        return _kept(seconds)
    split = [split_stamp(cell) for cell in column_cells]
    if _mostly(split):
        ordinals, _order = days_s([None if moment is None else moment[0] for moment in split])
        made = [
            None if moment is None else day + moment[1] for day, moment in zip(ordinals, split, strict=True)
        ]
        _note_start(log, made)
        return _kept(made)
    clocks = [clock_s(cell) for cell in column_cells]
    if _mostly(clocks):
        if days is not None:
            ordinals, _order = days_s([day_numbers(cell) for cell in cells[days.at]])
            if sum(not math.isnan(ordinal) for ordinal in ordinals) > 0.9 * len(ordinals):
                made = [
                    None if clock is None else day + clock
                    for day, clock in zip(ordinals, clocks, strict=True)
                ]
                _note_start(log, made)
                return _kept(made)
        straight = past_midnight([math.nan if clock is None else clock for clock in clocks])
        return _kept([None if math.isnan(value) else value for value in straight])
    numbers = [number_of(cell) for cell in column_cells]
    values = [math.nan if number is None else number for number in numbers]
    unit = column.unit or unit_of_numbers(values)
    if unit is None:
        raise BadInput(
            "{file}, column {heading}: the times do not rise as those of a flight do; expected seconds, "
            "milliseconds, minutes or a clock.",
            file=log.name,
            heading=column.heading,
        )
    if column.unit is not None and not _is_flight(values, column.unit[1]):
        lines = unit_of_numbers(values)
        if lines is not None and lines != column.unit:
            log.doubts.append(
                text(
                    "{heading} is headed {unit}, but its rows rise as {other}; taken as {other}",
                    heading=column.heading,
                    unit=column.unit[0],
                    other=lines[0],
                )
            )
            unit = lines
    column.unit = unit
    return _kept([None if number is None else number * unit[1] for number in numbers])


def _note_start(log: ReadLog, seconds: Sequence[float | None]) -> None:
    first = next((second for second in seconds if second is not None and not math.isnan(second)), None)
    # Days count from year 1, stamps from 1970.
    log.started = None if first is None else first - 719_163 * 86_400.0


def _is_flight(values: Sequence[float], factor: float) -> bool:
    known = [value for value in values if not math.isnan(value)]
    steps = [later - sooner for sooner, later in pairwise(known) if later > sooner]
    return bool(steps) and 0.002 <= median(steps) * factor <= 12.0


def _mostly(values: Sequence[object]) -> bool:
    return sum(value is not None for value in values) > 0.8 * len(values)


def _kept(seconds: Sequence[float | None]) -> tuple[list[float], list[int]]:
    used = [at for at, second in enumerate(seconds) if second is not None and math.isfinite(second)]
    return [float(seconds[at] or 0.0) for at in used], used


def _by_number(
    log: ReadLog, count: LogColumn | None, cells: list[list[str]], words: Sequence[str]
) -> tuple[list[float], list[int]]:
    """Times of rows that are only numbered, where the log says how far they lie apart."""
    step = _stated_interval(words)
    if step is None:
        raise BadInput(
            "{file} has no column of time, and its first lines do not say how far its rows lie apart; "
            "expected a column of time, or a line such as interval 0.1 s.",
            file=log.name,
        )
    rows = len(cells[0])
    numbers = (
        [number_of(cell) for cell in cells[count.at]] if count is not None else list(map(float, range(rows)))
    )
    return _kept([None if number is None else number * step for number in numbers])


def _stated_interval(words: Sequence[str]) -> float | None:
    for line in words:
        if not lexicon("flight_log").means(line, "interval"):
            continue
        match = re.search(r"(\d+(?:[.,]\d+)?)\s*(hz|per second|ms|s\b|sec)", line.lower())
        if match:
            number = float(match[1].replace(",", "."))
            if number <= 0.0:
                continue
            if match[2] in ("hz", "per second"):
                return 1.0 / number
            return number * (0.001 if match[2] == "ms" else 1.0)
    return None


def _one_flight(log: ReadLog, seconds: list[float], used: list[int], wanted: int | None) -> None:
    """Put the rows of one flight in order, the longest unless another is wanted; its times begin at 0."""
    if len(used) < _LEAST_ROWS:
        raise BadInput("{file}: its times cannot be read.", file=log.name)
    parts = _parts(seconds)
    longest = max(parts, key=lambda part: part[1] - part[0])
    flights = [
        part for part in parts if part[1] - part[0] >= max(_LEAST_ROWS, 0.1 * (longest[1] - longest[0]))
    ]
    number = flights.index(longest) + 1 if wanted is None else wanted
    if not 1 <= number <= len(flights):
        raise BadInput(
            "{file} holds {count} flights; flight {number} was asked for, 1 to {count} is allowed.",
            file=log.name,
            count=len(flights),
            number=number,
        )
    log.flights, log.flight = len(flights), number
    if len(flights) > 1:
        log.check_sum = f"{log.check_sum} {number}"
    if len(flights) > 1 and wanted is None:
        log.doubts.append(
            text(
                "the file holds {count} flights; the longest, number {number}, was read",
                count=len(flights),
                number=number,
            )
        )
    first, last = flights[number - 1]
    order = sorted(range(first, last), key=lambda at: seconds[at])
    if any(later < sooner for sooner, later in pairwise(order)):
        log.doubts.append(text("its rows are not in the order of time; they were sorted"))
    times = evened([seconds[at] for at in order])
    keep = [at for at in range(len(times)) if at == 0 or times[at] > times[at - 1]]
    log.time_s = [times[at] - times[0] for at in keep]
    if log.started is not None:
        log.started += times[0] - seconds[0]
    rows = [used[order[at]] for at in keep]
    for column in log.columns:
        column.values = [column.values[at] for at in rows] if column.values else []


def _parts(seconds: Sequence[float]) -> list[tuple[int, int]]:
    """Where one flight ends and the next begins: a long wait, or a clock that begins again."""
    falls = [at for at in range(1, len(seconds)) if seconds[at] < seconds[at - 1] - 1e-9]
    # Rows out of order fall often and little; a logger that starts again falls seldom and to its beginning.
    if len(falls) > max(6, 0.005 * len(seconds)):
        falls = []
    steps = sorted(later - sooner for sooner, later in pairwise(seconds) if later > sooner)
    usual = steps[len(steps) // 2] if steps else 1.0
    falls = [at for at in falls if seconds[at - 1] - seconds[at] > max(5.0, 10.0 * usual)]
    waits = [
        at for at in range(1, len(seconds)) if seconds[at] - seconds[at - 1] > max(_APART_S, 20.0 * usual)
    ]
    if len(falls) == 0 and len(waits) > 20:
        waits = []
    cuts = [0, *sorted({*falls, *waits}), len(seconds)]
    return [(first, last) for first, last in pairwise(cuts) if last > first]
