"""A log under work: columns that cannot be right are found by what the other column says, and left out.

Source: common practice, no source; measured on forged flights.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

import numpy as np

from hangar.physics.flight_fit import PathFit, fit_path
from hangar.physics.flight_rows import FlightEvent, Rows, frozen_runs, resolution

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Row = NDArray[np.float64]
    Mask = NDArray[np.bool_]

LEAST_ROWS = 60
"""Fewer rows tell no resistance and nothing odd."""


@dataclass
class FlightWork:
    rows: Rows
    fits: list[PathFit | None] = field(default_factory=list)
    events: list[FlightEvent] = field(default_factory=list)
    froze_a_s: float | None = None
    frozen_for_s: float = 0.0


def fitted_path(work: FlightWork, number: int, mask: Mask | None = None) -> PathFit | None:
    """The fit of a source over the rows that are to be trusted, those of a mask only where one is given.

    >>> import numpy as np
    >>> from hangar.physics.flight_rows import LogSamples, Source, cleaned
    >>> time_s = np.arange(0.0, 100.0)
    >>> amps = np.where(time_s % 7.0 < 2.0, 2.0, 0.2)
    >>> volts = 6.6 - 0.2 * amps
    >>> rows = cleaned(LogSamples(time_s, volts, (Source(volts, amps),)))
    >>> round(fitted_path(FlightWork(rows), 0).second_ohm, 3)
    0.2
    """
    rows = work.rows
    volts, amps = rows.logged.sources[number].volts, rows.amps[number]
    if volts is None or amps is None:
        return None
    trusted = rows.volts_ok[number] & rows.amps_ok[number]
    if mask is not None:
        trusted = trusted & mask
    return fit_path(rows.time_s, volts, np.where(rows.amps_ok[number], amps, np.nan), trusted, rows.step_s)


def leave_wild_amps(work: FlightWork) -> None:
    """Single samples of a current that tower above all others, and that the volts do not show, are none.

    >>> import numpy as np
    >>> from hangar.physics.flight_rows import LogSamples, Source, cleaned
    >>> time_s = np.arange(0.0, 100.0)
    >>> amps = np.where(time_s % 7.0 < 2.0, 2.0, 0.2)
    >>> volts = 6.6 - 0.2 * amps
    >>> amps[50] = 90.0
    >>> work = FlightWork(cleaned(LogSamples(time_s, volts, (Source(volts, amps),))))
    >>> leave_wild_amps(work)
    >>> np.flatnonzero(~work.rows.amps_ok[0]).tolist()
    [50]
    """
    rows = work.rows
    for number, source in enumerate(rows.logged.sources):
        amps, trusted = rows.amps[number], rows.amps_ok[number]
        if amps is None or np.sum(trusted) < LEAST_ROWS:
            continue
        held = np.where(trusted, amps, 0.0)
        beside = np.maximum(np.concatenate(([0.0], held[:-1])), np.concatenate((held[1:], [0.0])))
        most = float(np.quantile(held[trusted], 1.0 - max(0.003, 4.0 / held.size)))
        wild = trusted & (held > 1.5 * most) & (held > 2.0 * beside)
        wild |= trusted & (held < -1.0) & (held < 3.0 * float(np.min(np.where(held > -1.0, held, 0.0))))
        if not np.any(wild) or np.sum(wild) > max(3, 0.002 * held.size):
            continue
        rows.amps_ok[number] = trusted & ~wild
        fit = fitted_path(work, number)
        if fit is not None and fit.second_ohm > 0.0 and source.volts is not None:
            shown = (fit.base_v - source.volts) / fit.second_ohm
            # Where the volts stand still they cannot speak against a current.
            still = np.convolve(np.diff(source.volts, prepend=np.nan) == 0.0, np.ones(5), "same") >= 4.0
            rows.amps_ok[number] |= wild & still & (held < 3.0 * most) & (held > 0.0)
            rows.amps_ok[number] |= wild & (np.nan_to_num(shown) > 0.5 * held) & (held > 0.0)


def leave_frozen(work: FlightWork) -> None:
    """Frozen columns leave every figure; the first fit says how they should have moved.

    >>> import numpy as np
    >>> from hangar.physics.flight_rows import LogSamples, Source, cleaned
    >>> time_s = np.arange(0.0, 100.0)
    >>> amps = np.where(time_s % 7.0 < 2.0, 2.0, 0.2)
    >>> volts = 6.6 - 0.2 * amps - 0.01 * (time_s % 3.0)
    >>> volts[40:70] = volts[40]
    >>> work = FlightWork(cleaned(LogSamples(time_s, volts, (Source(volts, amps),))))
    >>> leave_frozen(work)
    >>> [(one.kind, one.start_s) for one in work.events]
    [('frozen_volts', 40.0)]
    """
    rows = work.rows
    for number, source in enumerate(rows.logged.sources):
        amps = rows.amps[number]
        if amps is not None and _stands_still(amps, rows.amps_ok[number]):
            _mark_amps(work, number, [(0, rows.time_s.size)])
            continue
        fit = fitted_path(work, number)
        if fit is None or source.volts is None or amps is None or fit.second_ohm <= 0.0:
            continue
        moved_v = np.where(
            rows.amps_ok[number], -fit.at_once_ohm * fit.amps - fit.slow_ohm * fit.slow_a, np.nan
        )
        volts_runs = frozen_runs(
            rows, source.volts, rows.volts_ok[number], moved_v, resolution(source.volts), 0.0
        )
        shown_a = np.where(rows.volts_ok[number], fit.base_v - source.volts, np.nan) / fit.second_ohm
        noise_a = max(fit.noise_v, 0.4 * resolution(source.volts)) / fit.second_ohm
        amps_runs = frozen_runs(rows, amps, rows.amps_ok[number], shown_a, resolution(amps), noise_a)
        volts_runs, amps_runs = _longer(volts_runs, amps_runs), _longer(amps_runs, volts_runs)
        for first, last in volts_runs:
            rows.volts_ok[number][first:last] = False
            if source.volts is rows.logged.bus_v:
                rows.bus_ok[first:last] = False
            work.events.append(
                FlightEvent(
                    "frozen_volts", float(rows.time_s[first]), _end(rows, last), None, pack_of(rows, number)
                )
            )
        _mark_amps(work, number, amps_runs)
    _frozen_bus(work)


def _longer(runs: list[tuple[int, int]], others: list[tuple[int, int]]) -> list[tuple[int, int]]:
    """The runs that no longer run of the other column overlaps: only one of two sensors stood still."""
    return [
        (first, last)
        for first, last in runs
        if not any(a < last and first < b and b - a > last - first for a, b in others)
    ]


def _frozen_bus(work: FlightWork) -> None:
    """The bus of two packs or behind a regulator, where its volts are no source's own."""
    rows = work.rows
    bus = rows.logged.bus_v
    totals = rows.total_amps()
    if bus is None or totals is None or any(source.volts is bus for source in rows.logged.sources):
        return
    fit = fit_path(
        rows.time_s, bus, np.where(totals[1], totals[0], np.nan), rows.bus_ok & totals[1], rows.step_s
    )
    if fit is None or fit.second_ohm <= 0.0:
        return
    moved = -fit.at_once_ohm * fit.amps - fit.slow_ohm * fit.slow_a
    for first, last in frozen_runs(rows, bus, rows.bus_ok, moved, resolution(bus), 0.0):
        rows.bus_ok[first:last] = False
        work.events.append(FlightEvent("frozen_volts", float(rows.time_s[first]), _end(rows, last)))


