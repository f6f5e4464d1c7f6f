"""May it fly? Why an aircraft is held or not released, and what it cannot be judged without."""

from __future__ import annotations

from collections.abc import Iterable

from hangar.base.text import Text, plural, series, text
from hangar.parts import Aircraft
from hangar.parts.airframe import is_power_unknown
from hangar.parts.choices import Function, PowerKind
from hangar.parts.holding import keeper_hold, recorded_hindrances
from hangar.rules.finding import Finding, Level


def flight_hindrances(aircraft: Aircraft, findings: Iterable[Finding]) -> tuple[Text, ...]:
    """Every reason why an aircraft must not fly: open warnings, and what its records say.

    Empty says no more than that: what was never entered is not judged.
    """
    warnings = sum(finding.level is Level.WARNING and finding.is_open for finding in findings)
    sentences = (
        [plural("{count} warning is open", "{count} warnings are open", count=warnings)] if warnings else []
    )
    recorded = recorded_hindrances(aircraft.airframe, aircraft.snags)
    if keeper_hold(aircraft.airframe):
        return (recorded[0], *sentences, *recorded[1:])
    return (*sentences, *recorded)


PROVED_BY_THE_LIST = frozenset({"load-test-stale", "turbine-fire-kit"})
"""Rules whose warning the field checklist itself closes, by a step that must be proved before it releases."""


def conditions_of(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """The open warnings that a step of the field checklist closes; no other warning may hang under them."""
    return tuple(
        finding
        for finding in findings
        if finding.level is Level.WARNING
        and finding.is_open
        and all(
            other_finding.rule in PROVED_BY_THE_LIST
            for other_finding in finding.with_folded()
            if other_finding.level is Level.WARNING
        )
    )


def hindrances_beside_the_list(aircraft: Aircraft, findings: Iterable[Finding]) -> tuple[Text, ...]:
    """Why an aircraft must not fly even when every step of its field checklist is proved."""
    known = tuple(findings)
    conditional = conditions_of(known)
    return flight_hindrances(aircraft, (finding for finding in known if finding not in conditional))


def unjudged_words(aircraft: Aircraft) -> Text | None:
    """``no pack, no servo on record``; None where the essentials are known."""
    lacks = unknown_essentials(aircraft)
    if not lacks:
        return None
    return text("{what} on record", what=series((text("no {what}", what=lack) for lack in lacks), ","))


def unknown_essentials(aircraft: Aircraft) -> tuple[Text, ...]:
    """What is not on record and without which no silence of the checks means anything."""
    frame = aircraft.airframe
    engine = frame.power not in (PowerKind.NONE, PowerKind.TOW) or is_power_unknown(frame)
    throttles = [channel for channel in aircraft.channels if channel.function is Function.THROTTLE]
    lacks = {
        text("all-up mass"): frame.all_up_mass_g is None,
        text("pack"): not any(path.packs for path in aircraft.radio_paths),
        text("servo"): not any(fit.servo_type for fit in aircraft.fits),
        text("kind of motor"): is_power_unknown(frame),
        text("failsafe of the throttle"): any(throttle.failsafe is None for throttle in throttles)
        or (engine and not throttles),
    }
    return tuple(what for what, is_lacking in lacks.items() if is_lacking)
