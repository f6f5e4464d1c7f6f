"""Servos too weak for the air or the rotor, and servos too strong for their linkage."""

from __future__ import annotations

from hangar.base.figure import Figure
from hangar.base.text import NOTHING, Amount, Span, Text, joined, text
from hangar.parts import ServoFit
from hangar.parts.choices import AircraftClass, Drive, Function
from hangar.rules import examples as ex
from hangar.rules.case import Case
from hangar.rules.changing import with_airframe, with_fit, with_surface
from hangar.rules.finding import Level
from hangar.rules.flag import Flag, Flags, allowed, cant_tell, worked
from hangar.rules.registry import rule
from hangar.rules.weak_pack import cured_by_supply, first_the_volts
from hangar.rules.words import parts_of, thing_at

_BOTH = (Level.WARNING, Level.CAUTION, Level.ADVISORY)
_TOO_WEAK = ("torque-short-surface", "torque-short-cyclic", "torque-short-tail")
SURE_LOW = text("short even at the lowest estimate of the load")
SURE_EXPECTED = text("short at the expected load")
SURE_MARGIN = text("enough at the expected load, less than the margin wanted")
SURE_DESIGN = text("has the margin wanted, short only at the design load")


def judged(torque_nm: float, load: Figure, wanted: float) -> tuple[Level, Text] | None:
    """Level and certainty of a torque against the band of a load; None when all is well.

    >>> judged(2.0, Figure(text("load"), 1.0, "N m", 0.7, 1.6), 1.5) is None
    True
    >>> judged(0.9, Figure(text("load"), 1.0, "N m", 0.7, 1.6), 1.5)
    (<Level.WARNING: 'warning'>, Text('short at the expected load'))
    """
    band = load.band
    if torque_nm < band.low:
        return Level.WARNING, SURE_LOW
    if torque_nm < band.expected:
        return Level.WARNING, SURE_EXPECTED
    if torque_nm < wanted * band.expected:
        return Level.CAUTION, SURE_MARGIN
    if torque_nm < band.design:
        return Level.ADVISORY, SURE_DESIGN
    return None


def _short(case: Case, fit: ServoFit, wanted: float) -> Flags:
    position = case.at(fit)
    about = parts_of([fit])
    if position.load_nm is None or position.torque_nm is None:
        lacks = position.missing or (text("position {code}: load or torque", code=fit.code),)
        yield cant_tell(*lacks, about=about, criticality=fit.criticality)
        return
    torque, load = position.torque_nm.expected, position.load_nm
    verdict = judged(torque, load, wanted)
    if verdict is None:
        return
    level, sure = verdict
    ratio = torque / load.expected if load.expected else float("inf")
    margin = worked(
        "torque margin", ratio, "", "torque available / torque needed, expected", basis=load.basis
    )
    one, many = _told(case, fit, ratio, wanted, level)
    yield Flag(
        level=level,
        about=about,
        message=text('{who} {one}', who=thing_at(fit), one=one),
        detail=_numbers(case, fit, load, torque, ratio, sure),
        figures=tuple(
            figure
            for figure in (
                load,
                position.torque_nm,
                margin,
                allowed("torque margin wanted", wanted),
                position.enough_to_m_s,
            )
            if figure is not None
        ),
        remedy=_stronger(case, fit, load, wanted),
        criticality=fit.criticality,
        margin=ratio,
        caused_by=cured_by_supply(case, fit, wanted),
        sameness=case.of_servo(fit, many),
    )  # fmt: skip


def _told(case: Case, fit: ServoFit, ratio: float, wanted: float, level: Level) -> tuple[Text, Text]:
    """What is so of one servo, and of several."""
    speed = case.at(fit).load_speed_m_s
    at_speed = text(" at {speed}", speed=Amount(speed.expected, "m/s")) if speed is not None else NOTHING
    if level is Level.WARNING:
        share = text("{ratio:.2f} times the torque", ratio=ratio)
        return text("has {share} it needs{at_speed}", share=share, at_speed=at_speed), text(
            "have {worst}{share} they need{at_speed}", share=share, at_speed=at_speed
        )
    if level is Level.CAUTION:
        share = text(
            "{ratio:.2f} times the torque needed{at_speed}; {wanted:g} times is wanted",
            ratio=ratio,
            at_speed=at_speed,
            wanted=wanted,
        )
    else:
        share = text(
            "{ratio:.2f} times the torque needed{at_speed}, and less than the design load asks",
            ratio=ratio,
            at_speed=at_speed,
        )
    return text("has {share}", share=share), text("have {worst}{share}", share=share)


