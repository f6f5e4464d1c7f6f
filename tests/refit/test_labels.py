from __future__ import annotations

from dataclasses import replace
from itertools import product

import numpy as np

from hangar.refit.cheapest import cheapest_with_each
from hangar.refit.labels import whole_front
from hangar.refit.level_programme import Question, cheapest
from hangar.refit.level_table import Bounds, LevelTable, described
from hangar.refit.undominated import undominated
from tests.all_cases import all_cases
from tests.refit.cases import seeds
from tests.refit.tables_by_chance import Chance, enumerated, level_tables_by_chance

PLAIN = [
    Chance(groups=1 + seed % 4, choices=7, supplies=1 + seed % 4, levels=1 + seed % 4) for seed in seeds()
]
SPARES = [Chance(groups=2 + seed % 3, choices=6, scarce=1 + seed % 3, levels=2) for seed in seeds()]
TYPES = [Chance(groups=2 + seed % 3, choices=6, types=3 + seed % 4, scarce=seed % 2) for seed in seeds()]


def front(level_tables: tuple[LevelTable, ...], bounds: Bounds) -> list[tuple[int, int, int, int]]:
    return sorted(described(whole_front(level_tables, len(level_tables[0].groups), bounds)))


@all_cases("seed, chance", enumerate(PLAIN))
def test_the_front_is_that_of_plain_enumeration(seed: int, chance: Chance) -> None:
    level_tables = level_tables_by_chance(seed, chance)
    bounds = Bounds(
        budget=6000 if seed % 3 == 0 else None,
        mass_g=25 if seed % 5 == 0 else None,
        clamp=seed % 2 == 0,
    )
    assert front(level_tables, bounds) == enumerated(level_tables, bounds)


@all_cases("seed, chance", enumerate(SPARES))
def test_spares_wanted_by_several_groups_are_not_used_twice(seed: int, chance: Chance) -> None:
    level_tables = level_tables_by_chance(1000 + seed, chance)
    bounds = Bounds(budget=8000 if seed % 2 else None)
    assert front(level_tables, bounds) == enumerated(level_tables, bounds)


@all_cases("seed, chance", enumerate(TYPES))
def test_no_more_types_are_bought_than_allowed(seed: int, chance: Chance) -> None:
    level_tables = level_tables_by_chance(2000 + seed, chance)
    bounds = Bounds(most_types=seed % 4)
    assert front(level_tables, bounds) == enumerated(level_tables, bounds)


@all_cases("seed", seeds(4))
def test_the_order_of_levels_does_not_matter(seed: int) -> None:
    level_tables = level_tables_by_chance(seed, Chance(groups=4, choices=8, levels=4))
    assert front(level_tables, Bounds()) == front(level_tables[::-1], Bounds())


def test_the_same_case_gives_the_same_choices_twice() -> None:
    level_tables = level_tables_by_chance(5, Chance(groups=4, choices=8, levels=4))
    one, two = whole_front(level_tables, 4), whole_front(level_tables, 4)
    assert one.choices.tobytes() == two.choices.tobytes()


def test_the_choices_of_a_point_add_up_to_its_numbers() -> None:
    level_tables = level_tables_by_chance(8, Chance(groups=4, choices=8, levels=3))
    found = whole_front(level_tables, 4)
    assert len(found)
    for row in range(len(found)):
        one = next(each for each in level_tables if each.level_mv == found.level_mv[row])
        picked = [
            int(np.flatnonzero(group.choice == number)[0])
            for group, number in zip(one.groups, found.choices[row], strict=False)
        ]
        supply = int(np.flatnonzero(one.supplies.choice == found.choices[row, -1])[0])
        price = sum(int(group.price[at]) for group, at in zip(one.groups, picked, strict=True))
        assert price + one.supplies.price[supply] == found.price[row]
        margins = [group.margin[at] for group, at in zip(one.groups, picked, strict=True)]
        assert min(margins) == found.margin[row]


def test_stopping_gives_what_was_found_and_says_so() -> None:
    level_tables = level_tables_by_chance(3, Chance(groups=3, levels=4))
    asked: list[int] = []

    def once(one: LevelTable) -> bool:
        asked.append(one.level_mv)
        return False

    found = whole_front(level_tables, 3, step=once)
    assert not found.complete
    assert asked == [level_tables[0].level_mv]
    assert set(found.level_mv.tolist()) <= {level_tables[0].level_mv}


def test_a_group_without_any_choice_leaves_no_refit() -> None:
    one = level_tables_by_chance(3, Chance(groups=3, levels=1))[0]
    empty = replace(one, groups=(one.groups[0].take(np.zeros(0, np.int64)), *one.groups[1:]))
    assert len(whole_front([empty], 3)) == 0


def test_clamping_leaves_fewer_labels_and_the_same_front() -> None:
    level_tables = level_tables_by_chance(3, Chance(groups=5, choices=60, supplies=4, levels=2))
    plain, clamped = (whole_front(level_tables, 5, Bounds(clamp=clamp)) for clamp in (False, True))
    assert sorted(described(plain)) == sorted(described(clamped))
    assert clamped.labels < plain.labels


@all_cases("count, spread", product((3, 90, 300, 3000), (3, 40, 100_000)))
def test_undominated_rows_are_those_that_no_other_beats(count: int, spread: int) -> None:
    rng = np.random.default_rng(count + spread)
    price, mass, current, margin = rng.integers(0, spread, (4, count))
    kept = undominated(price, mass, current, margin)
    for row in range(count):
        beats = (price <= price[row]) & (mass <= mass[row]) & (current <= current[row])
        beats &= margin >= margin[row]
        equal = (price == price[row]) & (mass == mass[row]) & (current == current[row])
        equal &= margin == margin[row]
        first = int(np.flatnonzero(equal)[0]) == row
        assert (row in kept) == (first and not (beats & ~equal).any())


@all_cases("seed", seeds(2))
def test_the_cheapest_refit_with_each_choice_is_that_of_the_integer_programme(seed: int) -> None:
    one = level_tables_by_chance(seed, Chance(groups=4, choices=8, levels=1, scarce=seed % 2))[0]
    bounds = Bounds(mass_g=40, budget=15000 if seed % 3 else None)
    for margin in (0, 20):
        found = cheapest_with_each(one, 1, margin, bounds).tolist()
        for choice, price in zip(one.groups[1].choice.tolist(), found, strict=True):
            answer = cheapest(one, Question(margin, bounds, forced={1: choice}))
            assert price == (-1 if answer is None else answer.price)
