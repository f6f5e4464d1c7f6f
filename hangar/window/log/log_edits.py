"""Edits of the log: a flight, the same again, a snag closed, an inspection with its items."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from datetime import date
from enum import StrEnum

from hangar.answers.judging import Judgement
from hangar.base.errors import BadInput
from hangar.base.text import Text, text
from hangar.base.units import UnitChoice
from hangar.parts import Flight, Inspection, Snag
from hangar.parts.choices import InspectionKind
from hangar.parts.fields import key_of
from hangar.parts.holding import logged_although, recorded_hindrances
from hangar.rules.releasing import flight_hindrances
from hangar.rules.thresholds import Thresholds
from hangar.window.kit.desk import Desk
from hangar.window.kit.words import put, say

USUAL_MINUTES = (5.0, 8.0, 10.0, 12.0, 15.0)
"""Offered before any flight is logged; common practice, no source."""


def last_flight(flights: Iterable[Flight]) -> Flight | None:
    """The flight logged last."""
    return max(flights, key=lambda one: (one.flown_on, one.number), default=None)


def minutes_offered(flights: Iterable[Flight]) -> tuple[float, ...]:
    """Minutes to choose from: those flown lately first, then usual ones."""
    lately = sorted(flights, key=lambda one: (one.flown_on, one.number), reverse=True)[:12]
    flown = dict.fromkeys(one.minutes_min for one in lately)
    return tuple(dict.fromkeys([*flown, *USUAL_MINUTES]))[:8]


class MustNotFly(BadInput):
    """A flight was to be logged of an aircraft that must not fly; it is logged only when that is confirmed.

    Attributes:
        flight: the flight that was to be logged.
        reasons: why the aircraft must not fly.
    """

    def __init__(self, flight: Flight, reasons: tuple[Text, ...]) -> None:
        told = "; ".join(put(reason) for reason in reasons)
        super().__init__(say("{code} must not fly: {reasons}.", code=flight.aircraft, reasons=told))
        self.flight = flight
        self.reasons = reasons


def log_flight(
    desk: Desk, aircraft: str, packs: str | None, minutes_min: float, *, although: bool = False
) -> Flight:
    """Log a flight of today.

    Args:
        although: log it also of an aircraft that must not fly; its remarks then say so.

    Raises:
        MustNotFly: the aircraft is held, has warnings open, or is not on the line.
        BadInput: impossible minutes, or an aircraft that is not there.
    """
    before = last_flight(desk.records(Flight, aircraft=aircraft))
    flight = Flight(
        aircraft=aircraft,
        flown_on=desk.today,
        number=_next_number(desk, aircraft),
        minutes_min=minutes_min,
        packs=packs or None,
        pilot=before.pilot if before else None,
        landings=1,
    )
    reasons = hindrances(desk, aircraft)
    if reasons and not although:
        raise MustNotFly(flight, reasons)
    if reasons:
        flight = replace(flight, remarks=logged_although(reasons, None))
    label = say("Log flight {number} of {aircraft}", number=flight.number, aircraft=aircraft)
    desk.change(label, lambda edit: edit.put(flight))
    return flight


def hindrances(desk: Desk, aircraft: str) -> tuple[Text, ...]:
    """Why an aircraft must not fly; one that cannot be judged is not taken for sound."""
    if aircraft not in desk.codes():
        return ()
    judgement = desk.judgement(aircraft)
    if judgement is None:
        whole = desk.aircraft(aircraft)
        return (text("it could not be judged"), *recorded_hindrances(whole.airframe, whole.snags))
    return flight_hindrances(judgement.aircraft, judgement.findings)


def _next_number(desk: Desk, aircraft: str) -> int:
    today = desk.records(Flight, aircraft=aircraft, flown_on=desk.today)
    return 1 + max((one.number for one in today), default=0)


def same_again(desk: Desk, aircraft: str | None = None) -> Flight:
    """Log the last flight once more: the same aircraft, packs and minutes, today.

    Args:
        aircraft: its last flight counts; None takes the last one of the whole fleet.

    Raises:
        MustNotFly: the aircraft must not fly.
        BadInput: there is none to repeat.
    """
    flights = desk.records(Flight) if aircraft is None else desk.records(Flight, aircraft=aircraft)
    before = last_flight(flights)
    if before is None:
        raise BadInput(say("No flight is logged yet; there is none to log again."))
    return log_flight(desk, before.aircraft, before.packs, before.minutes_min)


def close_snag(desk: Desk, snag: Snag, action: str, closed_on: date) -> None:
    """Close a snag with what was done about it.

    Raises: BadInput when nothing was done, or it closes before it was raised.
    """
    if not action.strip():
        raise BadInput(say("What was done is missing; it must be given."))
    if closed_on < snag.raised_on:
        raise BadInput(say("The snag was raised on {day}; it cannot be closed before.", day=snag.raised_on))
    label = say("Close snag: {text}", text=snag.text)
    desk.change(
        label, lambda edit: edit.change(Snag, key_of(snag), action=action.strip(), closed_on=closed_on)
    )


def next_snag_number(desk: Desk, aircraft: str) -> int:
    """The number of the next snag raised today."""
    today = desk.records(Snag, aircraft=aircraft, raised_on=desk.today)
    return 1 + max((one.number for one in today), default=0)


class ItemState(StrEnum):
    """What was found at one item of an inspection."""

    NOT_LOOKED_AT = "not looked at"
    OK = "ok"
    NOT_OK = "not ok"
    NOT_APPLICABLE = "does not apply"


_OF_THE_DAY = frozenset(
    {"site", "restrained", "transmitter", "arm-last", "spool-up", "hover", "first-flight", "after-flight"}
)
"""Lines of the field checklist that are about a day of flying, not about the aircraft."""


def inspection_items(judgement: Judgement, units: UnitChoice, thresholds: Thresholds) -> tuple[str, ...]:
    """What to look at on this aircraft: the lines of its field checklist, with its own figures."""
    from hangar.sheets import SheetCase, SheetStyle
    from hangar.sheets.texts import check_lines, field_items

    case = SheetCase(survey=judgement.survey, findings=judgement.findings, thresholds=thresholds)
    of_the_day = tuple(line.text.rstrip(".") for line in check_lines() if line.id in _OF_THE_DAY)
    lines = map(str, field_items(case, SheetStyle(units=units)))
    return tuple(line for line in lines if not line.startswith(of_the_day))


def inspection_of(
    aircraft: str,
    kind: InspectionKind,
    inspected_on: date,
    items: Mapping[str, ItemState],
    remarks: str = "",
    by: str | None = None,
    next_due_on: date | None = None,
) -> Inspection:
    """An inspection from its items: passed when all looked at are well and none was left out."""
    wrong = [text for text, state in items.items() if state is ItemState.NOT_OK]
    left = [text for text, state in items.items() if state is ItemState.NOT_LOOKED_AT]
    passed = False if wrong else None if left else True
    parts = []
    if wrong:
        parts.append(say("not ok: {items}", items="; ".join(text.rstrip(".") for text in wrong)))
    if left:
        parts.append(say("not looked at: {count} of {all}", count=len(left), all=len(items)))
    if remarks.strip():
        parts.append(remarks.strip())
    return Inspection(
        aircraft=aircraft,
        inspected_on=inspected_on,
        kind=kind,
        passed=passed,
        findings=". ".join(parts) or None,
        by=by or None,
        next_due_on=next_due_on,
    )
