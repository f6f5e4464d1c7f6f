"""Servo positions that can be looked at in another room, and what can be done with them there."""

from __future__ import annotations

from hangar.rules.finding import Finding
from hangar.window.kit.desk import Desk

COMPARE, TRY_OUT, POSITION = "compare", "try-out", "position"
"""What can be done with a position elsewhere."""
MOST_PLACES = 4
"""A finding that concerns more positions than that names the first of them only."""


def places_of(desk: Desk, finding: Finding) -> tuple[str, ...]:
    """Codes of the servo positions that a finding is about, by themselves or by their servos' tags."""
    if finding.aircraft not in desk.codes():
        return ()
    fits = desk.aircraft(finding.aircraft).fits
    named = [fit.code for fit in fits if {fit.code, fit.tag} & set(finding.about)]
    return tuple(named[:MOST_PLACES])
