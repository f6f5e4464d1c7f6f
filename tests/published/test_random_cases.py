"""Cases drawn at random inside the limits against scipy and numpy, which share no code with the program.

Linkages: scipy.optimize.brentq on the bare rod length round the whole horn circle. Servos: scipy's
solve_ivp on the equation of motion and on the position loop. Supplies: numpy's dense solution of the
node equations, and a scan of a regulator's whole output curve. Pulse trains: solve_ivp phase by phase.
Air: the packages ambiance and fluids.
"""

from __future__ import annotations

import math
import random
from collections.abc import Callable
from dataclasses import replace
from functools import partial
from typing import Any

import fluids
import numpy as np
import pytest
from ambiance import Atmosphere
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

from hangar.base.errors import NoAnswer, Unreachable
from hangar.physics import air
from hangar.physics.linkage import RodLink
from hangar.physics.network import Network, pulse_response
from hangar.physics.servo import droop_deg, step_time_s
from hangar.physics.surface import hinge_coefficient
from tests.all_cases import all_cases

Point = np.ndarray[Any, np.dtype[np.float64]]


def _direction(rng: random.Random) -> Point:
    drawn = np.array([rng.gauss(0.0, 1.0) for _ in range(3)])
    return np.asarray(drawn / np.linalg.norm(drawn))


def _pivot(rng: random.Random) -> tuple[Point, Point, float, float]:
    """Axis, zero direction square to it, radius and offset."""
    axis = _direction(rng)
    zero = np.cross(axis, _direction(rng))
    return axis, zero / np.linalg.norm(zero), rng.uniform(5.0, 35.0), rng.uniform(-12.0, 12.0)


def _end(centre: Point, pivot: tuple[Point, Point, float, float], angle: float) -> Point:
    axis, zero, radius, offset = pivot
    across = np.cross(axis, zero)
    return np.asarray(centre + offset * axis + radius * (zero * math.cos(angle) + across * math.sin(angle)))


def _roots(gap: Callable[[float], float]) -> list[float]:
    angles = np.linspace(-math.pi, math.pi, 361)
    values = [gap(angle) for angle in angles]
    return [
        float(brentq(gap, angles[k], angles[k + 1], xtol=1e-14))
        for k in range(360)
        if values[k] * values[k + 1] < 0.0
    ]


def _random_link(rng: random.Random) -> tuple[RodLink, Callable[[float, float], float]]:
    servo, horn = _pivot(rng), _pivot(rng)
    hinge = np.array([rng.uniform(30.0, 160.0), rng.uniform(-40.0, 40.0), rng.uniform(-40.0, 40.0)])
    rod = float(np.linalg.norm(hinge)) + rng.uniform(-15.0, 25.0)
    link = RodLink(
        servo[0].tolist(), (0.0, 0.0, 0.0), servo[1].tolist(), servo[2], servo[3],
        horn[0].tolist(), hinge.tolist(), horn[1].tolist(), horn[2], horn[3], rod, rng.choice([1, -1]),
    )  # fmt: skip

    def gap_mm(servo_rad: float, horn_rad: float) -> float:
        return float(np.linalg.norm(_end(hinge, horn, horn_rad) - _end(np.zeros(3), servo, servo_rad)) - rod)

    return link, gap_mm


def test_random_ball_links_stand_where_the_rod_length_says() -> None:
    rng = random.Random(41)
    reached = refused = 0
    for _ in range(250):
        link, gap_mm = _random_link(rng)
        servo_deg = rng.uniform(-180.0, 180.0)
        roots = _roots(partial(gap_mm, math.radians(servo_deg)))
        try:
            position = link.at(servo_deg)
        except Unreachable:
            refused += 1
            assert not roots
            continue
        if len(roots) != 2 or position.transmission_deg < 1.0:
            continue
        reached += 1
        other = replace(link, branch=-link.branch)
        values = sorted((position.horn_deg, other.at(servo_deg).horn_deg))
        assert values == pytest.approx([math.degrees(root) for root in roots], abs=1e-6)
        step = 1e-4
        ratio = (link.at(servo_deg + step).horn_deg - link.at(servo_deg - step).horn_deg) / (2.0 * step)
        assert math.remainder(ratio, 180.0 / step) == pytest.approx(
            position.velocity_ratio, rel=1e-4, abs=1e-5
        )
    assert reached > 80
    assert refused > 20


