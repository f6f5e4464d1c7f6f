"""Forged flights: currents, cells and loggers drawn at random, with the truth of all a log should tell.

The cell is two resistances with a time constant each behind its resting volts, at once 0.82, one second
after a step 1.0 and ten seconds after it 1.24 of its resistance; that is what a single-particle model of
the public parameter sets shows within a tenth. Nothing here is shared with what reads the logs.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

Row = NDArray[np.float64]

FINE_S = 0.02
KINDS = (
    "nothing", "stalled_servo", "drag", "joint", "loose_joint", "cell_empty", "pack_empty", "frozen_volts",
    "frozen_current", "frozen_to_end", "offset_current", "gap", "dropout", "late",
)  # fmt: skip

_CELLS = {"NiMH": 1.27, "NiCd": 1.26, "LiPo": 3.95, "Li-ion": 3.85, "LiFePO4": 3.31}


@dataclass
class Truth:
    """What is true of a forged flight; resistances in ohm at one second after a step."""

    kind: str
    chemistry: str
    cells: int
    rate_hz: float
    volts_step: float
    amps_step: float
    volts_noise: float
    amps_noise: float
    pack_ohm: float
    leads_ohm: float
    noted_leads_ohm: float
    minimum_v: float = 0.0
    mean_a: float = 0.0
    peak_a: float = 0.0
    used_mah: float = 0.0
    used_until_mah: float | None = None
    below: tuple[float, float] = (0.0, 0.0)
    events: list[tuple[str, float, float | None, float | None]] = field(default_factory=list)

    @property
    def path_ohm(self) -> float:
        """Pack and leads together."""
        return self.pack_ohm + self.leads_ohm


@dataclass
class Flight:
    """A forged log before it is written: what the logger holds, and the truth."""

    time_s: Row
    volts: Row
    amps: Row
    truth: Truth


def forged_flight(seed: int, kind: str | None = None) -> Flight:
    """One flight drawn at random; ``kind`` is what happens in it."""
    draw = np.random.default_rng(seed)
    kind = kind or str(draw.choice(KINDS))
    chemistry = str(draw.choice(["NiMH", "NiCd"] if kind == "cell_empty" else list(_CELLS)))
    nickel = chemistry.startswith("Ni")
    cells = int(draw.choice([4, 5])) if nickel else 2
    size = float(draw.choice([0.5, 1.0, 2.0, 4.0], p=[0.25, 0.4, 0.2, 0.15]))
    minutes = float(draw.uniform(5.0, 13.0))
    fine = np.arange(0.0, 60.0 * minutes, FINE_S)
    amps = currents(draw, fine, size)
    rate = float(draw.choice([1.0, 2.0, 5.0, 10.0, 20.0], p=[0.1, 0.15, 0.25, 0.35, 0.15]))
    if kind in ("cell_empty", "pack_empty", "joint", "loose_joint") or (
        kind == "stalled_servo" and rate < 2.0
    ):
        rate = max(rate, 5.0)
    if kind == "late":
        rate = float(draw.choice([10.0, 20.0]))
    coarse = 0.1 if rate <= 1.0 and draw.random() < 0.5 else float(draw.choice([0.01, 0.01, 0.02]))
    amps_step = float(draw.choice([0.01, 0.02, 0.05, 0.1], p=[0.4, 0.3, 0.2, 0.1]))
    pack = (0.10 if nickel else 0.045) / size**0.7 * float(draw.uniform(0.7, 1.5))
    leads = float(draw.uniform(0.045, 0.11))
    most_a = 0.3 * cells * _CELLS[chemistry] / (pack + leads + 0.1)
    amps = np.minimum(amps, most_a) if float(np.max(amps)) > most_a else amps
    truth = Truth(
        kind, chemistry, cells, rate, coarse, amps_step, float(draw.uniform(0.003, 0.008)),
        float(draw.uniform(0.008, 0.03)), pack, leads, leads * float(draw.normal(1.0, 0.12)),
    )  # fmt: skip
    if kind == "offset_current":
        # A sensor without noise hides up to half a step of its offset from anybody.
        truth.amps_noise = max(truth.amps_noise, 0.4 * amps_step)
    amps = _faults_of_load(draw, fine, amps, truth, size)
    ohms = np.full(fine.size, leads) + _joint(draw, fine, truth)
    volts = _volts(draw, fine, amps, ohms, truth)
    return _logged(draw, fine, volts, amps, truth)


def currents(draw: np.random.Generator, fine: Row, size: float) -> Row:
    """Idle, and pulses of servos that come in busy and quiet times; little on the ground ."""
    idle = 0.11 + 0.05 * size + float(draw.uniform(0.0, 0.05))
    made = np.full(fine.size, idle)
    end = float(fine[-1])
    take_off, landed = float(draw.uniform(12.0, 35.0)), end - float(draw.uniform(10.0, 25.0))
    at = 3.0
    busy, until = 1.0, 0.0
    pace = float(draw.uniform(0.5, 1.6))
    while at < end - 3.0:
        if at > until:
            busy, until = float(draw.choice([0.4, 1.0, 2.0])), at + float(draw.exponential(25.0)) + 5.0
        flying = take_off < at < landed
        at += float(draw.exponential(0.55 * pace / (busy if flying else 0.12)))
        lasts = 0.12 + float(draw.exponential(0.30))
        high = (0.25 + float(draw.exponential(0.55))) * size * (1.0 if flying else 0.7)
        first, last = int(at / FINE_S), min(int((at + lasts) / FINE_S), fine.size)
        if last - first > 2:
            made[first:last] += high * np.sin(np.linspace(0.0, math.pi, last - first)) ** 0.7
    return made


def _faults_of_load(draw: np.random.Generator, fine: Row, amps: Row, truth: Truth, size: float) -> Row:
    end = float(fine[-1])
    if truth.kind == "stalled_servo":
        start = float(draw.uniform(0.3, 0.8)) * end
        lasts = float(draw.uniform(2.6, 6.0))
        extra = float(draw.uniform(1.6, 3.2)) * size
        amps = amps + np.where((fine >= start) & (fine < start + lasts), extra, 0.0)
        truth.events.append(("stalled_servo", start, start + lasts, extra))
    if truth.kind == "drag":
        start = float(draw.uniform(0.3, 0.65)) * end
        extra = float(draw.uniform(0.5, 1.0)) * max(size, 1.0)
        amps = amps + np.where(fine >= start, extra, 0.0)
        truth.events.append(("drag", start, None, extra))
    return amps


def _joint(draw: np.random.Generator, fine: Row, truth: Truth) -> Row:
    if truth.kind not in ("joint", "loose_joint"):
        return np.zeros(fine.size)
    end = float(fine[-1])
    start, extra = float(draw.uniform(0.25, 0.7)) * end, float(draw.uniform(0.06, 0.16))
    lasting = truth.kind == "joint"
    stop = end if lasting else start + float(draw.uniform(40.0, 90.0))
    truth.events.append(("joint", start, None if lasting else stop, extra))
    return np.where((fine >= start) & (fine < stop), extra, 0.0)


def _volts(draw: np.random.Generator, fine: Row, amps: Row, ohms: Row, truth: Truth) -> Row:
    used = np.concatenate(([0.0], np.cumsum(amps[:-1] * FINE_S))) / 3.6
    total = float(used[-1])
    capacity = float(draw.uniform(4.0, 12.0)) * total
    left = 0.85 - used / capacity
    rest = truth.cells * _cell_rest(truth.chemistry, left)
    if truth.kind == "pack_empty":
        start = float(draw.uniform(0.6, 0.85)) * float(fine[-1])
        line = {"LiFePO4": 2.9, "Li-ion": 3.3, "LiPo": 3.5}.get(truth.chemistry, 1.10)
        begun = float(np.interp(start, fine, rest)) / truth.cells
        # A knee of two to three minutes, which goes on to below the line and stands there.
        knee_s = float(draw.uniform(110.0, 180.0))
        gone = np.clip((fine - start + knee_s) / knee_s, 0.0, None) ** 1.6
        further = 0.35 if truth.chemistry.startswith("Ni") else 0.2
        rest = rest - truth.cells * np.minimum(gone * (begun - line), begun - line + further)
        truth.events.append(("pack_empty", start, None, None))
    if truth.kind == "cell_empty":
        start = float(draw.uniform(0.6, 0.85)) * float(fine[-1])
        gone = np.clip((fine - start) / 55.0, 0.0, 1.0)
        rest = rest - 0.9 * gone**1.3
        truth.events.append(("cell_empty", start, None, None))
    surface = truth.cells * (0.012 if truth.chemistry.startswith("Ni") else 0.004) * np.exp(-fine / 90.0)
    pack = truth.pack_ohm * (1.0 + float(draw.uniform(-0.06, 0.02)) * fine / float(fine[-1]))
    fast_s, slow_s = float(draw.uniform(0.7, 1.8)), float(draw.uniform(9.0, 25.0))
    return np.asarray(rest + surface - pack * second_falls(amps, fast_s, slow_s) - ohms * amps)


def second_falls(amps: Row, fast_s: float, slow_s: float) -> Row:
    """The current as a cell feels it: one second after a step 1.0 of it, at once 0.82, at ten about 1.24."""
    fast_share = 0.135 / (1.0 - math.exp(-1.0 / fast_s))
    slow_share = 0.045 / (1.0 - math.exp(-1.0 / slow_s))
    return np.asarray(0.82 * amps + fast_share * _through(amps, fast_s) + slow_share * _through(amps, slow_s))


def _through(amps: Row, lag_s: float) -> Row:
    made = np.empty_like(amps)
    share, now = math.exp(-FINE_S / lag_s), float(amps[0])
    for at, each in enumerate(amps.tolist()):
        now = each + (now - each) * share
        made[at] = now
    return made


def _cell_rest(chemistry: str, left: Row) -> Row:
    middle = _CELLS[chemistry]
    slope = {"NiMH": 0.10, "NiCd": 0.08, "LiPo": 0.55, "Li-ion": 0.6, "LiFePO4": 0.06}[chemistry]
    return np.asarray(middle + slope * (left - 0.55))


def _logged(draw: np.random.Generator, fine: Row, volts: Row, amps: Row, truth: Truth) -> Flight:
    step = 1.0 / truth.rate_hz
    times = np.arange(0.0, float(fine[-1]) - 0.3, step)
    times = times + draw.normal(0.0, 0.02 * step, times.size).clip(-0.2 * step, 0.2 * step)
    times[0] = 0.0
    seen_v = np.interp(times, fine, volts)
    late = float(draw.choice([0.5, 1.0, 2.0])) * step if truth.kind == "late" else 0.0
    held_a = np.interp(times - late, fine, amps)
    keep = np.ones(times.size, bool)
    if truth.kind == "gap":
        start = float(draw.uniform(0.3, 0.7)) * float(times[-1])
        lost = (times > start) & (times < start + float(draw.uniform(4.5, 12.0)) + 3.5 * step)
        edge = np.flatnonzero(lost)
        truth.events.append(("gap", float(times[edge[0] - 1]), float(times[edge[-1] + 1]), None))
        keep &= ~lost
    shown_v = _rounded(seen_v + draw.normal(0.0, truth.volts_noise, times.size), truth.volts_step)
    shown_a = _rounded(held_a + draw.normal(0.0, truth.amps_noise, times.size), truth.amps_step).clip(0.0)
    truth.mean_a, truth.peak_a = float(np.mean(amps)), float(np.max(held_a[keep]))
    truth.used_mah = float(np.sum(amps)) * FINE_S / 3.6
    limit = round(float(np.quantile(volts, 0.02)), 2)
    truth.below = (limit, float(np.sum(volts < limit)) * FINE_S)
    trusted = keep.copy()
    trusted &= ~_logger_faults(draw, times, shown_v, shown_a, keep, truth, amps, fine)
    truth.minimum_v = float(np.min(seen_v[trusted]))
    times, shown_v, shown_a = times[keep], shown_v[keep], shown_a[keep]
    if truth.kind == "offset_current":
        offset, off_s = float(draw.uniform(0.1, 0.4)), 8.0
        dead = np.arange(0.0, off_s, step)
        truth.events = [(kind, start, end, size) for kind, start, end, size in truth.events]
        truth.events.append(("offset_current", 0.0, None, offset))
        noise = draw.normal(0.0, truth.amps_noise, dead.size)
        times = np.concatenate([dead, times + off_s])
        shown_v = np.concatenate([np.zeros(dead.size), shown_v])
        shown_a = np.concatenate(
            [_rounded(offset + noise, truth.amps_step), _rounded(shown_a + offset, truth.amps_step)]
        )
    return Flight(times, shown_v, shown_a, truth)


def _logger_faults(
    draw: np.random.Generator, times: Row, volts: Row, amps: Row, keep: NDArray[np.bool_], truth: Truth,
    true_amps: Row, fine: Row,
) -> NDArray[np.bool_]:  # fmt: skip
    """Spoil what the logger shows; the rows whose volts are spoilt."""
    spoilt = np.zeros(times.size, bool)
    end = float(times[-1])
    if truth.kind in ("frozen_volts", "frozen_current", "frozen_to_end"):
        start = float(draw.uniform(0.25, 0.6)) * end
        stop = end + 1.0 if truth.kind == "frozen_to_end" else start + float(draw.uniform(25.0, 60.0))
        inside = (times >= start) & (times < stop)
        first = int(np.flatnonzero(inside)[0])
        column = volts if truth.kind == "frozen_volts" else amps
        column[inside] = column[first]
        name = "frozen_volts" if truth.kind == "frozen_volts" else "frozen_current"
        truth.events.append((name, start, None if truth.kind == "frozen_to_end" else stop, None))
        if name == "frozen_volts":
            spoilt |= inside
        else:
            truth.used_until_mah = float(np.sum(true_amps[fine < start])) * FINE_S / 3.6
    if truth.kind == "dropout":
        at = np.sort(draw.choice(np.arange(20, times.size - 20), int(draw.integers(1, 4)), replace=False))
        volts[at] = 0.0
        spoilt[at] = True
        truth.events.append(("dropout", float(times[at[0]]), float(times[at[-1]]), float(at.size)))
    return spoilt & keep


def _rounded(values: Row, step: float) -> Row:
    return np.asarray(np.round(np.round(values / step) * step, 6))
