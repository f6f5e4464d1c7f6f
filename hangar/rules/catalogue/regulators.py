"""Regulators: current, heat and headroom, with both power paths and with one alone."""

from __future__ import annotations

import math

from hangar.base.figure import Basis, Figure, Input
from hangar.base.text import NOTHING, Amount, Text, text
from hangar.parts import PowerPath
from hangar.parts.choices import Criticality, RegulatorKind
from hangar.rules import examples as ex
from hangar.rules.case import Case
from hangar.rules.changing import with_path, with_receiver
from hangar.rules.cures import Cure, Need, SupplyPart, Wants, Worse
from hangar.rules.current_rating import AT_PEAK, IN_BRISK, ON_AVERAGE, Overrun, PathCurrents, overrun
from hangar.rules.finding import Level
from hangar.rules.flag import Flag, Flags, cant_tell, of_part, rated, read, worked
from hangar.rules.registry import rule
from hangar.survey.figures import field_missing
from hangar.survey.model import Scenario

SUNK = 0.1
"""Share of its setting that the bus may fall below a regulator that gives all it can."""


def _name(path: PowerPath) -> str:
    return path.feed.regulator or path.feed.code


@rule(
    "regulator-current",
    title="Regulator overrun",
    levels=(Level.WARNING, Level.CAUTION),
    flags=lambda: with_path(ex.giant(), **ex.regulated(6.0, continuous_a=5.0, burst_a=8.0)),
    passes=lambda: with_path(ex.giant(), **ex.regulated(6.0)),
    cures=(Cure.SUPPLY, Cure.SERVO),
    worse=Worse.MORE_CURRENT,
)
def regulator_current(case: Case) -> Flags:
    """
    Checks: whether a regulator limits in the peak and lets the bus fall more than a tenth below its setting
        (warning); the peak current against its burst current, shared over the power paths and carried by
        one alone (caution); the mean of a flight against a share of its continuous current (warning), and
        the mean of brisk flying (caution).
    Consequence: the regulator limits, the bus falls, and the receiver with it.
    Can't tell when: a regulator's currents, or the servos' stall currents, are not known.
    Source: load case worked on the supply network; maker's rating; shares common practice, no source
    Remedy: A bigger regulator, or two, or servos that draw less.
    """
    supply = case.survey.supply
    for path in case.aircraft.radio_paths:
        kind = path.regulator_type
        if kind is None:
            continue
        about = (_name(path),)
        for field in ("burst_a", "continuous_a"):
            if getattr(kind, field) is None:
                lacks = field_missing(kind, field)
                yield cant_tell(lacks, about=about, criticality=Criticality.FLIGHT)
        if supply.peak_a is None:
            lacks_peak = supply.missing or (text("servo type: stall current"),)
            yield cant_tell(*lacks_peak, about=about, criticality=Criticality.FLIGHT)
        flag = _overrun(case, path, supply.peak_a)
        if flag is not None:
            yield flag


def _bigger(case: Case, excess: Overrun) -> Text:
    if excess.when == ON_AVERAGE or excess.when == IN_BRISK:
        steady = excess.amps / case.limit("regulator-mean-share")
        return text("A regulator that may give {steady} for long.", steady=case.ample(steady, "A"))
    return text("A regulator that may give {amps} for some seconds.", amps=case.ample(excess.amps, "A"))


def _need(case: Case, excess: Overrun) -> Need:
    if excess.when in (ON_AVERAGE, IN_BRISK):
        steady = excess.amps / case.limit("regulator-mean-share")
        return Need(part="regulator", quantity="continuous current", value=steady, unit="A")
    return Need(part="regulator", quantity="burst current", value=excess.amps, unit="A")


def _sinks(case: Case, path: PowerPath, state: str) -> bool:
    """Whether the regulator is in that state in the peak and the bus more than a tenth below its setting."""
    bus, regulator = case.peak.bus_v, path.regulator
    if case.peak.regulator_state.get(path.feed.code) != state or bus is None or regulator is None:
        return False
    return regulator.set_v is not None and bus.expected < (1.0 - SUNK) * regulator.set_v


