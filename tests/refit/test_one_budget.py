"""One budget over some aircraft: never worse, never dearer, and as good as every mix of their plans."""

from __future__ import annotations

import dataclasses
import itertools
import json
import random

from hangar.answers.board import order_of_work
from hangar.answers.purchases import purchases, purchases_of
from hangar.parts import Aircraft, Library, Plan, PlanLine
from hangar.parts.choices import PlanAction
from hangar.refit.answer_as_json import fleet_answer_as_json
from hangar.refit.fleet import fleet
from hangar.refit.fleet_master import Column, solved
from hangar.refit.goal import cents
from hangar.refit.planner import search_of
from hangar.refit.request import RefitRequest
from hangar.rules import examples as ex
from hangar.rules.changing import with_airframe, with_fit
from hangar.survey.model import Conditions
from tests.all_cases import all_cases
from tests.demo_copies import TODAY, demo_copy
from tests.refit.generator import DAY


@all_cases("seed", range(40))
def test_the_master_is_the_best_of_every_mix(seed: int) -> None:
    rng = random.Random(seed)
    menus = [
        [Column(float(rng.randrange(20)), 0.0)]
        + [
            Column(float(rng.randrange(20)), float(rng.randrange(1, 60)), (("T", rng.choice((-1, 1, 2))),))
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
    master = solved(menus, budget, {"T": spare}, whole=True)
    assert master.worth == min(worths)
    shares = solved(menus, budget, {"T": spare}, whole=False)
    assert shares.worth <= master.worth + 1e-6
    # At the prices no mix costs less than the bound.
    price = shares.spare_prices.get("T", 0.0)
    least = -shares.price * budget - price * spare + sum(
        min(
            column.worth + shares.price * column.money + price * sum(count for _, count in column.spares)
            for column in menu
        )
        for menu in menus
    )  # fmt: skip
    assert least <= shares.worth + 1e-3
    assert least >= shares.worth - 1e-3


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
    bought = purchases_of(answer, library)
    assert sum(row.cost or 0.0 for row in bought) == answer.money
    assert {code for row in bought for code in row.aircraft} <= {part.aircraft.code for part in answer.parts}
    for part in answer.parts:
        plan = Plan(code="P", aircraft=part.aircraft.code, title="P", lines=part.lines)
        steps = [step.line for step in order_of_work(plan) if step.line is not None]
        assert set(steps) == set(part.lines)


TYPES = {
    kind.code: dataclasses.replace(kind, price=price)
    for kind, price in ((ex.STANDARD, 20.0), (ex.STRONG, 33.0))
}
WEAK = {"ONE": ("ELE",), "TWO": ("RUD",), "SIX": ("AIL-L", "AIL-R")}
"""Where the servos of each aircraft hold too little."""


def tired(code: str) -> Aircraft:
    """A fast trainer with weak servos at some places."""
    aircraft = with_airframe(ex.trainer(), code=code, dive_speed_m_s=45.0)
    for place in WEAK[code]:
        weak = {"code": "old", "ratings": ex.weaker(ex.STANDARD, 0.1)}
        aircraft = with_fit(aircraft, place, servo_type=weak)
    return aircraft


def menu_of(code: str, library: Library, asking: RefitRequest) -> dict[int, float]:
    """For each sum of money the least that is left, every choice at the weak places tried and judged."""
    search = search_of(tired(code), library, asking)
    goal, least = search.goal(), dict[int, float]()
    sizes = [range(len(own.choices) if set(own.places) & set(WEAK[code]) else 1) for own in search.lists]
    for picks in itertools.product(*sizes, range(1)):
        judged = search.judge.judged(picks)
        if judged is not None and search.cost_of(goal, judged) is not None:
            worth = asking.warning_in_cautions * judged.count[0] + judged.count[1]
            money = cents(search.price(picks))
            least[money] = min(worth, least.get(money, worth))
    return least


@all_cases("locked", [frozenset[str](), frozenset({"RUD"})])
def test_a_fleet_is_as_good_as_every_mix_of_every_plan(locked: frozenset[str]) -> None:
    library = Library(servo_types=TYPES)
    asking = RefitRequest(conditions=DAY, gauges=(), change_supply=False, second_pack=False, locked=locked)
    menus = [menu_of(code, library, asking) for code in WEAK]
    assert any(len(set(menu.values())) > 1 for menu in menus)
    for budget in (0.0, 15.0, 25.0, 45.0, 80.0):
        asked = dataclasses.replace(asking, budget=budget)
        answer = fleet([tired(code) for code in WEAK], library, asked)
        best = min(
            sum(worth for _, worth in mix)
            for mix in itertools.product(*(menu.items() for menu in menus))
            if sum(money for money, _ in mix) <= cents(budget)
        )
        assert answer.bound <= best + 1e-6
        assert answer.proved or 0.0 < budget < 80.0
        assert answer.worth == best
        assert answer.money <= budget


def test_a_stopped_fleet_names_what_was_not_looked_at() -> None:
    copy = demo_copy()
    aircraft = [copy.aircraft(code) for code in ("NIM7", "DUNN", "SISK")]
    asking = RefitRequest(conditions=Conditions(today=TODAY), budget=30.0)
    answer = fleet(aircraft, copy.library(), asking, stop=lambda: True)
    assert answer.stopped
    assert not answer.proved
    assert answer.not_asked == ("NIM7", "DUNN", "SISK")
    shares: list[float] = []
    asked = iter([False, False, True])
    answer = fleet(
        aircraft, copy.library(), asking, progress=lambda share, _words: shares.append(share),
        stop=lambda: next(asked, True),
    )  # fmt: skip
    assert answer.not_asked
    assert not any(part.proved for part in answer.parts)
    assert shares == sorted(shares)


def test_equal_things_at_an_equal_price_are_one_row_to_buy() -> None:
    def line(
        action: PlanAction, price: float | None, part_type: str | None = "T", tag: str | None = None
    ) -> PlanLine:
        return PlanLine(
            plan="P", number=1, action=action, place="X", part_type=part_type, price=price, from_stock=tag
        )

    fit = PlanAction.FIT_SERVO
    rows = purchases(
        [
            ("A", [line(fit, 20.0), line(fit, 20.0), line(fit, 0.0), line(fit, 9.0, tag="S1")]),
            (
                "B",
                [
                    line(fit, 20.0),
                    line(PlanAction.PROTECT_LEAD, 2.0, None),
                    line(PlanAction.SET_RATE, None, None),
                ],
            ),
        ],
        demo_copy().library(),
    )
    assert [(row.count, row.price, row.aircraft) for row in rows] == [
        (3.0, 20.0, ("A", "B")),
        (1.0, 2.0, ("B",)),
    ]
    assert rows[0].cost == 60.0
