"""Packs against modelled cells (PyBaMM with published parameters), standards and trade anchors."""

from __future__ import annotations

import csv
import math
from itertools import pairwise
from pathlib import Path

import pytest

from hangar.physics.endurance import (
    flight_charge_ah,
    flights_per_charge,
    mean_servo_a,
    usable_ah,
)
from hangar.physics.network import Network
from hangar.physics.pack import Chemistry, parallel_bus, watt_hours
from hangar.physics.pack_charge import resting_cell_v, state_of_charge
from hangar.physics.pack_health import loaded_lines_v
from hangar.physics.pack_resistance import resistance_from_two_loads, temperature_factor
from tests.all_cases import all_cases

DATA = Path(__file__).parent / "data"


def _rows(name: str) -> list[dict[str, float]]:
    with (DATA / name).open(newline="") as lines:
        return [{key: float(value) for key, value in row.items()} for row in csv.DictReader(lines)]


OCV = _rows("ocv_pybamm.csv")
RESISTANCE = _rows("dcr_temperature_pybamm.csv")


@all_cases("row", OCV)
def test_resting_volts_are_the_modelled_cells(row: dict[str, float]) -> None:
    # PyBaMM 26.10, C/50: Li-ion with Chen 2020 (NMC 811), LiFePO4 with Prada 2013.
    assert resting_cell_v(Chemistry.LI_ION, row["soc"]) == row["Chen2020"]
    assert resting_cell_v(Chemistry.LIFEPO4, row["soc"]) == row["Prada2013"]


@all_cases("row", OCV)
def test_a_lithium_ion_cell_reads_back_its_charge(row: dict[str, float]) -> None:
    reading = state_of_charge(Chemistry.LI_ION, row["Chen2020"])
    assert reading.expected == pytest.approx(row["soc"], abs=1e-9)


@all_cases("row", OCV)
def test_lithium_iron_phosphate_edges_hold_the_modelled_charge(row: dict[str, float]) -> None:
    reading = state_of_charge(Chemistry.LIFEPO4, row["Prada2013"])
    assert reading.low - 0.05 <= row["soc"] <= reading.high + 0.051
    assert reading.expected is None


def _charge_at(column: str, volts: float) -> float:
    falling = sorted(((row[column], row["soc"]) for row in OCV), reverse=True)
    for (high_v, high), (low_v, low) in pairwise(falling):
        if low_v <= volts <= high_v:
            return low + (high - low) * (volts - low_v) / (high_v - low_v)
    raise AssertionError(volts)


@all_cases("volts", [3.75, 3.80, 3.85, 3.90, 4.00, 4.05])
def test_the_pouch_cell_table_reads_lower_than_the_modelled_pouches(volts: float) -> None:
    # Mohtat 2020 (NMC 532 pouch) and Marquis 2019 (LCO pouch): reading lower is the careful side.
    expected = state_of_charge(Chemistry.LIPO, volts).expected
    assert expected is not None
    assert expected < _charge_at("Mohtat2020", volts) + 0.02
    assert expected < _charge_at("Marquis2019", volts) + 0.02


@all_cases("row", RESISTANCE)
def test_resistance_grows_in_the_cold_like_the_modelled_cell(row: dict[str, float]) -> None:
    # IEC 61960 sequence in PyBaMM (SPMe, ORegan 2022): the law is a fit, looser where nearly empty.
    column = "R_dc_mohm_0.2C_10s_then_1C_1s"
    at_25 = next(r[column] for r in RESISTANCE if r["T_C"] == 25 and r["soc"] == row["soc"])
    tolerance = 0.15 if row["soc"] > 0.3 else 0.35
    assert temperature_factor(Chemistry.LI_ION, row["T_C"]) == pytest.approx(
        row[column] / at_25, rel=tolerance
    )


def test_two_load_resistance_of_the_worked_example() -> None:
    # IEC 61951 principle: 6.62 V at 0.4 A, 6.44 V at 2.0 A, five cells.
    measured = resistance_from_two_loads((6.62, 0.4), (6.44, 2.0), cells=5)
    assert measured.pack_ohm == pytest.approx(0.1125, abs=1e-9)
    assert measured.cell_ohm == pytest.approx(0.0225, abs=1e-9)
    # 10 mV meter, 2 A step: sqrt(2) x 10 mV / 2 A = 7 mohm.
    wide = resistance_from_two_loads((6.62, 0.5), (6.40, 2.5), cells=5)
    assert wide.uncertainty_ohm == pytest.approx(0.0071, abs=1e-4)


