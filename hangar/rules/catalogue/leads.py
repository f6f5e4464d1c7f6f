"""Servo leads: volts lost, gauge, locks, joints and care."""

from __future__ import annotations

from hangar.base.figure import Basis, Figure, Input
from hangar.base.text import NOTHING, Amount, Arg, Text, series, text
from hangar.parts import Lead, ServoFit
from hangar.parts.choices import Criticality, JointLock
from hangar.physics.wire import loop_ohm
from hangar.rules import examples as ex
from hangar.rules.case import Case
from hangar.rules.changing import with_fit, with_receiver, with_surface
from hangar.rules.consequences import weaker
from hangar.rules.cures import Cure, Wants, Worse
from hangar.rules.finding import Level
from hangar.rules.flag import Flag, Flags, allowed, cant_tell, read, value_of, worked
from hangar.rules.lead_cost import lead_cost, stall_share
from hangar.rules.registry import rule
from hangar.rules.weak_pack import BROWN_OUT, first_the_volts
from hangar.rules.words import parts_of, thing_at
from hangar.survey.figures import field_missing
from hangar.survey.model import Scenario

_HEAVIER = (24, 22, 20, 18)


def gauge_limit_a(case: Case, awg: int) -> float | None:
    """Mean current a gauge is good for; None for gauges outside the table, which are thick enough."""
    if awg < 20:
        return None
    nearest = min((gauge for gauge in (20, 22, 24, 26, 28, 30) if gauge >= awg), default=30)
    return case.limit(f"gauge-{nearest}")


@rule(
    "lead-drop",
    title="Lead loses too many volts",
    levels=(Level.WARNING, Level.CAUTION, Level.ADVISORY),
    flags=lambda: with_fit(
        with_surface(ex.giant(), "RUD", span_mm=800.0, root_chord_mm=180.0),
        "RUD",
        lead={"length_mm": 1500.0, "awg": 26},
    ),
    passes=ex.giant,
    cures=(Cure.LEAD, Cure.SERVO),
    wants=Wants(
        part="lead",
        quantity="lead resistance",
        of=lambda case, flag: _resistance_ohm(case, flag),
        unit="ohm",
        at_most=True,
        words=lambda value: text("a lead of at most {value}", value=value),
    ),
)
def lead_drop(case: Case) -> Flags:
    """
    Checks: volts lost in each servo lead, out and back with its plugs, at the current the servo draws
        under its expected load, as a share of the bus volts. The level is what the loss costs: that of
        control or volts at the servo, where they were less short without it; a caution where a flight
        control's lead leaves less than a share of the stall torque; the loss alone is an advisory.
    Consequence: this servo is weaker and slower than its rating says.
    Can't tell when: a flight control's lead, its gauge, or the servo's stall current is not known.
    Source: copper wire by ASTM B258 gauge; contacts and limits common practice, no source
    Remedy: A heavier or shorter lead, or power brought near the servo.
    """
    for fit in case.servos:
        position = case.at(fit)
        about = parts_of([fit])
        drop, bus = position.lead_drop_v, case.peak.bus_v
        lacks = _lead_lacks(fit)
        if lacks:
            if fit.function.is_flight:
                yield cant_tell(lacks, about=about, criticality=fit.criticality)
            continue
        if drop is None or bus is None or not bus.expected > 0:
            if case.peak.collapse is None and fit.function.is_flight:
                words = position.missing or case.survey.supply.missing
                yield cant_tell(
                    *(words or (text("position {code}: lead current", code=fit.code),)),
                    about=about,
                    criticality=fit.criticality,
                )
            continue
        share = 100.0 * drop.expected / bus.expected
        if share > case.limit("lead-drop-look"):
            level = lead_cost(case, fit) or Level.ADVISORY
            share_left = stall_share(case, fit)
            weak = share_left is not None and share_left < case.limit("lead-stall-share")
            if level is Level.ADVISORY and weak and fit.function.is_flight:
                level = Level.CAUTION
            yield _drop_flag(case, fit, level, case.limit("lead-drop-look"), drop, bus)


