"""Linkages that bind, servos that fight, stops that are hit: what the bench currents tell."""

from __future__ import annotations

from hangar.base.text import NOTHING, Amount, listed, text
from hangar.parts.choices import Criticality
from hangar.rules import examples as ex
from hangar.rules.bench_readings import ENDS, end_a, end_limit, newest_check, newest_reading, stall_a
from hangar.rules.case import Case
from hangar.rules.changing import with_fit
from hangar.rules.finding import Level
from hangar.rules.flag import Flag, Flags, allowed, cant_tell, rated, read
from hangar.rules.registry import rule
from hangar.rules.words import parts_of, thing_at
from hangar.survey.figures import field_missing


@rule(
    "linkage-bind",
    title="Linkage binds at an end of the travel",
    levels=(Level.WARNING, Level.CAUTION),
    flags=lambda: ex.elevator(bench_checks=ex.checked("ELE", end_a_ma=400.0)),
    passes=lambda: ex.elevator(bench_checks=ex.checked("ELE", end_a_ma=30.0)),
    cures=(),
)
def linkage_bind(case: Case) -> Flags:
    """
    Checks: the greater current at an end of the travel, as each end was read last, against a share of
        the stall current (warning) and against the current at rest with the class's factor (caution).
    Consequence: the servo stalls at full throw, heats and empties the pack.
    Can't tell when: one end's current is recorded, and the other end's or the stall current is not known.
    Source: common practice, no source; idea of the operation tests of 14 CFR 23.683: no jamming, no
        excessive friction
    Remedy: Free the linkage or reduce the travel.
    """
    for fit in case.servos:
        end, check = end_a(fit), newest_check(fit, *ENDS)
        if check is None or end is None:
            continue
        for name in ENDS:
            if newest_reading(fit, name) is None:
                lacks = field_missing(check, name)
                yield cant_tell(lacks, about=parts_of([fit]), criticality=fit.criticality)
        most = end_limit(fit, case.survey, case.limit)
        stall = stall_a(fit, case.survey)
        if stall is None:
            lacks = text(
                "servo type {code}: stall current", code=fit.servo_type.code if fit.servo_type else "?"
            )
            yield cant_tell(lacks, about=parts_of([fit]), criticality=fit.criticality)
        if most.hard_a is not None and end > most.hard_a:
            level, limit = Level.WARNING, most.hard_a
        elif most.soft_a is not None and end > most.soft_a:
            level, limit = Level.CAUTION, most.soft_a
        else:
            continue
        neutral = newest_reading(fit, "neutral_ma")
        rest = (
            text(", {neutral} at neutral", neutral=Amount(neutral, "mA")) if neutral is not None else NOTHING
        )
        yield Flag(
            level=level,
            about=parts_of([fit]),
            message=text(
                "{who} draws {end} at an end of its travel{rest}; {limit} is the limit",
                who=thing_at(fit),
                end=Amount(end, "A", 2),
                rest=rest,
                limit=Amount(limit, "A", 2),
            ),
            consequence=NOTHING
            if stall is None or level is not Level.WARNING
            else text(
                "at full throw the servo takes {percent:.0f} % of its stall current, heats and empties "
                "the pack",
                percent=100 * end / stall,
            ),
            sameness=case.of_servo(
                fit,
                text(
                    "draw {worst}{end} at an end of their travel; {limit} is the limit",
                    end=Amount(end, "A", 2),
                    limit=Amount(limit, "A", 2),
                ),
            ),
            detail=NOTHING
            if stall is None
            else text(
                "{end} is {percent:.0f} % of its stall current of {stall}",
                end=Amount(end, "A", 2),
                percent=100 * end / stall,
                stall=Amount(stall, "A", 2),
            ),
            figures=(
                read("current at the end", end, "A"),
                *(() if stall is None else (rated("stall current", stall, "A"),)),
                allowed("limit", limit, "A"),
            ),
            criticality=fit.criticality,
            margin=limit / end,
        )


@rule(
    "linkage-bind-corner",
    title="Swashplate binds at a corner",
    levels=Level.WARNING,
    flags=lambda: with_fit(
        ex.helicopter(), "CYC-1", bench_checks=ex.checked("CYC-1", aircraft="EXH", corner_ma=9000.0)
    ),
    passes=lambda: with_fit(
        ex.helicopter(), "CYC-1", bench_checks=ex.checked("CYC-1", aircraft="EXH", corner_ma=900.0)
    ),
    cures=(),
)
def linkage_bind_corner(case: Case) -> Flags:
    """
    Checks: current at the worst of the stick corners against a share of all swashplate stall currents.
    Consequence: in one corner of the stick all swashplate servos stall at once.
    Can't tell when: nothing is asked; the check of the single linkage asks for the stall currents.
    Source: common practice, no source
    Remedy: Limit the cyclic ring, or free the linkage.
    """
    stalls = [stall_a(fit, case.survey) for fit in case.swash]
    known = [stall for stall in stalls if stall is not None]
    if not case.swash or len(known) < len(stalls):
        return
    limit = case.limit("bind-stall-share") * sum(known)
    corners = [corner_ma for fit in case.swash if (corner_ma := newest_reading(fit, "corner_ma"))]
    if corners and max(corners) / 1000.0 > limit:
        worst = max(corners) / 1000.0
        yield Flag(
            level=Level.WARNING,
            about=parts_of(case.swash),
            message=text(
                "The swashplate servos draw {worst} at a corner; {limit} is the limit.",
                worst=Amount(worst, "A"),
                limit=Amount(limit, "A"),
            ),
            figures=(read("current at the corner", worst, "A"), allowed("limit", limit, "A")),
            criticality=Criticality.FLIGHT,
            margin=limit / worst,
        )


