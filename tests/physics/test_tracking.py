"""One resistance over the years: bands that hold what they say, over histories whose truth is known."""

from __future__ import annotations

import math
import random
from dataclasses import replace

import numpy as np
import pytest

from hangar.base.errors import BadInput
from hangar.physics.tracking import Fate, OhmReading, Track, TrackPrior, track

PRIOR = TrackPrior(0.0, 0.025, 0.35, math.log(2.0) / 4.0, 0.8 * math.log(2.0) / 4.0, 5.0, 2000.0, 600.0)
HISTORIES = 500


def _history(draw: np.random.Generator, *, lead_ohm: float | None = None, growth_spread: float = 0.8,
             jump: float = 1.0) -> tuple[list[OhmReading], float]:  # fmt: skip
    """Ten readings in four years of a pack drawn at random, and its resistance at the last of them."""
    growth = math.log(2.0) / 4.0 * (1.0 + growth_spread * draw.standard_normal())
    lead = 0.004 * draw.standard_normal() if lead_ohm is None else lead_ohm
    kelvin = 2000.0 + 600.0 * draw.standard_normal()
    surface = 0.45 * draw.standard_normal()
    ln_ohm = math.log(0.025) + 0.35 * draw.standard_normal()
    days = np.sort(draw.uniform(0.0, 4.0, 10))
    readings, last = [], 0.0
    for count, day in enumerate(days):
        ln_ohm += growth * (day - last) + 0.06 * math.sqrt(day - last) * draw.standard_normal()
        ln_ohm += math.log(jump) if count == 8 else 0.0
        last = day
        warm = draw.uniform(3.0, 30.0)
        ohm = 5.0 * math.exp(ln_ohm + kelvin * (1.0 / (warm + 273.15) - 1.0 / 298.15))
        from_rest = draw.uniform() < 0.5
        surface_ohm = 0.03 if from_rest else 0.0
        beside = 0.012 + lead + (1.0 + surface) * surface_ohm
        seen = max(ohm + beside, 0.2 * ohm) * math.exp(0.05 * draw.standard_normal())
        readings.append(OhmReading(float(day), float(seen), 0.05, warm, 0.012, surface_ohm))
    return readings, math.exp(ln_ohm)


def _holds(found: Track, truth_ohm: float) -> bool:
    low, high = found.band_at(found.state.year)
    return low <= truth_ohm <= high


def test_nine_bands_of_ten_hold_the_truth() -> None:
    draw = np.random.default_rng(7)
    after = {1: 0, 3: 0, 6: 0, 10: 0}
    for _ in range(HISTORIES):
        readings, truth = _history(draw)
        after[10] += _holds(track(PRIOR, readings), truth)
    for count in (1, 3, 6):
        for _ in range(HISTORIES):
            readings, truth = _history(draw)
            kept = readings[-count:]
            prior = replace(PRIOR, year=0.0)
            after[count] += _holds(track(prior, kept), truth)
    assert all(0.85 <= held / HISTORIES <= 0.95 for held in after.values()), after


def test_the_band_breaks_where_the_tester_is_worse_than_thought_and_growth_scatters_twice_as_much() -> None:
    """An independent second draw: a lead of 25 mΩ more than thought is what the band does not cover."""
    draw = np.random.default_rng(11)
    scattered = [_history(draw, growth_spread=1.6) for _ in range(HISTORIES)]
    held = sum(_holds(track(PRIOR, readings), truth) for readings, truth in scattered) / HISTORIES
    assert held >= 0.80
    bad = [_history(draw, lead_ohm=0.025) for _ in range(HISTORIES)]
    with_bad_lead = sum(_holds(track(PRIOR, readings), truth) for readings, truth in bad) / HISTORIES
    measured = replace(PRIOR, lead_sd_ohm=0.001)
    taken_off = [
        ([replace(reading, lead_ohm=0.037) for reading in readings], truth) for readings, truth in bad
    ]
    cured = sum(_holds(track(measured, readings), truth) for readings, truth in taken_off) / len(taken_off)
    assert with_bad_lead < 0.75
    assert cured > with_bad_lead + 0.10


def test_a_spoilt_reading_moves_nothing_and_taking_it_out_restores_every_figure_to_the_bit() -> None:
    readings, _ = _history(np.random.default_rng(3))
    clean = track(PRIOR, readings[:6])
    dirty_plug = replace(readings[5], year=readings[5].year + 0.01, ohm=readings[5].ohm + 0.6)
    spoilt = track(PRIOR, [*readings[:6], dirty_plug])
    assert spoilt.judged[-1].fate is Fate.WAITING
    assert spoilt.at(5.0).mean == pytest.approx(clean.at(5.0).mean)
    assert spoilt.worse_at(5.0).cell_ohm > 1.5 * clean.at(5.0).cell_ohm
    low, high = spoilt.band_at(5.0)
    own_low, own_high = clean.band_at(5.0)
    assert low == pytest.approx(own_low)
    assert high > own_high
    later = replace(readings[5], year=readings[5].year + 0.05)
    settled = track(PRIOR, [*readings[:6], dirty_plug, later])
    assert settled.judged[-2].fate is Fate.LEFT_OUT
    assert settled.other is None
    assert track(PRIOR, readings[:6]) == clean


