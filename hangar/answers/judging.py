"""One aircraft with everything the program can say about it."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from datetime import date
from functools import cached_property
from typing import TYPE_CHECKING, Any, Protocol

from hangar.parts import Aircraft, Setting
from hangar.parts.library import Library
from hangar.parts.thresholds import Thresholds
from hangar.rules.finding import Finding, Level

if TYPE_CHECKING:
    from hangar.survey import DueItem
    from hangar.survey.model import Conditions, Survey


class FleetWithLibrary(Protocol):
    """Where records and the library are read from: a fleet or a session with one."""

    def records(self, kind: type[Any], /, **equal: Any) -> tuple[Any, ...]:
        """All records of one kind whose fields equal the given ones."""

    def library(self) -> Library:
        """The types and the parts bay."""


@dataclass(frozen=True)
class Judgement:
    """An aircraft, its computed figures and what the rules found."""

    aircraft: Aircraft
    survey: Survey
    findings: tuple[Finding, ...]
    due: tuple[DueItem, ...] = ()

    @classmethod
    def of(cls, survey: Survey, findings: tuple[Finding, ...] = ()) -> Judgement:
        """The judgement of the aircraft that was surveyed."""
        return cls(survey.aircraft, survey, findings)

    @property
    def conditions(self) -> Conditions:
        """The day it was judged for."""
        return self.survey.conditions

    @property
    def open_findings(self) -> tuple[Finding, ...]:
        """Findings nobody has accepted in writing."""
        return tuple(finding for finding in self.findings if finding.is_open)

    def about(self, *names: str | None) -> tuple[Finding, ...]:
        """The findings that concern one of these positions or tags."""
        wanted = {name for name in names if name}
        return tuple(finding for finding in self.findings if wanted & set(finding.about))


class PutAside(Judgement):
    """A judgement that holds its findings only; its figures are worked out anew each time they are asked.

    They take three quarters of what a judgement takes: too much to hold of thousands of aircraft.
    """

    _conditions: Conditions

    def __init__(self, judgement: Judgement) -> None:
        for name in ("aircraft", "findings", "due"):
            object.__setattr__(self, name, getattr(judgement, name))
        object.__setattr__(self, "_conditions", judgement.conditions)
        for finding in judgement.findings:
            finding.settle()

    @property
    def conditions(self) -> Conditions:
        """The day it was judged for."""
        return self._conditions

    @property
    def survey(self) -> Survey:
        """The figures."""
        from hangar.survey import survey

        return survey(self.aircraft, self._conditions)

    def taken_up(self) -> Judgement:
        """The whole judgement again."""
        return Judgement(self.aircraft, self.survey, self.findings, self.due)


@dataclass(frozen=True)
class JudgingBasis:
    """What a judgement rests on besides the aircraft itself: the day, the keeper's settings, the library."""

    today: date
    settings: tuple[Setting, ...] = ()
    library: Library = field(default_factory=Library)

    @classmethod
    def of(cls, fleet: FleetWithLibrary, today: date) -> JudgingBasis:
        """Read it from a fleet's settings, types and parts bay."""
        return cls(today, fleet.records(Setting), fleet.library())

    @property
    def named(self) -> dict[str, str]:
        """What the keeper set, by name."""
        return {setting.name: setting.value for setting in self.settings}

    @cached_property
    def thresholds(self) -> Thresholds:
        """The limits, the keeper's own before the program's.

        Raises: BadInput for a setting that cannot be read.
        """
        return Thresholds.from_settings(self.settings)

    def conditions(self, *, field_day: bool = False) -> Conditions:
        """The conditions under which the aircraft is looked at."""
        # The physics brings numpy, which must not be loaded before the window is on screen.
        from hangar.survey import Conditions
        from hangar.survey.defaults import own_shares

        return Conditions(today=self.today, field_day=field_day, defaults=own_shares(self.thresholds.own))


Judge = Callable[[Aircraft, JudgingBasis], Judgement]


SETTINGS_JUDGED_BY = ("threshold.",)
"""How the names of the settings begin that a judgement reads; the units and the money sign are none."""


def settings_judged_by(settings: Iterable[Setting]) -> frozenset[Setting]:
    """The settings on which the judgement of every aircraft rests."""
    return frozenset(setting for setting in settings if setting.name.startswith(SETTINGS_JUDGED_BY))


def judge_aircraft(aircraft: Aircraft, basis: JudgingBasis, *, field_day: bool = False) -> Judgement:
    """Survey an aircraft and let the rules look at it."""
    from hangar.rules import inspect
    from hangar.survey import due_items, survey

    conditions = basis.conditions(field_day=field_day)
    surveyed = survey(aircraft, conditions)

    def limit(name: str) -> float:
        return basis.thresholds.value(name, aircraft.airframe.aircraft_class)

    return Judgement(
        aircraft=aircraft,
        survey=surveyed,
        findings=inspect(aircraft, surveyed, basis.thresholds, basis.library),
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
