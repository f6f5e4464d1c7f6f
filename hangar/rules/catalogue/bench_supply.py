"""The supply as it was read on the bench: bus volts that fell too low, a regulator that gives too much."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from hangar.base.text import Amount, Text, text
from hangar.parts import Aircraft
from hangar.parts.choices import Criticality
from hangar.rules import examples as ex
from hangar.rules.bus_volts_read import near_the_least
from hangar.rules.case import Case
from hangar.rules.changing import with_path, with_records
from hangar.rules.cures import Worse
from hangar.rules.finding import Level
from hangar.rules.flag import Flag, Flags, rated, read
from hangar.rules.registry import rule
from hangar.survey.supply_checks import newest_path, newest_supply


@rule(
    "bench-bus-low",
    title="Bus volts on the bench came near the receiver's minimum",
    levels=(Level.WARNING, Level.CAUTION),
    flags=lambda: with_records(ex.trainer(), supply_checks=ex.supply_checked(lowest_v=3.6)),
    passes=lambda: with_records(ex.trainer(), supply_checks=ex.supply_checked(lowest_v=4.6)),
    cures=(),
    worse=Worse.FIXED,
)
def bench_bus_low(case: Case) -> Flags:
    """
    Checks: the lowest bus volts read last on the bench since the last refit, with all packs and on each
        power path alone, against the receiver's least volts.
    Consequence: in the air the bus falls as low, and the receiver restarts.
    Can't tell when: nothing is asked; the check of the receiver's volts asks for the least volts.
    Source: common practice, no source
    Remedy: Find the cause before the next flight: pack, plug, switch, or a servo that binds.
    """
    least = case.aircraft.receivers_least_v
    if least is None:
        return
    for about, where, volts, day in _lowest(case.aircraft):
        flag = near_the_least(
            case,
            about,
            volts,
            text("lowest bus volts on the bench"),
            text(
                "On {day} the bus fell to {seen} on the bench, {where}; the receiver works down to {least}.",
                day=day,
                seen=Amount(volts, "V"),
                where=where,
                least=Amount(least, "V"),
            ),
        )
        if flag is not None:
            yield flag


def _lowest(aircraft: Aircraft) -> Iterator[tuple[tuple[str, ...], Text, float, date]]:
    """What the bus fell to, last read since the refit: with all packs, and on each path alone."""
    supply = newest_supply(aircraft, "lowest_v")
    if supply is not None and supply.lowest_v is not None and _counts(aircraft, supply.checked_at.date()):
        yield (), text("all packs"), supply.lowest_v, supply.checked_at.date()
    for path in aircraft.radio_paths:
        check = newest_path(aircraft, path, "alone_v")
        if check is not None and check.alone_v is not None and _counts(aircraft, check.checked_at.date()):
            code = path.feed.code
            yield (code,), text("{path} alone", path=code), check.alone_v, check.checked_at.date()


def _counts(aircraft: Aircraft, day: date) -> bool:
    refit = aircraft.airframe.refit_on
    return refit is None or day >= refit


@rule(
    "bench-bus-high",
    title="Regulator gives more than the parts on the bus may have",
    levels=Level.WARNING,
    flags=lambda: with_path(ex.trainer(), checks=ex.path_checked(out_v=9.2)),
    passes=lambda: with_path(ex.trainer(), checks=ex.path_checked(out_v=5.0)),
    cures=(),
    worse=Worse.FIXED,
)
def bench_bus_high(case: Case) -> Flags:
    """
    Checks: the volts of each regulator without load, read last on the bench since the last refit, against
        the highest volts of servos, receivers and gyros on the bus.
    Consequence: servos and receiver get volts that they are not made for, and burn out in the air.
    Can't tell when: nothing is asked; the checks of the parts' volts ask for their highest volts.
    Source: maker's rating
    Remedy: Set the regulator lower, read it again, and replace it if it does not follow.
    """
    most = case.aircraft.most_bus_v
    if most is None:
        return
    for path in case.aircraft.radio_paths:
        check = newest_path(case.aircraft, path, "out_v")
        if check is None or check.out_v is None or not _counts(case.aircraft, check.checked_at.date()):
            continue
        if check.out_v > most:
            yield Flag(
                level=Level.WARNING,
                about=(path.feed.code,),
                message=text(
                    "On {day} {path} gave {seen} on the bench; {most} is the most that parts on the bus "
                    "may have.",
                    day=check.checked_at.date(),
                    path=path.feed.code,
                    seen=Amount(check.out_v, "V"),
                    most=Amount(most, "V"),
                ),
                figures=(
                    read("regulator without load", check.out_v, "V"),
                    rated("highest volts allowed", most, "V"),
                ),
                criticality=Criticality.FLIGHT,
                margin=most / check.out_v,
            )
