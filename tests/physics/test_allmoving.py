"""All-moving surfaces: worked values, safe side of the pivot, divergence."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hangar.base.errors import BadInput, OutOfValidity
from hangar.base.figure import Band
from hangar.physics.allmoving import (
    all_moving_coefficient,
    all_moving_moment_nm,
    divergence_pressure_pa,
    drives_away,
)
from tests.all_cases import all_cases


# Worked by hand for aspect ratio 4: max of attached 4.18879 x angle (14 at most) x lever, and plate.
@all_cases(
    "pivot, values",
    [
        (0.20, {5: 0.0366, 10: 0.0743, 20: 0.1535, 30: 0.2327, 45: 0.3451}),
        (0.25, {5: 0.0217, 10: 0.0473, 20: 0.1059, 30: 0.1693, 45: 0.2648}),
        (0.30, {5: 0.0366, 10: 0.0731, 20: 0.1024, 30: 0.1058, 45: 0.1844}),
    ],
)
def test_design_value_by_hand(pivot: float, values: dict[int, float]) -> None:
    for deflection, value in values.items():
        band = all_moving_coefficient(pivot, deflection, aspect_ratio=4.0)
        assert band.design == pytest.approx(value, abs=1.1e-4)


@given(st.floats(0.0, 0.5), st.floats(0.0, 50.0), st.floats(0.0, 15.0), st.floats(0.5, 12.0))
def test_the_band_is_in_order_and_the_sign_does_not_matter(
    pivot: float, deflection: float, alpha: float, aspect: float
) -> None:
    band = all_moving_coefficient(pivot, deflection, alpha, aspect_ratio=aspect)
    assert 0.0 <= band.low <= band.expected <= band.design
    assert band == all_moving_coefficient(pivot, -deflection, -alpha, aspect_ratio=aspect)


def test_the_moment_is_pressure_times_area_times_chord() -> None:
    assert all_moving_moment_nm(0.06, 0.15, 1000.0, Band(0.01, 0.02, 0.04)) == Band(0.09, 0.18, 0.36)
    with pytest.raises(BadInput, match="above zero"):
        all_moving_moment_nm(0.0, 0.15, 1000.0, Band.exactly(0.1))


def test_only_a_pivot_behind_the_quarter_chord_drives_away() -> None:
    assert drives_away(0.28)
    assert not drives_away(0.25)
    assert not drives_away(0.20)


def test_at_divergence_the_air_is_as_stiff_as_the_drive() -> None:
    pressure = divergence_pressure_pa(
        12.0, area_m2=0.06, mean_chord_m=0.15, aspect_ratio=4.0, pivot_fraction=0.32, centre_fraction=0.22
    )
    # Lift of one radian 2 pi 4/6 times area and pressure, on a lever of a tenth of the chord.
    assert pressure * 0.06 * (2.0 * math.pi * 4.0 / 6.0) * 0.015 == pytest.approx(12.0)


def test_a_pivot_ahead_of_the_centre_never_diverges() -> None:
    assert (
        divergence_pressure_pa(1.0, area_m2=0.06, mean_chord_m=0.15, aspect_ratio=4.0, pivot_fraction=0.2)
        == math.inf
    )


def test_what_cannot_be_is_refused() -> None:
    with pytest.raises(OutOfValidity, match="Pivot"):
        all_moving_coefficient(0.6, 10.0, aspect_ratio=4.0)
    with pytest.raises(OutOfValidity, match="turned 60"):
        all_moving_coefficient(0.25, 60.0, aspect_ratio=4.0)
    with pytest.raises(OutOfValidity, match="Mach"):
        all_moving_coefficient(0.25, 10.0, aspect_ratio=4.0, mach=0.5)
    with pytest.raises(BadInput, match="Aspect ratio"):
        all_moving_coefficient(0.25, 10.0, aspect_ratio=0.0)
    with pytest.raises(BadInput, match="Stiffness"):
        divergence_pressure_pa(0.0, area_m2=0.06, mean_chord_m=0.15, aspect_ratio=4.0, pivot_fraction=0.3)
