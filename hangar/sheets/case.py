"""What a sheet is printed from: one aircraft surveyed and judged, with the library beside it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cached_property

from hangar.parts import Aircraft, FedPack, Library, PowerPath
from hangar.parts.choices import AircraftState, FeedRole, Severity
from hangar.parts.sheet_boxes import revision
from hangar.rules import Thresholds
from hangar.rules.finding import Finding, Level
from hangar.sheets.photo import AircraftPhoto
from hangar.survey import Survey

__all__ = ["SheetCase", "accepted", "held_words", "not_released_words", "open_at", "revision"]


@dataclass(frozen=True, kw_only=True)
class SheetCase:
    """One aircraft as a sheet needs it: surveyed, judged, with the library beside it."""

    survey: Survey
    findings: tuple[Finding, ...]
    library: Library = field(default_factory=Library)
    thresholds: Thresholds = field(default_factory=Thresholds)
    photo: AircraftPhoto | None = None

    @property
    def aircraft(self) -> Aircraft:
        """The aircraft the sheet is for."""
        return self.survey.aircraft

    @cached_property
    def revision(self) -> str:
        """Digits that change with the records the sheet is printed from; worked out once."""
        return revision(self.aircraft)

    @property
    def fed_packs(self) -> list[tuple[PowerPath, FedPack]]:
        """Every pack in the aircraft with its power path."""
        return [(path, fed) for path in self.aircraft.paths for fed in path.packs]

    @property
    def tested_packs(self) -> list[tuple[PowerPath, FedPack]]:
        """The packs that are tested under load on the field: all but those that only drive."""
        return [
            (path, fed)
            for path, fed in self.fed_packs
            if path.feed.role is not FeedRole.DRIVE or path.regulator is not None
        ]

    def threshold(self, name: str) -> float:
        """The limit of that name for this aircraft's class."""
        return self.thresholds.value(name, self.aircraft.airframe.aircraft_class)


def open_at(findings: Sequence[Finding], level: Level) -> list[Finding]:
    """The findings of a level that nobody has accepted in writing."""
    return [finding for finding in findings if finding.level is level and finding.is_open]


def accepted(findings: Sequence[Finding]) -> list[Finding]:
    """The findings that somebody has accepted in writing."""
    return [finding for finding in findings if not finding.is_open]


def held_words(case: SheetCase) -> str | None:
    """``HELD:`` with its reason, or None when the aircraft is not held."""
    frame = case.aircraft.airframe
    if frame.state is not AircraftState.HELD:
        return None
    return f"HELD: {frame.state_reason or 'reason not written down'}"


def not_released_words(case: SheetCase) -> str | None:
    """``NOT RELEASED:`` with every reason, or None when nothing keeps it from the line."""
    frame = case.aircraft.airframe
    reasons = []
    warnings = len(open_at(case.findings, Level.WARNING))
    if warnings:
        reasons.append(f"{warnings} {'warning is' if warnings == 1 else 'warnings are'} open")
    grounding = [
        snag.text
        for snag in case.aircraft.snags
        if snag.closed_on is None and snag.severity is Severity.GROUNDS
    ]
    if grounding:
        reasons.append(f"open snag: {'; '.join(grounding)}")
    if frame.state not in (AircraftState.HELD, AircraftState.ON_THE_LINE):
        why = f" ({frame.state_reason})" if frame.state_reason else ""
        reasons.append(f"{frame.state}{why}")
    return f"NOT RELEASED: {', '.join(reasons)}" if reasons else None
