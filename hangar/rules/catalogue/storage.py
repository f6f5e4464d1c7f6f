"""Packs in store, in the cold and on a journey."""

from __future__ import annotations

from datetime import date

from hangar.base.figure import Input
from hangar.base.text import Amount, text
from hangar.parts import FedPack
from hangar.parts.choices import Chemistry, Criticality
from hangar.physics.pack import CELLS
from hangar.physics.pack import Chemistry as CellChemistry
from hangar.physics.pack_charge import state_of_charge
from hangar.rules import examples as ex
from hangar.rules.case import Case
from hangar.rules.changing import with_pack
from hangar.rules.cures import Worse
from hangar.rules.finding import Level
from hangar.rules.flag import Flag, Flags, allowed, cant_tell, of_part, read, worked
from hangar.rules.registry import Scene, rule
from hangar.rules.supply_volts import pack_v
from hangar.survey.figures import field_missing


def _resting_cell_v(fed: FedPack) -> float | None:
    return fed.pack.rest_v / fed.pack_type.series if fed.pack.rest_v is not None else None


def _standing_since(fed: FedPack) -> date | None:
    """The last charge when the reading came after it, else the day of the reading."""
    charged, read_on = fed.pack.charged_on, fed.pack.rest_on
    return charged if charged is not None and read_on is not None and charged <= read_on else read_on


def _suffix(fed: FedPack) -> str:
    return "-life" if fed.pack_type.chemistry is Chemistry.LIFEPO4 else ""


@rule(
    "storage-full",
    title="Lithium pack stored full",
    levels=Level.CAUTION,
    flags=lambda: with_pack(
        ex.helicopter(), pack={"rest_v": 8.32, "rest_on": ex.ago(34), "charged_on": ex.ago(34)}
    ),
    passes=lambda: with_pack(
        ex.helicopter(), pack={"rest_v": 7.65, "rest_on": ex.ago(34), "charged_on": ex.ago(34)}
    ),
    laid_up=True,
    cures=(),
    worse=Worse.SUPPLY,
)
def storage_full(case: Case) -> Flags:
    """
    Checks: resting volts per cell of lithium packs and the days since they were read or charged.
    Consequence: the pack ages fast and swells.
    Can't tell when: nothing is asked; resting volts are no vital figure.
    Source: common practice, no source
    Remedy: Run it down to storage volts, 3.8 V a cell (LiFePO4 3.3 V).
    """
    most_days = case.limit("storage-full-days")
    for fed in case.packs:
        volts, since = _resting_cell_v(fed), _standing_since(fed)
        if volts is None or since is None or fed.pack_type.chemistry.is_nickel:
            continue
        limit = case.limit(f"storage-full-cell{_suffix(fed)}")
        days = case.days_since(since)
        if volts > limit and days > most_days:
            yield Flag(
                level=Level.CAUTION,
                about=(fed.pack.tag,),
                message=text(
                    "Pack {tag} has stood full for {days} days, {volts} a cell.",
                    tag=fed.pack.tag,
                    days=days,
                    volts=Amount(volts, "V"),
                ),
                sameness=of_part(
                    "pack",
                    fed.pack.tag,
                    text("have stood full for {worst}{days} days", days=days),
                    text("{volts} a cell for {days} days", volts=Amount(volts, "V"), days=days),
                ),
                figures=(
                    read("resting volts a cell", volts, "V"),
                    allowed("limit", limit, "V"),
                ),
                criticality=Criticality.SAFETY,
                rests_on=(str(since), fed.pack.rest_v or 0.0),
            )


