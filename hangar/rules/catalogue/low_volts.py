"""Parts that may get too few volts, and volts that nobody knows."""

from __future__ import annotations

from hangar.base.figure import Basis, Figure
from hangar.base.text import NOTHING, Amount, Text, fixed, listed, text
from hangar.parts import Receiver, ServoFit, Stabiliser
from hangar.parts.choices import Criticality
from hangar.rules import examples as ex
from hangar.rules.case import Case
from hangar.rules.changing import with_fit, with_path, with_receiver
from hangar.rules.consequences import stops_working
from hangar.rules.cures import Cure, Wants, Worse
from hangar.rules.finding import Level
from hangar.rules.flag import Flag, Flags, cant_tell, rated, read, value_of
from hangar.rules.over_volts import worst_path
from hangar.rules.registry import rule
from hangar.rules.starved import starved_level
from hangar.rules.weak_pack import BROWN_OUT, CAUSE, LEAD, healthy_gain_v, most_of_it
from hangar.rules.words import parts_of, thing_at
from hangar.survey.figures import field_missing
from hangar.survey.model import Scenario, ScenarioSurvey

_TODAY = (Scenario.PEAK, text("at peak current"))
_WORSE = (
    (Scenario.COLD, text("at peak current from a cold pack")),
    (Scenario.AGED, text("at peak current from an aged pack")),
)
_SOFTER = {Level.WARNING: Level.CAUTION, Level.CAUTION: Level.ADVISORY, Level.ADVISORY: None}


@rule(
    "under-volts-receiver",
    title="Receiver may brown out",
    levels=(Level.WARNING, Level.CAUTION, Level.ADVISORY),
    flags=lambda: with_receiver(ex.trainer(), supply_min_v=4.95),
    passes=lambda: with_receiver(ex.trainer(), supply_min_v=3.5),
    cures=(Cure.SUPPLY, Cure.SERVO, Cure.RECEIVER),
    worse=Worse.MORE_PEAK,
    wants=Wants(
        part="pack",
        quantity="volts at the receiver",
        of=lambda case, flag: _wanted_v(case, flag),
        unit="V",
        words=lambda value: text("a pack that leaves {value} at the receiver at peak current", value=value),
    ),
)
def under_volts_receiver(case: Case) -> Flags:
    """
    Checks: volts at the receiver at peak current against the lowest volts that receivers and gyros work
        at, with the packs as measured. Below them is a warning, also where the supply has no working point;
        a caution where that rests on stall currents that are estimated and their lowest estimate holds.
        Within the reserve is a caution, an advisory where currents or packs are estimated. With a cold or
        an aged pack one level lower.
    Consequence: the receiver restarts in the air, and every control is lost meanwhile.
    Can't tell when: lowest volts, pack or currents are not known.
    Source: load case worked on the supply network; reserve common practice, no source
    Remedy: A bigger pack or one of lower resistance, a second pack, shorter and heavier leads, servos
        that draw less, or a receiver that works at fewer volts.
    """
    devices: tuple[Receiver | Stabiliser, ...] = (*case.aircraft.receivers, *case.aircraft.stabilisers)
    for device in devices:
        if device.supply_min_v is None:
            yield cant_tell(
                field_missing(device, "supply_min_v"), about=(device.code,), criticality=Criticality.FLIGHT
            )
    known = [(device.supply_min_v, device) for device in devices if device.supply_min_v is not None]
    if not known:
        return
    if not case.radio:
        yield cant_tell(case.lacks("power path"), criticality=Criticality.FLIGHT)
        return
    least, device = max(known, key=lambda pair: pair[0])
    today, _ = _TODAY
    supply = case.scenario(today)
    if supply.collapse is None and supply.receiver_v is None:
        lacks = case.survey.supply.missing or (text("power path of the receiver: currents and resistances"),)
        yield cant_tell(*lacks, about=(device.code,), criticality=Criticality.FLIGHT)
        return
    cases = [
        (level, scenario, words)
        for scenario, words in (_TODAY, *_WORSE)
        if (level := _brown_out_level(case, scenario, least)) is not None
    ]
    if cases:
        # Of equal levels the first: that of today.
        level, scenario, words = min(cases, key=lambda low: low[0].rank)
        yield _brown_out(case, level, scenario, words, device, least)


