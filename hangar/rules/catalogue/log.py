"""Inspections, hard landings, snags, and parts with a count of flights."""

from __future__ import annotations

from hangar.base.kept_text import read_kept
from hangar.base.text import NOTHING, Text, fixed, listed, text
from hangar.parts import Airframe, Inspection, Rotor
from hangar.parts.choices import AircraftState, Criticality, InspectionKind, RotorKind, Severity
from hangar.parts.fields import columns
from hangar.rules import examples as ex
from hangar.rules.case import Case
from hangar.rules.changing import with_airframe, with_records, with_rotor
from hangar.rules.cures import Worse
from hangar.rules.finding import Level
from hangar.rules.flag import Flag, Flags, allowed, read
from hangar.rules.registry import rule


def _inspections(case: Case) -> list[Inspection]:
    """All that looked at the whole aircraft; a check at the gate before a flight takes the place of none."""
    return [
        inspection for inspection in case.aircraft.inspections if inspection.kind is not InspectionKind.GATE
    ]


def _newest(case: Case) -> Inspection | None:
    return max(_inspections(case), key=lambda inspection: inspection.inspected_on, default=None)


@rule(
    "inspection-due",
    title="Inspection due or overdue",
    levels=(Level.WARNING, Level.CAUTION, Level.ADVISORY),
    flags=lambda: with_records(ex.trainer(), inspections=ex.inspected(400, due=35)),
    passes=ex.trainer,
    cures=(),
    worse=Worse.FIXED,
)
def inspection_due(case: Case) -> Flags:
    """
    Checks: the newest inspection: its next date, and the flights since against the class's interval. Soon
        due is an advisory, overdue a caution, overdue by half the interval a warning. An aircraft that
        flew without any inspection on record is an advisory. A check at the gate is no inspection.
    Consequence: what works loose is not seen until it parts.
    Can't tell when: never; an inspection that is not recorded counts as not made.
    Source: interval by class common practice, no source; British Model Flying Association handbook:
        full check each session
    Remedy: Inspect, and enter it.
    """
    newest, flights = _newest(case), case.aircraft.flights
    if newest is None:
        if flights:
            yield _due(
                Level.ADVISORY,
                text("{count} flights and no inspection on record.", count=len(flights)),
                ("never",),
            )
        return
    since = sum(flight.flown_on > newest.inspected_on for flight in flights)
    interval, late = case.limit("inspection-flights"), case.limit("inspection-late")
    faults: list[tuple[Level, Text]] = []
    if since > interval:
        level = Level.WARNING if since > late * interval else Level.CAUTION
        faults.append(
            (
                level,
                text(
                    "{since} flights since the inspection of {inspected_on}; {interval:g} is due.",
                    since=since,
                    inspected_on=newest.inspected_on,
                    interval=interval,
                ),
            )
        )
    due = newest.next_due_on
    if due is not None:
        over, whole = case.days_since(due), (due - newest.inspected_on).days
        if over > (late - 1.0) * whole > 0:
            faults.append((Level.WARNING, text("The inspection is {over} days overdue.", over=over)))
        elif over > 0:
            faults.append((Level.CAUTION, text("The inspection is {over} days overdue.", over=over)))
        elif -over <= case.limit("inspection-days"):
            faults.append((Level.ADVISORY, text("The inspection is due in {value} days.", value=-over)))
    if faults:
        level, words = min(faults, key=lambda pair: pair[0].rank)
        yield _due(level, words, (level.value, str(newest.inspected_on)))


def _due(level: Level, words: Text, rests_on: tuple[str, ...]) -> Flag:
    return Flag(level=level, about=(), message=words, criticality=Criticality.SAFETY, rests_on=rests_on)


@rule(
    "hard-landing-unchecked",
    title="Hard landing or crash without a check after it",
    levels=Level.WARNING,
    flags=lambda: with_records(ex.trainer(), flights=ex.flown(hard_landing=True)),
    passes=lambda: with_records(ex.trainer(), flights=ex.flown(days=50, hard_landing=True)),
    cures=(),
    worse=Worse.FIXED,
)
def hard_landing_unchecked(case: Case) -> Flags:
    """
    Checks: flights with a hard landing or crash after which no inspection is on record.
    Consequence: a crack or a stripped tooth gives way in the next flight.
    Can't tell when: never; an inspection that is not recorded counts as not made.
    Source: British Model Flying Association handbook: full check after any hard landing
    Remedy: Inspect it, and enter the inspection.
    """
    hits = [flight for flight in case.aircraft.flights if flight.hard_landing or flight.crashed]
    newest = max(hits, key=lambda flight: (flight.flown_on, flight.number), default=None)
    if newest is None or any(inspection.inspected_on >= newest.flown_on for inspection in _inspections(case)):
        return
    what = text("crash") if newest.crashed else text("hard landing")
    yield Flag(
        level=Level.WARNING,
        about=(),
        message=text("No inspection since the {what} of {flown_on}.", what=what, flown_on=newest.flown_on),
        detail=text("{remarks}", remarks=read_kept(newest.remarks)) if newest.remarks else NOTHING,
        criticality=Criticality.FLIGHT,
        rests_on=(str(newest.flown_on),),
    )


