"""What each column of a flight log is: by its heading, else by what stands in it."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from statistics import fmean, median, pstdev

from hangar.base.text import Text, text
from hangar.store.intake.figures import heading_unit
from hangar.store.intake.flight_times import clock_s, day_numbers, split_stamp, stamp_s
from hangar.store.intake.vocabulary import lexicon, tokens, unit_squeezed, units_of

ROLES = ("time", "date", "count", "bus", "pack", "input", "amps", "charge", "unused")
"""What a column can be: bus are the volts at the receiver, pack those at a pack's own plug, input those
before a regulator; charge is read and shown, but what was used is worked out from the current."""

_VOLTS = ("bus", "pack", "input")
_NUMBER = re.compile(r"([-+]?\d*[.,]?\d+(?:[eE][-+]?\d+)?)\s*([A-Za-zµ°%]{0,8})")
_SEEN = 4_000
_SPELT_OUT = 3


@dataclass
class LogColumn:
    """One column: what it is, of which pack (from 0; None for all), its unit, its values in V, A or mAh."""

    at: int
    heading: str
    role: str
    unit: tuple[str, float] | None = None
    pack: int | None = None
    values: list[float] = field(default_factory=list)

    @property
    def words(self) -> str:
        """Role, pack and unit in one word, as they are remembered: "pack 2 [mV]"."""
        number = "" if self.pack is None else f" {self.pack + 1}"
        return f"{self.role}{number}" + (f" [{self.unit[0]}]" if self.unit else "")


def number_of(cell: str) -> float | None:
    """The number in a cell with its unit behind it or without; None for anything else.

    >>> number_of("8,25"), number_of("6830 mV"), number_of("14:07:12")
    (8.25, 6830.0, None)
    """
    try:
        value = float(cell)
    except ValueError:
        match = _NUMBER.fullmatch(cell)
        if match is None:
            return None
        value = float(match[1].replace(",", "."))
    return value if math.isfinite(value) else None


def assigned(
    headings: Sequence[str],
    units: Sequence[str],
    cells: Sequence[Sequence[str]],
    near_v: float | None,
    known: Mapping[str, str],
    doubts: list[Text],
) -> list[LogColumn]:
    """The columns of a log with their roles, units and values; what was not sure is added to ``doubts``."""
    columns = [LogColumn(at, heading, _by_heading(heading)) for at, heading in enumerate(headings)]
    for column, row_unit in zip(columns, units, strict=True):
        _set_unit(column, row_unit, cells[column.at])
        if column.heading in known:
            _as_remembered(column, known[column.heading])
    _settle_time(columns, cells)
    for column in columns:
        if column.role in (*_VOLTS, "volts", "amps", "charge"):
            column.values = _values(cells[column.at])
    _by_content(columns, cells, near_v, doubts)
    for column in columns:
        _scale(column, near_v)
    _places(columns, doubts)
    return columns


def _by_heading(heading: str) -> str:
    lex = lexicon("flight_log")
    meanings = lex.meanings(heading)
    unit_words = {"volts": heading_unit(heading, "log_volts"), "amps": heading_unit(heading, "log_amps")}
    if "other" in meanings and not (meanings.keys() & {"amps"} and unit_words["amps"]):
        return "unused"
    if "charge" in meanings and unit_words["amps"] is None and unit_words["volts"] is None:
        return "charge"
    single = tokens(heading)
    if len(single) == 1 and len(single[0].word) == 1:
        return {"t": "time", "u": "volts", "v": "volts", "i": "amps", "a": "amps", "n": "count"}.get(
            single[0].word, ""
        )
    if "amps" in meanings and (unit_words["volts"] is None or unit_words["amps"] is not None):
        return "amps"
    if "volts" in meanings or (
        unit_words["volts"] is not None and meanings.keys() & {"bus", "pack", "input", "output"}
    ):
        return "volts"
    for role in ("date", "time", "count"):
        if role in meanings:
            both = role == "date" and "time" in meanings
            return "time" if both else role
    return "volts" if unit_words["volts"] else "amps" if unit_words["amps"] else ""


_DIMENSION = {"volts": "log_volts", "amps": "log_amps", "time": "log_time"}


def _set_unit(column: LogColumn, row_unit: str, cells: Sequence[str]) -> None:
    dimension = _DIMENSION.get(column.role)
    if dimension is None:
        if not column.role and row_unit:
            role = next((role for role, name in _DIMENSION.items() if heading_unit(row_unit, name)), "")
            column.role, dimension = role, _DIMENSION.get(role)
        if dimension is None:
            return
    column.unit = heading_unit(row_unit, dimension) if row_unit else None
    column.unit = column.unit or _bracketed(column.heading, dimension)
    if column.unit is None:
        match = next((match for cell in cells[:50] if (match := _NUMBER.fullmatch(cell)) and match[2]), None)
        written = units_of(dimension).get(unit_squeezed(match[2])) if match else None
        column.unit = (written.symbol, written.factor) if written else None


def _bracketed(heading: str, dimension: str) -> tuple[str, float] | None:
    """The unit that a heading states; "Volts", "Bus amps" or a lone letter only name what stands below."""
    words = tokens(heading)
    if not words or (len(words[-1].word) > _SPELT_OUT and dimension != "log_time"):
        return None
    return None if len(heading.strip()) == 1 else heading_unit(heading, dimension)


def _as_remembered(column: LogColumn, words: str) -> None:
    match = re.fullmatch(r"(\w+)(?: (\d))?(?: \[(.+)\])?", words)
    if match is None or match[1] not in ROLES:
        return
    column.role = match[1]
    column.pack = int(match[2]) - 1 if match[2] else None
    dimension = {"time": "log_time", "amps": "log_amps"}.get(column.role, "log_volts")
    unit = units_of(dimension).get(unit_squeezed(match[3])) if match[3] else None
    if unit is not None:
        column.unit = (unit.symbol, unit.factor)


def _values(cells: Sequence[str]) -> list[float]:
    numbers = map(number_of, cells)
    return [math.nan if value is None else value for value in numbers]


def _is_time(cell: str) -> bool:
    return clock_s(cell) is not None or stamp_s(cell) is not None or split_stamp(cell) is not None


def _share(cells: Sequence[str], test: object) -> float:
    seen = [cell for cell in cells[:_SEEN] if cell]
    return sum(bool(test(cell)) for cell in seen) / len(seen) if seen else 0.0  # type: ignore[operator]


def _rises(cells: Sequence[str]) -> bool:
    values = [value for cell in cells[:_SEEN] if (value := number_of(cell)) is not None]
    steps = [later - sooner for sooner, later in pairwise(values)]
    return len(steps) > 10 and sum(step >= 0 for step in steps) > 0.98 * len(steps) and values[-1] > values[0]


def _settle_time(columns: list[LogColumn], cells: Sequence[Sequence[str]]) -> None:
    """One column of time: of several the one with a clock or the finest steps; without one what rises."""
    for column in columns:
        if (
            column.role == "time"
            and _share(cells[column.at], lambda cell: day_numbers(cell) is not None) > 0.8
        ):
            column.role = "date"
        elif column.role in ("date", "", "count") and _share(cells[column.at], _is_time) > 0.8:
            column.role = "time"
        elif column.role == "time" and not (
            _share(cells[column.at], _is_time) > 0.8 or _rises_somewhere(cells[column.at])
        ):
            column.role = "unused"
    times = [column for column in columns if column.role == "time"]
    if not times:
        rising = [column for column in columns if column.role in ("", "count") and _rises(cells[column.at])]
        fine = [column for column in rising if column.role == "" and not _is_counter(cells[column.at])]
        if fine:
            fine[0].role = "time"
        elif rising:
            rising[0].role = "count"
    for spare in times[1:]:
        finer = len(set(cells[spare.at][:_SEEN])) > 1.5 * len(set(cells[times[0].at][:_SEEN]))
        (times[0] if finer else spare).role = "unused"
        if finer:
            times[0] = spare


def _rises_somewhere(cells: Sequence[str]) -> bool:
    values = [value for cell in cells[:_SEEN] if (value := number_of(cell)) is not None]
    return (
        len(values) > 10
        and len(set(values)) > 5
        and sum(b >= a for a, b in pairwise(values)) > 0.5 * len(values)
    )


def _is_counter(cells: Sequence[str]) -> bool:
    values = [number_of(cell) for cell in cells[:200]]
    return all(b is not None and a is not None and b - a == 1.0 for a, b in pairwise(values))


def _by_content(
    columns: list[LogColumn], cells: Sequence[Sequence[str]], near_v: float | None, doubts: list[Text]
) -> None:
    """Columns without a word above them: volts lie near the pack's, and fall when the amps rise."""
    unknown = [
        column for column in columns if column.role == "" and _share(cells[column.at], number_of_any) > 0.6
    ]
    for column in columns:
        if column.role == "":
            column.role = "unused"
    for column in unknown:
        column.values = _values(cells[column.at])
    if not any(column.role == "volts" for column in columns):
        fitting = [column for column in unknown if _looks_like_volts(column.values, near_v)]
        if fitting:
            fitting[0].role = "volts"
            doubts.append(
                text("{heading} was taken as volts by what stands in it", heading=fitting[0].heading)
            )
    volts = next((column for column in columns if column.role == "volts"), None)
    if volts is not None and not any(column.role == "amps" for column in columns):
        rivals = [
            (fall_together(volts.values, column.values), column)
            for column in unknown
            if column.role == "unused" and _looks_like_amps(column.values)
        ]
        best = min(rivals, key=lambda rival: rival[0], default=None)
        if best is not None and best[0] < -0.3:
            best[1].role = "amps"
            doubts.append(
                text("{heading} was taken as amps: the volts fall when it rises", heading=best[1].heading)
            )
    for column in columns:
        if column.role == "unused":
            column.values = []


