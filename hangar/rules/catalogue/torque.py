"""Servos too weak for the rotor, and below what a code asks."""

from __future__ import annotations

from hangar.base.figure import Figure
from hangar.base.text import NOTHING, Amount, Span, Text, joined, text
from hangar.parts import ServoFit
from hangar.parts.choices import AircraftClass, Function
from hangar.rules import examples as ex
from hangar.rules.case import Case
from hangar.rules.changing import with_fit, with_surface
from hangar.rules.consequences import rotor_gives_way
from hangar.rules.cures import Cure, Need, OfServo, Worse
from hangar.rules.finding import Level
from hangar.rules.flag import Flag, Flags, allowed, cant_tell, worked
from hangar.rules.needs import servo_need
from hangar.rules.registry import rule
from hangar.rules.weak_pack import cured_by_supply, first_the_volts
from hangar.rules.words import parts_of, thing_at

_BOTH = (Level.WARNING, Level.CAUTION, Level.ADVISORY)
SURE_SHORT = text("short by more than a quarter at the expected load")
SURE_EXPECTED = text("short at the expected load")
SURE_HIGH = text("enough at the expected load, short only at the most")


def judged(torque_nm: float, load: Figure, warn: float, caution: float) -> tuple[Level, Text] | None:
    """Level and certainty of a torque against the band of a load; None when all is well.

    >>> judged(1.7, Figure(text("load"), 1.0, "N m", 0.5, 1.6), 0.75, 1.0) is None
    True
    >>> judged(0.9, Figure(text("load"), 1.0, "N m", 0.5, 1.6), 0.75, 1.0)
    (<Level.CAUTION: 'caution'>, Text('short at the expected load'))
    """
    band = load.band
    if torque_nm < warn * band.expected:
        return Level.WARNING, SURE_SHORT
    if torque_nm < caution * band.expected:
        return Level.CAUTION, SURE_EXPECTED
    if torque_nm < band.design:
        return Level.ADVISORY, SURE_HIGH
    return None


def _short(case: Case, fit: ServoFit, caution: float) -> Flags:
    position = case.at(fit)
    about = parts_of([fit])
    if position.load_nm is None or position.torque_nm is None:
        lacks = position.missing or (text("position {code}: load or torque", code=fit.code),)
        yield cant_tell(*lacks, about=about, criticality=fit.criticality)
        return
    torque, load = position.torque_nm.expected, position.load_nm
    verdict = judged(torque, load, case.limit("torque-rotor-warn"), caution)
    if verdict is None:
        return
    level, sure = verdict
    ratio = torque / load.expected if load.expected else float("inf")
    margin = worked(
        "torque over load", ratio, "", "torque available / torque needed, expected", basis=load.basis
    )
    single, many = _told(ratio, level)
    yield Flag(
        level=level,
        about=about,
        message=text('{who} {one}', who=thing_at(fit), one=single),
        consequence=rotor_gives_way(fit.function, ratio),
        detail=_numbers(case, fit, load, torque, sure),
        figures=(load, position.torque_nm, margin, allowed("torque over load wanted", caution)),
        remedy=_stronger(case, fit, load),
        criticality=fit.criticality,
        margin=ratio,
        caused_by=cured_by_supply(case, fit, lambda times: times * torque >= caution * load.expected),
        sameness=case.of_servo(fit, many),
        need=_need(case, fit, max(caution * load.expected, load.band.design)),
    )  # fmt: skip


def _need(case: Case, fit: ServoFit, torque_nm: float) -> Need:
    volts = case.at(fit).delivered_v
    return servo_need(case, fit, "torque", torque_nm, "N m", at=None if volts is None else volts.expected)


def _told(ratio: float, level: Level) -> tuple[Text, Text]:
    """What is so of one servo, and of several."""
    if level is Level.ADVISORY:
        share = text(
            "{ratio:.2f} times the torque expected, and less than the most the rotor may ask", ratio=ratio
        )
        return text("has {share}", share=share), text("have {worst}{share}", share=share)
    share = text("{ratio:.2f} times the torque", ratio=ratio)
    return text("has {share} it needs", share=share), text("have {worst}{share} they need", share=share)


def _numbers(case: Case, fit: ServoFit, load: Figure, torque: float, sure: Text) -> Text:
    band = load.band
    needs = text("needs {torque}", torque=Amount(band.expected, "N m"))
    if band.design > band.low:
        estimate = Span(band.low, band.design, "N m", 2)
        needs = text(
            "needs {torque} (estimate {estimate})", torque=Amount(band.expected, "N m"), estimate=estimate
        )
    words = [
        needs,
        text("has {torque}{at_volts}", torque=Amount(torque, "N m"), at_volts=_at_volts(case, fit)),
    ]
    return joined(*words, sure, between="{first}; {then}")


