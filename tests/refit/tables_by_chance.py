"""Invented integer tables by seed, and their front by plain enumeration."""

from __future__ import annotations

import itertools
from dataclasses import dataclass

import numpy as np

from hangar.refit.level_table import Bounds, GroupTable, LevelTable, SupplyTable

Point = tuple[int, int, int, int]


@dataclass(frozen=True)
class Chance:
    """Sizes of an invented case."""

    groups: int = 3
    choices: int = 6
    supplies: int = 3
    levels: int = 3
    scarce: int = 0
    types: int = 0


def level_tables_by_chance(seed: int, chance: Chance) -> tuple[LevelTable, ...]:
    """Levels of one aircraft: torque and margin fall with the level, current is the same or falls."""
    rng = np.random.default_rng(seed)
    levels = np.sort(rng.choice(np.arange(45, 84), chance.levels, replace=False))[::-1] * 100
    groups = [_group(rng, chance) for _ in range(chance.groups)]
    most_a = rng.integers(2, 5 * chance.groups, chance.supplies) * 1_000_000
    price = rng.integers(0, 6, chance.supplies) * 1000
    mass = rng.integers(-30, 60, chance.supplies)
    spare = np.tile(rng.integers(0, 4, chance.scarce), (chance.supplies, 1))
    found = []
    for place, level in enumerate(levels.tolist()):
        open_ = np.flatnonzero(rng.random(chance.supplies) < 0.85)
        supplies = SupplyTable(
            open_, price[open_], mass[open_], most_a[open_] + 700_000 * place, spare[open_]
        )
        found.append(LevelTable(level, tuple(_at(group, place) for group in groups), supplies))
    return tuple(found)


def _group(rng: np.random.Generator, chance: Chance) -> GroupTable:
    size = int(rng.integers(1, chance.choices + 1))
    uses = rng.integers(0, 3, (size, chance.scarce)) * (rng.random((size, chance.scarce)) < 0.5)
    types = rng.integers(0, max(chance.types, 1), size)
    bought = np.zeros((size, 1), np.int64)
    if chance.types:
        bought[:, 0] = np.where(rng.random(size) < 0.8, 1 << types, 0)
    return GroupTable(
        np.arange(size), rng.integers(0, 12, size) * 500, rng.integers(-20, 40, size),
        rng.integers(1, 50, size) * 100_000, rng.integers(10, 60, size), uses.astype(np.int64), bought,
    )  # fmt: skip


def _at(group: GroupTable, place: int) -> GroupTable:
    strong = np.flatnonzero(group.margin - 3 * place >= 12)
    weaker = GroupTable(
        group.choice, group.price, group.mass_g, group.current_ua - 10_000 * place,
        group.margin - 3 * place, group.uses, group.bought,
    )  # fmt: skip
    return weaker.take(strong)


def enumerated(level_tables: tuple[LevelTable, ...], bounds: Bounds) -> list[Point]:
    """Price, mass, margin and level of the front, by trying every combination."""
    points = {point for one in level_tables for point in _combinations(one, bounds)}
    return sorted(point for point in points if not any(_beats(other, point) for other in points))


def _combinations(one: LevelTable, bounds: Bounds) -> list[Point]:
    found = []
    for rows in itertools.product(*(range(len(group)) for group in one.groups)):
        price = sum(int(group.price[row]) for group, row in zip(one.groups, rows, strict=True))
        mass = sum(int(group.mass_g[row]) for group, row in zip(one.groups, rows, strict=True))
        current = sum(int(group.current_ua[row]) for group, row in zip(one.groups, rows, strict=True))
        margin = min(int(group.margin[row]) for group, row in zip(one.groups, rows, strict=True))
        uses = sum(group.uses[row] for group, row in zip(one.groups, rows, strict=True))
        types = set()
        for group, row in zip(one.groups, rows, strict=True):
            types |= {bit for bit in range(62) if int(group.bought[row, 0]) >> bit & 1}
        if bounds.most_types is not None and len(types) > bounds.most_types:
            continue
        for at in range(len(one.supplies.choice)):
            if current > one.supplies.most_ua[at] or (uses > one.supplies.spare[at]).any():
                continue
            whole = price + int(one.supplies.price[at]), mass + int(one.supplies.mass_g[at])
            if bounds.budget is not None and whole[0] > bounds.budget:
                continue
            if bounds.mass_g is not None and whole[1] > bounds.mass_g:
                continue
            found.append((*whole, margin, one.level_mv))
    return found


def _beats(one: Point, other: Point) -> bool:
    no_worse = one[0] <= other[0] and one[1] <= other[1] and one[2] >= other[2] and one[3] >= other[3]
    return no_worse and one != other
