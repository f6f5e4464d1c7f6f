"""The answer of the planner: refits that none beats, what was refused, and whether that is all."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from hangar.base.text import Text
from hangar.parts import Aircraft, Plan, PlanLine
from hangar.refit.changes import plan_of
from hangar.refit.refusal import Refusal
from hangar.rules.finding import Finding

if TYPE_CHECKING:
    from hangar.refit.tables import Tables


@dataclass(frozen=True, kw_only=True)
class Point:
    """One refit as survey and rules judge it.

    Attributes:
        price: of everything to buy.
        mass_change_g: mass added.
        weakest_margin: least torque over expected load of all positions; None where none is known.
        worst_bus_v: bus volts at peak current; None where they cannot be told.
        changes: the lines of the plan, ready to become one.
        findings_after: what the rules find on the changed aircraft.
        cured: findings of today that are gone.
        certified: what the tables count with: price in hundredths, grams, margin in percent and bus
            millivolts; the aircraft is at least that good. None for the aircraft as it is.
        choices: number of the option of each group, then of the supply.
    """

    price: float
    mass_change_g: float
    weakest_margin: float | None
    worst_bus_v: float | None
    changes: tuple[PlanLine, ...]
    findings_after: tuple[Finding, ...] = field(repr=False)
    cured: tuple[Finding, ...] = field(default=(), repr=False)
    certified: tuple[int, int, int, int] | None = None
    choices: tuple[int, ...] = ()

    def plan(self, aircraft: Aircraft, code: str, title: str) -> Plan:
        """The point as a plan that can be written to the fleet file."""
        return plan_of(aircraft, self.changes, code, title)


@dataclass(frozen=True, kw_only=True)
class Front:
    """Every refit of one aircraft that no other equals or beats, the cheapest first.

    Attributes:
        aircraft: as it is.
        points: refits that were proved; the first changes nothing.
        refused: choices that are not possible, with the first hard rule each breaks.
        cut: refits that survey or rules refused, with the reason.
        exact: whether it is the whole front on the declared steps.
        hidden: how many more points there are than are shown.
        doubts: why it is not exact, or what to know when reading it; one sentence each.
        stopped: whether it was stopped before the end.
        tables: what it was solved from, for the explanations; None where they are not kept.
    """

    aircraft: Aircraft
    points: tuple[Point, ...]
    refused: tuple[Refusal, ...]
    cut: tuple[Refusal, ...] = ()
    exact: bool
    hidden: int = 0
    doubts: tuple[Text, ...] = ()
    stopped: bool = False
    tables: Tables | None = field(default=None, repr=False, compare=False)

    @property
    def today(self) -> Point:
        """The aircraft as it is."""
        return self.points[0]
