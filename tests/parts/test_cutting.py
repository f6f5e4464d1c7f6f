"""Cutting from stock lengths: never more bought than the best of all ways, found by trying them all."""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Iterator, Sequence
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as some

from hangar.base.errors import BadInput
from hangar.parts import cutting as cutting_module
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


def longest_first_bar_by_bar(pieces: Sequence[int], longest: int) -> list[list[int]]:
    """The same looked up among all bars: the fullest that holds the piece, the first of equals."""
    bars: list[list[int]] = []
    for piece in sorted(pieces, reverse=True):
        fitting = [bar for bar in bars if sum(bar) + piece <= longest]
        if fitting:
            max(fitting, key=sum).append(piece)
        else:
            bars.append([piece])
    return bars


@given(some.lists(some.integers(1, 1000), max_size=60))
def test_each_piece_goes_into_the_fullest_bar_that_holds_it(pieces: list[int]) -> None:
    quick = [list(bar.pieces_mm) for bar in _longest_first(pieces, [1000])]
    assert quick == longest_first_bar_by_bar(pieces, 1000)


class Weighed(int):
    """A length that counts how often it is compared or added."""

    times = 0

    def __lt__(self, other: int) -> bool:
        Weighed.times += 1
        return int(self) < int(other)

    def __radd__(self, other: int) -> int:
        Weighed.times += 1
        return int(self) + other


def test_the_pieces_of_a_whole_fleet_take_work_for_each_not_for_each_pair() -> None:
    chance = random.Random(5)
    lengths = [chance.randrange(60, 900) for _ in range(8000)]

    def work(count: int) -> int:
        Weighed.times = 0
        pieces = [Weighed(length) for length in lengths[:count]]
        cutting = cut_from_stock(pieces, [1000, 5000])
        check_cut(pieces, [1000, 5000], cutting)
        assert not cutting.exact
        return Weighed.times

    assert 0 < work(8000) < 6 * work(2000)


def test_a_search_ends_after_so_many_steps_within_one_bar_too(monkeypatch: pytest.MonkeyPatch) -> None:
    chance = random.Random(1)
    pieces = [chance.randrange(60, 900) for _ in range(200)]
    looked, fill = 0, cutting_module._Search._fill

    def counted(self: Any, *given_args: Any) -> Any:
        nonlocal looked
        looked += 1
        assert looked <= 2 * most
        return fill(self, *given_args)

    monkeypatch.setattr(cutting_module._Search, "_fill", counted)
    most = 5000
    cut = cut_from_stock(pieces, [1000, 5000], most_steps=most)
    check_cut(pieces, [1000, 5000], cut)
    assert looked > most
    assert not cut.exact
