"""The names people script against, called as a script would, on the reference rows.

The rows are those of ``data/``; who made them stands in the test module of each subject.
"""

from __future__ import annotations

import csv
import inspect
import json
import math
from pathlib import Path
from typing import Any

import pytest

from hangar.base.errors import BadInput, HangarError, NoAnswer, OutOfValidity, Unreachable
from hangar.base.figure import Band
from hangar.physics import air, balance, linkage, network, servo, surface, wire
from tests.all_cases import all_cases

DATA = Path(__file__).parent / "data"


def _rows(name: str) -> list[dict[str, str]]:
    with (DATA / name).open(newline="", encoding="utf-8") as lines:
        return list(csv.DictReader(lines))


def _named(function: Any) -> list[tuple[str, Any]]:
    return [(name, parameter.default) for name, parameter in inspect.signature(function).parameters.items()]


def test_density_takes_an_altitude_and_an_optional_temperature() -> None:
    # US Standard Atmosphere 1976, geometric height.
    assert air.density_kg_m3(1000.0) == pytest.approx(1.11166, abs=6e-6)
    assert air.density_kg_m3(altitude_m=0.0, temperature_c=35.0) == pytest.approx(
        101325.0 / (287.05287 * 308.15), rel=1e-9
    )
    assert air.density_kg_m3(1000.0, None) == air.density_kg_m3(1000.0)


def test_section_slopes_answer_under_their_three_names() -> None:
    slopes = surface.section_slopes(0.25)
    # Thin-aerofoil theory in closed form, five figures.
    assert slopes.b1_per_rad == pytest.approx(-0.56535, abs=5e-6)
    assert slopes.b2_per_rad == pytest.approx(-0.94361, abs=5e-6)
    assert slopes.effectiveness == pytest.approx(0.60900, abs=5e-6)


def test_the_hinge_coefficient_is_a_band_over_every_converged_row() -> None:
    first = inspect.signature(surface.hinge_coefficient).parameters
    assert list(first)[:6] == [
        "flap_ratio",
        "deflection_deg",
        "alpha_deg",
        "reynolds",
        "aspect_ratio",
        "mach",
    ]
    assert first["reynolds"].kind is inspect.Parameter.KEYWORD_ONLY
    assert (first["aspect_ratio"].default, first["mach"].default) == (None, 0.0)
    judged = 0
    for row in _rows("xfoil_hinge.csv"):
        if row["converged"] != "1" or float(row["Re"]) == 0.0:
            continue
        band = surface.hinge_coefficient(
            float(row["E"]), float(row["delta_deg"]), float(row["alpha_deg"]), reynolds=float(row["Re"])
        )
        judged += 1
        assert isinstance(band, Band)
        assert 0.0 <= band.low <= band.expected <= band.design
        assert abs(float(row["ch_flapchord"])) <= band.design
    assert judged == 856


def test_wire_resistance_takes_gauge_temperature_and_stranding() -> None:
    assert _named(wire.resistance_ohm_per_m) == [
        ("awg", inspect.Parameter.empty),
        ("temperature_c", 20.0),
        ("stranded", False),
    ]
    # NBS copper wire tables as reprinted: 22 AWG 16.14 ohm per 1000 ft.
    assert wire.resistance_ohm_per_m(22) * 304.8 == pytest.approx(16.14, rel=5e-4)
    assert wire.resistance_ohm_per_m(20, 25.0, True) == pytest.approx(0.03464, abs=5e-6)
    assert wire.resistance_ohm_per_m("0000") < wire.resistance_ohm_per_m(36)


@all_cases("case", json.loads((DATA / "networks.json").read_text())["cases"])
def test_a_network_is_read_from_plain_data_and_solved(case: dict[str, Any]) -> None:
    solution = network.Network.from_dict({"elements": case["elements"]}).solve()
    for row in _rows("ngspice_bus.csv"):
        if row["case"] == case["id"]:
            values = solution.node_v if row["quantity"] == "node_voltage_V" else solution.branch_a
            assert values[row["name"]] == pytest.approx(float(row["value"]), abs=1e-6)


@all_cases("case", json.loads((DATA / "pulse_cases.json").read_text())["cases"])
def test_a_pulse_case_gives_its_lowest_volts_and_their_time(case: dict[str, Any]) -> None:
    row = next(row for row in _rows("ngspice_pulse_summary.csv") if row["case"] == case["id"])
    response = network.pulse_response(case)
    assert response.minimum_v == pytest.approx(float(row["v_min_V"]), abs=2e-4)
    assert response.time_s == pytest.approx(float(row["t_of_min_s"]), abs=2e-3)


