"""What can be done with a refit plan; every step is one undoable edit."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from datetime import date
from typing import TYPE_CHECKING, Any

from hangar.base.errors import BadInput
from hangar.parts import (
    Aircraft,
    Airframe,
    Feed,
    Lead,
    Library,
    Linkage,
    Pack,
    PackFit,
    Plan,
    PlanLine,
    Prediction,
    Regulator,
    Servo,
    ShoppingTick,
    StockItem,
    Switch,
    after_plan,
)
from hangar.parts.choices import AircraftState, PlanAction, PlanState
from hangar.refit.board import (
    Move,
    line_title,
)
from hangar.window.kit.desk import Desk
from hangar.window.kit.words import put, say, word_of

if TYPE_CHECKING:
    from hangar.store import Edit


def plans_of(desk: Desk) -> tuple[Plan, ...]:
    """All plans of the fleet."""
    plans: Iterable[Plan] = desk.records(Plan)
    return tuple(plans)


def plan_named(desk: Desk, code: str) -> Plan | None:
    """The plan of that code."""
    return next((plan for plan in plans_of(desk) if plan.code == code), None)


def free_code(desk: Desk, aircraft: str) -> str:
    """A code that no plan has yet."""
    taken = {plan.code for plan in plans_of(desk)}
    number = 1
    while f"{aircraft} refit {number}" in taken:
        number += 1
    return f"{aircraft} refit {number}"


def begin_plan(
    desk: Desk, aircraft: str, lines: Iterable[PlanLine] = (), title: str = "", note: str | None = None
) -> str:
    """Enter a plan, sketched; returns its code."""
    code = free_code(desk, aircraft)
    plan = Plan(
        code=code,
        aircraft=aircraft,
        title=title or code,
        begun_on=desk.today,
        note=note,
        lines=tuple(replace(line, plan=code) for line in lines),
    )
    desk.change(say("Begin plan {code}", code=code), lambda edit: edit.put(plan))
    return code


def remove_plan(desk: Desk, plan: Plan) -> None:
    """Take a plan away with its lines and proofs, and the ticks on the shopping list at what it wanted."""
    from hangar.sheets.needs import part_of

    def work(edit: Edit) -> None:
        edit.remove(Plan, (plan.code,))
        for what in {part_of(line) for line in plan.lines}:
            if what is not None and edit.record(ShoppingTick, what) is not None:
                edit.remove(ShoppingTick, (what,))

    desk.change(say("Remove plan {code}", code=plan.code), work)


def move_plan(desk: Desk, plan: Plan, move: Move, predicted: Mapping[str, float] | None = None) -> None:
    """Move a plan to another state; what is predicted is kept when the fitting begins.

    Raises: BadInput with everything that is missing first.
    """
    if not move.is_open:
        raise BadInput(" ".join(map(put, move.missing)))
    label = say("Move plan {code} to {state}", code=plan.code, state=word_of(move.state))
    begins = plan.state is PlanState.PARTS_IN and move.state is PlanState.FITTING

    def work(edit: Edit) -> None:
        edit.change(Plan, (plan.code,), state=move.state)
        for name, value in (predicted or {}).items() if begins else ():
            edit.put(Prediction(plan=plan.code, figure=name, value=value))

    desk.change(label, work)


def add_line(desk: Desk, plan: Plan, line: PlanLine) -> None:
    """Add a line at the end."""
    number = max((each.number for each in plan.lines), default=0) + 1
    made = replace(line, plan=plan.code, number=number)
    label = say("Add line {number} to plan {code}", number=number, code=plan.code)
    desk.change(label, lambda edit: edit.put(made))


def remove_line(desk: Desk, line: PlanLine) -> None:
    """Take a line away.

    Raises: BadInput for a line that is carried out.
    """
    if line.done_on is not None:
        raise BadInput(say("Line {number} is carried out; it stays in the plan.", number=line.number))
    label = say("Remove line {number} of plan {code}", number=line.number, code=line.plan)
    desk.change(label, lambda edit: edit.remove(PlanLine, (line.plan, line.number)))


def tags_for(line: PlanLine, library: Library) -> tuple[str, ...]:
    """Tags in the bay that a line could take."""
    if line.action is PlanAction.FIT_SERVO:
        return tuple(sorted(t for t, one in library.spare_servos.items() if one.servo_type == line.part_type))
    if line.action is PlanAction.FIT_PACK:
        return tuple(sorted(t for t, one in library.spare_packs.items() if one.pack_type == line.part_type))
    return ()


def carry_out(desk: Desk, plan: Plan, line: PlanLine, tag: str = "") -> None:
    """Do a line: fit what it says into the recorded aircraft and mark it done, as one edit.

    Args:
        tag: of the servo or pack that goes in; one that is not recorded yet is entered.

    Raises: BadInput when something it needs is missing; nothing is changed then.
    """
    if line.done_on is not None:
        raise BadInput(say("Line {number} is carried out already.", number=line.number))
    if plan.state is not PlanState.FITTING:
        raise BadInput(
            say("The plan is {state}; move it to Fitting first.", state=word_of(plan.state).lower())
        )
    if line.action in (PlanAction.FIT_SERVO, PlanAction.FIT_PACK) and not tag.strip():
        raise BadInput(say("Enter the tag of the part that goes in first."))
    aircraft, library, today = desk.aircraft(plan.aircraft), desk.fleet.library(), desk.today
    one = replace(line, from_stock=None)
    changed = after_plan(aircraft, replace(plan, lines=(one,)), library)

    def work(edit: Edit) -> None:
        _DOING[line.action](edit, _Doing(aircraft, changed, line, tag.strip(), today, plan.title))
        edit.change(PlanLine, (line.plan, line.number), done_on=today, **_taken(line, tag.strip()))

    desk.change(say("Fit: {what}", what=line_title(line)), work)


def _taken(line: PlanLine, tag: str) -> dict[str, Any]:
    return {"from_stock": tag} if tag and line.from_stock != tag else {}


class _Doing:
    """What one line turns the aircraft into."""

    def __init__(
        self, before: Aircraft, after: Aircraft, line: PlanLine, tag: str, today: date, why: str
    ) -> None:
        self.before, self.after, self.line = before, after, line
        self.tag, self.today, self.why = tag, today, why


def _do_servo(edit: Edit, doing: _Doing) -> None:
    line = doing.line
    kind = str(line.part_type)
    servo = edit.record(Servo, doing.tag)
    if servo is None:
        edit.put(Servo(tag=doing.tag, servo_type=kind, bought_on=doing.today))
        _take_from_stock(edit, kind)
    elif servo.servo_type != kind:
        raise BadInput(
            say(
                "Servo {tag} is a {found}; the line wants a {wanted}.",
                tag=doing.tag,
                found=servo.servo_type,
                wanted=kind,
            )
        )
    edit.fit_servo(doing.tag, doing.before.code, str(line.place), doing.today, doing.why)


def _take_from_stock(edit: Edit, part_type: str) -> None:
    for item in edit.records(StockItem, part_type=part_type):
        if item.on_hand >= 1:
            edit.change(StockItem, (item.code,), on_hand=item.on_hand - 1)
            return


def _do_pack(edit: Edit, doing: _Doing) -> None:
    kind, place = str(doing.line.part_type), str(doing.line.place)
    pack = edit.record(Pack, doing.tag)
    if pack is None:
        edit.put(Pack(tag=doing.tag, pack_type=kind, bought_on=doing.today, cycles=0))
        _take_from_stock(edit, kind)
    elif pack.pack_type != kind:
        raise BadInput(
            say(
                "Pack {tag} is a {found}; the line wants a {wanted}.",
                tag=doing.tag,
                found=pack.pack_type,
                wanted=kind,
            )
        )
    for path in doing.after.paths:
        # A second pack makes a path of its own, and isolates the one that shares its board.
        if edit.record(Feed, doing.before.code, path.feed.code) != path.feed:
            edit.put(path.feed)
    here = edit.records(PackFit, aircraft=doing.before.code, feed=place)
    for stay in dict.fromkeys((*here, *edit.records(PackFit, pack=doing.tag))):
        if stay.until_on is None:
            key = (stay.pack, stay.aircraft, stay.feed, stay.since_on)
            edit.change(PackFit, key, until_on=doing.today)
    edit.put(PackFit(pack=doing.tag, aircraft=doing.before.code, feed=place, since_on=doing.today))


def _do_supply(edit: Edit, doing: _Doing) -> None:
    """Regulator and switch: write what the changed paths hold, the part before the path that names it."""
    new_part = doing.line.action in (PlanAction.FIT_REGULATOR, PlanAction.FIT_SWITCH)
    if new_part:
        _take_from_stock(edit, str(doing.line.part_type))
    old = {path.feed.code: path for path in doing.before.paths}
    for path in doing.after.paths:
        if path == old.get(path.feed.code):
            continue
        for part in (path.regulator, path.switch):
            if isinstance(part, Regulator | Switch):
                edit.put(part)
        edit.put(path.feed)


def _do_at_position(edit: Edit, doing: _Doing) -> None:
    """Lead and arm: write the lead or linkage as the line leaves it."""
    fit = doing.after.fit(str(doing.line.place))
    part: Lead | Linkage | None = None
    if fit is not None:
        part = fit.lead if doing.line.action is PlanAction.CHANGE_LEAD else fit.linkage
    if part is not None:
        edit.put(part)


_DOING = {
    PlanAction.FIT_SERVO: _do_servo,
    PlanAction.FIT_PACK: _do_pack,
    PlanAction.FIT_REGULATOR: _do_supply,
    PlanAction.SET_REGULATOR: _do_supply,
    PlanAction.FIT_SWITCH: _do_supply,
    PlanAction.CHANGE_LEAD: _do_at_position,
    PlanAction.CHANGE_ARM: _do_at_position,
}


def put_on_bench(desk: Desk, code: str) -> None:
    """Take an aircraft off the line for work."""
    label = say("Put {code} on the bench", code=code)
    desk.change(label, lambda edit: edit.change(Airframe, (code,), state=AircraftState.ON_THE_BENCH))
