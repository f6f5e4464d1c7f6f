"""What flights tell of the current counts wherever it stands, narrows, and leaves every figure to the bit."""

from __future__ import annotations

import itertools
import math
from dataclasses import replace
from datetime import timedelta
from typing import Any

import numpy as np
import pytest

from hangar.base.figure import Basis
from hangar.parts import Aircraft, Flight, FlightLog, SetAside
from hangar.parts.readings import place_of
from hangar.physics.estimating import Factor
from hangar.physics.factor_track import FactorReading, factor_track
from hangar.physics.tracking import Fate
from hangar.rules import examples as ex
from hangar.survey import Scenario, Survey, survey
from hangar.survey.as_json import survey_json

HISTORIES = 600


def flight(days: int, put_back_mah: float | None, **more: Any) -> Flight:
    day = ex.DAY - timedelta(days=days)
    return Flight(
        aircraft=ex.trainer().code, flown_on=day, minutes_min=10.0, put_back_mah=put_back_mah, **more
    )


def log(days: int, mean_a: float, peak_a: float | None = None, rate_hz: float = 10.0) -> FlightLog:
    return FlightLog(
        aircraft=ex.trainer().code, flown_on=ex.DAY - timedelta(days=days), file_name="a.csv", check_sum="0",
        minutes_min=10.0, rate_hz=rate_hz, mean_a=mean_a, peak_a=peak_a,
    )  # fmt: skip


def flown(*records: Flight | FlightLog, **more: Any) -> Aircraft:
    made = ex.trainer()
    fits = tuple(replace(fit, installation=None) for fit in made.fits)
    return replace(
        made, fits=fits, flights=tuple(record for record in records if isinstance(record, Flight)),
        flight_logs=tuple(record for record in records if isinstance(record, FlightLog)), **more,
    )  # fmt: skip


def at_home(aircraft: Aircraft) -> Survey:
    return survey(aircraft, ex.home_day())


def packs_a(surveyed: Survey, scenario: Scenario = Scenario.CRUISE) -> float:
    return sum(figure.expected for figure in surveyed.scenarios[scenario].path_a.values())


def put_back_for(amps: float, minutes: float = 10.0) -> float:
    """Charge that a nickel pack takes after a flight at a mean current."""
    return 1000.0 * 1.2 * amps * minutes / 60.0


def figures(aircraft: Aircraft) -> dict[str, Any]:
    found = at_home(aircraft)
    supply = found.supply
    return {
        "mean": supply.mean_a and supply.mean_a.expected,
        "cruise": packs_a(found),
        "flight": supply.flight_mah and supply.flight_mah.expected,
        "endurance": supply.endurance_min and supply.endurance_min.expected,
        "brisk": packs_a(found, Scenario.BRISK),
        "json": str(survey_json(found)["supply"]),
    }


def test_charge_put_back_reaches_mean_flight_endurance_and_json_and_leaves_them_to_the_bit() -> None:
    plain = figures(flown())
    amps = 1.5 * packs_a(at_home(flown()))
    readings = [flight(days, put_back_for(amps)) for days in (20, 15, 10, 5)]
    informed = figures(flown(*readings))
    assert informed["mean"] > 1.2 * plain["mean"]
    assert informed["cruise"] == pytest.approx(amps, rel=0.1)
    assert informed["flight"] > plain["flight"]
    assert informed["endurance"] < plain["endurance"]
    assert informed["brisk"] > plain["brisk"]
    aside = tuple(
        SetAside(kind=kind, record=key, since_on=ex.DAY)
        for kind, key in (place_of(reading) for reading in readings)
    )
    again = figures(flown(*readings, set_aside=aside))
    assert {name: again[name] for name in again if name != "json"} == {
        name: plain[name] for name in plain if name != "json"
    }
    assert figures(flown()) == plain


