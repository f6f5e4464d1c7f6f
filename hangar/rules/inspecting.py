"""Run every rule over one aircraft and put what they say in order.

How sure a load-type finding is decides its level (torque of servos against air and rotor loads, which
are estimates with a low, an expected and a design value):

==========================================================  =========
short even of the lowest estimate of the load               warning, "short even at the lowest estimate"
short of the expected load                                  warning, "short at the expected load"
enough, but less than the margin wanted at the expected     caution
has the margin wanted, yet less than the design value       advisory, "short only at the design load"
==========================================================  =========

The margin wanted covers what an estimate does not know; so a servo that has it at the expected load and
falls short of nothing but the design load is named and no more. Supply volts are judged the same way: as
measured today they give warning or caution, with a cold or aged pack one level lower.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Iterable, Iterator, Set
from functools import cache

from hangar.parts import Aircraft, Library
from hangar.parts.choices import AircraftState, Criticality
from hangar.parts.thresholds import Thresholds
from hangar.rules.accepting import accept, fingerprint
from hangar.rules.case import Case
from hangar.rules.finding import Finding, Level
from hangar.rules.flag import Flag
from hangar.rules.folding import fold, gather_unknown
from hangar.rules.gathering import gathered
from hangar.rules.registry import Rule, all_rules
from hangar.survey.model import Survey

_AT_HOME = {Level.WARNING: Level.ADVISORY, Level.CAUTION: Level.ADVISORY, Level.ADVISORY: None}
"""What counts on a flying day only is known at home, and no more: nothing can happen before that day."""
_BY_CRITICALITY = {criticality: place for place, criticality in enumerate(Criticality)}


def inspect(
    aircraft: Aircraft,
    survey: Survey,
    thresholds: Thresholds | None = None,
    library: Library | None = None,
) -> tuple[Finding, ...]:
    """Everything that does not match on one aircraft, or that cannot be judged, gravest first.

    Args:
        aircraft: the aircraft, or the changed tree of a refit.
        survey: its survey; the survey's conditions say the day and whether it is a flying day.
        thresholds: limits in force; None takes the shipped ones.
        library: types, parts bay and all plans; without it the checks of plans and stock are left out.

    Returns: findings by level, then by what hangs on them, then by margin; consequences stand folded
        under their cause, or that under a graver consequence. Nothing at all for aircraft that are
        written off, their papers alone for those passed on, and only what concerns storage for those
        laid up. An empty answer means no more than that nothing was found on the data entered.
    """
    case = Case(aircraft, survey, thresholds or Thresholds(), library)
    raised = list(_raised(case))
    known = [_finding(case, rule, flag) for rule, flag in raised if flag.level is not Level.CANT_TELL]
    unknown = [(rule, flag) for rule, flag in raised if flag.level is Level.CANT_TELL]
    findings = accept([*known, *gather_unknown(aircraft.code, unknown)], aircraft, case.today)
    return tuple(sorted(fold(findings), key=_display_place))


def reminders(aircraft: Aircraft, survey: Survey) -> tuple[Finding, ...]:
    """What sheets always remind of; never counted as findings."""
    case = Case(aircraft, survey)
    return tuple(
        _finding(case, rule, flag)
        for rule in all_rules().values()
        if rule.reminder
        for flag in rule.check(case)
    )


@cache
def _asked(state: AircraftState) -> tuple[Rule, ...]:
    """The rules that are asked for an aircraft in that state."""
    rules = [rule for rule in all_rules().values() if not rule.reminder]
    if state is AircraftState.WRITTEN_OFF:
        return ()
    if state is AircraftState.PASSED_ON:
        return tuple(rule for rule in rules if rule.passed_on)
    laid_up = state is AircraftState.LAID_UP
    return tuple(rule for rule in rules if rule.laid_up or not laid_up)


def judged(case: Case, families: Set[str]) -> tuple[Finding, ...]:
    """What the rules of some families say of an aircraft, neither folded nor accepted nor put in order."""
    return tuple(
        _finding(case, rule, flag)
        for rule, flag in _raised(case, families)
        if flag.level is not Level.CANT_TELL
    )


def _raised(case: Case, families: Set[str] = frozenset()) -> Iterator[tuple[Rule, Flag]]:
    for rule, flags in _flagged(case, families):
        for flag in gathered(flags) if len(flags) > 1 else flags:
            yield rule, flag


def _flagged(case: Case, families: Set[str] = frozenset()) -> Iterator[tuple[Rule, tuple[Flag, ...]]]:
    """The flags of each rule as it raises them, one step lower at home where it counts in the field."""
    for rule in _asked(case.airframe.state):
        if families and rule.family not in families:
            continue
        flags = tuple(rule.check(case))
        if rule.field_only and not case.conditions.field_day:
            flags = tuple(flag for flag_here in flags for flag in _at_home(flag_here))
        if flags:
            yield rule, flags


def _at_home(flag: Flag) -> Iterator[Flag]:
    if flag.level not in _AT_HOME:
        yield flag
    elif (lower := _AT_HOME[flag.level]) is not None:
        yield dataclasses.replace(flag, level=lower)


def open_flags(case: Case) -> Iterator[tuple[Rule, Flag]]:
    """Every flag as its rule raises it, before alike ones are told as one; none that is accepted."""
    accepted = {acceptance.rule for acceptance in case.aircraft.acceptances}
    for rule, flags in _flagged(case):
        if rule.slug not in accepted:
            for flag in flags:
                yield rule, flag
            continue
        findings = [
            _finding(case, rule, flag) for flag in gathered(flags) if flag.level is not Level.CANT_TELL
        ]
        covered = [finding for finding in accept(findings, case.aircraft, case.today) if not finding.is_open]
        for flag in flags:
            if not any(
                flag.level is finding.level and set(flag.about) <= set(finding.about) for finding in covered
            ):
                yield rule, flag


def _finding(case: Case, rule: Rule, flag: Flag) -> Finding:
    return Finding(
        rule=rule.slug,
        title=rule.title,
        level=flag.level,
        aircraft=case.aircraft.code,
        about=flag.about,
        message=flag.message.as_sentence(),
        detail=flag.detail.as_sentence(),
        figures=flag.figures,
        consequence=(flag.consequence or rule.consequence).as_sentence(),
        remedy=flag.remedy or rule.remedy,
        source=flag.source or rule.source,
        missing=flag.missing,
        criticality=flag.criticality,
        margin=flag.margin,
        caused_by=flag.caused_by,
        inputs=fingerprint(rule.slug, flag),
    )


def _display_place(finding: Finding) -> tuple[int, int, float, str, tuple[str, ...]]:
    margin = float("inf") if finding.margin is None else finding.margin
    return (
        finding.level.rank,
        _BY_CRITICALITY[finding.criticality],
        margin,
        finding.rule,
        finding.about,
    )


def open_warnings(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """The warnings that nobody has accepted in writing."""
    return tuple(finding for finding in findings if finding.level is Level.WARNING and finding.is_open)
