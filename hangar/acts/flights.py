"""What is done to the log: a flight logged, the same again, a snag closed."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import date

from hangar.answers.judging import Judgement
from hangar.answers.reading import FleetReading, Records
from hangar.base.errors import BadInput
from hangar.base.text import Text, fixed, series, text
from hangar.parts import Flight, Snag
from hangar.parts.fields import key_of
from hangar.parts.holding import logged_although, recorded_hindrances
from hangar.rules.releasing import flight_hindrances
from hangar.store import Edit

USUAL_MINUTES = (5.0, 8.0, 10.0, 12.0, 15.0)
"""Offered before any flight is logged; common practice, no source."""


def last_flight(flights: Iterable[Flight]) -> Flight | None:
    """The flight logged last."""
    return max(flights, key=lambda flight: (flight.flown_on, flight.number), default=None)


def minutes_offered(flights: Iterable[Flight]) -> tuple[float, ...]:
    """Minutes to choose from: those flown lately first, then usual ones."""
    lately = sorted(flights, key=lambda flight: (flight.flown_on, flight.number), reverse=True)[:12]
    flown = dict.fromkeys(flight.minutes_min for flight in lately)
    return tuple(dict.fromkeys([*flown, *USUAL_MINUTES]))[:8]


class MustNotFly(BadInput):
    """A flight was to be logged of an aircraft that must not fly; it is logged only when that is confirmed.

    Attributes:
        flight: the flight that was to be logged.
        reasons: why the aircraft must not fly.
    """

    def __init__(self, flight: Flight, reasons: tuple[Text, ...]) -> None:
        super().__init__("{code} must not fly: {reasons}.", code=flight.aircraft, reasons=series(reasons))
        self.flight = flight
        self.reasons = reasons


def log_flight(edit: Edit, flight: Flight, hindrances: tuple[Text, ...], *, although: bool = False) -> Text:
    """Log a flight.

    Args:
        edit: where it is entered.
        flight: the flight, see :func:`flight_today`.
        hindrances: why the aircraft must not fly, see :func:`hindrances_of`.
        although: log it also of an aircraft that must not fly; its remarks then say so.

    Raises:
        MustNotFly: the aircraft is held, has warnings open, or is not on the line.
        BadInput: impossible minutes, or an aircraft that is not there.
    """
    if hindrances and not although:
        raise MustNotFly(flight, hindrances)
    if hindrances:
        told = logged_although((str(reason) for reason in hindrances), flight.remarks)
        flight = replace(flight, remarks=told)
    edit.put(flight)
    return text("Log flight {number} of {aircraft}", number=flight.number, aircraft=flight.aircraft)


def flight_today(
    fleet: Records,
    aircraft: str,
    packs: str | None,
    minutes_min: float,
    today: date,
    remarks: str | None = None,
) -> Flight:
    """A flight of today, with the pilot of the one before and the next number of the day."""
    before = last_flight(fleet.records(Flight, aircraft=aircraft))
    flown = fleet.records(Flight, aircraft=aircraft, flown_on=today)
    return Flight(
        aircraft=aircraft,
        flown_on=today,
        number=1 + max((flight.number for flight in flown), default=0),
        minutes_min=minutes_min,
        packs=packs or None,
        pilot=before.pilot if before else None,
        landings=1,
        remarks=remarks or None,
    )


def same_again(fleet: Records, today: date, aircraft: str | None = None) -> Flight:
    """The last flight once more: the same aircraft, packs and minutes, today.

    Args:
        fleet: where the flights are.
        today: the day it is flown on.
        aircraft: its last flight counts; None takes the last one of the whole fleet.

    Raises: BadInput when there is none to repeat.
    """
    flights = fleet.records(Flight) if aircraft is None else fleet.records(Flight, aircraft=aircraft)
    before = last_flight(flights)
    if before is None:
        raise BadInput("No flight is logged yet; there is none to log again.")
    return flight_today(fleet, before.aircraft, before.packs, before.minutes_min, today)


def hindrances_of(fleet: FleetReading, aircraft: str) -> tuple[Text, ...]:
    """Why an aircraft must not fly; one that cannot be judged is not taken for sound."""
    if aircraft not in fleet.codes():
        return ()
    judgement: Judgement | None = fleet.judgement(aircraft)
    if judgement is None:
        whole = fleet.aircraft(aircraft)
        return (fixed("it could not be judged"), *recorded_hindrances(whole.airframe, whole.snags))
    return flight_hindrances(judgement.aircraft, judgement.findings)


def close_snag(edit: Edit, snag: Snag, action: str, closed_on: date) -> Text:
    """Close a snag with what was done about it.

    Raises: BadInput when nothing was done, or it closes before it was raised.
    """
    if not action.strip():
        raise BadInput("What was done is missing; it must be given.")
    if closed_on < snag.raised_on:
        raise BadInput("The snag was raised on {day}; it cannot be closed before.", day=snag.raised_on)
    edit.change(Snag, key_of(snag), action=action.strip(), closed_on=closed_on)
    return text("Close snag: {text}", text=snag.text)


def next_snag_number(fleet: Records, aircraft: str, today: date) -> int:
    """The number of the next snag raised today."""
    raised = fleet.records(Snag, aircraft=aircraft, raised_on=today)
    return 1 + max((snag.number for snag in raised), default=0)