def _brown_out_level(case: Case, scenario: Scenario, least: float) -> Level | None:
    """How grave the peak of a load case is for what works down to some volts; None where it is not."""
    level: Level | None = None
    if _falls_below(case.scenario(scenario), least):
        at_least = case.survey.least.get(scenario)
        sure = at_least is None or _falls_below(at_least, least)
        level = Level.WARNING if sure else Level.CAUTION
    elif _falls_below(case.scenario(scenario), least + case.limit("receiver-reserve")):
        level = Level.ADVISORY if _is_estimated(case) else Level.CAUTION
    if scenario is Scenario.PEAK or level is None:
        return level
    return _SOFTER[level]


def _falls_below(supply: ScenarioSurvey, least: float) -> bool:
    volts = supply.receiver_v
    return supply.collapse is not None or (volts is not None and volts.expected < least)


def _is_estimated(case: Case) -> bool:
    """Whether a stall current or the resistance of a pack is estimated."""
    cells = case.survey.supply.pack_cell_mohm.values()
    return bool(case.survey.least) or any(cell.basis is Basis.TYPICAL for cell in cells)


def _brown_out(
    case: Case, level: Level, scenario: Scenario, words: Text, device: Receiver | Stabiliser, least: float
) -> Flag:
    supply = case.scenario(scenario)
    volts, reserve = supply.receiver_v, case.limit("receiver-reserve")
    about = (device.code, *(fed.pack.tag for fed in case.radio_packs))
    figures: tuple[Figure, ...] = ()
    if supply.collapse is not None or volts is None:
        message = text(
            "the supply collapses {words}: {collapse}", words=words, collapse=supply.collapse or NOTHING
        )
        seen = 0.0
    else:
        seen = volts.expected
        wanted = text(", and {reserve} more is wanted", reserve=Amount(reserve, "V"))
        message = text(
            "{device} {code} gets {seen} {words}; it works down to {least}{reserve}",
            device=fixed(device.TITLE),
            code=device.code,
            seen=Amount(seen, "V"),
            words=words,
            least=Amount(least, "V"),
            reserve=wanted if seen >= least else NOTHING,
        )
        figures = tuple(f for f in (volts, supply.total_a) if f is not None)
    drawn = (
        text("{total} drawn; ", total=Amount(supply.total_a.expected, "A"))
        if supply.total_a is not None
        else NOTHING
    )
    return Flag(
        level=level,
        about=about,
        message=message.as_sentence(),
        consequence=stops_working(case.aircraft, device, far=seen < least),
        detail=text("{drawn}{assumed}", drawn=drawn, assumed=_assumed(case, scenario)),
        figures=(*figures, rated("least volts", least, "V")),
        criticality=Criticality.FLIGHT,
        margin=seen / least,
        remedy=_enter_stall(case, scenario, least) or _against_limiting(case, scenario),
        caused_by=CAUSE if 0.0 < healthy_gain_v(case) >= (least - seen) / 2.0 else (),
    )


def _enter_stall(case: Case, scenario: Scenario, least: float) -> Text:
    """What to enter where only estimated stall currents pull the bus down; else nothing."""
    at_least = case.survey.least.get(scenario)
    if at_least is None or _falls_below(at_least, least):
        return NOTHING
    kinds = {
        fit.servo_type.code
        for fit in case.servos
        if fit.servo_type is not None and any(row.stall_a is None for row in fit.servo_type.ratings)
    }
    return text(
        "Enter the stall current of {kinds}: with the least it can be the bus holds.",
        kinds=listed(sorted(kinds)),
    )


def _against_limiting(case: Case, scenario: Scenario) -> Text:
    """Where a regulator gives no more a bigger pack is no help; else nothing: the rule's own words stand."""
    asked = case.survey.supply.peak_a
    if asked is None or "limiting" not in case.scenario(scenario).regulator_state.values():
        return NOTHING
    return text(
        "Servos that ask for less than {asked} together, or a regulator that gives as much for some seconds.",
        asked=Amount(asked.expected, "A"),
    )


def _assumed(case: Case, scenario: Scenario) -> Text:
    conditions = case.conditions
    warmth = conditions.cold_pack_c if scenario is Scenario.COLD else conditions.pack_c
    return text(
        "pack at {warmth}, resistance of an aged pack"
        if scenario is Scenario.AGED
        else "pack at {warmth}, resistance as last known",
        warmth=Amount(warmth, "C"),
    )


