"""The answer of the planner: refits that none beats, what was refused, and whether that is all."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from hangar.base.text import Amount, Text, text
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
    doubts: tuple[Text, ...] = ()
    stopped: bool = False
    tables: Tables | None = field(default=None, repr=False, compare=False)

    @property
    def today(self) -> Point:
        """The aircraft as it is."""
        return self.points[0]


def line_words(line: PlanLine, aircraft: Aircraft | None = None) -> Text:
    """A plan line as a keeper would say it.

    Args:
        line: what is done.
        aircraft: as it is, to tell a second pack, and the board between two packs, from what is replaced.
    """
    return text("{place}: {done}", place=line.place, done=_done_words(line, aircraft))


def change_words(lines: Sequence[PlanLine], aircraft: Aircraft | None = None) -> list[Text]:
    """The lines of a plan in words, places that get the same in one.

    >>> from hangar.parts.choices import PlanAction
    >>> leads = [
    ...     PlanLine(plan="P", number=number, action=PlanAction.CHANGE_LEAD, place=place, awg=22)
    ...     for number, place in enumerate(("AIL-L", "AIL-R"), 1)
    ... ]
    >>> [str(words) for words in change_words(leads)]
    ['AIL-L, AIL-R: lead 22 AWG']
    """
    places: dict[Text, list[str]] = {}
    for line in lines:
        places.setdefault(_done_words(line, aircraft), []).append(line.place or "-")
    return [text("{place}: {done}", place=", ".join(each), done=done) for done, each in places.items()]


def _done_words(line: PlanLine, aircraft: Aircraft | None) -> Text:
    known = None if aircraft is None else {path.feed.code for path in aircraft.paths}
    is_new = known is not None and line.place not in known
    done = _PART_WORDS[line.action](line, is_new)
    if line.from_stock:
        return text("{done} ({tag} from the Parts Bay)", done=done, tag=line.from_stock)
    if line.action is PlanAction.FIT_SERVO and line.price == 0.0:
        return text("{done} (from the Parts Bay)", done=done)
    return done


def regulator_words(line: PlanLine, *, isolates: bool = False) -> Text:
    """A board or regulator that is fitted or set, with its volts.

    Args:
        line: fits or sets it.
        isolates: whether it stands between two packs.
    """
    volts = Amount(line.set_v, "V") if line.set_v else None
    if line.action is PlanAction.SET_REGULATOR:
        return text("regulator set to {volts}", volts=volts) if volts else text("regulator")
    if isolates and volts:
        return text(
            "board {type} set to {volts}, isolates the packs from each other",
            type=line.part_type,
            volts=volts,
        )
    if isolates:
        return text("board {type}, isolates the packs from each other", type=line.part_type)
    if volts:
        return text("regulator {type} set to {volts}", type=line.part_type, volts=volts)
    return text("board {type}", type=line.part_type)


def _pack_words(line: PlanLine, is_new: bool) -> Text:
    if is_new:
        return text("second pack {type}", type=line.part_type)
    return text("pack {type}", type=line.part_type)


def _arm_words(line: PlanLine, _is_new: bool) -> Text:
    return text("arm {type}", type=line.part_type or text("for the new spline"))


_PART_WORDS: dict[PlanAction, Callable[[PlanLine, bool], Text]] = {
    PlanAction.FIT_SERVO: lambda line, _: text("servo {type}", type=line.part_type),
    PlanAction.FIT_PACK: _pack_words,
    PlanAction.FIT_REGULATOR: lambda line, is_new: regulator_words(line, isolates=is_new),
    PlanAction.SET_REGULATOR: lambda line, _: regulator_words(line),
    PlanAction.FIT_SWITCH: lambda line, _: text("switch {type}", type=line.part_type),
    PlanAction.CHANGE_LEAD: lambda line, _: text("lead {awg} AWG", awg=line.awg),
    PlanAction.CHANGE_ARM: _arm_words,
}
