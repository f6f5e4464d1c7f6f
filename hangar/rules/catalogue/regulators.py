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
from hangar.rules.finding import Level
from hangar.rules.flag import Flag, Flags, cant_tell, of_part, rated, read, worked
from hangar.rules.registry import rule
from hangar.survey.figures import field_missing
from hangar.survey.model import Scenario


def _name(path: PowerPath) -> str:
    return path.feed.regulator or path.feed.code


_AT_PEAK = (text("at peak"), text("at peak"))
_ON_AVERAGE = (text("on average"), text("on average"))


def _peak_words(case: Case, *, alone: bool) -> tuple[Text, Text]:
    """When it is asked for so much, of one regulator and of several."""
    paths = len(case.aircraft.radio_paths)
    if paths < 2:
        return _AT_PEAK
    if alone:
        one = text("at peak when it is the only one left")
        return one, text("at peak when one is the only one left")
    shared = text("at peak of {paths} power paths", paths=paths)
    return shared, shared


@rule(
    "regulator-current",
    title="Regulator overrun",
    levels=(Level.WARNING, Level.CAUTION),
    flags=lambda: with_path(ex.giant(), **ex.regulated(6.0, continuous_a=5.0, burst_a=8.0)),
    passes=lambda: with_path(ex.giant(), **ex.regulated(6.0)),
)
def regulator_current(case: Case) -> Flags:
    """
    Checks: the supply's peak current against each regulator's burst current, shared over the power paths
        and carried by one alone; and the mean current against a share of its continuous current.
    Why: a regulator that limits or shuts down turns a stall into a brown-out.
    Can't tell when: a regulator's currents, or the servos' stall currents, are not known.
    Source: maker's rating; share common practice, no source
    Remedy: A bigger regulator, or two.
    """
    supply = case.survey.supply
    paths = case.aircraft.radio_paths
    for path in paths:
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
        flag = _overrun(case, path, supply.peak_a, supply.mean_a)
        if flag is not None:
            yield flag


def _bigger(case: Case, level: Level, amps: float) -> Text:
    if level is Level.WARNING:
        return text("A regulator that may give {amps} for some seconds.", amps=case.ample(amps, "A"))
    steady = amps / case.limit("regulator-mean-share")
    return text("A regulator that may give {steady} for long.", steady=case.ample(steady, "A"))


def _overrun(case: Case, path: PowerPath, peak: Figure | None, mean: Figure | None) -> Flag | None:
    kind, paths = path.regulator_type, len(case.aircraft.radio_paths)
    if kind is None:
        return None
    found: tuple[Level, float, float, tuple[Text, Text]] | None = None
    if peak is not None and kind.burst_a is not None:
        shared = peak.expected / paths
        if shared > kind.burst_a:
            found = (Level.WARNING, shared, kind.burst_a, _peak_words(case, alone=False))
        elif peak.expected > kind.burst_a:
            found = (Level.WARNING, peak.expected, kind.burst_a, _peak_words(case, alone=True))
    if found is None and mean is not None and kind.continuous_a is not None:
        allowed = case.limit("regulator-mean-share") * kind.continuous_a
        if mean.expected / paths > allowed:
            found = (Level.CAUTION, mean.expected / paths, allowed, _ON_AVERAGE)
    if found is None:
        return None
    level, amps, limit, (when, when_each) = found
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
        remedy=_bigger(case, level, amps),
        sameness=of_part(
            "regulator",
            _name(path),
            text(
                "are asked for {amps} each {when}; each can give {limit}",
                amps=Amount(amps, "A"),
                when=when_each,
                limit=Amount(limit, "A"),
            ),
        ),
        figures=tuple(f for f in (peak, mean, rated("current allowed", limit, "A")) if f is not None),
        criticality=Criticality.FLIGHT,
        margin=limit / amps,
    )


