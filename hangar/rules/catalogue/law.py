"""Marks, blades, bands and fire: what codes and laws ask."""

from __future__ import annotations

from hangar.base.text import NOTHING, Amount, text
from hangar.parts.choices import Criticality, MarkPlace, PowerKind
from hangar.rules import examples as ex
from hangar.rules.case import Case
from hangar.rules.changing import with_airframe, with_receiver
from hangar.rules.cures import Cure, Wants, Worse
from hangar.rules.finding import Level
from hangar.rules.flag import Flag, Flags, cant_tell, read
from hangar.rules.registry import rule
from hangar.survey.figures import field_missing


@rule(
    "id-missing",
    title="Registration mark missing or hidden",
    levels=(Level.CAUTION, Level.ADVISORY),
    flags=lambda: with_airframe(ex.trainer(), registration=None, registration_place=None),
    passes=ex.trainer,
    cures=(),
    worse=Worse.FIXED,
)
def id_missing(case: Case) -> Flags:
    """
    Checks: above a mass, that a registration or operator mark is entered and shown (caution); shown inside
        only is named, as some countries want it outside (advisory). Aircraft for sale are left out.
    Consequence: the flight is unlawful in most countries.
    Can't tell when: the all-up mass, or the place of a mark that is entered, is not known.
    Source: 14 CFR 48.15 and 48.205 (outside); Regulation (EU) 2019/947, article 14 (an accessible bay is
        allowed where a mark spoils a scale finish); check the rules of your country
    Remedy: Mark it.
    """
    airframe, mass = case.airframe, case.mass_g
    if airframe.for_sale:
        return
    if mass is None:
        yield cant_tell(field_missing(airframe, "all_up_mass_g"))
        return
    if mass <= case.limit("mark-mass"):
        return
    shown = airframe.registration_place
    if not airframe.registration:
        level, words = Level.CAUTION, text("No registration or operator mark is entered.")
    elif shown is None:
        yield cant_tell(field_missing(airframe, "registration_place"))
        return
    elif shown is MarkPlace.NONE:
        level, words = (
            Level.CAUTION,
            text("Mark {registration} is not shown on the aircraft.", registration=airframe.registration),
        )
    elif shown is MarkPlace.INSIDE:
        level = Level.ADVISORY
        words = text(
            "Mark {registration} is shown inside only; some countries want it outside.",
            registration=airframe.registration,
        )
    else:
        return
    yield Flag(
        level=level,
        about=(),
        message=words,
        detail=text("needed above {limit}", limit=Amount(case.limit("mark-mass"), "g")),
        criticality=Criticality.COMFORT,
        rests_on=(level.value, airframe.registration or "", str(shown)),
    )


@rule(
    "metal-blades",
    title="Metal propeller or rotor blades",
    levels=Level.WARNING,
    flags=lambda: with_airframe(ex.trainer(), metal_propeller=True),
    passes=ex.trainer,
    cures=(),
    worse=Worse.FIXED,
)
def metal_blades(case: Case) -> Flags:
    """
    Checks: whether propeller or blades are noted as metal.
    Consequence: a blade that touches something throws fragments or maims.
    Can't tell when: nothing is asked.
    Source: Academy of Model Aeronautics, National Model Aircraft Safety Code; British Model Flying
        Association handbook
    Remedy: Replace them.
    """
    if case.airframe.metal_propeller:
        yield Flag(
            level=Level.WARNING,
            about=(),
            message=text("The propeller or the blades are of metal."),
            criticality=Criticality.SAFETY,
            rests_on=("metal",),
        )


@rule(
    "old-band-receiver",
    title="Receiver of an old band",
    levels=Level.ADVISORY,
    flags=lambda: with_receiver(ex.trainer(), band_mhz=35.0),
    passes=ex.trainer,
    cures=(Cure.RECEIVER,),
    worse=Worse.NOTHING,
    wants=Wants(
        part="receiver",
        quantity="band",
        of=lambda case, _: case.limit("old-band"),
        words=lambda value: text("a receiver for {value} MHz or above", value=value),
    ),
)
def old_band_receiver(case: Case) -> Flags:
    """
    Checks: receivers below the band in which frequencies must be shared by hand.
    Consequence: a second transmitter on the same channel takes the aircraft away.
    Can't tell when: nothing is asked.
    Source: Academy of Model Aeronautics, National Model Aircraft Safety Code (legal frequencies)
    Remedy: Use the frequency peg, have the set serviced, or change the receiver.
    """
    for receiver in case.aircraft.receivers:
        if receiver.band_mhz is not None and receiver.band_mhz < case.limit("old-band"):
            yield Flag(
                level=Level.ADVISORY,
                about=(receiver.code,),
                message=text(
                    "Receiver {code} works on {band_mhz:g} MHz, where a frequency is shared by hand.",
                    code=receiver.code,
                    band_mhz=receiver.band_mhz,
                ),
                figures=(read("band", receiver.band_mhz),),
                criticality=Criticality.SAFETY,
            )


@rule(
    "turbine-fire-kit",
    title="Extinguisher not confirmed today",
    levels=(Level.WARNING, Level.CAUTION),
    flags=lambda: with_airframe(ex.jet(), extinguisher_on=None),
    passes=ex.jet,
    field_only=True,
    cures=(),
    worse=Worse.FIXED,
)
def turbine_fire_kit(case: Case) -> Flags:
    """
    Checks: on turbine aircraft, that the extinguisher was confirmed on the day. A warning on a flying day,
        an advisory at home.
    Consequence: a start that goes wrong burns the aircraft down.
    Can't tell when: never; what is not confirmed counts as not there.
    Source: Academy of Model Aeronautics turbine regulations as reported in Model Aviation, August 2004;
        Model Aeronautics Association of Canada turbine guideline
    Remedy: Carbon dioxide extinguisher in the hand of a helper at every start.
    """
    day = case.airframe.extinguisher_on
    if case.is_turbine and day != case.today:
        last = text("; last on {day}", day=day) if day else NOTHING
        yield Flag(
            level=Level.WARNING,
            about=(),
            message=text("The extinguisher is not confirmed today{last}.", last=last),
            criticality=Criticality.SAFETY,
            rests_on=(str(day),),
        )


@rule(
    "prop-rotor-restraint",
    title="Restrain the aircraft before power",
    levels=Level.ADVISORY,
    flags=ex.trainer,
    passes=lambda: with_airframe(ex.trainer(), power=PowerKind.NONE),
    reminder=True,
    cures=(),
    worse=Worse.FIXED,
)
def prop_rotor_restraint(case: Case) -> Flags:
    """
    Checks: whether something drives the aircraft; printed on every field sheet.
    Consequence: an aircraft that runs free maims.
    Can't tell when: never.
    Source: British Model Flying Association handbook: restrained before the flight pack is plugged in
    Remedy: A helper or a peg, before power is on.
    """
    if case.has_engine:
        yield Flag(
            level=Level.ADVISORY,
            about=(),
            message=text(
                "Restrain the aircraft before power is on; nobody in the plane of propeller or rotor."
            ),
            criticality=Criticality.SAFETY,
        )