@rule(
    "under-volts-servo",
    title="Servo below its working minimum",
    levels=(Level.WARNING, Level.CAUTION, Level.ADVISORY),
    flags=lambda: ex.elevator(servo_type={"supply_min_v": 5.6}),
    passes=ex.trainer,
    cures=(Cure.SUPPLY, Cure.LEAD, Cure.SERVO, Cure.ARM, Cure.HORN),
    worse=Worse.LESS_BUS_VOLTS,
    eased=True,
    wants=Wants(
        part="pack",
        quantity="volts at the servo",
        of="least volts",
        words=lambda value: text("a pack or lead that leaves {value} at the servo", value=value),
    ),
)
def under_volts_servo(case: Case) -> Flags:
    """
    Checks: volts that reach each servo at peak current against its lowest volts; where the type's
        limits are not stated as absolute, the lower one names a nickel pack and is taken a share lower.
        Below is a caution; an advisory down to a tenth below the lowest volts it is rated at, where it is
        only weaker; a warning where a digital servo of a flight control gets more than 15 % too little,
        a caution there too while the lead from pack to bus is not entered.
    Consequence: this servo is weak and slow, and a digital one may stop.
    Can't tell when: the lowest volts of the servo type, or the volts at the servo, are not known.
    Source: maker's rating; load case worked on the supply network
    Remedy: Heavier or shorter lead, a stronger pack, higher bus volts, a shorter arm or a longer horn, or
        a servo that works at fewer volts.
    """
    for fit in case.servos:
        kind = fit.servo_type
        if kind is None:
            continue
        about = parts_of([fit])
        volts = case.at(fit).delivered_v
        if kind.supply_min_v is None:
            yield cant_tell(field_missing(kind, "supply_min_v"), about=about, criticality=fit.criticality)
        elif volts is None:
            if case.peak.collapse is None:
                lacks = case.survey.supply.missing or (case.lacks("power path"),)
                yield cant_tell(*lacks, about=about, criticality=fit.criticality)
        elif (level := starved_level(case, fit, volts.expected)) is not None:
            yield _short_of_volts(case, fit, level, volts, kind.supply_min_v)


def _short_of_volts(case: Case, fit: ServoFit, level: Level, volts: Figure, least: float) -> Flag:
    """By the bus, told of all servos together; or by its own lead, told with the others of its function."""
    bus_v = case.peak.bus_v.expected if case.peak.bus_v else 0.0
    working_v = case.least_servo_v(fit) or 0.0
    by_bus = bus_v < working_v
    gets = text(
        "{volts} at peak current; {least} is the lower limit",
        volts=Amount(volts.expected, "V"),
        least=Amount(least, "V"),
    )
    cause = (*BROWN_OUT[: case.brown_out is not None], *most_of_it(case, working_v - volts.expected))
    return Flag(
        level=level,
        about=parts_of([fit]),
        message=text("{who} gets {gets}", who=thing_at(fit), gets=gets),
        detail=text(
            "{volts} with {bus_v} on the bus", volts=Amount(volts.expected, "V"), bus_v=Amount(bus_v, "V")
        ),
        figures=(volts, rated("least volts", least, "V")),
        criticality=fit.criticality,
        margin=volts.expected / least,
        caused_by=cause if by_bus else (*cause, *LEAD),
        sameness=case.of_servo(fit, text("get {worst}{gets}", gets=gets), group="bus" if by_bus else None),
    )


@rule(
    "bus-volts-unknown",
    title="Nobody knows what the servos get",
    levels=Level.CAUTION,
    flags=lambda: with_path(ex.trainer(), packs=()),
    passes=ex.trainer,
    cures=(Cure.SUPPLY,),
    worse=Worse.SUPPLY,
    wants=Wants(part="pack", words=text("a pack of a known type")),
)
def bus_volts_unknown(case: Case) -> Flags:
    """
    Checks: whether each power path of the radio has a pack, and each regulator a setting.
    Consequence: nobody knows what the servos give on this bus.
    Can't tell when: it says itself what is missing.
    Source: logic
    Remedy: Enter the pack, or measure and enter the regulator's output.
    """
    for volts in case.radio:
        lacks = []
        if not volts.path.packs:
            lacks.append(text("no pack is entered"))
        if volts.regulated and volts.set_v is None:
            lacks.append(
                text(
                    "the setting of regulator {regulator} is not entered", regulator=volts.path.feed.regulator
                )
            )
        if lacks:
            yield Flag(
                level=Level.CAUTION,
                about=(volts.code,),
                message=text(
                    "power path {code}: {lacks}, so the bus volts are not known",
                    code=volts.code,
                    lacks=listed(lacks),
                ),
                criticality=Criticality.FLIGHT,
            )