def _asked(case: Case, path: PowerPath, peak: Figure | None) -> Overrun | None:
    """The peak that the servos ask for against the regulator's burst current."""
    kind, paths = path.regulator_type, len(case.aircraft.radio_paths)
    if kind is None or peak is None or kind.burst_a is None:
        return None
    shared, limits = peak.expected / paths, _sinks(case, path, "limiting")
    if limits or shared > kind.burst_a:
        when = AT_PEAK if paths < 2 else text("at peak of {paths} power paths", paths=paths)
        return Overrun(Level.WARNING if limits else Level.CAUTION, shared, kind.burst_a, when)
    if peak.expected > kind.burst_a:
        when = text("at peak when it is the only one left")
        return Overrun(Level.CAUTION, peak.expected, kind.burst_a, when)
    return None


def _overrun(case: Case, path: PowerPath, peak: Figure | None) -> Flag | None:
    kind = path.regulator_type
    if kind is None:
        return None
    currents = PathCurrents.of_regulator(case, path.feed.code)
    steady = overrun(
        PathCurrents(currents.mean, currents.brisk, None), kind.continuous_a, None,
        case.limit("regulator-mean-share"),
    )  # fmt: skip
    excess = _asked(case, path, peak)
    if steady is not None and (excess is None or excess.level is not Level.WARNING):
        excess = steady
    if excess is None:
        return None
    level, amps, limit, when = excess.level, excess.amps, excess.limit, excess.when
    return Flag(
        level=level,
        about=(_name(path),),
        message=text(
            "Regulator {name} is asked for {amps} {when}; it can give {limit}.",
            name=_name(path),
            amps=Amount(amps, "A"),
            when=when,
            limit=Amount(limit, "A"),
        ),
        detail=text("{code}, {regulator}", code=kind.code, regulator=kind.regulator),
        remedy=_bigger(case, excess),
        need=_need(case, excess),
        sameness=of_part(
            "regulator",
            _name(path),
            text(
                "are asked for {amps} each {when}; each can give {limit}",
                amps=Amount(amps, "A"),
                when=when,
                limit=Amount(limit, "A"),
            ),
        ),
        figures=(
            *((peak,) if peak is not None else ()),
            *currents.known,
            rated("current allowed", limit, "A"),
        ),
        criticality=Criticality.FLIGHT,
        margin=limit / amps,
    )


@rule(
    "regulator-heat",
    title="Linear regulator too hot",
    levels=(Level.WARNING, Level.CAUTION),
    flags=lambda: with_path(ex.giant(), **ex.regulated(5.0, regulator=RegulatorKind.LINEAR, shed_w=2.0)),
    passes=lambda: with_path(ex.giant(), **ex.regulated(5.0, regulator=RegulatorKind.LINEAR, shed_w=40.0)),
    cures=(Cure.SUPPLY, Cure.SERVO),
    worse=Worse.MORE_MEAN,
    wants=Wants(
        part="regulator",
        quantity="heat it can shed",
        of="regulator heat of",
        words=lambda value: text("a regulator that can shed {value}", value=value),
    ),
)
def regulator_heat(case: Case) -> Flags:
    """
    Checks: heat of each linear regulator, mean of brisk flying, against what it can shed in still air:
        more is a warning, a share of it a caution. More only when it is the one left of several is a
        caution.
    Consequence: the regulator shuts down or burns, and the bus is dead.
    Can't tell when: a linear regulator's heat limit, its pack or the currents are not known.
    Source: energy balance; share common practice, no source
    Remedy: A switching regulator, air flow, fewer volts into it, or servos that draw less.
    """
    for path in case.aircraft.radio_paths:
        kind = path.regulator_type
        if kind is None or kind.regulator is not RegulatorKind.LINEAR:
            continue
        about = (_name(path),)
        if kind.shed_w is None:
            lacks = field_missing(kind, "shed_w")
            yield cant_tell(lacks, about=about, criticality=Criticality.FLIGHT)
            continue
        shared = case.scenario(Scenario.BRISK).regulator_w.get(path.feed.code)
        if shared is None:
            words = case.survey.supply.missing or (text("power path {code}: pack", code=path.feed.code),)
            yield cant_tell(*words, about=about, criticality=Criticality.FLIGHT)
            continue
        alone = case.survey.supply.path_alone_w.get(path.feed.code)
        heat, when, when_each, soft = shared, NOTHING, NOTHING, case.limit("regulator-heat-share")
        over = shared.expected > kind.shed_w
        if not over and alone is not None and alone.expected > kind.shed_w:
            heat = alone
            when = text(" when it is the only one left")
            when_each = text(" when one is the only one left")
        elif not over and shared.expected <= soft * kind.shed_w:
            continue
        limit = kind.shed_w if heat.expected > kind.shed_w else soft * kind.shed_w
        yield Flag(
            level=Level.WARNING if over else Level.CAUTION,
            about=about,
            message=text(
                "Regulator {name} makes {heat} of heat in brisk flying{when}; it can shed {shed}.",
                name=_name(path),
                heat=Amount(heat.expected, "W"),
                when=when,
                shed=Amount(kind.shed_w, "W"),
            ),
            sameness=of_part(
                "regulator",
                _name(path),
                text(
                    "make {worst}{heat} of heat each in brisk flying{when}; each can shed {shed}",
                    heat=Amount(heat.expected, "W"),
                    when=when_each,
                    shed=Amount(kind.shed_w, "W"),
                ),
            ),
            detail=text("{code}, set to {set_v}", code=kind.code, set_v=Amount(path.regulator.set_v, "V"))
            if path.regulator is not None and path.regulator.set_v is not None
            else NOTHING,
            figures=(heat, rated("heat it can shed", kind.shed_w, "W")),
            criticality=Criticality.FLIGHT,
            margin=limit / heat.expected,
        )


