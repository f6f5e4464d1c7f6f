"""Reads forged flights and holds what was told against the truth, as closely as the reference logs.

python -m tests.physics.flight_trials 200 [FIRST]
"""

from __future__ import annotations

import sys
from collections import Counter

import numpy as np

from hangar.base.chemistry import Chemistry
from hangar.physics.flight_record import FlightReport, KnownPack, flight_told
from hangar.physics.flight_rows import LogSamples, Source
from tests.physics.flight_forge import Flight, forged_flight

TIME_S = {
    "stalled_servo": 2.0, "drag": 12.0, "joint": 6.0, "cell_empty": 40.0, "pack_empty": 75.0,
    "frozen_volts": 3.0, "frozen_current": 6.0, "gap": 2.0, "dropout": 2.0, "offset_current": 1e9,
}  # fmt: skip
"""How far the start of an event may lie from the truth, s."""


def told_of(flight: Flight) -> FlightReport:
    """What is told of a forged flight, with the leads the records note."""
    truth = flight.truth
    logged = LogSamples(flight.time_s, flight.volts, (Source(flight.volts, flight.amps),))
    known = KnownPack(Chemistry(truth.chemistry), truth.cells, truth.noted_leads_ohm)
    return flight_told(logged, [known], [truth.below[0]])


def wrong(flight: Flight, report: FlightReport) -> list[str]:
    """What lies outside the tolerances."""
    truth, found = flight.truth, []

    def within(name: str, value: float | None, right: float, tolerance: float) -> None:
        if value is None or abs(value - right) > tolerance:
            found.append(f"{name}: {value} for {right:.4g} ± {tolerance:.3g}")

    noise = 1.5 * truth.volts_step + 3.0 * truth.volts_noise
    within("minimum", report.minimum_v, truth.minimum_v, max(0.03, noise))
    if truth.used_until_mah is None:
        gap = sum((end or start) - start for kind, start, end, _ in truth.events if kind == "gap")
        share = 0.04 + gap / float(flight.time_s[-1])
        within("mean", report.mean_a, truth.mean_a, max(0.02, share * truth.mean_a))
        within("used", report.used_mah, truth.used_mah, max(5.0, share * truth.used_mah))
        tolerance = max(2.0 * truth.amps_step + 3.0 * truth.amps_noise, 0.05 * truth.peak_a)
        within("peak", report.peak_a, truth.peak_a, tolerance)
    else:
        if report.used_mah is not None or report.mean_a is not None:
            found.append("a charge is told though the current froze")
        tolerance = max(5.0, 0.06 * truth.used_until_mah)
        within("used until", report.used_until_mah, truth.used_until_mah, tolerance)
    band = report.packs[0].path_ohm
    within("path", None if band is None else band.value, truth.path_ohm, max(0.006, 0.12 * truth.path_ohm))
    if band and band.high - band.low > 0.6 * truth.path_ohm + 0.012:
        found.append("the band of the path is too wide to use")
    if report.packs[0].pack_ohm is None:
        found.append("pack: not told")
    below = dict(report.below_s).get(truth.below[0])
    tolerance = max(2.5 / truth.rate_hz, 0.5, 0.3 * truth.below[1])
    within("below", below, truth.below[1], tolerance + (25.0 if truth.volts_step > 0.05 else 0.0))
    return found + _events(flight, report)


def _events(flight: Flight, report: FlightReport) -> list[str]:
    truth, found = flight.truth, []
    left = [event for event in report.events if event.kind != "unclear"]
    for kind, start, _end, size in truth.events:
        near = TIME_S[kind] + 1.5 / truth.rate_hz
        hit = next(
            (event for event in left if event.kind == kind and abs(event.start_s - start) <= near), None
        )
        if hit is None:
            found.append(f"missed: {kind} at {start:.0f} s")
            continue
        left.remove(hit)
        part = {"joint": 0.25, "stalled_servo": 0.4, "drag": 0.4}.get(kind)
        if part and size and hit.size is not None and abs(hit.size - size) > part * size:
            found.append(f"{kind}: {hit.size:.3g} for {size:.3g}")
        if kind == "offset_current" and size and abs((hit.size or 9.0) - size) > 0.04:
            found.append("offset wrong")
    kinds = {kind for kind, *_ in truth.events}
    found += [f"invented: {event.kind} at {event.start_s:.0f} s" for event in left if event.kind not in kinds]
    return found


def holds(flight: Flight, report: FlightReport) -> tuple[bool | None, bool | None]:
    """Whether the bands of path and pack hold the truth; None where none is told."""
    path, pack, truth = report.packs[0].path_ohm, report.packs[0].pack_ohm, flight.truth
    return (
        None if path is None else path.low <= truth.path_ohm <= path.high,
        None if pack is None else pack.low <= truth.pack_ohm <= pack.high,
    )


def main(count: int, first: int) -> None:
    """Read so many flights and print what went wrong."""
    paths, packs, bad, errors = Counter[bool | None](), Counter[bool | None](), 0, []
    faults: Counter[str] = Counter()
    for seed in range(first, first + count):
        flight = forged_flight(seed)
        report = told_of(flight)
        path, pack = holds(flight, report)
        paths[path] += 1
        packs[pack] += 1
        band = report.packs[0].path_ohm
        if band is not None:
            errors.append(band.value / flight.truth.path_ohm - 1.0)
        lines = wrong(flight, report)
        if lines:
            bad += 1
            faults.update(
                words.split(":")[0]
                + ":"
                + (words.split(": ")[1].split(" at")[0] if words[:2] in ("mi", "in") else "")
                for words in lines
            )
            truth = flight.truth
            print(f"{seed} {truth.kind} {truth.chemistry} {truth.rate_hz:g} Hz: {'; '.join(lines)}")
    print(f"{bad} of {count} flights with something wrong; bands hold: path {paths}, pack {packs}")
    print(f"path: middle error {np.median(errors):+.1%}, 68 % within {np.quantile(np.abs(errors), 0.68):.1%}")
    print(dict(faults.most_common()))


if __name__ == "__main__":
    main(int(sys.argv[1]), int(sys.argv[2]) if len(sys.argv) > 2 else 1)