def _numbers(case: Case, fit: ServoFit, load: Figure, torque: float, ratio: float, sure: Text) -> Text:
    band = load.band
    needs = text("needs {torque}", torque=Amount(band.expected, "N m"))
    if band.design > band.low:
        estimate = Span(band.low, band.design, "N m", 2)
        needs = text(
            "needs {torque} (estimate {estimate})", torque=Amount(band.expected, "N m"), estimate=estimate
        )
    volts = case.at(fit).delivered_v
    at_volts = text(" at {volts}", volts=Amount(volts.expected, "V")) if volts is not None else NOTHING
    words = [needs, text("has {torque}{at_volts}", torque=Amount(torque, "N m"), at_volts=at_volts)]
    enough = case.at(fit).enough_to_m_s
    if enough is not None and ratio < 1:
        words.append(text("enough up to {enough}", enough=Amount(enough.expected, "m/s", 2)))
    return joined(*words, sure, between="{first}; {then}")


def _stronger(case: Case, fit: ServoFit, load: Figure, wanted: float) -> Text:
    """What to do, with this servo's numbers; none of them at volts that it does not work at."""
    if first := first_the_volts(case, fit):
        return first
    volts = case.at(fit).delivered_v
    at_volts = text(" at {volts}", volts=Amount(volts.expected, "V")) if volts is not None else NOTHING
    words = text(
        "A servo of {wanted} or more{at_volts}",
        wanted=case.ample(wanted * load.expected, "N m"),
        at_volts=at_volts,
    )
    if fit.surface is not None:
        return text(
            "{words}; or less throw or speed, a longer horn, a shorter arm, or a second servo.", words=words
        )
    return text("{words}; or a lower head speed, or a shorter arm.", words=words)


@rule(
    "torque-short-surface",
    title="Servo too weak for the surface",
    levels=_BOTH,
    flags=lambda: with_airframe(with_surface(ex.trainer(), "ELE", span_mm=900.0), dive_speed_m_s=70.0),
    passes=ex.trainer,
)
def torque_short_surface(case: Case) -> Flags:
    """
    Checks: stall torque at the volts that reach the servo at peak current against the surface's hinge
        moment through the linkage, at the dive speed and the worst throw.
    Why: a servo that cannot hold the air is blown back and the aircraft does not answer.
    Can't tell when: surface, linkage, speed, rating or supply are not known well enough for a load.
    Source: law of the hinge moment with published section data; margin common practice, no source
    Remedy: Stronger servo, less throw or speed, longer horn or shorter arm, or two servos.
    """
    wanted = case.limit("torque-margin")
    for fit in case.servos:
        if fit.turns_in_the_air:
            yield from _short(case, fit, wanted)


@rule(
    "torque-short-cyclic",
    title="Swashplate servo too weak for the rotor",
    levels=_BOTH,
    flags=lambda: with_fit(ex.helicopter(), "CYC-1", servo_type={"ratings": ex.weaker(ex.CYCLIC, 0.02)}),
    passes=ex.helicopter,
)
def torque_short_cyclic(case: Case) -> Flags:
    """
    Checks: stall torque at the volts that reach the servo against the rotor's control load shared over
        the swashplate.
    Why: a servo that cannot hold the blades lets the disc go where it will.
    Can't tell when: rotor, blades, linkage, rating or supply are not known well enough for a load.
    Source: propeller moment and blade pitching moment of a turning blade; margin common practice
    Remedy: Stronger servos, lower head speed or shorter arms.
    """
    wanted = case.limit("torque-margin-cyclic")
    for fit in case.servos:
        if fit.function in (Function.CYCLIC, Function.COLLECTIVE):
            yield from _short(case, fit, wanted)


