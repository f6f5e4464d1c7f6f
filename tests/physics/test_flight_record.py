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
        told = told_of(flight)
        found = wrong(flight, told)
        bad += bool(found)
        invented += any(one.startswith("invented") for one in found)
        path, pack = holds(flight, told)
        paths.append(path)
        packs.append(pack)
        band = told.packs[0].path_ohm
        if band is not None:
            errors.append(abs(band.value / flight.truth.path_ohm - 1.0))
    assert bad <= WRONG_MOST * CASES
    assert invented <= 0.1 * CASES
    assert np.mean([one is not None for one in paths]) > 0.95
    assert np.mean([one for one in paths if one is not None]) >= 0.85
    assert np.mean([one for one in packs if one is not None]) >= 0.85
    assert np.quantile(errors, 0.68) < 0.04


def test_clean_flights_have_no_events() -> None:
    false = [seed for seed in range(100, 120) if told_of(forged_flight(seed, "nothing")).events]
    assert len(false) <= 1


@all_cases("kind", [kind for kind in KINDS if kind not in ("nothing", "late")])
def test_each_fault_is_found_more_often_than_not(kind: str) -> None:
    found = [not [one for one in wrong(flight, told_of(flight)) if one.startswith("missed")]
             for flight in (forged_flight(seed, kind) for seed in range(300, 303))]  # fmt: skip
    assert sum(found) >= 2


def plain(flight: Flight, *, volts: bool = True, amps: bool = True) -> FlightReport:
    """A flight read without one of its columns."""
    held = flight.volts if volts else None
    logged = LogSamples(flight.time_s, held, (Source(held, flight.amps if amps else None),))
    return flight_told(logged, [None], [4.0])


def test_without_a_current_only_volts_are_told() -> None:
    told = plain(forged_flight(1, "nothing"), amps=False)
    assert told.minimum_v is not None
    assert (told.mean_a, told.peak_a, told.used_mah) == (None, None, None)
    assert told.packs[0].path_ohm is None


def test_without_volts_only_currents_are_told() -> None:
    told = plain(forged_flight(1, "nothing"), volts=False)
    assert told.minimum_v is None
    assert told.below_s == ()
    assert told.used_mah == pytest.approx(forged_flight(1, "nothing").truth.used_mah, rel=0.05)
    assert told.packs[0].path_ohm is None


def test_a_dead_current_sensor_tells_no_current() -> None:
    flight = forged_flight(2, "nothing")
    flight = replace(flight, amps=np.full(flight.amps.size, 0.5))
    told = plain(flight)
    assert (told.mean_a, told.used_mah, told.packs[0].path_ohm) == (None, None, None)
    assert [one.kind for one in told.events] == ["frozen_current"]


def test_one_wild_sample_of_volts_is_no_minimum() -> None:
    flight = forged_flight(3, "nothing")
    true = plain(flight).minimum_v
    spoilt = flight.volts.copy()
    quiet = int(np.argmin(flight.amps[50:-50])) + 50
    spoilt[quiet] *= 0.6
    told = plain(replace(flight, volts=spoilt))
    assert told.minimum_v == true
    assert told.lone_v == pytest.approx(spoilt[quiet])


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
    told = flight_told(steady, [KnownPack(Chemistry.NIMH, 5, 0.08)])
    assert told.minimum_v == 6.0
    assert told.packs[0].path_ohm is None


def test_missing_samples_everywhere_are_no_fault() -> None:
    none = [float("nan")] * 50
    told = flight_told(as_logged([0.1 * at for at in range(50)], none, [(none, none, False)]), [None])
    assert (told.minimum_v, told.mean_a, told.packs[0].path_ohm) == (None, None, None)


def test_a_lost_pack_is_found_with_two_sources() -> None:
    flight = forged_flight(7, "nothing")
    time_s, amps = flight.time_s, flight.amps
    gone = time_s > 0.6 * time_s[-1]
    first, second = np.where(gone, amps, 0.55 * amps), np.where(gone, 0.0, 0.45 * amps)
    plug_1, plug_2 = 8.2 - 0.05 * first, 8.2 - 0.055 * second
    bus = np.minimum(plug_1, plug_2) - 0.4
    logged = LogSamples(time_s, bus, (Source(plug_1, first, True), Source(plug_2, second, True)))
    told = flight_told(logged, [None, None])
    lost = [one for one in told.events if one.kind == "pack_lost"]
    assert [one.pack for one in lost] == [1]
    assert lost[0].start_s == pytest.approx(0.6 * time_s[-1], abs=4.0)
    assert lost[0].end_s is None


def test_amps_read_a_moment_late_widen_the_band_of_a_slow_log() -> None:
    held, wide = [], []
    for seed in range(40, 60):
        flight = forged_flight(seed, "late")
        each = round(flight.truth.rate_hz / 2.0)
        slow = replace(
            flight, time_s=flight.time_s[::each], volts=flight.volts[::each], amps=flight.amps[::each]
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
    told = told_of(flight)
    assert [one.kind for one in told.events if one.kind.startswith("frozen")] == ["frozen_volts"]
