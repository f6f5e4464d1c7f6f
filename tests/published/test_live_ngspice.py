"""The supply solver against ngspice run here, on seeded random networks and pulse trains."""

from __future__ import annotations

import random
import shutil
import subprocess
from pathlib import Path
from typing import Any

import pytest

from hangar.physics.network import Network, pulse_response

NGSPICE = shutil.which("ngspice")
pytestmark = [pytest.mark.judge, pytest.mark.skipif(NGSPICE is None, reason="ngspice is not installed")]


def _run(deck: str, folder: Path) -> str:
    assert NGSPICE is not None
    path = folder / "deck.cir"
    path.write_text(deck)
    return subprocess.run(
        [NGSPICE, "-b", path.name], cwd=folder, capture_output=True, text=True, timeout=900, check=False
    ).stdout


def _v(node: str) -> str:
    return "0" if node == "0" else f"V({node})"


def _across(e: dict[str, Any], first: str, second: str) -> str:
    return f"({_v(e[first])}-{_v(e[second])})"


def _card(e: dict[str, Any]) -> list[str]:
    """Netlist lines of one element, from its own defining equation."""
    name, kind = e["name"], e["type"]
    if kind == "pack":
        return [f"V{name} {name}_m {e['neg']} {e['voc_v']!r}", f"R{name} {name}_m {e['pos']} {e['r_ohm']!r}"]
    if kind in ("resistor", "load_resistance"):
        return [f"R{name} {e['a']} {e['b']} {e['r_ohm']!r}"]
    if kind == "load_current":
        return [f"I{name} {e['a']} {e['b']} {e['i_a']!r}"]
    if kind == "regulator":
        vi, vo = _across(e, "inp", "gnd"), _across(e, "out", "gnd")
        regulating = f"({e['vset_v']!r}-{vo})/{e['rreg_ohm']!r}"
        dropped = f"({vi}-{e['vdrop_v']!r}-{vo})/{e['rdrop_ohm']!r}"
        out = f"min(max(min({regulating},{dropped}),0),{e['ilim_a']!r})"
        drawn = out if e["kind"] == "linear" else f"{out}*{vo}/({e['eff']!r}*{vi})"
        return [
            f"BO{name} {e['gnd']} {e['out']} I={out}",
            f"BI{name} {e['inp']} {e['gnd']} I={drawn}+{e['iq_a']!r}",
        ]
    v = _across(e, "a", "b")
    law = {
        "load_power": lambda: f"{e['p_w']!r}/{v}",
        "load_servo": lambda: f"min({e['i_run_a']!r},{v}/{e['r_ohm']!r})+{e['i_idle_a']!r}",
        "diode": lambda: f"max(0,({v}-{e['vf_v']!r})/{e['ron_ohm']!r})",
    }[kind]()
    return [f"B{name} {e['a']} {e['b']} I={law}"]


def _operating_point(
    elements: list[dict[str, Any]], hints: dict[str, float], folder: Path
) -> dict[str, float]:
    """Node volts of .op; the hints are first guesses only, ngspice settles on its own."""
    nodes = {
        n for e in elements for key in ("a", "b", "pos", "neg", "inp", "out", "gnd") if (n := e.get(key))
    }
    deck = "\n".join(
        [
            "supply",
            *(line for element in elements for line in _card(element)),
            *(f".nodeset V({node})={volts:.3f}" for node, volts in hints.items() if node != "0"),
            ".options reltol=1e-9 abstol=1e-12 vntol=1e-10 itl1=500",
            ".control",
            "set numdgt=12",
            "op",
            *(f"print v({node})" for node in nodes - {"0"}),
            ".endc",
            ".end",
        ]
    )
    volts = {"0": 0.0}
    for line in _run(deck, folder).splitlines():
        left, _, right = line.partition(" = ")
        if left.startswith("v(") and right:
            volts[left[2:-1]] = float(right)
    return volts if volts.keys() == nodes else {}


def _drawn_a(e: dict[str, Any], v: float) -> float:
    if e["type"] == "pack":
        return float((v - e["voc_v"]) / e["r_ohm"])
    if e["type"] in ("resistor", "load_resistance"):
        return float(v / e["r_ohm"])
    if e["type"] == "load_current":
        return float(e["i_a"])
    if e["type"] == "load_power":
        return float(e["p_w"] / v)
    if e["type"] == "load_servo":
        return float(min(e["i_run_a"], v / e["r_ohm"]) + e["i_idle_a"])
    return max(0.0, float((v - e["vf_v"]) / e["ron_ohm"]))


