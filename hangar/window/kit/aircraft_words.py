"""One aircraft in a few words for cards and headings."""

from __future__ import annotations

from datetime import date

from hangar.parts import Aircraft
from hangar.parts.choices import AircraftState
from hangar.rules.finding import Finding, Level
from hangar.window.kit.judging import Judgement
from hangar.window.kit.words import say, word_of


def state_words(aircraft: Aircraft, findings: tuple[Finding, ...] | None) -> str:
    """The aircraft's state; with open warnings one that is on the line is held."""
    state = aircraft.airframe.state
    if state is AircraftState.ON_THE_LINE and findings is not None and has_open_warning(findings):
        return say("Held: warnings open")
    reason = aircraft.airframe.state_reason
    return f"{word_of(state)}: {reason}" if reason and state is AircraftState.HELD else word_of(state)


def has_open_warning(findings: tuple[Finding, ...]) -> bool:
    """Whether a warning stands that nobody accepted."""
    return any(finding.is_open and finding.level is Level.WARNING for finding in findings)


def verdict_words(judgement: Judgement | None) -> str:
    """What can be said of warnings; never that it is safe."""
    if judgement is None:
        return say("Looking it over…")
    if has_open_warning(judgement.findings):
        return say("Do not fly before the warnings are cured")
    return say("No open warnings on the data entered")


def failure_words(fault: Exception | None) -> str:
    """Why nothing can be said of an aircraft; empty when nothing failed."""
    return say("Could not be worked out: {why}").format(why=fault) if fault else ""


def last_flight_words(last: date | None) -> str:
    """When it flew last."""
    if last is None:
        return say("No flight logged")
    return say("Last flight {day}").format(day=last.isoformat())


def due_words(judgement: Judgement | None) -> str:
    """What is due next; more than one overdue thing is counted."""
    if judgement is None:
        return ""
    if not judgement.due:
        return say("Nothing is due")
    first = judgement.due[0]
    overdue = sum(item.days < 0 for item in judgement.due)
    if overdue > 1:
        words = say("{count} things overdue, first {what} {about}")
    elif overdue:
        words = say("Overdue: {what} {about}")
    else:
        words = say("Due {day}: {what} {about}")
    return words.format(
        day=first.due_on.isoformat(), what=say(str(first.what)), about=first.about, count=overdue
    )
