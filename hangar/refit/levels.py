"""Levels of bus volts: which are worth working at, and the current each supply gives at them."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hangar.refit.curves import Floats
from hangar.refit.limits import Limits
from hangar.refit.source_current import SourceCurrent, alone_a
from hangar.refit.supplies import Supply

_UA = 1e6
_NO_LIMIT_UA = 10**15
_LOWEST_V = 2.5


@dataclass(frozen=True)
class SupplyClass:
    """Supplies with the same nominal bus volts that allow the same types.

    Attributes:
        supplies: numbers of the supplies.
        nominal_v: bus volts at which stall currents are taken.
        allowed: for every group the options that may have these volts.
        current_a: for every group and position the peak current over its variants.
        upstream_v: for every group and position the volts lost before its lead, over its variants.
    """

    supplies: tuple[int, ...]
    nominal_v: float
    allowed: tuple[NDArray[np.bool_], ...]
    current_a: tuple[list[Floats], ...]
    upstream_v: tuple[list[Floats], ...]


@dataclass(frozen=True)
class Level:
    """One class of supplies at one level, with the current each supply gives there."""

    level_mv: int
    of_class: SupplyClass
    most_ua: dict[int, int]


def levels_of(
    classes: Sequence[SupplyClass],
    supplies: Sequence[Supply],
    limits: Limits,
    standing_a: float,
    receiver_v: float,
    *,
    alone_v: float,
    knees_too: bool,
) -> Iterator[Level]:
    """Every class at every level that some refit can be on, the highest first.

    Args:
        classes: classes of supplies.
        supplies: all of them by number.
        limits: steps, conditions and the least bus volts wished.
        standing_a: what receivers, gyros and devices draw.
        receiver_v: least volts of the receivers.
        alone_v: bus volts that either pack must keep by itself where a second one is added.
        knees_too: whether each supply gets a level of its own where it just meets its limit.
    """
    floor_v = max(_LOWEST_V, receiver_v, limits.bus_v or 0.0)
    step = limits.level_step_mv
    found: list[Level] = []
    for one in classes:
        sources = {number: SourceCurrent.of(supplies[number], limits.conditions) for number in one.supplies}
        alone = {
            number: alone_a(supplies[number], alone_v, limits.conditions)
            for number in one.supplies
            if supplies[number].second
        }
        least_a, most_a = (
            standing_a + sum(_total(amps, pick) for amps in one.current_a) for pick in (min, max)
        )
        knees = {number: source.knee_v(floor_v) for number, source in sources.items()}
        tops = [_top_mv(source, least_a, knees[number]) for number, source in sources.items()]
        # With the most that can be drawn the bus stays above these volts: no refit is on a lower level.
        bottom_mv = min(
            _top_mv(source, most_a, knees[number], knees[number]) for number, source in sources.items()
        )
        floor_mv = math.ceil(1000.0 * floor_v - 1e-6)
        lowest_mv = max(floor_mv, bottom_mv // step * step)
        grid = range(-(-lowest_mv // step) * step, max(tops, default=0) + 1, step)
        wanted = {*grid, lowest_mv}
        if knees_too:
            wanted |= {math.ceil(1000.0 * knee - 1e-6) for knee in knees.values()}
        for level_mv in sorted(wanted, reverse=True):
            if lowest_mv <= level_mv <= max(tops, default=0):
                most = {
                    number: _most_ua(source, level_mv, knees[number], standing_a, alone.get(number, math.inf))
                    for number, source in sources.items()
                }
                if any(amps >= 0 for amps in most.values()):
                    found.append(Level(level_mv, one, most))
    yield from sorted(found, key=lambda level: (-level.level_mv, level.of_class.supplies))


def _total(amps: list[Floats], pick: Callable[[list[float]], float]) -> float:
    """The least or the most that a group's positions draw together."""
    total = np.sum(amps, axis=0)
    known = total[np.isfinite(total)].tolist()
    return float(pick(known)) if known else 0.0


def _top_mv(source: SourceCurrent, amps: float, knee_v: float, otherwise_v: float = 0.0) -> int:
    """The highest volts at which the supply still gives a current; other volts where it never does."""
    low, high = knee_v, max(each.open_v for each in source.sources)
    if source.given_a(low) < amps:
        return math.floor(1000.0 * otherwise_v)
    for _ in range(40):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if source.given_a(middle) >= amps else (low, middle)
    return math.floor(1000.0 * low)


def _most_ua(
    source: SourceCurrent, level_mv: int, knee_v: float, standing_a: float, alone_limit_a: float
) -> int:
    """Servo current up to which the bus keeps a level and nothing is overrun; -1 where it cannot."""
    amps: Callable[[float], float] = source.given_a
    given = min(amps(max(level_mv / 1000.0, knee_v)), alone_limit_a)
    if not given > standing_a:
        return -1
    return math.floor((min(given, _NO_LIMIT_UA / _UA) - standing_a) * _UA + 1e-3)