@rule(
    "regulator-heat",
    title="Linear regulator too hot",
    levels=(Level.WARNING, Level.CAUTION),
    flags=lambda: with_path(ex.giant(), **ex.regulated(5.0, regulator=RegulatorKind.LINEAR, shed_w=2.0)),
    passes=lambda: with_path(ex.giant(), **ex.regulated(5.0, regulator=RegulatorKind.LINEAR, shed_w=40.0)),
)
def regulator_heat(case: Case) -> Flags:
    """
    Checks: heat of each linear regulator at the mean current, carrying it alone where another path may be
        lost, against what it can shed in still air.
    Why: it shuts down or burns, and the bus with it.
    Can't tell when: a linear regulator's heat limit, its pack or the mean current is not known.
    Source: energy balance; share common practice, no source
    Remedy: A switching regulator, air flow, or fewer volts into it.
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
        heat = case.survey.supply.path_alone_w.get(path.feed.code)
        heat = heat or case.scenario(Scenario.CRUISE).regulator_w.get(path.feed.code)
        if heat is None:
            words = case.survey.supply.missing or (text("power path {code}: pack", code=path.feed.code),)
            yield cant_tell(*words, about=about, criticality=Criticality.FLIGHT)
            continue
        soft = case.limit("regulator-heat-share") * kind.shed_w
        if heat.expected <= soft:
            continue
        over = heat.expected > kind.shed_w
        limit = kind.shed_w if over else soft
        alone, each_alone = NOTHING, NOTHING
        if len(case.aircraft.radio_paths) > 1:
            alone = text(" when it is the only one left")
            each_alone = text(" when one is the only one left")
        yield Flag(
            level=Level.WARNING if over else Level.CAUTION,
            about=about,
            message=text(
                "Regulator {name} makes {heat} of heat{when}; it can shed {shed}.",
                name=_name(path),
                heat=Amount(heat.expected, "W"),
                when=alone,
                shed=Amount(kind.shed_w, "W"),
            ),
            sameness=of_part(
                "regulator",
                _name(path),
                text(
                    "make {worst}{heat} of heat each{when}; each can shed {shed}",
                    heat=Amount(heat.expected, "W"),
                    when=each_alone,
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
    levels=Level.CAUTION,
    flags=lambda: with_path(ex.giant(), **ex.regulated(7.2, drop_out_v=0.6)),
    passes=lambda: with_path(ex.giant(), **ex.regulated(6.0, drop_out_v=0.6)),
)
def regulator_dropout(case: Case) -> Flags:
    """
    Checks: the pack's volts when it is time to land, less the regulator's drop-out, against its setting.
    Why: below that the bus sinks with the pack, and torque and speed with the bus.
    Can't tell when: a linear regulator's drop-out or its setting is not known.
    Source: maker's rating; land-now volts per cell common practice, no source
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
        left = land - drop
        regulator = _name(path) if "regulator" in _name(path) else text("regulator {name}", name=_name(path))
        if left < set_v - 1e-9:
            yield Flag(
                level=Level.CAUTION,
                about=about,
                message=text(
                    "With the pack nearly empty {regulator} gives {left}, not the {set_v} it is set to.",
                    regulator=regulator,
                    left=Amount(left, "V"),
                    set_v=Amount(set_v, "V"),
                ),
                remedy=text(
                    "Set it to {floor:.1f} V or less, use more cells, or a regulator of lower drop-out.",
                    floor=math.floor(10.0 * left + 1e-06) / 10.0 - 0.1,
                ),
                sameness=of_part(
                    "regulator",
                    _name(path),
                    text(
                        "give {worst}{left} with the packs nearly empty, not the {set_v} they are set to",
                        left=Amount(left, "V"),
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
                        left,
                        "V",
                        "land-now volts - drop-out",
                        Input(text("land-now volts"), land, "V", Basis.TYPICAL),
                        Input(text("drop-out"), drop, "V", Basis.RATED),
                    ),
                    read("output set", set_v, "V"),
                ),
                criticality=Criticality.FLIGHT,
                margin=left / set_v,
            )


@rule(
    "receiver-bus-current",
    title="All current through the receiver's pins",
    levels=Level.CAUTION,
    flags=lambda: with_receiver(ex.giant(), bus_limit_a=5.0),
    passes=ex.giant,
)
def receiver_bus_current(case: Case) -> Flags:
    """
    Checks: total current at peak against the receiver's bus limit, where no power board stands between.
    Why: pins and tracks of the receiver heat and loosen.
    Can't tell when: nothing is asked; a receiver without a limit is passed over.
    Source: maker's rating
    Remedy: A power board that feeds the servos past the receiver.
    """
    total = case.peak.total_a
    board = any(
        path.regulator_type is not None and path.regulator_type.regulator is RegulatorKind.PASS
        for path in case.aircraft.radio_paths
    )
    if total is None or board:
        return
    for receiver in case.aircraft.receivers:
        limit = receiver.bus_limit_a
        if limit is not None and total.expected > limit:
            yield Flag(
                level=Level.CAUTION,
                about=(receiver.code,),
                message=text(
                    "Receiver {code} carries {total} at peak; its pins bear {limit}.",
                    code=receiver.code,
                    total=Amount(total.expected, "A"),
                    limit=Amount(limit, "A"),
                ),
                figures=(total, rated("bus current limit", limit, "A")),
                criticality=Criticality.FLIGHT,
                margin=limit / total.expected,
            )
