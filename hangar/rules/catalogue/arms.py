"""Arms on their splines: fit, screw, square, and the travel they give."""

from __future__ import annotations

import math
from dataclasses import replace

from hangar.base.text import NOTHING, Amount, Arg, Text, series, text
from hangar.parts import Installation, ServoFit, ServoType
from hangar.parts.choices import Gear
from hangar.rules import examples as ex
from hangar.rules.case import Case
from hangar.rules.consequences import reaches
from hangar.rules.control_levels import weighing_of
from hangar.rules.cures import Cure, Wants, Worse
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


def _spline_lacks(kind: ServoType, stay: Installation) -> Text | None:
    if stay.arm_teeth is None:
        return field_missing(stay, "arm_teeth")
    return field_missing(kind, "spline_teeth") if kind.spline_teeth is None else None


def _unlike(case: Case, kind: ServoType, stay: Installation) -> Text | None:
    if stay.arm_teeth != kind.spline_teeth:
        return text(
            "an arm of {arm_teeth} teeth sits on a spline of {spline_teeth}",
            arm_teeth=stay.arm_teeth,
            spline_teeth=kind.spline_teeth,
        )
    arm, spline = stay.arm_spline_mm, kind.spline_mm
    if arm is not None and spline is not None and abs(arm - spline) > case.limit("spline-tolerance"):
        return text(
            "an arm for {arm} sits on a spline of {spline}",
            arm=Amount(arm, "mm"),
            spline=Amount(spline, "mm"),
        )
    return None


@rule(
    "arm-spline-mismatch",
    title="Arm does not fit the spline",
    levels=Level.WARNING,
    flags=lambda: ex.elevator(installation={"arm_teeth": 23}),
    passes=ex.trainer,
    cures=(Cure.ARM, Cure.SERVO),
    worse=Worse.NOTHING,
    wants=Wants(
        part="arm",
        quantity="teeth",
        of="teeth of the servo",
        words=lambda value: text("an arm for a spline of {value} teeth", value=value),
    ),
)
def arm_spline_mismatch(case: Case) -> Flags:
    """
    Checks: teeth and diameter of the arm's spline against those of the servo.
    Consequence: the arm slips on its shaft and the control stands still.
    Can't tell when: the teeth of arm or servo are not known.
    Source: common practice, no source
    Remedy: Fit the right arm, or a servo for this one.
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
                message=text("On {who} {words}", who=thing_at(fit), words=words),
                remedy=_right_arm(kind),
                sameness=case.of_servo(fit, text("have arms that do not fit their splines"), number=words),
                detail=_spline_detail(kind, stay),
                figures=(
                    read("teeth of the arm", stay.arm_teeth or 0),
                    rated("teeth of the servo", kind.spline_teeth or 0),
                ),
                criticality=fit.criticality,
            )


def _right_arm(kind: ServoType) -> Text:
    size = (
        text(" for a spline of {spline_mm}", spline_mm=Amount(kind.spline_mm, "mm"))
        if kind.spline_mm is not None
        else NOTHING
    )
    return text("Fit an arm of {spline_teeth} teeth{size}.", spline_teeth=kind.spline_teeth, size=size)


def _spline_detail(kind: ServoType, stay: Installation) -> Text:
    sizes: list[Arg] = [kind.code]
    if stay.arm_spline_mm is not None and kind.spline_mm is not None:
        sizes.append(
            text(
                "arm {arm_spline_mm}, servo {spline_mm}",
                arm_spline_mm=Amount(stay.arm_spline_mm, "mm"),
                spline_mm=Amount(kind.spline_mm, "mm"),
            )
        )
    return series(sizes)


@rule(
    "arm-screw-missing",
    title="Arm screw missing or not locked",
    levels=(Level.WARNING, Level.CAUTION),
    flags=lambda: ex.elevator(installation={"arm_screw": False}),
    passes=ex.trainer,
    cures=(Cure.FIXINGS, Cure.SERVO),
    worse=Worse.NOTHING,
)
def arm_screw_missing(case: Case) -> Flags:
    """
    Checks: whether the arm screw is in, and on metal output gears whether it is locked.
    Consequence: the arm works off its shaft and the control hangs loose.
    Can't tell when: nobody noted whether the screw of a flight control's arm is in.
    Source: common practice, no source
    Remedy: Fit the screw; thread lock on metal. A new servo is fitted with its own.
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
            level, single, many = Level.WARNING, text("has no screw"), text("have no screw")
        elif metal and stay.arm_screw_locked is False:
            level, single = Level.CAUTION, text("has a screw that is not locked")
            many = text("have screws that are not locked")
        else:
            continue
        yield Flag(
            level=level,
            about=parts_of([fit]),
            message=text("{who} {fault}", who=thing_at(fit, "arm"), fault=single),
            sameness=case.of_servo(fit, many, "arm", group=single.key),
            criticality=fit.criticality,
            rests_on=(single,),
        )


