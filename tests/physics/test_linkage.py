"""Rod linkages of any shape keep their rod length, their power and their branch."""

from __future__ import annotations

import itertools
import math
from dataclasses import replace

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from hangar.base.errors import BadInput, Unreachable
from hangar.physics.linkage import RodLink, wrapped_deg
from hangar.physics.vectors import across, cross, unit_vector
from tests.all_cases import all_cases

parts = st.floats(min_value=-1.0, max_value=1.0)
directions = st.tuples(parts, parts, parts).filter(lambda one: math.hypot(*one) > 0.2)
angles = st.floats(min_value=-180.0, max_value=180.0)


@st.composite
def links(draw: st.DrawFn) -> RodLink:
    servo_axis = unit_vector(draw(directions), "servo_axis")
    horn_axis = unit_vector(draw(directions), "horn_axis")
    seed = unit_vector(draw(directions), "seed")
    assume(math.hypot(*cross(servo_axis, seed)) > 0.1)
    assume(math.hypot(*cross(horn_axis, seed)) > 0.1)
    link = RodLink(
        servo_axis=servo_axis,
        servo_pivot=(draw(parts) * 20, draw(parts) * 20, draw(parts) * 20),
        servo_zero=unit_vector(cross(servo_axis, seed), "zero"),
        arm_mm=draw(st.floats(min_value=5, max_value=40)),
        servo_offset_mm=draw(parts) * 10,
        horn_axis=horn_axis,
        horn_pivot=(draw(st.floats(min_value=100, max_value=300)), draw(parts) * 40, draw(parts) * 40),
        horn_zero=unit_vector(cross(horn_axis, seed), "zero"),
        horn_mm=draw(st.floats(min_value=5, max_value=40)),
        horn_offset_mm=draw(parts) * 10,
        rod_mm=100.0,
        branch=1,
    )
    try:
        fitted = link.fitted(draw(angles), draw(angles))
    except BadInput:
        assume(False)
        raise
    assume(fitted.at_travel(0.0).transmission_deg > 10.0)
    return fitted


@given(links())
def test_the_fitted_linkage_stands_at_its_neutral(link: RodLink) -> None:
    position = link.at_travel(0.0)
    assert position.horn_deg == pytest.approx(link.horn_neutral_deg, abs=1e-7)
    assert math.dist(position.servo_end_mm, position.horn_end_mm) == pytest.approx(link.rod_mm, abs=1e-9)


@given(links(), st.floats(min_value=-60, max_value=60))
def test_the_rod_keeps_its_length_and_both_ends_stay_on_their_circles(link: RodLink, travel: float) -> None:
    assume(link.reach_margin(link.servo_neutral_deg + travel) > 1e-3)
    position = link.at_travel(travel)
    assert math.dist(position.servo_end_mm, position.horn_end_mm) == pytest.approx(link.rod_mm, abs=1e-8)
    assert math.hypot(*position.rod_direction) == pytest.approx(1.0, abs=1e-9)


@given(links(), st.floats(min_value=-30, max_value=30))
def test_the_velocity_ratio_is_the_slope_of_the_horn_angle(link: RodLink, travel: float) -> None:
    servo, step = link.servo_neutral_deg + travel, 1e-4
    assume(min(link.reach_margin(servo + change) for change in (-step, 0.0, step)) > 0.02)
    slope = wrapped_deg(link.at(servo + step).horn_deg - link.at(servo - step).horn_deg) / (2 * step)
    assert link.at(servo).velocity_ratio == pytest.approx(slope, rel=1e-5, abs=1e-5)


@given(links(), st.floats(min_value=-30, max_value=30), st.floats(min_value=0.01, max_value=10))
def test_power_in_is_power_out(link: RodLink, travel: float, torque: float) -> None:
    assume(link.reach_margin(link.servo_neutral_deg + travel) > 1e-3)
    position = link.at_travel(travel)
    assume(abs(position.servo_lever_mm) > 1e-3)
    assert position.velocity_ratio * position.torque_ratio == pytest.approx(1.0)
    moment = position.horn_moment_nm(torque, efficiency=1.0)
    assert position.rod_force_n(torque) * position.horn_lever_mm / 1000 == pytest.approx(moment)
    assert position.servo_torque_nm(moment, efficiency=1.0) == pytest.approx(torque)


@given(links(), st.floats(min_value=-20, max_value=20))
def test_driving_the_linkage_from_the_horn_gives_the_servo_angle_back(link: RodLink, travel: float) -> None:
    neutral = link.at_travel(0.0)
    assume(neutral.servo_transmission_deg > 10.0)
    assume(link.reach_margin(link.servo_neutral_deg + travel) > 0.02)
    forth = link.at_travel(travel)
    assume(forth.servo_lever_mm * neutral.servo_lever_mm > 0 and forth.servo_transmission_deg > 5.0)
    back = link.reversed().at(forth.horn_deg)
    assert wrapped_deg(back.horn_deg - forth.servo_deg) == pytest.approx(0.0, abs=1e-5)


