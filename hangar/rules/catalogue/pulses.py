"""Pulses and frames between receiver, gyro and servo, and what a servo makes of them."""

from __future__ import annotations

from hangar.base.text import Amount, Text, text
from hangar.parts.choices import AircraftClass, Drive, Function
from hangar.rules import examples as ex
from hangar.rules.case import Case
from hangar.rules.changing import with_fit, with_gyro
from hangar.rules.cures import Cure, Wants, Worse
from hangar.rules.finding import Level
from hangar.rules.flag import Flag, Flags, allowed, cant_tell, rated, read
from hangar.rules.needs import servo_need
from hangar.rules.registry import rule
from hangar.rules.signals import output_pulse, output_rate
from hangar.rules.words import parts_of, thing_at
from hangar.survey.figures import field_missing

_CYCLIC = (Function.CYCLIC, Function.COLLECTIVE)


def _gyro(code: str) -> Text:
    return text("the gyro") if code.lower() == "gyro" else text("gyro {code}", code=code)


def _set_pulse(gyro: str | None, pulse_us: float) -> Text:
    """What to do, the sender named in its own sentence: a language may want another form of it there."""
    value = Amount(pulse_us, "us")
    if gyro is None:
        return text("Set the receiver to {pulse_us}, or change the servo.", pulse_us=value)
    if gyro.lower() == "gyro":
        return text("Set the gyro to {pulse_us}, or change the servo.", pulse_us=value)
    return text("Set gyro {code} to {pulse_us}, or change the servo.", code=gyro, pulse_us=value)


@rule(
    "frame-rate-too-high",
    title="Servo on a faster output than it bears",
    levels=Level.WARNING,
    flags=lambda: with_fit(ex.trainer(), "RUD", channel={"rate_hz": 91.0}),
    passes=lambda: with_fit(ex.trainer(), "RUD", channel={"rate_hz": 50.0}),
    cures=(Cure.RATE, Cure.SERVO),
    worse=Worse.NOTHING,
    wants=Wants(
        part="servo",
        quantity="greatest frame rate",
        of="frame rate of the output",
        words=lambda value: text("a servo that bears {value}", value=value),
    ),
)
def frame_rate_too_high(case: Case) -> Flags:
    """
    Checks: frames a second of the output or gyro against the servo's greatest frame rate; an analog
        servo without one is taken to bear 60 a second.
    Consequence: the servo draws current all the time, heats and may burn in the air.
    Can't tell when: the output's rate, or a digital servo's greatest rate behind a gyro, is not known.
    Source: maker's rating; the analog limit is common practice, no source
    Remedy: Set the output slower, or fit a digital servo.
    """
    for fit in case.servos:
        kind = fit.servo_type
        if kind is None:
            continue
        rate, lacks = output_rate(case, fit)
        limit, of_limit = kind.max_rate_hz, rated
        if limit is None and kind.drive is Drive.ANALOG:
            limit, of_limit = case.limit("analog-rate"), allowed
        about = parts_of([fit])
        if limit is None:
            if fit.through is not None:
                yield cant_tell(field_missing(kind, "max_rate_hz"), about=about, criticality=fit.criticality)
        elif rate is None:
            yield cant_tell(lacks, about=about, criticality=fit.criticality)
        elif rate.expected > limit * 1.001:
            yield Flag(
                level=Level.WARNING,
                about=about,
                message=text(
                    "{who} is sent {rate} and bears {limit}; it will heat and may burn",
                    who=thing_at(fit),
                    rate=Amount(rate.expected, "Hz"),
                    limit=Amount(limit, "Hz"),
                ),
                remedy=text(
                    "Set the output to {limit} or less, or fit a digital servo.", limit=Amount(limit, "Hz")
                ),
                sameness=case.of_servo(
                    fit,
                    text(
                        "are sent {worst}{rate} and bear {limit}; they will heat and may burn",
                        rate=Amount(rate.expected, "Hz"),
                        limit=Amount(limit, "Hz"),
                    ),
                    group="rate",
                ),
                detail=text("{code}, {drive}", code=kind.code, drive=kind.drive),
                figures=(rate, of_limit("greatest frame rate", limit, "Hz")),
                criticality=fit.criticality,
                margin=limit / rate.expected,
            )


