"""Random networks on one bus against a search over the bus volts, written from the element laws alone.

Each path from a pack gives the bus a current that depends on the bus volts only, and so does each load
draw one; a point exists where the two meet, and the highest is the one reached from no load.
"""

from __future__ import annotations

import math
import random
from typing import Any

import pytest
from scipy.optimize import brentq

from hangar.base.errors import BadInput, NoAnswer
from hangar.physics.network import Network
from tests.all_cases import all_cases

Plain = dict[str, Any]
_STEADY = ("resistor", "diode", "linear")
_SAMPLES = 800


def _joint(rng: random.Random, name: str, a: str, b: str, kind: str) -> Plain:
    if kind == "resistor":
        return {"type": kind, "name": name, "a": a, "b": b, "r_ohm": rng.uniform(0.005, 0.1)}
    if kind == "diode":
        volts, ohm = rng.uniform(0.0, 0.6), rng.uniform(0.003, 0.05)
        return {"type": kind, "name": name, "a": a, "b": b, "vf_v": volts, "ron_ohm": ohm}
    return {
        "type": "regulator", "name": name, "inp": a, "out": b, "gnd": "0", "kind": kind,
        "vset_v": rng.uniform(4.5, 7.5), "vdrop_v": rng.uniform(0.1, 0.8),
        "rdrop_ohm": rng.uniform(0.01, 0.06), "rreg_ohm": rng.uniform(0.003, 0.03),
        "ilim_a": rng.choice([math.inf, rng.uniform(2.0, 15.0)]),
        "iq_a": rng.choice([0.0, rng.uniform(0.0, 0.03)]), "eff": rng.uniform(0.8, 0.97),
    }  # fmt: skip


def _load(rng: random.Random) -> Plain:
    return rng.choice(
        [
            {"type": "load_current", "i_a": rng.uniform(0.05, 6.0)},
            {"type": "load_resistance", "r_ohm": rng.uniform(0.7, 20.0)},
            {
                "type": "load_servo",
                "r_ohm": rng.uniform(0.5, 6.0),
                "i_run_a": rng.uniform(0.1, 6.0),
                "i_idle_a": rng.uniform(0.0, 0.05),
            },
            {"type": "load_power", "p_w": rng.uniform(0.2, 20.0)},
        ]
    )


class Bus:
    """One to four packs, each with its joint, and one to four loads behind leads (or straight on)."""

    def __init__(self, seed: int, kinds: tuple[str, ...], *, leads: bool) -> None:
        rng = random.Random(seed)
        self.paths: list[tuple[Plain, Plain]] = []
        self.loads: list[tuple[Plain, float]] = []
        self.elements: list[Plain] = []
        for k in range(rng.randint(1, 4)):
            ohm = rng.choice([0.01, 0.05, 0.2]) * rng.uniform(0.5, 2.0)
            volts = rng.uniform(3.0, 9.0)
            pack = {"type": "pack", "name": f"P{k}", "pos": f"p{k}", "neg": "0", "voc_v": volts, "r_ohm": ohm}
            joint = _joint(rng, f"X{k}", f"p{k}", "bus", rng.choice(kinds))
            self.paths.append((pack, joint))
            self.elements += [pack, joint]
        for k in range(rng.randint(1, 4)):
            node, ohm = (f"s{k}", rng.uniform(0.02, 0.3)) if leads else ("bus", 0.0)
            load = _load(rng) | {"name": f"L{k}", "a": node, "b": "0"}
            self.loads.append((load, ohm))
            self.elements.append(load)
            if leads:
                self.elements.append(
                    {"type": "resistor", "name": f"W{k}", "a": "bus", "b": node, "r_ohm": ohm}
                )

    def surplus_a(self, bus_v: float) -> float:
        given = sum(_given_a(pack, joint, bus_v) for pack, joint in self.paths)
        return given - sum(_drawn_a(load, ohm, bus_v) for load, ohm in self.loads)

    def highest_v(self) -> tuple[float | None, float]:
        """Highest bus volts at which all balances, and the most current to spare at any volts."""
        top = max(pack["voc_v"] for pack, _ in self.paths)
        volts = [top - (top - 0.003) * k / _SAMPLES for k in range(_SAMPLES + 1)]
        spare = [self.surplus_a(volt) for volt in volts]
        for k in range(1, len(volts)):
            if spare[k] >= 0.0 > spare[k - 1]:
                below_v, above_v = volts[k], volts[k - 1]
                while not math.isfinite(self.surplus_a(above_v)):
                    middle_v = 0.5 * (below_v + above_v)
                    if self.surplus_a(middle_v) >= 0.0:
                        below_v = middle_v
                    else:
                        above_v = middle_v
                return float(brentq(self.surplus_a, below_v, above_v, xtol=1e-12)), max(spare)
        return None, max(spare)


