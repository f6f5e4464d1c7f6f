"""How long a survey takes, told as a multiple of one solution of its own supply network."""

from __future__ import annotations

import time
from dataclasses import replace
from typing import Any

import pytest

from hangar.parts import Aircraft
from hangar.rules import inspect
from hangar.survey import Conditions, survey
from hangar.survey.defaults import class_defaults
from hangar.survey.supply import supply_model
from tests.survey.fleets import CONDITIONS, biplane


def twenty_servos() -> Aircraft:
    """The big biplane with its five surface servos four times over."""
    aircraft = biplane()
    fits = tuple(
        replace(fit, position=replace(fit.position, code=f"{fit.code}{round_}"))
        for round_ in range(4)
        for fit in aircraft.fits[:5]
    )
    return replace(aircraft, fits=fits)


def best_s(work: Any, rounds: int = 20) -> float:
    """Shortest of several runs, in the processor's time so that a busy machine does not count."""
    times = []
    for _ in range(rounds):
        start = time.process_time()
        work()
        times.append(time.process_time() - start)
    return min(times)


@pytest.mark.benchmark(group="survey")
def test_survey_of_twenty_servos(benchmark: Any, capsys: pytest.CaptureFixture[str]) -> None:
    aircraft = twenty_servos()
    surveyed = benchmark(survey, aircraft, CONDITIONS)
    assert len(surveyed.positions) == 20
    network = supply_model(aircraft, CONDITIONS, class_defaults()).network
    assert network is not None
    ratio = best_s(lambda: survey(aircraft, CONDITIONS)) / best_s(network.solve)
    benchmark.extra_info["times one solution of its network"] = round(ratio, 1)
    with capsys.disabled():
        print(f"\nsurvey of 20 servos: {ratio:.0f} times one solution of its supply network")


@pytest.mark.benchmark(group="survey")
def test_survey_of_twenty_servos_never_seen_before(benchmark: Any) -> None:
    aircraft = twenty_servos()
    speeds = iter(range(1, 10_000_000))

    def once() -> object:
        return survey(aircraft, Conditions(today=CONDITIONS.today, air_c=15.0 + 1e-6 * next(speeds)))

    benchmark(once)


FRAME_S = 1.0 / 60.0


@pytest.mark.benchmark(group="survey")
def test_editing_one_of_twenty_servos_gives_its_findings_within_a_frame(
    benchmark: Any, capsys: pytest.CaptureFixture[str]
) -> None:
    aircraft = twenty_servos()
    edits = iter(range(1, 10_000_000))

    def edited() -> Aircraft:
        fit = aircraft.fits[0]
        assert fit.servo_type is not None
        stronger = 1.0 + 1e-7 * next(edits)
        ratings = tuple(replace(row, torque_nm=row.torque_nm * stronger) for row in fit.servo_type.ratings)
        changed = replace(fit, servo_type=replace(fit.servo_type, ratings=ratings))
        return replace(aircraft, fits=(changed, *aircraft.fits[1:]))

    def look_at(changed: Aircraft) -> object:
        return inspect(changed, survey(changed, CONDITIONS))

    benchmark.pedantic(look_at, setup=lambda: ((edited(),), {}), rounds=30, warmup_rounds=3)
    least = min(best_s(lambda: look_at(edited()), rounds=1) for _ in range(10))
    with capsys.disabled():
        print(f"\nedit to findings of 20 servos: {1e3 * least:.1f} ms, {least / FRAME_S:.2f} of a frame")
    assert least < FRAME_S
