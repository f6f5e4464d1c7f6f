"""Servos in their bays: size, screws, grommets."""

from __future__ import annotations

from hangar.base.figure import Figure
from hangar.base.text import Amount, Text, listed, series, text
from hangar.parts import Position, ServoFit, ServoType
from hangar.parts.choices import AircraftClass, Criticality, Function, PowerKind
from hangar.rules import examples as ex
from hangar.rules.case import Case
from hangar.rules.changing import with_airframe
from hangar.rules.cures import Cure, Wants, Worse
from hangar.rules.finding import Level
from hangar.rules.flag import Flag, Flags, cant_tell, rated, read
from hangar.rules.registry import rule
from hangar.rules.words import parts_of, thing_at
from hangar.survey.figures import field_missing

_MISFITS = {
    Level.WARNING: text("are too big for their bays"),
    Level.CAUTION: text("have their screws where their bays have none"),
}


def _tight(case: Case, kind: ServoType, position: Position) -> tuple[list[Text], list[Figure]]:
    room = case.limit("bay-clearance")
    pairs = [
        (text("long"), kind.case_length_mm, position.bay_length_mm, room),
        (text("wide"), kind.case_width_mm, position.bay_width_mm, room),
        (text("high"), kind.case_height_mm, position.bay_height_mm, room),
        (text("thick"), kind.case_width_mm, position.wing_depth_mm, case.limit("wing-clearance")),
    ]
    words, figures = [], []
    for word, servo_mm, space_mm, clear_mm in pairs:
        if servo_mm is not None and space_mm is not None and servo_mm > space_mm - clear_mm + 1e-9:
            in_wing = word.key == "thick"
            place = text("the wing has") if in_wing else text("the bay has")
            words.append(
                text(
                    "{servo_mm} {word}, {place} {space_mm}",
                    servo_mm=Amount(servo_mm, "mm"),
                    word=word,
                    place=place,
                    space_mm=Amount(space_mm, "mm"),
                )
            )
            figures += [
                rated(text("servo, {word}", word=word), servo_mm, "mm"),
                read(text("room, {word}", word=word), space_mm, "mm"),
            ]
    return words, figures


@rule(
    "case-too-big",
    title="Servo does not fit its bay",
    levels=(Level.WARNING, Level.CAUTION),
    flags=lambda: ex.elevator(position={"bay_length_mm": 38.0}),
    passes=ex.trainer,
    cures=(Cure.SERVO,),
    worse=Worse.NOTHING,
    wants=Wants(part="servo", words=text("a servo that goes into the servo bay")),
)
def case_too_big(case: Case) -> Flags:
    """
    Checks: case against bay and depth of the wing with room around it (warning), and screw centres
        (caution).
    Consequence: squeezed in, the case warps and the gears bind.
    Can't tell when: the wing's depth at a servo of a fast sailplane, or the case of a servo in a measured
        bay, is not known; other bays that are not measured are passed over, and so is the wing around a servo
        that has been in place for a while.
    Source: geometry; room common practice, no source
    Remedy: Another servo, or rework the bay.
    """
    for fit in case.servos:
        kind = fit.servo_type
        if kind is None:
            continue
        lacks = _room_lacks(case, fit, kind)
        if lacks:
            yield cant_tell(*lacks, about=parts_of([fit]), criticality=fit.criticality)
        words, figures = _tight(case, kind, fit.position)
        if words:
            misfits = series(words)
            yield _fit_flag(case, fit, Level.WARNING, text("is {misfits}", misfits=misfits), misfits, figures)
            continue
        bay, servo = fit.position.bay_screw_mm, kind.screw_length_mm
        if bay is not None and servo is not None and abs(bay - servo) > case.limit("screw-distance"):
            apart = text(
                "its screws {servo} apart; those of its bay are {bay}",
                servo=Amount(servo, "mm"),
                bay=Amount(bay, "mm"),
            )
            pair = [rated("screw centres, servo", servo, "mm"), read("screw centres, bay", bay, "mm")]
            yield _fit_flag(case, fit, Level.CAUTION, text("has {misfit}", misfit=apart), apart, pair)


def _room_lacks(case: Case, fit: ServoFit, kind: ServoType) -> list[Text]:
    lacks = []
    thin = case.kind is AircraftClass.SAIL_FAST and fit.function in (Function.AILERON, Function.FLAP)
    stay = fit.installation
    flown = stay is not None and case.days_since(stay.since_on) > case.limit("in-place-days")
    if thin and not flown and fit.position.wing_depth_mm is None:
        lacks.append(field_missing(fit.position, "wing_depth_mm"))
    measured = (fit.position.bay_width_mm, fit.position.wing_depth_mm)
    if kind.case_width_mm is None and any(space is not None for space in measured):
        lacks.append(field_missing(kind, "case_width_mm"))
    return lacks


