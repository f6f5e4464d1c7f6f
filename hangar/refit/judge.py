"""A plan put through survey and every rule: what it leaves, unit by unit, and its bus volts."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property

from hangar.base.errors import BadInput
from hangar.base.text import Text
from hangar.parts import Aircraft, Library, Plan, PlanLine, after_plan
from hangar.refit.choice import PLAN, ChoiceList
from hangar.refit.request import RefitRequest
from hangar.refit.supplies import Supply
from hangar.rules.case import Case
from hangar.rules.finding import Finding, Level
from hangar.rules.flag import Flag
from hangar.rules.inspecting import inspect, open_flags
from hangar.rules.registry import Rule
from hangar.survey import survey
from hangar.survey.model import Scenario, Survey

Key = tuple[str, int | str]
"""A unit: a rule and the list of the matched group, or a code that no list holds; empty for the aircraft."""
Picks = tuple[int, ...]
"""One choice of each list, then the supply."""
PEAKS = (Scenario.PEAK, Scenario.COLD, Scenario.AGED)
COUNTED = (Level.WARNING, Level.CAUTION)


@dataclass(frozen=True, kw_only=True)
class OpenFlag:
    """A flag with its rule and the lists that hold what it is about."""

    rule: Rule
    flag: Flag


@dataclass(frozen=True)
class PlanVerdict:
    """What survey and rules say of one plan.

    Attributes:
        picks: the plan.
        units: the graver level of each rule at each matched group, warnings and cautions only.
        flags: the flags behind each unit, the gravest first.
        bus_v: bus volts in each peak; None where the supply collapses or nobody can tell.
        seen: the survey.
    """

    picks: Picks
    aircraft: Aircraft
    units: Mapping[Key, Level]
    flags: Mapping[Key, tuple[OpenFlag, ...]]
    bus_v: tuple[float, ...] | None
    seen: Survey
    unknown: tuple[OpenFlag, ...] = field(default=())

    @cached_property
    def count(self) -> tuple[int, int]:
        """Units at warning and at caution."""
        levels = list(self.units.values())
        return levels.count(Level.WARNING), levels.count(Level.CAUTION)


class Judge:
    """Judges plans of one aircraft; each is looked at once."""

    def __init__(
        self, aircraft: Aircraft, library: Library, lists: Sequence[ChoiceList], supplies: Sequence[Supply],
        asking: RefitRequest,
    ) -> None:  # fmt: skip
        self.aircraft, self.library, self.asking = aircraft, library, asking
        self.lists, self.supplies = tuple(lists), tuple(supplies)
        self.looks = 0
        self.lasting: dict[Key, tuple[Level, OpenFlag]] = {}
        self.known: dict[Picks, PlanVerdict | None] = {}
        self.group_of = {
            place: at
            for at, choice_list in reversed(list(enumerate(self.lists)))
            for place in choice_list.places
        }

    def lines(self, picks: Picks) -> tuple[PlanLine, ...]:
        """The lines of a plan, numbered from 1: servos and handwork by list, then the supply."""
        chosen = [
            line
            for choice_list, at in zip(self.lists, picks, strict=False)
            for line in choice_list.choices[at].lines
        ]
        chosen += self.supplies[picks[-1]].lines
        return tuple(replace(line, number=number) for number, line in enumerate(chosen, 1))

    def changed(self, lines: Sequence[PlanLine]) -> Aircraft:
        """The aircraft with lines carried out.

        Raises: BadInput where they cannot be.
        """
        plan = Plan(code=PLAN, aircraft=self.aircraft.code, title=PLAN, lines=tuple(lines))
        return after_plan(self.aircraft, plan, self.library)

    def judged(self, picks: Picks) -> PlanVerdict | None:
        """What is said of a plan; None where its lines cannot be carried out together."""
        if picks not in self.known:
            try:
                self._check_set_free(picks)
                aircraft = self.changed(self.lines(picks))
            except BadInput:
                self.known[picks] = None
            else:
                self.known[picks] = self.look(aircraft, picks)
        return self.known[picks]

    def _check_set_free(self, picks: Picks) -> None:
        """See that a servo which moves within the aircraft is set free by another change.

        Raises: BadInput where one is not.
        """
        chosen = [choice_list.choices[at] for choice_list, at in zip(self.lists, picks, strict=False)]
        freed = frozenset[str]().union(*(choice.frees for choice in chosen))
        for line in (line for choice in chosen for line in choice.lines):
            if line.from_aircraft == self.aircraft.code and line.from_stock not in freed:
                raise BadInput(
                    "servo {tag} is still in place elsewhere in {aircraft}.",
                    tag=line.from_stock, aircraft=line.from_aircraft,
                )  # fmt: skip

    def look(self, aircraft: Aircraft, picks: Picks) -> PlanVerdict:
        """One survey with one inspection of an aircraft."""
        self.looks += 1
        seen = survey(aircraft, self.asking.conditions)
        case = Case(aircraft, seen, self.asking.thresholds)
        units: dict[Key, Level] = {}
        flags: dict[Key, list[OpenFlag]] = {}
        unknown = []
        for rule, flag in open_flags(case):
            raised = OpenFlag(rule=rule, flag=flag)
            if flag.level is Level.CANT_TELL:
                unknown.append(raised)
            if flag.level not in COUNTED:
                continue
            for key in self.keys(rule.slug, flag):
                if key not in units or flag.level.rank < units[key].rank:
                    units[key] = flag.level
                    flags.setdefault(key, []).insert(0, raised)
                else:
                    flags[key].append(raised)
        for key, (level, raised) in self.lasting.items():
            if key not in units or level.rank < units[key].rank:
                units[key] = level
                flags.setdefault(key, []).insert(0, raised)
        return PlanVerdict(
            picks, aircraft, units, {key: tuple(flag) for key, flag in flags.items()}, peak_volts(seen), seen,
            tuple(unknown),
        )  # fmt: skip

    def set_today(self, today: PlanVerdict) -> None:
        """What no plan cures stays in every plan: a change may hide a reading, never mend what was read."""
        for key, level in today.units.items():
            raised = today.flags[key][0]
            if raised.rule.cures == ():
                self.lasting[key] = (level, raised)

    def stays(self, rule: Rule, key: Key, level: Level) -> bool:
        """Whether a unit is there in every plan, at this level or a graver one."""
        return rule.cures == () and key in self.lasting and self.lasting[key][0].rank <= level.rank

    def keys(self, slug: str, flag: Flag) -> list[Key]:
        """The units of a flag: its rule at each matched group it is about, else at the aircraft."""
        positions = [code for code in flag.about if self.aircraft.fit(code) is not None]
        return list(dict.fromkeys((slug, self.group_of.get(code, code)) for code in positions)) or [
            (slug, "")
        ]

    def places(self, key: Key) -> tuple[str, ...]:
        """The positions of a unit; none for the aircraft."""
        if isinstance(key[1], int):
            return self.lists[key[1]].places
        return (key[1],) if key[1] else ()

    def findings(self, judged: PlanVerdict) -> tuple[Finding, ...]:
        """What is told of a plan: gathered, accepted and in order."""
        return inspect(judged.aircraft, judged.seen, self.asking.thresholds)


def peak_volts(seen: Survey) -> tuple[float, ...] | None:
    """Bus volts at peak current as measured, cold and aged."""
    volts = [seen.scenarios.get(scenario) for scenario in PEAKS]
    if any(case is None or case.bus_v is None for case in volts):
        return None
    return tuple(case.bus_v.expected for case in volts if case is not None and case.bus_v is not None)


Progress = Callable[[float, Text], None]
Stop = Callable[[], bool]


def no_progress(_share: float, _words: Text) -> None:
    """Tell nobody."""


def never() -> bool:
    """Do not stop."""
    return False
