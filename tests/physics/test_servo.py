"""Servo motion, holding and ratings: laws and refusals."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hangar.base.errors import BadInput, NoAnswer
from hangar.base.figure import Band
from hangar.physics.servo import (
    Motion,
    MotorConstants,
    RatedRow,
    Rating,
    RatingFlag,
    ServoBuild,
    dead_band_deg,
    droop_band_deg,
    droop_deg,
    holding_current_a,
    holding_loop,
    is_plausible,
    race,
    speed_rad_s,
    stall_current_band_a,
    step_time_s,
    stiffness_nm_per_deg,
    typical_full_drive_error_deg,
    typical_idle_current_a,
    typical_no_load_current_a,
)
from hangar.physics.servo_motion import output_inertia_kg_m2
from tests.all_cases import all_cases

shares = st.floats(0.0, 0.98)
torques = st.floats(0.05, 20.0)


def _step(load_share: float = 0.3, angle_deg: float = 60.0, inertia: float = 0.002) -> float:
    return step_time_s(
        stall_torque_nm=1.5,
        no_load_rad_s=9.5,
        inertia_kg_m2=inertia,
        load_torque_nm=1.5 * load_share,
        angle_deg=angle_deg,
    )


@given(shares, shares)
def test_more_load_never_arrives_sooner(one: float, other: float) -> None:
    light, heavy = sorted((one, other))
    assert _step(light) <= _step(heavy) * (1 + 1e-12)


@given(st.floats(0.0, 180.0), st.floats(0.0, 180.0))
def test_a_longer_way_never_takes_less_time(one: float, other: float) -> None:
    near, far = sorted((one, other))
    assert _step(angle_deg=near) <= _step(angle_deg=far) * (1 + 1e-12)


@given(shares, st.floats(1e-3, 180.0), st.floats(1e-7, 0.1))
def test_the_time_puts_the_output_at_the_angle(share: float, angle_deg: float, inertia: float) -> None:
    seconds = _step(share, angle_deg, inertia)
    time_constant, settled = inertia * 9.5 / 1.5, 9.5 * (1 - share)
    reached = settled * (seconds + time_constant * math.expm1(-seconds / time_constant))
    assert math.degrees(reached) == pytest.approx(angle_deg, rel=1e-7)


def test_without_inertia_the_servo_turns_at_once_at_speed() -> None:
    assert _step(0.5, 60.0, 0.0) == pytest.approx(math.radians(60.0) / 4.75)


def test_no_way_takes_no_time() -> None:
    assert _step(angle_deg=0.0) == 0.0


@all_cases("share", [1.0, 1.0001, 7.0])
def test_a_load_at_or_above_stall_never_arrives(share: float) -> None:
    with pytest.raises(NoAnswer, match="the servo never arrives"):
        _step(share)


@all_cases(
    "name, value",
    [("stall_torque_nm", 0.0), ("no_load_rad_s", -1.0), ("inertia_kg_m2", -1e-3), ("angle_deg", math.nan)],
)
def test_an_impossible_servo_is_refused(name: str, value: float) -> None:
    given_values = {
        "stall_torque_nm": 1.0,
        "no_load_rad_s": 8.0,
        "inertia_kg_m2": 1e-3,
        "load_torque_nm": 0.1,
        "angle_deg": 60.0,
    }
    with pytest.raises(BadInput, match="was found"):
        step_time_s(**(given_values | {name: value}))


def test_a_race_shows_the_faster_servo_ahead_until_both_are_there() -> None:
    slow = Motion.with_time_constant(5.0, 0.02, 0.5, 60.0)
    fast = Motion.with_time_constant(10.0, 0.02, 0.1, 60.0)
    heat = race([slow, fast], steps=200)
    assert all(a <= b + 1e-12 for a, b in zip(*heat.angles_deg, strict=True))
    assert heat.angles_deg[0][-1] == heat.angles_deg[1][-1] == 60.0
    assert list(heat.angles_deg[0]) == sorted(heat.angles_deg[0])
    assert slow.angle_deg(slow.duration_s) == pytest.approx(60.0)
    assert slow.angle_deg(0.999 * slow.duration_s) < 60.0


def test_a_stalled_servo_stays_at_the_start_of_the_race() -> None:
    stalled = Motion.with_time_constant(5.0, 0.02, 1.3, 60.0)
    heat = race([stalled], steps=10)
    assert set(heat.angles_deg[0]) == {0.0}
    assert heat.arrivals_s == (math.inf,)


def test_speed_in_a_race_is_the_slope_of_the_angle() -> None:
    run = Motion.with_time_constant(8.0, 0.03, 0.2, 60.0)
    slope = math.radians(run.angle_deg(0.0501) - run.angle_deg(0.0499)) / 0.0002
    assert run.speed_rad_s(0.05) == pytest.approx(slope, rel=1e-5)
    assert run.speed_rad_s(10.0) == 0.0


def test_a_race_needs_servos() -> None:
    with pytest.raises(BadInput, match="at least one servo"):
        race([])


def test_rotor_and_surface_inertia_add_at_the_output() -> None:
    assert output_inertia_kg_m2(2e-9, 250.0) == pytest.approx(1.25e-4)
    assert output_inertia_kg_m2(0.0, 250.0, 0.01, 0.7) == pytest.approx(0.0049)


def _droop(load_nm: float, stall_nm: float = 2.0) -> float:
    return droop_deg(
        stall_torque_nm=stall_nm, load_torque_nm=load_nm, dead_band_half_deg=0.1, full_drive_error_deg=1.5
    )


@given(shares, shares)
def test_droop_grows_with_load_from_the_dead_band_to_full_drive(one: float, other: float) -> None:
    light, heavy = sorted((one, other))
    assert 0.1 <= _droop(2.0 * light) <= _droop(2.0 * heavy) + 1e-12 <= 1.5


@given(shares, torques)
def test_droop_is_the_same_either_way(share: float, stall_nm: float) -> None:
    load = share * stall_nm
    assert abs(_droop(-load, stall_nm)) == _droop(load, stall_nm)
    assert load == 0.0 or _droop(-load, stall_nm) < 0.0


def test_outside_the_dead_band_stiffness_is_the_slope_of_droop() -> None:
    slope = 0.5 / (_droop(1.0) - _droop(0.5))
    assert stiffness_nm_per_deg(2.0, 0.1, 1.5) == pytest.approx(slope)


@all_cases("load", [2.0, 2.5, -2.0])
def test_a_load_at_stall_drives_the_servo_back(load: float) -> None:
    with pytest.raises(NoAnswer, match="driven back"):
        _droop(load)


@all_cases("dead, full", [(-0.1, 1.5), (1.5, 1.5), (2.0, 1.5)])
def test_a_dead_band_beyond_full_drive_is_refused(dead: float, full: float) -> None:
    with pytest.raises(BadInput, match="dead band"):
        droop_deg(stall_torque_nm=1.0, load_torque_nm=0.1, dead_band_half_deg=dead, full_drive_error_deg=full)


def test_friction_widens_droop_and_may_hold_alone() -> None:
    band = droop_band_deg(
        stall_torque_nm=2.0,
        load_torque_nm=0.1,
        dead_band_half_deg=0.1,
        full_drive_error_deg=1.5,
        gear_friction_nm=0.2,
    )
    assert band.low == 0.0
    assert band.low < band.expected < band.design


@given(shares)
def test_a_digital_servo_never_holds_with_more_current_than_an_analog_one(share: float) -> None:
    analog, digital = (
        holding_current_a(stall_current_a=4.0, load_torque_nm=share, stall_torque_nm=1.0, build=build)
        for build in (ServoBuild.ANALOG, ServoBuild.DIGITAL)
    )
    assert 0.0 <= digital <= analog <= 4.0


def test_holding_a_stalling_load_draws_stall_current_and_idle() -> None:
    current = holding_current_a(
        stall_current_a=4.0,
        load_torque_nm=3.0,
        stall_torque_nm=1.0,
        build=ServoBuild.DIGITAL,
        idle_current_a=0.05,
    )
    assert current == pytest.approx(4.05)


def test_holding_loop_needs_a_moving_mass() -> None:
    with pytest.raises(BadInput, match="inertia of more than 0"):
        holding_loop(
            stall_torque_nm=1.0,
            no_load_rad_s=8.0,
            inertia_kg_m2=0.0,
            dead_band_half_deg=0.1,
            full_drive_error_deg=1.5,
        )


FOUR_ROWS = Rating.of(
    [
        RatedRow(8.4, 3.42, 9.19, 8.24),
        RatedRow(4.8, 1.90, 5.11, 4.71),
        RatedRow(6.0, 2.41, 6.46, 5.88),
        RatedRow(7.4, 3.00, 8.06, 7.26),
    ]
)


@all_cases("row", FOUR_ROWS.rows)
def test_a_rating_gives_back_its_own_rows(row: RatedRow) -> None:
    point = FOUR_ROWS.at(row.volts)
    assert (point.stall_torque_nm, point.no_load_rad_s) == (row.stall_torque_nm, row.no_load_rad_s)
    assert point.stall_current_a.expected == row.stall_current_a
    assert point.flags == frozenset()


@given(st.floats(0.0, 12.0), st.floats(0.0, 12.0))
def test_more_volts_never_give_less(one: float, other: float) -> None:
    low, high = (FOUR_ROWS.at(volts) for volts in sorted((one, other)))
    assert low.stall_torque_nm <= high.stall_torque_nm + 1e-12
    assert low.no_load_rad_s <= high.no_load_rad_s + 1e-12
    assert low.supply_current_a.expected <= high.supply_current_a.expected + 1e-12


@given(st.floats(0.0, 4.79))
def test_below_the_rating_nothing_is_better_than_in_proportion_to_volts(volts: float) -> None:
    point = FOUR_ROWS.at(volts)
    assert point.stall_torque_nm <= 1.90 * volts / 4.8 + 1e-12
    assert point.no_load_rad_s <= 5.11 * volts / 4.8 + 1e-12
    assert RatingFlag.BELOW_RATING in point.flags


def test_above_the_rating_torque_is_held_and_supply_current_rises() -> None:
    point = FOUR_ROWS.at(9.24)
    assert point.stall_torque_nm == 3.42
    assert point.stall_current_a.expected == 8.24
    assert point.supply_current_a.expected == pytest.approx(8.24 * 1.1)
    assert point.flags == {RatingFlag.ABOVE_RATING}


def test_far_below_the_rating_the_data_ends() -> None:
    assert RatingFlag.OUTSIDE_DATA in FOUR_ROWS.at(3.9).flags
    assert RatingFlag.OUTSIDE_DATA not in FOUR_ROWS.at(4.1).flags
    assert FOUR_ROWS.at(0.0).stall_torque_nm == 0.0


def test_one_row_falls_from_a_tenth_of_its_volts() -> None:
    only = Rating.of([RatedRow(6.0, 1.0, 8.0, 2.0)])
    assert only.at(3.3).stall_torque_nm == pytest.approx(0.5)
    assert only.at(0.6).no_load_rad_s == pytest.approx(0.0, abs=1e-12)
    assert only.at(3.0).stall_current_a == Band.exactly(1.0)


def test_a_falling_torque_column_is_not_carried_down() -> None:
    odd = Rating.of([RatedRow(4.8, 1.0, 6.0, 2.0), RatedRow(6.0, 0.9, 7.0, 2.2)])
    assert odd.at(2.4).stall_torque_nm == pytest.approx(0.5)


def test_a_missing_stall_current_becomes_a_band() -> None:
    silent = Rating.of([RatedRow(6.0, 1.0, 8.0), RatedRow(7.4, 1.2, 9.5, 2.9)])
    point = silent.at(6.7)
    assert point.is_current_estimated
    assert point.stall_current_a.low < point.stall_current_a.expected < point.stall_current_a.design
    assert not silent.at(7.4).is_current_estimated
    assert is_plausible(silent.rows[0]) is None


def test_held_fast_a_servo_is_its_volts_over_its_stall_current() -> None:
    assert FOUR_ROWS.stall_resistance_ohm(6.0) == pytest.approx(6.0 / 5.88)
    assert FOUR_ROWS.stall_resistance_ohm(3.0) == pytest.approx(4.8 / 4.71)


def test_speed_and_current_run_along_straight_lines() -> None:
    point = FOUR_ROWS.at(6.0)
    assert point.speed_at_rad_s(0.0) == 6.46
    assert point.speed_at_rad_s(5.0) == 0.0
    assert point.current_at_a(2.41, 0.7) == pytest.approx(5.88)
    assert point.current_at_a(0.0, 0.7) == pytest.approx(0.7)
    assert point.current_at_a(9.0, 0.7) == pytest.approx(5.88)


@all_cases("rows", [[], [RatedRow(6.0, 1.0, 8.0), RatedRow(6.0, 1.1, 8.0)]])
def test_a_rating_without_rows_or_with_twin_rows_is_refused(rows: list[RatedRow]) -> None:
    with pytest.raises(BadInput):
        Rating.of(rows)


def test_impossible_rows_are_refused() -> None:
    with pytest.raises(BadInput, match="stall_torque_nm = 0"):
        RatedRow(6.0, 0.0, 8.0)
    with pytest.raises(BadInput, match="0 V or more"):
        FOUR_ROWS.at(-1.0)
    with pytest.raises(BadInput, match="must all be more than 0"):
        stall_current_band_a(0.0, 1.0, 8.0)
    with pytest.raises(BadInput, match="more than 0 is allowed"):
        speed_rad_s(0.0)
    with pytest.raises(BadInput, match="0 or more is allowed"):
        dead_band_deg(-1.0)


MOTOR = MotorConstants.from_sheet(RatedRow(6.0, 0.3432, 6.981, 0.80), 0.18)


@given(st.floats(2.0, 8.0), st.floats(0.0, 1.0))
def test_a_motor_never_gives_more_power_than_it_takes(volts: float, load: float) -> None:
    assert 0.0 <= MOTOR.efficiency(volts, load) < 1.0


def test_a_motor_gives_most_at_half_speed() -> None:
    stall = MOTOR.stall_torque_nm(6.0)
    most = max(k * stall / 200 * MOTOR.speed_rad_s(6.0, k * stall / 200) for k in range(201))
    assert MOTOR.most_power_w(6.0) == pytest.approx(most, rel=1e-9)


def test_reversal_at_speed_peaks_at_up_to_twice_the_stall_current() -> None:
    assert 0.80 < MOTOR.reversal_current_a(6.0) <= 1.60


def test_motor_constants_need_a_stall_current_above_the_running_one() -> None:
    with pytest.raises(BadInput, match="need the stall current"):
        MotorConstants.from_sheet(RatedRow(6.0, 1.0, 8.0), 0.1)
    with pytest.raises(BadInput, match="below the stall current"):
        MotorConstants.from_sheet(RatedRow(6.0, 1.0, 8.0, 2.0), 2.0)


@all_cases("build", list(ServoBuild))
def test_typical_values_are_bands_in_order(build: ServoBuild) -> None:
    for band in (
        typical_idle_current_a(build),
        typical_no_load_current_a(2.0, build),
        typical_full_drive_error_deg(build),
    ):
        assert 0.0 < band.low < band.expected < band.design
