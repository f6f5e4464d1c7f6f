"""A look is a survey and the rules of one aircraft, sentences unsaid; and a fleet of forty is forty looks."""

from __future__ import annotations

import gc
import statistics
import time
from itertools import islice
from pathlib import Path
from tempfile import TemporaryDirectory

from hangar.__main__ import look_rarely_for_cycles
from hangar.answers.judging import JudgingBasis, judge_aircraft
from hangar.parts import Aircraft
from hangar.physics.network import Network
from hangar.rules import inspect
from hangar.store import Fleet
from hangar.survey import survey
from hangar.survey.defaults import class_defaults
from hangar.survey.supply import supply_model
from tests.benchmarks.fleets import models, write_fleet
from tests.benchmarks.judging import edits
from tests.benchmarks.measure import AT_LEAST, Row, paired, processor_s
from tests.survey.fleets import CONDITIONS

SOLVES, LOOKS = 20, 5
SOLVES_A_LOOK = 12.0
FORTY, LONGEST_S = 40, 1.0


def looks_at(aircraft: Aircraft, network: Network, rounds: int) -> tuple[float, ...]:
    """What a look costs in solves of the aircraft's own network, run by run."""
    fresh = edits(aircraft)

    def look() -> float:
        changed = list(islice(fresh, LOOKS))
        return (
            processor_s(lambda: [inspect(aircraft, survey(aircraft, CONDITIONS)) for aircraft in changed])
            / LOOKS
        )

    def solve() -> float:
        return processor_s(lambda: [network.solve() for _ in range(SOLVES)]) / SOLVES

    look()
    _, _, ratios = paired(look, solve, rounds)
    return ratios


def look_rows(rounds: int = AT_LEAST) -> list[Row]:
    """A look at each aircraft of the demo fleet."""
    look_rarely_for_cycles()
    found = []
    for aircraft in models()[1]:
        network = supply_model(aircraft, CONDITIONS, class_defaults()).network
        if network is not None:
            ratios = looks_at(aircraft, network, rounds)
            found.append((statistics.median(ratios), aircraft.code, ratios))
    found.sort()
    rows = [
        Row(f"a look at {code} / one solve() of its network", ratios)
        for _, code, ratios in (found[0], found[-1])
    ]
    middle = tuple(median for median, _, _ in found)
    return [Row("a look, each of the demo fleet / its solve()", middle, most=SOLVES_A_LOOK), *rows]


def forty_rows(rounds: int = AT_LEAST) -> list[Row]:
    """Forty aircraft judged one after the other, against as many looks."""
    look_rarely_for_cycles()
    with (
        TemporaryDirectory() as folder,
        Fleet.open(write_fleet(Path(folder) / "forty.hangar", FORTY)) as fleet,
    ):
        aircraft, basis = fleet.whole_fleet(), JudgingBasis.of(fleet, CONDITIONS.today)

    def judge() -> float:
        return processor_s(lambda: [judge_aircraft(other_aircraft, basis) for other_aircraft in aircraft])

    def look() -> float:
        return processor_s(
            lambda: [
                inspect(other_aircraft, survey(other_aircraft, basis.conditions()), library=basis.library)
                for other_aircraft in aircraft
            ]
        )

    judge()
    gc.collect()
    ours, _, ratios = paired(judge, look, rounds)
    begun = time.perf_counter()
    judge()
    wall = time.perf_counter() - begun
    return [
        Row(f"{FORTY} aircraft judged / {FORTY} looks", ratios, most=1.1, note="a judgement is one look"),
        Row(f"{FORTY} aircraft judged, processor time", ours, "s", most=LONGEST_S),
        Row(f"{FORTY} aircraft judged, by the clock", (wall,), "s", note="a busy machine counts"),
    ]
