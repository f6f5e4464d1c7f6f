"""Arms on their splines: fit, screw, square, and the travel they give."""

from __future__ import annotations

import math

from hangar.parts import Installation, ServoFit, ServoType
from hangar.parts.choices import Gear
from hangar.rules import examples as ex
from hangar.rules.case import Case
from hangar.rules.finding import Level
from hangar.rules.flag import Flag, Flags, allowed, cant_tell, rated, read
from hangar.rules.registry import rule
from hangar.rules.words import parts_of, thing_at
from hangar.survey.figures import field_missing

_ARM_FAULTS = {
    "has no screw": "have no screw",
    "has a screw that is not locked": "have screws that are not locked",
}
_METAL = (Gear.METAL, Gear.STEEL, Gear.TITANIUM)


def _spline_lacks(kind: ServoType, stay: Installation) -> str | None:
    if stay.arm_teeth is None:
        return field_missing(stay, "arm_teeth")
    return field_missing(kind, "spline_teeth") if kind.spline_teeth is None else None


def _unlike(case: Case, kind: ServoType, stay: Installation) -> str | None:
    if stay.arm_teeth != kind.spline_teeth:
        return f"an arm of {stay.arm_teeth} teeth sits on a spline of {kind.spline_teeth}"
    arm, spline = stay.arm_spline_mm, kind.spline_mm
    if arm is not None and spline is not None and abs(arm - spline) > case.limit("spline-tolerance"):
        return f"an arm for {case.show(arm, 'mm')} sits on a spline of {case.show(spline, 'mm')}"
    return None


@rule(
    "arm-spline-mismatch",
    title="Arm does not fit the spline",
    levels=Level.WARNING,
    flags=lambda: ex.elevator(installation={"arm_teeth": 23}),
    passes=ex.trainer,
)
def arm_spline_mismatch(case: Case) -> Flags:
    """
    Checks: teeth and diameter of the arm's spline against those of the servo.
    Why: a wrong arm holds for a while, then slips or splits.
    Can't tell when: the teeth of arm or servo are not known.
    Source: common practice, no source
    Remedy: Fit the right arm.
    """
    for fit in case.servos:
        kind, stay = fit.servo_type, fit.installation
        if kind is None or stay is None:
            continue
        lacks = _spline_lacks(kind, stay)
        if lacks is not None:
            yield cant_tell(lacks, about=parts_of([fit]), criticality=fit.criticality)
            continue
        words = _unlike(case, kind, stay)
        if words is not None:
            yield Flag(
                level=Level.WARNING,
                about=parts_of([fit]),
                message=f"On {thing_at(fit)} {words}",
                remedy=_right_arm(case, kind),
                share=case.of_servo(fit, "have arms that do not fit their splines", number=words),
                detail=_spline_detail(case, kind, stay),
                figures=(
                    read("teeth of the arm", stay.arm_teeth or 0),
                    rated("teeth of the servo", kind.spline_teeth or 0),
                ),
                criticality=fit.criticality,
            )


def _right_arm(case: Case, kind: ServoType) -> str:
    size = f" for a spline of {case.show(kind.spline_mm, 'mm')}" if kind.spline_mm is not None else ""
    return f"Fit an arm of {kind.spline_teeth} teeth{size}."


def _spline_detail(case: Case, kind: ServoType, stay: Installation) -> str:
    sizes = [kind.code]
    if stay.arm_spline_mm is not None and kind.spline_mm is not None:
        sizes.append(f"arm {case.show(stay.arm_spline_mm, 'mm')}, servo {case.show(kind.spline_mm, 'mm')}")
    return "; ".join(sizes)


@rule(
    "arm-screw-missing",
    title="Arm screw missing or not locked",
    levels=(Level.WARNING, Level.CAUTION),
    flags=lambda: ex.elevator(installation={"arm_screw": False}),
    passes=ex.trainer,
)
def arm_screw_missing(case: Case) -> Flags:
    """
    Checks: whether the arm screw is in, and on metal output gears whether it is locked.
    Why: the arm works off the spline in flight.
    Can't tell when: nobody noted whether the screw of a flight control's arm is in.
    Source: common practice, no source
    Remedy: Fit the screw; thread lock on metal.
    """
    for fit in case.servos:
        stay = fit.installation
        if stay is None:
            continue
        if stay.arm_screw is None:
            if fit.function.is_flight:
                lacks = field_missing(stay, "arm_screw")
                yield cant_tell(lacks, about=parts_of([fit]), criticality=fit.criticality)
            continue
        metal = fit.servo_type is not None and fit.servo_type.gear in _METAL
        if not stay.arm_screw:
            level, words = Level.WARNING, "has no screw"
        elif metal and stay.arm_screw_locked is False:
            level, words = Level.CAUTION, "has a screw that is not locked"
        else:
            continue
        yield Flag(
            level=level,
            about=parts_of([fit]),
            message=f"{thing_at(fit, 'arm')} {words}",
            share=case.of_servo(
                fit,
                words.replace("has ", "have ").replace("a screw that is", "screws that are"),
                "arm",
                kin=words,
            ),
            criticality=fit.criticality,
            rests_on=(words,),
        )


def _wanted_travel(case: Case, fit: ServoFit) -> tuple[Flag | None, float | None]:
    """Servo travel that the full throw asks for, or a flag that it cannot be reached at all."""
    position = case.at(fit)
    if position.servo_travel_deg is not None:
        return None, position.servo_travel_deg.expected
    reasons = position.missing_for.get("servo_travel_deg", ())
    hard = [reason for reason in reasons if "reach" in reason or "dead point" in reason or "close" in reason]
    if hard:
        return Flag(
            level=Level.CAUTION,
            about=parts_of([fit]),
            message=f"{thing_at(fit, 'linkage')} cannot reach its full throw: "
            f"{hard[0].partition(': ')[2].rstrip('.')}",
            criticality=fit.criticality,
            rests_on=(hard[0],),
        ), None
    return None, None


