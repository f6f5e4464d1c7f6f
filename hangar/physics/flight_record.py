"""What a flight log tells: volts, currents, charge, resistance with its band, and what happened.

It is measured on simulated flights with known truth; tests/physics/flight_forge.py makes them.

Source: common practice, no source, where the modules that it calls name none.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from hangar.base.chemistry import Chemistry
from hangar.physics.flight_events import drag, emptied, pack_lost, stalled_servo
from hangar.physics.flight_fit import Band, PathFit, band_of, path_band
from hangar.physics.flight_joint import JointStep, joint_step
from hangar.physics.flight_rows import FlightEvent, LogSamples, Rows, Source, cleaned, resolution
from hangar.physics.flight_sensors import (
    LEAST_ROWS,
    FlightWork,
    fitted_path,
    leave_frozen,
    leave_wild_amps,
    pack_of,
)

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Row = NDArray[np.float64]
    Mask = NDArray[np.bool_]

_LEADS_SD = 0.25
_GAIN_SD = 0.02
_SLOW_HZ = 5.0
_ALONE_V, _ALONE_TIMES = 0.4, 12.0


@dataclass(frozen=True)
class KnownPack:
    """What the records say of a pack: ``leads_ohm`` are switch, leads, plugs up to where volts are read."""

    chemistry: Chemistry
    cells: int
    leads_ohm: float


@dataclass(frozen=True)
class PackReport:
    """What a log tells of one pack."""

    path_ohm: Band | None
    pack_ohm: Band | None
    used_mah: float | None
    at_pack: bool


@dataclass(frozen=True)
class FlightReport:
    """What a log tells; None where it cannot be told.

    Attributes:
        minimum_v: the lowest trustworthy sample of the bus; ``may_be_lower`` below 5 rows a second.
        mean_a, peak_a, used_mah: of all packs together; ``used_until_mah`` up to when the current froze.
        packs: each pack, in the order it was logged.
        below_s: time below each limit.
        base_v, fitted_v: volts without load and as fitted, by row, for the picture; nan where unknown.
        lone_v: a lowest sample that neither the current nor its neighbours show, left out of ``minimum_v``.
    """

    minimum_v: float | None
    mean_a: float | None
    peak_a: float | None
    used_mah: float | None
    used_until_mah: float | None
    packs: tuple[PackReport, ...]
    below_s: tuple[tuple[float, float], ...]
    events: tuple[FlightEvent, ...]
    rate_hz: float
    rows: int
    rows_used: int
    flown_s: float
    may_be_lower: bool
    lag_steps: float
    lone_v: float | None
    fitted_v: Row
    trusted: Mask


def as_logged(
    time_s: Sequence[float],
    bus_v: Sequence[float] | None,
    sources: Sequence[tuple[Sequence[float] | None, Sequence[float] | None, bool]],
) -> LogSamples:
    """A log out of plain lists; a source's volts that are the very list of the bus stay the same column.

    >>> logged = as_logged([0.0, 0.1], volts := [6.5, 6.4], [(volts, [0.2, 0.5], False)])
    >>> logged.sources[0].volts is logged.bus_v
    True
    """
    times = np.asarray(time_s, dtype=np.float64)
    bus = None if bus_v is None else np.asarray(bus_v, dtype=np.float64)
    made = []
    for volts, amps, at_pack in sources:
        pack_v = bus if volts is bus_v else None if volts is None else np.asarray(volts, dtype=np.float64)
        made.append(Source(pack_v, None if amps is None else np.asarray(amps, dtype=np.float64), at_pack))
    return LogSamples(times, bus, tuple(made))


def flight_told(
    logged: LogSamples, known: Sequence[KnownPack | None], limits_v: Sequence[float] = ()
) -> FlightReport:
    """Read a log of one flight.

    Args:
        logged: times, volts and amps; see :class:`hangar.physics.flight_rows.LogSamples`.
        known: what the records say of each source's pack; None where nothing.
        limits_v: volts below which the time is counted.

    >>> amps = [2.0 if at % 7 < 2 else 0.2 for at in range(100)]
    >>> volts = [6.6 - 0.2 * each for each in amps]
    >>> logged = as_logged(list(map(float, range(100))), volts, [(volts, amps, False)])
    >>> told = flight_told(logged, [None], [6.5])
    >>> round(told.minimum_v, 2), told.peak_a, round(told.packs[0].path_ohm.value, 2)
    (6.2, 2.0, 0.2)
    """
    work = FlightWork(cleaned(logged))
    rows = work.rows
    work.events = list(rows.events)
    leave_wild_amps(work)
    leave_frozen(work)
    _find_lost(work)
    _fit_all(work, known)
    totals = rows.total_amps()
    if totals is not None:
        _find_currents(work, *totals)
    packs = tuple(_pack_told(work, number, pack) for number, pack in enumerate(known))
    fitted = _fitted_bus(work)
    lone = _lone_sample(rows, fitted)
    minimum = _minimum(rows)
    mean, peak, used, until = _currents(work, totals)
    lag = next((fit.lag_steps for fit in work.fits if fit is not None), 0.0)
    return FlightReport(
        minimum, mean, peak, used, until, packs,
        tuple((limit, _below(rows, limit)) for limit in limits_v) if np.any(rows.bus_ok) else (),
        tuple(sorted(work.events, key=lambda event: event.start_s)),
        rows.rate_hz, rows.time_s.size, int(np.sum(rows.bus_ok | _amps_ok(rows))), rows.flown_s,
        minimum is not None and rows.rate_hz < _SLOW_HZ - 0.2, lag, lone, fitted, rows.bus_ok.copy(),
    )  # fmt: skip


def _amps_ok(rows: Rows) -> Mask:
    none = np.zeros(rows.time_s.size, bool)
    return np.logical_or.reduce(rows.amps_ok) if rows.amps_ok else none


def _find_lost(work: FlightWork) -> None:
    rows = work.rows
    totals = rows.total_amps()
    if totals is None or len(rows.amps) < 2:
        return
    amps = [amp for amp in rows.amps if amp is not None]
    for number, source in enumerate(rows.logged.sources):
        plug = source.volts if source.volts is not rows.logged.bus_v else None
        lost = pack_lost(rows.time_s, number, amps, totals[1], plug, rows.logged.bus_v)
        if lost is not None:
            work.events.append(lost)
            gone = rows.time_s >= lost.start_s - rows.step_s
            if lost.end_s is not None:
                gone &= rows.time_s <= lost.end_s
            rows.volts_ok[number] &= ~gone


def _fit_all(work: FlightWork, known: Sequence[KnownPack | None]) -> None:
    """Fit each path; what came after a joint went bad or a pack ran empty stays out of it."""
    rows = work.rows
    for number, pack in enumerate(known):
        fit = fitted_path(work, number)
        volts = rows.logged.sources[number].volts
        if fit is None or volts is None:
            work.fits.append(None)
            continue
        trusted = rows.volts_ok[number] & rows.amps_ok[number]
        whole = np.ones(rows.time_s.size, bool)
        # At the pack's own plug there is hardly a joint to go bad before it.
        at_pack = rows.logged.sources[number].at_pack
        step = None if at_pack else joint_step(rows.time_s, volts, trusted, fit, rows.step_s)
        if pack is not None and fit.second_ohm > 0.0:
            empty = emptied(
                rows.time_s, _rest_v(rows, number, volts, fit, step), trusted, pack.chemistry, pack.cells
            )
            if empty is not None:
                work.events.append(_of_pack(empty, pack_of(rows, number)))
                whole = rows.time_s < empty.start_s - 15.0
                if np.sum(trusted & whole) >= LEAST_ROWS:
                    fit = fitted_path(work, number, whole) or fit
                    step = (
                        None if at_pack else joint_step(rows.time_s, volts, trusted & whole, fit, rows.step_s)
                    )
        if step is not None:
            work.events.append(
                FlightEvent("joint", step.start_s, step.end_s, step.extra_ohm, pack_of(rows, number))
            )
            fit = fitted_path(work, number, whole & ~_within(rows, step)) or fit
        work.fits.append(fit)


def _within(rows: Rows, step: JointStep) -> Mask:
    return (rows.time_s >= step.start_s) & (rows.time_s <= (math.inf if step.end_s is None else step.end_s))


def _rest_v(rows: Rows, number: int, volts: Row, fit: PathFit, step: JointStep | None) -> Row:
    """The volts without load; behind a bad joint with what it takes put back."""
    amps = np.where(rows.amps_ok[number], fit.amps, np.nan)
    rest = volts + fit.at_once_ohm * fit.amps + fit.slow_ohm * fit.slow_a
    if step is not None:
        # The fit over the whole flight holds a part of the joint in every row already.
        inside = _within(rows, step)
        rest = rest + step.extra_ohm * np.nan_to_num(amps) * (inside - float(np.mean(inside)))
    return np.asarray(rest)


def _of_pack(event: FlightEvent, pack: int | None) -> FlightEvent:
    return FlightEvent(event.kind, event.start_s, event.end_s, event.size, pack)


def _find_currents(work: FlightWork, amps: Row, trusted: Mask) -> None:
    rows = work.rows
    dragging = drag(rows.time_s, amps, trusted)
    if dragging is not None:
        work.events.append(dragging)
        amps = np.where(rows.time_s >= dragging.start_s, amps - (dragging.size or 0.0), amps)
    stalled = stalled_servo(rows.time_s, amps, trusted, rows.step_s, rows.gaps)
    if stalled is not None:
        work.events.append(stalled)


def _pack_told(work: FlightWork, number: int, pack: KnownPack | None) -> PackReport:
    rows = work.rows
    fit, source = work.fits[number], rows.logged.sources[number]
    leads = 0.0 if pack is None or source.at_pack else pack.leads_ohm
    band_ohm = None if fit is None else path_band(fit, leads, rows.step_s)
    used = _charge_mah(rows, rows.amps[number], rows.amps_ok[number])
    if any(event.kind == "frozen_current" for event in work.events):
        used = None
    if band_ohm is None:
        return PackReport(None, None, used, source.at_pack)
    ohm, sd = band_ohm
    sd = math.hypot(sd, _GAIN_SD * ohm)
    within = None
    if pack is not None or source.at_pack:
        within = band_of(ohm - leads, math.hypot(sd, _LEADS_SD * leads))
    return PackReport(band_of(ohm, sd), within, used, source.at_pack)


def _charge_mah(rows: Rows, amps: Row | None, trusted: Mask) -> float | None:
    """Charge by the trapezoid rule, straight across gaps; None without a current."""
    at = np.flatnonzero(trusted & rows.flown)
    if amps is None or at.size < 2:
        return None
    return float(np.trapezoid(amps[at], rows.time_s[at])) / 3.6


def _fitted_bus(work: FlightWork) -> Row:
    rows = work.rows
    made = np.full(rows.time_s.size, np.nan)
    for number, fit in enumerate(work.fits):
        source = rows.logged.sources[number]
        if fit is not None and source.volts is rows.logged.bus_v and source.volts is not None:
            made = fit.base_v - fit.at_once_ohm * fit.amps - fit.slow_ohm * fit.slow_a
            made[~rows.amps_ok[number]] = np.nan
            break
    return made


def _lone_sample(rows: Rows, fitted: Row) -> float | None:
    """Take out single samples far below what the current and both neighbours show; the lowest of them."""
    bus = rows.logged.bus_v
    if bus is None or bus.size < 5 or not np.any(np.isfinite(fitted)):
        return None
    away = fitted - bus
    usual = 1.4826 * float(np.nanmedian(np.abs(away[rows.bus_ok]))) if np.any(rows.bus_ok) else 0.0
    ordinary = np.nanmedian(bus[rows.bus_ok]) - fitted if np.any(rows.bus_ok) else 0.0
    # A joint gone bad may double the fall that the current makes; it does not treble it in one sample.
    far = rows.bus_ok & (
        np.nan_to_num(away) > max(_ALONE_V, _ALONE_TIMES * usual) + 2.0 * np.maximum(ordinary, 0.0)
    )
    alone = far.copy()
    alone[1:] &= ~far[:-1]
    alone[:-1] &= ~far[1:]
    if not np.any(alone) or np.sum(alone) > max(3, 0.005 * bus.size):
        return None
    lowest = float(np.min(bus[alone]))
    rows.bus_ok &= ~alone
    return lowest


def _minimum(rows: Rows) -> float | None:
    bus = rows.logged.bus_v
    return None if bus is None or not np.any(rows.bus_ok) else float(np.min(bus[rows.bus_ok]))


def _currents(
    work: FlightWork, totals: tuple[Row, Mask] | None
) -> tuple[float | None, float | None, float | None, float | None]:
    """Mean, peak, charge, and the charge until the current froze."""
    rows = work.rows
    if totals is None or not np.any(totals[1]):
        return None, None, None, None
    amps, trusted = totals
    peak = _peak(rows, amps, trusted, work)
    if work.froze_a_s is not None:
        until = _charge_mah(rows, amps, trusted & (rows.time_s < work.froze_a_s))
        return None, peak, None, until
    used = _charge_mah(rows, amps, trusted)
    at = np.flatnonzero(trusted & rows.flown)
    span_s = float(rows.time_s[at[-1]] - rows.time_s[at[0]])
    mean = None if used is None or span_s <= 0.0 else used * 3.6 / span_s
    return mean, peak, used, None


def _peak(rows: Rows, amps: Row, trusted: Mask, work: FlightWork) -> float:
    """The highest current that is no lone sample which the volts do not show."""
    kept = trusted.copy()
    fits = [(fit, rows.logged.sources[number]) for number, fit in enumerate(work.fits) if fit is not None]
    if len(fits) == 1 and len(rows.amps) == 1 and fits[0][1].volts is not None:
        fit, source = fits[0]
        volts = np.asarray(source.volts)
        missing = volts - (fit.base_v - fit.at_once_ohm * fit.amps - fit.slow_ohm * fit.slow_a)
        shown = fit.second_ohm * fit.amps
        odd = (missing > 0.6 * shown) & (missing > 8.0 * fit.noise_v) & rows.volts_ok[0]
        lone = odd.copy()
        lone[1:] &= ~odd[:-1]
        lone[:-1] &= ~odd[1:]
        if np.sum(lone) <= max(3, 0.002 * amps.size):
            kept &= ~lone
    return float(np.max(amps[kept])) if np.any(kept) else float(np.max(amps[trusted]))


def _below(rows: Rows, limit_v: float) -> float:
    """Seconds below a limit; a reading that is rounded to the limit stands for half."""
    bus = rows.logged.bus_v
    if bus is None or not np.any(rows.bus_ok & (bus < limit_v)):
        return 0.0
    step = max(resolution(bus), 1e-6)
    part = np.clip((limit_v - bus[rows.bus_ok]) / step + 0.5, 0.0, 1.0)
    return float(np.sum(rows.share_s[rows.bus_ok] * part))
