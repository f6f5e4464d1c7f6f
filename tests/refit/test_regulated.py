"""The input volts of a regulator, piece by piece, against plain searching of its own equations."""

from __future__ import annotations

import math
import random

import pytest

from hangar.physics.network_elements import Regulator
from hangar.refit.regulated import input_volts
from tests.all_cases import all_cases
from tests.refit.cases import seeds

STEPS = 1500
HALVINGS = 60


def by_searching(regulator: Regulator, open_v: float, ohm: float, bus_v: float) -> float | None:
    """The highest input volts at which the packs give at least what the regulator draws."""

    def left(input_v: float) -> float:
        drawn = regulator.input_state(input_v, bus_v, regulator.output_state(input_v, bus_v))[0]
        return open_v - ohm * drawn - input_v

    high = open_v
    for step in range(STEPS):
        low = open_v * (1.0 - step / STEPS)
        if left(low) >= 0.0:
            for _ in range(HALVINGS):
                middle = 0.5 * (low + high)
                low, high = (middle, high) if left(middle) >= 0.0 else (low, middle)
            return low
        high = low
    return None


def by_chance(seed: int) -> tuple[Regulator, float, float, float]:
    rng = random.Random(seed)
    regulator = Regulator(
        "regulator", "in", "bus", "0", rng.random() < 0.7, rng.choice((5.0, 6.0, 7.4)),
        rng.uniform(0.05, 0.6), rng.uniform(0.005, 0.1), rng.choice((0.002, 0.01, 0.05)),
        rng.choice((3.0, 8.0, 20.0, math.inf)), rng.uniform(0.0, 0.05), rng.uniform(0.7, 0.95),
    )  # fmt: skip
    return regulator, rng.uniform(4.5, 13.0), rng.uniform(0.01, 0.8), rng.uniform(2.5, 8.0)


@all_cases("seed", seeds())
def test_the_highest_input_volts_are_those_that_searching_finds(seed: int) -> None:
    case = by_chance(seed)
    found, searched = input_volts(*case), by_searching(*case)
    assert (found is None) == (searched is None)
    if found is not None:
        assert found == pytest.approx(searched, abs=1e-9)


def test_packs_that_cannot_hold_a_regulator_collapse() -> None:
    regulator = Regulator("bec", "in", "bus", "0", True, 6.0, 0.3, 0.01, 0.002, math.inf, 30.0, 0.9)
    assert input_volts(regulator, 7.0, 0.5, 5.9) is None
