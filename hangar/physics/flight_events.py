"""What happened in a flight by its currents and volts: a stalled servo, drag, a lost pack, an empty one.

Source: runs above a level of a process without memory are about exponentially long (Cramer and Leadbetter,
    Stationary and Related Stochastic Processes, 1967, from memory); levels, windows and volts of empty cells:
    common practice, no source, measured on forged flights.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

from hangar.base.chemistry import Chemistry
from hangar.physics.checks import above_zero
from hangar.physics.flight_rows import FlightEvent, resolution, runs_of

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Row = NDArray[np.float64]
    Mask = NDArray[np.bool_]

_LEVELS = np.linspace(0.70, 0.965, 12)
_RARE, _RARE_FLAT, _RARE_ALONE = 1e-4, 1e-3, 0.2
_STALL_S = (1.6, 25.0)
_LEAST_ROWS = 60
_WINDOW_S = 12.0
_FLOOR, _LEAST = 0.15, 0.05
_DRAG_A, _DRAG_SHARE = 0.25, 0.40
_LOST_A, _LOST_S, _LOST_V, _CARRIED = 0.03, 5.0, 0.35, 0.2
_CELL_V, _CELL_S, _CELL_TIMES, _REST_OF_PACK_V = 0.3, 90.0, 6.0, 1.10
_EMPTY_CELL_V = {
    Chemistry.LIFEPO4: 2.9, Chemistry.LI_ION: 3.3, Chemistry.LIPO: 3.5, Chemistry.LIHV: 3.5,
    Chemistry.NICD: 1.10, Chemistry.NIMH: 1.10, Chemistry.NIMH_LSD: 1.10,
}  # fmt: skip
"""Volts of a cell without load below which a pack is empty; common practice, no source."""


def stalled_servo(
    time_s: Row, amps: Row, trusted: Mask, step_s: float, gaps: Sequence[int] = ()
) -> FlightEvent | None:
    """A current that stays high far longer than bursts of this flight last.

    Runs above a level last about exponentially long; one among N that is longer than chance allows, or
    clearly longer than all others with a floor that stands still, is a servo held against something.

    Raises:
        BadInput: a step of no length.

    >>> import numpy as np
    >>> time_s = np.arange(0.0, 120.0, 0.2)
    >>> amps = np.where((time_s % 5.0) < 0.5, 1.5, 0.2)
    >>> amps[300:320] = 2.4
    >>> stalled_servo(time_s, amps, np.ones(600, bool), 0.2).start_s
    60.0
    """
    above_zero(step_s, "step")
    at = np.flatnonzero(trusted)
    if at.size < _LEAST_ROWS:
        return None
    at = at[_flying(amps[at])]
    if at.size < _LEAST_ROWS:
        return None
    flight = _Bursts(time_s[at], amps[at], step_s, np.isin(at, np.asarray(gaps, dtype=np.int64)))
    best: tuple[float, FlightEvent] | None = None
    for level in np.unique(np.quantile(flight.amps, _LEVELS)):
        odd = flight.odd_one(float(level))
        if odd is not None and (best is None or odd[0] < best[0]):
            best = odd
    return None if best is None else best[1]


def _flying(amps: Row) -> slice:
    """From the first to the last time that the current is above its mean."""
    above = np.flatnonzero(amps > float(np.mean(amps)))
    return slice(int(above[0]), int(above[-1]) + 1) if above.size else slice(0, 0)


class _Bursts:
    """The current of the flying part, cut at gaps."""

    def __init__(self, time_s: Row, amps: Row, step_s: float, after_gap: Mask) -> None:
        self.time_s, self.amps, self.step_s = time_s, amps, step_s
        self.step_a = 1.5 * resolution(amps)
        self._after_gap = set(np.flatnonzero(after_gap).tolist())

    def runs(self, level: float) -> list[tuple[int, int]]:
        """Runs above a level, none across a gap."""
        made = []
        for first, last in runs_of(self.amps > level):
            cut = sorted(self._after_gap.intersection(range(first + 1, last)))
            edges = [first, *cut, last]
            made += list(pairwise(edges))
        return made

    def odd_one(self, level: float) -> tuple[float, FlightEvent] | None:
        """The longest run above a level with its chance, if it is too long to be chance."""
        runs = self.runs(level)
        if len(runs) < 4:
            return None
        lengths = np.array([self.time_s[last - 1] - self.time_s[first] + self.step_s for first, last in runs])
        order = np.argsort(lengths)
        longest = int(order[-1])
        length, second = float(lengths[longest]), float(lengths[order[-2]])
        if not _STALL_S[0] < length < _STALL_S[1]:
            return None
        others = np.delete(lengths, longest)
        usual = max(
            float(np.mean(others)), float(np.quantile(others, 0.95)) / 3.0, second / math.log(lengths.size)
        )
        chance = lengths.size * math.exp(-(length - self.step_s) / usual)
        alone = length > 1.5 * second + self.step_s and chance < _RARE_ALONE
        if chance >= _RARE_FLAT and not alone:
            return None
        first, last = runs[longest]
        start, end = float(self.time_s[first]), float(self.time_s[last - 1])
        beside = self._beside(first, last)
        floor = float(np.quantile(self.amps[first:last], _FLOOR))
        if floor <= beside or (chance >= _RARE and not self._stands(first, last, beside, floor)):
            return None
        return chance, FlightEvent("stalled_servo", start, end, floor - beside)

    def _beside(self, first: int, last: int) -> float:
        """The floor of the current in the 25 s before and after."""
        near = (self.time_s > self.time_s[first] - 25.0) & (self.time_s < self.time_s[last - 1] + 25.0)
        near[first:last] = False
        beside = self.amps[near]
        return float(np.quantile(beside if beside.size > 5 else self.amps, _FLOOR))

    def _stands(self, first: int, last: int, beside: float, floor: float) -> bool:
        """Whether the current jumps to a floor and comes back to it: a burst rises and falls instead."""
        half = beside + 0.5 * (floor - beside)
        while first > 0 and self.amps[first - 1] > half and first not in self._after_gap:
            first -= 1
        while last < self.amps.size and self.amps[last] > half and last not in self._after_gap:
            last += 1
        run = self.amps[first + 1 : last - 1]
        if run.size < 4 or (last - first) * self.step_s < 1.6:
            return False
        least = float(np.quantile(run, 0.1))
        on_it = np.abs(run - least) <= max(0.06 * (least - beside), self.step_a)
        thirds = [bool(np.any(part)) for part in np.array_split(on_it, 3)]
        return float(np.mean(on_it)) >= 0.3 and int(np.sum(on_it)) >= 4 and sum(thirds) >= 2


def _windows(time_s: Row, values: Row, trusted: Mask, width_s: float, share: float) -> tuple[Row, Row]:
    """Middle times and a quantile of the values in windows of a width."""
    number = ((time_s - time_s[0]) // width_s).astype(np.int64)
    times, starts = [], []
    at = np.flatnonzero(trusted)
    for solution in np.split(at, np.flatnonzero(np.diff(number[at])) + 1):
        if solution.size >= min(4, max(1, width_s)):
            times.append((float(number[solution[0]]) + 0.5) * width_s + float(time_s[0]))
            starts.append(float(np.quantile(values[solution], share)))
    return np.array(times), np.array(starts)


def drag(time_s: Row, amps: Row, trusted: Mask) -> FlightEvent | None:
    """A floor of the current that steps up and stays: something drags or binds from then on.

    >>> import numpy as np
    >>> time_s = np.arange(0.0, 300.0, 0.5)
    >>> amps = np.where((time_s % 5.0) < 0.5, 1.5, 0.2) + np.where(time_s > 150.0, 0.8, 0.0)
    >>> round(drag(time_s, amps, np.ones(600, bool)).size, 2)
    0.8
    """
    at = np.flatnonzero(trusted)
    if at.size < _LEAST_ROWS:
        return None
    flying = np.zeros(trusted.size, bool)
    flying[at[_flying(amps[at])]] = True
    times, floor = _windows(time_s, amps, flying, _WINDOW_S, _FLOOR)
    _, least = _windows(time_s, amps, flying, _WINDOW_S, _LEAST)
    if times.size < 10:
        return None
    best: tuple[float, int] | None = None
    for at_window in range(4, times.size - 3):
        before, after = floor[:at_window], floor[at_window:]
        step = float(np.median(after) - np.median(before))
        lowest = float(np.median(least[at_window:]) - np.median(least[:at_window]))
        if min(step, 1.25 * lowest) <= max(_DRAG_A, _DRAG_SHARE * float(np.median(before))):
            continue
        if np.quantile(after, 0.10) <= np.quantile(before, 0.70):
            continue
        split = _spread(least[:at_window]) + _spread(least[at_window:])
        if best is None or split < best[0]:
            best = (split, at_window)
    if best is None:
        return None
    number = best[1]
    extra = float(np.median(least[number:]) - np.median(least[:number]))
    near_s = float(times[number]) - 0.5 * _WINDOW_S
    return FlightEvent("drag", _drag_start(time_s, amps, flying, near_s), None, extra)


def _spread(values: Row) -> float:
    return float(np.sum(np.abs(values - np.median(values))))


def _drag_start(time_s: Row, amps: Row, trusted: Mask, near_s: float) -> float:
    """The moment near that parts low currents from high ones best, by the least of each three seconds."""
    times, least = _windows(time_s, amps, trusted & (np.abs(time_s - near_s) < 60.0), 3.0, 0.0)
    if times.size < 6:
        return near_s
    held = np.minimum(least, np.quantile(least, 0.75))
    splits = [_spread(held[:at]) + _spread(held[at:]) for at in range(2, times.size - 1)]
    return float(times[int(np.argmin(splits)) + 2]) - 1.5


def pack_lost(
    time_s: Row, number: int, amps: Sequence[Row], trusted: Mask, plug_v: Row | None, bus_v: Row | None
) -> FlightEvent | None:
    """A pack that carried its part and then gives nothing while its own plug stands above the bus.

    >>> import numpy as np
    >>> time_s = np.arange(0.0, 60.0, 0.5)
    >>> second_a = np.where(time_s < 30.0, 0.5, 0.0)
    >>> both = [1.0 - second_a, second_a]
    >>> pack_lost(time_s, 1, both, np.ones(120, bool), np.full(120, 8.2), np.full(120, 7.6)).start_s
    30.0
    """
    own, total = amps[number], np.sum(amps, axis=0)
    dead = trusted & (own < _LOST_A)
    if plug_v is not None and bus_v is not None:
        dead &= np.nan_to_num(plug_v) - np.nan_to_num(bus_v, nan=np.inf) > _LOST_V
    elif plug_v is None:
        dead &= total > 2.0 * _LOST_A
    index = np.flatnonzero(trusted)
    for first, last in _joined(runs_of(dead[index])):
        run = index[first:last]
        start, end = float(time_s[run[0]]), float(time_s[run[-1]])
        before = index[:first]
        if end - start < _LOST_S or before.size < 10:
            continue
        if float(np.mean(own[before])) < _CARRIED * float(np.mean(total[before])):
            continue
        after = index[index > run[-1]]
        back = after.size > 0 and float(np.mean(own[after])) > 0.5 * _CARRIED * float(np.mean(total[after]))
        return FlightEvent("pack_lost", start, end if back else None, None, number)
    return None


def _joined(runs: list[tuple[int, int]]) -> list[tuple[int, int]]:
    """Runs with single samples between them taken as one."""
    made: list[tuple[int, int]] = []
    for first, last in runs:
        if made and first - made[-1][1] <= 2:
            made[-1] = (made[-1][0], last)
        else:
            made.append((first, last))
    return made


def emptied(time_s: Row, rest_v: Row, trusted: Mask, chemistry: Chemistry, cells: int) -> FlightEvent | None:
    """A cell that falls away (nickel), or a pack that is empty, by the volts without load.

    >>> import numpy as np
    >>> time_s = np.arange(0.0, 300.0)
    >>> emptied(time_s, 7.6 - 0.004 * time_s, np.ones(300, bool), Chemistry.LIPO, 2).start_s
    155.0
    """
    times, volts = _windows(time_s, rest_v, trusted, 10.0, 0.5)
    if times.size < 4:
        return None
    # Where less is left than all cells but one would give, it is not one cell that is empty.
    if chemistry.is_nickel and cells > 1 and float(np.min(volts)) > (cells - 1) * _REST_OF_PACK_V:
        fallen = _cell_empty(times, volts, cells)
        if fallen is not None:
            return fallen
    below = volts / cells < _EMPTY_CELL_V[chemistry]
    for first, last in runs_of(below):
        if last - first >= 2 or last == below.size:
            end = None if last == below.size else float(times[last - 1])
            return FlightEvent("pack_empty", float(times[first]), end)
    return None


def _cell_empty(times: Row, volts: Row, cells: int) -> FlightEvent | None:
    """Volts that fall much faster than usual while the other cells still stand."""
    reach = max(2, round(_CELL_S / float(np.median(np.diff(times)))))
    reach = min(reach, times.size - 1)
    falls = np.array([volts[max(0, at - reach)] - volts[at] for at in range(times.size)])
    usual = max(float(np.median(falls[reach:])) if times.size > 2 * reach else 0.02, 0.02)
    rest_of_pack = volts / (cells - 1)
    fast = (falls > _CELL_V) & (falls > _CELL_TIMES * usual) & (rest_of_pack > _REST_OF_PACK_V)
    fast[: min(3, fast.size)] = False
    at = np.flatnonzero(fast)
    if at.size == 0:
        return None
    first = int(at[0])
    top = float(np.max(volts[max(0, first - reach) : first + 1]))
    lowest = float(np.min(volts[first:]))
    begun = first
    while begun > 0 and top - volts[begun] > 0.12 * (top - lowest) + usual:
        begun -= 1
    return FlightEvent("cell_empty", float(times[begun]), None, top - lowest)
