"""Lifting-surface relief stays inside its charts and below the lifting line."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hangar.base.errors import OutOfValidity
from hangar.physics.induced_camber import lifting_surface_slopes
from hangar.physics.surface import finite_span_slopes, section_slopes
from tests.all_cases import all_cases


@given(st.floats(0.10, 0.60), st.floats(2.0, 10.0))
def test_a_lifting_surface_relieves_more_than_the_line(ratio: float, aspect: float) -> None:
    line = finite_span_slopes(section_slopes(ratio), aspect)
    surface = lifting_surface_slopes(ratio, aspect)
    assert line.b2_per_rad < surface.b2_per_rad < 0.0
    assert line.b1_per_rad < surface.b1_per_rad < 0.0


def test_a_chart_point_by_hand() -> None:
    # E 0.40, A 4: line plus 0.0168 x 2 pi x 0.74778 x 1.22.
    line = finite_span_slopes(section_slopes(0.40), 4.0)
    surface = lifting_surface_slopes(0.40, 4.0)
    assert surface.b2_per_rad - line.b2_per_rad == pytest.approx(0.09630, abs=2e-5)


@all_cases("ratio, aspect", [(0.05, 5.0), (0.65, 5.0), (0.3, 1.5), (0.3, 12.0)])
def test_outside_the_charts_it_refuses(ratio: float, aspect: float) -> None:
    with pytest.raises(OutOfValidity, match="charts hold"):
        lifting_surface_slopes(ratio, aspect)
