"""What is done to the log: a flight logged, the same again, a snag closed."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import date

from hangar.acts.hindrances import Hindrances
from hangar.answers.reading import Records
from hangar.base.errors import BadInput
from hangar.base.kept_text import read_kept
from hangar.base.text import Text, listed, plural, series, text
from hangar.parts import Flight, Snag
from hangar.parts.fields import key_of
from hangar.parts.holding import logged_although
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
    """Flights were to be logged of aircraft that must not fly; they are logged only when that is confirmed.

    Attributes:
        flight: the first of these flights.
        refused: of each aircraft and day, why it must not fly.
    """

    def __init__(self, refused: Mapping[Flight, tuple[Text, ...]]) -> None:
        by_day = {(flight.aircraft, flight.flown_on): reasons for flight, reasons in refused.items()}
        sentences = [
            text("{code} must not fly: {reasons}", code=code, reasons=series(reasons))
            if len(by_day) == 1
            else text("{code} on {day}: {reasons}", code=code, day=day, reasons=series(reasons, ","))
            for (code, day), reasons in by_day.items()
        ]
        super().__init__("{what}.", what=sentences[0] if len(sentences) == 1 else _several(sentences))
        self.flight = next(iter(refused))
        self.refused = refused

    @property
    def question(self) -> Text:
        """What the keeper is asked."""
        return text("{why} Log it all the same, and have that kept with it?", why=self.text)


def _several(sentences: Sequence[Text]) -> Text:
    return text("These must not fly: {flights}", flights=listed(sentences, joint=";", most=6))


def log_flights(
    edit: Edit, flights: Iterable[Flight], hindrances: Hindrances, *, although: bool = False
) -> Text:
    """Log flights of any day; those of an aircraft that must not have flown then are asked about.

    Args:
        edit: where they are entered.
        flights: the flights, see :func:`flight_today`; one that is in the log already is only written anew.
        hindrances: tells what stood against each.
        although: log them all the same; the remarks of those flights then say so.

    Raises:
        MustNotFly: an aircraft is held, has warnings open, or is not on the line.
        BadInput: impossible minutes, or an aircraft that is not there.
    """
    made = list(flights)
    fresh = (flight for flight in made if edit.record(Flight, *key_of(flight)) is None)
    asked = {flight: hindrances.on(flight.aircraft, flight.flown_on) for flight in fresh}
    refused = {flight: reasons for flight, reasons in asked.items() if reasons}
    if refused and not although:
        raise MustNotFly(refused)
    edit.put_all([_kept_as_such(flight, refused.get(flight, ())) for flight in made])
    if len(made) > 1:
        return plural("Log {count} flight", "Log {count} flights", count=len(made))
    return text("Log flight {number} of {aircraft}", number=made[0].number, aircraft=made[0].aircraft)


def _kept_as_such(flight: Flight, reasons: tuple[Text, ...]) -> Flight:
    if not reasons:
        return flight
    return replace(flight, remarks=logged_although(reasons, flight.remarks))


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


def close_snag(edit: Edit, snag: Snag, action: str, closed_on: date) -> Text:
    """Close a snag with what was done about it.

    Raises: BadInput when nothing was done, or it closes before it was raised.
    """
    if not action.strip():
        raise BadInput("What was done is missing; it must be given.")
    if closed_on < snag.raised_on:
        raise BadInput("The snag was raised on {day}; it cannot be closed before.", day=snag.raised_on)
    edit.change(Snag, key_of(snag), action=action.strip(), closed_on=closed_on)
    return text("Close snag: {text}", text=read_kept(snag.text))


def next_snag_number(fleet: Records, aircraft: str, today: date) -> int:
    """The number of the next snag raised today."""
    raised = fleet.records(Snag, aircraft=aircraft, raised_on=today)
    return 1 + max((snag.number for snag in raised), default=0)
