"""Unequal throws from a leaned arm."""

from __future__ import annotations

from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hangar.base.errors import BadInput
from hangar.physics.differential import lean_for_differential_deg, leaned_arm_differential
from hangar.physics.linkage import RodLink
from hangar.physics.linkage_sweep import sweep
from tests.all_cases import all_cases


@given(st.floats(min_value=-40, max_value=40), st.floats(min_value=5, max_value=60))
def test_the_lean_for_a_differential_gives_it_back(lean: float, travel: float) -> None:
    differential = leaned_arm_differential(lean, travel)
    assert lean_for_differential_deg(differential, travel) == pytest.approx(lean, abs=1e-6)


@all_cases("travel, lean", product([15.0, 30.0, 45.0], [5.0, 14.4, 20.0, 30.0]))
def test_the_quick_rule_is_near_a_long_rod_with_a_tall_horn(lean: float, travel: float) -> None:
    link = RodLink.from_rod(5, 60, 5000, arm_to_rod_deg=90 + lean)
    exact = 1.0 / sweep(link, -travel, travel).differential
    assert leaned_arm_differential(lean, travel) == pytest.approx(exact, rel=0.01)


def test_a_straight_arm_has_none() -> None:
    assert leaned_arm_differential(0.0, 45.0) == 1.0


def test_leans_beyond_sense_are_refused() -> None:
    with pytest.raises(BadInput, match="does not move"):
        leaned_arm_differential(70.0, 60.0)
    with pytest.raises(BadInput):
        leaned_arm_differential(85.0, 10.0)
    with pytest.raises(BadInput):
        lean_for_differential_deg(-1.0, 10.0)
