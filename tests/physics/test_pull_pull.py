"""Cable pairs."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hangar.base.errors import BadInput
from hangar.physics.pull_pull import pull_pull_at

travels = st.floats(min_value=-40, max_value=40)


@given(travels, st.floats(min_value=10, max_value=30))
def test_equal_arms_square_to_the_cables_stay_tight(travel: float, arm: float) -> None:
    position = pull_pull_at(arm, arm, 400, travel)
    assert position.slack_mm == pytest.approx(0.0, abs=1e-9)
    assert position.horn_deflection_deg == pytest.approx(travel, abs=1e-9)


@given(travels)
def test_both_ways_are_alike(travel: float) -> None:
    position = pull_pull_at(20, 25, 400, travel, horn_set_back_deg=10)
    other = pull_pull_at(20, 25, 400, -travel, horn_set_back_deg=10)
    assert position.slack_mm == pytest.approx(other.slack_mm)
    assert position.horn_deflection_deg == pytest.approx(-other.horn_deflection_deg, abs=1e-9)


def test_holes_behind_the_hinge_slacken_and_holes_ahead_of_it_tighten_the_other_cable() -> None:
    behind = pull_pull_at(22, 22, 400, 35, horn_set_back_deg=10)
    ahead = pull_pull_at(22, 22, 400, 35, horn_set_back_deg=-10)
    assert behind.slack_mm * ahead.slack_mm < 0
    assert abs(behind.slack_mm) > 0.5


def test_the_pulling_cable_keeps_its_length() -> None:
    """Distance between cable holes worked out by hand from the two circles."""
    position = pull_pull_at(20, 25, 300, 30)
    arm = math.radians(120.0)
    horn = math.radians(90.0 + position.horn_deflection_deg)
    length = math.dist(
        (20 * math.cos(arm), 20 * math.sin(arm)), (300 + 25 * math.cos(horn), 25 * math.sin(horn))
    )
    assert length == pytest.approx(math.dist((0, 20), (300, 25)))


def test_holes_far_off_square_are_refused() -> None:
    with pytest.raises(BadInput):
        pull_pull_at(20, 20, 400, 10, horn_set_back_deg=75)