def number_of_any(cell: str) -> bool:
    """Whether a cell holds a number."""
    return number_of(cell) is not None


def _known(values: Sequence[float]) -> list[float]:
    return [value for value in values if not math.isnan(value)]


def _looks_like_volts(values: Sequence[float], near_v: float | None) -> bool:
    known = [value for value in _known(values) if value > 0.0]
    if len(known) < 10:
        return False
    middle = median(known)
    middle = middle / 1000.0 if middle > 1000.0 else middle
    low, high = (0.55 * near_v, 1.4 * near_v) if near_v else (2.5, 60.0)
    return low <= middle <= high and pstdev(known) < 0.3 * fmean(known)


def _looks_like_amps(values: Sequence[float]) -> bool:
    known = _known(values)
    return len(known) >= 10 and min(known) > -2.0 and len(set(known)) > 3


def fall_together(volts: Sequence[float], amps: Sequence[float]) -> float:
    """Correlation of the differences from row to row: clearly below 0 for volts beside their own current."""
    pairs = [
        (b - a, d - c)
        for (a, b), (c, d) in zip(pairwise(volts), pairwise(amps), strict=False)
        if not math.isnan(a + b + c + d)
    ]
    if len(pairs) < 10:
        return 0.0
    x, y = [pair[0] for pair in pairs], [pair[1] for pair in pairs]
    spread = pstdev(x) * pstdev(y)
    if spread <= 0.0:
        return 0.0
    return (fmean(a * b for a, b in pairs) - fmean(x) * fmean(y)) / spread


