"""Single parts: where they are, what they have been through, and whether they were proved."""

from __future__ import annotations

from hangar.base.figure import Basis
from hangar.base.text import NOTHING, Amount, listed, text
from hangar.parts import ServoFit
from hangar.parts.choices import Criticality, Gear, GearCondition, ServoState
from hangar.rules import examples as ex
from hangar.rules.bench_readings import newest_check
from hangar.rules.case import Case
from hangar.rules.cures import Cure, Wants, Worse
from hangar.rules.finding import Level
from hangar.rules.flag import Flag, Flags, read, value_of
from hangar.rules.registry import rule
from hangar.rules.words import parts_of, thing_at

_SOFT = (Gear.NYLON, Gear.COMPOSITE)


@rule(
    "part-in-two-places",
    title="One part in two places",
    levels=Level.WARNING,
    flags=lambda: ex.elevator(elsewhere=(ex.stay_elsewhere("EXT-ELE"),)),
    passes=ex.trainer,
    laid_up=True,
    cures=(),
)
def part_in_two_places(case: Case) -> Flags:
    """
    Checks: servos that are entered in more than one place, and places that are marked as disputed.
    Consequence: one of the two aircraft is not what its record says.
    Can't tell when: never.
    Source: logic: a part is in one place
    Remedy: Look which aircraft it is in, and end the wrong entry.
    """
    for fit in case.aircraft.fits:
        stay = fit.installation
        if stay is None or not (fit.elsewhere or stay.disputed):
            continue
        others = [
            text(
                "{position} of {aircraft} since {since_on}",
                position=installation.position,
                aircraft=installation.aircraft,
                since_on=installation.since_on,
            )
            for installation in fit.elsewhere
        ]
        where = listed(others) if others else text("another place as well")
        yield Flag(
            level=Level.WARNING,
            about=(fit.code, stay.servo),
            message=text(
                "Servo {servo} is entered at {code} of {aircraft} and at {where}.",
                servo=stay.servo,
                code=fit.code,
                aircraft=case.aircraft.code,
                where=where,
            ),
            detail=text(
                "at {code} since {since_on}{text}",
                code=fit.code,
                since_on=stay.since_on,
                text=text("; this place is disputed") if stay.disputed else NOTHING,
            ),
            criticality=fit.criticality,
            rests_on=(str(stay.since_on), *others),
        )


def servo_life_h(case: Case, fit: ServoFit) -> float | None:
    """Hours a servo lasts: its type's hint, else by its gears."""
    kind = fit.servo_type
    if kind is None:
        return None
    if kind.life_h is not None:
        return kind.life_h
    if kind.gear is None:
        return None
    return case.limit("servo-life-nylon" if kind.gear in _SOFT else "servo-life-metal")


@rule(
    "servo-hours",
    title="Servo past its life",
    levels=(Level.CAUTION, Level.ADVISORY),
    flags=lambda: ex.elevator(servo={"hours_h": 600.0}),
    passes=lambda: ex.elevator(servo={"hours_h": 100.0}),
    cures=(Cure.SERVO,),
    worse=Worse.NOTHING,
    wants=Wants(
        part="servo",
        quantity="hours run",
        of=lambda case, flag: _young_h(case, flag),
        unit="h",
        at_most=True,
        words=lambda value: text("a servo that has run less than {value}", value=value),
    ),
)
def servo_hours(case: Case) -> Flags:
    """
    Checks: hours run against the life of the servo type, else that of its gears.
    Consequence: gears, pot and brushes wear out, and the control begins to wander.
    Can't tell when: nothing is asked; hours are no vital figure.
    Source: common practice, no source
    Remedy: New gears or a new servo.
    """
    share = case.limit("servo-life-share")
    for fit in case.servos:
        life = servo_life_h(case, fit)
        hours = fit.servo.hours_h if fit.servo else None
        if life is None or hours is None or hours <= share * life:
            continue
        past = hours > life
        yield Flag(
            level=Level.CAUTION if past else Level.ADVISORY,
            about=parts_of([fit]),
            message=text(
                "{who} has run {hours} of the {life} it lasts",
                who=thing_at(fit),
                hours=Amount(hours, "h"),
                life=Amount(life, "h"),
            ),
            sameness=case.of_servo(
                fit,
                text("have run longer than they last")
                if past
                else text("are near the end of the hours they last"),
                group="hours",
                number=text("{hours} of {life}", hours=Amount(hours, "h"), life=Amount(life, "h")),
            ),
            figures=(read("hours run", hours, "h"), read("life", life, "h", Basis.TYPICAL)),
            criticality=fit.criticality,
            margin=life / hours,
            rests_on=("past" if past else "near", life),
        )