def _fit_flag(
    case: Case, fit: ServoFit, level: Level, words: Text, number: Text, figures: list[Figure]
) -> Flag:
    return Flag(
        level=level,
        about=parts_of([fit]),
        message=text("{who} {words}", who=thing_at(fit), words=words),
        sameness=case.of_servo(fit, _MISFITS[level], number=number),
        figures=tuple(figures),
        criticality=fit.criticality,
    )


@rule(
    "fixings-missing",
    title="Screws or grommets missing",
    levels=(Level.WARNING, Level.CAUTION),
    flags=lambda: ex.elevator(installation={"screws_fitted": 2}),
    passes=ex.trainer,
    cures=(Cure.FIXINGS, Cure.SERVO),
    worse=Worse.NOTHING,
)
def fixings_missing(case: Case) -> Flags:
    """
    Checks: screws fitted against those there should be, a warning on flight controls; grommets against
        those there should be beside a piston engine, a caution.
    Consequence: the servo shifts in its bay and takes the control's centre with it.
    Can't tell when: the screws of a flight control's servo were not counted.
    Source: British Model Flying Association handbook, section 13: servos fixed securely
    Remedy: Fit the screws and grommets that are missing; a new servo is fitted with its own.
    """
    for fit in case.servos:
        stay = fit.installation
        if stay is None:
            continue
        words, level = [], Level.CAUTION
        for name in ("screws_fitted", "screws_of"):
            if getattr(stay, name) is None and fit.criticality is Criticality.FLIGHT:
                lacks = field_missing(stay, name)
                yield cant_tell(lacks, about=parts_of([fit]), criticality=fit.criticality)
        if _short(stay.screws_fitted, stay.screws_of):
            words.append(
                text(
                    "{screws_fitted} of {screws_of} screws",
                    screws_fitted=stay.screws_fitted,
                    screws_of=stay.screws_of,
                )
            )
            level = Level.WARNING if fit.criticality is Criticality.FLIGHT else Level.CAUTION
        if case.airframe.has_piston and _short(stay.grommets_fitted, stay.grommets_of):
            words.append(
                text(
                    "{grommets_fitted} of {grommets_of} grommets",
                    grommets_fitted=stay.grommets_fitted,
                    grommets_of=stay.grommets_of,
                )
            )
        if words:
            yield Flag(
                level=level,
                about=parts_of([fit]),
                message=text("{who} has {words}", who=thing_at(fit), words=listed(words)),
                sameness=case.of_servo(
                    fit, text("lack screws or grommets"), group="fixings", number=listed(words)
                ),
                criticality=fit.criticality,
                rests_on=tuple(words),
            )


def _short(fitted: int | None, wanted: int | None) -> bool:
    return fitted is not None and wanted is not None and fitted < wanted


@rule(
    "grommets-hard",
    title="Old grommets have hardened",
    levels=Level.ADVISORY,
    flags=lambda: ex.elevator(installation={"grommets_on": ex.ago(3300)}),
    passes=lambda: with_airframe(
        ex.elevator(installation={"grommets_on": ex.ago(3300)}), power=PowerKind.ELECTRIC, engine_stop=None
    ),
    cures=(Cure.FIXINGS, Cure.SERVO),
    worse=Worse.NOTHING,
)
def grommets_hard(case: Case) -> Flags:
    """
    Checks: age of servo grommets beside a piston engine.
    Consequence: vibration reaches pot and gears, and they wear out early.
    Can't tell when: nothing is asked.
    Source: common practice, no source
    Remedy: New grommets, such as a new servo brings along.
    """
    if not case.airframe.has_piston:
        return
    limit = case.limit("grommet-years")
    old = [
        fit
        for fit in case.servos
        if fit.installation and fit.installation.grommets_on
        and case.years_since(fit.installation.grommets_on) > limit
    ]  # fmt: skip
    if old:
        age = max(
            case.years_since(fit.installation.grommets_on)
            for fit in old
            if fit.installation and fit.installation.grommets_on
        )
        yield Flag(
            level=Level.ADVISORY,
            about=parts_of(old),
            message=text(
                "The grommets of {positions} are up to {age:.0f} years old.",
                positions=listed([fit.code for fit in old]),
                age=age,
            ),
            criticality=old[0].criticality,
            rests_on=tuple(fit.code for fit in old),
        )
