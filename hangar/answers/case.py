"""One aircraft with everything that is asked of it: surveyed, judged, with types and limits beside it."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import Any, Self, TypeVar

from hangar.answers.judging import Judgement, JudgingBasis
from hangar.answers.needs import open_plans
from hangar.parts import Aircraft, FedPack, Library, Plan, PowerPath, after_plan
from hangar.parts.choices import FeedRole, PlanState
from hangar.rules import Thresholds, inspect
from hangar.rules.finding import Finding
from hangar.survey import Conditions, Survey, survey

_FITTED_SOON = (PlanState.PARTS_IN, PlanState.FITTING, PlanState.BENCH_PROVED)


@dataclass(frozen=True, kw_only=True)
class AircraftCase:
    """One aircraft surveyed and judged, with the library and the keeper's limits."""

    judgement: Judgement
    library: Library = field(default_factory=Library)
    thresholds: Thresholds = field(default_factory=Thresholds)

    @classmethod
    def of(cls, judgement: Judgement, basis: JudgingBasis, **more: Any) -> Self:
        """The case of an aircraft that was judged on that basis."""
        return cls(judgement=judgement, library=basis.library, thresholds=basis.thresholds, **more)

    @property
    def aircraft(self) -> Aircraft:
        """The aircraft itself."""
        return self.judgement.aircraft

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What the rules found."""
        return self.judgement.findings

    @property
    def conditions(self) -> Conditions:
        """The day it was judged for."""
        return self.judgement.conditions

    @cached_property
    def survey(self) -> Survey:
        """Its figures; of a judgement that was put aside they are worked out when they are first asked."""
        return self.judgement.survey

    def judged(self, survey: Survey | None = None, findings: tuple[Finding, ...] | None = None) -> Self:
        """The same with other figures or findings, or both."""
        seen = self.survey if survey is None else survey
        found = self.findings if findings is None else findings
        return replace(self, judgement=Judgement.of(seen, found))

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


Case = TypeVar("Case", bound=AircraftCase)


def plan_in_the_making(case: AircraftCase) -> Plan | None:
    """The refit that a bench check is for, if one has its parts or is being fitted."""
    return next((plan for plan in open_plans(case.aircraft) if plan.state in _FITTED_SOON), None)


def planned_case(case: Case, plan: Plan) -> Case:
    """The aircraft as it would be after a plan, surveyed and judged anew.

    Raises: BadInput naming the plan's line that cannot be carried out.
    """
    aircraft = after_plan(case.aircraft, plan, case.library)
    surveyed = survey(aircraft, case.conditions)
    return case.judged(surveyed, inspect(aircraft, surveyed, case.thresholds, case.library))
