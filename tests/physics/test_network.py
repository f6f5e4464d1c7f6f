"""Laws that every supply network obeys, whatever its values."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from hangar.base.errors import BadInput, NoAnswer
from hangar.physics.network import Network, Solution
from hangar.physics.network_elements import CurrentLoad, Resistor
from tests.all_cases import all_cases

Plain = dict[str, Any]


def _pack(volts: float = 8.0, ohm: float = 0.05, **other: Any) -> Plain:
    return {"type": "pack", "name": "P", "pos": "p", "neg": "0", "voc_v": volts, "r_ohm": ohm} | other


def _resistor(name: str, a: str, b: str, ohm: float) -> Plain:
    return {"type": "resistor", "name": name, "a": a, "b": b, "r_ohm": ohm}


def _load(amps: float, a: str = "bus", b: str = "0", name: str = "L") -> Plain:
    return {"type": "load_current", "name": name, "a": a, "b": b, "i_a": amps}


def _solve(*elements: Plain) -> Solution:
    return Network.from_dict({"elements": list(elements)}).solve()


def _regulator(kind: str, **other: Any) -> Plain:
    return {
        "type": "regulator",
        "name": "REG",
        "inp": "p",
        "out": "bus",
        "gnd": "0",
        "kind": kind,
        "vset_v": 6.0,
        "vdrop_v": 0.5,
        "rdrop_ohm": 0.02,
        "rreg_ohm": 0.01,
        "ilim_a": 5.0,
        "iq_a": 0.015,
        "eff": 0.88,
    } | other


loads = st.lists(
    st.one_of(
        st.fixed_dictionaries({"type": st.just("load_current"), "i_a": st.floats(0.0, 1.0)}),
        st.fixed_dictionaries({"type": st.just("load_resistance"), "r_ohm": st.floats(2.0, 100.0)}),
        st.fixed_dictionaries({"type": st.just("load_power"), "p_w": st.floats(0.0, 4.0)}),
        st.fixed_dictionaries(
            {"type": st.just("load_servo"), "r_ohm": st.floats(1.0, 10.0), "i_run_a": st.floats(0.0, 3.0)}
        ),
    ),
    min_size=1,
    max_size=12,
)


def _on_a_bus(parts: list[Plain], *, volts: float = 8.0) -> list[Plain]:
    elements = [_pack(volts), _resistor("SW", "p", "bus", 0.03)]
    for k, part in enumerate(parts):
        elements.append(_resistor(f"A{k}", "bus", f"s{k}", 0.06))
        elements.append(_resistor(f"B{k}", "0", f"g{k}", 0.06))
        elements.append(part | {"name": f"S{k}", "a": f"s{k}", "b": f"g{k}"})
    return elements


@settings(max_examples=60)
@given(loads)
def test_currents_balance_and_no_more_power_comes_out_than_goes_in(parts: list[Plain]) -> None:
    try:
        solution = _solve(*_on_a_bus(parts))
    except NoAnswer:
        assume(False)
    assert solution.residual_a < 1e-9
    given_w = solution.across_v["P"] * solution.branch_a["P"]
    used_w = sum(solution.across_v[name] * amps for name, amps in solution.branch_a.items() if name != "P")
    assert used_w == pytest.approx(given_w, abs=1e-6)
    served_w = sum(solution.across_v[f"S{k}"] * solution.branch_a[f"S{k}"] for k in range(len(parts)))
    assert served_w <= given_w + 1e-9


@settings(max_examples=40)
@given(loads, st.floats(0.05, 2.0))
def test_one_more_load_never_raises_any_servo_volts(parts: list[Plain], extra_a: float) -> None:
    try:
        less = _solve(*_on_a_bus(parts))
        more = _solve(*_on_a_bus(parts), _load(extra_a))
    except NoAnswer:
        assume(False)
    for k in range(len(parts)):
        assert more.across_v[f"S{k}"] <= less.across_v[f"S{k}"] + 1e-9


@settings(max_examples=40)
@given(loads, st.randoms(use_true_random=False))
def test_order_of_elements_does_not_matter(parts: list[Plain], shuffler: Any) -> None:
    elements = _on_a_bus(parts)
    try:
        solution = _solve(*elements)
    except NoAnswer:
        assume(False)
    shuffler.shuffle(elements)
    assert _solve(*elements).node_v == pytest.approx(solution.node_v, abs=1e-8)


def test_equal_servos_on_equal_leads_get_equal_volts() -> None:
    solution = _solve(*_on_a_bus([{"type": "load_resistance", "r_ohm": 2.5}] * 3))
    assert solution.across_v["S0"] == pytest.approx(solution.across_v["S2"], abs=1e-12)


def test_minus_leg_rises_by_as_much_as_the_plus_leg_falls() -> None:
    solution = _solve(*_on_a_bus([{"type": "load_current", "i_a": 2.0}]))
    fall = solution.node_v["bus"] - solution.node_v["s0"]
    assert solution.node_v["g0"] == pytest.approx(fall, abs=1e-9)
    assert fall == pytest.approx(0.12, abs=1e-9)


def test_series_lead_and_pack_follow_ohms_law() -> None:
    solution = _solve(_pack(6.6, 0.12), _resistor("R", "p", "bus", 0.08), _load(4.0))
    assert solution.node_v["bus"] == pytest.approx(6.6 - 4.0 * 0.20, abs=1e-9)
    assert solution.branch_a["P"] == pytest.approx(4.0, abs=1e-9)


@all_cases("ohm", [0.0, 1e-9, 1e-6, 1e-3])
def test_parts_of_almost_no_resistance_are_solved_exactly(ohm: float) -> None:
    solution = _solve(_pack(6.0, ohm), _resistor("R", "p", "bus", ohm), _load(3.0))
    assert solution.node_v["bus"] == pytest.approx(6.0 - 6.0 * ohm, abs=1e-9)
    assert solution.branch_a["R"] == pytest.approx(3.0, abs=1e-9)


def test_a_current_beyond_short_circuit_collapses() -> None:
    with pytest.raises(NoAnswer, match=r"no operating point: the supply collapses \(nothing is left for L\)"):
        _solve(_pack(8.0, 0.5), _resistor("R", "p", "bus", 0.5), _load(9.0))


def test_a_load_that_nothing_feeds_collapses() -> None:
    with pytest.raises(NoAnswer, match="the supply collapses"):
        _solve(_pack(), _load(0.1, "nowhere", "0"))


def test_a_limiting_regulator_cannot_carry_more_than_its_limit() -> None:
    with pytest.raises(NoAnswer, match=r"it carries about 8[23] % of what the loads ask"):
        _solve(_pack(), _regulator("linear"), _load(6.0))
    held = _solve(
        _pack(),
        _regulator("linear"),
        {"type": "load_resistance", "name": "L", "a": "bus", "b": "0", "r_ohm": 0.8},
    )
    assert held.regulators["REG"].state == "limiting"
    assert held.node_v["bus"] == pytest.approx(4.0, abs=1e-9)


@all_cases("kind", ["linear", "switching"])
def test_a_regulator_never_gives_more_power_than_it_takes(kind: str) -> None:
    for amps in (0.0, 0.5, 2.0, 4.9):
        point = _solve(_pack(), _regulator(kind), _load(amps)).regulators["REG"]
        assert point.output_a == pytest.approx(amps, abs=1e-9)
        assert point.heat_w >= 0.0


def test_a_linear_regulator_draws_what_it_gives_and_a_switching_one_less() -> None:
    linear = _solve(_pack(), _regulator("linear"), _load(3.0)).regulators["REG"]
    switching = _solve(_pack(), _regulator("switching"), _load(3.0)).regulators["REG"]
    assert linear.input_a == pytest.approx(3.015, abs=1e-9)
    assert switching.input_a == pytest.approx(3.0 * switching.output_v / (0.88 * switching.input_v) + 0.015)
    assert switching.input_a < linear.input_a


def test_a_switching_regulator_on_a_weak_pack_falls_into_drop_out() -> None:
    # 6 V at 4 A is 27 W at the input; 7 V behind 0.6 ohm gives 20 W at most.
    point = _solve(_pack(7.0, 0.6), _regulator("switching"), _load(4.0)).regulators["REG"]
    assert point.state == "drop-out"
    assert point.output_v == pytest.approx(point.input_v - 0.5 - 4.0 * 0.02, abs=1e-8)


def test_the_share_that_a_supply_carries_is_the_power_limit() -> None:
    # 8 V behind 0.5 ohm gives 32 W at most; 40 W behind an efficiency of 0.9 is 44.4 W: 72 %.
    regulator = _regulator("switching", eff=0.9, iq_a=0.0, ilim_a=20.0)
    load = {"type": "load_power", "name": "L", "a": "bus", "b": "0", "p_w": 40.0}
    with pytest.raises(NoAnswer, match=r"it carries about 7[12] %"):
        _solve(_pack(8.0, 0.5), regulator, load)


def test_a_moving_servo_draws_its_running_current_until_the_volts_stall_it() -> None:
    servo = {
        "type": "load_servo",
        "name": "S",
        "a": "p",
        "b": "0",
        "r_ohm": 3.0,
        "i_run_a": 1.2,
        "i_idle_a": 0.01,
    }
    assert _solve(_pack(6.0), servo).branch_a["S"] == pytest.approx(1.21, abs=1e-9)
    stalled = _solve(_pack(3.0), servo)
    assert stalled.branch_a["S"] == pytest.approx(stalled.across_v["S"] / 3.0 + 0.01, abs=1e-9)


def test_many_constant_power_loads_stay_on_the_upper_point() -> None:
    parts = [{"type": "load_power", "p_w": 3.0} for _ in range(12)]
    solution = _solve(*_on_a_bus(parts))
    assert min(solution.across_v[f"S{k}"] for k in range(12)) > 4.0


@settings(max_examples=30)
@given(st.lists(st.floats(0.5, 4.0), min_size=2, max_size=8))
def test_power_loads_collapse_only_where_more_load_is_asked(powers: list[float]) -> None:
    def stands(factor: float) -> bool:
        try:
            _solve(*_on_a_bus([{"type": "load_power", "p_w": factor * power} for power in powers]))
        except NoAnswer:
            return False
        return True

    verdicts = [stands(factor) for factor in (0.25, 1.0, 4.0, 16.0, 64.0, 1024.0)]
    assert verdicts == sorted(verdicts, reverse=True)
    assert verdicts[0]
    assert not verdicts[-1]


def test_an_island_cut_off_from_the_reference_floats_without_current() -> None:
    spare = _pack(7.4, 0.03, name="Q", pos="q", neg="qn")
    solution = _solve(_pack(), _load(1.0, "p"), spare)
    assert solution.branch_a["Q"] == pytest.approx(0.0, abs=1e-9)
    assert solution.node_v["q"] - solution.node_v["qn"] == pytest.approx(7.4, abs=1e-9)


def test_without_a_node_zero_the_first_pack_is_the_reference() -> None:
    solution = _solve(_pack(neg="minus"), _load(1.0, "p", "minus"))
    assert solution.node_v["minus"] == 0.0


def test_elements_can_be_changed_and_taken_out() -> None:
    network = Network.from_dict({"elements": [_pack(), _resistor("R", "p", "bus", 0.1), _load(1.0)]})
    assert network.with_elements(CurrentLoad("L", "bus", "0", 2.0)).solve().branch_a["P"] == pytest.approx(
        2.0
    )
    with pytest.raises(NoAnswer):
        network.without("R").solve()
    with pytest.raises(BadInput, match="no network element is named X"):
        network.with_elements(Resistor("X", "p", "bus", 1.0))
    with pytest.raises(BadInput, match="no network element is named X"):
        network.without("X")


@all_cases(
    "wrong, message",
    [
        ({"type": "lamp", "name": "X"}, "element X has type 'lamp'; allowed are diode"),
        ({"type": "resistor", "name": "X", "a": "p", "b": "0"}, "element X lacks the value 'r_ohm'"),
        ({"type": "resistor", "name": "X", "a": "p", "r_ohm": 1}, "element X lacks the node 'b'"),
        ({"type": "resistor", "name": "X", "a": "p", "b": "0", "r_ohm": -1}, "allowed is 0 or more"),
        ({"type": "load_resistance", "name": "X", "a": "p", "b": "0", "r_ohm": 0}, "allowed is more than 0"),
        ({"type": "load_current", "name": "X", "a": "p", "b": "0", "i_a": "much"}, "a number is allowed"),
        (
            {"type": "load_current", "name": "X", "a": "p", "b": "0", "i_a": float("inf")},
            "a finite number is allowed",
        ),
        ({"type": "load_current", "a": "p", "b": "0", "i_a": 1}, "without a name"),
        (_regulator("magic"), "allowed are linear, switching"),
        (_regulator("switching", eff=1.2), "eff = 1.2; allowed is more than 0 up to 1"),
        (_pack(), "two network elements are named P"),
    ],
)
def test_a_wrong_element_is_refused_in_one_sentence(wrong: Plain, message: str) -> None:
    with pytest.raises(BadInput, match=message):
        Network.from_dict({"elements": [_pack(), wrong]})


def test_a_network_needs_elements() -> None:
    with pytest.raises(BadInput, match="a network needs a list 'elements'"):
        Network.from_dict({"elements": []})
