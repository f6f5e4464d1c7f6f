"""Charging: too fast, wrong, in the model, or too long ago."""

from __future__ import annotations

from collections.abc import Iterator

from hangar.base.text import Amount, text
from hangar.parts import Charge, FedPack
from hangar.parts.choices import Chemistry, Criticality
from hangar.rules import examples as ex
from hangar.rules.case import Case
from hangar.rules.changing import with_pack
from hangar.rules.cures import Cure, Wants, Worse
from hangar.rules.finding import Level
from hangar.rules.flag import Flag, Flags, cant_tell, of_part, rated, read
from hangar.rules.registry import rule
from hangar.rules.supply_volts import cell_of
from hangar.survey.figures import field_missing

_SAME_MODE = {
    "lion": Chemistry.LI_ION, "liion": Chemistry.LI_ION, "lipo": Chemistry.LIPO, "lihv": Chemistry.LIHV,
    "life": Chemistry.LIFEPO4, "lifepo4": Chemistry.LIFEPO4, "nicd": Chemistry.NICD, "nimh": Chemistry.NIMH,
    "nimhlsd": Chemistry.NIMH_LSD,
}  # fmt: skip


def last_charge(fed: FedPack) -> Charge | None:
    """The newest charge of a pack, given or planned."""
    return max(fed.charges, key=lambda charge: charge.charged_at, default=None)


def _charges(case: Case) -> Iterator[tuple[FedPack, Charge]]:
    for fed in case.packs:
        charge = last_charge(fed)
        if charge is not None:
            yield fed, charge


@rule(
    "charge-too-fast",
    title="Charge rate above the rating",
    levels=Level.WARNING,
    flags=lambda: with_pack(ex.trainer(), charges=ex.charged(charge_a=5.0)),
    passes=lambda: with_pack(ex.trainer(), charges=ex.charged(charge_a=1.0)),
    cures=(),
    worse=Worse.SUPPLY,
)
def charge_too_fast(case: Case) -> Flags:
    """
    Checks: current of the newest charge, given or planned, against the pack's greatest charge rate.
    Consequence: the pack heats, vents or burns.
    Can't tell when: a charge is on record and the pack type has no greatest rate.
    Source: maker's rating
    Remedy: Charge with less current.
    """
    for fed, charge in _charges(case):
        if charge.charge_a is None:
            continue
        rate = fed.pack_type.charge_c
        if rate is None:
            yield cant_tell(
                field_missing(fed.pack_type, "charge_c"),
                about=(fed.pack.tag,),
                criticality=Criticality.SAFETY,
            )
            continue
        limit = rate * fed.pack_type.capacity_mah / 1000.0
        if charge.charge_a > limit * 1.001:
            yield Flag(
                level=Level.WARNING,
                about=(fed.pack.tag,),
                message=text(
                    "Pack {tag} is charged with {charge_a}; {limit} ({rate:g} C) is its limit.",
                    tag=fed.pack.tag,
                    charge_a=Amount(charge.charge_a, "A"),
                    limit=Amount(limit, "A"),
                    rate=rate,
                ),
                remedy=text("Charge it with {limit} or less.", limit=Amount(limit, "A")),
                figures=(read("charge current", charge.charge_a, "A"), rated("limit", limit, "A")),
                criticality=Criticality.SAFETY,
                margin=limit / charge.charge_a,
            )


def _mode(text: str) -> Chemistry | None:
    return _SAME_MODE.get("".join(sign for sign in text.lower() if sign.isalnum()))


