"""What must be proved before flying: range, directions, release after a refit."""

from __future__ import annotations

from datetime import date

from hangar.base.text import NOTHING, Amount, Text, listed, text
from hangar.parts import RangeCheck
from hangar.parts.choices import (
    AircraftState,
    Criticality,
    PlanState,
)
from hangar.rules import examples as ex
from hangar.rules.bench_readings import newest_check
from hangar.rules.case import Case, due_before_flying
from hangar.rules.changing import with_records
from hangar.rules.cures import Worse
from hangar.rules.finding import Level
from hangar.rules.flag import Flag, Flags
from hangar.rules.registry import rule
from hangar.rules.words import parts_of


@rule(
    "range-check-stale",
    title="Range check out of date",
    levels=(Level.WARNING, Level.CAUTION, Level.ADVISORY),
    flags=lambda: with_records(ex.trainer(), range_checks=ex.ranged(days=310)),
    passes=ex.trainer,
    cures=(),
    worse=Worse.FIXED,
)
def range_check_stale(case: Case) -> Flags:
    """
    Checks: the newest range check: passed, after the last refit or repair (warning), within a time and at
        the usual field (caution on a flying day, advisory at home).
    Consequence: a lost antenna or a new disturbance shows itself only far out.
    Can't tell when: never; a check that is not recorded counts as not made.
    Source: Academy of Model Aeronautics, National Model Aircraft Safety Code: ground range check before the
        first flight of a new or repaired model; days common practice, no source
    Remedy: Do it as the transmitter's maker says, motor off and then on.
    """
    newest = max(case.aircraft.range_checks, key=lambda check: check.checked_on, default=None)
    fault = _range_fault(case, newest)
    if fault is not None:
        level, words = fault
        yield Flag(
            level=level,
            about=(),
            message=words,
            detail=text("done at {distance_m}", distance_m=Amount(newest.distance_m, "m"))
            if newest and newest.distance_m is not None
            else NOTHING,
            criticality=Criticality.FLIGHT,
            rests_on=(level.value, str(newest.checked_on) if newest else "never"),
        )


def _range_fault(case: Case, newest: RangeCheck | None) -> tuple[Level, Text] | None:
    refit, site = case.airframe.refit_on, case.airframe.site
    if newest is None:
        level = Level.WARNING if refit is not None else due_before_flying(case)
        return level, text("No range check is on record.")
    day, days = newest.checked_on, case.days_since(newest.checked_on)
    if not newest.passed:
        return Level.WARNING, text("The range check of {day} failed.", day=day)
    if refit is not None and day < refit:
        return Level.WARNING, text(
            "No range check since the refit of {refit}; the last was on {day}.", refit=refit, day=day
        )
    limit = case.limit("range-days")
    if days > limit:
        return due_before_flying(case), text(
            "The last range check was {days} days ago; {limit:g} days is the limit.", days=days, limit=limit
        )
    if site and newest.site and newest.site != site:
        return due_before_flying(case), text(
            "The last range check was at {site}, not at {site_2}.", site=newest.site, site_2=site
        )
    return None


@rule(
    "direction-not-proved",
    title="Directions not proved after a refit",
    levels=Level.WARNING,
    flags=lambda: ex.elevator(bench_checks=ex.checked("ELE", direction_ok=None)),
    passes=ex.trainer,
    cures=(),
    worse=Worse.FIXED,
)
def direction_not_proved(case: Case) -> Flags:
    """
    Checks: for every flight control, that a bench check of the refit's day or later notes its direction
        as right.
    Consequence: a control that moves the wrong way ends the take-off.
    Can't tell when: never; a direction that is not noted counts as not proved.
    Source: 14 CFR 29.671 by analogy: full free movement proved before flight
    Remedy: Prove each stick against the surface with a second person, and enter it.
    """
    refit: date | None = case.airframe.refit_on
    if refit is None:
        return
    unproved = []
    for fit in case.servos:
        check = newest_check(fit, "direction_ok")
        proved = check is not None and check.direction_ok is True and check.checked_at.date() >= refit
        if fit.function.is_flight and not proved:
            unproved.append(fit)
    if unproved:
        yield Flag(
            level=Level.WARNING,
            about=parts_of(unproved),
            message=text(
                "Directions of {positions} were not proved since the refit of {refit}.",
                positions=listed([fit.code for fit in unproved]),
                refit=refit,
            ),
            criticality=Criticality.FLIGHT,
            rests_on=(str(refit), *(fit.code for fit in unproved)),
        )


@rule(
    "maiden-gates-open",
    title="Refit not released",
    levels=Level.WARNING,
    flags=lambda: with_records(ex.trainer(), plans=ex.planned(state=PlanState.FITTING)),
    passes=lambda: with_records(ex.trainer(), plans=ex.planned(state=PlanState.FLOWN_IN)),
    cures=(),
    worse=Worse.FIXED,
)
def maiden_gates_open(case: Case) -> Flags:
    """
    Checks: whether an aircraft stands on the line while one of its refits is being fitted or only proved
        on the bench.
    Consequence: half a refit is flown by mistake.
    Can't tell when: never.
    Source: common practice, no source
    Remedy: Finish the bench check and release the refit, or take the aircraft off the line.
    """
    if case.airframe.state is not AircraftState.ON_THE_LINE:
        return
    for plan in case.aircraft.plans:
        if plan.state is PlanState.FITTING:
            undone = sum(line.done_on is None for line in plan.lines)
            rest = (
                text(", {left} of {count} lines not done", left=undone, count=len(plan.lines))
                if undone
                else NOTHING
            )
            yield Flag(
                level=Level.WARNING,
                about=(plan.code,),
                message=text(
                    'Refit "{title}" is {state} and not released{rest}.',
                    title=plan.title,
                    state=plan.state,
                    rest=rest,
                ),
                criticality=Criticality.FLIGHT,
                rests_on=(plan.state.value,),
            )
