"""Weight and balance holds together for any aircraft."""

from __future__ import annotations

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from hangar.base.errors import BadInput
from hangar.physics.balance import (
    MassAt,
    at_chord_percent_mm,
    ballast_g,
    centre_of_gravity_mm,
    chord_percent,
    mass_to_move_g,
    shift_mm,
    shift_of_change_mm,
)

masses = st.floats(min_value=1.0, max_value=5000.0)
places = st.floats(min_value=-2000.0, max_value=2000.0)
loads = st.lists(st.builds(MassAt, masses, places), min_size=1, max_size=8)


@given(loads, masses, places)
def test_adding_a_part_shifts_by_the_formula(items: list[MassAt], mass: float, at: float) -> None:
    total, centre = sum(item.mass_g for item in items), centre_of_gravity_mm(items)
    after = centre_of_gravity_mm([*items, (mass, at)])
    assert after - centre == pytest.approx(shift_of_change_mm(mass, at, total, centre), abs=1e-6)


@given(loads, places)
def test_moving_a_part_shifts_by_the_formula(items: list[MassAt], distance: float) -> None:
    total = sum(item.mass_g for item in items)
    moved = [MassAt(items[0].mass_g, items[0].at_mm + distance), *items[1:]]
    shift = centre_of_gravity_mm(moved) - centre_of_gravity_mm(items)
    assert shift == pytest.approx(shift_mm(items[0].mass_g, distance, total), abs=1e-6)


@given(loads, places, st.floats(min_value=0.01, max_value=0.9))
def test_ballast_brings_the_centre_where_it_is_wanted(items: list[MassAt], at: float, way: float) -> None:
    total, centre = sum(item.mass_g for item in items), centre_of_gravity_mm(items)
    assume(abs(at - centre) > 1.0)
    wanted = centre + way * (at - centre)
    ballast = ballast_g(centre, wanted, at, total)
    assert ballast > 0
    assert centre_of_gravity_mm([*items, (ballast, at)]) == pytest.approx(wanted, abs=1e-6)


def test_a_model_refit_worked_by_hand() -> None:
    """Datum at the old centre, aft positive: moments add to +2200 g mm, mass to 5358 g."""
    items = [(5200, 0), (-208, 85), (272, 85), (-150, -210), (230, -190), (-48, 640), (62, 640)]
    centre = centre_of_gravity_mm(items)
    assert centre == pytest.approx(2200 / 5358)
    assert ballast_g(centre, 0.0, -260, 5358) == pytest.approx(8.46, abs=0.005)


@given(places, places, st.floats(min_value=10, max_value=1000))
def test_chord_per_cent_goes_there_and_back(centre: float, edge: float, chord: float) -> None:
    percent = chord_percent(centre, edge, chord)
    assert at_chord_percent_mm(percent, edge, chord) == pytest.approx(centre, abs=1e-6)


def test_nonsense_is_refused() -> None:
    with pytest.raises(BadInput, match="add up"):
        centre_of_gravity_mm([])
    with pytest.raises(BadInput, match="add up"):
        centre_of_gravity_mm([(100, 5), (-100, 7)])
    with pytest.raises(BadInput, match="finite"):
        centre_of_gravity_mm([(float("nan"), 5)])
    with pytest.raises(BadInput, match="must sit beyond"):
        ballast_g(10.0, 5.0, 20.0, 1000.0)
    with pytest.raises(BadInput, match="toward"):
        mass_to_move_g(1.0, -50.0, 1000.0)
    with pytest.raises(BadInput, match="above 0"):
        shift_mm(10.0, 10.0, 0.0)
    with pytest.raises(BadInput, match="above 0"):
        shift_of_change_mm(-1000.0, 10.0, 1000.0, 0.0)
    assert ballast_g(5.0, 5.0, 20.0, 1000.0) == 0.0
