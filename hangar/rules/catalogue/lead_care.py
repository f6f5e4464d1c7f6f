"""How leads lie: heat, moving parts, support, bends, age, antennas."""

from __future__ import annotations

from collections.abc import Iterator

from hangar.base.text import NOTHING, Amount, Text, text
from hangar.parts import Lead, ServoFit
from hangar.parts.choices import AntennaRoute, Criticality
from hangar.rules import examples as ex
from hangar.rules.case import Case
from hangar.rules.changing import with_pack, with_receiver
from hangar.rules.cures import Cure, Worse
from hangar.rules.finding import Level
from hangar.rules.flag import Flag, Flags, allowed, cant_tell, read
from hangar.rules.registry import rule
from hangar.rules.words import packs, parts_of, thing_at
from hangar.survey.figures import field_missing


def leads_of(case: Case) -> Iterator[tuple[ServoFit, Lead]]:
    """Positions with their leads."""
    for fit in case.aircraft.fits:
        if fit.lead is not None:
            yield fit, fit.lead


def lead_flag(
    case: Case, fit: ServoFit, level: Level, sentences: tuple[Text, Text], value: float, limit: float,
    unit: str, remedy: Text = NOTHING,
) -> Flag:  # fmt: skip
    """A flag that sets one number of a lead against its limit; ``sentences`` of one lead and of several."""
    single, many = sentences
    number = Amount(value, unit) if unit else text("{value:g}", value=value)
    return Flag(
        level=level,
        about=parts_of([fit]),
        message=text("{who} {one}", who=thing_at(fit, "lead"), one=single),
        figures=(read("measured", value, unit), allowed("limit", limit, unit)),
        remedy=remedy,
        criticality=fit.criticality,
        sameness=case.of_servo(fit, many, "lead", group=many.key, number=number),
    )


@rule(
    "lead-near-moving",
    title="Lead within reach of moving parts",
    levels=Level.WARNING,
    flags=lambda: ex.elevator(lead={"moving_mm": 5.0, "moving_tied": False}),
    passes=lambda: ex.elevator(lead={"moving_mm": 5.0, "moving_tied": True}),
    cures=(Cure.TIE,),
    worse=Worse.NOTHING,
)
def lead_near_moving(case: Case) -> Flags:
    """
    Checks: leads nearer to a linkage than a limit that are not tied so that one lost tie stays clear.
    Consequence: the linkage catches the lead: the control jams and the lead tears.
    Can't tell when: the lead is near and nobody noted how it is tied.
    Source: FAA Advisory Circular 43.13-1B, chapter 11; distance from memory, unverified
    Remedy: Re-route, or tie it twice.
    """
    limit = case.limit("moving-distance")
    for fit, lead in leads_of(case):
        if lead.moving_mm is None or lead.moving_mm >= limit or lead.moving_tied:
            continue
        if lead.moving_tied is None:
            lacks = field_missing(lead, "moving_tied")
            yield cant_tell(lacks, about=parts_of([fit]), criticality=fit.criticality)
        else:
            sentences = (
                text(
                    "lies {moving_mm} from moving parts and is not tied clear of them",
                    moving_mm=Amount(lead.moving_mm, "mm"),
                ),
                text("lie near moving parts and are not tied clear of them"),
            )
            yield lead_flag(case, fit, Level.WARNING, sentences, lead.moving_mm, limit, "mm")


@rule(
    "lead-near-heat",
    title="Lead near heat",
    levels=(Level.WARNING, Level.CAUTION),
    flags=lambda: ex.elevator(lead={"heat_mm": 15.0, "heat_sleeve": False}),
    passes=lambda: ex.elevator(lead={"heat_mm": 15.0, "heat_sleeve": True}),
    cures=(Cure.HEAT_SLEEVE,),
    worse=Worse.NOTHING,
)
def lead_near_heat(case: Case) -> Flags:
    """
    Checks: distance of leads from exhaust, turbine or speed controller without a heat sleeve.
    Consequence: insulation softens, wires short, and the bus goes down with them.
    Can't tell when: on turbine aircraft, the distance of a flight control's lead is not known; a lead
        without a note on a heat sleeve counts as bare.
    Source: FAA Advisory Circular 43.13-1B, chapter 11 (wires away from heat); distances common practice
    Remedy: Move it, or a heat sleeve.
    """
    for fit, lead in leads_of(case):
        if lead.heat_mm is None and case.is_turbine and not lead.heat_sleeve and fit.function.is_flight:
            lacks = field_missing(lead, "heat_mm")
            yield cant_tell(lacks, about=parts_of([fit]), criticality=fit.criticality)
        if lead.heat_mm is None or lead.heat_sleeve:
            continue
        for level, name in ((Level.WARNING, "heat-warn"), (Level.CAUTION, "heat-look")):
            limit = case.limit(name)
            if lead.heat_mm < limit:
                sentences = (
                    text(
                        "lies {heat_mm} from heat without a heat sleeve", heat_mm=Amount(lead.heat_mm, "mm")
                    ),
                    text("lie near heat without a heat sleeve"),
                )
                remedy = text(
                    "Move it {limit} away, or put a heat sleeve over it.",
                    limit=Amount(case.limit("heat-look"), "mm"),
                )
                yield lead_flag(case, fit, level, sentences, lead.heat_mm, limit, "mm", remedy)
                break


