"""Throws, travel use and steps."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hangar.base.errors import BadInput
from hangar.physics import throws
from hangar.physics.linkage import RodLink
from tests.all_cases import all_cases


@given(st.floats(min_value=-89, max_value=89), st.floats(min_value=5, max_value=500))
def test_throws_in_millimetres_and_degrees_go_there_and_back(angle: float, radius: float) -> None:
    straight = throws.throw_mm(angle, radius)
    height = throws.throw_height_mm(angle, radius)
    assert throws.deflection_of_throw_deg(straight, radius) == pytest.approx(angle, abs=1e-9)
    assert throws.deflection_of_height_deg(height, radius) == pytest.approx(angle, abs=1e-6)
    assert abs(height) <= abs(straight) + 1e-12


@given(st.floats(min_value=800, max_value=2200), st.floats(min_value=0.05, max_value=0.2))
def test_pulses_and_travel_go_there_and_back(pulse: float, turn: float) -> None:
    travel = throws.servo_travel_deg(pulse, centre_us=1520.0, deg_per_us=turn)
    assert throws.pulse_us(travel, centre_us=1520.0, deg_per_us=turn) == pytest.approx(pulse)


@all_cases("bits, step", [(10, 0.977), (11, 0.488), (12, 0.244)])
def test_finer_frames_send_finer_steps(bits: int, step: float) -> None:
    assert throws.pulse_step_us(bits) == pytest.approx(step, abs=5e-4)


def test_two_ways_to_the_same_throw_cost_differently() -> None:
    long_arm = throws.travel_use(RodLink.planar_from_neutral(15, 20, (120, -5)), 16.0, 45.0)
    short_arm = throws.travel_use(RodLink.planar_from_neutral(7.8, 20, (120, -12.2)), 16.0, 45.1)
    assert long_arm.travel_deg == pytest.approx(21.6, abs=0.1)
    assert long_arm.travel_share == pytest.approx(0.48, abs=0.005)
    assert long_arm.dead_band_deg == pytest.approx(0.135, abs=5e-4)
    assert short_arm.travel_share == pytest.approx(1.0, abs=0.01)
    assert short_arm.neutral_torque_ratio == pytest.approx(2.56, abs=0.005)
    assert short_arm.dead_band_deg == pytest.approx(0.070, abs=5e-4)


@given(st.floats(min_value=5, max_value=30), st.floats(min_value=1, max_value=45))
def test_the_quick_estimate_is_near_a_long_rods_exact_answer(arm: float, travel: float) -> None:
    horn = 1.5 * arm
    exact = RodLink.from_rod(arm, horn, 100 * horn).deflection_deg(travel)
    assert throws.square_deflection_deg(arm, horn, travel) == pytest.approx(exact, abs=0.1)
    assert throws.square_arm_mm(horn, throws.square_deflection_deg(arm, horn, travel), travel) == (
        pytest.approx(arm)
    )


def test_a_surface_on_a_short_arm_is_slower() -> None:
    assert throws.surface_time_s60(0.15, 0.75) == pytest.approx(0.2)
    assert throws.surface_time_s60(0.15, 0.0) == float("inf")


def test_what_cannot_be_is_refused() -> None:
    with pytest.raises(BadInput):
        throws.throw_mm(200.0, 50.0)
    with pytest.raises(BadInput):
        throws.throw_mm(20.0, 0.0)
    with pytest.raises(BadInput):
        throws.throw_height_mm(95.0, 50.0)
    with pytest.raises(BadInput):
        throws.deflection_of_throw_deg(101.0, 50.0)
    with pytest.raises(BadInput):
        throws.deflection_of_height_deg(51.0, 50.0)
    with pytest.raises(BadInput, match="dead point"):
        throws.square_deflection_deg(30.0, 15.0, 45.0)
    with pytest.raises(BadInput):
        throws.square_arm_mm(20.0, 16.0, 0.0)
    with pytest.raises(BadInput):
        throws.pulse_step_us(4)
