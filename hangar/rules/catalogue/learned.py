"""Readings that do not fit what is known, and parts that have changed by their readings."""

from __future__ import annotations

from hangar.base.text import NOTHING, Amount, text
from hangar.parts import LoadTest
from hangar.parts.choices import Criticality
from hangar.physics.tracking import DOES_NOT_FIT, Fate
from hangar.rules import examples as ex
from hangar.rules.case import Case
from hangar.rules.changing import with_pack
from hangar.rules.cures import Worse
from hangar.rules.finding import Level
from hangar.rules.flag import Flag, Flags, allowed, read
from hangar.rules.look_for import look_and_read_again
from hangar.rules.registry import rule
from hangar.survey.learned import expected_mohm
from hangar.survey.low_volts import expected_lowest, newest_lowest
from hangar.survey.path_leads import joint_extra_ohm
from hangar.survey.servo_learned import servo_measured

_TOLD_FOR_DAYS = 90
_SURE = 0.9
_KIND_OF_UNIT = {"A": "moving-current", "s": "sweep-time", "deg": "servo-give"}


@rule(
    "does-not-fit",
    title="A reading does not fit what is known",
    levels=Level.ADVISORY,
    flags=lambda: with_pack(
        ex.trainer(),
        load_tests=ex.load_tested(ex.only_pack(), 5.34, 5.26, second_load_a=3.0, second_v=5.25),
    ),
    passes=ex.trainer,
    cures=(),
)
def does_not_fit(case: Case) -> Flags:
    """
    Checks: the newest reading of a pack's resistance and of the current in flight against what every reading
        before it makes expect, those of a servo on the bench against its type, the lowest volts of the newest
        flight against its supply, with the errors of both. A reading that does not fit moves no figure until
        another one decides; warnings go by the worse side.
    Consequence: a bad plug or a mixed-up tag goes unseen, and the next flight finds it.
    Can't tell when: nothing is asked.
    Source: errors of reading and expectation added as JCGM 100:2008 has it; three standard deviations
    Remedy: Look for the cause, then read it again.
    """
    yield from _odd_servos(case)
    yield from _odd_currents(case)
    yield from _odd_volts(case)
    yield from _odd_remarks(case)
    for fed in case.packs:
        learned = case.learned(fed)
        waiting = learned.waiting
        if waiting is None or waiting.judged is None:
            continue
        judged = waiting.judged
        if judged.z > 0.0 and isinstance(waiting.record, LoadTest) and waiting.record == fed.newest_test:
            continue  # told as a drop under load
        yield Flag(
            level=Level.ADVISORY,
            about=(fed.pack.tag,),
            message=text(
                "Pack {tag}: the {reading} says {seen} a cell, {expected} is expected; it waits for another.",
                reading=waiting.name,
                tag=fed.pack.tag,
                seen=Amount(waiting.cell_mohm, "mohm"),
                expected=Amount(expected_mohm(waiting), "mohm"),
            ),
            remedy=look_and_read_again("pack-resistance", judged.z),
            figures=(learned.cell_mohm, read("this reading", waiting.cell_mohm, "mohm")),
            criticality=Criticality.FLIGHT,
            rests_on=(str(waiting.read_on), f"{waiting.cell_mohm:.1f}"),
        )


def _odd_servos(case: Case) -> Flags:
    for fit in case.servos:
        for odd in servo_measured(fit).odd:
            yield Flag(
                level=Level.ADVISORY,
                about=(fit.tag or fit.code,),
                message=text(
                    "Servo {tag}: {what} of {day} is {seen}, {expected} is expected; it waits for another.",
                    tag=fit.tag or fit.code,
                    what=odd.name,
                    day=odd.read_on,
                    seen=Amount(odd.seen, odd.unit),
                    expected=Amount(odd.expected, odd.unit),
                ),
                remedy=look_and_read_again(_KIND_OF_UNIT.get(odd.unit, "moving-current"), odd.z),
                figures=(read(odd.name, odd.seen, odd.unit),),
                criticality=fit.criticality,
                rests_on=(str(odd.read_on), f"{odd.seen:.3f}"),
            )