def _scale(column: LogColumn, near_v: float | None) -> None:
    """Bring the values to V, A or mAh; a unit that nobody wrote is told by the size."""
    if column.role not in (*_VOLTS, "volts", "amps", "charge"):
        return
    known = [abs(value) for value in _known(column.values) if value]
    middle = median(known) if known else 0.0
    if column.unit is None and column.role == "charge":
        column.unit = ("mAh", 1.0)
    elif column.unit is None and column.role == "amps":
        column.unit = ("mA", 0.001) if known and max(known) > 250.0 else ("A", 1.0)
    elif column.unit is None:
        column.unit = _unit_of_volts(middle, near_v)
    if column.unit is not None:
        factor = column.unit[1]
        column.values = [value * factor for value in column.values]


def _unit_of_volts(middle: float, near_v: float | None) -> tuple[str, float]:
    choices = (("V", 1.0), ("dV", 0.1), ("cV", 0.01), ("mV", 0.001))
    if near_v:
        return next(
            (choice for choice in choices if 0.5 * near_v <= middle * choice[1] <= 1.5 * near_v),
            ("mV", 0.001) if middle > 1000.0 else ("V", 1.0),
        )
    return ("mV", 0.001) if middle > 1000.0 else ("cV", 0.01) if middle > 200.0 else ("V", 1.0)


