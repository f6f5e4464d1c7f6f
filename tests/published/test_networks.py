"""Supply networks against ngspice 39 (.op, reltol 1e-9) and against closed formulas."""

from __future__ import annotations

import csv
import json
from pathlib import Path
from typing import Any

import pytest

from hangar.base.errors import NoAnswer
from hangar.physics.network import Network
from hangar.physics.regulator import buck_input_v
from hangar.physics.wire import resistance_ohm_per_m
from tests.all_cases import all_cases

DATA = Path(__file__).parent / "data"
CASES: dict[str, dict[str, Any]] = {
    case["id"]: case for case in json.loads((DATA / "networks.json").read_text())["cases"]
}
with (DATA / "ngspice_bus.csv").open(newline="") as lines:
    ROWS = list(csv.DictReader(lines))


@all_cases("case_id", CASES)
def test_every_node_and_branch_agrees_with_ngspice(case_id: str) -> None:
    solution = Network.from_dict(CASES[case_id]).solve()
    rows = [row for row in ROWS if row["case"] == case_id]
    assert len(rows) > 25
    for row in rows:
        table = solution.node_v if row["quantity"] == "node_voltage_V" else solution.branch_a
        assert table[row["name"]] == pytest.approx(float(row["value"]), abs=1e-6), row
    assert solution.residual_a < 1e-9


def test_all_545_reference_rows_belong_to_a_case() -> None:
    assert len(ROWS) == 545
    assert {row["case"] for row in ROWS} == set(CASES)


def test_the_leads_of_the_cases_are_the_wire_table() -> None:
    # 22 AWG, 0.15 m, 25 C, lay 1.02, and one 10 mohm contact.
    leg = next(e for e in CASES["a1"]["elements"] if e["name"] == "LPK_p")
    assert 0.15 * resistance_ohm_per_m(22, 25.0, stranded=True) + 0.010 == pytest.approx(
        leg["r_ohm"], abs=1e-8
    )


def test_regulators_of_the_cases_work_in_the_state_they_were_made_to_show() -> None:
    states = {
        case_id: Network.from_dict(CASES[case_id]).solve().regulators["REG"].state
        for case_id in ("d1", "d2", "d4", "d6")
    }
    assert states == {"d1": "regulating", "d2": "limiting", "d4": "regulating", "d6": "drop-out"}


def _pack(name: str, node: str, volts: float, ohm: float) -> dict[str, Any]:
    return {"type": "pack", "name": name, "pos": node, "neg": "0", "voc_v": volts, "r_ohm": ohm}


def test_two_packs_on_one_bus_share_by_the_textbook_formula() -> None:
    # V = (E1/R1 + E2/R2 - I)/(1/R1 + 1/R2): superposition.
    network = Network.from_dict(
        {
            "elements": [
                _pack("P1", "bus", 8.25, 0.05),
                _pack("P2", "bus", 7.95, 0.08),
                {"type": "load_current", "name": "L", "a": "bus", "b": "0", "i_a": 2.0},
            ]
        }
    )
    solution = network.solve()
    volts = (8.25 / 0.05 + 7.95 / 0.08 - 2.0) / (1 / 0.05 + 1 / 0.08)
    assert solution.node_v["bus"] == pytest.approx(volts, abs=1e-9)
    assert solution.branch_a["P2"] == pytest.approx((7.95 - volts) / 0.08, abs=1e-8)
    assert solution.branch_a["P2"] < 0.0


def test_isolating_diodes_let_only_the_higher_pack_work() -> None:
    elements = [
        _pack("P1", "p1", 8.25, 0.05),
        _pack("P2", "p2", 7.95, 0.08),
        {"type": "diode", "name": "D1", "a": "p1", "b": "bus", "vf_v": 0.35, "ron_ohm": 0.01},
        {"type": "diode", "name": "D2", "a": "p2", "b": "bus", "vf_v": 0.35, "ron_ohm": 0.01},
        {"type": "load_current", "name": "L", "a": "bus", "b": "0", "i_a": 2.0},
    ]
    solution = Network.from_dict({"elements": elements}).solve()
    assert solution.branch_a["D2"] == 0.0
    assert solution.node_v["bus"] == pytest.approx(8.25 - 0.35 - 2.0 * 0.06, abs=1e-9)
    elements[-1]["i_a"] = 10.0
    both = Network.from_dict({"elements": elements}).solve()
    volts = (7.90 / 0.06 + 7.60 / 0.09 - 10.0) / (1 / 0.06 + 1 / 0.09)
    assert both.node_v["bus"] == pytest.approx(volts, abs=1e-9)
    assert both.branch_a["D2"] > 0.0


def _buck(volts: float, ohm: float, power_w: float) -> Network:
    return Network.from_dict(
        {
            "elements": [
                _pack("P", "p", volts, ohm),
                {"type": "load_power", "name": "B", "a": "p", "b": "0", "p_w": power_w},
            ]
        }
    )


@all_cases("share", [0.01, 0.3, 0.7, 0.95, 0.999])
def test_constant_power_settles_on_the_upper_root(share: float) -> None:
    # Vi = (E + sqrt(E^2 - 4 R P))/2: quadratic of power through a resistance.
    power = share * 8.0**2 / (4.0 * 0.5)
    assert _buck(8.0, 0.5, power).solve().node_v["p"] == pytest.approx(
        buck_input_v(8.0, 0.5, power), abs=1e-7
    )


@all_cases("excess", [1.001, 1.1, 3.0, 100.0])
def test_more_power_than_a_quarter_of_e_squared_over_r_collapses(excess: float) -> None:
    with pytest.raises(NoAnswer, match="no operating point: the supply collapses"):
        _buck(8.0, 0.5, excess * 8.0**2 / (4.0 * 0.5)).solve()
    with pytest.raises(NoAnswer, match="no operating point: the supply collapses"):
        buck_input_v(8.0, 0.5, excess * 8.0**2 / (4.0 * 0.5))
