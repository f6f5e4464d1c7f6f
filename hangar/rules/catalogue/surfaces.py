"""Surfaces that are not held where they should stand, and surfaces that the air drives away."""

from __future__ import annotations

from hangar.base.figure import Figure
from hangar.base.late_text import LateText
from hangar.base.text import NOTHING, Amount, Text, joined, text
from hangar.parts import ServoFit
from hangar.parts.choices import AircraftClass, Function, PowerKind, SurfaceKind
from hangar.physics.allmoving import drives_away
from hangar.physics.hinge_balance import Nose, nose_balance
from hangar.rules import examples as ex
from hangar.rules.case import Case
from hangar.rules.changing import with_airframe, with_surface
from hangar.rules.control_levels import LineCase, lower, no_graver, weighing_of
from hangar.rules.control_words import (
    MOST_TIMES,
    cause_words,
    consequence_words,
    held_words,
    is_held,
    other_points,
    remedies,
    several_hold,
    times_needed,
)
from hangar.rules.cures import Cure, Need, OfServo, Worse
from hangar.rules.finding import Level
from hangar.rules.flag import Flag, Flags, allowed, cant_tell, read
from hangar.rules.needs import servo_need
from hangar.rules.registry import rule
from hangar.rules.weak_pack import cured_by_supply, first_the_volts
from hangar.rules.words import parts_of, thing_at
from hangar.survey.dive_speed import dive_speed_m_s
from hangar.survey.figures import field_missing
from hangar.survey.holding import PointControl, SurfaceHold
from hangar.survey.milder import blanks, milder

_ALL = (Level.WARNING, Level.CAUTION, Level.ADVISORY)
Verdict = tuple[Level, PointControl]


@rule(
    "torque-short-surface",
    title="Surface not held against the air",
    levels=_ALL,
    flags=lambda: with_airframe(with_surface(ex.trainer(), "ELE", span_mm=900.0), dive_speed_m_s=70.0),
    passes=ex.trainer,
    cures=(Cure.SERVO, Cure.ARM, Cure.HORN, Cure.LEAD, Cure.SUPPLY),
    worse=Worse.LESS_BUS_VOLTS,
    eased=True,
    of_servo=OfServo.HOLD,
)
def torque_short_surface(case: Case) -> Flags:
    """
    Checks: the angle that servo, linkage and air agree on against the angle that is wanted, at every point
        of flight of a surface: slow, manoeuvre, dive, landing. In the dive of fast jets and sailplanes also
        whether a small command is followed.
    Consequence: the surface is blown back, and the aircraft answers less than it is told.
    Can't tell when: surface, throw, rating or supply are not known well enough for a load.
    Source: hinge moment with published section data against a proportional servo loop; points of flight after
        14 CFR 23.455; lines common practice, no source
    Remedy: Stronger or stiffer servo, less throw or speed, a shorter arm or a longer horn, a heavier
        lead, more bus volts, or two servos.
    """
    for fit in case.servos:
        if fit.turns_in_the_air:
            yield from _control(case, fit)


def _control(case: Case, fit: ServoFit) -> Flags:
    position = case.at(fit)
    holding = position.holding
    if holding is None or not position.control:
        if position.pivot is None or not position.control:
            lacks = position.missing or (text("position {code}: load or torque", code=fit.code),)
            yield cant_tell(*lacks, about=parts_of([fit]), criticality=fit.criticality)
        return
    weighing = weighing_of(case, holding)
    plain = weighing.worst(position.control)
    level, doubts = _told(case, fit, holding, weighing, plain)
    guessed = not holding.load.is_drive_known or not holding.are_volts_known
    if guessed and (level is None or level.rank >= Level.ADVISORY.rank):
        lacks = position.missing or tuple(doubts)
        if lacks:
            yield cant_tell(*lacks, about=parts_of([fit]), criticality=fit.criticality)
            return
    if level is None or plain is None:
        return
    yield _flag(case, fit, holding, weighing, (level, plain[1]), plain[0], doubts)


