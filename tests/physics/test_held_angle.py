"""The angle that servo and air agree on."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from hangar.base.errors import BadInput
from hangar.physics.held_angle import Track, held_deg
from hangar.physics.hinge_band import Profile, angles_to, coefficients
from hangar.physics.servo_loop import ServoLoop

LOOPS = st.builds(ServoLoop.of, st.floats(0.05, 5.0), st.floats(0.0, 1.0), st.floats(1.0, 30.0))
THROWS, ARMS = st.floats(5.0, 45.0), st.floats(0.3, 1.5)
MOST_NM = st.floats(0.001, 6.0)


def _track(throw: float, ratio: float) -> Track:
    angles = angles_to(throw)
    # A linkage that gives less and less surface for each degree of arm.
    travels = tuple(angle / ratio * (1.0 + 0.004 * angle) for angle in angles)
    ratios = tuple(ratio / (1.0 + 0.008 * angle) for angle in angles)
    return Track(angles, travels, ratios)


def _moments(throw: float, most: float) -> tuple[float, ...]:
    table = coefficients(Profile(0.25, 6.0, 0.0, 2.0, 4.0), throw, trailing_edge_down=False)
    return tuple(most * value for value in table.expected)


@given(LOOPS, THROWS, ARMS, MOST_NM)
def test_servo_and_air_are_in_balance_where_it_rests(
    loop: ServoLoop, throw: float, ratio: float, most: float
) -> None:
    """Against scipy's root of the same balance, written anew."""
    track, moments = _track(throw, ratio), _moments(throw, most)

    def row(values: tuple[float, ...], x: float) -> float:
        return float(np.interp(x, track.angles_deg, values))

    def left(x: float) -> float:
        error = track.travels_deg[-1] - row(track.travels_deg, x)
        return 0.9 * loop.torque_nm(error) / row(track.ratios, x) - row(moments, x)

    held = held_deg(track, moments, loop, told_deg=throw, gain=0.9)
    if left(0.0) < 0.0:
        assert held == 0.0
    else:
        assert held == pytest.approx(brentq(left, 0.0, throw, xtol=1e-9), abs=2e-3)


@given(LOOPS, THROWS, ARMS, MOST_NM, st.floats(1.0, 3.0))
def test_more_torque_a_second_servo_and_less_speed_never_hold_less(
    loop: ServoLoop, throw: float, ratio: float, most: float, more: float
) -> None:
    track, moments = _track(throw, ratio), _moments(throw, most)
    held = held_deg(track, moments, loop, told_deg=throw, gain=0.9)
    stronger = ServoLoop(more * loop.stall_torque_nm, loop.dead_band_deg, loop.full_drive_deg)
    slower = tuple(moment / more for moment in moments)
    stiffer = ServoLoop.of(loop.stall_torque_nm, loop.dead_band_deg, loop.full_drive_deg / more)
    assert held_deg(track, moments, stronger, told_deg=throw, gain=0.9) >= held - 2e-3
    assert held_deg(track, moments, loop, told_deg=throw, gain=0.9 * more) >= held - 2e-3
    assert held_deg(track, slower, loop, told_deg=throw, gain=0.9) >= held - 2e-3
    assert held_deg(track, moments, stiffer, told_deg=throw, gain=0.9) >= held - 2e-3


@given(LOOPS, THROWS, ARMS, MOST_NM, st.floats(0.1, 1.0))
def test_less_told_is_never_more_held(
    loop: ServoLoop, throw: float, ratio: float, most: float, share: float
) -> None:
    track, moments = _track(throw, ratio), _moments(throw, most)
    whole = held_deg(track, moments, loop, told_deg=throw, gain=0.9)
    part = held_deg(track, moments, loop, told_deg=share * throw, gain=0.9)
    assert 0.0 <= part <= share * throw + 1e-9
    assert part <= whole + 2e-3


def test_a_spring_by_hand() -> None:
    # Arm to surface one to one, a servo of 1 N m over 10 degrees, 0.1 N m for each degree of surface:
    # x = (20 - x) -> 10 degrees.
    track = Track((0.0, 10.0, 20.0), (0.0, 10.0, 20.0), (1.0, 1.0, 1.0))
    held = held_deg(track, (0.0, 1.0, 2.0), ServoLoop(1.0, 0.0, 10.0), told_deg=20.0, gain=1.0)
    assert held == pytest.approx(10.0)
    # Next to no load is held at the edge of the dead band.
    light = held_deg(track, (0.0, 0.0, 1e-6), ServoLoop(1.0, 0.5, 10.0), told_deg=20.0, gain=1.0)
    assert light == pytest.approx(19.5, abs=1e-4)


def test_tables_that_do_not_fit_are_refused() -> None:
    with pytest.raises(BadInput, match="fit"):
        held_deg(Track((0.0,), (0.0,), (1.0,)), (0.0, 1.0), ServoLoop(1.0, 0.0, 1.0), told_deg=1.0, gain=1.0)
