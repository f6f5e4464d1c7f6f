"""Closed forms against simulation and against SciPy's distributions."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy import stats

from hangar.base.errors import BadInput
from hangar.physics.estimating import (
    Factor,
    censored,
    joined_parts,
    line,
    normal_share,
    t95,
    value_of_reading,
)

HISTORIES = 600


def test_shares_and_points_are_those_of_scipy() -> None:
    for z in (-3.0, -0.5, 0.0, 1.2, 4.0):
        assert normal_share(z) == pytest.approx(stats.norm.cdf(z), abs=1e-12)
    for freedom in (8.0, 10.0, 20.0, 60.0):
        assert t95(freedom) == pytest.approx(stats.t.ppf(0.95, freedom), rel=2e-4)


def test_the_factor_of_a_current_holds_what_it_says() -> None:
    draw = np.random.default_rng(2)
    held, following = dict.fromkeys((1, 3, 6, 12), 0), 0
    widths: dict[int, list[float]] = {count: [] for count in held}
    for _ in range(HISTORIES):
        truth, shared = 0.35 * draw.standard_normal(), 0.05 * draw.standard_normal()
        factor = Factor.begin()
        for count in range(1, 13):
            seen = truth + shared + math.hypot(0.17, 0.04) * draw.standard_normal()
            if count == 12:
                following += abs(seen - factor.mean) <= factor.next_reach
            factor = factor.joined(seen)
            if count in held:
                low, _, high = factor.band
                held[count] += low <= math.exp(truth) <= high
                widths[count].append(high / low)
    assert all(0.85 <= value / HISTORIES <= 0.95 for value in held.values()), held
    assert 0.85 <= following / HISTORIES <= 0.95
    mean = [float(np.mean(widths[count])) for count in sorted(widths)]
    assert mean == sorted(mean, reverse=True)


def test_flights_that_agree_never_widen_the_band_of_the_mean() -> None:
    factor = Factor.begin()
    reach = factor.reach
    for off in (0.02, -0.03, 0.01, 0.0, -0.02, 0.04):
        factor = factor.joined(factor.mean + off)
        assert factor.reach < reach
        reach = factor.reach
    assert abs(factor.z(factor.mean + factor.next_reach)) == pytest.approx(1.645)


def test_a_line_with_its_prior_holds_what_it_says() -> None:
    draw = np.random.default_rng(3)
    start_held = slope_held = 0
    for _ in range(HISTORIES):
        start, slope = 0.5 + 0.3 * draw.standard_normal(), 60.0 + 27.0 * draw.standard_normal()
        points = [
            (x, start + slope * x + 0.25 * draw.standard_normal(), 0.25) for x in (0.09, 0.09, 0.18, 0.18)
        ]
        found = line((0.5, 0.3), (60.0, 27.0), points)
        start_held += abs(found.start - start) <= 1.645 * found.start_sd
        slope_held += abs(found.slope - slope) <= 1.645 * found.slope_sd
    assert 0.85 <= start_held / HISTORIES <= 0.95
    assert 0.85 <= slope_held / HISTORIES <= 0.95
    value, sd = found.at(0.1)
    assert value == pytest.approx(found.start + 0.1 * found.slope)
    assert 0.0 < sd < 27.0


def test_many_points_make_the_line_of_least_squares() -> None:
    draw = np.random.default_rng(4)
    x = draw.uniform(0.0, 1.0, 60)
    y = 2.0 + 3.0 * x + 0.1 * draw.standard_normal(60)
    found = line((0.0, 100.0), (0.0, 100.0), [(a, b, 0.1) for a, b in zip(x, y, strict=True)])
    slope, start = np.polyfit(x, y, 1)
    assert found.slope == pytest.approx(slope, abs=1e-4)
    assert found.start == pytest.approx(start, abs=1e-4)


@pytest.mark.parametrize("above", [True, False])
def test_above_or_below_a_soft_limit_equals_simulation(above: bool) -> None:
    draw = np.random.default_rng(6)
    truth = 0.1 + 0.4 * draw.standard_normal(400_000)
    seen = truth + 0.2 * draw.standard_normal(400_000)
    kept = truth[seen > 0.3] if above else truth[seen < 0.3]
    mean, variance = censored(0.1, 0.16, 0.3, above=above)
    assert mean == pytest.approx(kept.mean(), abs=0.003)
    assert variance == pytest.approx(kept.var(), rel=0.02)


@pytest.mark.parametrize(("mean", "variance", "sd"), [(0.3, 0.09, 0.1), (0.05, 0.04, 0.15), (1.0, 0.09, 0.1)])
def test_the_value_of_a_reading_equals_simulation(mean: float, variance: float, sd: float) -> None:
    draw = np.random.default_rng(8)
    truth = mean + math.sqrt(variance) * draw.standard_normal(400_000)
    seen = truth + sd * draw.standard_normal(400_000)
    after = (mean / variance + seen / sd**2) / (1.0 / variance + 1.0 / sd**2)
    chance, gain = value_of_reading(mean, variance, 0.0, sd)
    assert chance == pytest.approx(float((after < 0.0).mean()), abs=0.003)
    assert gain == pytest.approx(float(np.maximum(0.0, -after).mean()), abs=0.001)
    assert value_of_reading(mean, 0.0, 0.0, sd) == (0.0, 0.0)


def test_pack_and_leads_told_apart_hold_what_they_say() -> None:
    draw = np.random.default_rng(9)
    packs = leads = 0
    for _ in range(HISTORIES):
        pack, lead = (
            0.15 * math.exp(0.15 * draw.standard_normal()),
            0.03 * math.exp(0.25 * draw.standard_normal()),
        )
        seen = (pack + lead) * math.exp(0.05 * draw.standard_normal())
        (p, sp), (x, sx) = joined_parts((0.15, 0.15), (0.03, 0.25), (seen, 0.05))
        packs += abs(math.log(pack / p)) <= 1.645 * sp
        leads += abs(math.log(lead / x)) <= 1.645 * sx
    assert 0.85 <= packs / HISTORIES <= 0.95
    assert 0.85 <= leads / HISTORIES <= 0.95
    with pytest.raises(BadInput):
        joined_parts((0.0, 0.1), (0.03, 0.25), (0.2, 0.05))