@rule(
    "lead-unsupported",
    title="Loose lead",
    levels=(Level.CAUTION, Level.ADVISORY),
    flags=lambda: ex.elevator(lead={"support_mm": 700.0}),
    passes=lambda: ex.elevator(lead={"support_mm": 250.0}),
    cures=(Cure.TIE,),
    worse=Worse.NOTHING,
)
def lead_unsupported(case: Case) -> Flags:
    """
    Checks: widest distance between supports.
    Consequence: a loose lead works its plug out.
    Can't tell when: nothing is asked.
    Source: FAA Advisory Circular 43.13-1B, chapter 11 (24 in); the nearer limit common practice
    Remedy: Ties.
    """
    for fit, lead in leads_of(case):
        if lead.support_mm is None:
            continue
        for level, name in ((Level.CAUTION, "support-limit"), (Level.ADVISORY, "support-look")):
            limit = case.limit(name)
            if lead.support_mm > limit:
                sentences = (
                    text(
                        "hangs loose over {support_mm}; {limit} is the limit",
                        support_mm=Amount(lead.support_mm, "mm"),
                        limit=Amount(limit, "mm"),
                    ),
                    text("hang loose over more than {limit}", limit=Amount(limit, "mm")),
                )
                yield lead_flag(case, fit, level, sentences, lead.support_mm, limit, "mm")
                break


@rule(
    "lead-bend-tight",
    title="Lead bent too tightly",
    levels=Level.ADVISORY,
    flags=lambda: ex.elevator(lead={"bend_ratio": 3.0}),
    passes=lambda: ex.elevator(lead={"bend_ratio": 6.0}),
    cures=(),
    worse=Worse.FIXED,
)
def lead_bend_tight(case: Case) -> Flags:
    """
    Checks: tightest bend radius over the lead's diameter.
    Consequence: strands break inside the bend.
    Can't tell when: nothing is asked.
    Source: NASA-STD-8739.4, short-term bend radius
    Remedy: Ease the bend.
    """
    limit = case.limit("bend-ratio")
    for fit, lead in leads_of(case):
        if lead.bend_ratio is not None and lead.bend_ratio < limit:
            sentences = (
                text(
                    "is bent to a radius of {bend_ratio:g} times its thickness; {limit:g} times is the limit",
                    bend_ratio=lead.bend_ratio,
                    limit=limit,
                ),
                text("are bent tighter than {limit:g} times their thickness", limit=limit),
            )
            yield lead_flag(case, fit, Level.ADVISORY, sentences, lead.bend_ratio, limit, "")


@rule(
    "lead-hinge-bend",
    title="Lead bends at a hinge",
    levels=Level.ADVISORY,
    flags=lambda: ex.elevator(lead={"crosses_hinge": True, "twist_loop": False}),
    passes=lambda: ex.elevator(lead={"crosses_hinge": True, "twist_loop": True}),
    cures=(Cure.LOOP,),
    worse=Worse.NOTHING,
)
def lead_hinge_bend(case: Case) -> Flags:
    """
    Checks: leads that cross a hinge or door without a loop that twists along it.
    Consequence: the wires break where they bend with the hinge.
    Can't tell when: nothing is asked.
    Source: FAA Advisory Circular 43.13-1B, chapter 11
    Remedy: A loop along the hinge line.
    """
    for fit, lead in leads_of(case):
        if lead.crosses_hinge and lead.twist_loop is False:
            yield Flag(
                level=Level.ADVISORY,
                about=parts_of([fit]),
                message=text(
                    "{who} crosses a hinge without a loop that can twist", who=thing_at(fit, "lead")
                ),
                sameness=case.of_servo(
                    fit, text("cross a hinge without a loop that can twist"), "lead", group="hinge"
                ),
                criticality=fit.criticality,
                rests_on=("no loop",),
            )