def _odd_currents(case: Case) -> Flags:
    """The current of a flight that does not fit those before it."""
    currents = case.survey.currents
    for learned in () if currents is None else (currents.mean, currents.peak):
        waiting = learned.waiting
        if waiting is None or waiting.judged is None or waiting.expected_a is None:
            continue
        reading, z = waiting.reading, waiting.judged.z
        kind = "put-back" if reading.field == "put_back_mah" else "mean-current"
        yield Flag(
            level=Level.ADVISORY,
            about=(),
            message=text(
                "The {reading} says {seen}, {expected} is expected; it waits for another.",
                reading=reading.name,
                seen=Amount(reading.amps, "A"),
                expected=Amount(waiting.expected_a, "A"),
            ),
            remedy=look_and_read_again("peak-current" if reading.is_peak else kind, z),
            figures=(read(reading.name, reading.amps, "A"),),
            criticality=Criticality.FLIGHT,
            rests_on=(str(reading.read_on), f"{reading.amps:.3f}"),
        )


def _odd_volts(case: Case) -> Flags:
    """The lowest volts of the newest flight that lie below what the supply makes expect."""
    newest, expected = newest_lowest(case.aircraft), expected_lowest(case.survey)
    if newest is None or expected is None:
        return
    band, z = expected.beside(newest.volts)
    least = case.aircraft.receivers_least_v or 0.0
    if z >= -DOES_NOT_FIT or newest.volts < least + case.limit("telemetry-look"):
        return  # so near the receiver's least volts it is told by that
    yield Flag(
        level=Level.ADVISORY,
        about=(),
        message=text(
            "On {day} the bus fell to {seen} in flight, {expected} or more is expected.",
            day=newest.read_on,
            seen=Amount(newest.volts, "V", 3),
            expected=Amount(band.low, "V", 3),
        ),
        remedy=look_and_read_again("lowest-volts", z),
        figures=(read("lowest volts in flight", newest.volts, "V"),),
        criticality=Criticality.FLIGHT,
        rests_on=(str(newest.read_on), f"{newest.volts:.2f}"),
    )


def _odd_remarks(case: Case) -> Flags:
    """A speed at which a surface was noticed to run out or hold that does not fit what is worked out."""
    named = set()
    for fit in case.aircraft.fits:
        learned = case.at(fit).load_learned
        for judged in () if learned is None else learned.remarks:
            remark = judged.remark
            if learned is None or not judged.waits or remark in named:
                continue
            named.add(remark)
            yield Flag(
                level=Level.ADVISORY,
                about=(fit.code,),
                message=text(
                    "Surface {surface}: on {day} it {said} at {speed}, {predicted} is predicted; it waits "
                    "for another.",
                    surface=remark.surface,
                    day=remark.noted_on,
                    said=text("ran out") if remark.runs_out else text("still held"),
                    speed=Amount(remark.speed_m_s, "m/s"),
                    predicted=Amount(learned.predicted_m_s, "m/s"),
                ),
                remedy=look_and_read_again("speed-limit", -1.0 if remark.runs_out else 1.0),
                figures=(learned.figure,),
                criticality=fit.criticality,
                rests_on=(str(remark.noted_on), f"{remark.speed_m_s:.1f}"),
            )


