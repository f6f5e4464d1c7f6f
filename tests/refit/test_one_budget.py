"""One budget over some aircraft: never worse, never dearer, and as good as every mix of their plans."""

from __future__ import annotations

import itertools
import json
import random

from hangar.refit.answer_as_json import fleet_answer_as_json
from hangar.refit.fleet import fleet
from hangar.refit.fleet_master import Column, solved
from hangar.refit.request import RefitRequest
from hangar.survey.model import Conditions
from tests.all_cases import all_cases
from tests.demo_copies import TODAY, demo_copy


@all_cases("seed", range(40))
def test_the_master_is_the_best_of_every_mix(seed: int) -> None:
    rng = random.Random(seed)
    menus = [
        [Column(float(rng.randrange(20)), 0.0)]
        + [
            Column(float(rng.randrange(20)), float(rng.randrange(1, 60)), (("T", rng.randrange(1, 3)),))
            for _ in range(rng.randrange(1, 5))
        ]
        for _ in range(rng.randrange(1, 5))
    ]
    budget, spare = float(rng.randrange(100)), rng.randrange(4)
    worths = [
        sum(column.worth for column in mix)
        for mix in itertools.product(*menus)
        if sum(column.money for column in mix) <= budget
        and sum(count for column in mix for _, count in column.spares) <= spare
    ]
    found = solved(menus, budget, {"T": spare}, whole=True)
    assert found.worth == min(worths)
    assert solved(menus, budget, {"T": spare}, whole=False).worth <= found.worth + 1e-6


def test_one_budget_makes_nothing_worse_and_keeps_to_its_money() -> None:
    copy = demo_copy()
    aircraft = [copy.aircraft(code) for code in ("CIND", "NIM7", "SISK")]
    asking = RefitRequest(conditions=Conditions(today=TODAY), budget=30.0)
    answer = fleet(aircraft, copy.library(), asking)
    assert answer.money <= 30.0
    assert answer.bound <= answer.worth + 1e-6
    assert answer.money == sum(part.left.money for part in answer.parts)
    before = sum(10 * part.today.warnings + part.today.cautions for part in answer.parts)
    assert answer.worth < before
    assert not any(part.brings for part in answer.parts)
    plain = json.loads(json.dumps(fleet_answer_as_json(answer)))
    assert [part["question"] for part in plain["parts"]] == ["fleet"] * 3
    library, taken = copy.library(), [tag for tag, _ in answer.spares]
    assert all(taken.count(tag) <= max(1.0, library.stocked(tag)) for tag in taken)
