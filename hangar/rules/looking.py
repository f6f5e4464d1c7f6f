"""Survey and inspect an aircraft in one step."""

from __future__ import annotations

from hangar.parts import Aircraft, Library
from hangar.parts.thresholds import Thresholds
from hangar.rules.finding import Finding
from hangar.rules.inspecting import inspect
from hangar.survey import Conditions, survey


def look(
    aircraft: Aircraft,
    conditions: Conditions | None = None,
    thresholds: Thresholds | None = None,
    library: Library | None = None,
) -> tuple[Finding, ...]:
    """The findings on an aircraft on a day; see :func:`hangar.rules.inspect` for what they hold."""
    return inspect(aircraft, survey(aircraft, conditions), thresholds, library)
