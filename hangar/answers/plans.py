"""The refit plans of a fleet, and new ones made of lines, each under a code of its own."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date

from hangar.answers.bay import counted_on, next_tag
from hangar.answers.reading import Records
from hangar.parts import Library, Pack, Plan, PlanLine
from hangar.parts.choices import PlanAction


@dataclass(frozen=True)
class Sketch:
    """One plan to be kept; ``code`` begins its code, else its aircraft and a number do."""

    aircraft: str
    lines: tuple[PlanLine, ...] = ()
    title: str = ""
    note: str | None = None
    purpose: str | None = None
    code: str = ""


def plans_of(fleet: Records) -> tuple[Plan, ...]:
    """All plans of the fleet."""
    return fleet.records(Plan)


def plan_named(fleet: Records, code: str) -> Plan | None:
    """The plan of that code."""
    return next((plan for plan in plans_of(fleet) if plan.code == code), None)


def plans_from(fleet: Records, sketches: Sequence[Sketch], today: date) -> tuple[Plan, ...]:
    """The plans, sketched, each under a code that neither a plan has yet nor another of these."""
    taken = {plan.code for plan in plans_of(fleet)}
    made = []
    for sketch in sketches:
        code = _free_code(sketch, taken)
        taken.add(code)
        lines = tuple(replace(line, plan=code, number=at) for at, line in enumerate(sketch.lines, 1))
        made.append(
            Plan(
                code=code,
                aircraft=sketch.aircraft,
                title=sketch.title or code,
                begun_on=today,
                note=sketch.note,
                purpose=sketch.purpose,
                lines=lines,
            )
        )
    return tuple(made)


def _free_code(sketch: Sketch, taken: Iterable[str]) -> str:
    number = 1
    code = sketch.code or f"{sketch.aircraft} R1"
    while code in taken:
        number += 1
        code = f"{sketch.code} {number}" if sketch.code else f"{sketch.aircraft} R{number}"
    return code


def tags_offered(fleet: Records, line: PlanLine, library: Library) -> tuple[str, ...]:
    """Tags for the part a line fits, the likeliest first: the one it names, those in the bay, a free one."""
    tags = tags_for(line, library)
    if line.from_stock:
        return (line.from_stock, *(tag for tag in tags if tag != line.from_stock))
    if line.action is PlanAction.FIT_SERVO:
        return (*tags, next_tag(fleet))
    if line.action in (PlanAction.FIT_PACK, PlanAction.JOIN_PACKS):
        return (*tags, counted_on([pack.tag for pack in fleet.records(Pack)], "B-01"))
    return tags


def tags_for(line: PlanLine, library: Library) -> tuple[str, ...]:
    """Tags in the bay that a line could take."""
    if line.action is PlanAction.FIT_SERVO:
        servos = library.spare_servos.items()
        return tuple(sorted(tag for tag, servo in servos if servo.servo_type == line.part_type))
    if line.action in (PlanAction.FIT_PACK, PlanAction.JOIN_PACKS):
        packs = library.spare_packs.items()
        return tuple(sorted(tag for tag, pack in packs if pack.pack_type == line.part_type))
    return ()