@rule(
    "servo-suspect",
    title="Suspect servo not proved",
    levels=Level.WARNING,
    flags=lambda: ex.elevator(servo={"state": ServoState.SUSPECT}),
    passes=ex.trainer,
    cures=(Cure.SERVO,),
    worse=Worse.NOTHING,
    wants=Wants(part="servo", words=text("a servo that is not suspect")),
)
def servo_suspect(case: Case) -> Flags:
    """
    Checks: fitted servos that are marked suspect or scrapped, or whose gears were found stripped.
    Consequence: a cracked tooth lets go in the next flight.
    Can't tell when: never.
    Source: common practice, no source
    Remedy: Test gears, shaft and current on the bench, or take another servo.
    """
    for fit in case.servos:
        servo = fit.servo
        if servo is None:
            continue
        if servo.state in (ServoState.SUSPECT, ServoState.SCRAPPED):
            word = text("is marked {state}", state=servo.state)
        elif servo.gear_condition is GearCondition.STRIPPED:
            word = text("has stripped gears on record")
        else:
            continue
        yield Flag(
            level=Level.WARNING,
            about=parts_of([fit]),
            message=text(
                "Servo {tag} at {code} {word}, and it is fitted.", tag=servo.tag, code=fit.code, word=word
            ),
            detail=text("{notes}", notes=servo.notes) if servo.notes else NOTHING,
            criticality=fit.criticality,
            rests_on=(word,),
        )


@rule(
    "servo-ungraded",
    title="Used servo without a test on record",
    levels=(Level.CAUTION, Level.ADVISORY),
    flags=lambda: ex.elevator(servo={"bought_used": True, "tested_on": None}),
    passes=lambda: ex.elevator(servo={"bought_used": True}),
    cures=(),
)
def servo_ungraded(case: Case) -> Flags:
    """
    Checks: fitted servos that were bought used and never bench-tested. A caution on flight controls.
    Consequence: a fault it was sold with shows itself in the air.
    Can't tell when: nothing is asked.
    Source: common practice, no source
    Remedy: Bench test: play, centring, currents, sweep.
    """
    for fit in case.servos:
        servo = fit.servo
        if servo is not None and servo.bought_used and servo.tested_on is None:
            flight = fit.criticality is Criticality.FLIGHT
            yield Flag(
                level=Level.CAUTION if flight else Level.ADVISORY,
                about=parts_of([fit]),
                message=text(
                    "Servo {tag} at {code} was bought used and never bench-tested.",
                    tag=servo.tag,
                    code=fit.code,
                ),
                sameness=case.of_servo(fit, text("were bought used and never bench-tested"), group="used"),
                criticality=fit.criticality,
                rests_on=("untested",),
            )


@rule(
    "servo-sweep-noise",
    title="Jitter or dead spot noted",
    levels=Level.CAUTION,
    flags=lambda: ex.elevator(servo={"sweep_clean": False}),
    passes=ex.trainer,
    cures=(Cure.SERVO,),
    worse=Worse.NOTHING,
    wants=Wants(part="servo", words=text("a servo that sweeps cleanly")),
)
def servo_sweep_noise(case: Case) -> Flags:
    """
    Checks: fitted servos that did not sweep cleanly, or jittered when that was noted last.
    Consequence: a worn pot makes the control jump.
    Can't tell when: nothing is asked.
    Source: common practice, no source
    Remedy: New pot or new servo.
    """
    for fit in case.servos:
        newest = newest_check(fit, "jitter")
        jitters = newest is not None and newest.jitter is True
        rough = fit.servo is not None and fit.servo.sweep_clean is False
        if jitters or rough:
            yield Flag(
                level=Level.CAUTION,
                about=parts_of([fit]),
                message=text(
                    "{who} {text}",
                    who=thing_at(fit),
                    text=text("jitters") if jitters else text("does not sweep cleanly"),
                ),
                sameness=case.of_servo(fit, text("jitter or do not sweep cleanly"), group="jitter"),
                criticality=fit.criticality,
                rests_on=("jitter",),
            )


def _young_h(case: Case, flag: Flag) -> float | None:
    """The hours up to which a servo counts as young enough."""
    life = value_of(flag, "life")
    return None if life is None else life * case.limit("servo-life-share")
