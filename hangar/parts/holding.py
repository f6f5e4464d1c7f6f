"""What the records themselves say against a flight: its keeper's hold, grounding snags, its state."""

from __future__ import annotations

from collections.abc import Iterable

from hangar.base.kept_text import kept_text, read_kept
from hangar.base.text import Arg, Text, joined, series, text
from hangar.parts.airframe import Airframe
from hangar.parts.choices import AircraftState, Severity
from hangar.parts.logbook import Snag

NO_REASON = text("reason not written down")


def keeper_hold(frame: Airframe) -> Text | str | None:
    """Why the keeper holds an aircraft; None when he does not."""
    return (frame.state_reason or NO_REASON) if frame.state is AircraftState.HELD else None


def grounding_snags(snags: Iterable[Snag]) -> tuple[Snag, ...]:
    """The snags that are not closed and ground the aircraft."""
    return tuple(snag for snag in snags if snag.closed_on is None and snag.severity is Severity.GROUNDS)


def recorded_hindrances(frame: Airframe, snags: Iterable[Snag]) -> tuple[Text, ...]:
    """Every reason on record why an aircraft must not fly, its keeper's hold first.

    >>> from hangar.parts.choices import AircraftClass
    >>> frame = Airframe(code="X", name="X", aircraft_class=AircraftClass.SPORT)
    >>> [str(reason) for reason in recorded_hindrances(frame, ())]
    ['on the bench']
    """
    hold = keeper_hold(frame)
    reasons = [text("held: {why}", why=hold)] if hold else []
    grounding = grounding_snags(snags)
    if grounding:
        reasons.append(text("open snag: {snags}", snags=series(read_kept(snag.text) for snag in grounding)))
    if frame.state not in (AircraftState.HELD, AircraftState.ON_THE_LINE):
        state = text("{state}", state=frame.state)
        reason = frame.state_reason
        reasons.append(text("{state} ({why})", state=state, why=reason) if reason else state)
    return tuple(reasons)


def logged_although(reasons: Iterable[Arg], remarks: str | None) -> str:
    """The remarks of a flight that is logged of an aircraft that must not fly, so that it is kept as such."""
    sentence = text("Logged while not released: {reasons}.", reasons=series(reasons))
    return kept_text(joined(sentence, text("{remarks}", remarks=remarks)) if remarks else sentence)