def _stands_still(amps: Row, trusted: Mask) -> bool:
    kept = amps[trusted]
    return kept.size >= 8 and bool(np.all(kept == kept[0]))


def _mark_amps(work: FlightWork, number: int, runs: list[tuple[int, int]]) -> None:
    rows = work.rows
    for first, last in runs:
        rows.amps_ok[number][first:last] = False
        start = float(rows.time_s[first])
        work.froze_a_s = start if work.froze_a_s is None else min(start, work.froze_a_s)
        work.frozen_for_s += float(rows.time_s[last - 1]) - start
        work.events.append(
            FlightEvent("frozen_current", start, _end(rows, last), None, pack_of(rows, number))
        )


def _end(rows: Rows, last: int) -> float | None:
    flown = np.flatnonzero(rows.flown)
    return None if flown.size and last > flown[-1] else float(rows.time_s[min(last, rows.time_s.size - 1)])


def pack_of(rows: Rows, number: int) -> int | None:
    """The number of a source as an event names it: none where there is only one.

    >>> import numpy as np
    >>> from hangar.physics.flight_rows import LogSamples, Source, cleaned
    >>> time_s = np.arange(0.0, 100.0)
    >>> amps = np.where(time_s % 7.0 < 2.0, 2.0, 0.2)
    >>> volts = 6.6 - 0.2 * amps
    >>> rows = cleaned(LogSamples(time_s, volts, (Source(volts, amps),)))
    >>> pack_of(rows, 0) is None
    True
    """
    return number if len(rows.logged.sources) > 1 else None
