"""Growing partial refits finds the price that the integer programme finds."""

from __future__ import annotations

from itertools import product

import numpy as np

from hangar.refit.cheapest import NO_PRICE, cheapest_refit, cheapest_with_each
from hangar.refit.dominated import within_limits
from hangar.refit.level_programme import Question, cheapest
from hangar.refit.level_table import Bounds
from tests.all_cases import all_cases
from tests.refit.cases import seeds
from tests.refit.tables_by_chance import Chance, level_tables_by_chance

RELAXED = ("", "current", "scarce", "budget", "mass", "types")


@all_cases("seed, name", product(seeds(2), RELAXED))
def test_the_cheapest_refit_is_that_of_the_integer_programme(seed: int, name: str) -> None:
    chance = Chance(groups=2 + seed % 3, choices=7, levels=1, scarce=seed % 2, types=4 * (seed % 3 == 0))
    one = level_tables_by_chance(300 + seed, chance)[0]
    bounds = Bounds(
        budget=9000 if seed % 4 else None,
        mass_g=25 if seed % 5 else None,
        most_types=1 if seed % 3 == 0 else None,
    )
    relaxed = frozenset({name} - {""})
    forced = {1: int(one.groups[1].choice[seed % len(one.groups[1])])} if seed % 2 else {}
    question = Question(10 * (seed % 3), bounds, forced, (), relaxed)
    ours, theirs = cheapest_refit(one, question), cheapest(one, question)
    assert (ours is None) == (theirs is None)
    if ours is not None and theirs is not None:
        assert (ours.price, ours.mass_g) == (theirs.price, theirs.mass_g)


@all_cases("seed", seeds(2))
def test_only_less_than_what_is_known_is_told_of_a_choice(seed: int) -> None:
    one = level_tables_by_chance(seed, Chance(groups=3, choices=8, levels=1))[0]
    bounds = Bounds(mass_g=40)
    every = cheapest_with_each(one, 1, 0, bounds)
    known = np.full(len(every), NO_PRICE)
    known[::2] = np.where(every[::2] >= 0, every[::2] + seed % 2, NO_PRICE)
    told = cheapest_with_each(one, 1, 0, bounds, known)
    assert told.tolist() == np.where((every >= 0) & (every < known), every, -1).tolist()


@all_cases("seed", seeds(2))
def test_what_cannot_keep_to_budget_and_mass_is_left_out_without_loss(seed: int) -> None:
    one = level_tables_by_chance(seed, Chance(groups=3, choices=8, levels=1))[0]
    question = Question(0, Bounds(budget=7000, mass_g=30))
    answer, left = cheapest(one, question), within_limits(one, question.bounds)
    if left is None:
        assert answer is None
        return
    assert sum(map(len, left.groups)) <= sum(map(len, one.groups))
    assert cheapest(left, question) == answer