@rule(
    "storage-low",
    title="Lithium pack stored too low",
    levels=(Level.WARNING, Level.CAUTION),
    flags=lambda: with_pack(ex.helicopter(), pack={"rest_v": 5.8, "rest_on": ex.ago(1)}),
    passes=lambda: with_pack(ex.helicopter(), pack={"rest_v": 7.65, "rest_on": ex.ago(1)}),
    laid_up=True,
    cures=(),
    worse=Worse.SUPPLY,
)
def storage_low(case: Case) -> Flags:
    """
    Checks: resting volts per cell of lithium packs against two lower limits.
    Consequence: damaged cells may short when they are charged.
    Can't tell when: nothing is asked; resting volts are no vital figure.
    Source: common practice, no source; the maker's sheet governs
    Remedy: Follow the maker's sheet; retire a pack that stood below the lower limit.
    """
    for fed in case.packs:
        volts = _resting_cell_v(fed)
        if volts is None or fed.pack_type.chemistry.is_nickel:
            continue
        for level, name in ((Level.WARNING, "storage-low-warn"), (Level.CAUTION, "storage-low-look")):
            limit = case.limit(name + _suffix(fed))
            if volts < limit:
                yield Flag(
                    level=level,
                    about=(fed.pack.tag,),
                    message=text(
                        "Pack {tag} rests at {volts} a cell; {limit} is the lower limit.",
                        tag=fed.pack.tag,
                        volts=Amount(volts, "V"),
                        limit=Amount(limit, "V"),
                    ),
                    sameness=of_part(
                        "pack",
                        fed.pack.tag,
                        text(
                            "rest {worst}at {volts} a cell; {limit} is the lower limit",
                            volts=Amount(volts, "V"),
                            limit=Amount(limit, "V"),
                        ),
                        text("{volts} a cell", volts=Amount(volts, "V")),
                    ),
                    figures=(
                        read("resting volts a cell", volts, "V"),
                        allowed("limit", limit, "V"),
                    ),
                    criticality=Criticality.SAFETY,
                    margin=volts / limit,
                )
                break


@rule(
    "ni-refresh-due",
    title="Nickel pack not exercised",
    levels=Level.ADVISORY,
    flags=lambda: with_pack(ex.trainer(), pack={"capacity_on": ex.ago(200)}),
    passes=lambda: with_pack(ex.trainer(), pack={"capacity_on": ex.ago(30)}),
    laid_up=True,
    cures=(),
    worse=Worse.SUPPLY,
)
def ni_refresh_due(case: Case) -> Flags:
    """
    Checks: days since a nickel pack's capacity was last measured, which is a full cycle.
    Consequence: the pack loses capacity and hides it.
    Can't tell when: nothing is asked; a pack that was never measured is not judged.
    Source: common practice, no source
    Remedy: Cycle it and enter the measured capacity.
    """
    limit = case.limit("refresh-days")
    for fed in case.packs:
        days = [test.tested_on for test in fed.capacity_tests]
        days += [fed.pack.capacity_on] if fed.pack.capacity_on else []
        if not fed.pack_type.chemistry.is_nickel or not days:
            continue
        since = case.days_since(max(days))
        if since > limit:
            yield Flag(
                level=Level.ADVISORY,
                about=(fed.pack.tag,),
                message=text(
                    "Pack {tag} was last cycled {since} days ago; {limit:g} days is the limit.",
                    tag=fed.pack.tag,
                    since=since,
                    limit=limit,
                ),
                sameness=of_part(
                    "pack",
                    fed.pack.tag,
                    text("were not cycled for {limit:g} days", limit=limit),
                    text("{since} days ago", since=since),
                ),
                criticality=Criticality.SAFETY,
                rests_on=(str(max(days)),),
            )


@rule(
    "cold-pack",
    title="Cold pack gives less",
    levels=Level.ADVISORY,
    flags=lambda: Scene(ex.trainer(), ex.cold_day()),
    passes=ex.trainer,
    field_only=True,
    cures=(),
    worse=Worse.SUPPLY,
)
def cold_pack(case: Case) -> Flags:
    """
    Checks: the day's air temperature against the one below which a chemistry gives less; on a flying day.
    Consequence: the volts fall further under load until the pack is warm.
    Can't tell when: never.
    Source: common practice, no source
    Remedy: Keep the pack warm until the flight; look at the cold load case.
    """
    air = case.conditions.air_c
    for fed in case.radio_packs:
        limit = case.limit("cold-nickel" if fed.pack_type.chemistry.is_nickel else "cold-lithium")
        if air < limit:
            yield Flag(
                level=Level.ADVISORY,
                about=(fed.pack.tag,),
                message=text(
                    "Pack {tag} ({chemistry}) gives less at {air}.",
                    tag=fed.pack.tag,
                    chemistry=fed.pack_type.chemistry,
                    air=Amount(air, "C"),
                ),
                sameness=of_part("pack", fed.pack.tag, text("give less at {air}", air=Amount(air, "C"))),
                figures=(read("air", air, "C"), allowed("limit", limit, "C")),
                criticality=Criticality.FLIGHT,
            )


