"""Linkages against positions worked outside the program and a textbook example.

``data/linkage_cases.csv``: 16 linkages, 105 positions, solved with mpmath at 30 digits by Newton's method
on the bare rod-length equation, continued from neutral in small steps, with numeric derivatives; a second
route with scipy.optimize.root on the free rod ends agrees to 1e-11 rad.
"""

from __future__ import annotations

import csv
import math
from pathlib import Path

import pytest

from hangar.base.errors import Unreachable
from hangar.physics.linkage import RodLink, wrapped_deg
from hangar.physics.linkage_reach import reach_limit_deg
from tests.all_cases import all_cases

CASES = Path(__file__).parent / "data" / "linkage_cases.csv"


def rows() -> list[dict[str, str]]:
    with CASES.open(newline="", encoding="utf-8") as file:
        return list(csv.DictReader(file))


def triple(text: str) -> tuple[float, float, float]:
    first, second, third = map(float, text.split())
    return first, second, third


def link_of(row: dict[str, str]) -> RodLink:
    return RodLink(
        servo_axis=triple(row["u1"]),
        servo_pivot=triple(row["O"]),
        servo_zero=triple(row["e1"]),
        arm_mm=float(row["a_mm"]),
        servo_offset_mm=float(row["s1"]),
        horn_axis=triple(row["u2"]),
        horn_pivot=triple(row["H"]),
        horn_zero=triple(row["f1"]),
        horn_mm=float(row["h_mm"]),
        horn_offset_mm=float(row["s2"]),
        rod_mm=float(row["L_mm"]),
        branch=int(row["branch_sign"]),
    )


def named(row: dict[str, str]) -> str:
    return f"{row['case']} at {row['alpha_deg']}"


SOLVED = [row for row in rows() if row["state"] != "infeasible"]
BOUND = [row for row in rows() if row["state"] == "infeasible"]


def test_the_table_holds_every_case() -> None:
    assert len(SOLVED) == 96
    assert len(BOUND) == 9


@all_cases("row", SOLVED)
def test_horn_angle_ratio_and_rod_angles_agree_with_the_reference(row: dict[str, str]) -> None:
    position = link_of(row).at(float(row["alpha_deg"]))
    assert position.horn_deg == pytest.approx(float(row["beta_deg"]), abs=1e-6)
    assert position.velocity_ratio == pytest.approx(float(row["dbeta_dalpha"]), rel=1e-6)
    assert position.torque_ratio == pytest.approx(float(row["torque_ratio_out_over_in"]), rel=1e-6)
    assert position.servo_lever_mm == pytest.approx(float(row["r_in_mm"]), rel=1e-6)
    assert position.horn_lever_mm == pytest.approx(float(row["r_out_mm"]), rel=1e-6)
    assert position.transmission_deg == pytest.approx(float(row["transmission_angle_deg"]), abs=1e-5)
    assert abs(position.servo_ball_tilt_deg) == pytest.approx(
        abs(float(row["rod_to_arm_plane_deg"])), abs=1e-5
    )
    assert abs(position.horn_ball_tilt_deg) == pytest.approx(
        abs(float(row["rod_to_horn_plane_deg"])), abs=1e-5
    )


@all_cases("row", BOUND)
def test_a_rod_that_cannot_close_is_refused(row: dict[str, str]) -> None:
    with pytest.raises(Unreachable, match="cannot close"):
        link_of(row).at(float(row["alpha_deg"]))


@all_cases("row", SOLVED)
def test_fitting_the_rod_at_neutral_gives_the_same_rod_and_branch(row: dict[str, str]) -> None:
    link = link_of(row)
    fitted = link.fitted(float(row["alpha0_deg"]), float(row["beta0_deg"]))
    assert fitted.rod_mm == pytest.approx(link.rod_mm, abs=1e-8)
    assert fitted.branch == link.branch
    deflection = fitted.deflection_deg(float(row["alpha_deg"]) - float(row["alpha0_deg"]))
    assert deflection == pytest.approx(float(row["defl_deg"]), abs=1e-6)


def test_the_textbook_four_bar_stands_as_printed() -> None:
    """Norton, "Design of Machinery", examples 4-1 and 6-7 (example numbers from memory, unverified)."""
    open_bar = RodLink.planar(40, 80, 120, (100, 0), branch=1).at(40.0)
    crossed = RodLink.planar(40, 80, 120, (100, 0), branch=-1).at(40.0)
    assert open_bar.horn_deg == pytest.approx(57.325, abs=5e-4)
    assert crossed.horn_deg == pytest.approx(-98.005, abs=5e-4)
    assert _direction_deg(open_bar.rod_direction) == pytest.approx(20.298, abs=5e-4)
    assert _direction_deg(crossed.rod_direction) == pytest.approx(-60.978, abs=1e-3)
    assert 25.0 * open_bar.velocity_ratio == pytest.approx(6.998, abs=5e-4)


def test_freudensteins_equation_holds_in_every_planar_position() -> None:
    """K1 cos(out) - K2 cos(in) + K3 = cos(in - out): Freudenstein, Trans. ASME 77, 1955."""
    arm, rod, horn, base = 40.0, 120.0, 80.0, 100.0
    constant = (arm**2 - rod**2 + horn**2 + base**2) / (2 * arm * horn)
    for branch in (1, -1):
        link = RodLink.planar(arm, horn, rod, (base, 0), branch)
        for servo_deg in range(-170, 181, 10):
            servo = math.radians(servo_deg)
            out = math.radians(link.at(servo_deg).horn_deg)
            left = base / arm * math.cos(out) - base / horn * math.cos(servo) + constant
            assert left == pytest.approx(math.cos(servo - out), abs=1e-12)


def test_end_limits_agree_with_the_triangle_of_pivots_arm_and_straight_rod() -> None:
    """Law of cosines with the rod straight with, or folded over, the horn."""
    link = RodLink.planar_from_neutral(30, 15, (60, 0))
    far = math.degrees(math.acos((30**2 + 60**2 - (link.rod_mm + 15) ** 2) / (2 * 30 * 60)))
    near = math.degrees(math.acos((30**2 + 60**2 - (link.rod_mm - 15) ** 2) / (2 * 30 * 60)))
    assert link.servo_neutral_deg + reach_limit_deg(link, 90.0) == pytest.approx(far, abs=1e-6)
    assert link.servo_neutral_deg + reach_limit_deg(link, -90.0) == pytest.approx(near, abs=1e-6)
    assert near == pytest.approx(50.179, abs=5e-4)
    assert far == pytest.approx(112.979, abs=5e-4)


def _direction_deg(direction: tuple[float, float, float]) -> float:
    return wrapped_deg(math.degrees(math.atan2(direction[1], direction[0])))