def test_idle_and_stall_currents_are_never_changed() -> None:
    amps = 1.6 * packs_a(at_home(flown()))
    plain, found = at_home(flown()), at_home(flown(*(flight(days, put_back_for(amps)) for days in (9, 6, 3))))
    assert packs_a(found, Scenario.IDLE) == packs_a(plain, Scenario.IDLE)
    assert found.scenarios[Scenario.PEAK].total_a == plain.scenarios[Scenario.PEAK].total_a
    for code, position in found.positions.items():
        assert position.stall_a == plain.positions[code].stall_a
        assert position.torque_nm == plain.positions[code].torque_nm


def test_a_measured_mean_says_so_with_its_day_and_age_and_opens_its_working() -> None:
    amps = 1.3 * packs_a(at_home(flown()))
    supply_survey = at_home(flown(*(flight(days, put_back_for(amps)) for days in (9, 6, 3)))).supply
    mean, times = supply_survey.mean_a, supply_survey.current_times
    assert mean is not None
    assert times is not None
    assert mean.basis is Basis.MEASURED
    assert mean.read_on == times.read_on == ex.DAY - timedelta(days=3)
    names = [str(entry.name) for entry in times.working.inputs]
    assert any("expected before any reading" in name for name in names)
    assert sum("charge put back after flight" in name for name in names) == 3
    assert any("all of them together" in name for name in names)
    assert any("3 days ago" in str(entry.value) for entry in times.working.inputs)


def test_it_lowers_to_seven_tenths_at_most_until_five_readings_by_two_methods_agree() -> None:
    plain = packs_a(at_home(flown()))
    low = 0.5 * plain
    by_one = at_home(flown(*(flight(days, put_back_for(low)) for days in range(2, 30, 3)))).supply
    assert by_one.current_times is not None
    assert by_one.current_times.expected == pytest.approx(0.7)
    both: list[Flight | FlightLog] = [log(1, low), log(4, low)]
    both += (flight(days, put_back_for(low)) for days in range(2, 30, 3))
    by_two = at_home(flown(*both)).supply
    assert by_two.current_times is not None
    assert by_two.current_times.expected < 0.7


def test_a_reading_that_does_not_fit_moves_nothing_but_the_worse_side_counts() -> None:
    amps = packs_a(at_home(flown()))
    good = [flight(days, put_back_for(amps)) for days in (40, 35, 30, 25, 20, 15)]
    before = at_home(flown(*good)).currents
    after = at_home(flown(*good, log(2, 5.0 * amps))).currents
    assert before is not None
    assert after is not None
    assert before.mean.track is not None
    assert after.mean.track is not None
    assert after.mean.waiting is not None
    assert after.mean.track.state == before.mean.track.state
    assert after.mean.times > before.mean.times
    settled = at_home(flown(*good, log(2, 5.0 * amps), flight(1, put_back_for(amps)))).currents
    assert settled is not None
    assert settled.mean.waiting is None
    assert settled.mean.times == pytest.approx(before.mean.times, rel=0.05)


def test_what_was_flown_before_a_servo_was_changed_counts_no_more_and_says_why() -> None:
    aircraft = flown(flight(30, 900.0))
    fits = list(ex.trainer().fits)
    stay = fits[0].installation
    assert stay is not None
    fits[0] = replace(fits[0], installation=replace(stay, since_on=ex.DAY - timedelta(days=10)))
    currents = at_home(replace(aircraft, fits=tuple(fits))).currents
    assert currents is not None
    assert currents.mean.figure is None
    assert str(stay.servo) in str(currents.mean.readings[0].reading.lapsed)


