"""Servo types against what they are asked to do."""

from __future__ import annotations

from hangar.base.text import NOTHING, Text, text
from hangar.parts import ServoFit
from hangar.parts.choices import AircraftClass, Bearing, Function, Gear
from hangar.rules import examples as ex
from hangar.rules.case import Case
from hangar.rules.changing import with_fit, with_records
from hangar.rules.cures import Cure, Wants, Worse
from hangar.rules.finding import Level
from hangar.rules.flag import Flag, Flags, cant_tell
from hangar.rules.registry import rule
from hangar.rules.words import parts_of, tags, thing_at
from hangar.survey.figures import field_missing

_SWASH = (Function.CYCLIC, Function.COLLECTIVE)


def _is_above(case: Case, limit: str) -> bool:
    """Whether the aircraft is heavier than a limit; one that was never weighed counts as heavy."""
    return case.mass_g is None or case.mass_g > case.limit(limit)


def _nylon_duty(case: Case, fit: ServoFit) -> tuple[Level, Text] | None:
    if case.kind is AircraftClass.AEROBATIC_3D and fit.function in (Function.RUDDER, Function.ELEVATOR):
        heavy = _is_above(case, "nylon-3d-mass")
        words = text("the {function} of a large-throw aircraft", function=fit.function)
        return (Level.WARNING, words) if heavy else None
    if case.airframe.is_helicopter and fit.function in _SWASH:
        hard = _is_above(case, "nylon-heli-mass") and not case.has_flybar
        return (Level.WARNING, text("the swashplate of a heavy helicopter")) if hard else None
    if fit.function is Function.FLAP and fit.surface is not None and fit.surface.used_as_brake:
        heavy = _is_above(case, "nylon-brake-mass")
        return (Level.CAUTION, text("a flap that is used as a brake")) if heavy else None
    if case.kind is AircraftClass.GIANT and fit.function.is_flight:
        return Level.CAUTION, text("a flight control of a giant-scale aircraft")
    return None


@rule(
    "gear-vs-duty",
    title="Gears unfit for the duty",
    levels=(Level.WARNING, Level.CAUTION),
    flags=lambda: with_fit(ex.giant(), "RUD", servo_type={"gear": Gear.NYLON}),
    passes=lambda: with_fit(ex.trainer(), "RUD", servo_type={"gear": Gear.NYLON}),
    cures=(Cure.SERVO,),
    worse=Worse.NOTHING,
    wants=Wants(part="servo", words=text("a servo with metal gears")),
)
def gear_vs_duty(case: Case) -> Flags:
    """
    Checks: nylon gears above a mass: on rudder and elevator of large-throw aircraft and on the swashplate of
        helicopters without a flybar (warning), on flaps used as brakes (caution); and on flight controls of
        giants (caution).
    Consequence: a tooth strips under a knock, and the surface swings free or jams.
    Can't tell when: the gears of a servo with such a duty are not known.
    Source: common practice, no source
    Remedy: Metal gears.
    """
    for fit in case.servos:
        if fit.servo_type is None or fit.servo_type.gear not in (Gear.NYLON, None):
            continue
        duty = _nylon_duty(case, fit)
        if duty is not None and fit.servo_type.gear is None:
            lacks = field_missing(fit.servo_type, "gear")
            yield cant_tell(lacks, about=parts_of([fit]), criticality=fit.criticality)
        elif duty is not None:
            level, words = duty
            yield Flag(
                level=level,
                about=parts_of([fit]),
                message=text(
                    "{who} ({code}) has nylon gears: too soft for {words}",
                    who=thing_at(fit),
                    code=fit.servo_type.code,
                    words=words,
                ),
                sameness=case.of_servo(
                    fit,
                    text("have nylon gears: too soft for {words}", words=words),
                    number=fit.servo_type.code,
                ),
                criticality=fit.criticality,
                rests_on=(words,),
            )


