"""Refits as plain objects for scripts; the keys are a promise."""

from __future__ import annotations

from collections import Counter
from typing import Any

from hangar.parts import PlanLine
from hangar.refit.front import Front, Point
from hangar.rules.finding import Level


def front_as_json(front: Front, *, explained: bool = False) -> dict[str, Any]:
    """A front as a plain object for scripts.

    Args:
        front: the answer of the planner.
        explained: whether to add, for each point, what binds it, the next best and what more money buys.
    """
    # The reasons need the solver; a plain front does not wait for it.
    from hangar.refit.explain import explanations

    told = explanations(front) if explained else []
    reasons = [{name: str(words) for name, words in of_point.items()} for of_point in told]
    extra = {"explanations": reasons} if explained else {}
    return {
        "aircraft": front.aircraft.code,
        "front": [_point(point) for point in front.points],
        "refused": [{"what": str(each.what), "why": str(each.why)} for each in (*front.refused, *front.cut)],
        "exact": front.exact,
        "hidden": front.hidden,
        "notes": [str(doubt) for doubt in front.doubts],
        **extra,
    }


def _point(point: Point) -> dict[str, Any]:
    return {
        "price": round(point.price, 2),
        "mass_change_g": round(point.mass_change_g, 1),
        "weakest_margin": point.weakest_margin,
        "worst_bus_v": point.worst_bus_v,
        "changes": [line_as_json(line) for line in point.changes],
        "findings_after": findings_counted(point),
    }


def findings_counted(point: Point) -> dict[str, Any]:
    """How many findings of each level are left, the warnings by name, and what was cured."""
    counts = Counter(finding.level for finding in point.findings_after if finding.is_open)
    return {
        **{level.value: counts[level] for level in Level},
        "open_warnings": sorted(
            {each.rule for each in point.findings_after if each.level is Level.WARNING and each.is_open}
        ),
        "cured": sorted({finding.rule for finding in point.cured}),
    }


def line_as_json(line: PlanLine) -> dict[str, Any]:
    """A plan line with the fields that its action uses."""
    fields = ("place", "part_type", "from_stock", "set_v", "awg", "arm_mm", "price")
    entry: dict[str, Any] = {"action": line.action.value}
    entry.update({name: getattr(line, name) for name in fields if getattr(line, name) is not None})
    return entry
