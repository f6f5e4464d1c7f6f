"""One aircraft in a few words for cards and headings."""

from __future__ import annotations

from collections.abc import Collection
from datetime import date

from hangar.parts import Aircraft
from hangar.parts.choices import AircraftState
from hangar.parts.holding import grounding_snags
from hangar.rules.finding import Finding, Level
from hangar.rules.releasing import unknown_essentials
from hangar.window.kit.judging import Judgement
from hangar.window.kit.words import put, say, word_of


def state_words(aircraft: Aircraft, findings: tuple[Finding, ...] | None) -> str:
    """The aircraft's state; on the line is only what was judged and has no warning and no snag against it."""
    state = aircraft.airframe.state
    if state is AircraftState.ON_THE_LINE:
        if findings is None:
            return say("Not judged yet")
        if has_open_warning(findings):
            return say("Held: warnings open")
        if grounding_snags(aircraft.snags):
            return say("Held: open snag")
        if unknown_essentials(aircraft):
            return say("On the line, not judged")
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
    lacks = unknown_essentials(judgement.aircraft)
    if lacks:
        named = ", ".join(put(what) for what in lacks)
        return say("Cannot be judged; not on record: {what}", what=named)
    return say("No open warnings on the data entered")


def fleet_words(known: Collection[Judgement | None]) -> str:
    """What can be said of warnings over a whole fleet; nothing before every aircraft is judged."""
    judged = [one for one in known if one is not None]
    if not judged or len(judged) < len(known):
        return ""
    if any(has_open_warning(one.findings) for one in judged):
        return ""
    lacking = [one.aircraft.code for one in judged if unknown_essentials(one.aircraft)]
    if lacking:
        return say("Cannot be judged: {codes}.", codes=", ".join(lacking))
    return say("No open warnings on the data entered")


def failure_words(fault: Exception | None) -> str:
    """Why nothing can be said of an aircraft; empty when nothing failed."""
    return say("Could not be worked out: {why}", why=put(fault)) if fault else ""


def last_flight_words(last: date | None) -> str:
    """When it flew last."""
    if last is None:
        return say("No flight logged")
    return say("Last flight {day}", day=last.isoformat())


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