@rule(
    "regulator-dropout",
    title="Not enough headroom for the regulator",
    levels=(Level.WARNING, Level.CAUTION, Level.ADVISORY),
    flags=lambda: with_path(ex.giant(), **ex.regulated(7.2, drop_out_v=0.6)),
    passes=lambda: with_path(ex.giant(), **ex.regulated(6.0, drop_out_v=0.6)),
    cures=(Cure.SUPPLY,),
    worse={
        Level.WARNING: Worse.MORE_PEAK_UNLIMITED,
        Level.CAUTION: Worse.SUPPLY,
        Level.ADVISORY: Worse.SUPPLY,
    },
    wants=Wants(
        part="pack",
        quantity="volts nearly empty",
        of="output set",
        words=lambda value: text(
            "a pack that still gives {value} behind the regulator when nearly empty", value=value
        ),
    ),
    of_supply=frozenset({SupplyPart.PACK, SupplyPart.REGULATOR}),
)
def regulator_dropout(case: Case) -> Flags:
    """
    Checks: whether a regulator has too little above its output in the peak and lets the bus fall more than a
        tenth below its setting (warning); and the pack's volts when it is time to land, less the
        regulator's drop-out, against its setting: more than a tenth below is a caution, less an advisory.
    Consequence: the bus sinks with the pack: every servo gets weaker and slower.
    Can't tell when: a linear regulator's drop-out or its setting is not known.
    Source: load case worked on the supply network; maker's rating; shares and land-now volts per cell common
        practice, no source
    Remedy: A lower setting, more cells, or a regulator of lower drop-out.
    """
    for volts in case.radio:
        path, kind = volts.path, volts.path.regulator_type
        if kind is None or not volts.regulated or path.regulator is None:
            continue
        about = (_name(path), *(fed.pack.tag for fed in path.packs))
        drop, set_v = kind.drop_out_v, volts.set_v
        if drop is None and kind.regulator is RegulatorKind.LINEAR:
            yield cant_tell(field_missing(kind, "drop_out_v"), about=about, criticality=Criticality.FLIGHT)
        if set_v is None:
            yield cant_tell(
                field_missing(path.regulator, "set_v"), about=about, criticality=Criticality.FLIGHT
            )
        land = volts.land_v
        if drop is None or set_v is None or land is None:
            continue
        headroom_v = land - drop
        regulator = _name(path) if "regulator" in _name(path) else text("regulator {name}", name=_name(path))
        if _sinks(case, path, "drop-out") and case.peak.bus_v is not None:
            yield _sunk_flag(path, case.peak.bus_v, set_v, about)
        elif headroom_v < set_v - 1e-9:
            yield Flag(
                level=Level.CAUTION if headroom_v < (1.0 - SUNK) * set_v else Level.ADVISORY,
                about=about,
                message=text(
                    "With the pack nearly empty {regulator} gives {left}, not the {set_v} it is set to.",
                    regulator=regulator,
                    left=Amount(headroom_v, "V"),
                    set_v=Amount(set_v, "V"),
                ),
                remedy=text(
                    "Set it to {floor:.1f} V or less, use more cells, or a regulator of lower drop-out.",
                    floor=math.floor(10.0 * headroom_v + 1e-06) / 10.0 - 0.1,
                ),
                sameness=of_part(
                    "regulator",
                    _name(path),
                    text(
                        "give {worst}{left} with the packs nearly empty, not the {set_v} they are set to",
                        left=Amount(headroom_v, "V"),
                        set_v=Amount(set_v, "V"),
                    ),
                ),
                detail=text(
                    "{land} under load when it is time to land, less the drop-out of {drop}",
                    land=Amount(land, "V"),
                    drop=Amount(drop, "V"),
                ),
                figures=(
                    worked(
                        "volts nearly empty",
                        headroom_v,
                        "V",
                        "land-now volts - drop-out",
                        Input(text("land-now volts"), land, "V", Basis.TYPICAL),
                        Input(text("drop-out"), drop, "V", Basis.RATED),
                    ),
                    read("output set", set_v, "V"),
                ),
                criticality=Criticality.FLIGHT,
                margin=headroom_v / set_v,
            )


