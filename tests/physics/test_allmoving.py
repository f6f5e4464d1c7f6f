"""All-moving surfaces: worked values, safe side of the pivot, divergence."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hangar.base.errors import BadInput, OutOfValidity
from hangar.physics.allmoving import (
    divergence_pressure_pa,
    drives_away,
    turning_coefficients,
)
from tests.all_cases import all_cases


# Worked by hand for aspect ratio 4: 4.18879 x angle (14 degrees at most) x lever of a quarter of the chord.
@all_cases("pivot, values", [(0.20, {5: 0.01828, 10: 0.03655, 20: 0.05118}), (0.30, {10: 0.03655})])
def test_expected_value_by_hand(pivot: float, values: dict[int, float]) -> None:
    for deflection, value in values.items():
        band = turning_coefficients(pivot, 4.0, 30.0).at(deflection)
        assert band.expected == pytest.approx(value, abs=1e-5)


def test_a_pivot_at_the_quarter_chord_is_not_taken_for_free_of_load() -> None:
    band = turning_coefficients(0.25, 4.0, 20.0).at(10.0)
    assert band.expected == pytest.approx(4.18879 * math.radians(10.0) * 0.02, rel=1e-4)
    assert band.design == pytest.approx(4.18879 * math.radians(12.0) * 0.05, rel=1e-4)


@given(st.floats(0.0, 1.0), st.floats(0.5, 12.0), st.floats(0.1, 90.0))
def test_the_band_is_in_order_and_grows_with_the_turn(pivot: float, aspect: float, most: float) -> None:
    table = turning_coefficients(pivot, aspect, most)
    bands = [table.at(angle) for angle in table.angles_deg]
    assert all(0.0 <= band.low <= band.expected <= band.design for band in bands)
    assert all(band.expected <= two.expected for band, two in pairwise(bands))


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
        turning_coefficients(1.2, 4.0, 10.0)
    with pytest.raises(BadInput, match="Turn is 95"):
        turning_coefficients(0.25, 4.0, 95.0)
    with pytest.raises(BadInput, match="Aspect ratio"):
        turning_coefficients(0.25, 0.0, 10.0)
    with pytest.raises(BadInput, match="Stiffness"):
        divergence_pressure_pa(0.0, area_m2=0.06, mean_chord_m=0.15, aspect_ratio=4.0, pivot_fraction=0.3)
