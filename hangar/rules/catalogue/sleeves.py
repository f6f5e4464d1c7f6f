"""Leads at formers: sleeves and shrink."""

from __future__ import annotations

from hangar.base.text import Amount, plural, text
from hangar.parts.choices import FormerEdge
from hangar.rules import examples as ex
from hangar.rules.case import Case
from hangar.rules.catalogue.lead_care import lead_flag, leads_of
from hangar.rules.cures import Cure, Worse
from hangar.rules.finding import Level
from hangar.rules.flag import Flags, cant_tell
from hangar.rules.registry import rule
from hangar.rules.words import parts_of
from hangar.survey.figures import field_missing


@rule(
    "former-unsleeved",
    title="Lead through a bare edge without a sleeve",
    levels=(Level.WARNING, Level.CAUTION),
    flags=lambda: ex.elevator(
        lead={"former_edge": FormerEdge.BARE_HARD, "former_clearance_mm": 2.0, "sleeve": None}
    ),
    passes=lambda: ex.elevator(
        lead={"former_edge": FormerEdge.BARE_HARD, "former_clearance_mm": 2.0, "sleeve": "braided"}
    ),
    cures=(Cure.SLEEVE,),
    worse=Worse.NOTHING,
)
def former_unsleeved(case: Case) -> Flags:
    """
    Checks: leads that pass a bare edge nearer than a limit without a sleeve: carbon, metal or glass is a
        warning, wood a caution.
    Consequence: the edge saws through the insulation until the wires short or part.
    Can't tell when: the edge is bare and the clearance is not known.
    Source: FAA Advisory Circular 43.13-1B, chapter 11: a grommet where 3/8 in cannot be held
    Remedy: Grommet or sleeve, and a tie.
    """
    limit = case.limit("former-clearance")
    for fit, lead in leads_of(case):
        bare = lead.former_edge in (FormerEdge.BARE_HARD, FormerEdge.BARE_WOOD)
        if not bare or lead.sleeve:
            continue
        if lead.former_clearance_mm is None:
            lacks = field_missing(lead, "former_clearance_mm")
            yield cant_tell(lacks, about=parts_of([fit]), criticality=fit.criticality)
        elif lead.former_clearance_mm < limit:
            hard = lead.former_edge is FormerEdge.BARE_HARD
            sentences = (
                text(
                    "passes {edge} at {former_clearance_mm} without a sleeve",
                    edge=lead.former_edge,
                    former_clearance_mm=Amount(lead.former_clearance_mm, "mm"),
                ),
                text("pass {edge} without a sleeve", edge=lead.former_edge),
            )
            level = Level.WARNING if hard else Level.CAUTION
            yield lead_flag(case, fit, level, sentences, lead.former_clearance_mm, limit, "mm")


@rule(
    "sleeve-short",
    title="Sleeve does not cover",
    levels=Level.CAUTION,
    flags=lambda: ex.elevator(lead={"sleeve": "braided", "sleeve_mm": 200.0, "exposed_mm": 180.0}),
    passes=lambda: ex.elevator(lead={"sleeve": "braided", "sleeve_mm": 240.0, "exposed_mm": 180.0}),
    cures=(Cure.SLEEVE,),
    worse=Worse.NOTHING,
)
def sleeve_short(case: Case) -> Flags:
    """
    Checks: sleeve length against the exposed run with an overlap at each end.
    Consequence: the edge saws where the lead is bare.
    Can't tell when: nothing is asked; lengths that are not known are passed over.
    Source: common practice, no source
    Remedy: Cut a longer sleeve.
    """
    for fit, lead in leads_of(case):
        if not lead.sleeve or lead.sleeve_mm is None or lead.exposed_mm is None:
            continue
        needed = lead.exposed_mm + 2.0 * case.limit("sleeve-overlap")
        if lead.sleeve_mm < needed:
            sentences = (
                text(
                    "has {sleeve_mm} of sleeve and needs {needed}",
                    sleeve_mm=Amount(lead.sleeve_mm, "mm"),
                    needed=Amount(needed, "mm"),
                ),
                text("have sleeves that are too short"),
            )
            remedy = text("Cut a sleeve of {needed}.", needed=Amount(needed, "mm"))
            yield lead_flag(case, fit, Level.CAUTION, sentences, lead.sleeve_mm, needed, "mm", remedy)


