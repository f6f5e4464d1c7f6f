"""What the planner takes, in looks: one look is one survey with one inspection, so no machine changes it."""

from __future__ import annotations

import statistics
import tracemalloc

from hangar.parts import Aircraft, Library
from hangar.refit.fleet import fleet
from hangar.refit.ladder import Questions
from hangar.refit.request import RefitRequest
from hangar.survey.model import Conditions
from tests.benchmarks.measure import AT_LEAST, Row, processor_s
from tests.demo_copies import TODAY, demo_copy
from tests.refit.generator import DAY
from tests.refit.short_aircraft import short_aircraft, short_library

TYPES, MORE_TYPES = 500, 2000
FLEET, FLEET_MONEY = 50, 1000.0


def rows(rounds: int = AT_LEAST, *, full: bool = False) -> list[Row]:
    """Looks of the invented fleet's answers, growth with the library, memory, and a fleet of fifty."""
    return [*_demo(), *_libraries(), *(_fleets() if full else [])]


def _looks(aircraft: Aircraft, library: Library, asking: RefitRequest) -> tuple[list[int], bool]:
    """Looks of each of three questions, asked one after the other, and whether all are proved."""
    questions = Questions(aircraft, library, asking)
    answers = [questions.clear(), questions.best(100.0), questions.best(None)]
    return [answer.looks for answer in answers], all(answer.proved for answer in answers)


def _demo() -> list[Row]:
    copy = demo_copy()
    library, asking = copy.library(), RefitRequest(conditions=Conditions(today=TODAY))
    counts: list[int] = []
    proved = 0
    for aircraft in copy.whole_fleet():
        looks, is_proved = _looks(aircraft, library, asking)
        counts += looks
        proved += is_proved
    return [
        Row("looks for an answer of the invented fleet, most", (float(max(counts)),), "looks", most=600),
        Row("the same, half of them under", (statistics.median(counts),), "looks", most=150),
        Row("its aircraft with all three answers proved", (float(proved),), "aircraft"),
    ]


def _libraries() -> list[Row]:
    asking = RefitRequest(conditions=DAY, gauges=())
    found = {
        types: float(max(_looks(short_aircraft(3), short_library(3, types), asking)[0]))
        for types in (TYPES, MORE_TYPES)
    }
    tracemalloc.start()
    _looks(short_aircraft(3), short_library(3, TYPES), asking)
    memory = tracemalloc.get_traced_memory()[1] / 2**20
    tracemalloc.stop()
    return [
        Row(f"looks, 12 positions x {TYPES} types", (found[TYPES],), "looks", most=500),
        Row(f"looks, {MORE_TYPES} / {TYPES} types", (found[MORE_TYPES] / found[TYPES],), most=2),
        Row(f"memory, 12 positions x {TYPES} types", (memory,), "MiB", most=150),
    ]


def _fleets() -> list[Row]:
    copy = demo_copy()
    own = copy.whole_fleet()
    aircraft = [own[at % len(own)] for at in range(FLEET)]
    asking = RefitRequest(conditions=Conditions(today=TODAY), budget=FLEET_MONEY)
    gaps: list[float] = []

    def solve() -> None:
        answer = fleet(aircraft, copy.library(), asking)
        gaps.append(answer.worth - answer.bound)

    taken = processor_s(solve)
    return [
        Row(f"fleet of {FLEET} aircraft, processor", (taken,), "s", most=60),
        Row(f"fleet of {FLEET}, gap, 0 is proved", tuple(gaps), "cautions"),
    ]