def _told(
    case: Case, fit: ServoFit, holding: SurfaceHold, weighing: LineCase, plain: Verdict | None
) -> tuple[Level | None, list[Text]]:
    """The level that is told, and the fields that would settle it where it rests on a guess."""
    level: Level | None = None if plain is None else plain[0]
    doubts: list[Text] = []
    if level is None:
        return None, doubts
    if holding.stiffer is not None and fit.servo_type is not None:
        stiff = weighing_of_loop(weighing, holding)
        other = stiff.worst(holding.points(holding.stiffer))
        if other is None or other[0] is not level:
            level = lower(level)
            doubts.append(field_missing(fit.servo_type, "drive"))
    if not holding.load.is_drive_known or not holding.are_volts_known:
        level = no_graver(level, Level.CAUTION)
        doubts += case.at(fit).missing
    if level is not None and not doubts:
        soft = milder(holding, fit)
        milder_level = None if soft is None else weighing_of(case, soft).worst(soft.points())
        if soft is not None and (milder_level is None or milder_level[0].rank > level.rank):
            level = lower(level)
            doubts += blanks(fit, holding.question)[:1]
    return level, doubts


_BEHIND = frozenset({Function.ELEVATOR, Function.RUDDER})
_PULLED = frozenset({AircraftClass.SPORT, AircraftClass.AEROBATIC_3D})


def _wash_could_matter(case: Case, fit: ServoFit) -> bool:
    """Whether a tail surface may stand in a propeller's wash and nobody said how much of it does."""
    propeller = case.airframe.has_piston or case.airframe.power is PowerKind.ELECTRIC
    unsaid = fit.surface is not None and fit.surface.wash_pct is None
    return unsaid and propeller and fit.function in _BEHIND and case.kind in _PULLED


def weighing_of_loop(weighing: LineCase, holding: SurfaceHold) -> LineCase:
    """The weighing of the stiffer loop that a servo of unknown kind may have."""
    if holding.stiffer is None:
        return weighing
    return LineCase.of(weighing.limit, weighing.aircraft_class, weighing.dive_m_s, holding.stiffer)


def _flag(
    case: Case, fit: ServoFit, holding: SurfaceHold, weighing: LineCase, verdict: Verdict, plain: Level,
    doubts: list[Text],
) -> Flag:  # fmt: skip
    level, point = verdict
    position = case.at(fit)
    loose = weighing.is_loose(point)
    words = [cause_words(point, weighing), other_points(position.control, point)]
    if _wash_could_matter(case, fit):
        words.append(text("its share in the propeller's wash is not entered and could matter"))
    if doubts:
        words.append(text("rests on what is usual: enter {field}", field=doubts[0]))
    wanted_line = allowed("control left wanted", weighing.lines(point.point)[1])
    figures = (
        position.held_deg,
        position.wanted_deg,
        position.load_nm,
        position.torque_nm,
        position.torque_share,
        wanted_line,
    )
    first = first_the_volts(case, fit)

    def is_enough(times: float) -> bool:
        return is_held(holding, weighing, plain, times)

    return Flag(
        level=level,
        about=parts_of([fit]),
        message=text("{who} {one}", who=thing_at(fit), one=held_words(holding, point, loose=loose)),
        detail=joined(*(word for word in words if word), between="{first}; {then}"),
        figures=tuple(figure for figure in figures if figure is not None),
        remedy=first or LateText(lambda: remedies(case, holding, (plain, point), weighing)),
        criticality=fit.criticality,
        margin=min(point.left, point.followed) if loose else point.left,
        consequence=consequence_words(fit, point, loose=loose) if loose or point.left < 1.0 else NOTHING,
        caused_by=cured_by_supply(case, fit, is_enough) if is_enough(MOST_TIMES) else (),
        sameness=case.of_servo(fit, several_hold(point, loose=loose)),
        need=lambda: _need(case, fit, times_needed(holding, weighing, plain), holding),
    )


def _need(case: Case, fit: ServoFit, times: float | None, holding: SurfaceHold) -> Need | None:
    """The stall torque that would hold it; None where no torque would."""
    if times is None:
        return None
    volts = case.at(fit).delivered_v
    at = None if volts is None else volts.expected
    return servo_need(case, fit, "torque", times * holding.loop.stall_torque_nm, "N m", at=at)


