"""Free play, and aircraft that are fast, thin and unbalanced."""

from __future__ import annotations

import dataclasses
from math import radians

from hangar.base.text import NOTHING, Amount, Text, joined, listed, text
from hangar.parts import ServoFit
from hangar.parts.choices import AircraftClass, Function
from hangar.rules import examples as ex
from hangar.rules.case import Case
from hangar.rules.changing import with_airframe, with_surface
from hangar.rules.cures import Cure, Wants, Worse
from hangar.rules.finding import Level
from hangar.rules.flag import Flag, Flags, allowed, cant_tell, read
from hangar.rules.registry import rule
from hangar.rules.words import parts_of, place, thing_at
from hangar.survey.figures import field_missing

_UNBALANCED = 1.5
"""Times the limit from which play on an unbalanced fast surface is a warning; common practice, no source."""
_FAST = (AircraftClass.SAIL_FAST, AircraftClass.JET_TURBINE, AircraftClass.JET_EDF)
_ROTOR = (Function.CYCLIC, Function.COLLECTIVE, Function.TAIL)


def _edge_words(fit: ServoFit, play_deg: float) -> Text:
    surface = fit.surface
    if surface is None or surface.root_chord_mm is None:
        return NOTHING
    chord = max(surface.root_chord_mm, surface.tip_chord_mm or 0.0)
    return text("{chord} at the trailing edge", chord=Amount(chord * radians(play_deg), "mm"))


@rule(
    "slop-over-limit",
    title="Free play above the class limit",
    levels=(Level.WARNING, Level.CAUTION),
    flags=lambda: with_surface(ex.trainer(), "ELE", play_deg=2.5),
    passes=lambda: with_surface(ex.trainer(), "ELE", play_deg=1.5),
    cures=(Cure.SERVO,),
    worse=Worse.NOTHING,
    wants=Wants(
        part="servo",
        quantity="free play",
        of="limit",
        at_most=True,
        words=lambda value: text(
            "a servo whose gears leave the surface at most {value} of play", value=value
        ),
    ),
)
def slop_over_limit(case: Case) -> Flags:
    """
    Checks: free play of each surface against the class limit: above is a caution, above twice the limit,
        or above one and a half times on an unbalanced surface of a fast class, a warning. Above the speed at
        which play and balance count, the limit of other classes falls with the dynamic pressure, and they
        count as fast. On rotor heads play of the balls.
    Consequence: the surface moves by itself, and fast it may flutter.
    Can't tell when: the play of a flight control of a fast class was never measured; on other classes a
        surface that was never measured is passed over.
    Source: idea of MIL-A-8870: free play is limited and measured under a push-pull force; limits common
        practice, no source
    Remedy: New balls, clevises or horn; look at the servo's gears.
    """
    limit, factor, fast = _play_limit(case), case.limit("play-warn-factor"), _is_fast(case)
    seen = set()
    for fit in case.aircraft.fits:
        play = case.at(fit).free_play_deg
        surface = fit.surface
        if surface is None or surface.code in seen:
            continue
        seen.add(surface.code)
        if surface.play_deg is None and fast and fit.function.is_flight:
            lacks = field_missing(surface, "play_deg")
            yield cant_tell(lacks, about=parts_of([fit]), criticality=fit.criticality)
        if play is None or play.expected <= limit:
            continue
        bare = fast and surface.mass_balanced is not True
        grave = play.expected > (min(_UNBALANCED, factor) if bare else factor) * limit
        yield Flag(
            level=Level.WARNING if grave else Level.CAUTION,
            about=parts_of([fit]),
            message=text(
                "{surface} {has} {play} of free play; {limit} is the limit",
                surface=_surface(fit),
                has=_has(fit),
                play=Amount(play.expected, "deg"),
                limit=Amount(limit, "deg"),
            ),
            detail=joined(
                _edge_words(fit, play.expected),
                text("not mass-balanced") if bare else NOTHING,
                between="{first}; {then}",
            ),
            figures=(play, allowed("limit", limit, "deg")),
            criticality=fit.criticality,
            margin=limit / play.expected,
            sameness=dataclasses.replace(
                case.of_servo(
                    fit,
                    text(
                        "have {worst}{play} of free play; {limit} is the limit",
                        play=Amount(play.expected, "deg"),
                        limit=Amount(limit, "deg"),
                    ),
                    "surface",
                ),
                count=sum(
                    other_surface.function is surface.function for other_surface in case.aircraft.surfaces
                ),
            ),
        )
    yield from _ball_play(case, factor)


def _times_flutter_speed(case: Case) -> float:
    speed = case.airframe.dive_speed_m_s
    return 0.0 if speed is None else speed / case.limit("flutter-speed")


def _is_fast(case: Case) -> bool:
    return case.kind in _FAST or _times_flutter_speed(case) > 1.0


