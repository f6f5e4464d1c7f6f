"""The exact front of one aircraft's refits, by growing partial refits group by group.

Every number is an integer of the declared tables. A partial refit is a label (price, mass, current,
weakest margin); a label that another one equals or beats in everything is dropped, so what is left at the
end is the whole front. Levels of bus volts are worked from the highest down: what was found at a higher
level prunes the lower ones.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from hangar.refit.dominated import without_dominated
from hangar.refit.incumbent import Incumbent, Remainder, remaining_after
from hangar.refit.level_table import Bounds, FrontRows, GroupTable, Ints, LevelTable, SupplyTable, no_rows
from hangar.refit.undominated import count_bits, undominated, undominated_by_class

_BLOCK = 1_500_000
"""Combinations formed at one time: bounds the memory."""


def whole_front(
    level_tables: Iterable[LevelTable],
    groups: int,
    bounds: Bounds | None = None,
    *,
    step: Callable[[LevelTable], bool] = lambda _slice: True,
    known: FrontRows | None = None,
) -> FrontRows:
    """Every refit that no other equals or beats in price, mass, weakest margin and bus level at once.

    Args:
        level_tables: levels from the highest down; any order is right, that one is fastest.
        groups: number of groups in every slice.
        bounds: budget, mass and number of types to buy.
        step: called after each slice; False stops, and the answer says that it is not complete.
        known: points that are known to be possible, to prune with.

    Returns:
        The front sorted by price, mass, margin and level, best first.
    """
    bounds = bounds or Bounds()
    found = no_rows(groups) if known is None else known
    complete, labels = True, 0
    to_beat, counted = None, 0
    for each in level_tables:
        as_high = int(np.count_nonzero(found.level_mv >= each.level_mv))
        if to_beat is None or as_high != counted:
            to_beat, counted = Incumbent(found, each.level_mv, bounds), as_high
        fresh, made = _points_of(each, bounds, to_beat)
        labels += made
        if len(fresh):
            found, to_beat = _with_level(found, fresh, each.level_mv, to_beat), None
        if not step(each):
            complete = False
            break
    return replace(_sorted(found), complete=complete, labels=labels)


def _with_level(found: FrontRows, fresh: FrontRows, level_mv: int, known: Incumbent) -> FrontRows:
    """The front with the points of one level, less those that ``known``, what is at it or above, beats."""
    fresh = fresh.rows(np.flatnonzero(~known.beats(fresh.price, fresh.mass_g, fresh.margin)))
    as_low = np.flatnonzero(found.level_mv <= level_mv)
    rest = best_of(found.rows(as_low), fresh) if len(as_low) else fresh
    return _joined_points(found.rows(np.flatnonzero(found.level_mv > level_mv)), rest)


def best_of(one: FrontRows, other: FrontRows) -> FrontRows:
    """The front of two sets of points, sorted."""
    both = _joined_points(one, other)
    return _sorted(both.rows(undominated(both.price, both.mass_g, -both.level_mv, both.margin)))


def _joined_points(one: FrontRows, other: FrontRows) -> FrontRows:
    return FrontRows(
        np.concatenate((one.price, other.price)),
        np.concatenate((one.mass_g, other.mass_g)),
        np.concatenate((one.margin, other.margin)),
        np.concatenate((one.level_mv, other.level_mv)),
        np.concatenate((one.choices, other.choices)),
    )


def _sorted(rows: FrontRows) -> FrontRows:
    return rows.rows(np.lexsort((-rows.level_mv, -rows.margin, rows.mass_g, rows.price)))


@dataclass(frozen=True)
class Labels:
    """Partial refits with the way each was made: its parent of the stage before and its choice."""

    price: Ints
    mass_g: Ints
    current_ua: Ints
    margin: Ints
    uses: Ints
    bought: Ints
    parent: NDArray[np.int32]
    choice: NDArray[np.int32]

    def take(self, rows: Ints | NDArray[np.bool_]) -> Labels:
        return Labels(*(getattr(self, name)[rows] for name in self.__dataclass_fields__))

    def __len__(self) -> int:
        return len(self.price)


def _joined(parts: Sequence[Labels]) -> Labels:
    return Labels(
        *(np.concatenate([getattr(part, name) for part in parts]) for name in Labels.__dataclass_fields__)
    )


def level_points(one: LevelTable, bounds: Bounds, found: FrontRows) -> tuple[FrontRows, int]:
    """The points of one slice that what was found before does not beat, and how many labels it took."""
    return _points_of(one, bounds, Incumbent(found, one.level_mv, bounds))


def _points_of(one: LevelTable, bounds: Bounds, known: Incumbent) -> tuple[FrontRows, int]:
    groups = len(one.groups)
    ready = without_dominated(one, bounds, known)
    if ready is None:
        return no_rows(groups), 0
    order = sorted(range(groups), key=lambda at: (len(ready.groups[at]), at))
    chosen = [ready.groups[at] for at in order]
    to_come = remaining_after(chosen, ready.supplies)
    labels = start(ready)
    stages: list[Labels] = []
    made = 0
    for group, rest in zip(chosen, to_come[1:], strict=True):
        labels = extended(labels, group, rest, ready.supplies, bounds, known)
        made += len(labels)
        if not len(labels):
            return no_rows(groups), made
        stages.append(labels)
    return _with_supplies(one, ready, order, stages, bounds), made


def start(one: LevelTable) -> Labels:
    """The one partial refit that has nothing chosen."""
    zero = np.zeros(1, np.int64)
    group = one.groups[0]
    most = np.full(1, max(int(each.margin.max()) for each in one.groups), np.int64)
    return Labels(
        zero, zero, zero, most,
        np.zeros((1, group.uses.shape[1]), np.int64), np.zeros((1, group.bought.shape[1]), np.int64),
        np.zeros(1, np.int32), np.zeros(1, np.int32),
    )  # fmt: skip


def extended(
    labels: Labels,
    group: GroupTable,
    rest: Remainder,
    supplies: SupplyTable,
    bounds: Bounds,
    known: Incumbent,
) -> Labels:
    """Every label with every choice of the next group, less those that cannot count."""
    block = max(1, _BLOCK // len(group))
    parts = [
        _combined(labels, first, min(first + block, len(labels)), group, rest, supplies, bounds, known)
        for first in range(0, len(labels), block)
    ]
    extended = _joined(parts) if len(parts) > 1 else parts[0]
    if not len(extended):
        return extended
    if bounds.clamp:
        extended = _levelled(extended, rest, supplies)
    with_types = bounds.most_types is not None
    keys = np.concatenate((extended.uses, extended.bought), axis=1) if with_types else extended.uses
    keep = undominated_by_class(
        extended.price, extended.mass_g, extended.current_ua, extended.margin, keys, extended.uses.shape[1]
    )
    return extended.take(keep)


def _combined(
    labels: Labels, first: int, last: int, group: GroupTable, rest: Remainder, supplies: SupplyTable,
    bounds: Bounds, known: Incumbent,
) -> Labels:  # fmt: skip
    part = slice(first, last)
    current = (labels.current_ua[part, None] + group.current_ua).ravel()
    price = (labels.price[part, None] + group.price).ravel()
    mass = (labels.mass_g[part, None] + group.mass_g).ravel()
    margin = np.minimum(labels.margin[part, None], group.margin).ravel()
    rows = np.flatnonzero(current <= int(supplies.most_ua.max()) - rest.least_ua)
    rows = rows[known.can_still_win(price[rows], mass[rows], margin[rows], rest)]
    parent, choice = rows // len(group) + first, rows % len(group)
    uses = labels.uses[parent] + group.uses[choice]
    bought = labels.bought[parent] | group.bought[choice]
    allowed = (uses + rest.least_uses <= supplies.spare.max(axis=0)).all(axis=1)
    if bounds.most_types is not None:
        allowed &= count_bits(bought) <= bounds.most_types
    if not allowed.all():
        rows, parent, choice = rows[allowed], parent[allowed], choice[allowed]
        uses, bought = uses[allowed], bought[allowed]
    return Labels(
        price[rows], mass[rows], current[rows], margin[rows], uses, bought,
        parent.astype(np.int32), choice.astype(np.int32),
    )  # fmt: skip


def _levelled(labels: Labels, rest: Remainder, supplies: SupplyTable) -> Labels:
    """Labels whose current, margin and uses no longer differ where the difference can never count."""
    floor_ua = int(supplies.most_ua.min()) - rest.most_ua
    floor_uses = supplies.spare.min(axis=0) - rest.most_uses
    return replace(
        labels,
        current_ua=np.maximum(labels.current_ua, floor_ua),
        margin=np.minimum(labels.margin, rest.margin),
        uses=np.maximum(labels.uses, floor_uses),
    )


def _with_supplies(
    one: LevelTable, ready: LevelTable, order: Sequence[int], stages: list[Labels], bounds: Bounds
) -> FrontRows:
    last, supplies = stages[-1], ready.supplies
    parts = []
    for row in range(len(supplies.choice)):
        fits = (last.current_ua <= supplies.most_ua[row]) & (last.uses <= supplies.spare[row]).all(axis=1)
        if bounds.budget is not None:
            fits &= last.price + supplies.price[row] <= bounds.budget
        if bounds.mass_g is not None:
            fits &= last.mass_g + supplies.mass_g[row] <= bounds.mass_g
        rows = np.flatnonzero(fits)
        parts.append((rows, np.full(len(rows), row, np.int64)))
    rows = np.concatenate([part for part, _ in parts])
    supply = np.concatenate([part for _, part in parts])
    price, mass = last.price[rows] + supplies.price[supply], last.mass_g[rows] + supplies.mass_g[supply]
    keep = undominated(price, mass, np.zeros_like(price), last.margin[rows])
    rows, supply = rows[keep], supply[keep]
    choices = _traced(one, ready, order, stages, rows)
    choices[:, -1] = supplies.choice[supply]
    level = np.full(len(rows), one.level_mv, np.int64)
    return FrontRows(price[keep], mass[keep], last.margin[rows], level, choices)


def _traced(
    one: LevelTable, ready: LevelTable, order: Sequence[int], stages: list[Labels], rows: Ints
) -> Ints:
    """The choice of every group that led to each label."""
    choices = np.zeros((len(rows), len(one.groups) + 1), np.int64)
    at = rows
    for stage, group in zip(reversed(stages), reversed(order), strict=True):
        choices[:, group] = ready.groups[group].choice[stage.choice[at]]
        at = stage.parent[at].astype(np.int64)
    return choices
