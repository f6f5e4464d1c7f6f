"""What the planner takes, in units: one unit is one level reduced and solved by HiGHS in the same run.

``python -m tests.benchmarks.refits COUNT`` is the process that tells the memory of a fleet's plan.
"""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import numpy as np

from hangar.refit.bay import bay_of
from hangar.refit.explain import Explainer
from hangar.refit.fleet_solver import FleetProblem
from hangar.refit.front import Point
from hangar.refit.labels import level_points
from hangar.refit.level_table import FrontRows, no_rows
from hangar.refit.table_making import tables_of
from tests.benchmarks.measure import AT_LEAST, Row, paired, processor_s, wall_s
from tests.benchmarks.test_refit_bench import COARSE, FULL, Case, peak_mib
from tests.refit.fleets_by_chance import menu_by_chance
from tests.refit.generator import large_aircraft, large_library

ROOT = Path(__file__).resolve().parents[2]
TYPES, MORE_TYPES, SPARE_TYPES = 500, 2000, 20
SMALL_FLEET, LARGE_FLEET = 50, 500
LIBRARIES, RUNS_OF_EACH = 6, 3


def rows(rounds: int = AT_LEAST, *, full: bool = False) -> list[Row]:
    """Fronts, first points, growth with the library, why-not, memory and fleets."""
    found = [*_fronts(rounds), *_why_not(rounds), *_memory()]
    return [*found, *(_fleets(rounds) if full else _fleets(1))]


def _in_units(case: Case, work: Callable[[], object], rounds: int) -> tuple[float, ...]:
    return paired(lambda: wall_s(work), case.unit_s, rounds)[2]


def _ready(case: Case) -> Case:
    list(case.tables.level_tables())
    return case


def _fronts(rounds: int) -> list[Row]:
    fine, coarse = _ready(Case.of(TYPES, FULL)), _ready(Case.of(TYPES, COARSE))
    large = _ready(Case.of(MORE_TYPES, FULL))

    def first_points() -> None:
        for one in coarse.tables.level_tables():
            if len(level_points(one, coarse.tables.bounds, no_rows(6))[0]):
                return

    growth = paired(lambda: wall_s(large.front), lambda: wall_s(fine.front), rounds)[2]
    more, fewer = _from_library(MORE_TYPES), _from_library(TYPES)
    whole = paired(lambda: wall_s(more), lambda: wall_s(fewer), rounds)[2]
    title = f"6 groups x {TYPES} types"
    return [
        Row(f"whole front, {title}", _in_units(fine, fine.front, rounds), "U", most=200),
        Row(f"coarse front, {title}", _in_units(coarse, coarse.front, rounds), "U", most=60),
        Row("first points of the coarse front", _in_units(coarse, first_points, rounds), "U", most=20),
        Row(f"whole front, {MORE_TYPES} / {TYPES} types", growth, most=2),
        Row(f"the same with reading the library, {MORE_TYPES} / {TYPES}", whole),
        Row(
            f"the same of {LIBRARIES} other libraries and aircraft",
            _growths(),
            most=2,
            note="one figure each",
        ),
    ]


def _growths() -> tuple[float, ...]:
    """How the front grows with the types of a library, for several: the points it has differ much."""
    found = []
    for seed in range(4, 4 + LIBRARIES):
        least = [
            min(processor_s(case.front) for _ in range(RUNS_OF_EACH))
            for case in (_ready(Case.of(types, FULL, seed=seed)) for types in (TYPES, MORE_TYPES))
        ]
        found.append(least[1] / least[0])
    return tuple(found)


def _from_library(types: int) -> Callable[[], object]:
    library, aircraft = large_library(3, types), large_aircraft(3)
    return lambda: Case(tables_of(aircraft, library, bay_of(library, {}), FULL)).front()


def _why_not(rounds: int) -> list[Row]:
    case = _ready(Case.of(TYPES, COARSE))
    found = case.front()
    point = _middle(case, found)
    front = case.front_as_planned(point)
    position = case.tables.lists[0].group.codes[0]

    def ask() -> object:
        return Explainer(front, case.tables).why_not_all(position, point)

    return [Row("why not, every type of one group", _in_units(case, ask, rounds), "U", most=44)]


def _middle(case: Case, found: FrontRows) -> Point:
    row = len(found) // 2
    return Point(
        price=float(found.price[row]) / 100.0,
        mass_change_g=0.0,
        weakest_margin=1.0,
        worst_bus_v=6.0,
        changes=(),
        findings_after=(),
        choices=tuple(found.choices[row].tolist()),
        certified=(
            int(found.price[row]),
            int(found.mass_g[row]),
            int(found.margin[row]) * case.step,
            int(found.level_mv[row]),
        ),
    )


def _memory() -> list[Row]:
    cases = (
        ("memory of the whole front", Case.of(TYPES, FULL), 60.0),
        (
            f"the same with {SPARE_TYPES} spare types",
            Case.of(TYPES, FULL, spare_types=SPARE_TYPES),
            150.0,
        ),
    )
    return [Row(title, (peak_mib(_ready(case).front),), "MiB", most=most) for title, case, most in cases]


def _fleet_problem(count: int) -> FleetProblem:
    chance = np.random.default_rng(count)
    menus = [menu_by_chance(chance, 10, groups=4, choices=12, levels=6)[0] for _ in range(count)]
    return FleetProblem(menus, 5000 * count, [max(2, count // 20)] * 10, prove=count <= SMALL_FLEET)


def _fleets(rounds: int) -> list[Row]:
    case = _ready(Case.of(TYPES, FULL))
    found = []
    for count, most_gap in ((SMALL_FLEET, 0.0), (LARGE_FLEET, 0.5)):
        gaps: list[float] = []

        def solve() -> None:
            gaps.append(100 * _fleet_problem(count).solve().gap)  # noqa: B023

        units = tuple(wall_s(solve) / case.unit_s() for _ in range(rounds))
        proved = ", 0 is proved" if count <= SMALL_FLEET else ""
        found += [
            Row(f"fleet of {count} aircraft", units, "U"),
            Row(f"fleet of {count}, gap{proved}", tuple(gaps), "%", most=most_gap),
        ]
    memory = tuple(_memory_of_child(LARGE_FLEET) for _ in range(rounds))
    return [*found, Row(f"fleet of {LARGE_FLEET}, memory", memory, "MiB", most=500, note="the solver's too")]


def _memory_of_child(count: int) -> float:
    words = [sys.executable, "-m", "tests.benchmarks.refits", str(count)]
    return float(subprocess.run(words, cwd=ROOT, capture_output=True, text=True, check=True).stdout)


def main(count: int) -> None:
    """Plan a fleet of that size and tell how much the process grew at most."""
    from tests.benchmarks.window_child import memory_mib

    problem = _fleet_problem(count)
    before = memory_mib("VmHWM")
    problem.solve()
    print(memory_mib("VmHWM") - before)


if __name__ == "__main__":
    main(int(sys.argv[1]))