@rule(
    "arm-length-throw",
    title="Wanted throw cannot be reached",
    levels=Level.CAUTION,
    flags=lambda: ex.elevator(linkage={"arm_mm": 8.4}),
    passes=ex.trainer,
)
def arm_length_throw(case: Case) -> Flags:
    """
    Checks: servo travel that the surface's full throw asks of the linkage against what a servo gives.
    Why: the throw the pilot counts on is not there.
    Can't tell when: nothing is asked; the linkage is asked for by the torque rules.
    Source: geometry of the rod linkage; travel common practice, no source
    Remedy: A longer arm or a shorter horn.
    """
    for fit in case.servos:
        flag, travel = _wanted_travel(case, fit)
        figure = case.at(fit).servo_travel_deg
        own = fit.linkage.servo_travel_deg if fit.linkage else None
        limit = case.limit("servo-reach") if own is None else max(own, case.limit("servo-reach"))
        if flag is not None:
            yield flag
        elif travel is not None and figure is not None and travel > limit:
            yield Flag(
                level=Level.CAUTION,
                about=parts_of([fit]),
                message=f"Full throw asks {thing_at(fit)} for {case.show(travel, 'deg', 2)} each way; "
                f"{case.show(limit, 'deg')} is what it gives.",
                share=case.of_servo(
                    fit,
                    f"are asked for {{worst}}{case.show(travel, 'deg', 2)} each way for full throw; "
                    f"{case.show(limit, 'deg')} is what they give",
                    number=case.show(travel, "deg", 2),
                ),
                figures=(figure, allowed("travel a servo gives", limit, "deg")),
                criticality=fit.criticality,
                margin=limit / travel,
            )


def _shorter_arm(case: Case, fit: ServoFit, used_deg: float, wanted_deg: float) -> str:
    arm = fit.linkage.arm_mm if fit.linkage else None
    if arm is None:
        return ""
    shorter = arm * math.sin(math.radians(used_deg)) / math.sin(math.radians(wanted_deg))
    return f"An arm of about {case.show(shorter, 'mm', 2)}, or a longer horn, and full travel."


@rule(
    "arm-too-long",
    title="Little servo travel used",
    levels=Level.ADVISORY,
    flags=lambda: ex.elevator(linkage={"arm_mm": 18.0}),
    passes=ex.trainer,
)
def arm_too_long(case: Case) -> Flags:
    """
    Checks: servo travel that the full throw of a flight control uses.
    Why: torque, resolution and stiffness are given away in proportion.
    Can't tell when: nothing is asked.
    Source: geometry of the rod linkage; travel common practice, no source
    Remedy: A shorter arm or a longer horn, and full travel.
    """
    least = case.limit("servo-travel-least")
    for fit in case.servos:
        figure = case.at(fit).servo_travel_deg
        if figure is None or not fit.function.is_flight or figure.expected >= least:
            continue
        share = 100.0 * (1.0 - figure.expected / least)
        yield Flag(
            level=Level.ADVISORY,
            about=parts_of([fit]),
            message=f"{thing_at(fit)} uses {case.show(figure.expected, 'deg', 2)} each way for full throw; "
            f"{case.show(least, 'deg')} would give more torque and resolution",
            detail=f"about {share:.0f} % of torque and resolution given away",
            remedy=_shorter_arm(case, fit, figure.expected, least),
            share=case.of_servo(
                fit,
                f"use {{worst}}{case.show(figure.expected, 'deg', 2)} each way for full throw; "
                f"{case.show(least, 'deg')} would give more torque and resolution",
            ),
            figures=(figure, allowed("travel wanted", least, "deg")),
            criticality=fit.criticality,
            margin=figure.expected / least,
        )


@rule(
    "arm-not-square",
    title="Arm not square at neutral",
    levels=Level.ADVISORY,
    flags=lambda: ex.elevator(linkage={"arm_angle_deg": 75.0}),
    passes=lambda: ex.elevator(linkage={"arm_angle_deg": 92.0}),
)
def arm_not_square(case: Case) -> Flags:
    """
    Checks: angle between arm and rod at neutral against a right angle.
    Why: throws become unequal, and servos that mix work against each other.
    Can't tell when: nothing is asked; without an angle a right angle is assumed.
    Source: geometry; limit common practice, no source
    Remedy: Turn the arm by a spline tooth, then trim the rod's length.
    """
    limit = case.limit("arm-square")
    for fit in case.servos:
        angle = fit.linkage.arm_angle_deg if fit.linkage else None
        if angle is None or not fit.function.is_flight or abs(90.0 - angle) <= limit:
            continue
        yield Flag(
            level=Level.ADVISORY,
            about=parts_of([fit]),
            message=f"{thing_at(fit, 'arm')} stands {case.show(abs(90.0 - angle), 'deg')} from square at "
            f"neutral; {case.show(limit, 'deg')} is the limit",
            share=case.of_servo(
                fit,
                f"stand {{worst}}{case.show(abs(90.0 - angle), 'deg')} from square at neutral; "
                f"{case.show(limit, 'deg')} is the limit",
                "arm",
                number=case.show(abs(90.0 - angle), "deg"),
            ),
            figures=(read("arm to rod at neutral", angle, "deg"), allowed("limit", limit, "deg")),
            criticality=fit.criticality,
        )