def _drop_flag(case: Case, fit: ServoFit, level: Level, limit: float, drop: Figure, bus: Figure) -> Flag:
    position = case.at(fit)
    share = 100.0 * drop.expected / bus.expected
    lost = text(
        "{drop} of the {bus} on the bus", drop=Amount(drop.expected, "V"), bus=Amount(bus.expected, "V")
    )
    lost_share = worked(
        "share lost",
        share,
        "%",
        "volts lost / bus volts",
        Input(text("bus volts at peak"), bus.expected, "V"),
    )
    figures = (
        drop,
        lost_share,
        allowed("share allowed", limit, "%"),
        position.lead_ohm,
        position.lead_current_a,
    )
    return Flag(
        level=level,
        about=parts_of([fit]),
        message=text("{who} loses {lost}", who=thing_at(fit, "lead"), lost=lost),
        consequence=weaker(share),
        detail=_drop_detail(case, fit),
        figures=tuple(figure for figure in figures if figure is not None),
        remedy=_heavier(case, fit, drop.expected, bus.expected),
        caused_by=BROWN_OUT if case.brown_out is not None else (),
        criticality=fit.criticality,
        margin=limit / share,
        sameness=case.of_servo(fit, text("lose {worst}{lost}", lost=lost), "lead"),
    )


def _lead_lacks(fit: ServoFit) -> Text | None:
    if fit.lead is None:
        return text("lead {code}: not recorded", code=fit.code)
    return None if fit.lead.awg is not None else field_missing(fit.lead, "awg")


def _drop_detail(case: Case, fit: ServoFit) -> Text:
    lead, position = fit.lead, case.at(fit)
    if lead is None or lead.awg is None:
        return NOTHING
    length = Amount(lead.length_mm, "mm")
    words: list[Arg] = [
        text("{length} of AWG {awg}, out and back with its plugs", length=length, awg=lead.awg)
    ]
    if position.lead_ohm is not None:
        words[0] = text(
            "{length} of AWG {awg}, out and back with its plugs {resistance}",
            length=length,
            awg=lead.awg,
            resistance=Amount(1000.0 * position.lead_ohm.expected, "mohm"),
        )
    if position.lead_current_a is not None:
        words.append(Amount(position.lead_current_a.expected, "A"))
    if position.delivered_v is not None:
        words.append(text("{volts} left at the servo", volts=Amount(position.delivered_v.expected, "V")))
    return series(words)


def _heavier(case: Case, fit: ServoFit, drop_v: float, bus_v: float) -> Text:
    """The thinnest gauge that loses no more than the limit, else the heaviest with what it still loses."""
    if case.brown_out is not None:
        return first_the_volts(case, fit)
    lead, amps = fit.lead, case.at(fit).lead_current_a
    if lead is None or lead.awg is None or amps is None:
        return NOTHING
    allowed = case.limit("lead-drop-look") / 100.0 * bus_v
    length_m, now = lead.length_mm / 1000.0, loop_ohm(lead.length_mm / 1000.0, lead.awg)
    left_v, gauge = drop_v, 0
    for gauge in (awg for awg in _HEAVIER if awg < lead.awg):
        left_v = drop_v - amps.expected * (now - loop_ohm(length_m, gauge))
        if left_v <= allowed:
            return text(
                "Fit AWG {gauge}: it loses about {left_v}; or bring power near the servo.",
                gauge=gauge,
                left_v=Amount(left_v, "V", 2),
            )
    if not gauge:
        return text("Shorten the lead, or bring power near the servo.")
    return text(
        "AWG {gauge} still loses about {left_v} of the {allowed} allowed: shorten the lead as well, or "
        "bring power near the servo.",
        gauge=gauge,
        left_v=Amount(left_v, "V", 2),
        allowed=Amount(allowed, "V", 2),
    )


