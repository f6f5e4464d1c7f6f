"""Packs as keepers describe them: "NiCd 4 celle 1100", "2x 2S LiFe 2300", "4,8V NiCd 1400"."""

from __future__ import annotations

import re
from typing import NamedTuple

from hangar.store.intake.figures import figures
from hangar.store.intake.vocabulary import chemistries, lexicon, squeezed

_SERIES = re.compile(r"(?<![\w.,])(\d{1,2})\s*s(?:\s*(\d{1,2})\s*p)?(?![a-z])", re.IGNORECASE)
_CELLS = re.compile(
    r"(?<![\w.,])(\d{1,2})[\s-]*(?:[A-Za-z]{4}\s+)?(?:cells?|zellen|zeller|zellig\w*|[eé]l[eé]ments?|[eé]l\.|celle|cellen|cel|elementi|elementos|celdas|cellules?)\b",
    re.IGNORECASE,
)
_TIMES = re.compile(r"(?<![\w.,])(\d)\s*[x×]\s*(?=\d|[A-Za-z])")
_CELLS_TIMES = re.compile(r"(?<![\w.,])(\d{1,2})\s*[x×]\s*(\d{3,5})\b")
_CAPACITY = re.compile(r"(?<![\w.,])(\d+(?:[.,]\d+)?)\s*(mAh|Ah|mA)\b", re.IGNORECASE)
_VOLTS = re.compile(r"(?<![\w.,])(\d{1,2}(?:[.,]\d+)?)\s*V(?:olt)?\b", re.IGNORECASE)
_LEAST_MAH, _MOST_MAH = 50, 30_000


class PackRead(NamedTuple):
    """What a text tells of a pack; ``number`` packs of that kind. None where it does not say."""

    chemistry: str | None
    series: int | None
    parallel: int
    capacity_mah: float | None
    number: int = 1
    for_ignition: bool = False

    @property
    def is_whole(self) -> bool:
        """Whether a pack type can be made of it."""
        return None not in (self.chemistry, self.series, self.capacity_mah)


def read_pack(text: str) -> PackRead | None:
    """The pack that a text describes, or None when it speaks of none."""
    text = text[:200]
    hits = chemistries()[0].find(text)
    chemistry = hits[0].meaning if hits else None
    rest, count = text, 1
    times_cells = _CELLS_TIMES.search(rest)
    cells = _CELLS.search(rest)
    times = None if times_cells else _TIMES.search(rest)
    if times:
        count = int(times[1])
        rest = rest[: times.start()] + " " * (times.end() - times.start()) + rest[times.end() :]
    series, parallel = _series(rest, chemistry, cells, times_cells)
    capacity = _capacity(rest, times_cells)
    if chemistry is None and (series is None or capacity is None):
        return None
    ignition = lexicon("functions").means(text, "ignition")
    return PackRead(chemistry, series, parallel, capacity, max(1, count), ignition)


def _series(
    text: str, chemistry: str | None, cells: re.Match[str] | None, times: re.Match[str] | None
) -> tuple[int | None, int]:
    series = _SERIES.search(text)
    if series and 1 <= int(series[1]) <= 14:
        return int(series[1]), int(series[2] or 1)
    for named in (cells, times):
        if named and 1 <= int(named[1]) <= 14:
            return int(named[1]), 1
    volts = _VOLTS.search(text)
    if volts and chemistry:
        return cells_at(float(volts[1].replace(",", ".")), chemistry), 1
    return None, 1


def cells_at(volts: float, chemistry: str) -> int | None:
    """The cells in series that give the volts a keeper counts a pack with.

    >>> cells_at(4.8, "NiCd"), cells_at(6.6, "LiFePO4"), cells_at(5.0, "LiPo")
    (4, 2, None)
    """
    for cell_v in chemistries()[1].get(chemistry, ()):
        count = round(volts / cell_v)
        if 1 <= count <= 14 and abs(count * cell_v - volts) < 0.051 * max(1, count / 2):
            return count
    return None


def _capacity(text: str, times: re.Match[str] | None) -> float | None:
    named = _CAPACITY.search(text)
    if named:
        number = named[1]
        value = float(number.replace(",", "."))
        if named[2].lower() == "ah":
            value *= 1000
        elif re.fullmatch(r"\d{1,2}[.,]\d{3}", number):
            value = float(re.sub(r"[.,]", "", number))
        return value if _LEAST_MAH <= value <= _MOST_MAH else None
    if times:
        return float(times[2])
    bare = [
        number
        for figure in figures(text)
        for number in (figure.number, figure.other)
        if number is not None and 100 <= number <= _MOST_MAH and number.is_integer()
        if not re.match(r"\s*(?:V|C\b|g\b)", figure.after)
    ]
    return bare[0] if bare else None


def pack_code(read: PackRead) -> str:
    """The name of a pack type made from what is known of it."""
    cells = f"{read.series}S" + (f"{read.parallel}P" if read.parallel > 1 else "")
    return f"{read.chemistry} {cells} {read.capacity_mah:g}"


def same_pack(name: str, other: str) -> bool:
    """Whether two texts describe a pack in the same words."""
    return squeezed(name) == squeezed(other)
