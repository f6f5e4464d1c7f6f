"""How a swashplate divides force and movement among its servos."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from hangar.base.errors import BadInput
from hangar.base.figure import Band
from hangar.physics.swashplate import (
    Layout,
    balls_of,
    fight_forces_n,
    force_shares,
    layout_shares,
    movement_shares,
    peak_forces_n,
    peak_torques_nm,
)
from tests.all_cases import all_cases

THREE_BALLS = [Layout.THREE_90, Layout.THREE_120, Layout.THREE_135, Layout.THREE_140]


# By hand from the closed form: elevator -cos/(1 - cos), lateral 1/(2 (1 - cos)), roll 1/(2 sin).
@all_cases(
    "layout, collective, fore_aft, roll",
    [
        (Layout.THREE_120, (0.3333, 0.3333), (0.6667, -0.3333), 0.5774),
        (Layout.THREE_135, (0.4142, 0.2929), (0.5858, -0.2929), 0.7071),
        (Layout.THREE_140, (0.4338, 0.2831), (0.5662, -0.2831), 0.7779),
        (Layout.THREE_90, (0.0, 0.5), (1.0, -0.5), 0.5),
    ],
)
def test_force_shares_by_hand(
    layout: Layout, collective: tuple[float, float], fore_aft: tuple[float, float], roll: float
) -> None:
    elevator, side, other = layout_shares(layout)
    assert (elevator.collective, side.collective) == pytest.approx(collective, abs=6e-5)
    assert (elevator.fore_aft, side.fore_aft) == pytest.approx(fore_aft, abs=6e-5)
    assert (elevator.roll, side.roll, other.roll) == pytest.approx((0.0, roll, -roll), abs=6e-5)


def test_four_servos_share_evenly() -> None:
    front, right, back, left = layout_shares(Layout.FOUR_90)
    assert [share.collective for share in (front, right, back, left)] == pytest.approx([0.25] * 4)
    assert (front.fore_aft, back.fore_aft, right.roll, left.roll) == pytest.approx((0.5, -0.5, 0.5, -0.5))


def test_a_mechanical_mix_gives_each_servo_its_own_control() -> None:
    collective, fore_aft, roll = layout_shares(Layout.MECHANICAL)
    assert (collective.collective, collective.cyclic) == (1.0, 0.0)
    assert (fore_aft.collective, fore_aft.fore_aft) == (0.0, 1.0)
    assert (roll.collective, roll.roll) == (0.0, 1.0)
    with pytest.raises(BadInput, match="mechanical"):
        balls_of(Layout.MECHANICAL)


# By hand: cosine and sine of the lateral balls.
@all_cases(
    "layout, lateral, roll",
    [
        (Layout.THREE_120, -0.5, 0.866),
        (Layout.THREE_135, -0.7071, 0.7071),
        (Layout.THREE_140, -0.766, 0.643),
        (Layout.THREE_90, 0.0, 1.0),
    ],
)
def test_movement_shares_by_hand(layout: Layout, lateral: float, roll: float) -> None:
    elevator, side, other = movement_shares(balls_of(layout, 0.03), 0.03)
    assert (elevator.collective, elevator.fore_aft, elevator.roll) == pytest.approx((1.0, 1.0, 0.0))
    assert (side.fore_aft, side.roll, other.roll) == pytest.approx((lateral, roll, -roll), abs=3e-4)


COORDINATES = st.tuples(st.floats(-0.05, 0.05), st.floats(-0.05, 0.05))


@given(st.lists(COORDINATES, min_size=3, max_size=4), st.tuples(*[st.floats(-50.0, 50.0)] * 3))
def test_any_balls_balance_any_load(
    balls: list[tuple[float, float]], load: tuple[float, float, float]
) -> None:
    rows = np.array([(1.0, x / 0.05, y / 0.05) for x, y in balls])
    if np.linalg.svd(rows, compute_uv=False)[-1] < 0.1:
        return
    shares = force_shares(balls, 0.05)
    force, fore_aft, roll = load
    forces = np.array([s.collective * force + s.fore_aft * fore_aft + s.roll * roll for s in shares])
    assert rows.T @ forces == pytest.approx(np.array(load), abs=1e-6)
    judge = np.linalg.lstsq(rows.T, np.array(load), rcond=None)[0]
    assert forces == pytest.approx(judge, abs=1e-6)


@all_cases("layout", [*THREE_BALLS, Layout.FOUR_90])
def test_virtual_work_is_kept(layout: Layout) -> None:
    balls = balls_of(layout)
    pairs = list(zip(force_shares(balls), movement_shares(balls), strict=True))
    assert sum(force.collective * move.collective for force, move in pairs) == pytest.approx(1.0)
    assert sum(force.fore_aft * move.fore_aft for force, move in pairs) == pytest.approx(1.0)
    assert sum(force.roll * move.roll for force, move in pairs) == pytest.approx(1.0)
    assert sum(force.collective * move.roll for force, move in pairs) == pytest.approx(0.0, abs=1e-12)


# By hand: collective force x arm x (1/3 + 2/3 ratio), a half flybarred and two thirds flybarless.
@all_cases("ratio, part", [(0.25, 0.5), (0.5, 2.0 / 3.0)])
def test_each_of_three_at_120_degrees_carries_the_same_peak(ratio: float, part: float) -> None:
    for torque in peak_torques_nm(Layout.THREE_120, 77.4, ratio, 0.015):
        assert torque.expected == pytest.approx(part * 77.4 * 0.015)


def test_the_peak_is_the_worst_direction_of_cyclic() -> None:
    layout, collective, ratio = Layout.THREE_140, 50.0, 0.4
    peaks = peak_forces_n(layout_shares(layout), collective, ratio)
    for peak, share in zip(peaks, layout_shares(layout), strict=True):
        swept = max(
            share.collective * collective
            + ratio * collective * (share.fore_aft * math.cos(angle) + share.roll * math.sin(angle))
            for angle in (math.tau * step / 3600 for step in range(3600))
        )
        assert peak.expected == pytest.approx(swept, rel=1e-5)


def test_a_band_goes_through_to_every_servo() -> None:
    peaks = peak_forces_n(layout_shares(Layout.MECHANICAL), Band(10.0, 20.0, 40.0), 0.5)
    assert peaks == (Band(10.0, 20.0, 40.0), Band(5.0, 10.0, 20.0), Band(5.0, 10.0, 20.0))


def test_four_servos_fight_over_one_wrong_ball() -> None:
    # By hand: 10 N m/rad on 15 mm is 44.4 N/mm; 0.3 mm x 44.4/4 = 3.3 N each, signs alternating.
    forces = fight_forces_n(balls_of(Layout.FOUR_90), (0.0003, 0.0, 0.0, 0.0), 10.0 / 0.015**2)
    assert forces == pytest.approx((3.333, -3.333, 3.333, -3.333), abs=1e-3)


@given(st.sampled_from(THREE_BALLS), st.tuples(*[st.floats(-0.001, 0.001)] * 3))
def test_three_servos_never_fight(layout: Layout, errors: tuple[float, float, float]) -> None:
    assert fight_forces_n(balls_of(layout), errors, 4e4) == pytest.approx((0.0, 0.0, 0.0), abs=1e-9)


def test_a_plate_that_only_lifts_or_tilts_makes_four_servos_fight_no_more() -> None:
    tilted = tuple(0.001 + 0.02 * x - 0.01 * y for x, y in balls_of(Layout.FOUR_90, 0.03))
    assert fight_forces_n(balls_of(Layout.FOUR_90, 0.03), tilted, 4e4) == pytest.approx((0.0,) * 4, abs=1e-9)


def test_plates_that_cannot_tilt_are_refused() -> None:
    with pytest.raises(BadInput, match="one line"):
        force_shares([(0.0, 0.0), (0.01, 0.01), (0.02, 0.02)])
    with pytest.raises(BadInput, match="2 balls"):
        force_shares([(0.0, 0.0), (0.01, 0.01)])
    with pytest.raises(BadInput, match="height errors"):
        fight_forces_n(balls_of(Layout.FOUR_90), (0.0, 0.0), 1.0)
    with pytest.raises(BadInput, match="Stiffness"):
        fight_forces_n(balls_of(Layout.FOUR_90), (0.0,) * 4, -1.0)
    with pytest.raises(BadInput, match="radius"):
        balls_of(Layout.THREE_120, 0.0)
    with pytest.raises(BadInput, match="radius"):
        force_shares(balls_of(Layout.THREE_120), 0.0)
    with pytest.raises(BadInput, match="Cyclic over"):
        peak_forces_n(layout_shares(Layout.THREE_120), 1.0, -0.1)
    with pytest.raises(BadInput, match="Servo arm"):
        peak_torques_nm(Layout.THREE_120, 1.0, 0.5, 0.0)