def _left_over_a(elements: list[dict[str, Any]], volts: dict[str, float]) -> float:
    """Largest current left over at a node, written out here so that ngspice's answers can be trusted.

    Where diodes block, .op is known to stop at points that do not balance.
    """
    sums = dict.fromkeys(volts, 0.0)
    for e in elements:
        if e["type"] == "regulator":
            vi, vo = volts[e["inp"]] - volts[e["gnd"]], volts[e["out"]] - volts[e["gnd"]]
            out = min((e["vset_v"] - vo) / e["rreg_ohm"], (vi - e["vdrop_v"] - vo) / e["rdrop_ohm"])
            out = min(max(out, 0.0), e["ilim_a"])
            drawn = e["iq_a"] + (out if e["kind"] == "linear" else out * vo / (e["eff"] * vi))
            sums[e["inp"]] += drawn
            sums[e["out"]] -= out
            sums[e["gnd"]] += out - drawn
            continue
        a, b = (e["pos"], e["neg"]) if e["type"] == "pack" else (e["a"], e["b"])
        current = _drawn_a(e, volts[a] - volts[b])
        sums[a] += current
        sums[b] -= current
    return max(abs(left) for node, left in sums.items() if node != "0")


def _trusted_point(
    elements: list[dict[str, Any]], guess: dict[str, float], folder: Path
) -> dict[str, float] | None:
    """Of ngspice's answers from several first guesses, the highest that balances at every node.

    A constant-power load has a second, unreachable point lower down, which .op may stop at.
    """
    hints = ({}, *({n: round(v, digits) for n, v in guess.items()} for digits in (1, 2)))
    answers = [_operating_point(elements, hint, folder) for hint in hints]
    balanced = [volts for volts in answers if volts and _left_over_a(elements, volts) < 1e-5]
    return max(balanced, key=lambda volts: sum(volts.values()), default=None)


def _random_network(seed: int) -> list[dict[str, Any]]:
    """Packs with leads and switches, isolated or not, maybe a regulator, and servos of every kind."""
    rng = random.Random(seed)
    elements: list[dict[str, Any]] = []

    def resistor(name: str, a: str, b: str, low: float, high: float) -> None:
        elements.append({"type": "resistor", "name": name, "a": a, "b": b, "r_ohm": rng.uniform(low, high)})

    regulated, isolated = rng.random() < 0.6, rng.random() < 0.5
    packs = rng.randint(1, 3)
    rail, rail_minus = ("ri", "rg") if regulated else ("bus", "gbus")
    for k in range(packs):
        minus = "0" if k == 0 else f"n{k}"
        elements.append(
            {
                "type": "pack",
                "name": f"P{k}",
                "pos": f"p{k}",
                "neg": minus,
                "voc_v": rng.uniform(7.4, 8.4),
                "r_ohm": rng.uniform(0.02, 0.08),
            }
        )
        resistor(f"LP{k}", f"p{k}", f"w{k}", 0.005, 0.03)
        resistor(f"LN{k}", minus, rail_minus, 0.005, 0.03)
        if isolated:
            elements.append(
                {
                    "type": "diode",
                    "name": f"D{k}",
                    "a": f"w{k}",
                    "b": rail,
                    "vf_v": rng.uniform(0.05, 0.4),
                    "ron_ohm": rng.uniform(0.005, 0.02),
                }
            )
        else:
            resistor(f"SW{k}", f"w{k}", rail, 0.005, 0.05)
    if regulated:
        elements.append(
            {
                "type": "regulator",
                "name": "REG",
                "inp": "ri",
                "out": "ro",
                "gnd": "rg",
                "kind": rng.choice(["linear", "switching"]),
                "vset_v": rng.uniform(5.0, 7.4),
                "vdrop_v": rng.uniform(0.2, 0.8),
                "rdrop_ohm": rng.uniform(0.01, 0.05),
                "rreg_ohm": rng.uniform(0.005, 0.02),
                "ilim_a": rng.uniform(8.0, 25.0),
                "iq_a": rng.uniform(0.0, 0.03),
                "eff": rng.uniform(0.85, 0.95),
            }
        )
        resistor("LRO", "ro", "bus", 0.003, 0.02)
        resistor("LRG", "rg", "gbus", 0.003, 0.02)
    elements.append(
        {"type": "load_current", "name": "RX", "a": "bus", "b": "gbus", "i_a": rng.uniform(0.03, 0.1)}
    )
    for k in range(rng.randint(2, 20)):
        resistor(f"LS{k}", "bus", f"s{k}", 0.02, 0.2)
        resistor(f"LG{k}", "gbus", f"g{k}", 0.02, 0.2)
        ends = {"name": f"S{k}", "a": f"s{k}", "b": f"g{k}"}
        elements.append(
            ends
            | rng.choice(
                [
                    {"type": "load_current", "i_a": rng.uniform(0.01, 0.6)},
                    {"type": "load_resistance", "r_ohm": rng.uniform(4.0, 30.0)},
                    {"type": "load_power", "p_w": rng.uniform(0.1, 3.0)},
                    {
                        "type": "load_servo",
                        "r_ohm": rng.uniform(1.5, 8.0),
                        "i_run_a": rng.uniform(0.1, 2.0),
                        "i_idle_a": rng.uniform(0.0, 0.05),
                    },
                ]
            )
        )
    return elements


