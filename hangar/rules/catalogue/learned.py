"""Readings that do not fit what is known, and parts that have changed by their readings."""

from __future__ import annotations

from hangar.base.text import Amount, Text, text
from hangar.parts import LoadTest
from hangar.parts.choices import Criticality
from hangar.physics.tracking import Told
from hangar.rules import examples as ex
from hangar.rules.case import Case
from hangar.rules.changing import with_pack
from hangar.rules.finding import Level
from hangar.rules.flag import Flag, Flags, read
from hangar.rules.registry import rule
from hangar.survey.learned import expected_mohm
from hangar.survey.servo_learned import servo_measured

_TOLD_FOR_DAYS = 90

LOOK_FOR_HIGH = text(
    "Look for a bad plug or tester clip, a cold pack, one cell gone or wear, then read it again."
)
SERVO_HIGH = text("Look for gear grit, preload or a damaged motor, then read it again.")
SERVO_LOW = text(
    "Look whether something else fed the servo and whether the arm was held, then read it again."
)
LOOK_FOR_LOW = text(
    "Look whether it was this pack, whether a 1 kHz meter was used and whether the current was reached, then "
    "read it again."
)


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
    Checks: the newest reading of a pack's resistance against what every reading before it makes expect, and
        currents of a servo on the bench against its type, with the errors of both. It moves no
        figure until another reading decides; warnings go by the worse side.
    Consequence: a bad plug or a mixed-up tag goes unseen, and the next flight finds it.
    Can't tell when: nothing is asked.
    Source: errors of reading and expectation added as JCGM 100:2008 has it; three standard deviations
    Remedy: Look for the cause, then read it again.
    """
    yield from _odd_servos(case)
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
            remedy=_look_for(judged.z),
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
                    seen=Amount(odd.seen_a, "A"),
                    expected=Amount(odd.expected_a, "A"),
                ),
                remedy=SERVO_HIGH if odd.z > 0.0 else SERVO_LOW,
                figures=(read(odd.name, odd.seen_a, "A"),),
                criticality=fit.criticality,
                rests_on=(str(odd.read_on), f"{odd.seen_a:.3f}"),
            )


def _look_for(z: float) -> Text:
    return LOOK_FOR_HIGH if z > 0.0 else LOOK_FOR_LOW


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
            if reading.judged and reading.judged.told is Told.CHANGED
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