@rule(
    "torque-short-tail",
    title="Tail servo too weak",
    levels=_BOTH,
    flags=lambda: with_fit(ex.helicopter(), "TAIL", servo_type={"ratings": ex.weaker(ex.TAIL, 0.02)}),
    passes=ex.helicopter,
)
def torque_short_tail(case: Case) -> Flags:
    """
    Checks: stall torque at the volts that reach the servo against the tail rotor's control load.
    Why: the tail runs away in a fast pitch change.
    Can't tell when: tail rotor, linkage, rating or supply are not known well enough for a load.
    Source: propeller moment of a turning blade; margin common practice, no source
    Remedy: Stronger servo or shorter arm.
    """
    wanted = case.limit("torque-margin-tail")
    for fit in case.servos:
        if fit.function is Function.TAIL:
            yield from _short(case, fit, wanted)


@rule(
    "torque-below-giant-minimum",
    title="Below the giant-scale minimum torque",
    levels=Level.CAUTION,
    flags=lambda: with_surface(
        with_fit(ex.giant(), "ELE-L", "ELE-R", servo_type={"ratings": ex.weaker(ex.STRONG, 0.1)}),
        span_mm=60.0,
    ),
    passes=ex.giant,
)
def torque_below_giant_minimum(case: Case) -> Flags:
    """
    Checks: stall torque at the volts that reach the servo on every flight control of a giant-scale
        aircraft.
    Why: the association code of giant-scale flyers names a least torque.
    Can't tell when: the rating or the supply is not known.
    Source: International Miniature Aircraft Association safety code: 45 ozf in on flight controls
    Remedy: Stronger servo.
    """
    if case.kind is not AircraftClass.GIANT:
        return
    least = case.limit("giant-torque")
    for fit in case.servos:
        torque = case.at(fit).torque_nm
        if not fit.function.is_flight:
            continue
        if torque is None:
            yield cant_tell(
                *(case.at(fit).missing or (text("position {code}: torque", code=fit.code),)),
                about=parts_of([fit]),
                criticality=fit.criticality,
            )
        elif torque.expected < least:
            yield Flag(
                level=Level.CAUTION,
                about=parts_of([fit]),
                message=text(
                    "{who} has {torque}; the giant-scale code asks for {least}",
                    who=thing_at(fit),
                    torque=Amount(torque.expected, "N m"),
                    least=Amount(least, "N m"),
                ),
                figures=(torque, allowed("least torque", least, "N m")),
                criticality=fit.criticality,
                margin=torque.expected / least,
                sameness=case.of_servo(
                    fit,
                    text(
                        "have {worst}{torque}; the giant-scale code asks for {least}",
                        torque=Amount(torque.expected, "N m"),
                        least=Amount(least, "N m"),
                    ),
                    group="flight",
                    number=Amount(torque.expected, "N m"),
                ),
            )


@rule(
    "hold-near-centre",
    title="Weak holding near centre",
    levels=Level.ADVISORY,
    flags=lambda: with_airframe(ex.trainer(), dive_speed_m_s=45.0),
    passes=lambda: with_fit(ex.helicopter(), "TAIL", servo_type={"dead_band_us": 1.0}),
)
def hold_near_centre(case: Case) -> Flags:
    """
    Checks: how far an analog servo on a flight control is pushed from where it should stand before it
        holds half the load.
    Why: a control that gives near centre makes the aircraft wander.
    Can't tell when: nothing is asked; torque rules ask for what is missing.
    Source: proportional drive of an analog servo; limit common practice, no source
    Remedy: A digital servo, or more mechanical advantage.
    """
    limit = case.limit("give-near-centre")
    for fit in case.servos:
        give = case.at(fit).hold_deg
        analog = fit.servo_type is not None and fit.servo_type.drive is Drive.ANALOG
        if analog and fit.function.is_flight and give is not None and give.expected > limit:
            yield Flag(
                level=Level.ADVISORY,
                about=parts_of([fit]),
                message=text(
                    "{who} gives {give} before it holds half the load; {limit} is the limit",
                    who=thing_at(fit),
                    give=Amount(give.expected, "deg", 2),
                    limit=Amount(limit, "deg"),
                ),
                figures=(give, allowed("give allowed", limit, "deg")),
                criticality=fit.criticality,
                margin=limit / give.expected,
                caused_by=_TOO_WEAK,
                sameness=case.of_servo(
                    fit,
                    text(
                        "give {worst}{give} before they hold half the load; {limit} is the limit",
                        give=Amount(give.expected, "deg", 2),
                        limit=Amount(limit, "deg"),
                    ),
                    number=Amount(give.expected, "deg", 2),
                ),
            )
