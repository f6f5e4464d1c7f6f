"""One loop for analog and digital servos: droop, torque at a small error, and a reading off the bench."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hangar.base.errors import BadInput
from hangar.physics.servo import dead_band_deg
from hangar.physics.servo_loop import ServoLoop
from tests.all_cases import all_cases

# Settled error of a proportional drive with dead band, simulated in time with scipy: an independent route.
DROOP = Path(__file__).parent.parent / "published" / "data" / "servo_droop.csv"
TORQUES, DEAD, FULL = st.floats(0.02, 10.0), st.floats(0.0, 3.0), st.floats(0.5, 40.0)


def _rows() -> list[dict[str, float]]:
    with DROOP.open(newline="") as file:
        return [{key: float(value) for key, value in row.items()} for row in csv.DictReader(file)]


@all_cases("row", _rows)
def test_the_error_held_is_that_of_a_simulation_in_time(row: dict[str, float]) -> None:
    loop = ServoLoop.of(row["stall_torque_Nm"], row["dead_band_half_deg"], row["full_drive_error_deg"])
    error = loop.error_deg(row["load_torque_Nm"])
    assert error == pytest.approx(row["settled_error_deg_scipy"], abs=1e-4)


# Common practice, no source: an analog servo is at full drive at 20 to 30 degrees, a digital at 1 to 2.
@all_cases(
    "torque, width, full, at_1, half",
    [(0.31, 6.0, 25.0, 0.006, 12.8), (0.31, 2.0, 1.5, 0.19, 0.84), (2.35, 5.0, 1.5, 1.23, 0.98)],
)
def test_torque_at_a_degree_and_degrees_to_half_torque(
    torque: float, width: float, full: float, at_1: float, half: float
) -> None:
    loop = ServoLoop.of(torque, dead_band_deg(width), full)
    assert loop.torque_at_1_deg_nm == pytest.approx(at_1, rel=0.05)
    assert loop.deg_to_half_torque == pytest.approx(half, abs=0.05)


@given(TORQUES, DEAD, st.floats(0.0, 2.0), FULL)
def test_torque_at_a_degree_never_rises_with_the_dead_band(
    torque: float, dead: float, more: float, full: float
) -> None:
    narrow, wide = ServoLoop.of(torque, dead, full), ServoLoop.of(torque, dead + more, full)
    assert wide.torque_at_1_deg_nm <= narrow.torque_at_1_deg_nm + 1e-12


@given(TORQUES, DEAD, FULL, st.floats(0.0, 0.999))
def test_torque_and_error_are_one_line(torque: float, dead: float, full: float, share: float) -> None:
    loop = ServoLoop.of(torque, dead, full)
    error = loop.error_deg(share * torque)
    assert error is not None
    assert loop.torque_nm(error) == pytest.approx(share * torque, abs=1e-9 * torque)
    assert loop.error_deg(torque) is None


@given(TORQUES, DEAD, st.floats(0.2, 25.0))
def test_a_reading_off_the_bench_is_kept(torque: float, dead: float, half: float) -> None:
    loop = ServoLoop.measured(torque, dead, half)
    assert loop.deg_to_half_torque == pytest.approx(half)
    assert loop.torque_nm(half) == pytest.approx(0.5 * torque)


def test_no_torque_is_refused() -> None:
    with pytest.raises(BadInput, match="above 0"):
        ServoLoop.of(0.0, 0.1, 1.5)
    with pytest.raises(BadInput, match="above 0"):
        ServoLoop.measured(1.0, 0.1, 0.0)
