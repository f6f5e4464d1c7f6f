"""Bus volts over time: limits, symmetry and agreement of the two ways of asking."""

from __future__ import annotations

from itertools import product
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from hangar.base.errors import BadInput, NoAnswer
from hangar.physics.network import flight_profile, pulse_response
from hangar.physics.pulse import PulseSupply
from tests.all_cases import all_cases

CASE: dict[str, Any] = {
    "voc": 8.0,
    "r0": 0.05,
    "r1": 0.03,
    "c1": 80.0,
    "rext": 0.04,
    "i_idle": 0.4,
    "kind": "current",
    "di": 5.0,
    "t_on": 0.5,
    "T": 2.0,
    "t_delay": 1.0,
    "t_end": 11.0,
}


@all_cases("kind, bulk_f", product(["current", "resistance"], [None, 40.0, 900.0]))
def test_volts_follow_the_differential_equations(kind: str, bulk_f: float | None) -> None:
    case = CASE | {"kind": kind, "r_load": 1.1, "cbulk_f": bulk_f}
    series = case["r0"] + case["rext"]

    def amps(source: float, sag: float, on: bool) -> float:
        if kind == "current":
            return float(case["i_idle"] + (case["di"] if on else 0.0))
        siemens = 1.0 / case["r_load"] if on else 0.0
        bus = (source - sag - case["i_idle"] * series) / (1.0 + siemens * series)
        return float(case["i_idle"] + siemens * bus)

    def slope(_: float, state: np.ndarray, on: bool) -> list[float]:
        current = amps(state[0], state[1], on)
        down = -current / bulk_f if bulk_f else 0.0
        return [down, (current - state[1] / case["r1"]) / case["c1"]]

    state = np.array([case["voc"], case["i_idle"] * case["r1"]])
    response = pulse_response(case)
    edges = [0.0, 1.0, 1.5, 3.0, 3.5, 5.0]
    for start, stop, on in zip(edges, edges[1:], (False, True) * 3, strict=False):
        run = solve_ivp(slope, (start, stop), state, args=(on,), rtol=1e-11, atol=1e-13)
        state = run.y[:, -1]
        bus = state[0] - state[1] - amps(state[0], state[1], on) * series
        assert response.bus_v(stop - 1e-12) == pytest.approx(bus, abs=1e-8)


def test_without_pulses_the_volts_stand_still() -> None:
    response = pulse_response(CASE | {"di": 0.0})
    assert response.minimum_v == pytest.approx(8.0 - 0.4 * 0.12, abs=1e-12)


def test_a_pulse_that_never_ends_settles_on_the_whole_resistance() -> None:
    response = pulse_response(CASE | {"t_on": 2.0, "t_end": 500.0})
    assert response.minimum_v == pytest.approx(8.0 - 5.4 * 0.12, abs=1e-9)


def test_without_a_capacitor_the_slow_resistance_acts_at_once() -> None:
    response = pulse_response(CASE | {"c1": 0.0})
    assert response.pulses[0].start_v == pytest.approx(8.0 - 5.4 * 0.12, abs=1e-12)


def test_the_last_of_equally_deep_pulses_is_the_lowest() -> None:
    assert pulse_response(CASE | {"t_end": 400.0}).time_s == pytest.approx(399.5)


@settings(max_examples=50)
@given(st.floats(0.1, 4.0), st.floats(0.1, 4.0))
def test_a_heavier_pulse_never_leaves_more_volts(one: float, other: float) -> None:
    light, heavy = sorted((one, other))
    assert pulse_response(CASE | {"di": heavy}).minimum_v <= pulse_response(CASE | {"di": light}).minimum_v


@settings(max_examples=30)
@given(st.floats(0.2, 5.0), st.sampled_from([None, 60.0, 900.0]))
def test_a_profile_of_steps_is_the_pulse_train(di: float, bulk_f: float | None) -> None:
    case = CASE | {"di": di, "cbulk_f": bulk_f}
    response = pulse_response(case)
    steps = np.arange(110)
    on = (steps >= 10) & ((steps - 10) % 20 < 5)
    supply = PulseSupply(8.0, 0.05, 0.03, 80.0, 0.04, bulk_f)
    flight = flight_profile(0.4 + di * on, 0.1, supply)
    assert flight.minimum_v == pytest.approx(response.minimum_v, abs=1e-10)
    assert flight.minimum_time_s == pytest.approx(response.time_s, abs=1e-9)


def test_currents_of_several_servos_add_up() -> None:
    supply = PulseSupply(8.0, 0.05, 0.03, 80.0)
    rows = np.array([[1.0, 2.0, 0.5], [0.5, 0.5, 0.5]])
    together = flight_profile(rows, 0.1, supply)
    assert together.bus_v.tolist() == flight_profile(rows.sum(axis=0), 0.1, supply).bus_v.tolist()


def test_finer_steps_of_the_same_current_change_nothing() -> None:
    supply = PulseSupply(8.0, 0.05, 0.03, 80.0, 0.02, 900.0)
    coarse = flight_profile([0.5, 6.0, 1.0], 1.0, supply)
    fine = flight_profile(np.repeat([0.5, 6.0, 1.0], 1000), 0.001, supply)
    assert fine.bus_v[999::1000] == pytest.approx(coarse.bus_v, abs=1e-10)


def test_a_train_beyond_the_supply_collapses() -> None:
    with pytest.raises(NoAnswer, match="no operating point: the supply collapses"):
        pulse_response(CASE | {"di": 90.0})
    with pytest.raises(NoAnswer, match="no operating point: the supply collapses"):
        flight_profile([1.0, 200.0], 0.1, PulseSupply(8.0, 0.05))


@all_cases(
    "change, message",
    [
        ({"kind": "magic"}, "allowed are current, resistance"),
        ({"voc": None}, "lacks the value 'voc'"),
        ({"r0": -0.1}, "fast_ohm = -0.1; a finite number of 0 or more"),
        ({"T": 0.0}, "T and t_end of more than 0"),
        ({"kind": "resistance", "r_load": 0.0}, "r_load = 0; more than 0"),
        ({"cbulk_f": 0.0}, "bulk_f = 0; more than 0"),
        ({"di": "much"}, "a number is allowed"),
        ({"T": 1e-9, "t_on": 1e-10}, "more than 1000000 pulses"),
    ],
)
def test_a_wrong_case_is_refused_in_one_sentence(change: dict[str, Any], message: str) -> None:
    with pytest.raises(BadInput, match=message):
        pulse_response(CASE | change)


def test_volts_outside_the_train_are_refused() -> None:
    with pytest.raises(BadInput, match="outside the train, 0 to 11 s"):
        pulse_response(CASE).bus_v(12.0)


@all_cases("current, step", [([], 0.1), ([1.0], 0.0), ([float("nan")], 0.1)])
def test_a_wrong_profile_is_refused(current: list[float], step: float) -> None:
    with pytest.raises(BadInput):
        flight_profile(current, step, PulseSupply(8.0, 0.05))
