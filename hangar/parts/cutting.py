"""Cutting pieces from the lengths a material is sold in, with the least bought and so the least wasted.

The one-dimensional cutting stock problem; see P. C. Gilmore and R. E. Gomory, "A linear programming
approach to the cutting-stock problem", Operations Research 9 (1961). The lists of a few aircraft are small,
so they are solved by search: every total that the sold lengths can make is tried upward from the sum of
the pieces, and the first one that can be cut is the least. The list of a whole fleet is cut longest first:
each piece goes into the fullest bar that holds it.
"""

from __future__ import annotations

from bisect import bisect_left, insort
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from hangar.base.errors import BadInput

MOST_STEPS = 200_000
MOST_DEPTH = 300
"""Bars and different lengths that a search goes into; it goes a step deeper for each."""


@dataclass(frozen=True, slots=True)
class CutBar:
    """One sold length with the pieces cut from it, longest first."""

    stock_mm: int
    pieces_mm: tuple[int, ...]

    @property
    def left_mm(self) -> int:
        """What is left of it."""
        return self.stock_mm - sum(self.pieces_mm)


@dataclass(frozen=True, slots=True)
class CutRule:
    """How pieces are cut; ``exact`` says that less cannot be bought.

    When the search had to give up, ``least_mm`` is what must be bought at the least.
    """

    bars: tuple[CutBar, ...]
    exact: bool
    least_mm: int

    @property
    def bought_mm(self) -> int:
        """Length bought in all."""
        return sum(bar.stock_mm for bar in self.bars)

    @property
    def waste_mm(self) -> int:
        """Length left over in all."""
        return sum(bar.left_mm for bar in self.bars)


def cut_from_stock(
    pieces_mm: Sequence[int], stock_mm: Sequence[int], most_steps: int = MOST_STEPS
) -> CutRule:
    """The cutting of all pieces that buys the least length.

    Args:
        pieces_mm: lengths wanted, each above 0.
        stock_mm: lengths sold, each as often as wanted; the longest must hold the longest piece.
        most_steps: lengths that the search may weigh up before it settles for a good cutting.

    Returns:
        The bars, those with the longest pieces first.

    Raises:
        BadInput: a length not above 0, nothing sold, or a piece longer than every sold length.

    >>> best = cut_from_stock([600, 400, 350, 350, 300], [1000])
    >>> best.bars, best.exact
    ((CutBar(stock_mm=1000, pieces_mm=(600, 400)), CutBar(stock_mm=1000, pieces_mm=(350, 350, 300))), True)
    """
    _check(pieces_mm, stock_mm)
    if not pieces_mm:
        return CutRule((), exact=True, least_mm=0)
    search = _Search(pieces_mm, stock_mm, most_steps)
    quick = _longest_first(pieces_mm, stock_mm)
    most = sum(bar.stock_mm for bar in quick)
    too_deep = len(quick) + len(set(pieces_mm)) > MOST_DEPTH
    totals = _totals(sum(pieces_mm), most, stock_mm)
    for total in totals:
        if total == most:
            break
        bars = None if too_deep else search.cut_within(total - sum(pieces_mm))
        if bars is not None:
            return CutRule(bars, exact=True, least_mm=total)
        if too_deep or search.given_up:
            return CutRule(quick, exact=False, least_mm=total)
    return CutRule(quick, exact=True, least_mm=most)


def _check(pieces_mm: Sequence[int], stock_mm: Sequence[int]) -> None:
    if not stock_mm or min(stock_mm) <= 0:
        raise BadInput(
            "the sold lengths are {lengths}; at least one above 0 mm is needed.", lengths=str(list(stock_mm))
        )
    if pieces_mm and min(pieces_mm) <= 0:
        raise BadInput(
            "a piece of {piece} mm was asked; pieces above 0 mm are allowed.", piece=min(pieces_mm)
        )
    if pieces_mm and max(pieces_mm) > max(stock_mm):
        raise BadInput(
            "a piece of {piece} mm is longer than what is sold, {longest} mm.",
            piece=max(pieces_mm),
            longest=max(stock_mm),
        )