_OPEN = {
    Severity.GROUNDS: text('Open snag of {raised_on}: "{snag}". It grounds the aircraft.'),
    Severity.LIMITS: text('Open snag of {raised_on}: "{snag}". It limits the aircraft.'),
}


@rule(
    "open-snag",
    title="Open snag",
    levels=(Level.WARNING, Level.CAUTION),
    flags=lambda: with_records(ex.trainer(), snags=ex.snagged()),
    passes=lambda: with_records(ex.trainer(), snags=ex.snagged(closed_on=ex.DAY)),
    cures=(),
    worse=Worse.FIXED,
)
def open_snag(case: Case) -> Flags:
    """
    Checks: snags that are not closed: those that ground the aircraft (warning) or limit it (caution).
    Consequence: what was written down happens again.
    Can't tell when: never.
    Source: logic
    Remedy: Cure it, and close the snag.
    """
    levels = {Severity.GROUNDS: Level.WARNING, Severity.LIMITS: Level.CAUTION}
    for snag in case.aircraft.snags:
        level = levels.get(snag.severity)
        if level is not None and snag.closed_on is None:
            yield Flag(
                level=level,
                about=(snag.part,) if snag.part else (),
                message=_OPEN[snag.severity].with_args(raised_on=snag.raised_on, snag=read_kept(snag.text)),
                criticality=Criticality.FLIGHT if level is Level.WARNING else Criticality.SAFETY,
                rests_on=(str(snag.raised_on), snag.number),
            )


def _worn(case: Case, rotor: Rotor) -> list[tuple[Text, int, float]]:
    counts = (
        (text("feathering spindle was looked at"), rotor.spindle_flights, "spindle-flights"),
        (text("dampers are new"), rotor.damper_flights, "damper-flights"),
        (text("blades are new"), rotor.blade_flights, "blade-flights"),
    )
    return [
        (word, flights, case.limit(name))
        for word, flights, name in counts
        if flights is not None and flights > case.limit(name)
    ]


@rule(
    "bolt-and-blade-life",
    title="Spindle, dampers or blades past their flights",
    levels=Level.CAUTION,
    flags=lambda: with_rotor(ex.helicopter(), RotorKind.MAIN, spindle_flights=320),
    passes=ex.helicopter,
    cures=(),
    worse=Worse.FIXED,
)
def bolt_and_blade_life(case: Case) -> Flags:
    """
    Checks: flights since the spindle was looked at and since dampers and blades were new.
    Consequence: a spindle or blade that breaks in flight maims.
    Can't tell when: nothing is asked; counts that are not kept are passed over.
    Source: common practice, no source
    Remedy: Look at it, or replace it.
    """
    for rotor in case.aircraft.rotors:
        for word, flights, limit in _worn(case, rotor):
            yield Flag(
                level=Level.CAUTION,
                about=(f"{rotor.rotor} rotor",),
                message=text(
                    "{flights} flights since the {rotor} {word}; {limit:g} is the limit.",
                    flights=flights,
                    rotor=rotor.rotor,
                    word=word,
                    limit=limit,
                ),
                figures=(read("flights", flights), allowed("limit", limit)),
                criticality=Criticality.FLIGHT,
                margin=limit / flights,
                rests_on=(word,),
            )


_PASSPORT = ("maker", "built_year", "all_up_mass_g", "cg_fore_mm", "cg_aft_mm", "cg_measured_mm")


def _left_open(case: Case) -> list[Text]:
    airframe = case.airframe
    words = [text("your own mark is still entered")] if airframe.registration else []
    if not _inspections(case):
        words.append(text("no inspection is on record"))
    if any(snag.closed_on is None for snag in case.aircraft.snags):
        words.append(text("a snag is open"))
    labels = {spec.name: fixed(spec.label) for spec in columns(Airframe)}
    blank = [labels[name] for name in _PASSPORT if getattr(airframe, name) is None and _concerns(case, name)]
    return [*words, *([text("{blank} not entered", blank=listed(blank))] if blank else [])]


def _concerns(case: Case, name: str) -> bool:
    return not (case.airframe.is_helicopter and name.startswith("cg_"))


@rule(
    "papers-incomplete-for-sale",
    title="Papers for the next keeper not complete",
    levels=Level.ADVISORY,
    flags=lambda: with_airframe(ex.trainer(), for_sale=True),
    passes=lambda: with_airframe(ex.trainer(), for_sale=True, registration=None, maker="Brackenfold"),
    laid_up=True,
    passed_on=True,
    cures=(),
    worse=Worse.FIXED,
)
def papers_incomplete_for_sale(case: Case) -> Flags:
    """
    Checks: aircraft that are for sale or passed on: the keeper's own mark still on them, no inspection,
        open snags, and blanks of the passport (maker, year, mass, balance).
    Consequence: the next keeper flies with your number, or with your defect.
    Can't tell when: never.
    Source: common practice, no source
    Remedy: Take the mark off, and hand over inspection, snags and passport with the aircraft.
    """
    passed_on = case.airframe.state is AircraftState.PASSED_ON
    if not (passed_on or case.airframe.for_sale):
        return
    words = _left_open(case)
    if words:
        yield Flag(
            level=Level.ADVISORY,
            about=(),
            message=text(
                "The aircraft is {text}, and {words}.",
                text=text("passed on") if passed_on else text("for sale"),
                words=listed(words),
            ),
            rests_on=tuple(words),
        )
