"""Invented fleets as menus, and their best plan by trying every combination."""

from __future__ import annotations

import itertools

import numpy as np

from hangar.refit.menu import Column, Menu, MenuGroup, MenuLevel


def menu_by_chance(
    rng: np.random.Generator, spares: int, groups: int = 2, choices: int = 4, levels: int = 2
) -> tuple[Menu, list[MenuLevel]]:
    """An aircraft whose first choice everywhere is to keep what is there."""
    found = []
    sizes = rng.integers(1, choices + 1, groups)
    price = [np.append(0, rng.integers(5, 60, size - 1)) * 100 for size in sizes]
    risk = [np.append(rng.integers(40, 100), rng.integers(0, 90, size - 1)) for size in sizes]
    current = [rng.integers(1, 20, size) * 100_000 for size in sizes]
    uses = [np.vstack((np.zeros((1, spares), np.int64), _uses(rng, size - 1, spares))) for size in sizes]
    for level in range(levels):
        own = tuple(
            MenuGroup(
                np.arange(size), risk[at] + 5 * level, price[at], current[at], uses[at], current[at] // 4
            )
            for at, size in enumerate(sizes)
        )
        count = int(rng.integers(1, 3))
        most = rng.integers(4, 20 * groups, count) * 100_000
        found.append(
            MenuLevel(
                own, np.arange(count), rng.integers(0, 4, count) * 1000, most + level * 300_000, most // 3
            )
        )
    nothing = Column(int(sum(each[0] for each in risk)) + 3, 0, (0,) * spares)
    return Menu(nothing, found), found


def _uses(
    rng: np.random.Generator, count: int, spares: int
) -> np.ndarray[tuple[int, ...], np.dtype[np.int64]]:
    taken = np.zeros((count, spares), np.int64)
    for row in range(count):
        if spares and rng.random() < 0.6:
            taken[row, rng.integers(spares)] = rng.integers(1, 3)
    return taken


def every_column(menu: Menu, levels: list[MenuLevel]) -> list[Column]:
    """Every refit of an aircraft."""
    found = [menu.nothing]
    for level in levels:
        for rows in itertools.product(*(range(len(group.choice)) for group in level.groups)):
            picked = list(zip(level.groups, rows, strict=True))
            current = sum(int(group.current_ua[row]) for group, row in picked)
            mean = sum(int(group.mean_ua[row]) for group, row in picked)
            for at in range(len(level.supply)):
                if current > level.most_ua[at] or mean > level.most_mean_ua[at]:
                    continue
                uses = np.sum([group.uses[row] for group, row in picked], axis=0)
                found.append(
                    Column(
                        sum(int(group.risk[row]) for group, row in picked),
                        sum(int(group.price[row]) for group, row in picked) + int(level.supply_price[at]),
                        tuple(uses.tolist()),
                        (*rows, at),
                    )
                )
    return found


def best_risk(menus: list[list[Column]], budget: int, bay: list[int]) -> int:
    """The least risk of any combination."""
    states: dict[tuple[int, ...], int] = {(0,) * (1 + len(bay)): 0}
    limits = (budget, *bay)
    for columns in menus:
        extended: dict[tuple[int, ...], int] = {}
        for used, risk in states.items():
            for column in columns:
                now = tuple(a + b for a, b in zip(used, (column.price, *column.uses), strict=True))
                if all(each <= most for each, most in zip(now, limits, strict=True)):
                    extended[now] = min(extended.get(now, 10**9), risk + column.risk)
        states = extended
    return min(states.values())
