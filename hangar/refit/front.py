"""The answer of the planner: refits that none beats, what was refused, and whether that is all."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from hangar.parts import Aircraft, Plan, PlanLine
from hangar.parts.choices import PlanAction
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
    doubts: tuple[str, ...] = ()
    stopped: bool = False
    tables: Tables | None = field(default=None, repr=False, compare=False)

    @property
    def today(self) -> Point:
        """The aircraft as it is."""
        return self.points[0]


def line_words(line: PlanLine, aircraft: Aircraft | None = None) -> str:
    """A plan line as a keeper would say it.

    Args:
        line: what is done.
        aircraft: as it is, to tell a second pack, and the board between two packs, from what is replaced.
    """
    return f"{line.place}: {_done_words(line, aircraft)}"


def change_words(lines: Sequence[PlanLine], aircraft: Aircraft | None = None) -> list[str]:
    """The lines of a plan in words, places that get the same in one.

    >>> from hangar.parts.choices import PlanAction
    >>> leads = [
    ...     PlanLine(plan="P", number=number, action=PlanAction.CHANGE_LEAD, place=place, awg=22)
    ...     for number, place in enumerate(("AIL-L", "AIL-R"), 1)
    ... ]
    >>> change_words(leads)
    ['AIL-L, AIL-R: lead 22 AWG']
    """
    places: dict[str, list[str]] = {}
    for line in lines:
        places.setdefault(_done_words(line, aircraft), []).append(line.place or "-")
    return [f"{', '.join(each)}: {words}" for words, each in places.items()]


def _done_words(line: PlanLine, aircraft: Aircraft | None) -> str:
    known = None if aircraft is None else {path.feed.code for path in aircraft.paths}
    is_new = known is not None and line.place not in known
    at = f" set to {line.set_v:g} V" if line.set_v else ""
    words = {
        PlanAction.FIT_SERVO: f"servo {line.part_type}",
        PlanAction.FIT_PACK: f"{'second pack' if is_new else 'pack'} {line.part_type}",
        PlanAction.FIT_REGULATOR: f"board {line.part_type}{at}, isolates the packs from each other"
        if is_new
        else f"{'regulator' if at else 'board'} {line.part_type}{at}",
        PlanAction.SET_REGULATOR: f"regulator{at}",
        PlanAction.FIT_SWITCH: f"switch {line.part_type}",
        PlanAction.CHANGE_LEAD: f"lead {line.awg} AWG",
        PlanAction.CHANGE_ARM: f"arm {line.part_type or 'for the new spline'}",
    }
    tag = f" ({line.from_stock} from the Parts Bay)" if line.from_stock else ""
    if line.action is PlanAction.FIT_SERVO and line.price == 0.0 and not tag:
        tag = " (from the Parts Bay)"
    return f"{words[line.action]}{tag}"
