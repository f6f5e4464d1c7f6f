"""Switches and power plugs."""

from __future__ import annotations

from hangar.base.text import NOTHING, Amount, Text, plural, text
from hangar.parts import PowerPath
from hangar.parts.choices import AircraftClass, Criticality, SwitchKind
from hangar.rules import examples as ex
from hangar.rules.case import Case
from hangar.rules.changing import with_path
from hangar.rules.cures import Cure, Need, SupplyPart, Wants, Worse
from hangar.rules.current_rating import AT_PEAK, PathCurrents, overrun
from hangar.rules.finding import Level
from hangar.rules.flag import Flag, Flags, allowed, cant_tell, of_part, rated, value_of
from hangar.rules.registry import rule
from hangar.survey.figures import field_missing


def _switch(code: str) -> Text:
    """``switch SW-1``, and ``A switch`` when that is its name."""
    return text("{code}" if "switch" in code.lower() else "switch {code}", code=code)


@rule(
    "switch-current",
    title="Switch too small",
    levels=(Level.WARNING, Level.CAUTION),
    flags=lambda: with_path(ex.giant(), switch_type={"continuous_a": 2.0}),
    passes=ex.giant,
    cures=(Cure.SUPPLY, Cure.SERVO),
    worse=Worse.MORE_CURRENT,
)
def switch_current(case: Case) -> Flags:
    """
    Checks: the current of each power path against its switch: the mean of a flight above the continuous
        current is a warning, the mean of brisk flying a caution; the peak above the burst current is a
        caution, above twice of it a warning. Without a burst current one and a half times the continuous
        one is taken.
    Consequence: the contacts heat and open, and the radio is off in the air.
    Can't tell when: the switch's current, or the current of its path, is not known.
    Source: maker's rating; the share for the burst current common practice, no source
    Remedy: An electronic switch, one with contacts in parallel, or servos that draw less.
    """
    for path in case.aircraft.radio_paths:
        kind = path.switch_type
        if path.switch is None or kind is None:
            continue
        about = (path.switch.code,)
        if kind.continuous_a is None:
            lacks = field_missing(kind, "continuous_a")
            yield cant_tell(lacks, about=about, criticality=Criticality.FLIGHT)
            continue
        currents = PathCurrents.of_packs(case, path.feed.code)
        if currents.peak is None and case.peak.collapse is None:
            words = case.survey.supply.missing or (text("power path {code}: current", code=path.feed.code),)
            yield cant_tell(*words, about=about, criticality=Criticality.FLIGHT)
        excess = overrun(currents, kind.continuous_a, kind.burst_a)
        if excess is None:
            continue
        amps, word = excess.amps, excess.when
        yield Flag(
            level=excess.level,
            about=about,
            message=text(
                "{switch} carries {amps} {word}; {limit} is what it may.",
                switch=_switch(path.switch.code),
                amps=Amount(amps, "A"),
                word=word,
                limit=Amount(excess.limit, "A"),
            ),
            remedy=text(
                "A switch that may carry {amps} or more {word}.", amps=case.ample(amps, "A"), word=word
            ),
            need=Need(part="switch", quantity="burst current", value=amps, unit="A")
            if excess.when == AT_PEAK
            else Need(part="switch", quantity="continuous current", value=amps, unit="A"),
            sameness=of_part(
                "switch",
                path.switch.code,
                text(
                    "carry {worst}{amps} {word}; {limit} is what each may",
                    amps=Amount(amps, "A"),
                    word=word,
                    limit=Amount(excess.limit, "A"),
                ),
            ),
            detail=text("{code}, {switch}", code=kind.code, switch=kind.switch),
            figures=(*currents.known, rated("rated current", kind.continuous_a, "A")),
            criticality=Criticality.FLIGHT,
            margin=excess.limit / amps,
        )


@rule(
    "switch-single-giant",
    title="One switch, one fault away",
    levels=Level.CAUTION,
    flags=lambda: with_path(ex.giant(), "B", switch=ex.giant().paths[0].switch),
    passes=ex.giant,
    cures=(Cure.SUPPLY,),
    worse=Worse.SUPPLY,
    wants=Wants(part="switch", words=text("a second switch on a path of its own")),
    of_supply=frozenset({SupplyPart.PATHS}),
)
def switch_single_giant(case: Case) -> Flags:
    """
    Checks: whether giant-scale, turbine-jet and other heavy aircraft switch their radio by one switch
        alone, also where two packs run through it.
    Consequence: one contact that opens turns everything off.
    Can't tell when: nothing is asked; paths without a switch are passed over.
    Source: common practice, no source; the International Miniature Aircraft Association safety code
        recommends redundancy
    Remedy: A second switch on a path of its own.
    """
    heavy = case.mass_g is not None and case.mass_g > case.limit("second-pack-mass")
    if not (heavy or case.kind in (AircraftClass.GIANT, AircraftClass.JET_TURBINE)):
        return
    paths = case.aircraft.radio_paths
    codes = {path.switch.code for path in paths if path.switch is not None}
    if len(codes) == 1 and all(path.switch is not None for path in paths):
        packs = len(case.radio_packs)
        what = (
            text("{counted} run", counted=plural("{count:word} pack", "{count:word} packs", count=packs))
            if packs > 1
            else text("the radio runs")
        )
        yield Flag(
            level=Level.CAUTION,
            about=tuple(codes),
            message=text("{what} through {switch} alone", what=what, switch=_switch(next(iter(codes)))),
            criticality=Criticality.FLIGHT,
            rests_on=(packs,),
        )


