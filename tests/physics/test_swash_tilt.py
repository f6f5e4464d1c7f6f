"""Where a tilted swashplate's balls stand."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hangar.base.errors import BadInput
from hangar.physics.swash_tilt import blade_pitch_deg, tilted_balls
from hangar.physics.swashplate import Layout, balls_of


def test_a_plate_tilted_both_ways_by_hand() -> None:
    # r 30, fore-aft 8 degrees, roll 6 degrees, balls at 0, 120, -120.
    heights = [place[2] for place in tilted_balls(balls_of(Layout.THREE_120, 30.0), 0.0, 8.0, 6.0)]
    assert heights == pytest.approx([-4.175, 4.777, -0.602], abs=6e-4)


@given(st.floats(-10.0, 10.0), st.floats(-20.0, 20.0), st.floats(-20.0, 20.0))
def test_tilting_keeps_the_plate_rigid(height: float, fore_aft: float, roll: float) -> None:
    flat = balls_of(Layout.THREE_135, 30.0)
    placed = tilted_balls(flat, height, fore_aft, roll)
    for index in range(3):
        assert math.dist(placed[index], (0.0, 0.0, height)) == pytest.approx(30.0)
        assert math.dist(placed[index], placed[index - 1]) == pytest.approx(
            math.dist(flat[index], flat[index - 1])
        )


def test_blade_pitch_by_hand() -> None:
    # 12 degrees on a 24 mm arm is 4.99 mm.
    assert blade_pitch_deg(0.00499, 0.024) == pytest.approx(12.0, abs=0.01)
    assert blade_pitch_deg(-0.00499, 0.024) == pytest.approx(-12.0, abs=0.01)
    assert blade_pitch_deg(0.00499 / 1.5, 0.024, 1.5) == pytest.approx(12.0, abs=0.01)


def test_travel_beyond_the_grip_arm_is_refused() -> None:
    with pytest.raises(BadInput, match="cannot follow"):
        blade_pitch_deg(0.025, 0.024)
    with pytest.raises(BadInput, match="Grip arm"):
        blade_pitch_deg(0.001, 0.0)