def test_the_published_double_a_discharge_gives_fifty_milliohm() -> None:
    # AA NiMH mid-discharge: 1.20 V at 1 A, 1.15 V at 2 A (encyclopaedia text on NiMH discharge).
    assert resistance_from_two_loads((1.20, 1.0), (1.15, 2.0), cells=1).cell_ohm == pytest.approx(0.050)


# Loaded volts, ready and recharge, by cells, mohm and amps.  Anchors outside the project: five-cell
# nickel good from 6.5 V at 1 A (trade fact); four-cell NiCd at 4.8 V is to be charged (association
# FAQ, instrument manual); two-cell Li-ion charged again at 7.0 V under 1 A (club page).
LINES = [
    (Chemistry.NIMH, 4, 30, 1.0, 5.20, 4.76),
    (Chemistry.NIMH, 5, 30, 0.5, 6.575, 6.025),
    (Chemistry.NIMH, 5, 30, 1.0, 6.50, 5.95),
    (Chemistry.NIMH, 5, 30, 3.0, 6.20, 5.65),
    (Chemistry.NIMH, 5, 10, 1.0, 6.60, 6.05),
    (Chemistry.NICD, 4, 10, 1.0, 5.24, 4.84),
    (Chemistry.NICD, 4, 10, 2.0, 5.20, 4.80),
    (Chemistry.LIPO, 2, 12, 2.0, 8.152, 7.352),
    (Chemistry.LI_ION, 2, 55, 1.0, 7.99, 7.09),
    (Chemistry.LIFEPO4, 2, 12, 3.0, 6.568, 6.388),
]


@all_cases("chemistry, cells, mohm, amps, ready, charge", LINES)
def test_load_test_lines_meet_the_trade_anchors(
    chemistry: Chemistry, cells: int, mohm: float, amps: float, ready: float, charge: float
) -> None:
    assert loaded_lines_v(chemistry, cells, amps, mohm / 1000) == pytest.approx((ready, charge), abs=1e-9)


def test_cross_charging_packs_agree_with_the_network() -> None:
    # Kirchhoff by hand against the nodal solver.
    bus = parallel_bus([(8.25, 0.06), (7.95, 0.09)], 1.0)
    elements = [
        {"type": "pack", "name": "A", "pos": "b", "neg": "0", "voc_v": 8.25, "r_ohm": 0.06},
        {"type": "pack", "name": "B", "pos": "b", "neg": "0", "voc_v": 7.95, "r_ohm": 0.09},
        {"type": "load_current", "name": "L", "a": "b", "b": "0", "i_a": 1.0},
    ]
    solution = Network.from_dict({"elements": elements}).solve()
    assert bus.bus_v == pytest.approx(solution.node_v["b"], abs=1e-9)
    assert bus.pack_a == pytest.approx((solution.branch_a["A"], solution.branch_a["B"]), abs=1e-8)
    assert bus.charging == (1,)


def test_charge_of_the_worked_sport_flight() -> None:
    # Four analog servos of 0.8 A stall and 8 mA idle, receiver 45 mA, share 0.05, 10 min: 39.5 mAh.
    current = 0.045 + 4 * mean_servo_a(0.008, 0.0, 0.8, moving_share=0.0, work_share=0.05)
    assert current == pytest.approx(0.237, abs=1e-12)
    assert 1000 * flight_charge_ah(current, 10.0) == pytest.approx(39.5, abs=1e-9)


def test_flights_of_the_worked_pack() -> None:
    # 2000 mAh, 90 % health, 0.95 of label, 30 % reserve, 300 mAh a flight: floor(1197/300) = 3.
    assert math.isclose(usable_ah(2.0, health=0.9) * 0.7, 1.197)
    assert flights_per_charge(usable_ah(2.0, health=0.9), 0.300, reserve=0.30) == 3


def test_watt_hours_are_nominal_volts_times_rated_capacity() -> None:
    # Air carriers' rule (IATA lithium battery guidance, from memory, unverified): Wh = V x Ah.
    assert watt_hours(Chemistry.LIPO, 6, 5.0) == pytest.approx(111.0)
