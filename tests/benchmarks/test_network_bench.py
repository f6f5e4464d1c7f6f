"""How long one supply takes to solve, and a flight against ngspice on the same flight.

The flight lasts two minutes; HANGAR_BENCH_MINUTES=10 flies it longer.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import time
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray

from hangar.physics.network import Network, flight_profile
from hangar.physics.pulse import PulseSupply

SUPPLY = PulseSupply(8.2, 0.030, 0.015, 200.0, 0.035)
STEP_S, LEVEL_S, SERVOS = 0.001, 1.0, 10
MINUTES = float(os.environ.get("HANGAR_BENCH_MINUTES", "2"))


def _giant(servos: int) -> dict[str, Any]:
    elements: list[dict[str, Any]] = [
        {"type": "pack", "name": "P1", "pos": "p1", "neg": "0", "voc_v": 8.2, "r_ohm": 0.02},
        {"type": "pack", "name": "P2", "pos": "p2", "neg": "0", "voc_v": 8.1, "r_ohm": 0.02},
        {"type": "diode", "name": "D1", "a": "p1", "b": "ri", "vf_v": 0.1, "ron_ohm": 0.01},
        {"type": "diode", "name": "D2", "a": "p2", "b": "ri", "vf_v": 0.1, "ron_ohm": 0.01},
        {"type": "regulator", "name": "REG", "inp": "ri", "out": "bus", "gnd": "0", "kind": "switching",
         "vset_v": 6.0, "vdrop_v": 0.3, "rdrop_ohm": 0.02, "rreg_ohm": 0.01, "ilim_a": 40.0, "eff": 0.9},
    ]  # fmt: skip
    for k in range(servos):
        elements += [
            {"type": "resistor", "name": f"A{k}", "a": "bus", "b": f"s{k}", "r_ohm": 0.05},
            {"type": "resistor", "name": f"B{k}", "a": "0", "b": f"g{k}", "r_ohm": 0.05},
            {
                "type": "load_servo",
                "name": f"S{k}",
                "a": f"s{k}",
                "b": f"g{k}",
                "r_ohm": 3.0 + 0.2 * k,
                "i_run_a": 0.8,
            },
        ]
    return {"elements": elements}


def test_one_solve_of_twenty_servos(benchmark: Any) -> None:
    network = Network.from_dict(_giant(20))
    solution = benchmark(network.solve)
    assert solution.residual_a < 1e-9


def test_read_and_solve_of_twenty_linear_servos(benchmark: Any) -> None:
    data = _giant(20)
    data["elements"] = [
        {**e, "type": "load_resistance"} if e["type"] == "load_servo" else e
        for e in data["elements"]
        if e["type"] not in ("diode", "regulator")
    ]
    data["elements"].append({"type": "resistor", "name": "J", "a": "p1", "b": "bus", "r_ohm": 0.01})
    solution = benchmark(lambda: Network.from_dict(data).solve())
    assert solution.residual_a < 1e-9


def flight_currents(minutes: float = 10.0) -> NDArray[np.float64]:
    """Amps of each servo: a new level every second.

    More corners would flatter us: ngspice looks a source's corners up one by one.
    """
    levels = np.random.default_rng(7).uniform(0.02, 0.8, (SERVOS, round(minutes * 60 / LEVEL_S)))
    return np.repeat(levels, round(LEVEL_S / STEP_S), axis=1)


def test_minutes_at_one_kilohertz(benchmark: Any) -> None:
    currents = flight_currents(MINUTES)
    flight = benchmark(lambda: flight_profile(currents, STEP_S, SUPPLY))
    assert flight.bus_v.size == round(MINUTES * 60 / STEP_S)


def ngspice_flight(currents: NDArray[np.float64], folder: Path) -> tuple[float, float]:
    """Seconds ngspice takes for the same flight with the same output step, and its lowest volts."""
    lines = [
        "flight", "VB ocv 0 8.2", "R1 ocv rc 0.015",
        f"C1 ocv rc 200 IC={currents[:, 0].sum() * 0.015:.12f}", "R0 rc bus 0.065",
    ]  # fmt: skip
    for k, row in enumerate(currents[:, :: round(LEVEL_S / STEP_S)]):
        lines.append(f"I{k} bus 0 PWL(0 {row[0]:.9f}")
        lines += [
            f"+ {LEVEL_S * j:.6f} {row[j - 1]:.9f} {LEVEL_S * j + 1e-6:.6f} {row[j]:.9f}"
            for j in range(1, row.size)
        ]
        lines.append("+ )")
    lines += [
        ".options method=trap interp", ".save v(bus)", ".control", "set numdgt=12",
        f"tran 1m {currents.shape[1] * STEP_S} 0 1m uic", "meas tran lowest min v(bus)", ".endc", ".end",
    ]  # fmt: skip
    (folder / "flight.cir").write_text("\n".join(lines))
    started = time.perf_counter()
    done = subprocess.run(
        ["ngspice", "-b", "flight.cir"], cwd=folder, capture_output=True, text=True, timeout=900, check=False
    )
    seconds = time.perf_counter() - started
    line = next(text for text in done.stdout.splitlines() if text.startswith("lowest"))
    return seconds, float(line.split("=")[1].split()[0])


@pytest.mark.judge
@pytest.mark.slow
@pytest.mark.skipif(shutil.which("ngspice") is None, reason="ngspice is not installed")
def test_minutes_against_ngspice(tmp_path: Path) -> None:
    currents = flight_currents(MINUTES)
    started = time.perf_counter()
    flight = flight_profile(currents, STEP_S, SUPPLY)
    ours = time.perf_counter() - started
    theirs, lowest = ngspice_flight(currents, tmp_path)
    shown = f"ours {1e3 * ours:.1f} ms, ngspice {theirs:.2f} s, ratio {theirs / ours:.0f}"
    print(f"\n{MINUTES:g} minutes at 1 kHz, {SERVOS} servos: {shown}")
    assert flight.minimum_v == pytest.approx(lowest, abs=1e-3)
