from __future__ import annotations

import numpy as np
import pytest

from hangar.refit.fleet_solver import FleetProblem
from tests.all_cases import all_cases
from tests.refit.cases import seeds
from tests.refit.fleets_by_chance import best_risk, every_column, menu_by_chance


@all_cases("seed", seeds())
def test_the_fleet_plan_is_the_best_of_every_combination(seed: int) -> None:
    rng = np.random.default_rng(seed)
    spares = int(rng.integers(0, 3))
    made = [menu_by_chance(rng, spares) for _ in range(int(rng.integers(2, 4)))]
    budget, bay = int(rng.integers(0, 16)) * 1000, rng.integers(0, 3, spares).tolist()
    answer = FleetProblem([menu for menu, _ in made], budget, bay).solve()
    wanted = best_risk([every_column(menu, levels) for menu, levels in made], budget, bay)
    assert answer.risk == wanted
    assert answer.gap == 0.0
    assert sum(column.price for column in answer.columns) <= budget
    for at, most in enumerate(bay):
        assert sum(column.uses[at] for column in answer.columns) <= most


@all_cases("seed", seeds())
def test_pricing_finds_the_refit_of_least_cost(seed: int) -> None:
    rng = np.random.default_rng(seed)
    menu, levels = menu_by_chance(rng, 2, groups=3, choices=6, levels=3)
    for money in (0.0, 0.004, 0.02, 0.2):
        spares = rng.random(2) * 20.0
        wanted = min(column.cost(money, spares) for column in every_column(menu, levels))
        assert menu.best(money, spares).cost(money, spares) == pytest.approx(wanted)


@all_cases("seed", seeds())
def test_listing_finds_every_refit_within_a_cost_that_none_beats(seed: int) -> None:
    rng = np.random.default_rng(100 + seed)
    menu, levels = menu_by_chance(rng, 1, groups=3, choices=5, levels=2)
    spares, money, most = np.array([3.0]), 0.01, 160.0
    listed = menu.up_to(money, spares, most, 10_000)
    assert listed is not None
    every = {
        (column.risk, column.price, *column.uses)
        for column in every_column(menu, levels)
        if column.cost(money, spares) <= most
    }
    best = {
        one for one in every
        if not any(other != one and all(a <= b for a, b in zip(other, one, strict=True)) for other in every)
    }  # fmt: skip
    assert {(column.risk, column.price, *column.uses) for column in listed} == best


def test_stopping_at_once_still_gives_a_plan_and_a_true_bound() -> None:
    rng = np.random.default_rng(7)
    made = [menu_by_chance(rng, 1) for _ in range(4)]
    answer = FleetProblem([menu for menu, _ in made], 9000, [2], stop=lambda: True).solve()
    wanted = best_risk([every_column(menu, levels) for menu, levels in made], 9000, [2])
    assert answer.stopped
    assert answer.bound <= wanted <= answer.risk


def test_without_proof_the_gap_is_shown_and_true() -> None:
    for seed in range(30):
        rng = np.random.default_rng(seed)
        made = [menu_by_chance(rng, 1) for _ in range(3)]
        answer = FleetProblem([menu for menu, _ in made], 8000, [1], prove=False).solve()
        wanted = best_risk([every_column(menu, levels) for menu, levels in made], 8000, [1])
        assert answer.bound <= wanted <= answer.risk
        assert 0.0 <= answer.gap <= 1.0
