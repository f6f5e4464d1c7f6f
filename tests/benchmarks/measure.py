"""Paired runs, and the table of what they gave beside what is wanted."""

from __future__ import annotations

import statistics
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass

AT_LEAST = 5
"""Paired runs behind every row."""


@dataclass(frozen=True)
class Row:
    """One line of the table: the figures of several runs against one limit.

    ``most`` is the greatest median wanted, ``least`` the smallest; with neither it is told only.
    """

    title: str
    figures: tuple[float, ...]
    unit: str = "x"
    most: float | None = None
    least: float | None = None
    note: str = ""

    @property
    def median(self) -> float:
        """The middle of the figures."""
        return statistics.median(self.figures)

    @property
    def met(self) -> bool | None:
        """Whether the median keeps within the limit; None without one."""
        if self.most is not None:
            return self.median <= self.most
        if self.least is not None:
            return self.median >= self.least
        return None

    @property
    def target(self) -> str:
        """The limit in words."""
        if self.most is not None:
            return f"<= {self.most:g}"
        return f">= {self.least:g}" if self.least is not None else ""

    def cells(self) -> tuple[str, ...]:
        """What the table shows of it."""
        found = (min(self.figures), self.median, max(self.figures))
        met = {True: "met", False: "MISSED", None: "told"}[self.met]
        return (self.title, *(f"{value:.4g}" for value in found), self.unit, self.target, met, self.note)


HEAD = ("what", "least", "median", "most", "unit", "target", "", "note")


def table(rows: Sequence[Row]) -> str:
    """The rows under each other, the columns in line."""
    lines = [HEAD, *(row.cells() for row in rows)]
    widths = [max(len(line[at]) for line in lines) for at in range(len(HEAD))]
    right = (1, 2, 3)

    def laid(line: Sequence[str]) -> str:
        cells = (
            cell.rjust(width) if at in right else cell.ljust(width)
            for at, (cell, width) in enumerate(zip(line, widths, strict=True))
        )
        return "  ".join(cells).rstrip()

    return "\n".join(laid(line) for line in lines)


def processor_s(work: Callable[[], object]) -> float:
    """Seconds of this process's processor time, so that a busy machine counts less."""
    begun = time.process_time()
    work()
    return time.process_time() - begun


def wall_s(work: Callable[[], object]) -> float:
    """Seconds on the clock."""
    begun = time.perf_counter()
    work()
    return time.perf_counter() - begun


def paired(
    work: Callable[[], float], floor: Callable[[], float], times: int = AT_LEAST
) -> tuple[tuple[float, ...], tuple[float, ...], tuple[float, ...]]:
    """Measure two things in turn: what each run of the first took, of the second, and their ratios."""
    ours, theirs = [], []
    for _ in range(max(times, AT_LEAST)):
        theirs.append(floor())
        ours.append(work())
    ratios = tuple(our / other for our, other in zip(ours, theirs, strict=True))
    return tuple(ours), tuple(theirs), ratios
