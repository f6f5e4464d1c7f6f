"""How long a survey takes, told as a multiple of one solution of its own supply network."""

from __future__ import annotations

import time
from typing import Any

import pytest

from hangar.parts import Aircraft
from hangar.survey import Conditions, survey
from hangar.survey.defaults import class_defaults
from hangar.survey.supply import supply_model
from tests.benchmarks.judging import twenty_servos
from tests.survey.fleets import CONDITIONS


def best_s(work: Any, rounds: int = 20) -> float:
    """Shortest of several runs, in the processor's time so that a busy machine does not count."""
    times = []
    for _ in range(rounds):
        start = time.process_time()
        work()
        times.append(time.process_time() - start)
    return min(times)


def every_figure(aircraft: Aircraft, conditions: Conditions) -> int:
    """A survey with all that is worked only when somebody asks; how many figures that is."""
    return sum(1 for _ in survey(aircraft, conditions).figures())


@pytest.mark.benchmark(group="survey")
def test_survey_of_twenty_servos(benchmark: Any, capsys: pytest.CaptureFixture[str]) -> None:
    aircraft = twenty_servos()
    assert benchmark(every_figure, aircraft, CONDITIONS) > 20
    network = supply_model(aircraft, CONDITIONS, class_defaults()).network
    assert network is not None
    ratio = best_s(lambda: every_figure(aircraft, CONDITIONS)) / best_s(network.solve)
    benchmark.extra_info["times one solution of its network"] = round(ratio, 1)
    with capsys.disabled():
        print(f"\nsurvey of 20 servos: {ratio:.0f} times one solution of its supply network")


@pytest.mark.benchmark(group="survey")
def test_survey_of_twenty_servos_never_seen_before(benchmark: Any) -> None:
    aircraft = twenty_servos()
    speeds = iter(range(1, 10_000_000))

    def once() -> object:
        return every_figure(aircraft, Conditions(today=CONDITIONS.today, air_c=15.0 + 1e-6 * next(speeds)))

    benchmark(once)