@rule(
    "bearing-vs-duty",
    title="Plain output bush on a hard-worked control",
    levels=Level.CAUTION,
    flags=lambda: with_fit(ex.giant(), "RUD", servo_type={"bearing": Bearing.PLAIN}),
    passes=lambda: with_fit(ex.trainer(), "RUD", servo_type={"bearing": Bearing.PLAIN}),
    cures=(Cure.SERVO,),
    worse=Worse.NOTHING,
    wants=Wants(part="servo", words=text("a servo with ball bearings")),
)
def bearing_vs_duty(case: Case) -> Flags:
    """
    Checks: plain output bushes on swashplates without a flybar, on flight controls of giants and of fast
        aircraft.
    Consequence: the bush wears, and the surface shakes in its play.
    Can't tell when: nothing is asked.
    Source: common practice, no source
    Remedy: A servo with ball bearings.
    """
    speed = case.airframe.dive_speed_m_s
    fast = speed is not None and speed > case.limit("fast-speed")
    hard = case.kind is AircraftClass.GIANT or fast
    worn = [
        fit
        for fit in case.servos
        if fit.servo_type is not None
        and fit.servo_type.bearing is Bearing.PLAIN
        and ((fit.function in _SWASH and not case.has_flybar) or (hard and fit.function.is_flight))
    ]
    if worn:
        yield Flag(
            level=Level.CAUTION,
            about=parts_of(worn),
            message=text(
                "Servos with a plain output bush sit on hard-worked controls: {tags}.", tags=tags(worn)
            ),
            criticality=worn[0].criticality,
            rests_on=tuple(fit.code for fit in worn),
        )


@rule(
    "duty-unfit",
    title="Type not marked fit for this function",
    levels=Level.CAUTION,
    flags=lambda: ex.elevator(servo_type={"duties": "throttle, steering"}),
    passes=lambda: ex.elevator(servo_type={"duties": "elevator, rudder"}),
    cures=(Cure.SERVO,),
    worse=Worse.NOTHING,
    wants=Wants(part="servo", words=text("a servo that is marked fit for this work")),
)
def duty_unfit(case: Case) -> Flags:
    """
    Checks: the functions a servo type is marked fit for, where it is marked at all.
    Consequence: the servo does here what it was not chosen for, and may fail early.
    Can't tell when: nothing is asked; a type that is not marked is passed over.
    Source: common practice, no source
    Remedy: Change the servo, or edit the type.
    """
    for fit in case.servos:
        marked = fit.servo_type.duties if fit.servo_type else None
        if not marked:
            continue
        duties = {word.strip().lower() for word in marked.split(",")}
        if fit.function.value not in duties:
            yield Flag(
                level=Level.CAUTION,
                about=parts_of([fit]),
                message=text(
                    "{code} is marked fit for {marked}; {who} is none of these",
                    code=fit.servo_type.code if fit.servo_type else NOTHING,
                    marked=marked,
                    who=thing_at(fit),
                ),
                sameness=case.of_servo(
                    fit,
                    text("are of a type that is not marked fit for them"),
                    group="unfit",
                    number=text("fit for {marked}", marked=marked),
                ),
                criticality=fit.criticality,
                rests_on=(marked,),
            )


@rule(
    "one-servo-two-halves",
    title="One servo for both halves",
    levels=Level.CAUTION,
    flags=lambda: with_records(
        ex.giant(), fits=lambda fits: tuple(fit for fit in fits if fit.code != "ELE-R")
    ),
    passes=ex.giant,
    cures=(),
    worse=Worse.FIXED,
)
def one_servo_two_halves(case: Case) -> Flags:
    """
    Checks: whether a giant-scale aircraft has a servo for each aileron and each elevator half.
    Consequence: one servo that fails takes the whole control with it.
    Can't tell when: nothing is asked; without positions the check of channels asks.
    Source: International Miniature Aircraft Association safety code recommends one servo for each
    Remedy: A second servo.
    """
    if case.kind is not AircraftClass.GIANT:
        return
    for function in (Function.AILERON, Function.ELEVATOR):
        fits = [fit for fit in case.aircraft.fits if fit.function is function]
        if len(fits) == 1:
            yield Flag(
                level=Level.CAUTION,
                about=parts_of(fits),
                message=text(
                    "One servo works the whole {function} of a giant-scale aircraft.", function=function
                ),
                criticality=fits[0].criticality,
                rests_on=(function.value,),
            )