@rule(
    "charge-wrong-chemistry",
    title="Charger mode not for this pack",
    levels=Level.WARNING,
    flags=lambda: with_pack(ex.trainer(), charges=ex.charged(mode="LiPo")),
    passes=lambda: with_pack(ex.trainer(), charges=ex.charged(mode="NiMH")),
    cures=(),
    worse=Worse.SUPPLY,
)
def charge_wrong_chemistry(case: Case) -> Flags:
    """
    Checks: the mode the charger is set to in the newest charge against the pack's chemistry; both kinds
        of nickel-metal hydride share a mode, as do lithium polymer and lithium ion.
    Consequence: the charge ends at wrong volts and the pack may burn.
    Can't tell when: nothing is asked; a mode in words that are not known is passed over.
    Source: Academy of Model Aeronautics Safety Committee, announcement on lithium batteries, 23 April 2004
    Remedy: Set the charger to the pack's chemistry and cell count.
    """
    alike = ({Chemistry.NIMH, Chemistry.NIMH_LSD}, {Chemistry.LIPO, Chemistry.LI_ION})
    for fed, charge in _charges(case):
        mode = _mode(charge.mode or "")
        chemistry = fed.pack_type.chemistry
        if mode is None or mode is chemistry or any({mode, chemistry} <= pair for pair in alike):
            continue
        yield Flag(
            level=Level.WARNING,
            about=(fed.pack.tag,),
            message=text(
                "Pack {tag} is {chemistry}; the charger is set to {mode}.",
                tag=fed.pack.tag,
                chemistry=chemistry,
                mode=charge.mode,
            ),
            criticality=Criticality.SAFETY,
            rests_on=(chemistry.value, charge.mode or ""),
        )


@rule(
    "charge-volts-per-cell",
    title="End volts too high",
    levels=Level.WARNING,
    flags=lambda: with_pack(ex.helicopter(), charges=ex.charged("EX11", end_v=8.6)),
    passes=lambda: with_pack(ex.helicopter(), charges=ex.charged("EX11", end_v=8.4)),
    cures=(Cure.SUPPLY,),
    worse=Worse.SUPPLY,
    wants=Wants(
        part="pack",
        quantity="charged volts a cell",
        of="full cell",
        at_most=True,
        words=lambda value: text("a pack that was never charged to more than {value} a cell", value=value),
    ),
)
def charge_volts_per_cell(case: Case) -> Flags:
    """
    Checks: end volts of the newest charge of a lithium pack, per cell, against a full cell.
    Consequence: the overcharged cells swell and can burn.
    Can't tell when: nothing is asked.
    Source: cell volts by chemistry, common practice, the maker's sheet governs
    Remedy: Do not use the pack; look at charger and cell count.
    """
    for fed, charge in _charges(case):
        if charge.end_v is None or fed.pack_type.chemistry.is_nickel:
            continue
        full = cell_of(fed.pack_type).full_v
        volts = charge.end_v / fed.pack_type.series
        if volts > full + case.limit("charge-over-full") + 1e-9:
            yield Flag(
                level=Level.WARNING,
                about=(fed.pack.tag,),
                message=text(
                    "Pack {tag} was charged to {volts} a cell; full is {full}.",
                    tag=fed.pack.tag,
                    volts=Amount(volts, "V"),
                    full=Amount(full, "V"),
                ),
                figures=(read("end volts a cell", volts, "V"), read("full cell", full, "V")),
                criticality=Criticality.SAFETY,
                margin=full / volts,
            )


@rule(
    "charged-in-model",
    title="Lithium pack charged in the aircraft",
    levels=Level.CAUTION,
    flags=lambda: with_pack(ex.helicopter(), charges=ex.charged("EX11", in_model=True)),
    passes=lambda: with_pack(ex.trainer(), charges=ex.charged(in_model=True)),
    cures=(),
    worse=Worse.SUPPLY,
)
def charged_in_model(case: Case) -> Flags:
    """
    Checks: whether the newest charge of a lithium pack was given in the aircraft.
    Consequence: a pack that burns takes the aircraft with it.
    Can't tell when: nothing is asked.
    Source: Academy of Model Aeronautics Safety Committee, announcement on lithium batteries, 23 April 2004
    Remedy: Take it out and charge it in a fireproof place.
    """
    for fed, charge in _charges(case):
        if charge.in_model and fed.pack_type.chemistry.is_lithium:
            yield Flag(
                level=Level.CAUTION,
                about=(fed.pack.tag,),
                message=text("Pack {tag} is charged in the aircraft; take it out.", tag=fed.pack.tag),
                sameness=of_part("pack", fed.pack.tag, text("are charged in the aircraft; take them out")),
                criticality=Criticality.SAFETY,
                rests_on=(str(charge.charged_at),),
            )