def test_step_time_and_droop_are_asked_by_keyword_alone() -> None:
    for row in _rows("servo_step.csv"):
        assert servo.step_time_s(
            stall_torque_nm=float(row["stall_torque_Nm"]),
            no_load_rad_s=float(row["noload_speed_rad_s"]),
            inertia_kg_m2=float(row["J_out_kgm2"]),
            load_torque_nm=float(row["load_torque_Nm"]),
            angle_deg=float(row["angle_deg"]),
        ) == pytest.approx(float(row["t_s_scipy_solve_ivp"]), abs=1e-6)
    for row in _rows("servo_droop.csv"):
        assert servo.droop_deg(
            stall_torque_nm=float(row["stall_torque_Nm"]),
            load_torque_nm=float(row["load_torque_Nm"]),
            dead_band_half_deg=float(row["dead_band_half_deg"]),
            full_drive_error_deg=float(row["full_drive_error_deg"]),
        ) == pytest.approx(float(row["settled_error_deg_scipy"]), abs=1e-4)
    for function in (servo.step_time_s, servo.droop_deg):
        kinds = {parameter.kind for parameter in inspect.signature(function).parameters.values()}
        assert kinds == {inspect.Parameter.KEYWORD_ONLY}


def test_a_rod_link_is_built_by_position_from_the_columns_of_the_table() -> None:
    def triple(text: str) -> tuple[float, ...]:
        return tuple(map(float, text.split()))

    for row in _rows("linkage_cases.csv"):
        link = linkage.RodLink(
            triple(row["u1"]), triple(row["O"]), triple(row["e1"]), float(row["a_mm"]), float(row["s1"]),
            triple(row["u2"]), triple(row["H"]), triple(row["f1"]), float(row["h_mm"]), float(row["s2"]),
            float(row["L_mm"]), int(row["branch_sign"]),
        )  # fmt: skip
        if row["state"] == "infeasible":
            with pytest.raises(Unreachable):
                link.at(float(row["alpha_deg"]))
            continue
        position = link.at(float(row["alpha_deg"]))
        assert position.horn_deg == pytest.approx(float(row["beta_deg"]), abs=1e-6)
        assert position.velocity_ratio == pytest.approx(float(row["dbeta_dalpha"]), rel=1e-6)
        assert position.transmission_deg == pytest.approx(float(row["transmission_angle_deg"]), abs=1e-5)


def test_a_centre_of_gravity_and_a_shift() -> None:
    # FAA-H-8083-25, weight and balance chapter: 84.8 and 1.5 (see test_balance.py).
    items = [(2100, 78.3), (340, 85.0), (350, 121.0), (450, 75.0), (80, 150.0)]
    assert balance.centre_of_gravity_mm(items) == pytest.approx(84.768, abs=5e-4)
    assert balance.centre_of_gravity_mm(iter(items)) == balance.centre_of_gravity_mm(items)
    assert balance.shift_mm(100, 120, 8000) == pytest.approx(1.5)


def test_what_cannot_be_answered_is_refused_by_its_own_error() -> None:
    four_bar = linkage.RodLink.planar(40, 80, 20, (100, 0))
    for asked, error in (
        (lambda: four_bar.at(180.0), Unreachable),
        (lambda: four_bar.at(math.nan), BadInput),
        (lambda: air.density_kg_m3(30_000.0), OutOfValidity),
        (lambda: surface.hinge_coefficient(0.25, 60.0, 0.0, reynolds=5e5), OutOfValidity),
        (lambda: wire.resistance_ohm_per_m(60), BadInput),
        (lambda: network.Network.from_dict({"elements": []}), BadInput),
        (lambda: network.Network.from_dict(None), BadInput),  # type: ignore[arg-type]
        (lambda: network.Network.from_dict({"elements": ["pack"]}), BadInput),
        (lambda: network.pulse_response([]), BadInput),  # type: ignore[arg-type]
        (lambda: balance.centre_of_gravity_mm([]), BadInput),
        (
            lambda: servo.droop_deg(
                stall_torque_nm=1.0, load_torque_nm=1.0, dead_band_half_deg=0.4, full_drive_error_deg=20.0
            ),
            NoAnswer,
        ),
    ):
        with pytest.raises(error) as refusal:
            asked()
        assert isinstance(refusal.value, HangarError)
        assert "\n" not in str(refusal.value)