_UNREACHED = ("reach", "dead point", "close")
"""What the linkage says when a throw lies outside of what it can do."""


def _why_unreached(reason: Text) -> Arg:
    """The reason without the name of the record in front of it."""
    why = reason.args.get("why", reason)
    return why.as_clause() if isinstance(why, Text) else why


def _wanted_travel(case: Case, fit: ServoFit) -> tuple[Flag | None, float | None]:
    """Servo travel that the full throw asks for, or a flag that it cannot be reached at all."""
    position = case.at(fit)
    if position.servo_travel_deg is not None:
        return None, position.servo_travel_deg.expected
    reasons = position.missing_for.get("servo_travel_deg", ())
    hard = [reason for reason in reasons if any(word in str(reason) for word in _UNREACHED)]
    if hard:
        return Flag(
            level=Level.CAUTION,
            about=parts_of([fit]),
            message=text(
                "{who} cannot reach its full throw: {why}",
                who=thing_at(fit, "linkage"),
                why=_why_unreached(hard[0]),
            ),
            criticality=fit.criticality,
            rests_on=(hard[0],),
        ), None
    return None, None


_LONGER_ARM = Wants(
    part="arm",
    quantity="arm radius",
    of=lambda case, flag: _other_arm_mm(case, flag),
    unit="mm",
    words=lambda value: text("an arm of at least {value}", value=value),
)
_SHORTER_ARM = replace(
    _LONGER_ARM, at_most=True, words=lambda value: text("an arm of at most {value}", value=value)
)


@rule(
    "arm-length-throw",
    title="Wanted throw cannot be reached",
    levels=Level.CAUTION,
    flags=lambda: ex.elevator(linkage={"arm_mm": 8.4}),
    passes=ex.trainer,
    cures=(Cure.ARM, Cure.HORN),
    worse=Worse.NOTHING,
    wants=_LONGER_ARM,
)
def arm_length_throw(case: Case) -> Flags:
    """
    Checks: servo travel that the surface's full throw asks of the linkage against what a servo gives.
    Consequence: the control stops short of the throw the pilot counts on.
    Can't tell when: nothing is asked; the linkage is asked for by the torque rules.
    Source: geometry of the rod linkage; travel common practice, no source
    Remedy: A longer arm or a shorter horn.
    """
    for fit in case.servos:
        flag, travel = _wanted_travel(case, fit)
        figure = case.at(fit).servo_travel_deg
        travel_deg = fit.linkage.servo_travel_deg if fit.linkage else None
        limit = (
            case.limit("servo-reach") if travel_deg is None else max(travel_deg, case.limit("servo-reach"))
        )
        if flag is not None:
            yield flag
        elif travel is not None and figure is not None and travel > limit:
            yield Flag(
                level=Level.CAUTION,
                about=parts_of([fit]),
                message=text(
                    "Full throw asks {who} for {travel} each way; {limit} is what it gives.",
                    who=thing_at(fit),
                    travel=Amount(travel, "deg", 2),
                    limit=Amount(limit, "deg"),
                ),
                consequence=reaches(fit, limit),
                sameness=case.of_servo(
                    fit,
                    text(
                        "are asked for {worst}{travel} each way for full throw; {limit} is what they give",
                        travel=Amount(travel, "deg", 2),
                        limit=Amount(limit, "deg"),
                    ),
                    number=Amount(travel, "deg", 2),
                ),
                figures=(figure, allowed("travel a servo gives", limit, "deg")),
                criticality=fit.criticality,
                margin=limit / travel,
            )


def _turning_mm(arm_mm: float, used_deg: float, wanted_deg: float) -> float:
    """The arm that moves the rod as far with another travel, as the chord of the arm goes."""
    return arm_mm * math.sin(math.radians(used_deg)) / math.sin(math.radians(wanted_deg))


def _shorter_arm(fit: ServoFit, used_deg: float, wanted_deg: float) -> Text:
    arm = fit.linkage.arm_mm if fit.linkage else None
    if arm is None:
        return NOTHING
    shorter = _turning_mm(arm, used_deg, wanted_deg)
    return text(
        "An arm of about {shorter}, or a longer horn, and full travel.", shorter=Amount(shorter, "mm", 2)
    )


def _lifts(case: Case, fit: ServoFit, used_deg: float, wanted_deg: float) -> bool:
    """Whether all of the travel on a shorter arm would lift what is said of the control that is left."""
    holding, points = case.at(fit).holding, case.at(fit).control
    if holding is None or holding.load.drive is None or not holding.load.is_drive_known:
        return False
    weighing = weighing_of(case, holding)
    worst = weighing.worst(points)
    if worst is None:
        return False
    drive = holding.load.drive
    shorter = _turning_mm(drive.arm_mm, used_deg, wanted_deg)
    better = holding.points(drive=replace(drive, arm_mm=shorter))
    then = weighing.worst(better)
    return bool(better) and (then is None or then[0].rank > worst[0].rank)