def _given_a(pack: Plain, joint: Plain, bus_v: float) -> float:
    """Current into the bus; of a switching regulator's input points the highest stable one."""
    emf_v, ohm = pack["voc_v"], pack["r_ohm"]
    if joint["type"] == "resistor":
        return float((emf_v - bus_v) / (ohm + joint["r_ohm"]))
    if joint["type"] == "diode":
        return max(0.0, float((emf_v - bus_v - joint["vf_v"]) / (ohm + joint["ron_ohm"])))
    emf_v -= ohm * joint["iq_a"]
    drop_ohm = joint["rdrop_ohm"]
    most_a = max(0.0, min((joint["vset_v"] - bus_v) / joint["rreg_ohm"], joint["ilim_a"]))
    spare_v = emf_v - joint["vdrop_v"] - bus_v
    if joint["kind"] == "linear" or most_a == 0.0:
        return float(max(0.0, min(most_a, spare_v / (ohm + drop_ohm))))
    power_w = most_a * bus_v / joint["eff"]
    under_root = emf_v**2 - 4.0 * ohm * power_w
    if under_root >= 0.0:
        input_v = 0.5 * (emf_v + math.sqrt(under_root))
        if (input_v - joint["vdrop_v"] - bus_v) / drop_ohm >= most_a:
            return float(most_a)
    # Dropped out: Vi^2 - (E - k) Vi - k (drop + V) = 0 has one root above 0.
    k = ohm * bus_v / (drop_ohm * joint["eff"])
    input_v = 0.5 * (emf_v - k + math.sqrt((emf_v - k) ** 2 + 4.0 * k * (joint["vdrop_v"] + bus_v)))
    return float(min(most_a, max(0.0, (input_v - joint["vdrop_v"] - bus_v) / drop_ohm)))


def _drawn_a(load: Plain, lead_ohm: float, bus_v: float) -> float:
    """Current of a load behind its lead; without end where the lead cannot carry its power."""
    if load["type"] == "load_current":
        return float(load["i_a"]) if load["i_a"] * lead_ohm < bus_v else math.inf
    if load["type"] == "load_resistance":
        return float(bus_v / (load["r_ohm"] + lead_ohm))
    if load["type"] == "load_servo":
        running, idle, ohm = load["i_run_a"], load["i_idle_a"], load["r_ohm"]
        return float(min(running + idle, (bus_v / ohm + idle) / (1.0 + lead_ohm / ohm)))
    if lead_ohm == 0.0:
        return float(load["p_w"] / bus_v)
    under_root = bus_v**2 - 4.0 * lead_ohm * load["p_w"]
    return (bus_v - math.sqrt(under_root)) / (2.0 * lead_ohm) if under_root >= 0.0 else math.inf


def _answer(bus: Bus) -> float | None:
    try:
        solution = Network.from_dict({"elements": bus.elements}).solve()
    except NoAnswer:
        return None
    assert solution.residual_a < 1e-9
    return solution.node_v["bus"]