@rule(
    "regulator-setting-vs-servos",
    title="Regulator set higher than the weakest part",
    levels=Level.WARNING,
    flags=lambda: with_path(ex.giant(), **ex.regulated(9.0, drop_out_v=None)),
    passes=lambda: with_path(ex.giant(), **ex.regulated(8.0, drop_out_v=None)),
    cures=(Cure.SUPPLY, Cure.SERVO),
    worse=Worse.WEAKEST,
    wants=Wants(
        part="regulator",
        quantity="set volts",
        of="lowest limit",
        at_most=True,
        words=lambda value: text("a regulator set to at most {value}", value=value),
    ),
)
def regulator_setting_vs_servos(case: Case) -> Flags:
    """
    Checks: a regulator's setting against the least of the highest volts of servos, gyros and receivers.
    Consequence: the weakest part on the bus burns out in flight.
    Can't tell when: nothing is asked; the limits are asked for by the parts' own rules.
    Source: maker's rating
    Remedy: Set the regulator lower.
    """
    weakest = _weakest(case)
    volts = worst_path(case)
    if weakest is None or volts is None or not volts.regulated or volts.set_v is None:
        return
    limit, name = weakest
    if volts.set_v > limit + 1e-9:
        yield Flag(
            level=Level.WARNING,
            about=(volts.path.feed.regulator or volts.code, name),
            message=text(
                "Regulator {regulator} is set to {set_v}; the weakest part, {name}, may have {limit}.",
                regulator=volts.path.feed.regulator,
                set_v=Amount(volts.set_v, "V"),
                name=name,
                limit=Amount(limit, "V"),
            ),
            figures=(read("bus volts set", volts.set_v, "V"), rated("lowest limit", limit, "V")),
            remedy=text("Set it to {limit} or less.", limit=Amount(limit, "V")),
            criticality=Criticality.FLIGHT,
            margin=limit / volts.set_v,
        )


def _weakest(case: Case) -> tuple[float, str] | None:
    limits = [
        (fit.servo_type.supply_max_v, fit.tag or fit.code)
        for fit in case.servos
        if fit.servo_type and fit.servo_type.supply_max_v is not None
    ]
    devices: tuple[Receiver | Stabiliser, ...] = (*case.aircraft.receivers, *case.aircraft.stabilisers)
    limits += [(device.supply_max_v, device.code) for device in devices if device.supply_max_v is not None]
    return min(limits, default=None)


@rule(
    "bec-fallback-volts",
    title="A failed regulator would pass too much",
    levels=(Level.CAUTION, Level.ADVISORY),
    flags=lambda: with_path(
        with_fit(ex.giant(), servo_type={"supply_max_v": 6.0}), **ex.regulated(6.0, fails_through=True)
    ),
    passes=lambda: with_path(ex.giant(), **ex.regulated(6.0, fails_through=False)),
    cures=(Cure.SUPPLY, Cure.SERVO),
    worse=Worse.WEAKEST,
    wants=Wants(
        part="servo",
        quantity="highest volts",
        of="full pack",
        words=lambda value: text("parts that bear {value}", value=value),
    ),
)
def bec_fallback_volts(case: Case) -> Flags:
    """
    Checks: for regulators that pass their input when they fail, the full pack against the weakest part's
        limit; an advisory when there is a second power path.
    Consequence: if that one part fails, every servo goes with it.
    Can't tell when: nothing is asked.
    Source: common practice, no source
    Remedy: A regulator that fails open, a fuse with a clamp, an isolated second pack, or servos made for
        these volts.
    """
    weakest, factor = _weakest(case), case.limit("fallback-factor")
    if weakest is None:
        return
    for volts in case.radio:
        kind = volts.path.regulator_type
        if kind is None or not volts.regulated or kind.fails_through is not True or volts.full_v is None:
            continue
        if volts.full_v > factor * weakest[0]:
            yield Flag(
                level=Level.CAUTION if len(case.radio) == 1 else Level.ADVISORY,
                about=(volts.path.feed.regulator or volts.code,),
                message=text(
                    "If regulator {regulator} fails it passes {full_v}; {weakest} may have {weakest_2}.",
                    regulator=volts.path.feed.regulator,
                    full_v=Amount(volts.full_v, "V"),
                    weakest=weakest[1],
                    weakest_2=Amount(weakest[0], "V"),
                ),
                figures=(rated("full pack", volts.full_v, "V"), rated("lowest limit", weakest[0], "V")),
                criticality=Criticality.FLIGHT,
                margin=weakest[0] / volts.full_v,
            )


def _wanted_v(case: Case, flag: Flag) -> float | None:
    """The least volts of a receiver with the reserve that is wanted."""
    least = value_of(flag, "least volts")
    return None if least is None else least + case.limit("receiver-reserve")