@all_cases("seed", range(25))
def test_random_steps_agree_with_the_integrated_motion(seed: int) -> None:
    rng = random.Random(seed)
    stall, speed, inertia = rng.uniform(0.05, 5.0), rng.uniform(3.0, 20.0), 10.0 ** rng.uniform(-4.5, -2.0)
    load = stall * rng.choice([rng.uniform(-0.4, 0.9), rng.uniform(0.9, 0.995)])
    angle_deg = rng.uniform(1.0, 150.0)
    target = math.radians(angle_deg)

    def motion(_: float, state: Point) -> list[float]:
        return [state[1], (stall * (1.0 - state[1] / speed) - load) / inertia]

    def arrival(_: float, state: Point) -> float:
        return float(state[0] - target)

    arrival.terminal = True  # type: ignore[attr-defined]
    run = solve_ivp(motion, (0.0, 3600.0), [0.0, 0.0], method="LSODA", events=arrival, rtol=1e-11, atol=1e-13)
    assert run.t_events is not None
    seconds = step_time_s(
        stall_torque_nm=stall,
        no_load_rad_s=speed,
        inertia_kg_m2=inertia,
        load_torque_nm=load,
        angle_deg=angle_deg,
    )
    assert seconds == pytest.approx(float(run.t_events[0][0]), abs=1e-6, rel=1e-7)


@all_cases("seed", range(8))
def test_random_droops_agree_with_a_settled_loop(seed: int) -> None:
    rng = random.Random(100 + seed)
    stall, dead = rng.uniform(0.2, 4.0), rng.uniform(0.0, 0.6)
    full, load = dead + rng.uniform(1.0, 25.0), stall * rng.uniform(0.05, 0.98)

    def loop(_: float, state: Point) -> list[float]:
        drive = min(1.0, max(0.0, (-math.degrees(state[0]) - dead) / (full - dead)))
        return [state[1], (stall * (drive - state[1] / 8.0) - load) / (0.02 * stall)]

    run = solve_ivp(loop, (0.0, 60.0), [0.0, 0.0], method="LSODA", rtol=1e-10, atol=1e-12, max_step=0.05)
    droop = droop_deg(
        stall_torque_nm=stall, load_torque_nm=load, dead_band_half_deg=dead, full_drive_error_deg=full
    )
    assert droop == pytest.approx(-math.degrees(run.y[0, -1]), abs=1e-4)


def _dense(elements: list[dict[str, Any]], held: list[str]) -> dict[str, float]:
    """Node volts of packs, resistors and current loads by the textbook node equations."""
    nodes = sorted({e[key] for e in elements for key in ("a", "b", "pos", "neg") if key in e})
    row = {node: k for k, node in enumerate(nodes)}
    matrix, right = np.zeros((len(nodes), len(nodes))), np.zeros(len(nodes))
    for e in elements:
        a, b = (row[e["pos"]], row[e["neg"]]) if e["type"] == "pack" else (row[e["a"]], row[e["b"]])
        current = 0.0
        if "r_ohm" in e:
            matrix[[a, b], [a, b]] += 1.0 / e["r_ohm"]
            matrix[[a, b], [b, a]] -= 1.0 / e["r_ohm"]
            current = e.get("voc_v", 0.0) / e["r_ohm"]
        else:
            current = -e["i_a"]
        right[a] += current
        right[b] -= current
    for node in held:
        matrix[row[node]] = 0.0
        matrix[row[node], row[node]] = 1.0
        right[row[node]] = 0.0
    return dict(zip(nodes, np.linalg.solve(matrix, right).tolist(), strict=True))


def _mesh(rng: random.Random, prefix: str, minus: str) -> list[dict[str, Any]]:
    """Packs (some in parallel) into a random mesh of leads with loads, and a lead that ends in the air."""
    nodes = [f"{prefix}{k}" for k in range(rng.randint(3, 9))]
    elements: list[dict[str, Any]] = []
    for k in range(rng.randint(1, 4)):
        volts, ohm = rng.uniform(4.8, 8.4), rng.uniform(0.02, 0.2)
        elements.append(
            {"type": "pack", "name": f"{prefix}P{k}", "pos": rng.choice(nodes[:2]), "neg": minus,
             "voc_v": volts, "r_ohm": ohm}
        )  # fmt: skip
    joints = [(nodes[rng.randrange(k)], nodes[k]) for k in range(1, len(nodes))]
    joints += [tuple(rng.sample(nodes, 2)) for _ in range(rng.randint(0, 6))]  # type: ignore[misc]
    joints.append((rng.choice(nodes), f"{prefix}end"))
    for k, (a, b) in enumerate(joints):
        elements.append(
            {
                "type": "resistor",
                "name": f"{prefix}R{k}",
                "a": a,
                "b": b,
                "r_ohm": 10.0 ** rng.uniform(-3.5, 0),
            }
        )
    for k, node in enumerate(nodes):
        load = {"type": "load_resistance", "r_ohm": rng.uniform(3.0, 60.0)}
        if rng.random() < 0.5:
            load = {"type": "load_current", "i_a": rng.uniform(0.0, 0.05)}
        elements.append(load | {"name": f"{prefix}L{k}", "a": node, "b": minus})
    rng.shuffle(elements)
    return elements


