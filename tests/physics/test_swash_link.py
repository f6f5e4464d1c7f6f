"""A servo lifting a guided ball."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hangar.base.errors import BadInput, Unreachable
from hangar.physics.swash_link import ball_at

angles = st.floats(min_value=-60, max_value=60)


@given(angles, st.floats(min_value=-5, max_value=25))
def test_the_link_keeps_its_length(angle: float, offset: float) -> None:
    position = ball_at(15, 60, offset, angle)
    turn = math.radians(angle)
    arm_end = (15 * math.cos(turn), 15 * math.sin(turn))
    assert math.dist(arm_end, (offset, position.height_mm)) == pytest.approx(60.0)


@given(angles)
def test_the_lever_is_the_slope_of_the_height(angle: float) -> None:
    step = 1e-4
    slope = (ball_at(15, 60, 10, angle + step).height_mm - ball_at(15, 60, 10, angle - step).height_mm) / (
        math.radians(2 * step)
    )
    assert ball_at(15, 60, 10, angle).lever_mm == pytest.approx(slope, rel=1e-5, abs=1e-5)


def test_force_at_level_arm_is_torque_over_arm() -> None:
    assert ball_at(15, 60, 15, 0.0).force_n(0.3) == pytest.approx(20.0)


def test_a_short_link_cannot_reach_aside() -> None:
    with pytest.raises(Unreachable, match="to the side"):
        ball_at(15, 20, 60, 0.0)
    with pytest.raises(BadInput):
        ball_at(0, 20, 6, 0.0)
