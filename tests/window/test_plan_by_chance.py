"""Random edits of a plan through all its states, undone and redone, leave the fleet as it was."""

from __future__ import annotations

import random
from datetime import datetime, time

import pytest

from hangar.acts import plans, releasing
from hangar.answers import plans as plans_known
from hangar.answers.board import gates, moves
from hangar.base.errors import HangarError
from hangar.parts import RECORD_KINDS, BenchCheck, PlanLine, Setting
from hangar.parts.choices import PlanAction, PlanState
from hangar.window.kit.desk import Desk
from hangar.window.refit.plan_work import begin_plan, carry_out
from tests.window.conftest import CODE, TODAY

STEPS = 40
MARK = "Before the plan"


def everything(desk: Desk) -> list[tuple[object, ...]]:
    """All records of the fleet, kind by kind."""
    return [tuple(desk.records(kind)) for kind in RECORD_KINDS]


def line(chance: random.Random, code: str) -> PlanLine:
    kind, tag, price = chance.choice(
        (("TS-A", "S-003", 0.0), ("TS-WEAK", "S-004", 0.0), ("TS-A", None, 30.0))
    )
    place = chance.choice(("RUD", "AIL-L", "THR"))
    return PlanLine(plan=code, number=1, action=PlanAction.FIT_SERVO, place=place, part_type=kind,
                    from_stock=tag, price=price)  # fmt: skip


def one_edit(desk: Desk, chance: random.Random, code: str) -> str:
    """Try one act that the board offers on a plan; its name."""
    plan = plans_known.plan_named(desk, code)
    act = chance.choice(
        ("line", "remove", "move", "move", "move", "fit", "fit", "read", "gates", "bench", "out")
    )
    if plan is None:
        begin_plan(desk, CODE, [line(chance, code)])
    elif act == "line":
        desk.do(plans.add_line, plan, line(chance, code))
    elif act == "remove" and plan.lines:
        desk.do(plans.remove_line, chance.choice(plan.lines))
    elif act == "move":
        library = desk.basis().library
        assert library is not None
        way = moves(plan, desk.aircraft(CODE), library)
        if way:
            desk.do(plans.move_plan, plan, chance.choice(way), {"bus_v": 5.5})
    elif act == "fit" and plan.lines:
        todo = chance.choice(plan.lines)
        carry_out(desk, plan, todo, todo.from_stock or f"N-{chance.randrange(999):03}")
    elif act == "read":
        when = datetime.combine(TODAY, time(chance.randrange(24), chance.randrange(60)))
        place = chance.choice(("RUD", "AIL-L"))
        check = BenchCheck(aircraft=CODE, position=place, checked_at=when, bus_v=5.5)
        desk.change("Read", lambda edit: edit.put(check))
    elif act == "gates":
        for gate in gates():
            desk.do(
                releasing.tick_gate, plan, gate.code, chance.random() < 0.9, desk.aircraft(CODE), desk.today
            )
    elif act == "bench":
        desk.do(plans.put_on_bench, CODE)
    elif act == "out" and chance.random() < 0.1:
        desk.do(plans.remove_plan, plan)
    return act


def tried(desk: Desk, chance: random.Random, code: str) -> str:
    """An act that may be refused; a refused one must change nothing."""
    before = everything(desk)
    try:
        return one_edit(desk, chance, code)
    except HangarError:
        assert everything(desk) == before
        return "refused"


@pytest.mark.parametrize("seed", range(4))
def test_random_edits_undone_leave_the_fleet_and_redone_bring_them_back(desk: Desk, seed: int) -> None:
    chance = random.Random(seed)
    code = f"{CODE} R1"
    desk.change(MARK, lambda edit: edit.put(Setting(name="tried", value="yes")))
    first, states = everything(desk), set[PlanState]()
    for _ in range(STEPS):
        tried(desk, chance, code)
        plan = plans_known.plan_named(desk, code)
        states |= {plan.state} if plan is not None else set()
    way = [everything(desk)]
    while desk.undo_label != MARK:
        desk.undo()
        way.append(everything(desk))
    assert way[-1] == first
    for then in reversed(way[:-1]):
        desk.redo()
        assert everything(desk) == then
    assert len(states) > 1