@rule(
    "switch-old",
    title="Old slide switch",
    levels=Level.ADVISORY,
    flags=lambda: with_path(
        ex.trainer(), switch_type={"switch": SwitchKind.SLIDE}, switch={"fitted_on": ex.ago(2500)}
    ),
    passes=lambda: with_path(ex.trainer(), switch_type={"switch": SwitchKind.SLIDE}),
    cures=(Cure.SUPPLY,),
    worse=Worse.SUPPLY,
    wants=Wants(part="switch", words=text("a new switch, or an electronic one")),
)
def switch_old(case: Case) -> Flags:
    """
    Checks: slide switches past an age, or in an oily place.
    Consequence: the contact opens under vibration, and the radio is off in the air.
    Can't tell when: nothing is asked.
    Source: common practice, no source
    Remedy: Replace it.
    """
    limit = case.limit("switch-years")
    seen = set()
    for path in case.aircraft.paths:
        switch, kind = path.switch, path.switch_type
        if switch is None or kind is None or kind.switch is not SwitchKind.SLIDE or switch.code in seen:
            continue
        seen.add(switch.code)
        age = case.years_since(switch.fitted_on) if switch.fitted_on else None
        if age is not None and age > limit:
            words = text("is {age:.1f} years old", age=age)
        elif switch.oily_place:
            words = text("sits in an oily place")
        else:
            continue
        yield Flag(
            level=Level.ADVISORY,
            about=(switch.code,),
            message=text("The slide {switch} {words}.", switch=_switch(switch.code), words=words),
            criticality=Criticality.FLIGHT,
            rests_on=(str(switch.fitted_on), bool(switch.oily_place)),
        )


_SERVO_PLUGS = ("3-pin", "3 pin", "three-pin", "three pin", "servo")


def _has_servo_plug(path: PowerPath) -> bool:
    """Whether a pack of the path is said to end in the plug of a servo."""
    plugs = [(fed.pack_type.connector or "").lower() for fed in path.packs]
    return any(word in plug for plug in plugs for word in _SERVO_PLUGS)


@rule(
    "connector-current",
    title="Power plug overrun",
    levels=(Level.WARNING, Level.CAUTION),
    flags=lambda: with_path(ex.giant(), feed={"joint_limit_a": 2.0, "parallel_leads": 1}),
    passes=ex.giant,
    cures=(Cure.SUPPLY, Cure.SERVO),
    worse=Worse.MORE_CURRENT,
    wants=Wants(
        part="plug",
        quantity="current",
        of=lambda case, flag: _plug_a(case, flag),
        unit="A",
        words=lambda value: text("plugs that may carry {value}", value=value),
    ),
)
def connector_current(case: Case) -> Flags:
    """
    Checks: the current through the plugs between pack and bus against their limit: the mean of a flight
        above a share of it is a warning, the mean of brisk flying a caution; the peak above one and a half
        times the limit is a caution, above three times a warning. Where the limit is not entered and the
        pack has a three-pin plug, that of such a plug is taken, and the most is a caution.
    Consequence: the plug heats and loses its grip, and the radio is off in the air.
    Can't tell when: the limit is not entered, nothing says that it is a three-pin plug, and the current is
        more than one of those carries.
    Source: common practice, no source
    Remedy: Feeds side by side, a heavier plug, or servos that draw less.
    """
    for path in case.aircraft.radio_paths:
        if path.feed.joints == 0:
            continue
        known = path.feed.joint_limit_a is not None
        rating = (path.feed.joint_limit_a or case.limit("plug-current")) * path.feed.parallel_leads
        currents = PathCurrents.of_packs(case, path.feed.code)
        excess = overrun(currents, rating, None, case.limit("plug-mean-share"))
        if excess is None:
            continue
        if not (known or _has_servo_plug(path)):
            lacks = field_missing(path.feed, "joint_limit_a")
            yield cant_tell(lacks, about=(path.feed.code,), criticality=Criticality.FLIGHT)
            continue
        amps, limit, word = excess.amps, excess.limit, excess.when
        yield Flag(
            level=excess.level if known else Level.CAUTION,
            about=(path.feed.code, *(fed.pack.tag for fed in path.packs)),
            message=text(
                "The plugs of power path {code} carry {amps} {word}; {limit} is the limit{of_plug}.",
                code=path.feed.code,
                amps=Amount(amps, "A"),
                word=word,
                limit=Amount(limit, "A"),
                of_plug=NOTHING if known else text(" of a three-pin plug"),
            ),
            sameness=of_part(
                "plug",
                path.feed.code,
                text(
                    "carry {worst}{amps} {word}; {limit} is the limit",
                    amps=Amount(amps, "A"),
                    word=word,
                    limit=Amount(limit, "A"),
                ),
            ),
            figures=(*currents.known, allowed("limit", limit, "A")),
            criticality=Criticality.FLIGHT,
            margin=limit / amps,
        )


def _plug_a(_case: Case, flag: Flag) -> float | None:
    """The current that the plugs are asked for."""
    limit = value_of(flag, "limit")
    return limit / flag.margin if limit is not None and flag.margin else None
