"""Servo motion and holding against scipy simulations and published data sheets."""

from __future__ import annotations

import csv
import math
from pathlib import Path

import numpy as np
import pytest
from scipy.integrate import solve_ivp
from scipy.special import lambertw

from hangar.physics.servo import (
    MotorConstants,
    RatedRow,
    Rating,
    ServoBuild,
    dead_band_deg,
    droop_deg,
    holding_loop,
    is_plausible,
    speed_rad_s,
    stall_current_band_a,
    step_time_s,
)
from tests.all_cases import all_cases

DATA = Path(__file__).parent / "data"


def _rows(name: str) -> list[dict[str, str]]:
    with (DATA / name).open(newline="") as lines:
        return list(csv.DictReader(lines))


@all_cases("row", _rows("servo_step.csv"))
def test_step_times_agree_with_the_integrated_equation_of_motion(row: dict[str, str]) -> None:
    # scipy 1.17 solve_ivp, rtol 1e-11.
    seconds = step_time_s(
        stall_torque_nm=float(row["stall_torque_Nm"]),
        no_load_rad_s=float(row["noload_speed_rad_s"]),
        inertia_kg_m2=float(row["J_out_kgm2"]),
        load_torque_nm=float(row["load_torque_Nm"]),
        angle_deg=float(row["angle_deg"]),
    )
    assert seconds == pytest.approx(float(row["t_s_scipy_solve_ivp"]), abs=1e-6)


@all_cases(
    "stall, speed, inertia, load, angle",
    [
        (0.5, 8.0, 0.001, 0.2, 45.0),
        (4.0, 12.0, 0.02, 3.9, 5.0),
        (1.0, 20.0, 1e-5, 0.0, 90.0),
        (2.0, 9.0, 0.003, -0.5, 30.0),
    ],
)
def test_other_step_times_agree_with_a_fresh_integration(
    stall: float, speed: float, inertia: float, load: float, angle: float
) -> None:
    target = math.radians(angle)

    def motion(_: float, state: np.ndarray) -> list[float]:
        return [state[1], (stall * (1.0 - state[1] / speed) - load) / inertia]

    def arrival(_: float, state: np.ndarray) -> float:
        return float(state[0] - target)

    arrival.terminal = True  # type: ignore[attr-defined]
    run = solve_ivp(motion, (0.0, 60.0), [0.0, 0.0], method="LSODA", events=arrival, rtol=1e-11, atol=1e-13)
    seconds = step_time_s(
        stall_torque_nm=stall,
        no_load_rad_s=speed,
        inertia_kg_m2=inertia,
        load_torque_nm=load,
        angle_deg=angle,
    )
    assert run.t_events is not None
    assert seconds == pytest.approx(float(run.t_events[0][0]), abs=1e-6)


@all_cases("angle_deg", [0.5, 5.0, 60.0, 120.0])
def test_step_time_is_the_lambert_w_formula(angle_deg: float) -> None:
    # t = Tm (1 + a + W0(-exp(-(1 + a)))); scipy.special.lambertw.
    time_constant, settled = 0.002 * 9.5 / 1.5, 9.5 * (1 - 0.5 / 1.5)
    a = math.radians(angle_deg) / (settled * time_constant)
    expected = time_constant * (1 + a + float(lambertw(-math.exp(-(1 + a))).real))
    seconds = step_time_s(
        stall_torque_nm=1.5, no_load_rad_s=9.5, inertia_kg_m2=0.002, load_torque_nm=0.5, angle_deg=angle_deg
    )
    assert seconds == pytest.approx(expected, rel=1e-6)


@all_cases("row", _rows("servo_droop.csv"))
def test_droop_agrees_with_the_settled_simulation(row: dict[str, str]) -> None:
    degrees = droop_deg(
        stall_torque_nm=float(row["stall_torque_Nm"]),
        load_torque_nm=float(row["load_torque_Nm"]),
        dead_band_half_deg=float(row["dead_band_half_deg"]),
        full_drive_error_deg=float(row["full_drive_error_deg"]),
    )
    assert degrees == pytest.approx(float(row["settled_error_deg_scipy"]), abs=1e-4)


# Published technical sheet of an analog standard servo, columns 4.8 and 6.0 V (the 6.0 V column
# also in D. Roberts, Making Things Move, 2011, p. 136).
ANALOG = Rating.of(
    [RatedRow(4.8, 0.2942, 5.512, 0.70), RatedRow(6.0, 0.3432, 6.981, 0.80)], ServoBuild.ANALOG
)