@all_cases(
    "kinds, leads, seeds",
    [
        (("linear",), False, range(200)),
        (_STEADY, False, range(1000, 1250)),
        ((*_STEADY, "switching"), False, range(2000, 2250)),
        ((*_STEADY, "switching"), True, range(3000, 3250)),
    ],
)
def test_a_point_is_found_where_and_only_where_the_bus_can_balance(
    kinds: tuple[str, ...], leads: bool, seeds: range
) -> None:
    stood = collapsed = 0
    for seed in seeds:
        bus = Bus(seed, kinds, leads=leads)
        wanted_v, spare_a = bus.highest_v()
        if wanted_v is None and spare_a > -0.05:
            # So near the edge the samples may have missed a narrow stretch that balances.
            continue
        found_v = _answer(bus)
        if wanted_v is None:
            collapsed += 1
            assert found_v is None, (seed, found_v, spare_a)
        else:
            stood += 1
            assert found_v == pytest.approx(wanted_v, abs=1e-6), (seed, wanted_v)
    assert stood > 0.8 * len(seeds)
    assert collapsed > 0


@all_cases("amps", [0.5, 2.0, 5.0])
def test_a_starved_regulator_beside_a_healthy_one_does_not_bring_the_bus_down(amps: float) -> None:
    elements: list[Plain] = [{"type": "load_current", "name": "L", "a": "bus", "b": "0", "i_a": amps}]
    for k, (volts, set_v) in enumerate([(5.0, 5.0), (8.0, 6.0)]):
        elements += [
            {"type": "pack", "name": f"P{k}", "pos": f"p{k}", "neg": "0", "voc_v": volts, "r_ohm": 0.05},
            {
                "type": "regulator", "name": f"R{k}", "inp": f"p{k}", "out": "bus", "gnd": "0",
                "kind": "linear", "vset_v": set_v, "vdrop_v": 0.5, "rdrop_ohm": 0.02, "rreg_ohm": 0.01,
            },
            {"type": "load_power", "name": f"B{k}", "a": "bus", "b": "0", "p_w": 3.0},
        ]  # fmt: skip
    solution = Network.from_dict({"elements": elements}).solve()
    assert (solution.regulators["R0"].state, solution.regulators["R1"].state) == ("off", "regulating")
    # Quadratic of a constant power behind the healthy regulator's resistance.
    behind_v = 6.0 - amps * 0.01
    assert solution.node_v["bus"] == pytest.approx(
        0.5 * (behind_v + math.sqrt(behind_v**2 - 4.0 * 0.01 * 6.0)), abs=1e-9
    )


def _wire(name: str, ohm: float) -> Plain:
    return {"type": "resistor", "name": name, "a": "p", "b": "bus", "r_ohm": ohm}


def test_leads_without_resistance_side_by_side_are_refused_by_name() -> None:
    pack = {"type": "pack", "name": "P", "pos": "p", "neg": "0", "voc_v": 6.0, "r_ohm": 0.1}
    load = {"type": "load_current", "name": "L", "a": "bus", "b": "0", "i_a": 1.0}
    ring = Network.from_dict({"elements": [pack, _wire("W1", 0.0), _wire("W2", 0.0), load]})
    with pytest.raises(BadInput, match="W2 closes a ring of parts without any resistance"):
        ring.solve()
    shared = Network.from_dict({"elements": [pack, _wire("W1", 0.0), _wire("W2", 0.01), load]}).solve()
    assert shared.branch_a["W1"] == pytest.approx(1.0, abs=1e-9)


def test_volts_count_from_the_reference_node_that_is_named() -> None:
    pack = {"type": "pack", "name": "P", "pos": "p", "neg": "0", "voc_v": 6.0, "r_ohm": 0.1}
    load = {"type": "load_current", "name": "L", "a": "p", "b": "0", "i_a": 1.0}
    network = Network.from_dict({"reference_node": "p", "elements": [pack, load]})
    assert network.solve().node_v["0"] == pytest.approx(-5.9, abs=1e-9)
    assert network.without("L").solve().node_v["0"] == pytest.approx(-6.0, abs=1e-9)
    with pytest.raises(BadInput, match="reference node 'x' is no node of the network"):
        Network.from_dict({"reference_node": "x", "elements": [pack, load]})
