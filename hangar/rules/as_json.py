"""Findings as plain objects for scripts."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from hangar.base.figure import Figure
from hangar.base.text import text_as_json
from hangar.rules.finding import Finding
from hangar.rules.registry import all_rules


def findings_as_json(findings: Iterable[Finding]) -> list[dict[str, Any]]:
    """Every finding as an object, what stands under it after it.

    What stands under another names that one in ``folded_under``, which is null for all others; the one
    that leads lists the rules under it in ``folded``: its consequences, or first its cause if it is graver.
    """
    return [entry for finding in findings for entry in _with_consequences(finding, None)]


def _with_consequences(finding: Finding, cause: str | None) -> Iterator[dict[str, Any]]:
    yield finding_as_json(finding, cause)
    for below in finding.folded:
        yield from _with_consequences(below, finding.rule)


def finding_as_json(finding: Finding, folded_under: str | None = None) -> dict[str, Any]:
    """One finding as an object that ``json`` can write."""
    rule = all_rules().get(finding.rule)
    return {
        "aircraft": finding.aircraft,
        "rule": finding.rule,
        "level": finding.level.value,
        "about": list(finding.about),
        "message": str(finding.message),
        "said": text_as_json(finding.message),
        "consequence": str(finding.consequence),
        "consequence_said": text_as_json(finding.consequence),
        "detail": str(finding.detail),
        "figures": {str(figure.name): _figure(figure) for figure in finding.figures},
        "remedy": str(finding.remedy),
        "cures": [] if rule is None else [cure.value for cure in rule.cures or ()],
        "source": str(finding.source),
        "missing": [str(field) for field in finding.missing],
        "criticality": finding.criticality.value,
        "margin": finding.margin,
        "accepted_until": finding.accepted_until.isoformat() if finding.accepted_until else None,
        "accepted_because": finding.accepted_because,
        "returned": finding.returned,
        "folded": [below.rule for below in finding.folded],
        "folded_under": folded_under,
        "inputs": finding.inputs,
    }


def _figure(figure: Figure) -> dict[str, Any]:
    entry: dict[str, Any] = {"value": figure.expected, "unit": figure.unit, "basis": figure.basis.value}
    if figure.low is not None:
        entry["low"] = figure.low
    if figure.design is not None:
        entry["high"] = figure.design
    return entry
