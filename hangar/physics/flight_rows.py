"""The rows of a flight log: which of them can be trusted, and how long each one counts.

Source: shares and times are common practice, no source; measured on forged flights.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

import numpy as np

from hangar.physics.checks import zero_or_more

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Row = NDArray[np.float64]
    Mask = NDArray[np.bool_]

DEAD_SHARE = 0.3
"""Volts under this share of their middle are no volts of a radio at work."""

DROPOUT_SHARE = 0.02
"""More rows than this share without volts are no single lost samples any more."""

_GAP_STEPS, _GAP_S = 3.5, 2.0
_FROZEN_ROWS, _FROZEN_S, _FROZEN_STEPS = 8, 4.0, 4.0
_ROUNDED_STEPS = 3.0
"""Two equal readings may stand for what differs by a step; more than three are no rounding."""
_OFFSET_LEAST_A = 0.03


@dataclass(frozen=True)
class Source:
    """What was logged of one pack.

    Attributes:
        volts: where the pack's current was drawn, V; None where nothing was logged there.
        amps: its current, A.
        at_pack: whether the volts were read at the pack's own plug, so that leads and switch are left out.
    """

    volts: Row | None
    amps: Row | None
    at_pack: bool = False


@dataclass(frozen=True)
class LogSamples:
    """A log as it was read: times that rise, s, and nan where a sample is missing.

    ``bus_v`` are the volts that the receiver had; the volts of a source may be the very same column.
    """

    time_s: Row
    bus_v: Row | None
    sources: tuple[Source, ...]


@dataclass(frozen=True)
class FlightEvent:
    """Something that happened in a flight, on the log's own clock from its first row.

    Attributes:
        kind: stalled_servo, drag, joint, pack_lost, cell_empty, pack_empty, frozen_volts, frozen_current,
            offset_current, gap, dropout or unclear.
        start_s, end_s: from when to when; ``end_s`` is None where it lasted to the end.
        size: ohms more (joint), amps more (stalled_servo, drag), amps (offset_current), volts (cell_empty),
            samples (dropout); None where none is known.
        pack: number of the pack it is about, from 0; None for the whole supply.
    """

    kind: str
    start_s: float
    end_s: float | None
    size: float | None = None
    pack: int | None = None


@dataclass
class Rows:
    """The rows of a flight with what may be trusted of them.

    Attributes:
        logged: what was logged.
        step_s: the usual time from row to row.
        flown: rows with the radio on.
        bus_ok: rows whose bus volts are to be trusted.
        volts_ok, amps_ok: the same for each source.
        amps: the current of each source, less what its sensor shows with the radio off.
        gaps: numbers of the rows right after a gap.
        share_s: time that each row stands for; gaps belong to none.
    """

    logged: LogSamples
    step_s: float
    flown: Mask
    bus_ok: Mask
    volts_ok: list[Mask]
    amps_ok: list[Mask]
    amps: list[Row | None]
    gaps: list[int]
    share_s: Row
    events: list[FlightEvent] = field(default_factory=list)

    @property
    def time_s(self) -> Row:
        """Time of each row."""
        return self.logged.time_s

    @property
    def rate_hz(self) -> float:
        """Rows a second."""
        return 1.0 / self.step_s

    @property
    def flown_s(self) -> float:
        """Time with the radio on, gaps included."""
        times = self.time_s[self.flown]
        return 0.0 if times.size < 2 else float(times[-1] - times[0])

    def total_amps(self) -> tuple[Row, Mask] | None:
        """The current of all packs together and where it is to be trusted; None where one is not logged."""
        if not self.amps or any(amp is None for amp in self.amps):
            return None
        known = [amp for amp in self.amps if amp is not None]
        trusted = self.flown & np.logical_and.reduce(self.amps_ok)
        return np.sum(known, axis=0), trusted


def resolution(values: Row) -> float:
    """The step in which a column counts: the usual least difference of its values.

    >>> import numpy as np
    >>> round(resolution(np.array([6.1, 6.2, 6.4, 6.2, 6.1])), 6)
    0.1
    """
    different = np.unique(np.round(values[np.isfinite(values)], 6))
    return (
        float(np.median(np.sort(np.diff(different))[: max(1, different.size // 3)]))
        if different.size > 1
        else 0.0
    )


def cleaned(logged: LogSamples) -> Rows:
    """Take out, in this order: rows with the radio off, lost samples, gaps.

    Frozen columns are found by :func:`frozen_runs`, which needs a first resistance.

    >>> import numpy as np
    >>> rows = cleaned(LogSamples(np.arange(50.0), np.full(50, 6.5), (Source(None, np.full(50, 0.3)),)))
    >>> rows.rate_hz, int(rows.bus_ok.sum()), rows.events
    (1.0, 50, [])
    """
    time_s = logged.time_s
    steps = np.diff(time_s)
    step_s = float(np.median(steps[steps > 0])) if np.any(steps > 0) else 1.0
    gaps = [int(at) + 1 for at in np.flatnonzero(steps > max(_GAP_STEPS * step_s, _GAP_S))]
    rows = Rows(
        logged,
        step_s,
        np.ones(time_s.size, bool),
        np.zeros(time_s.size, bool),
        [_there(source.volts, time_s.size) for source in logged.sources],
        [_there(source.amps, time_s.size) for source in logged.sources],
        [source.amps for source in logged.sources],
        gaps,
        _shares(time_s, gaps, step_s),
    )
    rows.bus_ok = _there(logged.bus_v, time_s.size)
    dead = _radio_off(rows)
    _lost_samples(rows)
    for at in gaps:
        if rows.flown[at] and rows.flown[at - 1]:
            rows.events.append(FlightEvent("gap", float(time_s[at - 1]), float(time_s[at])))
    _offsets(rows, dead)
    for number, source in enumerate(logged.sources):
        rows.volts_ok[number] &= rows.flown
        if source.volts is not None and source.volts is not logged.bus_v:
            middle = np.nanmedian(source.volts[rows.flown]) if np.any(rows.volts_ok[number]) else 0.0
            rows.volts_ok[number] &= np.nan_to_num(source.volts) > DEAD_SHARE * middle
        elif source.volts is not None:
            rows.volts_ok[number] &= rows.bus_ok
        rows.amps_ok[number] &= rows.flown
    return rows


def _there(column: Row | None, count: int) -> Mask:
    return np.zeros(count, bool) if column is None else np.isfinite(column)


def _shares(time_s: Row, gaps: list[int], step_s: float) -> Row:
    """Half of the time to the row before and half of that to the row after; next to a gap half a step."""
    between = np.diff(time_s)
    for at in gaps:
        between[at - 1] = step_s
    ends = np.concatenate(([step_s], between, [step_s]))
    return 0.5 * (ends[:-1] + ends[1:])


def runs_of(mask: Mask) -> list[tuple[int, int]]:
    """Runs of true values as (first, one after the last).

    >>> import numpy as np
    >>> runs_of(np.array([True, True, False, True]))
    [(0, 2), (3, 4)]
    """
    edges = np.flatnonzero(np.diff(np.concatenate(([0], mask.astype(np.int8), [0]))))
    return [(int(first), int(last)) for first, last in zip(edges[::2], edges[1::2], strict=True)]


def _radio_off(rows: Rows) -> Mask:
    """Rows before the radio was switched on and after it was switched off; they leave every figure."""
    volts = rows.logged.bus_v
    dead = np.zeros(rows.time_s.size, bool)
    if volts is None or not np.any(rows.bus_ok):
        return dead
    alive = volts[rows.bus_ok & (np.nan_to_num(volts) > 0.5)]
    if alive.size == 0:
        return dead
    low = ~(np.nan_to_num(volts) > DEAD_SHARE * float(np.median(alive)))
    for first, last in runs_of(low):
        at_an_end = first == 0 or last == low.size
        if at_an_end and last - first >= 2 and np.any(rows.bus_ok[first:last]):
            dead[first:last] = True
    rows.flown &= ~dead
    rows.bus_ok &= rows.flown
    return dead


def _lost_samples(rows: Rows) -> None:
    volts = rows.logged.bus_v
    if volts is None or not np.any(rows.bus_ok):
        return
    middle = float(np.median(volts[rows.bus_ok]))
    lost = rows.flown & ~(np.nan_to_num(volts) > DEAD_SHARE * middle)
    count = int(np.sum(lost))
    if count == 0:
        return
    at = np.flatnonzero(lost)
    first, last = float(rows.time_s[at[0]]), float(rows.time_s[at[-1]])
    if count <= max(1.0, DROPOUT_SHARE * float(np.sum(rows.flown))):
        rows.events.append(FlightEvent("dropout", first, last, float(count)))
    else:
        rows.events.append(FlightEvent("unclear", first, last, float(count)))
    rows.bus_ok &= ~lost


def _offsets(rows: Rows, dead: Mask) -> None:
    """What a current sensor shows with the radio off is no current."""
    for number, amps in enumerate(rows.amps):
        off = dead & rows.amps_ok[number]
        if amps is None or np.sum(off) < 3:
            continue
        offset = float(np.median(amps[off]))
        near = np.abs(amps[off] - offset) <= 3.0 * resolution(amps) + 0.02
        offset = float(np.mean(amps[off][near]))
        noise = 1.4826 * float(np.median(np.abs(amps[off] - offset)))
        noise = max(noise, resolution(amps) / 12**0.5) / float(np.sum(off)) ** 0.5
        rows.amps[number] = amps - offset
        if abs(offset) > max(_OFFSET_LEAST_A, 3.0 * noise):
            start = float(rows.time_s[np.flatnonzero(off)[0]])
            pack = number if len(rows.amps) > 1 else None
            rows.events.append(FlightEvent("offset_current", start, None, offset, pack))


def frozen_runs(
    rows: Rows, column: Row, trusted: Mask, other_moves: Row, per_step: float, noise: float
) -> list[tuple[int, int]]:
    """Where a column stood still though it should have moved.

    Args:
        rows: the log.
        column: the column that may have frozen.
        trusted: its rows that count.
        other_moves: what the other column says that this one should have done, in the same unit.
        per_step: the column's resolution.
        noise: standard deviation of what the other column says; 0 for one that is exact beside the step.

    Raises:
        BadInput: a resolution or a noise that is no number, or below 0.

    >>> import numpy as np
    >>> time_s, moves = np.arange(30.0), np.where(np.arange(30) % 4 < 2, 0.5, 0.0)
    >>> volts = np.where(time_s < 12.0, 6.5 - moves, 6.4)
    >>> rows = cleaned(LogSamples(time_s, volts, ()))
    >>> frozen_runs(rows, volts, rows.bus_ok, -moves, 0.01, 0.0)
    [(12, 30)]
    """
    zero_or_more(per_step, "resolution")
    zero_or_more(noise, "noise")
    events = []
    index = np.flatnonzero(trusted)
    if index.size < _FROZEN_ROWS:
        return []
    same = np.concatenate(([False], column[index][1:] == column[index][:-1]))
    for first, last in runs_of(same):
        run = index[first - 1 : last]
        lasted_s = float(rows.time_s[run[-1]] - rows.time_s[run[0]])
        if run.size < _FROZEN_ROWS or lasted_s < _FROZEN_S:
            continue
        moved = other_moves[run]
        moved = moved[np.isfinite(moved)]
        if moved.size < _FROZEN_ROWS:
            continue
        if noise > 0.0:
            low, high = np.quantile(moved, (0.04, 0.96))
            wanted = _FROZEN_STEPS * (per_step + noise)
        else:
            low, high = np.sort(moved)[[1, -2]]
            wanted = _ROUNDED_STEPS * per_step
        if high - low > wanted:
            events.append((int(run[0]), int(run[-1]) + 1))
    return events
