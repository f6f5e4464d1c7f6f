"""Keep what was tried as a refit plan; one undoable edit."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from hangar.parts import Plan, PlanLine
from hangar.window.kit.desk import Desk
from hangar.window.kit.words import say

UNNAMED = "?"
"""Stands for the plan's code until it is kept."""


def free_code(desk: Desk, stem: str) -> str:
    """A plan code that nobody uses yet: the stem, or the stem with a number."""
    taken = {plan.code for plan in desk.records(Plan)}
    number = 2
    code = stem
    while code in taken:
        code, number = f"{stem} {number}", number + 1
    return code


def keep_plan(desk: Desk, aircraft: str, title: str, purpose: str, lines: Iterable[PlanLine]) -> str | None:
    """Enter a sketched plan with these lines; returns its code, or None when it was refused and told."""
    code = free_code(desk, f"{aircraft} {title}")
    numbered = tuple(replace(line, plan=code, number=at) for at, line in enumerate(lines, 1))
    plan = Plan(
        code=code, aircraft=aircraft, title=title, purpose=purpose, begun_on=desk.today, lines=numbered
    )
    label = say("Keep plan {code}", code=code)
    return code if desk.edit(label, lambda edit: edit.put(plan)) else None
