"""Bus volts over time: a pack with one slow resistance, under current pulses or a flight's currents.

The pack is an open-circuit source (or a large capacitor charged to it), a parallel resistor and
capacitor for the slow sag, and a series resistance; leads and switches add to the series part.
Every phase of constant load has a closed solution, so nothing here depends on a time step.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from hangar.base.errors import BadInput, NoAnswer

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import ArrayLike, NDArray

_MOST_PULSES = 1_000_000


@dataclass(frozen=True, slots=True)
class PulseSupply:
    """A pack behind its leads.

    Attributes:
        open_circuit_v: Open-circuit volts at the start.
        fast_ohm: Resistance that acts at once.
        slow_ohm: Resistance of the slow sag, with ``slow_f`` across it.
        slow_f: Capacitance across the slow resistance; time constant is their product.
        leads_ohm: Leads, contacts and switch between pack and bus, both legs.
        bulk_f: Charge per volt of the falling open-circuit volts, or None for a stiff source.
    """

    open_circuit_v: float
    fast_ohm: float
    slow_ohm: float = 0.0
    slow_f: float = 0.0
    leads_ohm: float = 0.0
    bulk_f: float | None = None

    def __post_init__(self) -> None:
        for name in ("open_circuit_v", "fast_ohm", "slow_ohm", "slow_f", "leads_ohm"):
            value = getattr(self, name)
            if not (math.isfinite(value) and value >= 0.0):
                raise BadInput(
                    "supply has {name} = {value:g}; a finite number of 0 or more is allowed",
                    name=name,
                    value=value,
                )
        if self.bulk_f is not None and not self.bulk_f > 0.0:
            raise BadInput("supply has bulk_f = {bulk:g}; more than 0 is allowed", bulk=self.bulk_f)

    @property
    def series_ohm(self) -> float:
        """Resistance that acts at once; without a capacitor the slow part does too."""
        return self.fast_ohm + self.leads_ohm + (0.0 if self.slow_f else self.slow_ohm)

    @property
    def sag_ohm(self) -> float:
        """Resistance that acts with delay."""
        return self.slow_ohm if self.slow_f else 0.0

    @property
    def decay_per_s(self) -> float:
        """One over the time constant of the sag (any rate will do where nothing sags)."""
        return 1.0 / (self.slow_ohm * self.slow_f) if self.sag_ohm else 1.0


@dataclass(frozen=True, slots=True)
class _Phase:
    """A stretch of constant load: bus volts are level + slope t + sum of gain exp(rate t)."""

    start_s: float
    length_s: float
    source: tuple[float, float]
    sag: float
    terms: tuple[tuple[float, float, float], ...]
    fixed_a: float
    siemens: float
    series_ohm: float

    def source_v(self, t: float) -> float:
        return self.source[0] + self.source[1] * t + sum(g * math.exp(r * t) for g, _, r in self.terms)

    def sag_v(self, t: float) -> float:
        return self.sag + sum(g * math.exp(r * t) for _, g, r in self.terms)

    def bus_v(self, t: float) -> float:
        loaded = self.source_v(t) - self.sag_v(t) - self.fixed_a * self.series_ohm
        return loaded / (1.0 + self.siemens * self.series_ohm)

    def turning_s(self) -> float | None:
        """Time inside the phase where the bus volts are level, if any."""
        steep = [((a - b) * r, r) for a, b, r in self.terms if (a - b) * r]
        if self.source[1]:
            steep.append((self.source[1], 0.0))
        if len(steep) != 2:
            return None
        (first, first_rate), (second, second_rate) = steep
        if first * second >= 0.0 or first_rate == second_rate:
            return None
        t = math.log(-second / first) / (first_rate - second_rate)
        return t if 0.0 < t < self.length_s else None


def _phase(
    supply: PulseSupply, span: tuple[float, float], state: tuple[float, float], fixed_a: float, siemens: float
) -> _Phase:
    """Closed solution of one phase from source volts and sag volts at its start."""
    series = supply.series_ohm
    source_v, sag_v = state
    loading = 1.0 + siemens * series
    alpha, beta = fixed_a / loading, siemens / loading
    per_bulk = 0.0 if supply.bulk_f is None else 1.0 / supply.bulk_f
    per_slow = supply.decay_per_s * supply.sag_ohm
    terms: tuple[tuple[float, float, float], ...]
    if beta == 0.0 or per_bulk == 0.0:
        # Source volts fall on a straight line; the sag follows with one time constant.
        rate = supply.decay_per_s + beta * per_slow
        settled = (alpha + beta * source_v) * per_slow / rate
        source = (source_v, -alpha * per_bulk)
        terms = ((0.0, sag_v - settled, -rate),)
        return _Phase(*span, source, settled, terms, fixed_a, siemens, series)
    # Two coupled states settling on an empty source: eigenvalues are real, negative and apart.
    down, up = beta * per_bulk, supply.decay_per_s + beta * per_slow
    middle, half = 0.5 * (down + up), math.sqrt(0.25 * (down - up) ** 2 + down * beta * per_slow)
    fast = -(middle + half)
    slow = down * supply.decay_per_s / fast
    empty_v = -alpha / beta
    excess_v = source_v - empty_v
    # Along an eigenvector the sag is (1 + rate / down) of the source's excess.
    fast_sag, slow_sag = 1.0 + fast / down, 1.0 + slow / down
    fast_gain = (sag_v - slow_sag * excess_v) / (fast_sag - slow_sag)
    slow_gain = excess_v - fast_gain
    terms = ((fast_gain, fast_gain * fast_sag, fast), (slow_gain, slow_gain * slow_sag, slow))
    return _Phase(*span, (empty_v, 0.0), 0.0, terms, fixed_a, siemens, series)


@dataclass(frozen=True, slots=True)
class Pulse:
    """Bus volts around one pulse: just before, just after it comes on, and at its end."""

    start_s: float
    end_s: float
    before_v: float
    start_v: float
    end_v: float


@dataclass(frozen=True, slots=True)
class PulseResponse:
    """Bus volts under a train of pulses.

    Attributes:
        minimum_v: Lowest bus volts.
        time_s: When they occur (the latest moment, where several are equal to rounding).
        pulses: Volts around every pulse.
    """

    minimum_v: float
    time_s: float
    pulses: tuple[Pulse, ...]
    _phases: tuple[_Phase, ...]

    def bus_v(self, time_s: float) -> float:
        """Bus volts at a time; at an edge, just after it."""
        last = self._phases[-1]
        if not 0.0 <= time_s <= last.start_s + last.length_s:
            end_s = last.start_s + last.length_s
            raise BadInput("time {time:g} s lies outside the train, 0 to {end:g} s", time=time_s, end=end_s)
        phase = self._phases[bisect_right(self._phases, time_s, key=lambda p: p.start_s) - 1]
        return phase.bus_v(time_s - phase.start_s)


def pulse_response(case: Mapping[str, Any]) -> PulseResponse:
    """Bus volts under periodic load pulses on a steady idle current.

    Args:
        case: ``voc`` V, ``r0`` and ``r1`` ohm, ``c1`` F, ``rext`` ohm, ``i_idle`` A, ``kind``
            ``current`` (with ``di`` A) or ``resistance`` (with ``r_load`` ohm), ``t_on``, ``T``,
            ``t_delay`` and ``t_end`` s; optional ``cbulk_f`` F makes the open-circuit volts fall
            with the charge drawn.  The slow capacitor starts settled at the idle current.

    Returns:
        The lowest volts, their time, and volts around each pulse.

    Raises:
        BadInput: A value is missing or impossible.
        NoAnswer: The bus would fall to nothing: the supply collapses.

    Valid for: one slow time constant; loads that keep their current, or their resistance.

    Source: closed solution of the circuit's differential equations; checked against ngspice 39.

    >>> case = {"voc": 8.2, "r0": 0.03, "r1": 0.015, "c1": 200.0, "rext": 0.035, "i_idle": 0.3,
    ...         "kind": "current", "di": 8.0, "t_on": 0.3, "T": 2.0, "t_delay": 1.0, "t_end": 20.0}
    >>> pulse_response(case).minimum_v
    7.63256
    """
    if not isinstance(case, Mapping):
        raise BadInput("a pulse case {case} was found; a table of its values is wanted", case=repr(case))
    supply = PulseSupply(
        _value(case, "voc"),
        _value(case, "r0"),
        _value(case, "r1", 0.0),
        _value(case, "c1", 0.0),
        _value(case, "rext", 0.0),
        _value(case, "cbulk_f") if case.get("cbulk_f") is not None else None,
    )
    idle_a = _value(case, "i_idle", 0.0)
    extra_a, siemens = _pulse_load(case)
    phases: list[_Phase] = []
    pulses: list[Pulse] = []
    state = (supply.open_circuit_v, idle_a * supply.sag_ohm)
    for start_s, end_s, is_on in _spans(case):
        phase = _phase(
            supply,
            (start_s, end_s - start_s),
            state,
            idle_a + (extra_a if is_on else 0.0),
            siemens if is_on else 0.0,
        )
        if is_on:
            before_v = state[0] - state[1] - idle_a * supply.series_ohm
            pulses.append(Pulse(start_s, end_s, before_v, phase.bus_v(0.0), phase.bus_v(phase.length_s)))
        phases.append(phase)
        state = (phase.source_v(phase.length_s), phase.sag_v(phase.length_s))
    minimum_v, time_s = _lowest(phases)
    if minimum_v <= 0.0 and (idle_a > 0.0 or extra_a > 0.0 or siemens > 0.0):
        raise NoAnswer("no operating point: the supply collapses (the pulses pull the bus down to nothing)")
    return PulseResponse(minimum_v, time_s, tuple(pulses), tuple(phases))


def _value(case: Mapping[str, Any], key: str, default: float | None = None) -> float:
    given = case.get(key, default)
    if given is None:
        raise BadInput("pulse case lacks the value {field}", field=repr(key))
    try:
        value = float(given)
    except (TypeError, ValueError):
        raise BadInput(
            "pulse case has {field} = {given}; a number is allowed", field=key, given=repr(given)
        ) from None
    if not math.isfinite(value):
        raise BadInput(
            "pulse case has {field} = {value:g}; a finite number is allowed", field=key, value=value
        )
    return value


def _pulse_load(case: Mapping[str, Any]) -> tuple[float, float]:
    """Extra amps and extra siemens while the pulse is on."""
    kind = case.get("kind", "current")
    if kind == "current":
        return _value(case, "di"), 0.0
    if kind == "resistance":
        ohm = _value(case, "r_load")
        if ohm <= 0.0:
            raise BadInput("pulse case has r_load = {ohm:g}; more than 0 is allowed", ohm=ohm)
        return 0.0, 1.0 / ohm
    raise BadInput("pulse case has kind {kind}; allowed are current, resistance", kind=repr(kind))


def _spans(case: Mapping[str, Any]) -> list[tuple[float, float, bool]]:
    """Start, end and load state of every phase up to the end of the train."""
    on_s, period_s = _value(case, "t_on"), _value(case, "T")
    delay_s, end_s = _value(case, "t_delay", 0.0), _value(case, "t_end")
    if on_s < 0.0 or period_s <= 0.0 or delay_s < 0.0 or end_s <= 0.0:
        raise BadInput("pulse case needs t_on and t_delay of 0 or more, T and t_end of more than 0")
    if (end_s - delay_s) / period_s > _MOST_PULSES:
        raise BadInput("pulse case has more than {most} pulses", most=_MOST_PULSES)
    spans: list[tuple[float, float, bool]] = []

    def add(start: float, stop: float, is_on: bool) -> None:
        if min(stop, end_s) > start:
            spans.append((start, min(stop, end_s), is_on))

    add(0.0, delay_s, False)
    k = 0
    while (start := delay_s + k * period_s) < end_s:
        stop = min(start + on_s, delay_s + (k + 1) * period_s)
        add(start, stop, True)
        add(stop, delay_s + (k + 1) * period_s, False)
        k += 1
    return spans


def _lowest(phases: list[_Phase]) -> tuple[float, float]:
    lowest_v, when_s = math.inf, 0.0
    for phase in phases:
        turning = phase.turning_s()
        for t in (0.0, phase.length_s) if turning is None else (0.0, turning, phase.length_s):
            volts = phase.bus_v(t)
            # Settled pulses repeat to the last digit: the later one is the true lowest.
            if volts <= lowest_v + 1e-12:
                lowest_v, when_s = min(volts, lowest_v), phase.start_s + t
    return lowest_v, when_s


@dataclass(frozen=True, slots=True)
class FlightProfile:
    """Bus volts through a flight.

    Attributes:
        time_s: End of every step.
        bus_v: Bus volts at the end of every step, the step's current still flowing.
        minimum_v: Lowest bus volts within any step.
        minimum_time_s: When they occur.
    """

    time_s: NDArray[np.float64]
    bus_v: NDArray[np.float64]
    minimum_v: float
    minimum_time_s: float


def flight_profile(
    current_a: ArrayLike, step_s: float, supply: PulseSupply, *, settled_at_a: float | None = None
) -> FlightProfile:
    """Bus volts under a current that is constant within each step; exact, not stepped.

    Args:
        current_a: Amps in each step; several rows (one for each servo) are added up.
        step_s: Length of a step; 0.001 for a 1 kHz profile.
        supply: The pack and its leads.
        settled_at_a: Current at which the pack had settled before; the first step's by default.

    Returns:
        Volts at the end of each step and the lowest volts.

    Raises:
        BadInput: No steps, a step length of 0 or less, or a current that is no number.
        NoAnswer: The bus would fall to nothing: the supply collapses.

    Valid for: loads that keep their current whatever the volts.

    Source: exact recursion of a first-order linear system with its input held in each step.

    >>> flight = flight_profile([0.5, 8.0, 8.0], 0.1, PulseSupply(8.2, 0.03, 0.015, 200.0, 0.035))
    >>> flight.bus_v.round(4).tolist(), flight.minimum_time_s
    ([8.16, 7.6688, 7.6652], 0.3)
    """
    import numpy as np

    drawn = np.asarray(current_a, dtype=np.float64)
    amps: NDArray[np.float64] = drawn.sum(axis=0) if drawn.ndim == 2 else drawn
    if amps.ndim != 1 or amps.size == 0 or not step_s > 0.0:
        raise BadInput("a flight profile needs at least one step of current and a step length of more than 0")
    if not np.isfinite(amps).all():
        raise BadInput("a flight profile holds a current that is no finite number")
    resting = float(amps[0]) if settled_at_a is None else settled_at_a
    keep = math.exp(-step_s * supply.decay_per_s)
    sag = _decaying_sum(amps * ((1.0 - keep) * supply.sag_ohm), keep, resting * supply.sag_ohm)
    at_end = supply.open_circuit_v - supply.series_ohm * amps - sag
    sag_before = np.concatenate(([resting * supply.sag_ohm], sag[:-1]))
    at_start = supply.open_circuit_v - supply.series_ohm * amps - sag_before
    if supply.bulk_f is not None:
        used_v = np.cumsum(amps) * (step_s / supply.bulk_f)
        at_end -= used_v
        at_start[1:] -= used_v[:-1]
    time_s: NDArray[np.float64] = np.arange(1, amps.size + 1, dtype=np.float64) * np.float64(step_s)
    first, last = int(np.argmin(at_start)), int(np.argmin(at_end))
    ends_low = at_end[last] <= at_start[first]
    minimum_v = float(at_end[last] if ends_low else at_start[first])
    if minimum_v <= 0.0 and float(np.max(amps)) > 0.0:
        raise NoAnswer("no operating point: the supply collapses (the flight pulls the bus down to nothing)")
    return FlightProfile(time_s, at_end, minimum_v, float(time_s[last]) if ends_low else first * step_s)


def _decaying_sum(added: NDArray[np.float64], keep: float, before: float) -> NDArray[np.float64]:
    """y[k] = keep * y[k-1] + added[k] with y[-1] = before.

    Within blocks the recursion is a weighted running sum; a block is short enough that the
    weights stay within eight decades, so nothing is lost by rounding.
    """
    import numpy as np

    count = added.size
    block = count if keep >= 1.0 else max(1, min(count, int(18.0 / -math.log(keep)) if keep > 0.0 else 1))
    blocks = -(-count // block)
    padded = np.zeros(blocks * block)
    padded[:count] = added
    table = padded.reshape(blocks, block)
    weight = keep ** np.arange(block)
    table /= weight
    np.cumsum(table, axis=1, out=table)
    table *= weight
    fade = keep ** np.arange(1, block + 1)
    carried, carry = np.empty(blocks), before
    ends, whole = table[:, -1].tolist(), keep**block
    for k in range(blocks):
        carried[k] = carry
        carry = ends[k] + whole * carry
    table += carried[:, None] * fade
    return padded[:count]