def _at_volts(case: Case, fit: ServoFit) -> Text:
    volts = case.at(fit).delivered_v
    return text(" at {volts}", volts=Amount(volts.expected, "V")) if volts is not None else NOTHING


def _stronger(case: Case, fit: ServoFit, load: Figure) -> Text:
    """What to do, with this servo's numbers; none of them at volts that it does not work at."""
    if first := first_the_volts(case, fit):
        return first
    words = text(
        "A servo of {wanted} or more{at_volts}",
        wanted=case.ample(load.band.design, "N m"),
        at_volts=_at_volts(case, fit),
    )
    return text("{words}; or a lower head speed, or a shorter arm.", words=words)


@rule(
    "torque-short-cyclic",
    title="Swashplate servo too weak for the rotor",
    levels=_BOTH,
    flags=lambda: with_fit(ex.helicopter(), "CYC-1", servo_type={"ratings": ex.weaker(ex.CYCLIC, 0.02)}),
    passes=ex.helicopter,
    cures=(Cure.SERVO, Cure.ARM, Cure.LEAD, Cure.SUPPLY),
    worse=Worse.LESS_BUS_VOLTS,
    eased=True,
    of_servo=OfServo.TORQUE,
)
def torque_short_cyclic(case: Case) -> Flags:
    """
    Checks: stall torque at the volts that reach the servo against the rotor's control load shared over
        the swashplate.
    Consequence: the disc goes where the air wants it, not where the stick does.
    Can't tell when: rotor, blades, linkage, rating or supply are not known well enough for a load.
    Source: propeller moment and blade pitching moment of a turning blade; lines common practice
    Remedy: Stronger servos, lower head speed, shorter arms, heavier leads or more bus volts.
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
    cures=(Cure.SERVO, Cure.ARM, Cure.LEAD, Cure.SUPPLY),
    worse=Worse.LESS_BUS_VOLTS,
    eased=True,
    of_servo=OfServo.TORQUE,
)
def torque_short_tail(case: Case) -> Flags:
    """
    Checks: stall torque at the volts that reach the servo against the tail rotor's control load.
    Consequence: the tail runs away in a quick pitch change.
    Can't tell when: tail rotor, linkage, rating or supply are not known well enough for a load.
    Source: propeller moment of a turning blade; lines common practice, no source
    Remedy: Stronger servo, shorter arm, heavier lead or more bus volts.
    """
    wanted = case.limit("torque-margin-tail")
    for fit in case.servos:
        if fit.function is Function.TAIL:
            yield from _short(case, fit, wanted)


_OF_ANY_SIZE = (AircraftClass.SCALE, AircraftClass.AEROBATIC_3D, AircraftClass.SPORT)
"""Classes with aircraft as big as those of the giant-scale code."""
_FAR_BELOW = 2.0 / 3.0
"""Share of the least torque below which a flight control is a danger at once: common practice, no source."""


def _is_giant(case: Case) -> bool:
    if case.kind is AircraftClass.GIANT:
        return True
    heavy = case.mass_g is not None and case.mass_g > case.limit("giant-mass")
    return case.kind in _OF_ANY_SIZE and heavy


@rule(
    "torque-below-giant-minimum",
    title="Below the giant-scale minimum torque",
    levels=(Level.WARNING, Level.CAUTION),
    flags=lambda: with_surface(
        with_fit(ex.giant(), "ELE-L", "ELE-R", servo_type={"ratings": ex.weaker(ex.STRONG, 0.1)}),
        span_mm=60.0,
    ),
    passes=ex.giant,
    cures=(Cure.SERVO, Cure.LEAD, Cure.SUPPLY),
    worse=Worse.LESS_BUS_VOLTS,
    of_servo=OfServo.TORQUE,
)
def torque_below_giant_minimum(case: Case) -> Flags:
    """
    Checks: stall torque at the volts that reach the servo on every flight control of a giant-scale aircraft,
        and of other powered ones above its mass: below the least is a caution, below two thirds of it a
        warning.
    Consequence: in gusts and fast flight the control gives way; the code keeps such servos off the field.
    Can't tell when: the rating or the supply is not known.
    Source: International Miniature Aircraft Association safety code: 45 ozf in on flight controls
    Remedy: Stronger servo, heavier lead or more bus volts.
    """
    if not _is_giant(case):
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
                level=Level.WARNING if torque.expected < _FAR_BELOW * least else Level.CAUTION,
                about=parts_of([fit]),
                message=text(
                    "{who} has {torque}; the giant-scale code asks for {least}",
                    who=thing_at(fit),
                    torque=Amount(torque.expected, "N m"),
                    least=Amount(least, "N m"),
                ),
                figures=(torque, allowed("least torque", least, "N m")),
                criticality=fit.criticality,
                need=_need(case, fit, least),
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