@rule(
    "black-wire",
    title="Corroded negative lead suspected",
    levels=Level.CAUTION,
    flags=lambda: with_pack(
        ex.elevator(lead={"inspected_on": None}),
        pack={"bought_on": ex.ago(1600)},
        pack_type={"life_y": 9.0},
    ),
    passes=ex.trainer,
    cures=(),
    worse=Worse.SUPPLY,
)
def black_wire(case: Case) -> Flags:
    """
    Checks: nickel packs and their switches past an age where some lead was not inspected since that age
        began.
    Consequence: the corroded wire breaks under load and everything on it stops.
    Can't tell when: nothing is asked; a lead without an inspection date counts as not inspected.
    Source: common practice, no source
    Remedy: Strip the wire back and look; replace pack lead, switch and leads that are dark.
    """
    years = case.limit("negative-lead-years")
    for path in case.aircraft.radio_paths:
        ages = [
            case.years_since(fed.pack.bought_on)
            for fed in path.packs
            if fed.pack_type.chemistry.is_nickel and fed.pack.bought_on
        ]
        if ages and path.switch is not None and path.switch.fitted_on is not None:
            ages.append(case.years_since(path.switch.fitted_on))
        age = max(ages, default=0.0)
        looked = [lead.inspected_on for _, lead in leads_of(case)]
        fresh = bool(looked) and all(
            day is not None and case.years_since(day) <= min(years, 1.0) for day in looked
        )
        tags = tuple(fed.pack.tag for fed in path.packs)
        if tags and age > years and not fresh:
            yield Flag(
                level=Level.CAUTION,
                about=tags,
                message=text(
                    "{packs} {age:.1f} years old, and the wires were not looked at within a year",
                    packs=packs(tags, "or its switch is", "or their switch are"),
                    age=age,
                ),
                criticality=Criticality.FLIGHT,
                rests_on=(path.feed.code,),
            )


@rule(
    "antenna-carbon",
    title="Antenna beside carbon, metal or leads",
    levels=(Level.WARNING, Level.CAUTION, Level.ADVISORY),
    flags=lambda: with_receiver(ex.trainer(), antenna_route=AntennaRoute.ALL_IN_CARBON),
    passes=ex.trainer,
    cures=(),
    worse=Worse.FIXED,
)
def antenna_carbon(case: Case) -> Flags:
    """
    Checks: how the receiver's antennas lie: all in carbon is a warning, one a caution, beside leads an
        advisory.
    Consequence: turned the wrong way in the distance, the aircraft loses the signal.
    Can't tell when: nobody noted how the antennas lie.
    Source: common practice, no source
    Remedy: Re-route, with the tips outside.
    """
    levels = {
        AntennaRoute.ALL_IN_CARBON: (Level.WARNING, text("all antennas lie in carbon")),
        AntennaRoute.ONE_IN_CARBON: (Level.CAUTION, text("one antenna lies in carbon")),
        AntennaRoute.NEAR_LEADS: (Level.ADVISORY, text("the antennas lie beside leads")),
    }
    near = min((lead.antenna_mm for _, lead in leads_of(case) if lead.antenna_mm is not None), default=None)
    limit = case.limit("antenna-distance")
    for receiver in case.aircraft.receivers:
        if receiver.antenna_route is None:
            yield cant_tell(
                field_missing(receiver, "antenna_route"),
                about=(receiver.code,),
                criticality=Criticality.FLIGHT,
            )
        fault = levels.get(receiver.antenna_route) if receiver.antenna_route else None
        if fault is None and near is not None and near < limit:
            fault = (Level.ADVISORY, text("an antenna lies {near} from a lead", near=Amount(near, "mm")))
        if fault is not None:
            level, words = fault
            yield Flag(
                level=level,
                about=(receiver.code,),
                message=text("Receiver {code}: {words}", code=receiver.code, words=words),
                criticality=Criticality.FLIGHT,
                rests_on=(words,),
            )
