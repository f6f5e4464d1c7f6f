"""Forged flights with known truth are read within the tolerances, and what cannot be told is told to be so.

HANGAR_FLIGHT_CASES=500 tries more; ``python -m tests.physics.flight_trials 500`` says what went wrong.
"""

from __future__ import annotations

import os
from dataclasses import replace

import numpy as np
import pytest

from hangar.base.chemistry import Chemistry
from hangar.physics.flight_record import FlightReport, KnownPack, as_logged, flight_told
from hangar.physics.flight_rows import LogSamples, Source
from tests.all_cases import all_cases
from tests.physics.flight_forge import KINDS, Flight, forged_flight
from tests.physics.flight_trials import holds, told_of, wrong

CASES = int(os.environ.get("HANGAR_FLIGHT_CASES", "42"))
WRONG_MOST = 0.2
"""Share of forged flights with anything outside the tolerances; at 1 Hz a mean may miss by chance."""


def test_forged_flights_are_told_and_their_bands_hold() -> None:
    bad, paths, packs, errors, invented = 0, [], [], [], 0
    for seed in range(5000, 5000 + CASES):
        flight = forged_flight(seed, KINDS[seed % len(KINDS)])
        report = told_of(flight)
        lines = wrong(flight, report)
        bad += bool(lines)
        invented += any(words.startswith("invented") for words in lines)
        path, pack = holds(flight, report)
        paths.append(path)
        packs.append(pack)
        band = report.packs[0].path_ohm
        if band is not None:
            errors.append(abs(band.value / flight.truth.path_ohm - 1.0))
    assert bad <= WRONG_MOST * CASES
    assert invented <= 0.1 * CASES
    assert np.mean([path is not None for path in paths]) > 0.95
    assert np.mean([path for path in paths if path is not None]) >= 0.85
    assert np.mean([pack for pack in packs if pack is not None]) >= 0.85
    assert np.quantile(errors, 0.68) < 0.04


def test_clean_flights_have_no_events() -> None:
    false = [seed for seed in range(100, 120) if told_of(forged_flight(seed, "nothing")).events]
    assert len(false) <= 1


@all_cases("kind", [kind for kind in KINDS if kind not in ("nothing", "late")])
def test_each_fault_is_found_more_often_than_not(kind: str) -> None:
    found = [not [words for words in wrong(flight, told_of(flight)) if words.startswith("missed")]
             for flight in (forged_flight(seed, kind) for seed in range(300, 303))]  # fmt: skip
    assert sum(found) >= 2


def plain(flight: Flight, *, volts: bool = True, amps: bool = True) -> FlightReport:
    """A flight read without one of its columns."""
    held = flight.volts if volts else None
    logged = LogSamples(flight.time_s, held, (Source(held, flight.amps if amps else None),))
    return flight_told(logged, [None], [4.0])


def test_without_a_current_only_volts_are_told() -> None:
    report = plain(forged_flight(1, "nothing"), amps=False)
    assert report.minimum_v is not None
    assert (report.mean_a, report.peak_a, report.used_mah) == (None, None, None)
    assert report.packs[0].path_ohm is None


def test_without_volts_only_currents_are_told() -> None:
    report = plain(forged_flight(1, "nothing"), volts=False)
    assert report.minimum_v is None
    assert report.below_s == ()
    assert report.used_mah == pytest.approx(forged_flight(1, "nothing").truth.used_mah, rel=0.05)
    assert report.packs[0].path_ohm is None


def test_a_dead_current_sensor_tells_no_current() -> None:
    flight = forged_flight(2, "nothing")
    flight = replace(flight, amps=np.full(flight.amps.size, 0.5))
    report = plain(flight)
    assert (report.mean_a, report.used_mah, report.packs[0].path_ohm) == (None, None, None)
    assert [event.kind for event in report.events] == ["frozen_current"]


def test_one_wild_sample_of_volts_is_no_minimum() -> None:
    flight = forged_flight(3, "nothing")
    true = plain(flight).minimum_v
    spoilt = flight.volts.copy()
    quiet = int(np.argmin(flight.amps[50:-50])) + 50
    spoilt[quiet] *= 0.6
    report = plain(replace(flight, volts=spoilt))
    assert report.minimum_v == true
    assert report.lone_v == pytest.approx(spoilt[quiet])


def test_one_wild_sample_of_amps_is_no_peak() -> None:
    flight = forged_flight(3, "nothing")
    true = plain(flight).peak_a
    spoilt = flight.amps.copy()
    quiet = int(np.argmin(flight.amps[50:-50])) + 50
    spoilt[quiet] = 65.5
    assert plain(replace(flight, amps=spoilt)).peak_a == true


@pytest.mark.parametrize("count", [2, 5, 30])
def test_a_few_rows_tell_no_resistance(count: int) -> None:
    steady = as_logged(
        [0.1 * at for at in range(count)], volts := [6.0] * count, [(volts, [0.2] * count, False)]
    )
    report = flight_told(steady, [KnownPack(Chemistry.NIMH, 5, 0.08)])
    assert report.minimum_v == 6.0
    assert report.packs[0].path_ohm is None


def test_missing_samples_everywhere_are_no_fault() -> None:
    none = [float("nan")] * 50
    report = flight_told(as_logged([0.1 * at for at in range(50)], none, [(none, none, False)]), [None])
    assert (report.minimum_v, report.mean_a, report.packs[0].path_ohm) == (None, None, None)


def test_a_lost_pack_is_found_with_two_sources() -> None:
    flight = forged_flight(7, "nothing")
    time_s, amps = flight.time_s, flight.amps
    gone = time_s > 0.6 * time_s[-1]
    first, second = np.where(gone, amps, 0.55 * amps), np.where(gone, 0.0, 0.45 * amps)
    plug_1, plug_2 = 8.2 - 0.05 * first, 8.2 - 0.055 * second
    bus = np.minimum(plug_1, plug_2) - 0.4
    logged = LogSamples(time_s, bus, (Source(plug_1, first, True), Source(plug_2, second, True)))
    report = flight_told(logged, [None, None])
    lost = [event for event in report.events if event.kind == "pack_lost"]
    assert [event.pack for event in lost] == [1]
    assert lost[0].start_s == pytest.approx(0.6 * time_s[-1], abs=4.0)
    assert lost[0].end_s is None


def test_amps_read_a_moment_late_widen_the_band_of_a_slow_log() -> None:
    held, wide = [], []
    for seed in range(40, 60):
        flight = forged_flight(seed, "late")
        number = round(flight.truth.rate_hz / 2.0)
        slow = replace(
            flight, time_s=flight.time_s[::number], volts=flight.volts[::number], amps=flight.amps[::number]
        )
        band = told_of(slow).packs[0].path_ohm
        if band is not None:
            held.append(band.low <= flight.truth.path_ohm <= band.high)
            wide.append((band.high - band.low) / band.value)
    assert len(held) >= 15
    assert np.mean(held) >= 0.8
    assert np.median(wide) < 0.6


def test_a_longer_standstill_is_the_sensors_that_stood_still() -> None:
    flight = forged_flight(7094, "frozen_volts")
    report = told_of(flight)
    assert [event.kind for event in report.events if event.kind.startswith("frozen")] == ["frozen_volts"]