@rule(
    "all-moving-pivot",
    title="Surface that the air drives away",
    levels=(Level.WARNING, Level.CAUTION),
    flags=lambda: ex.all_moving(pivot_pct=33.0),
    passes=lambda: ex.all_moving(pivot_pct=24.0),
    cures=(),
)
def all_moving_pivot(case: Case) -> Flags:
    """
    Checks: where an all-moving surface turns against its aerodynamic centre, and the speed at which the air
        overcomes servo and rod; of a hinged surface, how much nose balance it has.
    Consequence: the air drives the surface away; inside its play nothing holds it, and it swings there.
    Can't tell when: the pivot of an all-moving surface is not known.
    Source: lift about the pivot against stiffness; margin of 1.2 after 14 CFR 23.629 (from memory); scatter
        of the centre common practice, no source; balance after USAF Stability and Control DATCOM, 6.1.3.2
    Remedy: Move the pivot to 25 % of the mean aerodynamic chord or ahead of it.
    """
    for fit in case.servos:
        surface = fit.surface
        if surface is None:
            continue
        if surface.carried is SurfaceKind.ALL_MOVING:
            yield from _pivot(case, fit)
        elif surface.balance_pct:
            yield from _overbalance(case, fit)


def _pivot(case: Case, fit: ServoFit) -> Flags:
    surface = fit.surface
    assert surface is not None
    if surface.pivot_pct is None:
        yield cant_tell(
            field_missing(surface, "pivot_pct"), about=parts_of([fit]), criticality=fit.criticality
        )
        return
    share, pivot = surface.pivot_pct / 100.0, case.at(fit).pivot
    dive = case.airframe.dive_speed_m_s
    if dive is None and (holding := case.at(fit).holding) is not None:
        dive = dive_speed_m_s(case.airframe, holding.question.defaults)
    least = None if dive is None else case.limit("divergence-margin") * dive

    def runs_away(speed: Figure | None) -> bool:
        return speed is not None and least is not None and speed.expected < least

    expected = None if pivot is None else pivot.expected_m_s
    fore = None if pivot is None else pivot.fore_m_s
    level = None
    if share > case.limit("pivot-warn") / 100.0 or runs_away(expected):
        level = Level.WARNING
    elif share > case.limit("pivot-caution") / 100.0 or runs_away(fore):
        level = Level.CAUTION
    loose = surface.play_deg is not None and surface.play_deg > 0.0 and drives_away(share)
    if loose:
        level = Level.WARNING if level is not None else Level.CAUTION
    if level is None:
        return
    speed = expected if runs_away(expected) else fore if runs_away(fore) else None
    ending = Text("") if speed is None else text(
        "; it runs away at {speed}", speed=Amount(speed.expected, "m/s", 2)
    )  # fmt: skip
    figures = (
        read("pivot behind the leading edge", surface.pivot_pct, "%"),
        allowed("furthest back", case.limit("pivot-caution"), "%"), expected, fore,
    )  # fmt: skip
    yield Flag(
        level=level,
        about=parts_of([fit]),
        message=text(
            "{who} turns at {pivot} of its mean chord; behind 25 % the air drives it away{ending}",
            who=thing_at(fit, "surface"), pivot=Amount(surface.pivot_pct, "%"), ending=ending,
        ),
        figures=tuple(figure for figure in figures if figure is not None),
        criticality=fit.criticality,
        sameness=case.of_servo(
            fit,
            text(
                "turn at {worst}{pivot} of their mean chord; behind 25 % the air drives them away",
                pivot=Amount(surface.pivot_pct, "%"),
            ),
            "surface",
        ),
    )  # fmt: skip


def _overbalance(case: Case, fit: ServoFit) -> Flags:
    surface = fit.surface
    assert surface is not None
    assert surface.balance_pct is not None
    balance = nose_balance(surface.balance_pct / 100.0, Nose.ROUND)
    if not balance.overbalance_risk:
        return
    level = Level.WARNING if balance.factor < 0.0 else Level.CAUTION
    yield Flag(
        level=level,
        about=parts_of([fit]),
        message=text(
            "{who} has {share} of nose balance, and the air may drive it away",
            who=thing_at(fit, "surface"), share=Amount(surface.balance_pct, "%"),
        ),
        figures=(read("nose balance", surface.balance_pct, "%"),),
        remedy=text("Less nose balance, up to 30 %."),
        criticality=fit.criticality,
        sameness=case.of_servo(
            fit,
            text(
                "have {worst}{share} of nose balance, and the air may drive them away",
                share=Amount(surface.balance_pct, "%"),
            ),
            "surface",
        ),
    )  # fmt: skip
