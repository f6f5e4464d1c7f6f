"""Choices that are left out of every level at once are just those that no level would keep."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from hangar.refit.narrowed import narrowed
from hangar.refit.reduced import reduced_group
from hangar.refit.slices import Bounds, GroupSlice, Slice, SupplySlice
from tests.refit.tables_by_chance import Chance, slices_by_chance


def _group(choice: list[int], price: list[int], current: list[int], margin: list[int]) -> GroupSlice:
    none = np.zeros((len(choice), 0), np.int64)
    numbers, cost, amps, steps = (np.array(each, np.int64) for each in (choice, price, current, margin))
    return GroupSlice(numbers, cost, np.zeros_like(cost), amps, steps, none, none)


def _level(level_mv: int, group: GroupSlice) -> Slice:
    one = np.zeros(1, np.int64)
    return Slice(level_mv, (group,), SupplySlice(one, one, one, one + 10, np.zeros((1, 0), np.int64)))


def _left(levels: list[Slice]) -> list[list[int]]:
    return [one.groups[0].choice.tolist() for one in levels]


@pytest.mark.parametrize("seed", range(60))
def test_each_level_keeps_what_it_would_keep_by_itself(seed: int) -> None:
    levels = slices_by_chance(seed, Chance(choices=40, levels=6, scarce=seed % 3))
    levels = tuple(one for one in levels if all(len(group) for group in one.groups))
    left = narrowed(levels, Bounds())
    assert sum(len(group) for one in left for group in one.groups) <= sum(
        len(group) for one in levels for group in one.groups
    )
    for before, after in zip(levels, left, strict=True):
        for full, fewer in zip(before.groups, after.groups, strict=True):
            for name in ("choice", "price", "mass_g", "current_ua", "margin", "uses"):
                expected = getattr(reduced_group(full, by_type=False), name)
                assert np.array_equal(getattr(reduced_group(fewer, by_type=False), name), expected)


def test_a_choice_that_one_other_beats_at_every_level_is_left_out() -> None:
    levels = [
        _level(6000, _group([0, 1], [500, 600], [10, 10], [12, 12])),
        _level(5000, _group([0, 1], [500, 600], [9, 10], [11, 10])),
    ]
    assert _left(narrowed(levels, Bounds())) == [[0], [0]]


def test_a_choice_that_wins_at_one_level_stays_at_all() -> None:
    levels = [
        _level(6000, _group([0, 1], [500, 600], [10, 10], [12, 12])),
        _level(5000, _group([0, 1], [500, 600], [9, 10], [10, 11])),
    ]
    assert _left(narrowed(levels, Bounds())) == [[0, 1], [0, 1]]


def test_a_choice_stays_where_the_better_one_is_not_allowed() -> None:
    levels = [
        _level(6000, _group([1], [600], [10], [12])),
        _level(5000, _group([0, 1], [500, 600], [9, 10], [11, 10])),
    ]
    assert _left(narrowed(levels, Bounds())) == [[1], [0, 1]]


def test_of_equal_choices_the_first_stays() -> None:
    alike = _group([3, 7], [500, 500], [10, 10], [12, 12])
    assert _left(narrowed([_level(6000, alike), _level(5000, alike)], Bounds())) == [[3], [3]]


def test_with_a_limit_on_types_nothing_is_left_out() -> None:
    levels = slices_by_chance(4, Chance(choices=40, levels=6, types=5))
    assert narrowed(levels, replace(Bounds(), most_types=2)) == list(levels)