def test_random_networks_agree_with_ngspice(tmp_path: Path) -> None:
    judged = 0
    for seed in range(60):
        elements = _random_network(seed)
        solution = Network.from_dict({"elements": elements}).solve()
        assert _left_over_a(elements, solution.node_v) < 1e-8
        volts = _trusted_point(elements, solution.node_v, tmp_path)
        if volts is None:
            continue
        judged += 1
        assert solution.node_v == pytest.approx(volts, abs=1e-6), seed
    assert judged >= 50


def _random_train(seed: int) -> dict[str, Any]:
    rng = random.Random(1000 + seed)
    period = rng.uniform(0.5, 2.5)
    case: dict[str, Any] = {
        "voc": rng.uniform(4.8, 8.4),
        "r0": rng.uniform(0.02, 0.15),
        "r1": rng.uniform(0.01, 0.08),
        "c1": rng.uniform(20.0, 250.0),
        "rext": rng.uniform(0.02, 0.1),
        "i_idle": rng.uniform(0.05, 0.8),
        "t_on": period * rng.uniform(0.1, 0.8),
        "T": period,
        "t_delay": rng.uniform(0.0, 1.0),
        "t_end": 8.0,
    }
    if rng.random() < 0.5:
        case |= {"kind": "current", "di": rng.uniform(1.0, 6.0)}
    else:
        case |= {"kind": "resistance", "r_load": rng.uniform(0.8, 5.0)}
    if rng.random() < 0.5:
        case["cbulk_f"] = rng.uniform(300.0, 3000.0)
    return case


def _lowest_by_ngspice(case: dict[str, Any], folder: Path) -> float:
    on = f"PULSE(0 1 {case['t_delay']!r} 1u 1u {case['t_on']!r} {case['T']!r})"
    source = (
        f"CB ocv 0 {case['cbulk_f']!r} IC={case['voc']!r}"
        if "cbulk_f" in case
        else f"VB ocv 0 {case['voc']!r}"
    )
    load = f"V(g)*{case['di']!r}" if case["kind"] == "current" else f"V(g)*V(bus)/{case['r_load']!r}"
    deck = "\n".join(
        [
            "train",
            source,
            f"R1 ocv rc {case['r1']!r}",
            f"C1 ocv rc {case['c1']!r} IC={case['i_idle'] * case['r1']!r}",
            f"R0 rc bus {case['r0'] + case['rext']!r}",
            f"II bus 0 {case['i_idle']!r}",
            f"VG g 0 {on}",
            f"BL bus 0 I={load}",
            ".options reltol=1e-7 abstol=1e-10 vntol=1e-9 method=trap",
            ".control",
            "set numdgt=12",
            f"tran 1m {case['t_end']!r} 0 1m uic",
            "meas tran lowest min v(bus)",
            ".endc",
            ".end",
        ]
    )
    line = next(x for x in _run(deck, folder).splitlines() if x.startswith("lowest"))
    return float(line.split("=")[1].split()[0])


@pytest.mark.parametrize("seed", range(12))
def test_random_pulse_trains_agree_with_ngspice(seed: int, tmp_path: Path) -> None:
    case = _random_train(seed)
    assert pulse_response(case).minimum_v == pytest.approx(_lowest_by_ngspice(case, tmp_path), abs=2e-4)
