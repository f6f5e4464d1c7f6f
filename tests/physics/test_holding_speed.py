"""The speed up to which a torque holds a flap is where the load reaches the torque."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hangar.base.errors import BadInput
from hangar.physics.air import Air, Airflow
from hangar.physics.hinge_moment import Flap, hinge_moment_nm
from hangar.physics.holding_speed import holding_speed

SEA_LEVEL = Air(1.225, 15.0)
AILERON = Flap(0.75, 0.060, 0.060, 0.30, aspect_ratio=6.667)


@given(st.floats(0.05, 3.0), st.floats(2.0, 50.0), st.floats(0.0, 200.0))
def test_below_it_the_torque_suffices_and_at_it_the_load_is_reached(
    moment: float, deflection: float, wash: float
) -> None:
    answer = holding_speed(AILERON, SEA_LEVEL, moment_nm=moment, deflection_deg=deflection, wash_pa=wash)

    def load(speed: float) -> float:
        return hinge_moment_nm(AILERON, Airflow(speed, SEA_LEVEL, wash), deflection).design

    if answer.speed_m_s > 6.0:
        assert load(0.999 * answer.speed_m_s) <= moment
    if answer.limited and answer.speed_m_s > 6.0:
        assert load(1.001 * answer.speed_m_s) >= 0.97 * moment or _at_a_bubble_step(answer.speed_m_s, wash)


def _at_a_bubble_step(speed: float, wash: float) -> bool:
    reynolds = Airflow(speed, SEA_LEVEL, wash).reynolds(0.30)
    return any(abs(reynolds / step - 1.0) < 0.01 for step in (1.5e5, 7e5))


def test_it_turns_a_worked_load_round() -> None:
    load = hinge_moment_nm(AILERON, Airflow(35.0, SEA_LEVEL), 20.0).design
    answer = holding_speed(AILERON, SEA_LEVEL, moment_nm=load, deflection_deg=20.0)
    assert answer.limited
    assert answer.speed_m_s == pytest.approx(35.0, rel=1e-6)


def test_the_lowest_of_several_answers_is_given() -> None:
    # At no deflection only the bubble allowance loads the flap, and it steps down at Reynolds 1.5e5.
    at_step = 1.5e5 * SEA_LEVEL.viscosity_pa_s / (1.225 * 0.30)
    just_under = hinge_moment_nm(AILERON, Airflow(0.99 * at_step, SEA_LEVEL), 0.0, 0.0).design
    just_over = hinge_moment_nm(AILERON, Airflow(1.01 * at_step, SEA_LEVEL), 0.0, 0.0).design
    assert just_over < just_under
    answer = holding_speed(AILERON, SEA_LEVEL, moment_nm=just_under, deflection_deg=0.0, alpha_deg=0.0)
    assert answer.speed_m_s == pytest.approx(0.99 * at_step, rel=1e-6)


def test_a_strong_servo_is_not_limited_below_the_highest_speed() -> None:
    answer = holding_speed(AILERON, SEA_LEVEL, moment_nm=500.0, deflection_deg=20.0)
    assert not answer.limited
    assert answer.speed_m_s == pytest.approx(0.4 * SEA_LEVEL.speed_of_sound_m_s)


def test_wash_that_is_too_much_by_itself_leaves_no_speed() -> None:
    answer = holding_speed(AILERON, SEA_LEVEL, moment_nm=0.05, deflection_deg=40.0, wash_pa=400.0)
    assert answer.limited
    assert answer.speed_m_s == 0.0


def test_no_torque_is_refused() -> None:
    with pytest.raises(BadInput, match="Moment at the hinge"):
        holding_speed(AILERON, SEA_LEVEL, moment_nm=0.0, deflection_deg=20.0)