@rule(
    "end-stop-hit",
    title="Servo pushes on a mechanical stop",
    levels=Level.CAUTION,
    flags=lambda: ex.elevator(bench_checks=ex.checked("ELE", stop_deg=15.0)),
    passes=lambda: ex.elevator(bench_checks=ex.checked("ELE", stop_deg=25.0)),
    cures=(),
)
def end_stop_hit(case: Case) -> Flags:
    """
    Checks: the deflection at which a mechanical stop was last met on the bench against the full throw.
    Consequence: the servo stalls on the stop at every full command.
    Can't tell when: nothing is asked.
    Source: common practice, no source
    Remedy: Reduce the travel, or move the stop.
    """
    for fit in case.servos:
        stop_deg, surface = newest_reading(fit, "stop_deg"), fit.surface
        if stop_deg is None or surface is None:
            continue
        throw = max(surface.throw_up_deg or 0.0, surface.throw_down_deg or 0.0)
        if stop_deg < throw:
            yield Flag(
                level=Level.CAUTION,
                about=parts_of([fit]),
                message=text(
                    "{who} meets a stop at {stop_deg}; full throw is {throw}",
                    who=thing_at(fit),
                    stop_deg=Amount(stop_deg, "deg"),
                    throw=Amount(throw, "deg"),
                ),
                sameness=case.of_servo(
                    fit,
                    text(
                        "meet a stop {worst}at {stop_deg}; full throw is {throw}",
                        stop_deg=Amount(stop_deg, "deg"),
                        throw=Amount(throw, "deg"),
                    ),
                    number=Amount(stop_deg, "deg"),
                ),
                figures=(
                    read("stop met at", stop_deg, "deg"),
                    read("full throw", throw, "deg"),
                ),
                criticality=fit.criticality,
                margin=stop_deg / throw,
            )


@rule(
    "ganged-fighting",
    title="Ganged servos fight",
    levels=Level.WARNING,
    flags=lambda: ex.ganged(bench_checks=ex.checked("RUD-2", aircraft="EXG", ganged_ma=900.0)),
    passes=lambda: ex.ganged(bench_checks=ex.checked("RUD-2", aircraft="EXG", ganged_ma=150.0)),
    cures=(),
)
def ganged_fighting(case: Case) -> Flags:
    """
    Checks: current of all servos of one surface together at neutral against what they draw alone, and
        the current at an end against a share of the stall current.
    Consequence: the servos pull against each other, heat, and one gives up in the air.
    Can't tell when: nothing is asked; the currents are taken on the bench.
    Source: common practice, no source
    Remedy: Match centre and ends again.
    """
    extra, factor = case.limit("ganged-neutral-extra"), case.limit("ganged-neutral-factor")
    share = case.limit("ganged-end-share")
    for group in case.ganged:
        read_together = (newest_reading(fit, "ganged_ma") for fit in group)
        together = max((current for current in read_together if current is not None), default=None)
        idle = [fit.servo_type.idle_ma for fit in group if fit.servo_type and fit.servo_type.idle_ma]
        limit = factor * sum(value + extra for value in idle) if len(idle) == len(group) else None
        words, numbers = NOTHING, (0.0, 0.0)
        if together is not None and limit is not None and together > limit:
            words, numbers = text("at neutral"), (together / 1000.0, limit / 1000.0)
        for fit in group:
            end, stall = end_a(fit), stall_a(fit, case.survey)
            if not words and end is not None and stall is not None and end > share * stall:
                words, numbers = text("at an end ({code})", code=fit.code), (end, share * stall)
        if words:
            drawn, most = numbers
            yield Flag(
                level=Level.WARNING,
                about=parts_of(group),
                message=text(
                    "Servos {positions} fight each other: {drawn} {words}; {most} is the limit.",
                    positions=listed([fit.code for fit in group]),
                    drawn=Amount(drawn, "A"),
                    words=words,
                    most=Amount(most, "A"),
                ),
                figures=(read("current", drawn, "A"), allowed("limit", most, "A")),
                criticality=group[0].criticality,
                margin=most / drawn,
            )
