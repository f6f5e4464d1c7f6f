from __future__ import annotations

from hangar.refit.labels import whole_front
from hangar.refit.level_programme import Answer, Question, cheapest
from hangar.refit.level_table import Bounds
from tests.all_cases import all_cases
from tests.refit.cases import seeds
from tests.refit.tables_by_chance import Chance, enumerated, level_tables_by_chance


@all_cases("seed", seeds(2))
def test_the_cheapest_refit_is_the_first_of_the_front(seed: int) -> None:
    chance = Chance(groups=4, choices=9, levels=1, scarce=seed % 3, types=4 * (seed % 2))
    one = level_tables_by_chance(seed, chance)[0]
    bounds = Bounds(most_types=2 if chance.types else None, mass_g=40)
    for margin in (0, 20, 30):
        answer = cheapest(one, Question(margin, bounds))
        fitting = [point for point in enumerated((one,), bounds) if point[2] >= margin]
        assert (None if answer is None else (answer.price, answer.mass_g)) == (
            min(fitting)[:2] if fitting else None
        )


@all_cases("seed", seeds(5))
def test_the_programme_and_the_labels_agree_on_large_tables(seed: int) -> None:
    level_tables = level_tables_by_chance(seed, Chance(groups=6, choices=120, supplies=6, levels=2))
    found = whole_front(level_tables, 6)
    assert len(found)
    for one in level_tables:
        own = found.level_mv >= one.level_mv
        for margin in (15, 35):
            answer = cheapest(one, Question(margin))
            price = None if answer is None else answer.price
            best = min(found.price[own & (found.margin >= margin)].tolist(), default=None)
            # A higher level may be cheaper still: the cheapest here is never below the front.
            assert price is None or (best is not None and best <= price)
            here = whole_front([one], 6)
            assert price == min(here.price[here.margin >= margin].tolist(), default=None)


def test_without_an_answer_the_next_best_is_given() -> None:
    one = level_tables_by_chance(4, Chance(groups=3, choices=6, levels=1))[0]
    given: list[Answer] = []
    for _ in range(5):
        answer = cheapest(one, Question(without=[each.choices for each in given]))
        assert answer is not None
        assert answer.choices not in [each.choices for each in given]
        given.append(answer)
    assert [each.price for each in given] == sorted(each.price for each in given)


def test_a_forced_choice_is_taken_or_there_is_no_answer() -> None:
    one = level_tables_by_chance(4, Chance(groups=3, choices=6, levels=1))[0]
    for choice in one.groups[1].choice.tolist():
        answer = cheapest(one, Question(forced={1: choice}))
        assert answer is None or answer.choices[1] == choice
    assert cheapest(one, Question(forced={1: 999})) is None


def test_relaxing_a_limit_never_makes_it_dearer() -> None:
    one = level_tables_by_chance(11, Chance(groups=4, choices=8, levels=1, scarce=1))[0]
    bounds = Bounds(budget=9000, mass_g=20)
    whole = cheapest(one, Question(12, bounds))
    for limit in ("current", "scarce", "budget", "mass"):
        relaxed = cheapest(one, Question(12, bounds, relaxed=frozenset({limit})))
        assert whole is None or (relaxed is not None and relaxed.price <= whole.price)