def _totals(least_mm: int, most_mm: int, stock_mm: Sequence[int]) -> list[int]:
    """Every total from the least to the most that sold lengths add up to, rising."""
    reached = {0}
    edge = {0}
    while edge:
        edge = {total + length for total in edge for length in stock_mm if total + length <= most_mm}
        edge -= reached
        reached |= edge
    return sorted(total for total in reached if total >= least_mm)


def _longest_first(pieces_mm: Sequence[int], stock_mm: Sequence[int]) -> tuple[CutBar, ...]:
    """A quick cutting: each piece into the fullest bar that holds it, bars then made as short as can be."""
    longest = max(stock_mm)
    bars: list[list[int]] = []
    rooms: list[tuple[int, int]] = []
    """What is free in each bar, and which one it is: the fullest first."""
    for piece in sorted(pieces_mm, reverse=True):
        at = bisect_left(rooms, (piece, 0))
        room, bar = rooms.pop(at) if at < len(rooms) else (longest, len(bars))
        if bar == len(bars):
            bars.append([])
        bars[bar].append(piece)
        insort(rooms, (room - piece, bar))
    return tuple(CutBar(min(length for length in stock_mm if length >= sum(bar)), tuple(bar)) for bar in bars)


class _Search:
    """Looks for a cutting that wastes no more than allowed, one bar after the other.

    The next bar always takes the longest piece left, and so much beside it that no other piece fits: a
    piece that would fit can be moved there from its bar without buying more.
    """

    def __init__(self, pieces_mm: Sequence[int], stock_mm: Sequence[int], most_steps: int) -> None:
        counts = Counter(pieces_mm)
        self._lengths = sorted(counts, reverse=True)
        self._counts = tuple(counts[length] for length in self._lengths)
        self._stock = sorted(set(stock_mm), reverse=True)
        self._steps_left = most_steps
        self._failed: dict[tuple[int, ...], int] = {}
        self.given_up = False

    def cut_within(self, waste_mm: int) -> tuple[CutBar, ...] | None:
        """Bars that waste that much at the most, or None."""
        return self._cut(self._counts, waste_mm)

    def _cut(self, pieces: tuple[int, ...], waste_mm: int) -> tuple[CutBar, ...] | None:
        if not any(pieces):
            return ()
        if self._failed.get(pieces, -1) >= waste_mm or self.given_up:
            return None
        first = next(at for at, count in enumerate(pieces) if count)
        for bar, after in self._bars(pieces, first, waste_mm):
            rest = self._cut(after, waste_mm - bar.left_mm)
            if rest is not None:
                return (bar, *rest)
        if not self.given_up:
            self._failed[pieces] = waste_mm
        return None

    def _bars(
        self, pieces: tuple[int, ...], first: int, waste_mm: int
    ) -> Iterator[tuple[CutBar, tuple[int, ...]]]:
        for stock in self._stock:
            if stock >= self._lengths[first]:
                start = (*pieces[:first], pieces[first] - 1, *pieces[first + 1 :])
                room = stock - self._lengths[first]
                for taken, after in self._fill(start, first, room, waste_mm):
                    yield CutBar(stock, (self._lengths[first], *taken)), after

    def _fill(
        self, pieces: tuple[int, ...], at: int, room: int, waste_mm: int
    ) -> Iterator[tuple[tuple[int, ...], tuple[int, ...]]]:
        """Ways to fill the room with pieces from ``at`` on that leave no more than the waste allowed."""
        self._steps_left -= 1
        self.given_up = self.given_up or self._steps_left < 0
        if self.given_up:
            return
        if at == len(pieces):
            if room <= waste_mm:
                yield (), pieces
            return
        length = self._lengths[at]
        for count in range(min(pieces[at], room // length), -1, -1):
            after = (*pieces[:at], pieces[at] - count, *pieces[at + 1 :])
            still_fits = after[at] and room - count * length >= length
            rest_room = room - count * length
            for taken, final in self._fill(after, at + 1, rest_room, waste_mm):
                unused = still_fits and rest_room - sum(taken) >= length
                if not unused:
                    yield (length,) * count + taken, final
