"""Packs too small or too weak in current for what hangs on them."""

from __future__ import annotations

from hangar.base.text import NOTHING, Amount, Text, plural, text
from hangar.parts import FedPack, PowerPath
from hangar.parts.choices import AircraftClass, Criticality, FeedRole, PackJoin
from hangar.rules import examples as ex
from hangar.rules.case import Case
from hangar.rules.changing import with_airframe, with_pack
from hangar.rules.consequences import dies_before_landing
from hangar.rules.cures import Cure, Need, SupplyPart, Wants, Worse
from hangar.rules.current_rating import AT_PEAK, PathCurrents, overrun
from hangar.rules.finding import Level
from hangar.rules.flag import Flag, Flags, allowed, cant_tell, rated, worked
from hangar.rules.registry import rule
from hangar.rules.words import packs
from hangar.survey.figures import field_missing


def _tags(case: Case) -> tuple[str, ...]:
    return tuple(fed.pack.tag for fed in case.radio_packs)


def _supply_missing(case: Case) -> tuple[Text, ...]:
    return case.survey.supply.missing or (case.lacks("power path"),)


@rule(
    "pack-too-small",
    title="Endurance too short",
    levels=(Level.WARNING, Level.CAUTION),
    flags=lambda: with_airframe(ex.trainer(), flight_min=90.0),
    passes=ex.trainer,
    cures=(Cure.SUPPLY, Cure.SERVO),
    worse=Worse.MORE_MEAN,
    of_supply=frozenset({SupplyPart.PACK, SupplyPart.REGULATOR}),
)
def pack_too_small(case: Case) -> Flags:
    """
    Checks: endurance of the radio's packs at the mean current against the planned flights of one charge;
        measured capacity where there is one, else a share of the label. A radio that lives on a drive pack
        is left out: how long that lasts is the motor's affair.
    Consequence: the pack is empty before the last landing, and every control is lost.
    Can't tell when: capacity, currents or the planned flight are not known.
    Source: charge divided by mean current; factors common practice, no source
    Remedy: A bigger pack, servos that draw less, or fewer flights on one charge.
    """
    minutes, flights = case.airframe.flight_min, case.airframe.flights_per_charge or 1
    driven = any(path.feed.role is FeedRole.DRIVE for path in case.aircraft.radio_paths)
    if not case.servos or driven:
        return
    endurance = case.survey.supply.endurance_min
    if minutes is None:
        yield cant_tell(field_missing(case.airframe, "flight_min"), criticality=Criticality.FLIGHT)
    if endurance is None:
        yield cant_tell(*_supply_missing(case), about=_tags(case), criticality=Criticality.FLIGHT)
    if minutes is None or endurance is None:
        return
    wanted = minutes * flights
    for level, name in ((Level.WARNING, "endurance-warn"), (Level.CAUTION, "endurance-look")):
        factor = case.limit(name)
        if endurance.expected < factor * wanted:
            amount = Amount(minutes, "min")
            asked = (
                plural(
                    "{count:word} flight of {one} on one charge asks for",
                    "{count:word} flights of {one} on one charge ask for",
                    count=flights,
                    one=amount,
                )
                if flights > 1
                else text("a flight of {one} on one charge asks for", one=amount)
            )
            label = sum(fed.pack_type.capacity_mah for fed in case.radio_packs)
            more = label * factor * wanted / endurance.expected
            fewer = int(endurance.expected / (factor * minutes))
            or_fewer = (
                text(
                    ", or {counted} on one charge",
                    counted=plural("{count:word} flight", "{count:word} flights", count=fewer),
                )
                if fewer
                else NOTHING
            )
            yield Flag(
                level=level,
                about=_tags(case),
                message=text(
                    "The radio lasts {endurance}; {asked} {factor}.",
                    endurance=Amount(endurance.expected, "min", 2),
                    asked=asked,
                    factor=Amount(factor * wanted, "min", 2),
                ),
                consequence=dies_before_landing(endurance.expected, wanted),
                detail=text(
                    "{endurance:.1f} times the planned time; {factor:g} times is wanted",
                    endurance=endurance.expected / wanted,
                    factor=factor,
                ),
                remedy=text(
                    "Packs of {more} on the label{or_fewer}.", more=case.ample(more, "mAh"), or_fewer=or_fewer
                ),
                need=Need(part="pack", quantity="capacity", value=more, unit="mAh"),
                figures=(
                    endurance,
                    worked("planned time", wanted, "min", "flights on one charge x planned flight"),
                ),
                criticality=Criticality.FLIGHT,
                margin=endurance.expected / wanted,
            )
            return


