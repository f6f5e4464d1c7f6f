"""Servos of a pair of surfaces, or of one surface, that are not alike."""

from __future__ import annotations

from hangar.base.text import listed, text
from hangar.parts.choices import Drive
from hangar.rules import examples as ex
from hangar.rules.case import Case
from hangar.rules.changing import with_fit
from hangar.rules.consequences import side_lags
from hangar.rules.cures import Cure, Worse
from hangar.rules.finding import Level
from hangar.rules.flag import Flag, Flags
from hangar.rules.likeness import (
    ALIKE_IN_SPEED,
    ONE_TYPE,
    kinds_listed,
    mixed_kinds,
    mixed_types,
    spread_flag,
    spread_pct,
    times,
    unknown_times,
)
from hangar.rules.registry import rule
from hangar.rules.words import parts_of, place

_MONTH_DAYS = 30.4


@rule(
    "speed-mismatch-pair",
    title="Unlike speeds left and right",
    levels=Level.CAUTION,
    flags=lambda: with_fit(ex.trainer(), "AIL-R", servo_type=ex.slower(ex.STANDARD, 1.4)),
    passes=lambda: with_fit(ex.trainer(), "AIL-R", servo_type=ex.slower(ex.STANDARD, 1.05)),
    cures=(Cure.SERVO,),
    worse=Worse.LESS_BUS_VOLTS,
    wants=ALIKE_IN_SPEED,
)
def speed_mismatch_pair(case: Case) -> Flags:
    """
    Checks: transit times of left and right servos of the same function at the volts that reach them.
    Consequence: the slower side lags and the aircraft rolls or yaws with every quick command.
    Can't tell when: a rating or the supply is not known.
    Source: common practice, no source
    Remedy: The same servo type on both sides.
    """
    limit = case.limit("pair-speed")
    for pair in case.pairs:
        known = times(case, pair)
        if known is None:
            yield from unknown_times(case, pair)
        elif spread_pct(known) > limit:
            yield spread_flag(
                case,
                pair,
                Level.CAUTION,
                limit,
                text("{code} and {pair}", code=pair[0].code, pair=pair[1].code),
                side_lags(pair, known),
            )


@rule(
    "mixed-kinds-pair",
    title="Analog and digital on a pair of surfaces",
    levels=Level.CAUTION,
    flags=lambda: ex.wing(servo_type={"drive": Drive.DIGITAL}),
    passes=ex.trainer,
    cures=(Cure.SERVO,),
    worse=Worse.NOTHING,
    wants=ONE_TYPE,
)
def mixed_kinds_pair(case: Case) -> Flags:
    """
    Checks: whether left and right servos of one function are of the same kind.
    Consequence: one side answers later and holds softer: the aircraft rolls or yaws in quick commands.
    Can't tell when: nothing is asked.
    Source: common practice, no source
    Remedy: The same kind on both sides.
    """
    for pair in case.pairs:
        yield from mixed_kinds(
            pair, Level.CAUTION, text("{code} and {pair}", code=pair[0].code, pair=pair[1].code)
        )


@rule(
    "mixed-types-pair",
    title="Unlike servo types on a pair of surfaces",
    levels=Level.ADVISORY,
    flags=lambda: ex.wing(servo_type={"code": "EX-other"}),
    passes=ex.trainer,
    cures=(Cure.SERVO,),
    worse=Worse.NOTHING,
    wants=ONE_TYPE,
)
def mixed_types_pair(case: Case) -> Flags:
    """
    Checks: whether left and right servos of one function are of one type, where their speeds do not
        differ so much that the check of their speeds speaks.
    Consequence: the two sides do not answer quite alike.
    Can't tell when: nothing is asked.
    Source: common practice, no source
    Remedy: Match them at the next refit.
    """
    for pair in case.pairs:
        known = times(case, pair)
        if known is None or spread_pct(known) <= case.limit("pair-speed"):
            yield from mixed_types(
                case,
                pair,
                Level.ADVISORY,
                text("{code} and {pair}", code=pair[0].code, pair=pair[1].code),
            )


@rule(
    "ganged-mismatch",
    title="Servos on one surface are no matched pair",
    levels=(Level.WARNING, Level.CAUTION),
    flags=lambda: ex.ganged(installation={"matched_on": None}),
    passes=lambda: ex.ganged(),
    cures=(Cure.SERVO,),
    worse=Worse.NOTHING,
    wants=ONE_TYPE,
)
def ganged_mismatch(case: Case) -> Flags:
    """
    Checks: whether servos that drive one rigid surface are of one type, and whether matching them was
        recorded within the last months.
    Consequence: the two work against each other, heat, and wear each other out.
    Can't tell when: nothing is asked; a matching that is not recorded counts as not done.
    Source: common practice, no source
    Remedy: Same type; match centre and ends; record the currents and the day.
    """
    most_days = case.limit("pair-matched-months") * _MONTH_DAYS
    for group in case.ganged:
        codes = listed([fit.code for fit in group])
        types = sorted({fit.servo_type.code for fit in group if fit.servo_type})
        stays = [fit.installation for fit in group if fit.installation]
        days = [case.days_since(stay.matched_on) for stay in stays if stay.matched_on]
        if len(types) > 1:
            level, why = Level.WARNING, text("are of unlike types: {types}", types=listed(types))
        elif len(days) < len(group):
            level, why = Level.CAUTION, text("have no matching on record")
        elif max(days) > most_days:
            level, why = Level.CAUTION, text("were matched {days} days ago", days=max(days))
        else:
            continue
        surface = group[0].surface
        name = surface.name.lower() if surface else place(group[0])
        yield Flag(
            level=level,
            about=parts_of(group),
            message=text("servos {codes} on the {surface} {why}", codes=codes, surface=name, why=why),
            detail=kinds_listed(group),
            criticality=group[0].criticality,
            rests_on=(level.value, *types, *(str(stay.matched_on) for stay in stays)),
        )
