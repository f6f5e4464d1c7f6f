"""Servos of one swashplate that are not alike."""

from __future__ import annotations

from hangar.base.text import text
from hangar.parts.choices import Drive, RotorKind
from hangar.rules import examples as ex
from hangar.rules.case import Case
from hangar.rules.changing import with_fit
from hangar.rules.consequences import plate_tips
from hangar.rules.cures import Cure, Worse
from hangar.rules.finding import Level
from hangar.rules.flag import Flags
from hangar.rules.likeness import (
    ALIKE_IN_SPEED,
    ONE_TYPE,
    mixed_kinds,
    mixed_types,
    spread_flag,
    spread_pct,
    times,
    unknown_times,
)
from hangar.rules.registry import rule


@rule(
    "speed-mismatch-swash",
    title="Unlike speeds on one swashplate",
    levels=(Level.WARNING, Level.CAUTION),
    flags=lambda: with_fit(ex.helicopter(), "CYC-2", servo_type=ex.slower(ex.CYCLIC, 1.5)),
    passes=ex.helicopter,
    cures=(Cure.SERVO,),
    worse=Worse.LESS_BUS_VOLTS,
    wants=ALIKE_IN_SPEED,
)
def speed_mismatch_swash(case: Case) -> Flags:
    """
    Checks: transit times of the swashplate's servos at the volts that reach them.
    Consequence: the plate tips whenever collective moves quickly.
    Can't tell when: a rating or the supply is not known.
    Source: common practice, no source
    Remedy: The same servo type at every place of the swashplate.
    """
    if not case.swash:
        return
    known = times(case, case.swash)
    if known is None:
        yield from unknown_times(case, case.swash)
        return
    spread = spread_pct(known)
    for level, name in ((Level.WARNING, "swash-speed-warn"), (Level.CAUTION, "swash-speed-look")):
        limit = case.limit(name)
        if spread > limit:
            rotor = case.aircraft.rotor(RotorKind.MAIN)
            tips = plate_tips(case.swash, known, None if rotor is None else rotor.swash)
            yield spread_flag(case, case.swash, level, limit, text("of the swashplate"), tips)
            return


@rule(
    "mixed-kinds-swash",
    title="Analog and digital on one swashplate",
    levels=Level.WARNING,
    flags=lambda: with_fit(ex.helicopter(), "CYC-2", servo_type={"drive": Drive.ANALOG}),
    passes=ex.helicopter,
    cures=(Cure.SERVO,),
    worse=Worse.NOTHING,
    wants=ONE_TYPE,
)
def mixed_kinds_swash(case: Case) -> Flags:
    """
    Checks: whether all servos of the swashplate are analog or all digital.
    Consequence: one corner of the plate answers later and holds softer: the disc tips under load.
    Can't tell when: nothing is asked; a position without a servo type is asked for elsewhere.
    Source: common practice, no source
    Remedy: Complete the set before flying.
    """
    if case.swash:
        yield from mixed_kinds(case.swash, Level.WARNING, text("of the swashplate"))


@rule(
    "mixed-types-swash",
    title="Unlike servo types on one swashplate",
    levels=Level.CAUTION,
    flags=lambda: with_fit(ex.helicopter(), "CYC-2", servo_type={"code": "EX-other"}),
    passes=ex.helicopter,
    cures=(Cure.SERVO,),
    worse=Worse.NOTHING,
    wants=ONE_TYPE,
)
def mixed_types_swash(case: Case) -> Flags:
    """
    Checks: whether the servos of the swashplate are all of one type.
    Consequence: the disc tips a little on quick collective.
    Can't tell when: nothing is asked.
    Source: common practice, no source
    Remedy: One type for the whole swashplate.
    """
    if case.swash:
        yield from mixed_types(case, case.swash, Level.CAUTION, text("of the swashplate"))
