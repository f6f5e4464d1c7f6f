"""Whether the planner's front is that of trying every refit one by one, in fresh small cases."""

from __future__ import annotations

from tests.benchmarks.measure import AT_LEAST, Row
from tests.refit.generator import SmallCase, second_pack_case, small_case
from tests.refit.test_against_brute_force import finds_the_same

SMALL_CASES, SECOND_PACKS = 10, 1
"""Cases of a round; the second packs take longest."""
FULL_CASES, FULL_SECOND_PACKS = 200, 20


def is_same(case: SmallCase) -> bool:
    """Whether planner and brute force agree on a case."""
    try:
        finds_the_same(case)
    except AssertionError:
        return False
    return True


def rows(rounds: int = AT_LEAST, *, full: bool = False) -> list[Row]:
    """How many cases of each round come out alike; every one is wanted."""
    small, second = (FULL_CASES, FULL_SECOND_PACKS) if full else (SMALL_CASES, SECOND_PACKS)
    alike = []
    for round_ in range(max(rounds, AT_LEAST)):
        cases = [small_case(seed) for seed in range(round_ * small, (round_ + 1) * small)]
        cases += [second_pack_case(seed) for seed in range(round_ * second, (round_ + 1) * second)]
        alike.append(float(sum(map(is_same, cases))))
    tried = small + second
    note = f"{int(sum(alike))} of {tried * len(alike)} in all"
    return [Row(f"exact as brute force, of {tried} cases", tuple(alike), "cases", least=tried, note=note)]
