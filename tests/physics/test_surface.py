"""Hinge-moment coefficients: limits, growth, bounds and worked cases."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hangar.base.errors import BadInput, OutOfValidity
from hangar.physics.surface import (
    base_coefficient,
    bubble_coefficient,
    fin_aspect_ratio,
    finite_span_slopes,
    hinge_coefficient,
    section_slopes,
)
from tests.all_cases import all_cases

RATIOS = st.floats(0.10, 0.60)
DEFLECTIONS = st.floats(0.0, 50.0)
ALPHAS = st.floats(0.0, 15.0)
REYNOLDS = st.floats(5.0e4, 2.0e6)
ASPECTS = st.one_of(st.none(), st.floats(0.5, 40.0))


# Closed form evaluated by hand: slopes a radian and effectiveness.
@all_cases(
    "ratio, b1, b2, effectiveness",
    [
        (0.10, -0.34486, -0.88423, 0.39582),
        (0.20, -0.49938, -0.92288, 0.54982),
        (0.25, -0.56535, -0.94361, 0.60900),
        (0.35, -0.68692, -0.98837, 0.70666),
        (0.45, -0.80178, -1.03841, 0.78483),
        (0.60, -0.97269, -1.12663, 0.87597),
        (1.00, -1.57080, -1.57080, 1.00000),
    ],
)
def test_section_slopes_by_hand(ratio: float, b1: float, b2: float, effectiveness: float) -> None:
    slopes = section_slopes(ratio)
    assert slopes.b1_per_rad == pytest.approx(b1, abs=6e-6)
    assert slopes.b2_per_rad == pytest.approx(b2, abs=6e-6)
    assert slopes.effectiveness == pytest.approx(effectiveness, abs=6e-6)


def test_a_flap_of_the_whole_chord_is_a_plate_about_its_nose() -> None:
    slopes = section_slopes(1.0)
    assert slopes.b1_per_rad == pytest.approx(-math.pi / 2.0)
    assert slopes.b2_per_rad == pytest.approx(-math.pi / 2.0)


@all_cases("ratio, within", [(1e-3, 2e-3), (1e-6, 2e-6), (1e-12, 1e-11)])
def test_a_vanishing_flap_has_the_limits_of_the_closed_form(ratio: float, within: float) -> None:
    slopes = section_slopes(ratio)
    assert slopes.b2_per_rad == pytest.approx(-8.0 / (3.0 * math.pi), rel=within)
    assert slopes.b1_per_rad == pytest.approx(-16.0 / 15.0 * math.sqrt(ratio), rel=within)


def test_slopes_run_on_where_the_series_hands_over_to_the_closed_form() -> None:
    joint = math.sin(0.25) ** 2
    below, above = section_slopes(joint * (1.0 - 1e-9)), section_slopes(joint * (1.0 + 1e-9))
    assert below.b1_per_rad == pytest.approx(above.b1_per_rad, rel=5e-9)
    assert below.b2_per_rad == pytest.approx(above.b2_per_rad, rel=5e-9)


def test_a_fin_on_a_tailplane_works_as_a_taller_one() -> None:
    assert fin_aspect_ratio(0.6, 0.264, end_plated=True) == pytest.approx(1.55 * fin_aspect_ratio(0.6, 0.264))


@given(RATIOS, st.floats(2.0, 60.0), st.floats(2.0, 60.0))
def test_slopes_shrink_with_span_and_never_change_sign(ratio: float, one: float, other: float) -> None:
    section = section_slopes(ratio)
    short, long = (finite_span_slopes(section, aspect) for aspect in sorted((one, other)))
    assert section.b2_per_rad < long.b2_per_rad <= short.b2_per_rad < 0.0
    assert section.b1_per_rad < long.b1_per_rad <= short.b1_per_rad < 0.0


def test_endless_span_without_sweep_changes_nothing() -> None:
    section = section_slopes(0.3)
    assert finite_span_slopes(section, None) == section
    assert finite_span_slopes(section, 1e12).b2_per_rad == pytest.approx(section.b2_per_rad)


def test_a_stub_is_taken_for_aspect_ratio_two() -> None:
    section = section_slopes(0.3)
    assert finite_span_slopes(section, 0.7) == finite_span_slopes(section, 2.0)


@given(RATIOS, ASPECTS, st.floats(0.0, 25.0), st.floats(0.0, 25.0))
def test_sweep_only_lightens(ratio: float, aspect: float | None, sweep: float, hinge: float) -> None:
    section = section_slopes(ratio)
    straight = finite_span_slopes(section, aspect)
    swept = finite_span_slopes(section, aspect, sweep_deg=sweep, hinge_sweep_deg=hinge)
    assert abs(swept.b1_per_rad) <= abs(straight.b1_per_rad) + 1e-12
    assert abs(swept.b2_per_rad) <= abs(straight.b2_per_rad) + 1e-12


def test_swept_slopes_by_hand() -> None:
    # DATCOM 6.1.6 first terms, A 4, both sweeps 20 degrees, E 0.30: cos 0.93969.
    panel = finite_span_slopes(section_slopes(0.30), 4.0, sweep_deg=20.0, hinge_sweep_deg=20.0)
    assert panel.b1_per_rad == pytest.approx(-0.62741 * 4.0 * 0.93969 / 5.87939, rel=1e-4)
    expected = 0.88302 * (-0.96540 + 0.62741 * 0.66075 * 1.87939 / 5.87939)
    assert panel.b2_per_rad == pytest.approx(expected, rel=1e-4)


@given(RATIOS, st.floats(-50.0, 50.0), st.floats(-15.0, 15.0), REYNOLDS, ASPECTS)
def test_signs_do_not_matter(
    ratio: float, deflection: float, alpha: float, reynolds: float, aspect: float | None
) -> None:
    band = hinge_coefficient(ratio, deflection, alpha, reynolds=reynolds, aspect_ratio=aspect)
    other = hinge_coefficient(ratio, -deflection, -alpha, reynolds=reynolds, aspect_ratio=aspect)
    assert band == other


@given(RATIOS, DEFLECTIONS, DEFLECTIONS, ALPHAS, REYNOLDS, ASPECTS)
def test_more_deflection_never_means_less_load(
    ratio: float, one: float, other: float, alpha: float, reynolds: float, aspect: float | None
) -> None:
    less, more = sorted((one, other))
    light = hinge_coefficient(ratio, less, alpha, reynolds=reynolds, aspect_ratio=aspect)
    heavy = hinge_coefficient(ratio, more, alpha, reynolds=reynolds, aspect_ratio=aspect)
    assert heavy.low >= light.low - 1e-12
    assert heavy.expected >= light.expected - 1e-12
    assert heavy.design >= light.design - 1e-12


@given(RATIOS, DEFLECTIONS, ALPHAS, REYNOLDS, ASPECTS, st.floats(0.0, 0.4))
def test_the_band_is_in_order_and_below_a_free_plate_square_to_the_air(
    ratio: float, deflection: float, alpha: float, reynolds: float, aspect: float | None, mach: float
) -> None:
    band = hinge_coefficient(ratio, deflection, alpha, reynolds=reynolds, aspect_ratio=aspect, mach=mach)
    assert 0.0 <= band.low <= band.expected <= band.design
    assert band.design <= 0.9901 / math.sqrt(1.0 - mach**2) + 0.08


@given(RATIOS, DEFLECTIONS, ALPHAS, REYNOLDS)
def test_compressibility_divides_the_whole_band_by_prandtl_and_glauerts_root(
    ratio: float, deflection: float, alpha: float, reynolds: float
) -> None:
    slow = hinge_coefficient(ratio, deflection, alpha, reynolds=reynolds)
    fast = hinge_coefficient(ratio, deflection, alpha, reynolds=reynolds, mach=0.382)
    assert fast.design == pytest.approx(1.0820 * slow.design, rel=1e-4)
    assert fast.low == pytest.approx(1.0820 * slow.low, rel=1e-4)


# Model worked by hand for endless span, no incidence, without the bubble allowance.
@all_cases(
    "ratio, values",
    [
        (0.15, (0.0788, 0.1576, 0.2364, 0.3152, 0.3941, 0.4729, 0.5509, 0.6109, 0.6666, 0.7182)),
        (0.25, (0.0823, 0.1647, 0.2470, 0.3294, 0.4117, 0.4866, 0.5509, 0.6109, 0.6666, 0.7182)),
        (0.40, (0.0884, 0.1767, 0.2651, 0.3535, 0.4330, 0.4955, 0.5509, 0.6109, 0.6666, 0.7182)),
        (0.60, (0.0983, 0.1966, 0.2950, 0.3933, 0.4660, 0.5147, 0.5509, 0.6109, 0.6666, 0.7182)),
    ],
)
def test_base_coefficient_by_hand(ratio: float, values: tuple[float, ...]) -> None:
    section = section_slopes(ratio)
    for step, value in enumerate(values, start=1):
        assert base_coefficient(section, section, 5.0 * step, 0.0) == pytest.approx(value, abs=6e-5)


def test_a_sport_aileron_by_hand() -> None:
    # E .20, A 6.667, 20 degrees, incidence 4: fade 1/3, B1 .42255, B2 .88064, lin .33690, bubble .006.
    band = hinge_coefficient(0.20, 20.0, 4.0, reynolds=7.19e5, aspect_ratio=6.667)
    assert band.design == pytest.approx(0.3429, abs=6e-5)
    assert band.expected == pytest.approx(0.2763, abs=6e-5)
    assert band.low == pytest.approx(0.1684, abs=6e-5)


def test_a_giant_rudder_at_its_stop_by_hand() -> None:
    # 45 degrees: relief of span gone, capped by the plate; with 15 degrees of sideslip P(60) rules.
    straight = hinge_coefficient(0.55, 45.0, 0.0, reynolds=7.53e5, aspect_ratio=2.0)
    slipping = hinge_coefficient(0.55, 45.0, 15.0, reynolds=7.53e5, aspect_ratio=2.0)
    assert (straight.low, straight.expected, straight.design) == pytest.approx(
        (0.3333, 0.5466, 0.6666), abs=6e-5
    )
    assert slipping.design == pytest.approx(0.8094, abs=6e-5)


def test_a_fast_sailplane_flaperon_by_hand() -> None:
    # E .20, A 20, 4 degrees, incidence 2: lin .07853, bubble .0252.
    band = hinge_coefficient(0.20, 4.0, 2.0, reynolds=9.04e5, aspect_ratio=20.0)
    assert (band.low, band.expected, band.design) == pytest.approx((0.0393, 0.0644, 0.1037), abs=6e-5)


@all_cases(
    "reynolds, step", [(5e4, 0.08), (1.49e5, 0.08), (1.5e5, 0.06), (6.9e5, 0.06), (7e5, 0.03), (2e6, 0.03)]
)
def test_the_bubble_allowance_steps_down_with_reynolds_number(reynolds: float, step: float) -> None:
    assert bubble_coefficient(reynolds, 0.0) == step
    assert bubble_coefficient(reynolds, -10.0) == pytest.approx(0.6 * step)
    assert bubble_coefficient(reynolds, 25.0) == 0.0
    assert hinge_coefficient(0.3, 0.0, 0.0, reynolds=reynolds).design == step


def test_a_nose_balance_takes_only_from_the_flaps_own_slope() -> None:
    plain = hinge_coefficient(0.3, 10.0, 0.0, reynolds=1e6)
    balanced = hinge_coefficient(0.3, 10.0, 0.0, reynolds=1e6, balance_factor=0.7)
    assert balanced.expected == pytest.approx(0.7 * plain.expected)
    by_alpha = hinge_coefficient(0.3, 0.0, 10.0, reynolds=1e6, balance_factor=0.7)
    assert by_alpha == hinge_coefficient(0.3, 0.0, 10.0, reynolds=1e6)


@all_cases("ratio", [0.0, -0.2, 1.01, math.nan])
def test_a_flap_that_cannot_be_is_refused(ratio: float) -> None:
    with pytest.raises(BadInput, match="Flap chord over whole chord"):
        section_slopes(ratio)


@all_cases(
    "change, sentence",
    [
        ({"flap_ratio": 0.09}, "0.1 to 0.6 is allowed"),
        ({"flap_ratio": 0.61}, "0.1 to 0.6 is allowed"),
        ({"deflection_deg": 50.5}, "up to 50 either way"),
        ({"deflection_deg": -51.0}, "up to 50 either way"),
        ({"alpha_deg": 41.0}, "up to 40 either way"),
        ({"reynolds": 4.9e4}, "Reynolds number is 4.9e\\+04; 50000 to 2e\\+06"),
        ({"reynolds": 2.1e6}, "Reynolds number"),
        ({"mach": 0.41}, "Mach number is 0.41; 0 to 0.4"),
        ({"balance_factor": 0.3}, "0.5 to 1"),
        ({"sweep_deg": 30.0}, "Sweep is 30"),
        ({"hinge_sweep_deg": -30.0}, "Hinge sweep is -30"),
        ({"deflection_deg": math.nan}, "Deflection"),
        ({"reynolds": math.nan}, "Reynolds"),
    ],
)
def test_outside_its_range_the_model_refuses_in_one_sentence(change: dict[str, float], sentence: str) -> None:
    case = {
        "flap_ratio": 0.25,
        "deflection_deg": 20.0,
        "alpha_deg": 4.0,
        "reynolds": 5e5,
        "mach": 0.1,
    } | change
    ratio, deflection, alpha = (case.pop(name) for name in ("flap_ratio", "deflection_deg", "alpha_deg"))
    with pytest.raises(OutOfValidity, match=sentence):
        hinge_coefficient(ratio, deflection, alpha, **case)


def test_an_aspect_ratio_of_nothing_is_refused() -> None:
    with pytest.raises(BadInput, match="Aspect ratio"):
        hinge_coefficient(0.25, 20.0, 4.0, reynolds=5e5, aspect_ratio=0.0)
