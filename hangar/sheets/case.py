"""What a sheet is printed from: one aircraft surveyed and judged, with the library beside it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from hangar.answers.case import AircraftCase
from hangar.base.text import Text, series, text
from hangar.parts.holding import keeper_hold
from hangar.parts.sheet_boxes import revision
from hangar.rules.finding import Finding, Level
from hangar.rules.releasing import flight_hindrances, unjudged_words
from hangar.sheets.photo import AircraftPhoto, LookForPhoto

__all__ = [
    "SheetCase",
    "accepted",
    "held_words",
    "not_judged_words",
    "not_released_words",
    "open_at",
    "revision",
]


@dataclass(frozen=True, kw_only=True)
class SheetCase(AircraftCase):
    """One aircraft as a sheet needs it: surveyed, judged, with the library and its photo beside it."""

    photo: AircraftPhoto | LookForPhoto | None = None

    @cached_property
    def revision(self) -> str:
        """Digits that change with the records the sheet is printed from; worked out once."""
        return revision(self.aircraft)


def open_at(findings: Sequence[Finding], level: Level) -> list[Finding]:
    """The findings of a level that nobody has accepted in writing."""
    return [finding for finding in findings if finding.level is level and finding.is_open]


def accepted(findings: Sequence[Finding]) -> list[Finding]:
    """The findings that somebody has accepted in writing."""
    return [finding for finding in findings if not finding.is_open]


def held_words(case: SheetCase) -> Text | None:
    """``HELD:`` with its reason, or None when the aircraft is not held."""
    hold = keeper_hold(case.aircraft.airframe)
    return text("HELD: {why}", why=hold) if hold else None


def not_released_words(case: SheetCase) -> Text | None:
    """``NOT RELEASED:`` with every other reason, or None when nothing keeps it from the line."""
    reasons = flight_hindrances(case.aircraft, case.findings)
    if held_words(case):
        reasons = reasons[1:]
    return text("NOT RELEASED: {why}", why=series(reasons, ",")) if reasons else None


def not_judged_words(case: SheetCase) -> Text | None:
    """``NOT JUDGED:`` with what is not on record, or None where the essentials are known."""
    words = unjudged_words(case.aircraft)
    return text("NOT JUDGED: {why}", why=words) if words else None