def _sunk_flag(path: PowerPath, bus: Figure, set_v: float, about: tuple[str, ...]) -> Flag:
    """A regulator that has too little above its output while the servos pull."""
    return Flag(
        level=Level.WARNING,
        about=about,
        message=text(
            "At peak the bus behind regulator {name} falls to {bus}, not the {set_v} it is set to.",
            name=_name(path),
            bus=Amount(bus.expected, "V"),
            set_v=Amount(set_v, "V"),
        ),
        sameness=of_part(
            "regulator",
            _name(path),
            text(
                "let the bus fall to {bus} at peak, not the {set_v} they are set to",
                bus=Amount(bus.expected, "V"),
                set_v=Amount(set_v, "V"),
            ),
        ),
        figures=(bus, read("output set", set_v, "V")),
        criticality=Criticality.FLIGHT,
        margin=bus.expected / set_v,
    )


@rule(
    "receiver-bus-current",
    title="All current through the receiver's pins",
    levels=(Level.WARNING, Level.CAUTION),
    flags=lambda: with_receiver(ex.giant(), bus_limit_a=5.0),
    passes=ex.giant,
    cures=(Cure.SUPPLY, Cure.SERVO, Cure.RECEIVER),
    worse=Worse.MORE_CURRENT,
    wants=Wants(
        part="receiver",
        quantity="bus current",
        of="current drawn from the bus",
        words=lambda value: text("a receiver whose pins bear {value}", value=value),
    ),
)
def receiver_bus_current(case: Case) -> Flags:
    """
    Checks: the current on the bus against the receiver's limit, where no power board stands between: the
        mean of a flight above it is a warning, the mean of brisk flying a caution; the peak above one and
        a half times the limit is a caution, above three times a warning.
    Consequence: pins and tracks of the receiver heat, and servos drop out.
    Can't tell when: nothing is asked; a receiver without a limit is passed over.
    Source: maker's rating; shares common practice, no source
    Remedy: A power board that feeds the servos past the receiver.
    """
    board = any(
        path.regulator_type is not None and path.regulator_type.regulator is RegulatorKind.PASS
        for path in case.aircraft.radio_paths
    )
    if board:
        return
    currents = PathCurrents.on_bus(case)
    for receiver in case.aircraft.receivers:
        excess = overrun(currents, receiver.bus_limit_a, None)
        if excess is not None:
            yield Flag(
                level=excess.level,
                about=(receiver.code,),
                message=text(
                    "Receiver {code} carries {total} {when}; its pins bear {limit}.",
                    code=receiver.code,
                    total=Amount(excess.amps, "A"),
                    when=excess.when,
                    limit=Amount(excess.limit, "A"),
                ),
                figures=(*currents.known, rated("bus current limit", excess.limit, "A")),
                criticality=Criticality.FLIGHT,
                margin=excess.limit / excess.amps,
            )
