"""How long the planner takes, in units of one HiGHS solve of one level in the same run, and what memory.

A unit is one level read from the tables, reduced and solved as an integer programme. All libraries and
fleets are invented by seed.
"""

from __future__ import annotations

import statistics
import time
import tracemalloc
from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np
import pytest

from hangar.base.text import Text
from hangar.refit.bay import bay_of
from hangar.refit.dominated import undominated_table
from hangar.refit.explain import Explainer
from hangar.refit.fleet_solver import FleetProblem
from hangar.refit.front import Front, Point
from hangar.refit.labels import level_points, whole_front
from hangar.refit.level_programme import Question, cheapest
from hangar.refit.level_table import FrontRows, LevelTable, no_rows
from hangar.refit.limits import Limits
from hangar.refit.refused_levels import level_refusals
from hangar.refit.table_making import tables_of
from hangar.refit.tables import Tables
from tests.refit.fleets_by_chance import menu_by_chance
from tests.refit.generator import DAY, large_aircraft, large_library

pytestmark = pytest.mark.slow

FULL = Limits(conditions=DAY, gauges=())
COARSE = replace(FULL, budget=600.0, price_step=5.0, mass_step_g=5, margin_step_pct=10)


def seconds(work: Callable[[], object], times: int = 1) -> float:
    """The least of some runs."""
    found = []
    for _ in range(times):
        start = time.perf_counter()
        work()
        found.append(time.perf_counter() - start)
    return min(found)


@dataclass
class Case:
    """Tables of twelve positions in six groups."""

    tables: Tables

    @classmethod
    def of(cls, types: int, limits: Limits, spare_types: int = 0, seed: int = 3) -> Case:
        library = large_library(seed, types, spare_types)
        return cls(tables_of(large_aircraft(seed), library, bay_of(library, {}), limits))

    def unit_s(self) -> float:
        """Median time of one reduced unit solve over several levels."""
        levels = self.tables.levels[2:40:4]
        cheapest(undominated_table(self.tables.level_table_of(levels[0])), Question())

        def solve(at: int) -> float:
            start = time.perf_counter()
            cheapest(undominated_table(self.tables.level_table_of(levels[at])), Question(150 // self.step))
            return time.perf_counter() - start

        return statistics.median(solve(at) for at in range(len(levels)))

    @property
    def step(self) -> int:
        return self.tables.limits.margin_step_pct

    def front(self) -> FrontRows:
        return whole_front(self.tables.level_tables(), len(self.tables.lists), self.tables.bounds)

    def front_as_planned(self, point: Point) -> Front:
        """A front with one point and, as the planner gives it, everything that was refused."""
        refused = (*self.tables.refused, *level_refusals(self.tables))
        return Front(
            aircraft=self.tables.aircraft, points=(point,), refused=refused, exact=True, tables=self.tables
        )


def test_the_whole_front_of_six_groups_and_500_types_in_units() -> None:
    case = Case.of(500, FULL)
    unit = case.unit_s()
    list(case.tables.level_tables())
    taken = seconds(case.front)
    print(f"\nunit {1e3 * unit:.1f} ms, front {taken:.2f} s = {taken / unit:.0f} units (200)")
    assert len(case.front()) > 100


def test_the_coarse_front_and_its_first_points_in_units() -> None:
    case = Case.of(500, COARSE)
    unit = case.unit_s()
    level_tables = list(case.tables.level_tables())
    first = seconds(lambda: _first_points(case, level_tables))
    taken = seconds(case.front)
    print(
        f"\nunit {1e3 * unit:.1f} ms, coarse {taken / unit:.0f} units, first points {first / unit:.1f} units"
    )
    assert len(case.front()) > 10


def _first_points(case: Case, level_tables: list[LevelTable]) -> None:
    for one in level_tables:
        found, _ = level_points(one, case.tables.bounds, no_rows(6))
        if len(found):
            return


def test_what_four_times_the_types_cost() -> None:
    small, large = Case.of(500, FULL), Case.of(2000, FULL)
    for case in (small, large):
        list(case.tables.level_tables())
    ratio = seconds(large.front) / seconds(small.front, 2)
    print(f"\n500 to 2,000 types: x {ratio:.1f} (x 2 is aimed at)")
    assert len(large.front()) > 100


def peak_mib(work: Callable[[], object]) -> float:
    """Most memory that Python and numpy held at once while working."""
    tracemalloc.start()
    work()
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    return peak / 2**20


def test_the_memory_of_a_front_stays_small_with_and_without_spares() -> None:
    plain, spares = Case.of(500, FULL), Case.of(500, FULL, spare_types=20)
    for case in (plain, spares):
        list(case.tables.level_tables())
    found = peak_mib(plain.front), peak_mib(spares.front)
    print(f"\nfront {found[0]:.0f} MiB, with 20 spare types {found[1]:.0f} MiB")
    assert found[0] <= 60.0
    assert found[1] <= 150.0


def test_levelling_currents_leaves_fewer_labels() -> None:
    case = Case.of(500, FULL)
    with_, without = (
        whole_front(case.tables.level_tables(), 6, replace(case.tables.bounds, clamp=clamp)).labels
        for clamp in (True, False)
    )
    print(f"\nlabels {with_} with, {without} without levelling")
    assert with_ < without


def test_a_fleet_of_50_is_proved_and_one_of_500_nearly() -> None:
    case = Case.of(500, FULL)
    unit = case.unit_s()
    for count, gap in ((50, 0.0), (500, 0.005)):
        rng = np.random.default_rng(count)
        menus = [menu_by_chance(rng, 10, groups=4, choices=12, levels=6)[0] for _ in range(count)]
        problem = FleetProblem(menus, 5000 * count, [max(2, count // 20)] * 10, prove=count <= 50)
        start = time.perf_counter()
        answer = problem.solve()
        taken = time.perf_counter() - start
        print(f"\nfleet of {count}: {taken:.1f} s = {taken / unit:.0f} units, gap {100 * answer.gap:.2f} %")
        assert answer.gap <= gap


def test_why_not_for_every_type_of_a_group() -> None:
    case = Case.of(500, COARSE)
    unit = case.unit_s()
    found = case.front()
    row = len(found) // 2
    point = Point(
        price=float(found.price[row]) / 100.0, mass_change_g=0.0, weakest_margin=1.0, worst_bus_v=6.0,
        changes=(), findings_after=(), choices=tuple(found.choices[row].tolist()),
        certified=(int(found.price[row]), int(found.mass_g[row]), int(found.margin[row]) * case.step,
                   int(found.level_mv[row])),
    )  # fmt: skip
    front = case.front_as_planned(point)
    explainer = Explainer(front, case.tables)
    at = 0
    position = case.tables.lists[at].group.codes[0]
    reasons: list[dict[str, Text]] = []
    taken = seconds(lambda: reasons.append(explainer.why_not_all(position, point)))
    print(f"\nwhy not, every type of a group: {taken:.2f} s = {taken / unit:.0f} units")
    assert all(reasons[-1].values())
