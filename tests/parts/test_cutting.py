"""Cutting from stock lengths: never more bought than the best of all ways, found by trying them all."""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Iterator, Sequence

import pytest
from hypothesis import given, settings
from hypothesis import strategies as some

from hangar.base.errors import BadInput
from hangar.parts.cutting import CutRule, _longest_first, cut_from_stock
from tests.all_cases import all_cases


def partitions(pieces: Sequence[int]) -> Iterator[list[list[int]]]:
    """Every way to share pieces out over bars."""
    if not pieces:
        yield []
        return
    first, rest = pieces[0], pieces[1:]
    for shared in partitions(rest):
        for at in range(len(shared)):
            yield [*shared[:at], [first, *shared[at]], *shared[at + 1 :]]
        yield [[first], *shared]


def least_by_trying_all(pieces: Sequence[int], stock: Sequence[int]) -> int:
    return min(
        sum(min(sold for sold in stock if sold >= sum(bar)) for bar in shared)
        for shared in partitions(pieces)
        if all(sum(bar) <= max(stock) for bar in shared)
    )


def check_cut(pieces: Sequence[int], stock: Sequence[int], cutting: CutRule) -> None:
    assert Counter(piece for bar in cutting.bars for piece in bar.pieces_mm) == Counter(pieces)
    assert all(bar.stock_mm in stock and bar.left_mm >= 0 for bar in cutting.bars)
    assert cutting.waste_mm == cutting.bought_mm - sum(pieces)
    assert cutting.least_mm <= cutting.bought_mm


@settings(max_examples=150)
@given(
    some.lists(some.integers(20, 1000), min_size=1, max_size=7),
    some.lists(some.sampled_from([400, 650, 1100, 1300, 2000]), max_size=2),
)
def test_no_other_way_of_cutting_buys_less(pieces: list[int], more: list[int]) -> None:
    stock = [1000, *more]
    cutting = cut_from_stock(pieces, stock)
    check_cut(pieces, stock, cutting)
    assert cutting.exact
    assert cutting.bought_mm == cutting.least_mm == least_by_trying_all(pieces, stock)


def test_longest_first_is_beaten_where_it_wastes_a_bar() -> None:
    # Longest first into the fullest bar takes four bars; by hand: 44+8+8, 24+24+6+6, 22+21+17.
    pieces = [44, 24, 24, 22, 21, 17, 8, 8, 6, 6]
    assert sum(bar.stock_mm for bar in _longest_first(pieces, [60])) == 240
    assert cut_from_stock(pieces, [60]).bought_mm == 180


def test_pieces_that_fill_every_bar_are_cut_without_waste() -> None:
    pieces = [571, 429, 612, 388, 503, 497, 700, 300, 901, 99]
    cutting = cut_from_stock(pieces, [1000])
    assert (cutting.bought_mm, cutting.waste_mm, cutting.exact) == (5000, 0, True)


def test_sixty_leads_are_cut_exactly() -> None:
    chance = random.Random(7)
    pieces = [chance.randrange(80, 900) for _ in range(60)]
    cutting = cut_from_stock(pieces, [1000, 5000])
    check_cut(pieces, [1000, 5000], cutting)
    assert cutting.exact


def test_a_search_that_gives_up_says_so_and_still_cuts_everything() -> None:
    chance = random.Random(3)
    pieces = [chance.randrange(251, 500) for _ in range(60)]
    cutting = cut_from_stock(pieces, [1000], most_steps=20)
    check_cut(pieces, [1000], cutting)
    assert not cutting.exact
    assert cutting.least_mm >= sum(pieces)


def test_nothing_wanted_buys_nothing() -> None:
    assert cut_from_stock([], [1000]).bars == ()


@all_cases(
    "pieces, stock, words",
    [
        ([1200], [1000], "a piece of 1200 mm is longer than what is sold, 1000 mm"),
        ([0], [1000], "pieces above 0 mm are allowed"),
        ([100], [], "at least one above 0 mm is needed"),
    ],
)
def test_impossible_lengths_are_told_in_a_sentence(pieces: list[int], stock: list[int], words: str) -> None:
    with pytest.raises(BadInput, match=words):
        cut_from_stock(pieces, stock)