def test_constants_of_the_published_analog_servo() -> None:
    motor = MotorConstants.from_sheet(ANALOG.rows[1], 0.18)
    assert motor.resistance_ohm == pytest.approx(7.50, abs=0.005)
    assert motor.torque_nm_per_a == pytest.approx(0.5535, abs=5e-5)
    assert motor.volts_s_per_rad == pytest.approx(0.6661, abs=5e-5)
    assert motor.gear_efficiency == pytest.approx(0.831, abs=5e-4)
    assert motor.is_consistent()
    assert motor.current_a(6.0, 0.15) == pytest.approx(0.451, abs=5e-4)
    assert motor.speed_rad_s(6.0, 0.15) == pytest.approx(3.930, abs=5e-4)
    assert motor.efficiency(6.0, 0.15) == pytest.approx(0.218, abs=5e-4)
    # The sheet's own ends of the torque-speed line come back.
    assert motor.stall_torque_nm(6.0) == pytest.approx(0.3432, rel=1e-12)
    assert motor.speed_rad_s(6.0, 0.0) == pytest.approx(6.981, rel=1e-12)


# Published data sheets with all four numbers: volts, N m, rad/s, A, apparent efficiency.
SHEETS = [
    (4.8, 0.2942, 5.512, 0.70, 0.483),
    (6.0, 0.3432, 6.981, 0.80, 0.499),
    (11.1, 10.0, 2.932, 4.2, 0.629),
    (12.0, 10.6, 3.142, 4.4, 0.631),
    (14.8, 12.9, 3.875, 5.5, 0.614),
    (11.1, 8.8, 3.875, 4.5, 0.683),
    (12.0, 9.5, 4.189, 4.9, 0.677),
    (14.8, 11.2, 5.027, 5.9, 0.645),
    (8.4, 6.864, 9.520, 10.5, 0.741),
]


@all_cases("volts, torque, speed, amps, efficiency", SHEETS)
def test_published_stall_currents_lie_in_the_estimated_band(
    volts: float, torque: float, speed: float, amps: float, efficiency: float
) -> None:
    row = RatedRow(volts, torque, speed, amps)
    assert row.plausibility == pytest.approx(efficiency, abs=6e-4)
    assert is_plausible(row)
    band = stall_current_band_a(volts, torque, speed, ServoBuild.ANALOG)
    assert band.low < amps < band.design


def test_a_sheet_that_gives_more_than_it_takes_is_not_believed() -> None:
    # A large digital servo's sheet: 8.156 N m, 10.472 rad/s, 10.1 A at 8.4 V is 1.007.
    assert is_plausible(RatedRow(8.4, 8.156, 10.472, 10.1)) is False


def test_stall_current_of_the_worked_example() -> None:
    # 20 kgf cm, 0.10 s, 7.4 V: 20.54 W of torque times speed.
    torque, speed = 20 * 0.0980665, speed_rad_s(0.10)
    digital = stall_current_band_a(7.4, torque, speed)
    assert (digital.low, digital.expected, digital.design) == pytest.approx((3.08, 4.27, 4.63), abs=0.006)
    assert stall_current_band_a(7.4, torque, speed, ServoBuild.ANALOG).design == pytest.approx(
        6.17, abs=0.005
    )


def test_readings_between_and_beyond_the_published_columns() -> None:
    middle = ANALOG.at(5.5)
    assert middle.stall_torque_nm == pytest.approx(0.3228, abs=5e-5)
    assert middle.no_load_rad_s == pytest.approx(6.369, abs=5e-4)
    assert middle.stall_current_a.expected == pytest.approx(0.7583, abs=5e-5)
    low = ANALOG.at(4.4)
    assert low.stall_torque_nm == pytest.approx(0.2697, abs=5e-5)
    assert low.no_load_rad_s == pytest.approx(5.022, abs=5e-4)
    high = ANALOG.at(6.6)
    assert high.stall_torque_nm == 0.3432
    assert high.supply_current_a.expected == pytest.approx(0.88, abs=1e-9)


def test_damping_of_the_proportional_loop() -> None:
    # Second-order loop: analog 1.24 without overshoot, digital 0.22.
    analog = holding_loop(
        stall_torque_nm=0.35,
        no_load_rad_s=7.0,
        inertia_kg_m2=0.01 * 0.35 / 7.0,
        dead_band_half_deg=0.0,
        full_drive_error_deg=math.degrees(0.43),
    )
    digital = holding_loop(
        stall_torque_nm=1.5,
        no_load_rad_s=9.5,
        inertia_kg_m2=0.0127 * 1.5 / 9.5,
        dead_band_half_deg=0.0,
        full_drive_error_deg=math.degrees(0.0236),
    )
    assert analog.damping_ratio == pytest.approx(1.24, abs=0.005)
    assert digital.damping_ratio == pytest.approx(0.22, abs=0.005)


def test_dead_band_by_the_common_scale() -> None:
    # Common practice, no source: 90 degrees for 1000 us.
    assert (dead_band_deg(5.0), dead_band_deg(1.0)) == pytest.approx((0.45, 0.09))
