"""Several plans kept at once, as one undoable edit: the stages of a refit, the refits of a fleet."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from hangar.base.errors import BadInput
from hangar.parts import Plan, PlanLine
from hangar.refit.board import open_lines
from hangar.window.kit.desk import Desk
from hangar.window.kit.words import counted, say
from hangar.window.refit.plan_edits import plan_named, plans_of

if TYPE_CHECKING:
    from hangar.store import Edit


@dataclass(frozen=True)
class Sketch:
    """One plan to be kept."""

    aircraft: str
    lines: tuple[PlanLine, ...]
    title: str = ""
    note: str | None = None


def free_codes(desk: Desk, aircraft: Iterable[str]) -> tuple[str, ...]:
    """A code for each that neither a plan has yet nor another of these."""
    taken = {plan.code for plan in plans_of(desk)}
    found = []
    for each in aircraft:
        number = 1
        while f"{each} refit {number}" in taken:
            number += 1
        found.append(f"{each} refit {number}")
        taken.add(found[-1])
    return tuple(found)


def plans_from(desk: Desk, sketches: Sequence[Sketch]) -> tuple[Plan, ...]:
    """The plans, sketched, each under a code of its own."""
    codes = free_codes(desk, (one.aircraft for one in sketches))
    return tuple(
        Plan(
            code=code,
            aircraft=one.aircraft,
            title=one.title or code,
            begun_on=desk.today,
            note=one.note,
            lines=tuple(replace(line, plan=code, number=number) for number, line in enumerate(one.lines, 1)),
        )
        for code, one in zip(codes, sketches, strict=True)
    )


def keep_plans(desk: Desk, sketches: Sequence[Sketch], taken_from: Plan | None = None) -> tuple[str, ...]:
    """Keep plans as one undoable edit; returns their codes.

    Args:
        desk: where the fleet is.
        sketches: what is to be kept.
        taken_from: the kept plan whose open lines these are; they leave it, and it goes when none stays.

    Raises: BadInput when nothing is to be kept, or the lines of that plan have changed.
    """
    if not sketches:
        raise BadInput(say("Nothing is changed, so there is no plan to keep."))
    made = plans_from(desk, sketches)
    moved: list[PlanLine] = []
    if taken_from is not None:
        moved = [line for one in sketches for line in one.lines]
        _check_unchanged(desk, taken_from, moved)

    def work(edit: Edit) -> None:
        for line in moved:
            edit.remove(PlanLine, (line.plan, line.number))
        if taken_from is not None and len(moved) == len(taken_from.lines):
            edit.remove(Plan, (taken_from.code,))
        for plan in made:
            edit.put(plan)

    desk.change(counted(len(made), say("Keep {count} plan"), say("Keep {count} plans")), work)
    return tuple(plan.code for plan in made)


def _check_unchanged(desk: Desk, plan: Plan, lines: Sequence[PlanLine]) -> None:
    there = plan_named(desk, plan.code)
    if there is None or not set(lines) <= set(open_lines(there)) or there.lines != plan.lines:
        raise BadInput(
            say(
                'Plan "{title}" has changed since the stages were worked out; work them out again.',
                title=plan.title,
            )
        )