@rule(
    "arm-too-long",
    title="Little servo travel used",
    levels=Level.ADVISORY,
    flags=lambda: ex.elevator(linkage={"arm_mm": 26.0}),
    passes=ex.trainer,
    cures=(Cure.ARM, Cure.HORN),
    worse=Worse.NOTHING,
    wants=_SHORTER_ARM,
)
def arm_too_long(case: Case) -> Flags:
    """
    Checks: servo travel that the full throw of a flight control uses, where it is very little, or where all
        of the travel would lift a finding on control left.
    Consequence: torque, resolution and stiffness are given away in proportion.
    Can't tell when: nothing is asked.
    Source: geometry of the rod linkage; travel common practice, no source
    Remedy: A shorter arm or a longer horn, and full travel.
    """
    least, little = case.limit("servo-travel-least"), case.limit("servo-travel-little")
    for fit in case.servos:
        figure = case.at(fit).servo_travel_deg
        if figure is None or not fit.function.is_flight or figure.expected >= least:
            continue
        if figure.expected >= little and not _lifts(case, fit, figure.expected, least):
            continue
        share = 100.0 * (1.0 - figure.expected / least)
        yield Flag(
            level=Level.ADVISORY,
            about=parts_of([fit]),
            message=text(
                "{who} uses {figure} each way for full throw; {least} would give more torque and resolution",
                who=thing_at(fit),
                figure=Amount(figure.expected, "deg", 2),
                least=Amount(least, "deg"),
            ),
            detail=text("about {share:.0f} % of torque and resolution given away", share=share),
            remedy=_shorter_arm(fit, figure.expected, least),
            sameness=case.of_servo(
                fit,
                text(
                    "use {worst}{figure} each way for full throw; {least} would give more torque and "
                    "resolution",
                    figure=Amount(figure.expected, "deg", 2),
                    least=Amount(least, "deg"),
                ),
            ),
            figures=(figure, allowed("travel wanted", least, "deg")),
            criticality=fit.criticality,
            margin=figure.expected / least,
        )


def _is_meant(fit: ServoFit) -> bool:
    """Whether the two throws are entered unlike by a third and more, so that the arm is turned on purpose."""
    if fit.surface is None:
        return False
    throws = (fit.surface.throw_up_deg or 0.0, fit.surface.throw_down_deg or 0.0)
    return min(throws) < 0.75 * max(throws)


@rule(
    "arm-not-square",
    title="Arm not square at neutral",
    levels=Level.ADVISORY,
    flags=lambda: ex.elevator(linkage={"arm_angle_deg": 75.0}),
    passes=lambda: ex.elevator(linkage={"arm_angle_deg": 92.0}),
    cures=(),
    worse=Worse.FIXED,
)
def arm_not_square(case: Case) -> Flags:
    """
    Checks: angle between arm and rod at neutral against a right angle; an arm that is turned because one
        throw is to be greater than the other is passed over.
    Consequence: throws become unequal, and servos that mix pull against each other.
    Can't tell when: nothing is asked; without an angle a right angle is assumed.
    Source: geometry; limit common practice, no source
    Remedy: Turn the arm by a spline tooth, then trim the rod's length.
    """
    limit = case.limit("arm-square")
    for fit in case.servos:
        angle = fit.linkage.arm_angle_deg if fit.linkage else None
        if angle is None or not fit.function.is_flight or abs(90.0 - angle) <= limit:
            continue
        if _is_meant(fit):
            continue
        yield Flag(
            level=Level.ADVISORY,
            about=parts_of([fit]),
            message=text(
                "{who} stands {angle} from square at neutral; {limit} is the limit",
                who=thing_at(fit, "arm"),
                angle=Amount(abs(90.0 - angle), "deg"),
                limit=Amount(limit, "deg"),
            ),
            sameness=case.of_servo(
                fit,
                text(
                    "stand {worst}{angle} from square at neutral; {limit} is the limit",
                    angle=Amount(abs(90.0 - angle), "deg"),
                    limit=Amount(limit, "deg"),
                ),
                "arm",
                number=Amount(abs(90.0 - angle), "deg"),
            ),
            figures=(read("arm to rod at neutral", angle, "deg"), allowed("limit", limit, "deg")),
            criticality=fit.criticality,
        )


def _other_arm_mm(case: Case, flag: Flag) -> float | None:
    """The arm with which the same throw takes the travel that is wanted."""
    fit = case.aircraft.fit(flag.about[0])
    if fit is None or fit.linkage is None or fit.linkage.arm_mm is None or flag.margin is None:
        return None
    used, wanted = (min(89.0, figure.expected) for figure in flag.figures[:2])
    return _turning_mm(fit.linkage.arm_mm, used, wanted)