def giant_table_mah(case: Case, mass_g: float) -> float:
    """Least pack of the giant-scale table for a mass."""
    for band in (1, 2, 3):
        if mass_g <= case.limit(f"giant-pack-mass-{band}"):
            return case.limit(f"giant-pack-{band}")
    return case.limit("giant-pack-4")


@rule(
    "pack-below-giant-table",
    title="Pack below the giant-scale table",
    levels=Level.CAUTION,
    flags=lambda: with_pack(ex.giant(), pack_type={"capacity_mah": 400.0}, pack={"capacity_mah": 380.0}),
    passes=ex.giant,
    cures=(Cure.SUPPLY,),
    worse=Worse.SUPPLY,
    wants=Wants(
        part="pack",
        quantity="capacity",
        of="least capacity",
        words=lambda value: text("packs of at least {value} together", value=value),
    ),
    of_supply=frozenset({SupplyPart.PACK}),
)
def pack_below_giant_table(case: Case) -> Flags:
    """
    Checks: rated capacity of the radio's packs together against the table for the mass.
    Consequence: the pack is smaller than the code of giant-scale flyers asks.
    Can't tell when: the all-up mass is not known.
    Source: International Miniature Aircraft Association safety code: 1000, 1200, 1800 and 2000 mAh up to
        20, 30, 40 lb and above
    Remedy: A bigger pack.
    """
    if case.kind is not AircraftClass.GIANT or not case.radio_packs:
        return
    if case.mass_g is None:
        yield cant_tell(field_missing(case.airframe, "all_up_mass_g"), criticality=Criticality.FLIGHT)
        return
    least = giant_table_mah(case, case.mass_g)
    label = sum(fed.pack_type.capacity_mah for fed in case.radio_packs)
    if label < least:
        measured = [fed.pack.capacity_mah for fed in case.radio_packs if fed.pack.capacity_mah is not None]
        note = (
            text("measured {sum}", sum=Amount(sum(measured), "mAh")) if measured else text("never measured")
        )
        yield Flag(
            level=Level.CAUTION,
            about=_tags(case),
            message=text(
                "{packs} {label}; the giant-scale table asks for {least} at {mass_g}",
                packs=packs(_tags(case), "has", "have"),
                label=Amount(label, "mAh"),
                least=Amount(least, "mAh"),
                mass_g=Amount(case.mass_g / 1000, "kg"),
            ),
            remedy=text("A pack of {least} or more.", least=Amount(least, "mAh")),
            detail=text("{mass_g:.1f} lb; {found}", mass_g=case.mass_g / 453.59237, found=note),
            figures=(rated("rated capacity", label, "mAh"), allowed("least capacity", least, "mAh")),
            criticality=Criticality.FLIGHT,
            margin=label / least,
        )


@rule(
    "pack-below-one-hour",
    title="Less than one hour of radio",
    levels=Level.CAUTION,
    flags=lambda: with_pack(ex.giant(), pack_type={"capacity_mah": 400.0}, pack={"capacity_mah": 380.0}),
    passes=ex.giant,
    cures=(Cure.SUPPLY, Cure.SERVO),
    worse=Worse.MORE_MEAN,
    wants=Wants(
        part="pack",
        quantity="capacity",
        of=lambda case, flag: _enough_mah(case, flag),
        unit="mAh",
        words=lambda value: text("packs of at least {value} together", value=value),
    ),
    of_supply=frozenset({SupplyPart.PACK, SupplyPart.REGULATOR}),
)
def pack_below_one_hour(case: Case) -> Flags:
    """
    Checks: endurance of the radio of a giant-scale aircraft against one hour.
    Consequence: the radio lasts less than the code of giant-scale flyers asks.
    Can't tell when: nothing is asked; the check of the endurance asks for what it needs.
    Source: International Miniature Aircraft Association safety code
    Remedy: A bigger pack, or servos that draw less.
    """
    endurance = case.survey.supply.endurance_min
    least = case.limit("giant-hour")
    if case.kind is AircraftClass.GIANT and endurance is not None and endurance.expected < least:
        yield Flag(
            level=Level.CAUTION,
            about=_tags(case),
            message=text(
                "The radio lasts {endurance}; the giant-scale code asks for {least}.",
                endurance=Amount(endurance.expected, "min", 2),
                least=Amount(least, "min"),
            ),
            figures=(endurance, allowed("least endurance", least, "min")),
            criticality=Criticality.FLIGHT,
            margin=endurance.expected / least,
        )


