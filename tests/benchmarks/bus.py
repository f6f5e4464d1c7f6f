"""A flight of ten minutes on one bus, against ngspice on the same flight."""

from __future__ import annotations

import shutil
from pathlib import Path
from tempfile import TemporaryDirectory

from hangar.physics.network import flight_profile
from tests.benchmarks.measure import AT_LEAST, Row, paired, wall_s
from tests.benchmarks.test_network_bench import STEP_S, SUPPLY, flight_currents, ngspice_flight

LEAST_TIMES, MOST_MV = 50.0, 1.0


def rows(rounds: int = AT_LEAST) -> list[Row]:
    """How many times quicker than ngspice, and how far the lowest volts of both lie apart."""
    if shutil.which("ngspice") is None:
        return []
    currents = flight_currents()
    lowest = 0.0

    def judge() -> float:
        nonlocal lowest
        with TemporaryDirectory() as folder:
            seconds, lowest = ngspice_flight(currents, Path(folder))
        return seconds

    theirs, ours, ratios = paired(
        judge, lambda: wall_s(lambda: flight_profile(currents, STEP_S, SUPPLY)), rounds
    )
    apart = 1000 * abs(flight_profile(currents, STEP_S, SUPPLY).minimum_v - lowest)
    return [
        Row("ngspice / ten minutes at 1 kHz", ratios, least=LEAST_TIMES, note="10 servos"),
        Row("ten minutes, lowest volts apart", (apart,), "mV", most=MOST_MV),
        Row("ten minutes at 1 kHz", tuple(1000 * our for our in ours), "ms"),
        Row("ten minutes at 1 kHz, ngspice", theirs, "s"),
    ]
