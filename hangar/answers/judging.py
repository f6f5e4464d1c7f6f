"""One aircraft with everything the program can say about it."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from hangar.base.units import SI_TRADE, UnitChoice
from hangar.parts import Aircraft, Setting
from hangar.parts.library import Library
from hangar.rules.finding import Finding, Level
from hangar.survey.model import Survey

if TYPE_CHECKING:
    from hangar.survey import DueItem


@dataclass(frozen=True)
class Judgement:
    """An aircraft, its computed figures and what the rules found."""

    aircraft: Aircraft
    survey: Survey
    findings: tuple[Finding, ...]
    due: tuple[DueItem, ...] = ()

    @property
    def open_findings(self) -> tuple[Finding, ...]:
        """Findings nobody has accepted in writing."""
        return tuple(finding for finding in self.findings if finding.is_open)

    def about(self, *names: str | None) -> tuple[Finding, ...]:
        """The findings that concern one of these positions or tags."""
        wanted = {name for name in names if name}
        return tuple(finding for finding in self.findings if wanted & set(finding.about))


@dataclass(frozen=True)
class Circumstances:
    """What a judgement rests on besides the aircraft itself."""

    today: date
    settings: tuple[Setting, ...] = ()
    units: UnitChoice = SI_TRADE
    library: Library | None = None


Judge = Callable[[Aircraft, Circumstances], Judgement]


SETTINGS_JUDGED_BY = ("threshold.",)
"""How the names of the settings begin that a judgement reads; the units and the money sign are none."""


def settings_judged_by(settings: Iterable[Setting]) -> frozenset[Setting]:
    """The settings on which the judgement of every aircraft rests."""
    return frozenset(setting for setting in settings if setting.name.startswith(SETTINGS_JUDGED_BY))


def judge_aircraft(aircraft: Aircraft, around: Circumstances) -> Judgement:
    """Survey an aircraft and let the rules look at it."""
    # The physics brings numpy, which must not be loaded before the window is on screen.
    from hangar.rules import Thresholds, inspect
    from hangar.survey import Conditions, due_items, survey
    from hangar.survey.defaults import own_shares

    thresholds = Thresholds.from_settings(around.settings)
    conditions = Conditions(today=around.today, defaults=own_shares(thresholds.own))
    surveyed = survey(aircraft, conditions)

    def limit(name: str) -> float:
        return thresholds.value(name, aircraft.airframe.aircraft_class)

    return Judgement(
        aircraft=aircraft,
        survey=surveyed,
        findings=inspect(aircraft, surveyed, thresholds, around.library),
        due=due_items(aircraft, conditions, limit),
    )


def count_levels(findings: Iterable[Finding]) -> dict[Level, int]:
    """How many open findings there are of each level, every level listed."""
    counts = dict.fromkeys(Level, 0)
    for finding in findings:
        if finding.is_open:
            counts[finding.level] += 1
    return counts


def worst_level(findings: Iterable[Finding]) -> Level | None:
    """The gravest level among open findings; None when there are none."""
    return min((f.level for f in findings if f.is_open), key=lambda level: level.rank, default=None)


@dataclass(frozen=True)
class Difference:
    """What an edit did to the findings of one aircraft."""

    gone: tuple[Finding, ...] = ()
    new: tuple[Finding, ...] = ()

    @classmethod
    def between(cls, before: Iterable[Finding], after: Iterable[Finding]) -> Difference:
        """Compare two sets of open findings by rule, level and what they concern."""
        old = {_name(finding): finding for finding in before if finding.is_open}
        fresh = {_name(finding): finding for finding in after if finding.is_open}
        return cls(
            gone=tuple(finding for name, finding in old.items() if name not in fresh),
            new=tuple(finding for name, finding in fresh.items() if name not in old),
        )


def _name(finding: Finding) -> tuple[str, Level, frozenset[str]]:
    return finding.rule, finding.level, frozenset(finding.about)