def _limit_a(path: PowerPath, name: str) -> tuple[float | None, FedPack | None]:
    """A current rating of the packs of a path together, or the pack that lacks it."""
    ratings = []
    for fed in path.packs:
        rating = getattr(fed.pack_type, name)
        if rating is None:
            return None, fed
        ratings.append(rating)
    if not ratings:
        return None, None
    return (sum(ratings) if path.feed.join is PackJoin.PLAIN_Y else min(ratings)), None


@rule(
    "discharge-rate-short",
    title="Pack cannot give the peak current",
    levels=(Level.WARNING, Level.CAUTION),
    flags=lambda: with_pack(ex.trainer(), pack_type={"continuous_a": 0.4, "burst_a": 0.5}),
    passes=ex.trainer,
    cures=(Cure.SUPPLY, Cure.SERVO),
    worse=Worse.MORE_CURRENT,
)
def discharge_rate_short(case: Case) -> Flags:
    """
    Checks: the current out of each power path's packs against their ratings: the mean of a flight above a
        share of the continuous current is a warning, the mean of brisk flying a caution; the peak above
        the burst current is a caution, above twice of it a warning. Without a burst current one and a half
        times the continuous one is taken.
    Consequence: the pack lets the volts fall when the servos pull, and wears out.
    Can't tell when: the pack's currents or the currents of the servos are not known.
    Source: maker's rating; shares common practice, no source
    Remedy: A pack of lower resistance, two packs, or servos that draw less.
    """
    for path in case.aircraft.radio_paths:
        if not path.packs:
            continue
        about = tuple(fed.pack.tag for fed in path.packs)
        burst, lacks_burst = _limit_a(path, "burst_a")
        steady, lacks_steady = _limit_a(path, "continuous_a")
        for field, fed in (("burst_a", lacks_burst), ("continuous_a", lacks_steady)):
            if fed is not None:
                lacks = field_missing(fed.pack_type, field)
                yield cant_tell(lacks, about=about, criticality=Criticality.FLIGHT)
        currents = PathCurrents.of_packs(case, path.feed.code)
        if currents.peak is None and case.peak.collapse is None:
            yield cant_tell(*_supply_missing(case), about=about, criticality=Criticality.FLIGHT)
        excess = overrun(currents, steady, burst, case.limit("mean-current-share"))
        if excess is None:
            continue
        level, amps, limit, words = excess.level, excess.amps, excess.limit, excess.when
        volts = case.peak.bus_v
        yield Flag(
            level=level,
            about=about,
            message=text(
                "{packs} asked for {amps} {words}; the limit is {limit}",
                packs=packs(about, "is", "are"),
                amps=Amount(amps, "A"),
                words=words,
                limit=Amount(limit, "A"),
            ),
            remedy=text(
                "A pack that may give {amps} or more {words}, or two packs.",
                amps=case.ample(amps, "A"),
                words=words,
            ),
            detail=text("bus {volts} at peak current", volts=Amount(volts.expected, "V"))
            if volts is not None
            else NOTHING,
            figures=(*currents.known, rated("current allowed", limit, "A")),
            need=Need(
                part="pack",
                quantity="burst current" if words == AT_PEAK else "continuous current",
                value=amps,
                unit="A",
            ),
            criticality=Criticality.FLIGHT,
            margin=limit / amps,
        )


def _enough_mah(case: Case, flag: Flag) -> float | None:
    """The capacity on the label with which the radio lasts as long as is asked for."""
    label = sum(fed.pack_type.capacity_mah for fed in case.radio_packs)
    return label / flag.margin if flag.margin else None