@rule(
    "lead-gauge-small",
    title="Lead gauge too thin",
    levels=Level.CAUTION,
    flags=lambda: with_fit(
        ex.giant(), "ELE-L", lead={"awg": 28, "length_mm": 100.0}, servo_type={"idle_ma": 400.0}
    ),
    passes=ex.giant,
    cures=(Cure.LEAD, Cure.SERVO),
    worse=Worse.SUPPLY,
    wants=Wants(
        part="lead",
        quantity="current",
        of="servo current",
        words=lambda value: text("a lead that is good for {value}", value=value),
    ),
)
def lead_gauge_small(case: Case) -> Flags:
    """
    Checks: current of the servo on each lead, mean of brisk flying, against what its gauge is good for.
    Consequence: the lead heats, and its plugs work loose.
    Can't tell when: nothing is asked; the check of the volts lost in a lead asks for the gauge.
    Source: common practice, no source; agrees with FAA Advisory Circular 43.13-1B from memory, unverified
    Remedy: A heavier lead, or a servo that draws less.
    """
    brisk = case.scenario(Scenario.BRISK).servo_a
    for fit in case.servos:
        drawn = brisk.get(fit.code)
        if fit.lead is None or fit.lead.awg is None or drawn is None:
            continue
        limit, amps = gauge_limit_a(case, fit.lead.awg), drawn.expected
        if limit is not None and amps > limit:
            yield Flag(
                level=Level.CAUTION,
                about=parts_of([fit]),
                message=text(
                    "{who} is AWG {awg}, good for {limit}; the servo draws {amps} in brisk flying",
                    who=thing_at(fit, "lead"),
                    awg=fit.lead.awg,
                    limit=Amount(limit, "A"),
                    amps=Amount(amps, "A"),
                ),
                sameness=case.of_servo(
                    fit,
                    text("are thinner than their servos' current asks"),
                    "lead",
                    number=text(
                        "AWG {awg}, {amps} in brisk flying", awg=fit.lead.awg, amps=Amount(amps, "A")
                    ),
                ),
                figures=(drawn, read("current the gauge is good for", limit, "A", Basis.TYPICAL)),
                criticality=fit.criticality,
                margin=limit / amps,
            )


@rule(
    "lead-long-no-care",
    title="Long lead without twist on an old-band receiver",
    levels=Level.ADVISORY,
    flags=lambda: with_receiver(ex.elevator(lead={"length_mm": 900.0, "twisted": False}), band_mhz=35.0),
    passes=lambda: ex.elevator(lead={"length_mm": 900.0, "twisted": False}),
    cures=(Cure.TWIST, Cure.RECEIVER),
    worse=Worse.NOTHING,
)
def lead_long_no_care(case: Case) -> Flags:
    """
    Checks: leads longer than a limit that are not twisted, on receivers of the old narrow bands.
    Consequence: the lead picks up noise, and the servo jitters.
    Can't tell when: nothing is asked.
    Source: International Miniature Aircraft Association safety code (long leads); length common practice
    Remedy: Twist the lead, fit a ferrite ring, or a receiver of another band.
    """
    limit = case.limit("long-lead")
    for fit in case.aircraft.fits:
        receiver = case.receiver_of(fit)
        if receiver is None or receiver.band_mhz is None or receiver.band_mhz >= case.limit("old-band"):
            continue
        if fit.lead is not None and fit.lead.length_mm > limit and fit.lead.twisted is False:
            yield Flag(
                level=Level.ADVISORY,
                about=parts_of([fit]),
                message=text(
                    "{who}, {length_mm} long, is not twisted, and the receiver works on {band_mhz:g} MHz",
                    who=thing_at(fit, "lead"),
                    length_mm=Amount(fit.lead.length_mm, "mm"),
                    band_mhz=receiver.band_mhz,
                ),
                sameness=case.of_servo(
                    fit,
                    text(
                        "are long and not twisted, and the receiver works on {band_mhz:g} MHz",
                        band_mhz=receiver.band_mhz,
                    ),
                    "lead",
                    group="long",
                    number=Amount(fit.lead.length_mm, "mm"),
                ),
                figures=(read("lead length", fit.lead.length_mm, "mm"), allowed("limit", limit, "mm")),
                criticality=fit.criticality,
            )