@rule(
    "unattended-charge",
    title="Stay with charging lithium packs",
    levels=Level.ADVISORY,
    flags=ex.helicopter,
    passes=ex.sailplane,
    reminder=True,
    cures=(),
    worse=Worse.FIXED,
)
def unattended_charge(case: Case) -> Flags:
    """
    Checks: whether the aircraft has lithium packs; printed on every charging card.
    Consequence: a pack that catches fire burns unseen.
    Can't tell when: never.
    Source: Academy of Model Aeronautics Safety Committee, announcement on lithium batteries, 23 April 2004
    Remedy: Stay with it, in a fireproof place, with nothing that burns near.
    """
    lithium = [fed.pack.tag for fed in case.packs if fed.pack_type.chemistry.is_lithium]
    if lithium:
        yield Flag(
            level=Level.ADVISORY,
            about=tuple(lithium),
            message=text(
                "Lithium packs: right mode, right cell count, fireproof place; never left alone on charge."
            ),
        )


def _charged_days(case: Case, fed: FedPack) -> int | None:
    days = [fed.pack.charged_on] if fed.pack.charged_on else []
    days += [charge.charged_at.date() for charge in fed.charges if charge.charged_at.date() <= case.today]
    return case.days_since(max(days)) if days else None


@rule(
    "charge-stale",
    title="Charge too old to fly on",
    levels=(Level.CAUTION, Level.ADVISORY),
    flags=lambda: with_pack(ex.trainer(), pack={"charged_on": ex.ago(90)}),
    passes=lambda: with_pack(ex.trainer(), pack={"charged_on": ex.ago(20)}),
    field_only=True,
    cures=(),
    worse=Worse.SUPPLY,
)
def charge_stale(case: Case) -> Flags:
    """
    Checks: days since the last charge, by chemistry. A caution on a flying day, an advisory at home.
    Consequence: the pack has less in it than its label says.
    Can't tell when: it is a flying day and no charge is on record.
    Source: common practice, no source
    Remedy: Charge or top up, then load-test.
    """
    for fed in case.tested_packs:
        days = _charged_days(case, fed)
        if days is None:
            if case.conditions.field_day:
                lacks = field_missing(fed.pack, "charged_on")
                yield cant_tell(lacks, about=(fed.pack.tag,), criticality=Criticality.FLIGHT)
            continue
        chemistry = fed.pack_type.chemistry
        if chemistry is Chemistry.NIMH_LSD:
            limit, top_up = case.limit("charge-days-lsd"), None
        elif chemistry.is_nickel:
            limit, top_up = case.limit("charge-days-nickel"), case.limit("top-up-days-nickel")
        else:
            limit, top_up = case.limit("charge-days-lithium"), None
        if days > limit:
            level, words = Level.CAUTION, text("{limit:g} days is the limit", limit=limit)
        elif top_up is not None and days > top_up:
            level, words = Level.ADVISORY, text("it has lost charge since")
        else:
            continue
        yield Flag(
            level=level,
            about=(fed.pack.tag,),
            message=text(
                "Pack {tag} ({chemistry}) was charged {days} days ago; {words}.",
                tag=fed.pack.tag,
                chemistry=chemistry,
                days=days,
                words=words,
            ),
            sameness=of_part(
                "pack",
                fed.pack.tag,
                text("were charged too long ago"),
                text("{days} days ago; {words}", days=days, words=words),
            ),
            criticality=Criticality.FLIGHT,
            margin=limit / days,
            rests_on=(level.value, str(fed.pack.charged_on)),
        )