@rule(
    "shrink-short",
    title="End pieces of the sleeve too short",
    levels=Level.ADVISORY,
    flags=lambda: ex.elevator(lead={"sleeve": "braided", "shrink_pieces": 1, "shrink_mm": 15.0}),
    passes=lambda: ex.elevator(lead={"sleeve": "braided", "shrink_pieces": 2, "shrink_mm": 15.0}),
    cures=(Cure.SHRINK,),
    worse=Worse.NOTHING,
)
def shrink_short(case: Case) -> Flags:
    """
    Checks: shrink pieces at the ends of a sleeve: two, each of a least length.
    Consequence: an open sleeve creeps back and frays.
    Can't tell when: nothing is asked.
    Source: common practice, no source
    Remedy: A piece of 13 to 19 mm at each end.
    """
    least = case.limit("shrink-length")
    for fit, lead in leads_of(case):
        if not lead.sleeve:
            continue
        if lead.shrink_pieces is not None and lead.shrink_pieces < 2:
            pieces = plural(
                "{count:word} shrink piece", "{count:word} shrink pieces", count=lead.shrink_pieces
            )
            sentences = (
                text("has {pieces} on its sleeve, not two", pieces=pieces),
                text("have fewer than two shrink pieces on their sleeves"),
            )
            yield lead_flag(case, fit, Level.ADVISORY, sentences, lead.shrink_pieces, 2.0, "")
        elif lead.shrink_mm is not None and lead.shrink_mm < least:
            sentences = (
                text(
                    "has shrink pieces of {shrink_mm}; {least} is wanted",
                    shrink_mm=Amount(lead.shrink_mm, "mm"),
                    least=Amount(least, "mm"),
                ),
                text("have shrink pieces shorter than {least}", least=Amount(least, "mm")),
            )
            yield lead_flag(case, fit, Level.ADVISORY, sentences, lead.shrink_mm, least, "mm")


@rule(
    "shrink-bore-wrong",
    title="Shrink bore does not fit",
    levels=Level.ADVISORY,
    flags=lambda: ex.elevator(lead={"shrink_before_mm": 6.0, "shrink_after_mm": 4.5, "bundle_mm": 4.0}),
    passes=lambda: ex.elevator(lead={"shrink_before_mm": 6.0, "shrink_after_mm": 2.0, "bundle_mm": 4.0}),
    cures=(Cure.SHRINK,),
    worse=Worse.NOTHING,
)
def shrink_bore_wrong(case: Case) -> Flags:
    """
    Checks: bore of the shrink before and after against the bundle it goes over.
    Consequence: the piece does not go on, or does not grip.
    Can't tell when: nothing is asked.
    Source: NASA-STD-8739.4: larger than the part before shrinking, tight after
    Remedy: Another size.
    """
    for fit, lead in leads_of(case):
        bundle, before, after = lead.bundle_mm, lead.shrink_before_mm, lead.shrink_after_mm
        if bundle is None:
            continue
        if before is not None and before <= bundle:
            sentences = (
                text(
                    "is a bundle of {bundle} and does not go into shrink of {before}",
                    bundle=Amount(bundle, "mm"),
                    before=Amount(before, "mm"),
                ),
                text("do not go into their shrink"),
            )
            yield lead_flag(case, fit, Level.ADVISORY, sentences, before, bundle, "mm")
        elif after is not None and after >= bundle:
            sentences = (
                text(
                    "is a bundle of {bundle} in shrink that closes to no less than {after}",
                    bundle=Amount(bundle, "mm"),
                    after=Amount(after, "mm"),
                ),
                text("lie loose in their shrink"),
            )
            yield lead_flag(case, fit, Level.ADVISORY, sentences, after, bundle, "mm")
