"""A tick on the shopping list is a record of its own, and does not outlast the plan that it was made for."""

from __future__ import annotations

from pytestqt.qtbot import QtBot

from hangar.acts import plans
from hangar.answers import plans as plans_known
from hangar.parts import PlanLine, ShoppingTick
from hangar.parts.choices import PlanAction
from hangar.window.kit.desk import Desk
from hangar.window.refit.plan_work import begin_plan
from hangar.window.refit.shopping_list import ShoppingList

CODE = "LARK"
WANTED = PlanLine(plan="", number=1, action=PlanAction.FIT_SERVO, place="RUD", part_type="TS-99", quantity=2)


def ticked(room: ShoppingList) -> dict[str, bool]:
    return {row.key: row.is_ticked for row in room._buy.rows}


def test_a_tick_stands_for_the_number_that_was_wanted(desk: Desk, qtbot: QtBot) -> None:
    code = begin_plan(desk, CODE, [WANTED])
    room = ShoppingList(desk)
    qtbot.addWidget(room)
    room.table.setCurrentIndex(room.table.model().index(list(ticked(room)).index("TS-99"), 0))
    room.toggle_current()
    assert desk.records(ShoppingTick) == (ShoppingTick(what="TS-99", wanted=2.0),)
    assert ticked(room)["TS-99"]
    plan = plans_known.plan_named(desk, code)
    assert plan is not None
    desk.do(plans.add_line, plan, WANTED)
    assert not ticked(room)["TS-99"], "four are wanted now"


def test_a_new_plan_does_not_find_its_parts_ticked_off(desk: Desk, qtbot: QtBot) -> None:
    code = begin_plan(desk, CODE, [WANTED])
    desk.edit("Tick", lambda edit: edit.put(ShoppingTick(what="TS-99", wanted=2.0)))
    plan = plans_known.plan_named(desk, code)
    assert plan is not None
    desk.do(plans.remove_plan, plan)
    assert desk.records(ShoppingTick) == ()
    begin_plan(desk, CODE, [WANTED])
    room = ShoppingList(desk)
    qtbot.addWidget(room)
    assert not ticked(room)["TS-99"]
    desk.undo()
    desk.undo()
    room.read_again()
    assert ticked(room)["TS-99"]