@all_cases("seed", range(60))
def test_random_meshes_with_floating_islands_agree_with_the_node_equations(seed: int) -> None:
    rng = random.Random(200 + seed)
    elements, held = _mesh(rng, "m", "0"), ["0"]
    for k in range(rng.randint(0, 2)):
        elements += _mesh(rng, f"i{k}", f"i{k}minus")
        held.append(f"i{k}minus")
    solution = Network.from_dict({"elements": elements}).solve()
    assert solution.node_v == pytest.approx(_dense(elements, held), abs=1e-8)
    assert solution.residual_a < 1e-9


def _output_curve(e_v: float, ohm: float, r: dict[str, Any]) -> tuple[Point, Point]:
    """Amps and volts out of a regulator behind a resistance, by its own three laws, limit at the end."""
    amps = np.linspace(0.0, r["ilim_a"], 20001)[1:]
    held, drop = r["vset_v"] - r["rreg_ohm"] * amps, r["vdrop_v"] + r["rdrop_ohm"] * amps
    source = e_v - ohm * r["iq_a"]
    if r["kind"] == "linear":
        return amps, np.minimum(held, source - ohm * amps - drop)
    inside = source**2 - 4.0 * ohm * amps * held / r["eff"]
    input_v = 0.5 * (source + np.sqrt(np.maximum(inside, 0.0)))
    regulates = (inside >= 0.0) & (input_v - drop >= held)
    beta = source - ohm * amps / r["eff"]
    starved_v = 0.5 * (beta + np.sqrt(beta**2 + 4.0 * ohm * amps * drop / r["eff"]))
    return amps, np.where(regulates, held, starved_v - drop)


@all_cases("kind", ["linear", "switching"])
def test_random_regulators_carry_what_their_curve_carries_and_no_more(kind: str) -> None:
    rng = random.Random(kind)
    for _ in range(120):
        regulator = {
            "type": "regulator", "name": "R", "inp": "p", "out": "o", "gnd": "0", "kind": kind,
            "vset_v": rng.uniform(4.8, 8.0), "vdrop_v": rng.uniform(0.0, 1.0),
            "rdrop_ohm": rng.uniform(0.005, 0.1), "rreg_ohm": rng.uniform(0.002, 0.03),
            "ilim_a": rng.uniform(2.0, 15.0), "iq_a": rng.uniform(0.0, 0.05), "eff": rng.uniform(0.8, 0.95),
        }  # fmt: skip
        e_v, ohm = rng.uniform(3.0, 9.0), rng.uniform(0.01, 0.4)
        amps, volts = _output_curve(e_v, ohm, regulator)
        most_w = float(np.max(amps * volts))
        asked_w = most_w * rng.choice([0.1, 0.5, 0.9, 0.97, 1.03, 1.5])
        supply = Network.from_dict(
            {
                "elements": [
                    {"type": "pack", "name": "P", "pos": "p", "neg": "0", "voc_v": e_v, "r_ohm": ohm},
                    regulator,
                    {"type": "load_power", "name": "L", "a": "o", "b": "0", "p_w": asked_w},
                ]
            }
        )
        if asked_w > most_w:
            with pytest.raises(NoAnswer, match="the supply collapses"):
                supply.solve()
            continue
        first = int(np.argmax(amps * volts >= asked_w))
        assert supply.solve().node_v["o"] == pytest.approx(float(volts[first]), abs=4e-3)