@rule(
    "leads-high",
    title="Switch, plugs and leads have more resistance than they should",
    levels=Level.CAUTION,
    flags=lambda: with_pack(ex.trainer(), flight_logs=ex.logged(450.0)),
    passes=lambda: with_pack(ex.trainer(), flight_logs=ex.logged(120.0)),
    cures=(),
    worse=Worse.SUPPLY,
)
def leads_high(case: Case) -> Flags:
    """
    Checks: resistance between packs and bus by the newest flight log, less what the pack should have, against
        lengths, switch and plugs on record; told where it is nine tenths sure that it is above the limit. A
        joint that went bad in that flight is added.
    Consequence: the bus falls with every jerk of the sticks, and the joint may part.
    Can't tell when: nothing is asked; without a flight log nothing is said.
    Source: two quantities of which the sum was read, by least squares; limit common practice, no source
    Remedy: Look at switch, plug and joint.
    """
    for path in case.aircraft.radio_paths:
        leads = case.survey.leads.get(path.feed.code)
        if leads is None:
            continue
        limit = case.limit("leads-high")
        extra_ohm = joint_extra_ohm(case.aircraft, leads.log)
        seen_ohm = leads.figure.expected + extra_ohm
        sure = seen_ohm / leads.expected_ohm > limit if extra_ohm else leads.share_above(limit) >= _SURE
        if not sure:
            continue
        yield Flag(
            level=Level.CAUTION,
            about=(path.feed.code,),
            message=text(
                "Power path {path}: by the flight log of {day} switch, plugs and leads have {seen}, where "
                "{expected} is expected.",
                path=path.feed.code,
                day=leads.log.flown_on,
                seen=Amount(1000.0 * seen_ohm, "mohm"),
                expected=Amount(1000.0 * leads.expected_ohm, "mohm"),
            ),
            detail=text(
                "A joint went bad in that flight: {extra} more.", extra=Amount(1000.0 * extra_ohm, "mohm")
            )
            if extra_ohm
            else NOTHING,
            remedy=text(
                "Look at switch, plug and joint: with 1 A flowing a meter should show no more than {switch} "
                "over the switch, {plug} over one plug and {whole} from pack to bus. Once it is mended enter "
                "the day of the repair.",
                switch=Amount(case.switch_mohm(path) / 1000.0, "V", 2),
                plug=Amount(case.plug_mohm / 1000.0, "V", 2),
                whole=Amount(leads.expected_ohm, "V", 2),
            ),
            figures=(leads.figure, allowed("limit", limit * leads.expected_ohm, "ohm")),
            criticality=Criticality.FLIGHT,
            margin=limit * leads.expected_ohm / seen_ohm,
            rests_on=(str(leads.log.flown_on), f"{1000.0 * seen_ohm:.0f}"),
        )


@rule(
    "part-changed",
    title="Readings say that a pack has changed",
    levels=Level.ADVISORY,
    flags=lambda: with_pack(ex.trainer(), capacity_tests=ex.resistance_read((40, 12.0), (3, 3.0), (1, 3.2))),
    passes=lambda: with_pack(ex.trainer(), capacity_tests=ex.resistance_read((40, 12.0), (3, 12.5))),
    cures=(),
)
def part_changed(case: Case) -> Flags:
    """
    Checks: two readings in a row that agree with each other and not with the record before them.
    Consequence: the pack flown is not the one on record.
    Can't tell when: nothing is asked.
    Source: two readings beyond 1.9 and together beyond 4.6 standard deviations on one side
    Remedy: See that the tag is this pack's; if it has new cells or has lost one, note it.
    """
    for fed in case.packs:
        learned = case.learned(fed)
        changed_on = learned.is_changed(_TOLD_FOR_DAYS)
        if changed_on is None:
            continue
        last = next(
            reading
            for reading in reversed(learned.readings)
            if reading.judged and reading.judged.fate is Fate.CHANGED
        )
        yield Flag(
            level=Level.ADVISORY,
            about=(fed.pack.tag,),
            message=text(
                "Readings up to {day} agree: pack {tag} now has {now} a cell, where {before} was expected.",
                day=changed_on,
                tag=fed.pack.tag,
                now=Amount(learned.cell_mohm.expected, "mohm"),
                before=Amount(expected_mohm(last), "mohm"),
            ),
            figures=(learned.cell_mohm,),
            criticality=Criticality.FLIGHT,
            rests_on=(str(changed_on),),
        )
