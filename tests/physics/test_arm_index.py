"""Servo arms on toothed shafts."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hangar.base.errors import BadInput
from hangar.physics.arm_index import (
    nearest_setting,
    smallest_step_deg,
    splines_fit,
    tooth_pitch_mm,
    worst_residual_deg,
)
from tests.all_cases import all_cases


@all_cases(
    "teeth, steps",
    [
        (25, {1: 14.4, 2: 7.2, 4: 3.6, 6: 2.4}),
        (23, {1: 15.65, 2: 7.83, 4: 3.91, 6: 2.61}),
        (24, {1: 15.0, 2: 15.0, 4: 15.0, 6: 15.0}),
    ],
)
def test_more_arms_give_finer_steps_unless_they_share_the_teeth(teeth: int, steps: dict[int, float]) -> None:
    for arms, step in steps.items():
        assert smallest_step_deg(teeth, arms) == pytest.approx(step, abs=0.005)
        assert worst_residual_deg(teeth, arms) == pytest.approx(step / 2, abs=0.005)


@given(
    st.floats(min_value=-360, max_value=360),
    st.integers(min_value=15, max_value=25),
    st.integers(min_value=1, max_value=6),
)
def test_no_setting_leaves_more_than_half_a_step(wanted: float, teeth: int, arms: int) -> None:
    setting = nearest_setting(wanted, teeth, arms)
    assert abs(setting.residual_deg) <= worst_residual_deg(teeth, arms) + 1e-9
    turned = math.remainder(setting.set_deg + setting.residual_deg - wanted, 360.0)
    assert turned == pytest.approx(0.0, abs=1e-9)
    assert 1 <= setting.arm_number <= arms
    assert 0 <= setting.teeth_on < teeth


def test_what_is_left_is_trimmed_by_the_pulse() -> None:
    setting = nearest_setting(9.0, 25)
    assert setting.set_deg == pytest.approx(14.4)
    assert setting.residual_deg == pytest.approx(-5.4)
    assert setting.trim_us(0.09) == pytest.approx(-60.0)
    with pytest.raises(BadInput):
        setting.trim_us(0.0)


@all_cases("teeth, pitch", [(25, 0.741), (24, 0.772), (23, 0.806)])
def test_tooth_pitch_is_the_circle_shared_out(teeth: int, pitch: float) -> None:
    assert tooth_pitch_mm(teeth, 5.9) == pytest.approx(pitch, abs=5e-4)


def test_splines_fit_only_with_equal_count_and_diameter() -> None:
    assert splines_fit(25, 5.9, 25, 5.92)
    assert not splines_fit(25, 5.9, 24, 5.9)
    assert not splines_fit(25, 5.9, 25, 4.9)


def test_shafts_without_teeth_are_refused() -> None:
    with pytest.raises(BadInput):
        smallest_step_deg(2)
    with pytest.raises(BadInput):
        tooth_pitch_mm(25, 0.0)