def _lowest_by_integration(case: dict[str, Any]) -> float:
    """Lowest bus volts, each phase of steady load integrated by itself."""
    series, bulk = case["r0"] + case["rext"], case.get("cbulk_f")

    def loads(on: bool) -> tuple[float, float]:
        if not on:
            return case["i_idle"], 0.0
        if case["kind"] == "current":
            return case["i_idle"] + case["di"], 0.0
        return case["i_idle"], 1.0 / case["r_load"]

    def bus_v(state: Point, on: bool) -> float:
        fixed, siemens = loads(on)
        return float((state[0] - state[1] - fixed * series) / (1.0 + siemens * series))

    def slope(_: float, state: Point, on: bool) -> list[float]:
        fixed, siemens = loads(on)
        current = fixed + siemens * bus_v(state, on)
        return [-current / bulk if bulk else 0.0, (current - state[1] / case["r1"]) / case["c1"]]

    edges, k = [(0.0, False)], 0
    while case["t_delay"] + k * case["T"] < case["t_end"]:
        start = case["t_delay"] + k * case["T"]
        edges += [(start, True), (start + case["t_on"], False)]
        k += 1
    state, lowest = np.array([case["voc"], case["i_idle"] * case["r1"]]), math.inf
    for (start, on), (stop, _) in zip(edges, [*edges[1:], (case["t_end"], False)], strict=True):
        end = min(stop, case["t_end"])
        if end <= start:
            continue
        times = np.linspace(start, end, 200)
        run = solve_ivp(slope, (start, end), state, args=(on,), t_eval=times, rtol=1e-10, atol=1e-12)
        lowest = min(lowest, *(bus_v(point, on) for point in run.y.T))
        state = run.y[:, -1]
    return lowest


@all_cases("seed", range(16))
def test_random_pulse_trains_agree_with_their_differential_equations(seed: int) -> None:
    rng = random.Random(300 + seed)
    period = rng.uniform(0.3, 4.0)
    case: dict[str, Any] = {
        "voc": rng.uniform(4.8, 8.4), "r0": rng.uniform(0.02, 0.15), "r1": rng.uniform(0.01, 0.1),
        "c1": rng.uniform(5.0, 250.0), "rext": rng.uniform(0.0, 0.1),
        "i_idle": rng.choice([0.0, rng.uniform(0.05, 1.0)]), "t_on": period * rng.uniform(0.05, 0.95),
        "T": period, "t_delay": rng.choice([0.0, rng.uniform(0.1, 1.5)]),
        "t_end": rng.choice([0.8 * period + 1.5, 9.0]),
        "kind": "current" if seed % 2 else "resistance", "di": rng.uniform(0.5, 9.0),
        "r_load": rng.uniform(0.5, 6.0),
    }  # fmt: skip
    if seed % 3 == 0:
        case["cbulk_f"] = rng.uniform(30.0, 2000.0)
    assert pulse_response(case).minimum_v == pytest.approx(_lowest_by_integration(case), abs=1e-6)


def test_random_heights_and_days_agree_with_two_packages_of_the_standard_atmosphere() -> None:
    rng = random.Random(7)
    for _ in range(60):
        height_m, excess_c = rng.uniform(-500.0, 10_900.0), rng.uniform(-20.0, 25.0)
        assert air.density_kg_m3(height_m) == pytest.approx(Atmosphere(height_m).density[0], rel=2e-6)
        measured_c = air.standard_temperature_c(height_m) + excess_c
        judge = fluids.ATMOSPHERE_1976(height_m, dT=excess_c)
        assert air.density_kg_m3(height_m, measured_c) == pytest.approx(judge.rho, rel=2e-6)


def test_random_flaps_have_a_band_in_order_that_never_falls_with_deflection() -> None:
    rng = random.Random(11)
    for _ in range(2000):
        ratio, alpha_deg = rng.uniform(0.10, 0.60), rng.uniform(-40.0, 40.0)
        given: dict[str, Any] = {
            "reynolds": 10.0 ** rng.uniform(4.7, 6.3),
            "aspect_ratio": rng.choice([None, rng.uniform(0.5, 30.0)]),
            "mach": rng.uniform(0.0, 0.4),
        }
        less, more = sorted(rng.uniform(0.0, 50.0) for _ in range(2))
        small = hinge_coefficient(ratio, less, alpha_deg, **given)
        large = hinge_coefficient(ratio, more, alpha_deg, **given)
        assert 0.0 <= small.low <= small.expected <= small.design < 1.3
        assert large.design >= small.design - 1e-12
        assert large.expected >= small.expected - 1e-12