def _play_limit(case: Case) -> float:
    """The class limit; of other than fast classes less the more dynamic pressure drives the play."""
    limit = case.limit("play")
    if case.kind in _FAST:
        return limit
    return limit / max(1.0, _times_flutter_speed(case)) ** 2


def _surface(fit: ServoFit) -> Text:
    name = fit.surface.name if fit.surface else str(place(fit))
    return text("the {surface}", surface=name[:1].lower() + name[1:] if name[1:2].islower() else name)


def _has(fit: ServoFit) -> Text:
    return text("have") if str(_surface(fit)).endswith("s") else text("has")


def _ball_play(case: Case, factor: float) -> Flags:
    if not case.airframe.is_helicopter:
        return
    limit = case.limit("ball-play")
    for fit in case.aircraft.fits:
        play = fit.linkage.ball_play_mm if fit.linkage else None
        if fit.function in _ROTOR and play is not None and play > limit:
            yield Flag(
                level=Level.WARNING if play > factor * limit else Level.CAUTION,
                about=parts_of([fit]),
                message=text(
                    "{who} has {play} of play in its balls; {limit} is the limit",
                    who=thing_at(fit, "linkage"),
                    play=Amount(play, "mm"),
                    limit=Amount(limit, "mm"),
                ),
                consequence=text("the blades hunt, and the balls wear faster the looser they are"),
                sameness=case.of_servo(
                    fit,
                    text(
                        "have {worst}{play} of play in their balls; {limit} is the limit",
                        play=Amount(play, "mm"),
                        limit=Amount(limit, "mm"),
                    ),
                    "linkage",
                    group="rotor",
                    number=Amount(play, "mm"),
                ),
                figures=(
                    read("play of the balls", play, "mm"),
                    allowed("limit", limit, "mm"),
                ),
                criticality=fit.criticality,
                margin=limit / play,
            )


@rule(
    "flutter-risk",
    title="Fast, with free play and without balance",
    levels=Level.CAUTION,
    flags=lambda: with_surface(with_airframe(ex.jet(), dive_speed_m_s=51.0), "ELE-L", play_deg=0.4),
    passes=lambda: with_surface(
        with_airframe(ex.jet(), dive_speed_m_s=51.0), play_deg=0.4, mass_balanced=True
    ),
    cures=(Cure.ARM, Cure.HORN, Cure.SERVO, Cure.LEAD, Cure.SUPPLY),
    worse=Worse.LESS_BUS_VOLTS,
    eased=True,
    wants=Wants(
        part="servo",
        quantity="caution speed",
        of="dive speed",
        words=lambda value: text("servo, arm and horn stiff enough for {value}", value=value),
    ),
)
def flutter_risk(case: Case) -> Flags:
    """
    Checks: above a dive speed, surfaces with free play and without mass balance; and surfaces whose
        caution speed lies below the dive speed. It names factors; it cannot show that there is no danger.
    Consequence: the surface may flutter itself to pieces within a second.
    Can't tell when: nothing is asked; play and mass of a surface are no vital figures.
    Source: reduced-frequency statistic (Kuessner 1929, from memory, unverified); limits common practice
    Remedy: Take out the play, balance the surface, limit the speed; or make it stiffer: a shorter arm, a
        longer horn, a stronger servo, a heavier lead, more bus volts.
    """
    speed = case.airframe.dive_speed_m_s
    if speed is None:
        return
    for fit in case.aircraft.fits:
        surface, position = fit.surface, case.at(fit)
        if surface is None or surface.mass_balanced:
            continue
        play, caution = position.free_play_deg, position.caution_speed_m_s
        loose = play is not None and play.expected > case.limit("flutter-play")
        over = caution is not None and caution.expected < speed
        if not (over or (loose and speed > case.limit("flutter-speed"))):
            continue
        words = []
        if play is not None:
            words.append(text("{play} of free play", play=Amount(play.expected, "deg")))
        if over and caution is not None:
            words.append(text("a caution speed of {caution}", caution=Amount(caution.expected, "m/s")))
        words.append(text("no mass balance on record"))
        yield Flag(
            level=Level.CAUTION,
            about=parts_of([fit]),
            message=text(
                "{surface} {text} flown to {speed} with {words}",
                surface=_surface(fit),
                text=text("are") if _has(fit) == "have" else text("is"),
                speed=Amount(speed, "m/s"),
                words=listed(words),
            ),
            figures=tuple(f for f in (read("dive speed", speed, "m/s"), play, caution) if f is not None),
            criticality=fit.criticality,
            margin=caution.expected / speed if caution is not None else None,
            caused_by=() if over else ("slop-over-limit",),
            sameness=dataclasses.replace(
                case.of_servo(
                    fit,
                    text(
                        "are flown to {speed} with {words}", speed=Amount(speed, "m/s"), words=listed(words)
                    ),
                    "surface",
                ),
                count=sum(
                    other_surface.function is surface.function for other_surface in case.aircraft.surfaces
                ),
            ),
        )
