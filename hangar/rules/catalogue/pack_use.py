"""How packs were used: run low in flight, and their plugs."""

from __future__ import annotations

from hangar.base.text import Amount, listed, plural, text
from hangar.parts.choices import Criticality
from hangar.rules import examples as ex
from hangar.rules.bus_volts_read import near_the_least
from hangar.rules.case import Case
from hangar.rules.changing import with_pack, with_records
from hangar.rules.cures import Worse
from hangar.rules.finding import Level
from hangar.rules.flag import Flag, Flags, of_part, read
from hangar.rules.registry import rule
from hangar.rules.words import packs
from hangar.survey.low_volts import newest_lowest

_MADE_UP = ("?", "new ", "wp-")
"""How tags begin that were made up for packs brought in without one, or for packs still to be bought."""


@rule(
    "telemetry-min-low",
    title="Lowest volts in flight came near the receiver's minimum",
    levels=(Level.WARNING, Level.CAUTION),
    flags=lambda: with_records(ex.trainer(), flights=ex.flown(lowest_v=3.6)),
    passes=lambda: with_records(ex.trainer(), flights=ex.flown(lowest_v=4.6)),
    cures=(),
    worse=Worse.FIXED,
)
def telemetry_min_low(case: Case) -> Flags:
    """
    Checks: lowest bus volts of the newest flight or flight log that has a reading, against the receiver's
        least volts.
    Consequence: next time the bus falls a little lower, and the receiver restarts.
    Can't tell when: nothing is asked; the check of the receiver's volts asks for the least volts.
    Source: common practice, no source
    Remedy: Find the cause before the next flight: pack, plug, switch, or a servo that binds.
    """
    flight = newest_lowest(case.aircraft)
    least = case.aircraft.receivers_least_v
    if flight is None or least is None:
        return
    flag = near_the_least(
        case,
        tuple(tag.strip() for tag in flight.packs.split(",") if tag.strip()),
        flight.volts,
        text("lowest volts in flight"),
        text(
            "On {flown_on:%Y-%m-%d} the bus fell to {seen} in flight; the receiver works down to {least}.",
            flown_on=flight.read_on,
            seen=Amount(flight.volts, "V"),
            least=Amount(least, "V"),
        ),
    )
    if flag is not None:
        yield flag


@rule(
    "pack-polarity-plug",
    title="Plug of the pack not noted",
    levels=Level.ADVISORY,
    flags=lambda: with_pack(ex.trainer(), pack_type={"connector": None}),
    passes=ex.trainer,
    cures=(),
    worse=Worse.SUPPLY,
)
def pack_polarity_plug(case: Case) -> Flags:
    """
    Checks: whether the pack type names its plug.
    Consequence: a plug of the other polarity fits and burns the receiver.
    Can't tell when: it says itself what is missing.
    Source: common practice, no source
    Remedy: Enter the plug, and label the pack.
    """
    bare = [fed for fed in case.packs if not fed.pack_type.connector]
    if bare:
        tags = tuple(fed.pack.tag for fed in bare)
        yield Flag(
            level=Level.ADVISORY,
            about=tags,
            message=text("The plug of {packs} not entered.", packs=packs(tags, "is", "is")),
        )


def _is_made_up(tag: str) -> bool:
    bare = tag.strip().lower()
    return not bare or bare.startswith(_MADE_UP)


@rule(
    "pack-not-tagged",
    title="Pack without a number of its own",
    levels=Level.ADVISORY,
    flags=lambda: with_pack(ex.trainer(), pack={"tag": "? trainer"}),
    passes=ex.trainer,
    laid_up=True,
    cures=(),
    worse=Worse.SUPPLY,
)
def pack_not_tagged(case: Case) -> Flags:
    """
    Checks: packs whose tag was made up when they were brought in, or stands for a pack not yet bought.
    Consequence: its tests and charges are written on another pack.
    Can't tell when: never.
    Source: common practice, no source
    Remedy: Give the pack a number, print its label and stick it on.
    """
    for fed in case.packs:
        if _is_made_up(fed.pack.tag):
            yield Flag(
                level=Level.ADVISORY,
                about=(fed.pack.tag,),
                message=text('Pack "{tag}" has no number of its own.', tag=fed.pack.tag),
                rests_on=("made up",),
                sameness=of_part("pack", fed.pack.tag, text("have no numbers of their own")),
            )


@rule(
    "pack-in-two-models",
    title="Pack flown in two aircraft on one day",
    levels=(Level.CAUTION, Level.ADVISORY),
    flags=lambda: with_pack(ex.trainer(), flights_today=ex.flown_twice(), charges=ex.charged()),
    passes=lambda: with_pack(ex.trainer(), flights_today=ex.flown_twice()[:1], charges=ex.charged()),
    cures=(),
    worse=Worse.SUPPLY,
)
def pack_in_two_models(case: Case) -> Flags:
    """
    Checks: the flights of the day that name a pack. In several aircraft with fewer charges on the day than
        aircraft is a caution, with a charge for each an advisory.
    Consequence: the pack is nearly empty while each aircraft's own minutes look well.
    Can't tell when: never; a flight that names no pack is not counted.
    Source: common practice, no source
    Remedy: Charge it again, and load-test it, before the next flight.
    """
    for fed in case.packs:
        models = sorted({flight.aircraft for flight in fed.flights_today})
        if len(models) < 2:
            continue
        charges = sum(charge.charged_at.date() == case.today for charge in fed.charges)
        minutes = sum(flight.minutes_min for flight in fed.flights_today)
        enough = charges >= len(models)
        times = plural("{count:word} charge", "{count:word} charges", count=charges)
        yield Flag(
            level=Level.ADVISORY if enough else Level.CAUTION,
            about=(fed.pack.tag,),
            message=text(
                "Pack {tag} has flown in {models} today, {minutes} on {times}.",
                tag=fed.pack.tag,
                models=listed(models),
                minutes=Amount(minutes, "min"),
                times=times,
            ),
            figures=(read("minutes flown today", minutes, "min"),),
            criticality=Criticality.FLIGHT,
            rests_on=(str(case.today), *models, charges),
        )
