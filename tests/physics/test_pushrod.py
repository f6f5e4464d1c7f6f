"""Pushrods against the stall of their servo and the shake of their engine."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hangar.base.errors import BadInput
from hangar.physics.pushrod import (
    MATERIALS,
    RoundRod,
    bent_rod,
    buckling_load_n,
    check_rod,
    longest_free_mm,
    shaken_by_engine,
)
from tests.all_cases import all_cases

rods = st.builds(RoundRod.of, st.sampled_from(sorted(MATERIALS)), st.floats(min_value=0.8, max_value=10.0))


@given(rods, st.floats(min_value=5.0, max_value=1000.0))
def test_the_longest_free_length_carries_just_its_load(rod: RoundRod, length: float) -> None:
    load = buckling_load_n(rod, length)
    assert longest_free_mm(rod, load / 3.0, 3.0) == pytest.approx(length, rel=1e-6)


@given(rods, st.floats(min_value=5.0, max_value=900.0))
def test_a_longer_rod_never_carries_more(rod: RoundRod, length: float) -> None:
    assert buckling_load_n(rod, length * 1.1) <= buckling_load_n(rod, length)


@all_cases("diameter, span", [(1.5, 50), (2.0, 88), (2.5, 138), (2.84, 178), (3.0, 198)])
def test_spans_of_steel_wire_for_a_one_newton_metre_servo(diameter: float, span: float) -> None:
    force = check_rod(RoundRod.of("steel wire", diameter), 100.0, 1.0, 15.0).force_n
    assert force == pytest.approx(66.7, abs=0.05)
    assert longest_free_mm(RoundRod.of("steel wire", diameter), force) == pytest.approx(span, abs=0.6)


def test_no_span_carries_more_than_the_material_can() -> None:
    assert longest_free_mm(RoundRod.of("spruce", 2.0), 1e4) == 0.0


def test_a_stronger_servo_on_the_same_arm_eats_the_margin_in_proportion() -> None:
    rod = RoundRod.of("steel wire", 2.5)
    old, new = check_rod(rod, 120.0, 0.5, 15.0), check_rod(rod, 120.0, 1.5, -15.0)
    assert old.margin == pytest.approx(3.0 * new.margin)
    assert (old.holds, new.holds) == (True, False)
    assert check_rod(rod, 120.0, 0.0, 15.0).holds


def test_only_speeds_near_once_or_twice_the_engine_shake_a_rod() -> None:
    assert shaken_by_engine(150.0, 9000.0)
    assert shaken_by_engine(300.0, 9000.0)
    assert shaken_by_engine(125.0, 9000.0)
    assert not shaken_by_engine(110.0, 9000.0)
    assert not shaken_by_engine(210.0, 9000.0)


def test_a_tube_is_lighter_and_softer_than_a_rod() -> None:
    tube, rod = RoundRod.of("carbon", 6.0, 4.0), RoundRod.of("carbon", 6.0)
    assert tube.mass_g(600.0) < rod.mass_g(600.0)
    assert tube.axial_n_per_mm(600.0) < rod.axial_n_per_mm(600.0)
    assert tube.bending_mm4 == pytest.approx(51.05, abs=0.005)


def test_impossible_rods_are_refused() -> None:
    with pytest.raises(BadInput, match="no rod material"):
        RoundRod.of("string", 2.0)
    with pytest.raises(BadInput):
        RoundRod.of("carbon", 4.0, 4.0)
    with pytest.raises(BadInput):
        buckling_load_n(RoundRod.of("carbon", 4.0), 0.0)
    with pytest.raises(BadInput):
        buckling_load_n(RoundRod.of("carbon", 4.0), 100.0, 9.0)
    with pytest.raises(BadInput, match="below the buckling load"):
        bent_rod(RoundRod.of("steel wire", 1.0), 300.0, 100.0, 2.0)
    with pytest.raises(BadInput):
        check_rod(RoundRod.of("carbon", 4.0), 100.0, -1.0, 15.0)
