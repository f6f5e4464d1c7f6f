"""Where the air leaves a surface that a springy drive holds."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hangar.base.errors import BadInput
from hangar.physics.air import Air, Airflow
from hangar.physics.blowback import (
    blowback,
    half_throw_pressure_pa,
    rest_position,
    small_angle_rest_deg,
    surface_stiffness_nm_per_rad,
)
from hangar.physics.hinge_moment import Flap, hinge_moment_nm
from hangar.physics.surface import section_slopes
from tests.all_cases import all_cases

SEA_LEVEL = Air(1.225, 15.0)
RUDDER = Flap(0.60, 0.28, 0.20, 0.44, aspect_ratio=2.0)
FLOW = Airflow(25.0, SEA_LEVEL)


# Worked by hand for the same rudder without compressibility (0.3 % here), E read as 0.55.
@all_cases("stiffness, rest, moment", [(20.0, 29.25, 5.50), (40.0, 36.14, 6.19), (80.0, 40.19, 6.71)])
def test_a_giant_rudder_gives_way_as_worked_by_hand(stiffness: float, rest: float, moment: float) -> None:
    answer = blowback(RUDDER, FLOW, commanded_deg=45.0, stiffness_nm_per_rad=stiffness)
    assert answer.deflection_deg == pytest.approx(rest, abs=0.1)
    assert answer.moment_nm == pytest.approx(moment, abs=0.03)
    assert not answer.overrun


@given(st.floats(2.0, 500.0), st.floats(1.0, 50.0), st.floats(0.0, 10.0))
def test_at_rest_the_spring_holds_the_load(stiffness: float, commanded: float, alpha: float) -> None:
    answer = blowback(RUDDER, FLOW, commanded_deg=commanded, stiffness_nm_per_rad=stiffness, alpha_deg=alpha)
    load = hinge_moment_nm(RUDDER, FLOW, answer.deflection_deg, alpha).expected
    spring = stiffness * math.radians(commanded - answer.deflection_deg)
    if answer.deflection_deg > 1e-6:
        assert spring == pytest.approx(load, rel=1e-6, abs=1e-9)
    else:
        assert spring <= load + 1e-6


@given(st.floats(5.0, 200.0), st.floats(1.0, 45.0))
def test_either_way_the_same_is_lost(stiffness: float, commanded: float) -> None:
    down = blowback(RUDDER, FLOW, commanded_deg=commanded, stiffness_nm_per_rad=stiffness)
    up = blowback(RUDDER, FLOW, commanded_deg=-commanded, stiffness_nm_per_rad=stiffness)
    assert up.deflection_deg == -down.deflection_deg
    assert up.lost_deg == down.lost_deg >= 0.0


@given(st.floats(5.0, 200.0), st.floats(5.0, 200.0))
def test_a_stiffer_drive_loses_less(one: float, other: float) -> None:
    soft, stiff = sorted((one, other))
    assert (
        blowback(RUDDER, FLOW, commanded_deg=40.0, stiffness_nm_per_rad=stiff).lost_deg
        <= blowback(RUDDER, FLOW, commanded_deg=40.0, stiffness_nm_per_rad=soft).lost_deg + 1e-9
    )


def test_a_rigid_drive_loses_nothing() -> None:
    answer = blowback(RUDDER, FLOW, commanded_deg=30.0, stiffness_nm_per_rad=math.inf)
    assert answer.deflection_deg == 30.0
    assert answer.lost_deg == 0.0


@all_cases("stiffness", [80.0, math.inf])
def test_a_weak_servo_is_overrun_to_where_its_own_limit_holds(stiffness: float) -> None:
    answer = blowback(RUDDER, FLOW, commanded_deg=45.0, stiffness_nm_per_rad=stiffness, limit_nm=3.0)
    assert answer.overrun
    assert answer.moment_nm == 3.0
    assert hinge_moment_nm(RUDDER, FLOW, answer.deflection_deg, 0.0).expected == pytest.approx(3.0, rel=1e-6)


def test_a_servo_with_enough_torque_is_not_overrun() -> None:
    free = blowback(RUDDER, FLOW, commanded_deg=45.0, stiffness_nm_per_rad=40.0)
    limited = blowback(RUDDER, FLOW, commanded_deg=45.0, stiffness_nm_per_rad=40.0, limit_nm=6.5)
    assert limited == free


def test_a_hopeless_servo_is_blown_to_neutral() -> None:
    answer = blowback(
        RUDDER, FLOW, commanded_deg=45.0, stiffness_nm_per_rad=40.0, alpha_deg=15.0, limit_nm=0.1
    )
    assert answer.overrun
    assert answer.deflection_deg == pytest.approx(0.0, abs=1e-6)


@given(st.floats(1.0, 100.0), st.floats(0.1, 20.0))
def test_for_a_linear_load_halving_finds_the_closed_form(stiffness: float, pressure_moment: float) -> None:
    slope = section_slopes(0.25)
    answer = rest_position(
        lambda deg: pressure_moment * abs(slope.b2_per_rad) * math.radians(deg),
        commanded_deg=12.0,
        stiffness_nm_per_rad=stiffness,
    )
    exact = small_angle_rest_deg(
        12.0,
        0.0,
        stiffness_nm_per_rad=stiffness,
        pressure_moment_nm=pressure_moment,
        b1_per_rad=slope.b1_per_rad,
        b2_per_rad=slope.b2_per_rad,
    )
    assert answer.deflection_deg == pytest.approx(exact, rel=1e-9)


def test_half_a_small_throw_is_lost_at_the_half_throw_pressure() -> None:
    slope = section_slopes(0.25)
    pressure = half_throw_pressure_pa(20.0, 0.00348, slope.b2_per_rad)
    rest = small_angle_rest_deg(
        10.0,
        0.0,
        stiffness_nm_per_rad=20.0,
        pressure_moment_nm=pressure * 0.00348,
        b1_per_rad=slope.b1_per_rad,
        b2_per_rad=slope.b2_per_rad,
    )
    assert rest == pytest.approx(5.0)


def test_incidence_that_closes_the_flap_takes_more_and_the_other_gives_back() -> None:
    def rest(alpha: float) -> float:
        return small_angle_rest_deg(
            10.0, alpha, stiffness_nm_per_rad=20.0, pressure_moment_nm=5.0, b1_per_rad=-0.5, b2_per_rad=-0.9
        )

    # By hand: (10 - 0.25 x 0.5 x 4)/(1 + 0.25 x 0.9) = 7.7551.
    assert rest(4.0) == pytest.approx(7.7551, abs=1e-4)
    assert rest(-4.0) > rest(0.0) > rest(4.0)


def test_stiffnesses_stand_in_series() -> None:
    # By hand: 1/(0.25 x 80) + 1/30 + 1/60 = 0.1.
    together = surface_stiffness_nm_per_rad(80.0, 0.5, linkage_nm_per_rad=30.0, torsion_nm_per_rad=60.0)
    assert together == pytest.approx(10.0)
    assert surface_stiffness_nm_per_rad(math.inf, 1.0) == math.inf


def test_what_holds_nothing_is_refused() -> None:
    with pytest.raises(BadInput, match="above zero"):
        surface_stiffness_nm_per_rad(0.0, 1.0)
    with pytest.raises(BadInput, match="Stiffness is 0"):
        blowback(RUDDER, FLOW, commanded_deg=10.0, stiffness_nm_per_rad=0.0)
    with pytest.raises(BadInput, match="most moment"):
        blowback(RUDDER, FLOW, commanded_deg=10.0, stiffness_nm_per_rad=10.0, limit_nm=0.0)
    with pytest.raises(BadInput, match="Stiffness is -1"):
        small_angle_rest_deg(
            1.0, 0.0, stiffness_nm_per_rad=-1.0, pressure_moment_nm=1.0, b1_per_rad=-0.5, b2_per_rad=-0.9
        )
    with pytest.raises(BadInput, match="slope"):
        half_throw_pressure_pa(1.0, 0.001, 0.0)