@rule(
    "pulse-narrow-on-wide",
    title="Servo and output of unlike pulse",
    levels=Level.WARNING,
    flags=lambda: with_fit(ex.helicopter(), "TAIL", servo_type={"pulse_us": 760.0}),
    passes=lambda: with_gyro(
        with_fit(ex.helicopter(), "TAIL", servo_type={"pulse_us": 760.0}), pulse_us=760.0
    ),
    cures=(Cure.PULSE, Cure.SERVO),
    worse=Worse.NOTHING,
    wants=Wants(
        part="servo",
        quantity="pulse",
        of="pulse sent",
        words=lambda value: text("a servo made for pulses of {value}", value=value),
    ),
)
def pulse_narrow_on_wide(case: Case) -> Flags:
    """
    Checks: the pulse centre that gyro or receiver sends against the one the servo is made for.
    Consequence: the servo runs hard over as soon as it is switched on.
    Can't tell when: the pulse of the gyro output or receiver is not known.
    Source: common practice, no source
    Remedy: Set the gyro to the servo's pulse, or change the servo.
    """
    allowed = case.limit("pulse-distance")
    for fit in case.servos:
        kind = fit.servo_type
        if kind is None:
            continue
        sent, lacks = output_pulse(case, fit)
        if sent is None:
            yield cant_tell(lacks, about=parts_of([fit]), criticality=fit.criticality)
        elif abs(sent - kind.pulse_us) > allowed:
            sender = _gyro(fit.through.code) if fit.through else text("the receiver")
            yield Flag(
                level=Level.WARNING,
                about=(*parts_of([fit]), *((fit.through.code,) if fit.through else ())),
                message=text(
                    "{who} is made for pulses of {pulse_us}; {sender} sends {sent}: it would sit hard over",
                    who=thing_at(fit),
                    pulse_us=Amount(kind.pulse_us, "us"),
                    sender=sender,
                    sent=Amount(sent, "us"),
                ),
                detail=text("{code}", code=kind.code),
                remedy=_set_pulse(fit.through.code if fit.through else None, kind.pulse_us),
                sameness=case.of_servo(
                    fit,
                    text(
                        "are made for other pulses than the {sent} that {sender} sends: they would sit "
                        "hard over",
                        sent=Amount(sent, "us"),
                        sender=sender,
                    ),
                    group="pulse",
                ),
                figures=(read("pulse sent", sent, "us"), rated("pulse of the servo", kind.pulse_us, "us")),
                criticality=fit.criticality,
            )


@rule(
    "frame-rate-slow-digital-tail",
    title="Tail servo run slower than it can",
    levels=Level.ADVISORY,
    flags=lambda: with_gyro(ex.helicopter(), rate_hz=70.0),
    passes=lambda: with_gyro(ex.helicopter(), rate_hz=333.0),
    cures=(Cure.RATE,),
    worse=Worse.NOTHING,
)
def frame_rate_slow_digital_tail(case: Case) -> Flags:
    """
    Checks: the gyro's tail rate against the greatest frame rate of a digital tail servo.
    Consequence: the gyro holds the tail less firmly than the parts allow.
    Can't tell when: nothing is asked; the check for too fast an output asks for the rate.
    Source: common practice, no source
    Remedy: Set the gyro to a faster rate.
    """
    share = case.limit("tail-rate-share")
    for fit in case.servos:
        gyro, kind = case.through_tail_gyro(fit), fit.servo_type
        if gyro is None or kind is None or kind.drive is Drive.ANALOG:
            continue
        if gyro.rate_hz is None or kind.max_rate_hz is None or gyro.rate_hz >= share * kind.max_rate_hz:
            continue
        yield Flag(
            level=Level.ADVISORY,
            about=(*parts_of([fit]), gyro.code),
            message=text(
                "Gyro {code} runs the tail servo at {rate_hz}; it can take {max_rate_hz}.",
                code=gyro.code,
                rate_hz=Amount(gyro.rate_hz, "Hz"),
                max_rate_hz=Amount(kind.max_rate_hz, "Hz"),
            ),
            figures=(
                read("tail rate set", gyro.rate_hz, "Hz"),
                rated("greatest frame rate", kind.max_rate_hz, "Hz"),
            ),
            criticality=fit.criticality,
        )


@rule(
    "deadband-vs-resolution",
    title="Wide dead band on a precise control",
    levels=Level.ADVISORY,
    flags=lambda: with_fit(ex.helicopter(), "TAIL", servo_type={"dead_band_us": 7.0}),
    passes=lambda: with_fit(ex.helicopter(), "TAIL", servo_type={"dead_band_us": 2.0}),
    cures=(Cure.SERVO,),
    worse=Worse.NOTHING,
)
def deadband_vs_resolution(case: Case) -> Flags:
    """
    Checks: the dead band of tail servos, of swashplate servos without a flybar, and of flight controls of
        fast sailplanes.
    Consequence: small corrections are not carried out.
    Can't tell when: nothing is asked; the dead band is no vital figure.
    Source: common practice, no source
    Remedy: A servo with a narrower dead band.
    """
    limit = case.limit("dead-band")
    fast = case.kind is AircraftClass.SAIL_FAST
    for fit in case.servos:
        kind = fit.servo_type
        swash = fit.function in _CYCLIC and not case.has_flybar
        precise = swash or fit.function is Function.TAIL or (fast and fit.function.is_flight)
        if kind is None or not precise or kind.dead_band_us is None or kind.dead_band_us <= limit:
            continue
        yield Flag(
            level=Level.ADVISORY,
            about=parts_of([fit]),
            message=text(
                "{who} has a dead band of {dead_band_us}; {limit} is the limit here",
                who=thing_at(fit),
                dead_band_us=Amount(kind.dead_band_us, "us"),
                limit=Amount(limit, "us"),
            ),
            sameness=case.of_servo(
                fit,
                text(
                    "have {worst}a dead band of {dead_band_us}; {limit} is the limit here",
                    dead_band_us=Amount(kind.dead_band_us, "us"),
                    limit=Amount(limit, "us"),
                ),
                number=Amount(kind.dead_band_us, "us"),
            ),
            figures=(rated("dead band", kind.dead_band_us, "us"), allowed("dead band allowed", limit, "us")),
            criticality=fit.criticality,
            margin=limit / kind.dead_band_us,
            need=servo_need(case, fit, "dead band", limit, "us", at_most=True),
        )