def test_a_pack_that_jumped_is_told_and_starts_again() -> None:
    draw = np.random.default_rng(5)
    noticed = settled = held = 0
    for _ in range(HISTORIES):
        readings, truth = _history(draw, jump=1.8)
        at_jump = track(PRIOR, readings[:9])
        noticed += at_jump.judged[-1].fate is not Fate.TAKEN
        after = track(PRIOR, readings)
        settled += any(verdict.fate is Fate.CHANGED for verdict in after.judged[8:])
        held += _holds(after, truth)
    assert noticed / HISTORIES > 0.6
    assert settled / HISTORIES > 0.6
    assert held / HISTORIES > 0.65


def test_consistent_readings_never_widen_a_band() -> None:
    draw = np.random.default_rng(19)
    for _ in range(100):
        readings, _ = _history(draw)
        now = track(PRIOR, readings[:1])
        taken = readings[:1]
        for reading in readings[1:]:
            carried = now.at(reading.year)
            base = track(PRIOR, [*taken, replace(reading, ln_sd=0.05)]).judged[-1].expected_ohm
            more = [*taken, replace(reading, ohm=base * math.exp(0.3 * draw.uniform(-1, 1) * 0.05))]
            found = track(PRIOR, more)
            assert abs(found.judged[-1].z) < 0.5
            assert found.state.ln_sd <= carried.ln_sd + 1e-12
            now, taken = found, more


def test_the_order_of_typing_does_not_matter() -> None:
    readings, _ = _history(np.random.default_rng(23))
    shuffled = readings[:]
    random.Random(4).shuffle(shuffled)
    assert track(PRIOR, shuffled) == track(PRIOR, readings)


def test_a_cold_reading_and_a_warm_one_of_the_same_pack_agree() -> None:
    warm_ohm = 0.150
    cold_ohm = warm_ohm * math.exp(2000.0 * (1.0 / 278.15 - 1.0 / 298.15))
    warm = track(PRIOR, [OhmReading(1.0, warm_ohm, 0.05, 25.0)]).state
    cold = track(PRIOR, [OhmReading(1.0, cold_ohm, 0.05, 5.0)]).state
    assert cold.cell_ohm == pytest.approx(warm.cell_ohm, rel=0.04)
    both = track(PRIOR, [OhmReading(1.0, warm_ohm, 0.05, 25.0), OhmReading(1.01, cold_ohm, 0.05, 5.0)])
    assert all(abs(verdict.z) < 1.0 for verdict in both.judged)


def test_it_meets_a_limit_when_it_surely_grows_and_never_when_it_does_not() -> None:
    # Prior that knows nothing of growth: the readings alone double in four years.
    prior = replace(PRIOR, growth=0.0, growth_sd=0.3, ln_sd=0.35)
    growing = [OhmReading(y / 2, 0.125 * 2 ** (y / 8), 0.03) for y in range(9)]
    found = track(prior, growing).crossing(0.075)
    assert found is not None
    soonest, likely, latest = found
    assert soonest < likely < (latest or math.inf)
    assert likely == pytest.approx(4.0 + 4.0 * math.log2(0.075 / 0.050), abs=0.8)
    flat = [OhmReading(y / 2, 0.125, 0.03) for y in range(9)]
    assert track(prior, flat).crossing(0.075) is None


def test_health_against_a_typical_figure_learns_what_the_cells_were_when_new() -> None:
    rated = replace(PRIOR, ln_sd=0.20, new_ohm=0.025, new_ln_sd=0.10)
    typical = replace(PRIOR, new_ohm=0.025, shares_new=True)
    early = [OhmReading(0.1 * k, 5 * 0.045, 0.05) for k in range(1, 6)]
    # Cells that read 45 mΩ in their first half year were never 25 mΩ, if that was only a usual figure.
    assert track(typical, early).state.share_above(1.5) < 0.2
    assert track(rated, early).state.share_above(1.5) > 0.9


def test_nonsense_is_refused() -> None:
    with pytest.raises(BadInput, match="more than 0 is allowed"):
        track(PRIOR, [OhmReading(1.0, 0.0, 0.05)])
    with pytest.raises(BadInput, match="more than 0 is allowed"):
        track(replace(PRIOR, cell_ohm=0.0), [])