@given(links())
def test_a_longer_rod_turns_the_horn_by_the_inverse_of_its_lever(link: RodLink) -> None:
    step = 1e-4
    assume(link.reach_margin(link.servo_neutral_deg) > 0.02)
    longer = replace(link, rod_mm=link.rod_mm + step).at_travel(0.0).horn_deg
    shorter = replace(link, rod_mm=link.rod_mm - step).at_travel(0.0).horn_deg
    slope = (longer - shorter) / (2 * step)
    assert link.at_travel(0.0).horn_deg_per_rod_mm() == pytest.approx(slope, rel=1e-4)


def test_friction_takes_from_the_hinge_and_adds_to_the_servo() -> None:
    position = RodLink.from_rod(15, 20, 120).at_travel(0.0)
    assert position.horn_moment_nm(1.0, 0.9) == pytest.approx(0.9 * 20 / 15)
    assert position.servo_torque_nm(1.0, 0.9) == pytest.approx(15 / 20 / 0.9)
    with pytest.raises(BadInput, match="efficiency"):
        position.horn_moment_nm(1.0, 0.0)


def test_a_clevis_turn_moves_the_horn_by_pitch_over_lever() -> None:
    position = RodLink.from_rod(15, 20, 120).at_travel(0.0)
    assert abs(position.horn_deg_per_rod_mm()) * 0.4 == pytest.approx(1.15, abs=0.005)


def test_a_horn_on_the_other_side_turns_the_other_way() -> None:
    same = RodLink.from_rod(15, 20, 120)
    other = RodLink.from_rod(15, 20, 120, opposite_sides=True)
    assert same.deflection_deg(20.0) > 0 > other.deflection_deg(20.0)


def test_horn_angles_are_told_near_the_neutral() -> None:
    link = RodLink.planar_from_neutral(15, 20, (0, 120), 0, 175)
    assert link.at_travel(0.0).horn_deg == pytest.approx(175.0)
    swept = [link.deflection_deg(travel) for travel in range(-40, 41, 5)]
    assert all(abs(later - former) < 20 for former, later in itertools.pairwise(swept))
    assert max(link.horn_neutral_deg + deflection for deflection in swept) > 180.0


def test_axes_of_any_length_give_the_same_linkage() -> None:
    unit = RodLink.planar(15, 20, 120, (120, -5))
    long = replace(unit, servo_axis=(0, 0, 7.0), horn_zero=(3.0, 0, 0))
    assert long.at(70.0).horn_deg == unit.at(70.0).horn_deg


@all_cases(
    "change",
    [
        {"arm_mm": 0.0},
        {"horn_mm": -3.0},
        {"rod_mm": math.nan},
        {"branch": 2},
        {"servo_axis": (0.0, 0.0, 0.0)},
        {"horn_zero": (0.0, 0.5, 0.5)},
        {"servo_pivot": (0.0, 0.0)},
        {"horn_offset_mm": math.inf},
    ],
)
def test_impossible_parts_are_refused(change: dict[str, object]) -> None:
    with pytest.raises(BadInput):
        replace(RodLink.planar(15, 20, 120, (120, -5)), **change)  # type: ignore[arg-type]


def test_a_horn_at_its_dead_point_cannot_be_a_neutral() -> None:
    with pytest.raises(BadInput, match="dead point"):
        RodLink.planar_from_neutral(15, 20, (100, 15), 90.0, 180.0)


def test_the_refusal_says_how_far_apart_the_ends_can_be() -> None:
    link = RodLink.planar(15, 20, 300, (120, 0))
    with pytest.raises(Unreachable, match=r"300\.00 mm cannot close at servo angle 90\.00 deg: .* to 140\.9"):
        link.at(90.0)


def test_across_refuses_a_direction_that_leans() -> None:
    with pytest.raises(BadInput, match="90 deg is wanted"):
        across((1.0, 0.0, 1.0), (0.0, 0.0, 1.0), "zero")


def test_a_fitted_link_is_the_same_as_one_made_with_the_fitted_rod() -> None:
    fitted = RodLink.planar_from_neutral(15, 20, (90, -4), 110, 80)
    made = replace(fitted, rod_mm=fitted.rod_mm)
    assert made == fitted
    assert hash(made) == hash(fitted)
    assert made.at_travel(20.0) == fitted.at_travel(20.0)
    assert fitted.fitted(110.0, 80.0) == fitted