@rule(
    "transport-soc",
    title="Too full to be shipped by air",
    levels=Level.CAUTION,
    flags=lambda: with_pack(ex.helicopter(), pack={"ship_by_air": True, "rest_v": 7.9, "rest_on": ex.ago(0)}),
    passes=lambda: with_pack(
        ex.helicopter(), pack={"ship_by_air": True, "rest_v": 7.4, "rest_on": ex.ago(0)}
    ),
    laid_up=True,
    cures=(),
    worse=Worse.SUPPLY,
)
def transport_soc(case: Case) -> Flags:
    """
    Checks: lithium packs that are to be shipped by air: charge by their resting volts against the greatest
        share of it that may be shipped. Where volts show no more than edges, the higher edge counts.
    Consequence: the carrier refuses it; a pack that shorts burns the more fiercely the fuller it is.
    Can't tell when: its resting volts are not known.
    Source: ICAO Technical Instructions and IATA lithium battery guidance, editions of 2016 to 2024: 30 %;
        charge from resting volts as in the survey
    Remedy: Run it down, let it rest an hour, and read its volts again.
    """
    most = case.limit("ship-charge")
    for fed in case.packs:
        volts = _resting_cell_v(fed)
        if not fed.pack.ship_by_air or fed.pack_type.chemistry.is_nickel:
            continue
        if volts is None:
            yield cant_tell(field_missing(fed.pack, "rest_v"), about=(fed.pack.tag,))
            continue
        full = _charge_pct(fed, volts)
        if full > most:
            yield Flag(
                level=Level.CAUTION,
                about=(fed.pack.tag,),
                message=text(
                    "Pack {tag} is to be shipped by air and holds about {full:.0f} % of its charge; "
                    "{most:g} % is the limit.",
                    tag=fed.pack.tag,
                    full=full,
                    most=most,
                ),
                detail=text("{volts} a cell at rest", volts=Amount(volts, "V")),
                figures=(
                    worked("charge", full, "%", "by resting volts", Input(text("cell at rest"), volts, "V")),
                    allowed("limit", most, "%"),
                ),
                criticality=Criticality.SAFETY,
                margin=most / full,
            )


def _charge_pct(fed: FedPack, cell_v: float) -> float:
    chemistry = CellChemistry(fed.pack_type.chemistry.value)
    highest = CELLS[chemistry].charge_limit_v
    reading = state_of_charge(chemistry, min(max(cell_v, 0.1), highest))
    return 100.0 * (reading.high if reading.expected is None else reading.expected)


@rule(
    "transport-wh",
    title="Watt-hours matter when travelling by air",
    levels=Level.ADVISORY,
    flags=lambda: with_pack(
        ex.helicopter(), pack_type={"capacity_mah": 15000.0}, pack={"capacity_mah": None}
    ),
    passes=ex.helicopter,
    cures=(),
    worse=Worse.SUPPLY,
)
def transport_wh(case: Case) -> Flags:
    """
    Checks: energy of each lithium pack against the airlines' limits for spares in the cabin.
    Consequence: it may be taken from you at the airport.
    Can't tell when: never.
    Source: ICAO Technical Instructions and IATA lithium battery guidance, editions of 2016 to 2024
    Remedy: Ask the airline, or have it shipped as cargo by a trained shipper.
    """
    free, most = case.limit("travel-free"), case.limit("travel-limit")
    for fed in case.packs:
        if fed.pack_type.chemistry.is_nickel:
            continue
        energy = pack_v(fed, "nominal_v") * fed.pack_type.capacity_mah / 1000.0
        if energy <= free:
            continue
        rest = (
            text("the airline must agree, and two spares are the most")
            if energy <= most
            else text("that may not travel in baggage")
        )
        yield Flag(
            level=Level.ADVISORY,
            about=(fed.pack.tag,),
            message=text(
                "Pack {tag} holds {energy}: when you travel by air, {rest}.",
                tag=fed.pack.tag,
                energy=Amount(energy, "Wh"),
                rest=rest,
            ),
            sameness=of_part(
                "pack",
                fed.pack.tag,
                text(
                    "hold {energy} each: when you travel by air, {rest}",
                    energy=Amount(energy, "Wh"),
                    rest=rest,
                ),
            ),
            figures=(
                worked(
                    "energy",
                    energy,
                    "Wh",
                    "nominal volts x rated capacity",
                    Input(text("nominal volts"), pack_v(fed, "nominal_v"), "V"),
                    Input(text("rated capacity"), fed.pack_type.capacity_mah, "mAh"),
                ),
            ),
        )