def test_the_highest_current_of_a_fast_log_raises_the_peak_and_never_lowers_it() -> None:
    plain = at_home(flown())
    peak = packs_a(plain, Scenario.PEAK)
    mean = packs_a(plain)
    logs = [log(days, mean, 1.5 * peak) for days in (9, 6, 3)]
    assert packs_a(at_home(flown(*logs)), Scenario.PEAK) > 1.1 * peak
    low = [log(days, mean, 0.5 * peak) for days in (9, 6, 3)]
    assert packs_a(at_home(flown(*low)), Scenario.PEAK) == pytest.approx(peak)
    slow = [log(days, mean, 1.5 * peak, rate_hz=1.0) for days in (9, 6, 3)]
    assert packs_a(at_home(flown(*slow)), Scenario.PEAK) == pytest.approx(peak)


def test_the_bands_hold_nine_times_out_of_ten_over_simulated_histories() -> None:
    """Truth, scatter and a charge factor that all readings of a pack share, drawn at random."""
    draw = np.random.default_rng(16)
    held: dict[int, list[bool]] = {1: [], 3: [], 6: [], 12: []}
    coming: list[bool] = []
    for _ in range(HISTORIES):
        truth, shared = draw.normal(0.0, 0.35), draw.normal(0.0, 0.05)
        scatter = 0.17 * math.sqrt(4.0 * 1.05 / draw.gamma(4.0))
        seen = [
            FactorReading(day, truth + shared + draw.normal(0.0, scatter) + draw.normal(0.0, 0.04), 0.95)
            for day in range(13)
        ]
        for count, rows in held.items():
            low, _, high = factor_track(Factor.begin(), seen[:count]).band
            rows.append(low <= math.exp(truth) <= high)
        state = factor_track(Factor.begin(), seen[:12]).state
        coming.append(abs(seen[12].ln_ratio - state.mean) <= state.next_reach)
    for count, rows in held.items():
        assert 0.85 <= sum(rows) / HISTORIES <= 0.95, count
    assert 0.85 <= sum(coming) / HISTORIES <= 0.95


def test_more_consistent_readings_never_widen_a_band() -> None:
    draw = np.random.default_rng(7)
    for _ in range(200):
        readings: list[FactorReading] = []
        widths = []
        for day in range(15):
            track = factor_track(Factor.begin(), readings)
            widths.append(track.band[2] / track.band[0])
            near = track.state.mean + draw.uniform(-0.5, 0.5) * track.state.next_sd(0.9)
            readings.append(FactorReading(day, near, 0.9))
        assert all(after <= before + 1e-9 for before, after in itertools.pairwise(widths))


def test_the_order_of_typing_does_not_matter_and_two_that_agree_start_it_again() -> None:
    steady = [FactorReading(day, 0.02 * (-1) ** day) for day in range(8)]
    jumped = [FactorReading(20.0, 0.9), FactorReading(21.0, 0.92)]
    forth, back = (
        factor_track(Factor.begin(), [*steady, *jumped]),
        factor_track(Factor.begin(), [*jumped[::-1], *steady[::-1]]),
    )
    assert forth == back
    assert [row.fate for row in forth.judged[-2:]] == [Fate.CHANGED, Fate.CHANGED]
    assert forth.band[1] == pytest.approx(math.exp(0.9), rel=0.2)


def test_in_a_plan_a_raise_meets_the_new_servo_and_a_lowering_does_not() -> None:
    def planned(*records: Flight | FlightLog) -> Survey:
        aircraft = flown(*records)
        fits = []
        for fit in aircraft.fits:
            kind = fit.servo_type
            assert kind is not None
            new = replace(kind, code="new")
            fits.append(replace(fit, servo=None, servo_type=new, flown_type=kind))
        return at_home(replace(aircraft, fits=tuple(fits)))

    plain = packs_a(planned())
    amps = packs_a(at_home(flown()))
    more = [flight(days, put_back_for(1.5 * amps)) for days in (20, 15, 10, 5)]
    less = [flight(days, put_back_for(0.6 * amps)) for days in (20, 15, 10, 5)]
    assert packs_a(planned(*more)) > 1.2 * plain
    assert packs_a(planned(*less)) == pytest.approx(plain)
    assert packs_a(at_home(flown(*less))) < plain
