"""A chosen refit put through survey and rules as a changed aircraft: what is shown is what they say."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from hangar.base.text import NOTHING, Text, text
from hangar.parts import Aircraft, Library, PlanLine, after_plan
from hangar.refit.changes import plan_of
from hangar.refit.limits import MOST_RESERVE, Limits
from hangar.refit.risk import flat
from hangar.rules import Finding, Level, inspect
from hangar.survey import survey
from hangar.survey.model import Scenario, Survey

_NEARLY = 1e-6


@dataclass(frozen=True, kw_only=True)
class Assessment:
    """An aircraft, as it is or as it would be, with what survey and rules say of it.

    Attributes:
        aircraft: the aircraft.
        weakest_margin: least torque over expected load of its positions; None where none is known.
        worst_bus_v: bus volts at peak current; None where they cannot be told or the supply collapses.
        findings: what the rules find, gravest first.
        unknown: positions whose margin cannot be told.
    """

    aircraft: Aircraft
    weakest_margin: float | None
    worst_bus_v: float | None
    findings: tuple[Finding, ...]
    unknown: tuple[str, ...] = ()


def assessed(aircraft: Aircraft, limits: Limits) -> Assessment:
    """Survey an aircraft and inspect it."""
    seen = survey(aircraft, limits.conditions)
    return Assessment(
        aircraft=aircraft,
        weakest_margin=weakest_margin(seen),
        worst_bus_v=worst_bus_v(seen),
        findings=inspect(aircraft, seen, limits.thresholds),
        unknown=tuple(
            fit.code
            for fit in aircraft.fits
            if fit.function.is_flight and seen.positions[fit.code].reserve is None
        ),
    )


def weakest_margin(seen: Survey) -> float | None:
    """Least reserve of all positions, at most 1.5: control left of a surface, torque over load on a rotor."""
    margins = [
        min(MOST_RESERVE, each.reserve.expected)
        for each in seen.positions.values()
        if each.reserve is not None
    ]
    return min(margins, default=None)


def worst_bus_v(seen: Survey) -> float | None:
    """Bus volts at peak current."""
    peak = seen.scenarios.get(Scenario.PEAK)
    return None if peak is None or peak.bus_v is None else peak.bus_v.expected


def changed(aircraft: Aircraft, lines: Sequence[PlanLine], library: Library) -> Aircraft:
    """The aircraft with the lines carried out."""
    return after_plan(aircraft, plan_of(aircraft, lines), library)


def new_warnings(before: Iterable[Finding], after: Assessment) -> tuple[Finding, ...]:
    """Warnings that were not there before, on the same places or on more."""
    codes = {fit.code for fit in after.aircraft.fits}
    known: dict[str, list[set[str]]] = {}
    for finding in flat(before):
        if finding.level is Level.WARNING:
            known.setdefault(finding.rule, []).append(codes & set(finding.about))
    return tuple(
        finding
        for finding in flat(after.findings)
        if finding.level is Level.WARNING
        and not any(codes & set(finding.about) <= places for places in known.get(finding.rule, []))
    )


def cured(before: Assessment, after: Assessment) -> tuple[Finding, ...]:
    """Findings of before whose rule finds nothing at their places any more.

    A finding about a part that was taken out is not cured where its rule finds the same of a part put in.
    """
    came, went = _parts(after.aircraft) - _parts(before.aircraft), _parts(before.aircraft)
    went -= _parts(after.aircraft)
    left: dict[str, set[str]] = {}
    for finding in flat(after.findings):
        left.setdefault(finding.rule, set()).update(finding.about)
    return tuple(
        finding
        for finding in flat(before.findings)
        if finding.rule not in left
        or (
            finding.about
            and not left[finding.rule] & set(finding.about)
            and not (went & set(finding.about) and came & left[finding.rule])
        )
    )


def _parts(aircraft: Aircraft) -> set[str]:
    """Names of the servos, packs, regulators and switches that are fitted."""
    found = {fit.tag for fit in aircraft.fits if fit.tag}
    for path in aircraft.paths:
        found |= {fed.pack.tag for fed in path.packs}
        found |= {part.code for part in (path.regulator, path.switch) if part is not None}
    return found


def falls_short(after: Assessment, margin_pct: float, level_v: float) -> Text:
    """Why a proved aircraft is less than the tables claim; empty when it is not."""
    if after.worst_bus_v is None:
        return text("the supply collapses at peak current")
    if after.worst_bus_v < level_v - _NEARLY:
        return text(
            "the bus falls to {volts:.3f} V, below the {claimed:.3f} V worked with",
            volts=after.worst_bus_v,
            claimed=level_v,
        )
    if after.weakest_margin is not None and 100.0 * after.weakest_margin < margin_pct - _NEARLY:
        return text(
            "the weakest margin is {margin:.3f}, below the {claimed:.2f} worked with",
            margin=after.weakest_margin,
            claimed=margin_pct / 100.0,
        )
    return NOTHING