@rule(
    "extension-unlocked",
    title="Extension without a lock",
    levels=(Level.WARNING, Level.CAUTION),
    flags=lambda: ex.elevator(lead={"joints": 2, "lock": JointLock.NONE}),
    passes=lambda: ex.elevator(lead={"joints": 2, "lock": JointLock.TIE}),
    cures=(Cure.LOCK,),
    worse=Worse.NOTHING,
)
def extension_unlocked(case: Case) -> Flags:
    """
    Checks: leads with more than the receiver's own plug whose loosest joint has no lock. A warning on
        flight controls, a caution elsewhere.
    Consequence: the plug shakes loose, and this control is gone.
    Can't tell when: the joints of a flight control's lead, or the lock of such a joint, are not recorded.
    Source: common practice, no source
    Remedy: Clip, tie or clear shrink over the joint.
    """
    for fit in case.aircraft.fits:
        lead = fit.lead
        about = parts_of([fit])
        if lead is not None and lead.joints is None and fit.criticality is Criticality.FLIGHT:
            yield cant_tell(field_missing(lead, "joints"), about=about, criticality=fit.criticality)
        if lead is None or lead.joints is None or lead.joints < 2:
            continue
        if lead.lock is None:
            if fit.criticality is Criticality.FLIGHT:
                yield cant_tell(field_missing(lead, "lock"), about=about, criticality=fit.criticality)
        elif lead.lock is JointLock.NONE:
            flight = fit.criticality is Criticality.FLIGHT
            yield Flag(
                level=Level.WARNING if flight else Level.CAUTION,
                about=about,
                message=text("{who} has a plugged joint without a lock", who=thing_at(fit, "lead")),
                detail=text("{joints} plugged joints", joints=lead.joints),
                sameness=case.of_servo(fit, text("have plugged joints without a lock"), "lead", group="lock"),
                criticality=fit.criticality,
                rests_on=("no lock", lead.joints),
            )


@rule(
    "joints-too-many",
    title="Too many joints in one lead",
    levels=Level.ADVISORY,
    flags=lambda: ex.elevator(lead={"joints": 5}),
    passes=lambda: ex.elevator(lead={"joints": 2}),
    cures=(),
    worse=Worse.FIXED,
)
def joints_too_many(case: Case) -> Flags:
    """
    Checks: plugged joints in one lead, the receiver's plug included.
    Consequence: each joint loses volts, and any of them can part.
    Can't tell when: nothing is asked.
    Source: common practice, no source
    Remedy: Make one lead of it.
    """
    limit = case.limit("joints")
    for fit in case.aircraft.fits:
        lead: Lead | None = fit.lead
        if lead is not None and lead.joints is not None and lead.joints > limit:
            yield Flag(
                level=Level.ADVISORY,
                about=parts_of([fit]),
                message=text(
                    "{who} has {joints} plugged joints; {limit:g} are enough",
                    who=thing_at(fit, "lead"),
                    joints=lead.joints,
                    limit=limit,
                ),
                sameness=case.of_servo(
                    fit,
                    text("have more plugged joints than {limit:g}, which are enough", limit=limit),
                    "lead",
                    group="joints",
                    number=text("{joints} joints", joints=lead.joints),
                ),
                figures=(read("joints", lead.joints), allowed("limit", limit)),
                criticality=fit.criticality,
            )


def _resistance_ohm(_case: Case, flag: Flag) -> float | None:
    """The resistance with which a lead loses no more than it may."""
    own = value_of(flag, "lead resistance")
    return None if own is None or flag.margin is None else own * flag.margin
