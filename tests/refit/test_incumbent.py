"""What is still to come, told by few pairs, never hides a refit; what is known never lets a beaten one by."""

from __future__ import annotations

from itertools import product

import numpy as np

from hangar.refit.incumbent import Incumbent, added, corners_of, remaining_after
from hangar.refit.labels import whole_front
from hangar.refit.level_table import Bounds, GroupTable, no_rows
from hangar.refit.undominated import undominated, undominated_in_groups
from tests.all_cases import all_cases
from tests.refit.cases import seeds
from tests.refit.tables_by_chance import Chance, level_tables_by_chance


@all_cases("seed, count", product(seeds(4), (3, 40, 900)))
def test_no_pair_undercuts_the_corners_told_for_it(seed: int, count: int) -> None:
    rng = np.random.default_rng(seed)
    price = rng.integers(0, 10_000, count)
    mass = 10_000 - price + rng.integers(0, 900, count)
    told_price, told_mass = corners_of(price, mass)
    assert len(told_price) <= 24
    assert (np.diff(told_price) > 0).all()
    assert (np.diff(told_mass) < 0).all()
    below = (told_price[:, None] <= price) & (told_mass[:, None] <= mass)
    assert below.any(axis=0).all()
    assert told_price[0] == price.min()
    assert told_mass[-1] == mass.min()


def test_few_pairs_are_told_as_they_are() -> None:
    price, mass = corners_of(np.array([5, 3, 9, 3]), np.array([2, 7, 1, 8]))
    assert (price.tolist(), mass.tolist()) == ([3, 5, 9], [7, 2, 1])
    both = added((price, mass), (np.array([0, 1]), np.array([1, 0])))
    # The sum 9 and 2 is left out: 6 and 2 is cheaper and as light.
    sums = [(3, 8), (4, 7), (5, 3), (6, 2), (10, 1)]
    assert list(zip(*(each.tolist() for each in both), strict=True)) == sums


@all_cases("seed", seeds(4))
def test_a_refit_is_beaten_just_when_a_point_or_a_limit_says_so(seed: int) -> None:
    level_tables = level_tables_by_chance(seed, Chance(groups=3, choices=8, levels=3))
    found = whole_front(level_tables, 3)
    bounds = Bounds(budget=9000 if seed % 2 else None, mass_g=30 if seed % 3 else None)
    level = level_tables[1].level_mv
    known = Incumbent(found, level, bounds)
    rng = np.random.default_rng(seed)
    price, mass, margin = (
        rng.integers(0, 20_000, 3000),
        rng.integers(-20, 90, 3000),
        rng.integers(0, 70, 3000),
    )
    beaten = known.beats(price, mass, margin)
    assert (beaten[:300] == known.beats(price[:300], mass[:300], margin[:300])).all()
    for row in range(0, 3000, 7):
        by_point = (found.price <= price[row]) & (found.mass_g <= mass[row])
        by_point &= (found.margin >= margin[row]) & (found.level_mv >= level)
        too_dear = bounds.budget is not None and price[row] > bounds.budget
        too_heavy = bounds.mass_g is not None and mass[row] > bounds.mass_g
        within = bounds.mass_g is None or mass[row] <= bounds.mass_g
        assert beaten[row] == ((bool(by_point.any()) and within) or too_dear or too_heavy)


def test_without_points_and_limits_everything_is_worth_looking_at() -> None:
    one = level_tables_by_chance(2, Chance(groups=3, levels=1))[0]
    known = Incumbent(no_rows(3), one.level_mv, Bounds())
    rest = remaining_after(one.groups, one.supplies)[0]
    zero = np.zeros(4, np.int64)
    assert known.can_still_win(zero, zero, zero, rest).all()
    assert not known.beats(zero, zero, zero).any()


def test_what_is_to_come_shrinks_group_by_group_to_the_supply() -> None:
    one = level_tables_by_chance(4, Chance(groups=4, levels=1, scarce=1))[0]
    told = remaining_after(one.groups, one.supplies)
    assert len(told) == 5
    assert told[0].least_ua == sum(int(group.current_ua.min()) for group in one.groups)
    assert told[4].price[0] == one.supplies.price.min()
    assert told[4].least_uses.tolist() == [0]
    by_hand = sum(_least_mass(group) for group in one.groups) + int(one.supplies.mass_g.min())
    assert told[0].mass_g[-1] == by_hand


def _least_mass(group: GroupTable) -> int:
    return int(group.mass_g.min())


@all_cases("count", (20, 190, 700))
def test_groups_side_by_side_are_reduced_as_each_by_itself(count: int) -> None:
    rng = np.random.default_rng(count)
    price, mass, current, margin = rng.integers(0, 30, (4, count))
    group = np.sort(rng.integers(0, 4, count))
    kept = undominated_in_groups(price, mass, current, margin, group).tolist()
    alone = []
    for at in range(4):
        own = np.flatnonzero(group == at)
        alone += own[undominated(price[own], mass[own], current[own], margin[own])].tolist()
    assert kept == alone
