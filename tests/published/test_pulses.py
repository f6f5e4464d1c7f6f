"""Pulsed supplies against ngspice 39 (.tran, 1 ms, trapezoidal) and against scipy's linear filter."""

from __future__ import annotations

import csv
import json
import math
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from scipy.signal import lfilter

from hangar.physics.network import flight_profile, pulse_response
from hangar.physics.pulse import PulseSupply
from tests.all_cases import all_cases

DATA = Path(__file__).parent / "data"
CASES: dict[str, dict[str, Any]] = {
    case["id"]: case for case in json.loads((DATA / "pulse_cases.json").read_text())["cases"]
}


def _rows(name: str) -> list[dict[str, str]]:
    with (DATA / name).open(newline="") as lines:
        return list(csv.DictReader(lines))


SUMMARY = {row["case"]: row for row in _rows("ngspice_pulse_summary.csv")}
TOLERANCE_V = 2e-4


@all_cases("case_id", CASES)
def test_lowest_volts_and_their_time_agree_with_ngspice(case_id: str) -> None:
    response = pulse_response(CASES[case_id])
    row = SUMMARY[case_id]
    assert response.minimum_v == pytest.approx(float(row["v_min_V"]), abs=TOLERANCE_V)
    assert response.time_s == pytest.approx(float(row["t_of_min_s"]), abs=2e-3)


@all_cases("case_id", CASES)
def test_first_and_last_pulse_agree_with_ngspice(case_id: str) -> None:
    pulses = pulse_response(CASES[case_id]).pulses
    row = SUMMARY[case_id]
    assert len(pulses) == int(row["number_of_pulses"])
    for volts, column in (
        (pulses[0].start_v, "v_start_of_first_pulse_V"),
        (pulses[0].end_v, "v_end_of_first_pulse_V"),
        (pulses[-1].end_v, "v_end_of_last_full_pulse_V"),
        (pulses[-1].before_v, "v_just_before_last_pulse_V"),
    ):
        assert volts == pytest.approx(float(row[column]), abs=TOLERANCE_V), column


@all_cases("case_id", CASES)
def test_volts_agree_with_ngspice_at_every_sample_off_the_edges(case_id: str) -> None:
    response = pulse_response(CASES[case_id])
    edges = [edge for pulse in response.pulses for edge in (pulse.start_s, pulse.end_s)]
    compared = 0
    for row in _rows("ngspice_pulse.csv"):
        time_s = float(row["t_s"])
        if row["case"] != case_id or any(abs(time_s - edge) < 2e-3 for edge in edges):
            continue
        compared += 1
        assert response.bus_v(time_s) == pytest.approx(float(row["v_bus_V"]), abs=TOLERANCE_V), time_s
    assert compared > 900


def test_end_of_each_pulse_follows_the_geometric_series() -> None:
    # V_k = E - (I0+dI)(R0+Rext) - I0 R1 - dI R1 (1-a)(1-(ab)^k)/(1-ab): sum of a geometric series.
    case = CASES["t2"]
    tau = case["r1"] * case["c1"]
    a, b = math.exp(-case["t_on"] / tau), math.exp(-(case["T"] - case["t_on"]) / tau)
    steady = (
        case["voc"]
        - (case["i_idle"] + case["di"]) * (case["r0"] + case["rext"])
        - case["i_idle"] * case["r1"]
    )
    for k, pulse in enumerate(pulse_response(case).pulses, start=1):
        sag = case["di"] * case["r1"] * (1 - a) * (1 - (a * b) ** k) / (1 - a * b)
        assert pulse.end_v == pytest.approx(steady - sag, abs=1e-12)


@all_cases("tau_s", [0.0007, 0.05, 3.0, 400.0])
def test_a_flight_profile_is_the_first_order_filter_of_its_current(tau_s: float) -> None:
    # scipy.signal.lfilter runs the same recursion sample by sample.
    rng = np.random.default_rng(3)
    current = rng.uniform(0.1, 5.0, 20_000)
    supply = PulseSupply(8.2, 0.03, 0.015, tau_s / 0.015, 0.035)
    keep = math.exp(-0.001 / tau_s)
    start = current[0] * 0.015
    sag, _ = lfilter([(1 - keep) * 0.015], [1.0, -keep], current, zi=[keep * start])
    expected = 8.2 - 0.065 * current - sag
    assert np.max(np.abs(flight_profile(current, 0.001, supply).bus_v - expected)) < 1e-12


@all_cases("case_id", ["t1", "t2", "t5"])
def test_a_flight_profile_of_pulses_has_the_lowest_volts_of_ngspice(case_id: str) -> None:
    case = CASES[case_id]
    step = 0.001
    times = (np.arange(round(case["t_end"] / step)) + 0.5) * step - case["t_delay"]
    on = (times > 0.0) & (np.mod(times, case["T"]) < case["t_on"])
    supply = PulseSupply(case["voc"], case["r0"], case["r1"], case["c1"], case["rext"], case.get("cbulk_f"))
    flight = flight_profile(case["i_idle"] + case["di"] * on, step, supply)
    assert flight.minimum_v == pytest.approx(float(SUMMARY[case_id]["v_min_V"]), abs=TOLERANCE_V)
    assert flight.minimum_time_s == pytest.approx(float(SUMMARY[case_id]["t_of_min_s"]), abs=2e-3)
