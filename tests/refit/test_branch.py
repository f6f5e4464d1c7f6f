from __future__ import annotations

import itertools

from hangar.refit.branch import Branch
from hangar.refit.labels import best_of, whole_front
from hangar.refit.level_table import Bounds, described, no_rows
from tests.all_cases import all_cases
from tests.refit.tables_by_chance import Chance, level_tables_by_chance


def test_the_parts_without_one_refit_hold_every_other_once() -> None:
    every = list(itertools.product(range(3), range(2), range(4)))
    for gone in every:
        parts = list(Branch().without(gone))
        for choices in every:
            assert sum(part.holds(choices) for part in parts) == (0 if choices == gone else 1)
    inner = next(part for part in Branch().without((1, 1, 2)) if part.holds((0, 1, 3)))
    again = list(inner.without((0, 1, 3)))
    for choices in every:
        wanted = inner.holds(choices) and choices != (0, 1, 3)
        assert sum(part.holds(choices) for part in again) == wanted


@all_cases("seed", range(15))
def test_cutting_every_point_of_a_front_leaves_the_next_front(seed: int) -> None:
    level_tables = level_tables_by_chance(seed, Chance(groups=3, choices=4, levels=2, supplies=2))
    parts = [Branch()]
    gone: list[tuple[int, ...]] = []
    for _ in range(4):
        found = no_rows(3)
        for part in parts:
            found = best_of(found, whole_front([part.of(one) for one in level_tables], 3, Bounds()))
        if not len(found):
            break
        first = tuple(found.choices[0].tolist())
        assert first not in gone
        assert next(iter(described(found)))[0] == min(_prices_without(level_tables, gone))
        gone.append(first)
        parts = [child for part in parts for child in (part.without(first) if part.holds(first) else [part])]


def _prices_without(level_tables: object, gone: list[tuple[int, ...]]) -> list[int]:
    """Prices of every refit that was not cut, by plain enumeration."""
    found = []
    for one in level_tables:  # type: ignore[attr-defined]
        for rows in itertools.product(*(range(len(group)) for group in one.groups)):
            picked = list(zip(one.groups, rows, strict=True))
            current = sum(int(group.current_ua[row]) for group, row in picked)
            for at in range(len(one.supplies.choice)):
                choices = (*(int(group.choice[row]) for group, row in picked), int(one.supplies.choice[at]))
                if current <= one.supplies.most_ua[at] and choices not in gone:
                    found.append(
                        sum(int(group.price[row]) for group, row in picked) + int(one.supplies.price[at])
                    )
    return found
