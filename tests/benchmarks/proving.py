"""Whether the planner's answer is that of trying every plan one by one, in fresh small cases."""

from __future__ import annotations

from hangar.refit.goal import cents
from hangar.refit.planner import search_of
from hangar.rules.finding import Level
from tests.benchmarks.measure import AT_LEAST, Row
from tests.refit.every_plan import best_worth, every_plan
from tests.refit.generator import small_case
from tests.refit.test_every_plan import asking_of

CASES, FULL_CASES = 6, 100
"""Cases of a round."""
BOTH = (Level.WARNING, Level.CAUTION)


def is_same(seed: int) -> bool:
    """Whether the search and every plan tried agree on a case."""
    case = small_case(seed)
    wanted = best_worth(case, list(every_plan(case)), BOTH, None)
    search = search_of(case.aircraft, case.library, asking_of(case))
    outcome = search.best(search.goal(), most_looks=10_000)
    if not outcome.proved or outcome.judged is None:
        return False
    return (*outcome.judged.count, cents(search.price(outcome.judged.picks))) == wanted


def rows(rounds: int = AT_LEAST, *, full: bool = False) -> list[Row]:
    """How many cases of each round come out alike; every one is wanted."""
    tried = FULL_CASES if full else CASES
    alike = [
        float(sum(is_same(seed) for seed in range(number * tried, (number + 1) * tried)))
        for number in range(max(rounds, AT_LEAST))
    ]
    note = f"{int(sum(alike))} of {tried * len(alike)} in all"
    return [
        Row(f"exact as every plan tried, of {tried} cases", tuple(alike), "cases", least=tried, note=note)
    ]
