"""The band of a hinge moment over the travel: smooth, in order, and never refused."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from hangar.base.errors import BadInput
from hangar.physics.hinge_balance import Nose, nose_balance
from hangar.physics.hinge_band import (
    LOW_SHARE,
    Profile,
    bubble_allowance,
    camber_coefficient,
    coefficients,
    compressed,
)
from tests.all_cases import all_cases

RATIOS = st.floats(0.02, 1.0)
ASPECTS = st.one_of(st.none(), st.floats(1.0, 30.0))
PROFILES = st.builds(
    Profile, RATIOS, ASPECTS, st.floats(0.0, 0.05), st.floats(0.0, 4.0), st.floats(4.0, 12.0)
)


@given(PROFILES, st.booleans(), st.floats(0.0, 0.08))
def test_the_band_is_in_order_and_never_falls(profile: Profile, down: bool, bubble: float) -> None:
    table = coefficients(profile, 90.0, trailing_edge_down=down)
    highs = table.highs(bubble)
    for at, (expected, high) in enumerate(zip(table.expected, highs, strict=True)):
        assert 0.0 <= LOW_SHARE * expected <= expected <= high
        if at:
            assert expected >= table.expected[at - 1] - 1e-9
    # No jump where a brake used to begin: two degrees never add a tenth of the plate.
    steps = [two - value for value, two in zip(table.expected, table.expected[1:], strict=False)]
    assert max(steps) < 0.09


@given(PROFILES)
def test_a_hundredth_of_the_chord_moves_the_load_by_little(profile: Profile) -> None:
    wider = Profile(
        1.01 * profile.flap_ratio, profile.aspect_ratio, profile.camber, profile.incidence_deg,
        profile.adverse_deg,
    )  # fmt: skip
    one, two = (
        coefficients(other_profile, 40.0, trailing_edge_down=True) for other_profile in (profile, wider)
    )
    for angle in (2.0, 10.0, 20.0, 40.0):
        assert two.at(angle).expected == pytest.approx(one.at(angle).expected, rel=0.03)


def test_the_whole_chord_hardly_matters() -> None:
    # Hence a blank whole chord need not silence a check.
    for angle, value in ((10.0, 0.12), (20.0, 0.24), (45.0, 0.50)):
        for ratio in (0.15, 0.30, 0.60):
            table = coefficients(Profile(ratio, 4.0), 45.0, trailing_edge_down=False)
            assert table.at(angle).expected == pytest.approx(value, rel=0.03)


def test_a_surface_of_the_whole_chord_is_a_plate_about_its_nose() -> None:
    # Thin-aerofoil theory of a flat plate on endless span: pi/2 for each radian about its nose.
    table = coefficients(Profile(1.0), 2.0, trailing_edge_down=False)
    assert table.at(2.0).design == pytest.approx(math.pi / 2.0 * math.radians(2.0), rel=0.05)


@all_cases("ratio, value", [(0.20, 0.073), (0.25, 0.081), (0.30, 0.087)])
def test_camber_by_quadrature(ratio: float, value: float) -> None:
    # Pressure difference of a parabolic mean line, thin-aerofoil theory: 32 h sqrt(x (1 - x)), by scipy.
    by_hand = quad(lambda x: math.sqrt(x * (1.0 - x)) * (x - 1.0 + ratio), 1.0 - ratio, 1.0)[0]
    assert camber_coefficient(ratio, 0.02) == pytest.approx(32.0 * 0.02 / ratio**2 * by_hand, rel=1e-4)
    assert camber_coefficient(ratio, 0.02) == pytest.approx(value, abs=5e-4)


def test_camber_loads_only_the_surface_that_goes_down() -> None:
    cambered = Profile(0.25, 7.0, 0.02, 2.0, 4.0)
    up, down = (coefficients(cambered, 20.0, trailing_edge_down=way) for way in (False, True))
    assert down.at(10.0).expected - up.at(10.0).expected == pytest.approx(0.5 * 0.081, abs=5e-4)


@given(st.floats(3.0e4, 4.0e6), st.floats(1.0, 1.5))
def test_the_moment_of_a_bubble_never_falls_with_speed(reynolds: float, faster: float) -> None:
    slow, fast = bubble_allowance(reynolds), bubble_allowance(faster * reynolds)
    assert fast * faster**2 >= slow - 1e-12
    assert fast <= slow


def test_a_nose_balance_relieves_the_expected_load_more_than_the_most() -> None:
    balanced = Profile(0.30, 4.0, balance=nose_balance(0.30, Nose.SHARP))
    plain = coefficients(Profile(0.30, 4.0), 30.0, trailing_edge_down=False)
    table = coefficients(balanced, 30.0, trailing_edge_down=False)
    factor = balanced.balance.factor
    assert table.at(10.0).expected == pytest.approx(factor * plain.at(10.0).expected, rel=1e-6)
    assert factor * plain.at(10.0).design < table.at(10.0).design < plain.at(10.0).design
    assert table.at(24.0).expected == plain.at(24.0).expected  # unported


def test_outside_their_range_the_nearest_value_counts() -> None:
    strip = coefficients(Profile(0.001, 7.0), 20.0, trailing_edge_down=False)
    assert strip.at(10.0).expected == pytest.approx(
        coefficients(Profile(0.02, 7.0), 20.0, trailing_edge_down=False).at(10.0).expected
    )
    assert compressed(0.9) == compressed(0.4)
    swept = coefficients(Profile(0.3, 7.0, sweep_deg=40.0), 20.0, trailing_edge_down=False)
    assert swept.at(10.0).expected > 0.0
    with pytest.raises(BadInput, match="Deflection"):
        coefficients(Profile(0.3), 95.0, trailing_edge_down=False)
