"""What the planner answers: one plan with what it clears, what stays and why, proved or with its gap."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from hangar.base.text import NOTHING, Text, text
from hangar.parts import Aircraft, PlanLine
from hangar.refit.refusal import Refusal
from hangar.rules.cures import Need
from hangar.rules.finding import Finding, Level
from hangar.rules.registry import all_rules


@dataclass(frozen=True, order=True)
class Value:
    """What a plan is worth, compared in this order: less is better."""

    warnings: int = 0
    cautions: int = 0
    money: float = 0.0
    hours: float = 0.0
    mass_g: float = 0.0


@dataclass(frozen=True)
class Unit:
    """A rule's verdict on one matched group, or on the aircraft where ``places`` is empty, at its worst."""

    rule: str
    places: tuple[str, ...]
    level: Level

    @property
    def words(self) -> Text:
        """The rule's title with the places."""
        rule = all_rules().get(self.rule)
        title = self.rule if rule is None else rule.title
        if self.places:
            return text("{title} ({places})", title=title, places=", ".join(self.places))
        return text("{title}", title=title)


class Because(StrEnum):
    """Why a finding stays."""

    NO_PART = "no part"
    DEARER = "dearer than the budget"
    BRINGS_WORSE = "would bring worse"
    PAPER = "paper or proof"
    LOCKED = "locked by you"
    NOT_ASKED = "not asked for"
    UNKNOWN = "unknown"


@dataclass(frozen=True, kw_only=True)
class Change:
    """One line of the plan.

    Attributes:
        line: what is done.
        hours: of work.
        mass_g: change of mass.
        cures: what comes back without it, or without the lines that must go with it.
        together: numbers of the lines that go with it.
        at: code of the other aircraft that a swap does it on; empty on the aircraft itself.
    """

    line: PlanLine
    hours: float
    mass_g: float
    cures: tuple[Unit, ...] = ()
    together: tuple[int, ...] = ()
    at: str = ""


@dataclass(frozen=True, kw_only=True)
class Stay:
    """A warning or caution that stays, and why.

    Attributes:
        unit: what stays.
        because: why, of a closed list.
        words: the same in a sentence.
        need: what a part would need, where the rule says it.
    """

    unit: Unit
    because: Because
    words: Text = NOTHING
    need: Need | None = None


@dataclass(frozen=True, kw_only=True)
class Answer:
    """The answer to one question about one aircraft.

    Attributes:
        question: ``clear``, ``best_for_budget``, ``next_step`` or ``stages``.
        aircraft: as it is.
        after: with the plan carried out.
        proved: whether no better plan can be; else ``gap`` says how much could be missing.
        gap: warnings, cautions and money that a better plan could still save at most.
        today: its value before.
        left: its value after, with money, hours and grams of the plan.
        changes: the lines with what each cures.
        clears: what today has and the plan has not, gravest first.
        brings: what today has not, gravest first.
        stays: what stays and why, gravest first.
        unknown: what cannot be told of it.
        weakest_margin: least reserve of its positions; None where none is known.
        bus_peak_v: bus volts at peak current.
        findings_after: what the rules say of it then.
        refused: what was not offered.
        freed: parts that come off and go to the bay: type, how many, and their value.
        picks: the plan as the search numbers it.
        looks: surveys with inspection that it took.
        nodes: nodes of the search.
        stopped: whether the keeper stopped it.
    """

    question: str
    aircraft: Aircraft
    after: Aircraft
    proved: bool
    gap: Value
    today: Value
    left: Value
    changes: tuple[Change, ...] = ()
    clears: tuple[Unit, ...] = ()
    brings: tuple[Unit, ...] = ()
    stays: tuple[Stay, ...] = ()
    unknown: tuple[Text, ...] = ()
    weakest_margin: float | None = None
    bus_peak_v: float | None = None
    findings_after: tuple[Finding, ...] = ()
    refused: tuple[Refusal, ...] = ()
    freed: tuple[tuple[str, int, float | None], ...] = ()
    picks: tuple[int, ...] = ()
    looks: int = 0
    nodes: int = 0
    stopped: bool = False

    @property
    def lines(self) -> tuple[PlanLine, ...]:
        """The lines of the plan for the aircraft itself."""
        return tuple(change.line for change in self.changes if not change.at)

    @property
    def lines_elsewhere(self) -> dict[str, tuple[PlanLine, ...]]:
        """What swaps do on other aircraft, by their codes: each wants a plan of its own."""
        codes = dict.fromkeys(change.at for change in self.changes if change.at)
        return {code: tuple(change.line for change in self.changes if change.at == code) for code in codes}

    @property
    def is_needed(self) -> bool:
        """Whether there is anything to do."""
        return bool(self.changes)


class Rung(StrEnum):
    """A stair of the ladder."""

    TODAY = "today"
    FREE = "free of charge"
    NEXT = "the next worthwhile step"
    BUDGET = "the best for this money"
    CLEAR = "the least that clears"
    WITHOUT_NEW = "clear without new cautions"


@dataclass(frozen=True, kw_only=True)
class Ladder:
    """The answers to one aircraft, one rung each, from today upwards; equal rungs stand once."""

    aircraft: Aircraft
    rungs: Mapping[Rung, Answer] = field(default_factory=dict)