def _places(columns: list[LogColumn], doubts: list[Text]) -> None:
    """Where each column of volts was read, and of which pack."""
    volts = [column for column in columns if column.role == "volts"]
    for column in volts:
        column.role = _place_said(column, len(volts))
    unplaced = [column for column in volts if column.role == "volts"]
    if len(unplaced) == 1:
        unplaced[0].role = "pack" if _with_role(columns, "bus") else "bus"
    elif unplaced:
        _lower_is_bus(unplaced, columns, doubts)
    if not _with_role(columns, "bus"):
        lone = [*_with_role(columns, "pack"), *_with_role(columns, "input")]
        if len(lone) == 1:
            lone[0].role = "bus"
    _number_packs(_with_role(columns, "pack"))
    _number_packs(_with_role(columns, "amps"))
    busses = _with_role(columns, "bus")
    for spare in busses[1:]:
        spare.role, spare.values = "unused", []
        doubts.append(
            text(
                "{heading} and {other} are both volts of the bus; the first was taken",
                heading=busses[0].heading,
                other=spare.heading,
            )
        )


def _with_role(columns: Sequence[LogColumn], role: str) -> list[LogColumn]:
    return [column for column in columns if column.role == role]


def _place_said(column: LogColumn, volts: int) -> str:
    """Where a column of volts was read by its heading; "volts" where that does not say."""
    words = lexicon("flight_log").meanings(column.heading)
    if "input" in words:
        return "input"
    if "bus" in words or "output" in words:
        return "bus"
    numbered = _pack_number(column.heading) is not None
    return "pack" if volts > 1 and ("pack" in words or numbered) else "volts"


def _lower_is_bus(unplaced: list[LogColumn], columns: list[LogColumn], doubts: list[Text]) -> None:
    """Of two columns of volts the lower or the steadier one is the bus."""
    if any(column.role == "bus" for column in columns):
        for column in unplaced:
            column.role = "pack"
        return
    middles = {column.at: median(_known(column.values) or [0.0]) for column in unplaced}
    lowest = min(unplaced, key=lambda column: middles[column.at])
    steadiest = min(unplaced, key=lambda column: pstdev(_known(column.values) or [0.0]))
    gap = max(middles.values()) - min(middles.values())
    bus = lowest if gap > 0.05 else steadiest
    steady = bus is steadiest and gap > 0.5
    for column in unplaced:
        column.role = "bus" if column is bus else "input" if steady and len(unplaced) == 2 else "pack"
    doubts.append(text("{heading} was taken as the bus: its volts are the lower ones", heading=bus.heading))


def _pack_number(heading: str) -> int | None:
    """The number of the pack that a heading names: "Batt 2 V", "Pack B", "Akku1"."""
    for token in tokens(heading):
        if re.fullmatch(r"[1-4]", token.word):
            return int(token.word) - 1
        match = re.fullmatch(r"[a-z]{2,}([1-4])", token.word)
        if match:
            return int(match[1]) - 1
    for token in tokens(heading)[1:]:
        if re.fullmatch(r"[bcd]", token.word):
            return "abcd".index(token.word)
    return None


def _number_packs(columns: list[LogColumn]) -> None:
    if len(columns) < 2:
        return
    numbers = [_pack_number(column.heading) for column in columns]
    if None in numbers or len(set(numbers)) < len(numbers):
        numbers = list(range(len(columns)))
    for column, number in zip(columns, numbers, strict=True):
        column.pack = number
