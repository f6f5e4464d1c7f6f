"""What is done with a refit plan: begun, kept, moved on, its lines added and carried out."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import date
from typing import Any

from hangar.acts.stock import take_from_stock
from hangar.answers.board import TAGGED, Move, line_title, open_lines
from hangar.answers.needs import part_of
from hangar.answers.plans import plan_named, tags_for
from hangar.base.errors import BadInput
from hangar.base.text import Text, as_text, fixed, joined, plural, text
from hangar.parts import (
    Aircraft,
    Airframe,
    Feed,
    Library,
    Pack,
    PackFit,
    Plan,
    PlanLine,
    Prediction,
    Record,
    Regulator,
    Servo,
    ShoppingTick,
    Switch,
    after_plan,
)
from hangar.parts.choices import AircraftState, PlanAction, PlanState
from hangar.refit.bay import reserved_tags
from hangar.store import Edit


def begin_plan(edit: Edit, plan: Plan) -> Text:
    """Enter a plan, sketched."""
    edit.put(plan)
    return text("Begin plan {code}", code=plan.code)


def keep_plans(
    edit: Edit, plans: Sequence[Plan], taken_from: Plan | None = None, moved: Sequence[PlanLine] = ()
) -> Text:
    """Keep several plans at once: the stages of a refit, the refits of a fleet.

    Args:
        edit: where they are entered.
        plans: what is to be kept.
        taken_from: the kept plan that lines move out of; it goes when none stays.
        moved: the lines that move, as they stand in that plan.

    Raises: BadInput when nothing is to be kept, or the lines of that plan have changed.
    """
    if not plans:
        raise BadInput("Nothing is changed, so there is no plan to keep.")
    if taken_from is not None:
        _leave(edit, taken_from, moved)
    for plan in plans:
        edit.put(plan)
    return plural("Keep {count} plan", "Keep {count} plans", count=len(plans))


def _leave(edit: Edit, plan: Plan, moved: Sequence[PlanLine]) -> None:
    there = plan_named(edit, plan.code)
    if there is None or not set(moved) <= set(open_lines(there)) or there.lines != plan.lines:
        raise BadInput(
            'Plan "{title}" has changed since the stages were worked out; work them out again.',
            title=plan.title,
        )
    for line in moved:
        edit.remove(PlanLine, (line.plan, line.number))
    if len(moved) == len(plan.lines):
        edit.remove(Plan, (plan.code,))


def remove_plan(edit: Edit, plan: Plan) -> Text:
    """Take a plan away with its lines and proofs, and the ticks on the shopping list at what it wanted."""
    edit.remove(Plan, (plan.code,))
    for what in {part_of(line) for line in plan.lines}:
        if what is not None and edit.record(ShoppingTick, what) is not None:
            edit.remove(ShoppingTick, (what,))
    return text("Remove plan {code}", code=plan.code)


def move_plan(edit: Edit, plan: Plan, move: Move, predicted: Mapping[str, float] | None = None) -> Text:
    """Move a plan to another state; what is predicted is kept when the fitting begins.

    Raises: BadInput with everything that is missing first.
    """
    if not move.is_open:
        raise BadInput(joined(*map(as_text, move.missing)))
    edit.change(Plan, (plan.code,), state=move.state)
    begins = plan.state is PlanState.PARTS_IN and move.state is PlanState.FITTING
    for name, value in (predicted or {}).items() if begins else ():
        edit.put(Prediction(plan=plan.code, figure=name, value=value))
    return text("Move plan {code} to {state:^}", code=plan.code, state=move.state)


def add_line(edit: Edit, plan: Plan, line: PlanLine) -> Text:
    """Add a line at the end."""
    number = max((line.number for line in plan.lines), default=0) + 1
    edit.put(replace(line, plan=plan.code, number=number))
    return text("Add line {number} to plan {code}", number=number, code=plan.code)


def remove_line(edit: Edit, line: PlanLine) -> Text:
    """Take a line away.

    Raises: BadInput for a line that is carried out.
    """
    if line.done_on is not None:
        raise BadInput("Line {number} is carried out; it stays in the plan.", number=line.number)
    edit.remove(PlanLine, (line.plan, line.number))
    return text("Remove line {number} of plan {code}", number=line.number, code=line.plan)


def reserve_spares(edit: Edit, plan: Plan, library: Library) -> Text:
    """Let the open lines that fit a servo or pack name the spares they take; others' are left alone.

    Raises: BadInput when nothing that it needs lies in Stores.
    """
    taken = {line.from_stock for line in plan.lines if line.from_stock} | set(reserved_tags(library.plans))
    count = 0
    for line in open_lines(plan):
        if line.action not in TAGGED or line.from_stock:
            continue
        tag = next((tag for tag in tags_for(line, library) if tag not in taken), None)
        if tag is not None:
            taken.add(tag)
            edit.change(PlanLine, (line.plan, line.number), from_stock=tag, price=0.0)
            count += 1
    if not count:
        raise BadInput("Nothing that plan {code} still needs lies free in Stores.", code=plan.code)
    return plural("Reserve {count} spare", "Reserve {count} spares", count=count)


def carry_out(
    edit: Edit, plan: Plan, line: PlanLine, aircraft: Aircraft, library: Library, today: date, tag: str = ""
) -> Text:
    """Do a line: fit what it says into the recorded aircraft and mark it done.

    Args:
        edit: where it is done.
        plan: the plan, which must be at the fitting.
        line: a line of it that is open.
        aircraft: the plan's aircraft as it stands.
        library: the types, and what lies in the bay.
        today: the day it is done on.
        tag: of the servo or pack that goes in; one that is not recorded yet is entered.

    Raises: BadInput when something it needs is missing; nothing is changed then.
    """
    if line.done_on is not None:
        raise BadInput("Line {number} is carried out already.", number=line.number)
    if plan.state is not PlanState.FITTING:
        raise BadInput("The plan is {state}; move it to Fitting first.", state=plan.state)
    if line.action in TAGGED and not tag.strip():
        raise BadInput("Enter the tag of the part that goes in first.")
    bare = replace(line, from_stock=None, from_aircraft=None)
    changed = after_plan(aircraft, replace(plan, lines=(bare,)), library)
    _DOING[line.action](edit, _LineWork(aircraft, changed, line, tag.strip(), today, plan.title))
    edit.change(PlanLine, (line.plan, line.number), done_on=today, **_taken(line, tag.strip()))
    return text("Fit: {what}", what=line_title(line, plan.aircraft))


def put_on_bench(edit: Edit, code: str) -> Text:
    """Take an aircraft off the line for work."""
    edit.change(Airframe, (code,), state=AircraftState.ON_THE_BENCH)
    return text("Put {code} on the bench", code=code)


def _taken(line: PlanLine, tag: str) -> dict[str, Any]:
    return {"from_stock": tag} if tag and line.from_stock != tag else {}


class _LineWork:
    """What one line turns the aircraft into."""

    def __init__(
        self, before: Aircraft, after: Aircraft, line: PlanLine, tag: str, today: date, why: str
    ) -> None:
        self.before, self.after, self.line = before, after, line
        self.tag, self.today, self.why = tag, today, why


def _do_servo(edit: Edit, doing: _LineWork) -> None:
    kind = str(doing.line.part_type)
    _in_hand(edit, Servo(tag=doing.tag, servo_type=kind, bought_on=doing.today), "servo_type", kind)
    edit.fit_servo(doing.tag, doing.before.code, str(doing.line.place), doing.today, doing.why)


def _in_hand(edit: Edit, part: Servo | Pack, field: str, kind: str) -> None:
    """Enter the part that goes in, out of stock, if it is not recorded; one of another type is refused."""
    there = edit.record(type(part), part.tag)
    if there is None:
        edit.put(part)
        take_from_stock(edit, kind)
    elif getattr(there, field) != kind:
        raise BadInput(
            "{part:^} {tag} is a {found}; the line wants a {wanted}.",
            part=fixed(part.TITLE),
            tag=part.tag,
            found=getattr(there, field),
            wanted=kind,
        )


def _do_pack(edit: Edit, doing: _LineWork) -> None:
    place = str(doing.line.place)
    _pack_in_hand(edit, doing)
    _end_stays(edit, (*edit.records(PackFit, aircraft=doing.before.code, feed=place),
                      *edit.records(PackFit, pack=doing.tag)), doing.today)  # fmt: skip
    edit.put(PackFit(pack=doing.tag, aircraft=doing.before.code, feed=place, since_on=doing.today))


def _do_join(edit: Edit, doing: _LineWork) -> None:
    """A further pack beside those that are in the path."""
    place = str(doing.line.place)
    here = {stay.pack for stay in edit.records(PackFit, aircraft=doing.before.code, feed=place)
            if stay.until_on is None}  # fmt: skip
    if doing.tag in here:
        raise BadInput("Pack {tag} is in {place} already.", tag=doing.tag, place=place)
    _pack_in_hand(edit, doing)
    _end_stays(edit, edit.records(PackFit, pack=doing.tag), doing.today)
    edit.put(PackFit(pack=doing.tag, aircraft=doing.before.code, feed=place, since_on=doing.today))


def _end_stays(edit: Edit, stays: Iterable[PackFit], today: date) -> None:
    for stay in dict.fromkeys(stays):
        if stay.until_on is None:
            key = (stay.pack, stay.aircraft, stay.feed, stay.since_on)
            edit.change(PackFit, key, until_on=today)


def _pack_in_hand(edit: Edit, doing: _LineWork) -> None:
    """Enter the pack that goes in if it is not recorded, and the power paths as the line leaves them."""
    kind = str(doing.line.part_type)
    _in_hand(edit, Pack(tag=doing.tag, pack_type=kind, bought_on=doing.today, cycles=0), "pack_type", kind)
    for path in doing.after.paths:
        # A second pack makes a path of its own, and isolates the one that shares its board.
        if edit.record(Feed, doing.before.code, path.feed.code) != path.feed:
            edit.put(path.feed)


def _do_supply(edit: Edit, doing: _LineWork) -> None:
    """Regulator and switch: write what the changed paths hold, the part before the path that names it."""
    new_part = doing.line.action in (PlanAction.FIT_REGULATOR, PlanAction.FIT_SWITCH)
    if new_part and not doing.line.from_aircraft:
        take_from_stock(edit, str(doing.line.part_type))
    old = {path.feed.code: path for path in doing.before.paths}
    for path in doing.after.paths:
        if path == old.get(path.feed.code):
            continue
        for part in (path.regulator, path.switch):
            if isinstance(part, Regulator | Switch):
                edit.put(part)
        edit.put(path.feed)


def _do_at_position(edit: Edit, doing: _LineWork) -> None:
    """Lead, linkage, fixings, output: write what the line leaves otherwise at its position."""
    place = str(doing.line.place)
    before, after = doing.before.fit(place), doing.after.fit(place)
    if before is None or after is None:
        return
    parts: tuple[tuple[Record | None, Record | None], ...] = (
        (before.lead, after.lead),
        (before.linkage, after.linkage),
        (before.installation, after.installation),
        (before.through, after.through),
        (before.channel, after.channel),
    )
    for old, new in parts:
        if new is not None and new != old:
            edit.put(new)
    if doing.line.action is PlanAction.CHANGE_ARM and doing.line.part_type:
        take_from_stock(edit, doing.line.part_type)


def _do_receiver(edit: Edit, doing: _LineWork) -> None:
    old = set(doing.before.receivers)
    changed: list[Record] = [receiver for receiver in doing.after.receivers if receiver not in old]
    for receiver in changed:
        edit.put(receiver)
    take_from_stock(edit, str(doing.line.part_type))


_DOING = {
    PlanAction.FIT_SERVO: _do_servo,
    PlanAction.FIT_PACK: _do_pack,
    PlanAction.FIT_REGULATOR: _do_supply,
    PlanAction.SET_REGULATOR: _do_supply,
    PlanAction.FIT_SWITCH: _do_supply,
    PlanAction.CHANGE_LEAD: _do_at_position,
    PlanAction.CHANGE_ARM: _do_at_position,
    PlanAction.JOIN_PACKS: _do_join,
    PlanAction.FIT_RECEIVER: _do_receiver,
    PlanAction.FIT_FIXINGS: _do_at_position,
    PlanAction.SET_HORN: _do_at_position,
    PlanAction.CHANGE_ROD: _do_at_position,
    PlanAction.PROTECT_LEAD: _do_at_position,
    PlanAction.SET_PULSE: _do_at_position,
    PlanAction.SET_RATE: _do_at_position,
}
