"""Aircraft that servos may be swapped with: their matched groups and what is found on them, judged once."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace

from hangar.base.errors import BadInput
from hangar.parts import Aircraft, Library, Plan, PlanLine, ServoType, after_plan
from hangar.parts.choices import AircraftState
from hangar.parts.thresholds import Thresholds
from hangar.refit.choice import PLAN
from hangar.refit.faults import Faults, faults_of, is_graver
from hangar.refit.groups import Group, groups_of
from hangar.rules.case import Case
from hangar.rules.cures import Cure
from hangar.rules.finding import Level
from hangar.rules.inspecting import open_flags
from hangar.rules.registry import all_rules
from hangar.survey import survey
from hangar.survey.model import Conditions

COUNTED = (Level.WARNING, Level.CAUTION)
_FLYING = (AircraftState.ON_THE_LINE, AircraftState.ON_THE_BENCH)
"""An aircraft that is laid up is not judged in full, so nobody could say that it is no worse off."""


@dataclass
class Partner:
    """One aircraft that may take part in a swap."""

    aircraft: Aircraft
    conditions: Conditions
    thresholds: Thresholds
    _today: Faults | None = field(default=None)

    def __post_init__(self) -> None:
        self.seen = survey(self.aircraft, self.conditions)
        self.case = Case(self.aircraft, self.seen, self.thresholds)
        self.groups = groups_of(self.aircraft, self.seen)
        lines = (line for plan in self.aircraft.plans for line in plan.lines if line.done_on is None)
        self.planned = {line.place for line in lines}

    @property
    def today(self) -> Faults:
        """What is found as it is."""
        if self._today is None:
            self._today = _faults(self.case)
        return self._today

    def after(self, lines: Sequence[PlanLine], library: Library) -> tuple[Aircraft, Faults] | None:
        """The aircraft with lines carried out and what is found then; None where they cannot be."""
        numbered = tuple(replace(line, number=number) for number, line in enumerate(lines, 1))
        plan = Plan(code=PLAN, aircraft=self.aircraft.code, title=PLAN, lines=numbered)
        try:
            changed = after_plan(self.aircraft, plan, library)
        except BadInput:
            return None
        return changed, _faults(Case(changed, survey(changed, self.conditions), self.thresholds))

    def is_worse(self, then: Faults) -> bool:
        """Whether something is graver than today, or cannot be told any more."""
        return any(
            self.today.get(unit) is not Level.CANT_TELL
            if level is Level.CANT_TELL
            else level in COUNTED and is_graver(level, self.today.get(unit))
            for unit, level in then.items()
        )

    def faults_at(self, codes: Sequence[str], cure: Cure) -> Iterator[tuple[str, str]]:
        """Warnings and cautions that an action can cure, at some positions; without any, at all of it."""
        for (slug, place), level in self.today.items():
            if (not codes or place in codes) and level in COUNTED and cure in (all_rules()[slug].cures or ()):
                yield slug, place

    def has_alone(self, group: Group, library: Library) -> bool:
        """Whether every servo of a group is a known one that sits there alone."""
        return all(
            fit.servo is not None and not fit.elsewhere and fit.servo.tag in library.servos_elsewhere
            for fit in group.fits
        )

    def reserve(self, group: Group) -> float:
        """The least torque over load in a group; 0 where it is not known."""
        reserves = [self.seen.positions[code].reserve for code in group.codes if code in self.seen.positions]
        return min((0.0 if figure is None else figure.expected for figure in reserves), default=0.0)


@dataclass
class Partners:
    """The aircraft of a fleet, each surveyed where it is first asked for."""

    aircraft: tuple[Aircraft, ...]
    _known: dict[str, Partner] = field(default_factory=dict)

    def is_shared(self, pack: str) -> bool:
        """Whether a pack flies in several aircraft: then it belongs to none of them alone."""
        places = (fed.pack.tag for own in self.aircraft for path in own.paths for fed in path.packs)
        return list(places).count(pack) > 1

    def of(self, code: str, conditions: Conditions, thresholds: Thresholds) -> list[Partner]:
        """Those that an aircraft may swap with."""
        others = [other for other in self.aircraft if other.code != code and other.airframe.state in _FLYING]
        for other in others:
            if other.code not in self._known:
                self._known[other.code] = Partner(other, conditions, thresholds)
        return [self._known[other.code] for other in others]


def kind_of(group: Group) -> ServoType | None:
    """The type of all servos of a group; None where they differ or one is missing."""
    kinds = {fit.servo_type.code if fit.servo_type else "": fit.servo_type for fit in group.fits}
    return next(iter(kinds.values())) if len(kinds) == 1 else None


def torque_nm(kind: ServoType) -> float:
    """The most torque that a servo type is rated with."""
    return max((row.torque_nm or 0.0 for row in kind.ratings), default=0.0)


def _faults(case: Case) -> Faults:
    return faults_of(case.aircraft, ((rule.slug, flag) for rule, flag in open_flags(case)))
