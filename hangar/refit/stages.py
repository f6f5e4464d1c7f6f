"""A refit in stages: what to do this month and next, most safety first, never worse in between."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from itertools import accumulate

from hangar.base.errors import BadInput
from hangar.parts import Aircraft, Library, PlanLine
from hangar.parts.choices import PlanAction
from hangar.refit.front import Point, line_words
from hangar.refit.groups import groups_of
from hangar.refit.limits import Limits
from hangar.refit.planning import NOT_PROVED, Progress, Stop, never, no_progress
from hangar.refit.prove import Judged, changed, judged, new_warnings
from hangar.refit.risk import RiskMeasure
from hangar.survey import survey

MOST_BUNDLES = 14
_SERVO = (PlanAction.FIT_SERVO, PlanAction.CHANGE_LEAD, PlanAction.CHANGE_ARM)
_NEARLY = 1e-9


@dataclass(frozen=True)
class Bundle:
    """Changes that must be done together, with their price."""

    lines: tuple[PlanLine, ...]

    @property
    def price(self) -> float:
        """What its parts cost."""
        return sum(line.price or 0.0 for line in self.lines)

    @property
    def words(self) -> str:
        """Its changes in a row."""
        return "; ".join(line_words(line) for line in self.lines)


@dataclass(frozen=True)
class Stage:
    """What is done in one stage, and the risk that is left after it."""

    bundles: tuple[Bundle, ...]
    price: float
    risk_after: float


@dataclass(frozen=True)
class Stages:
    """A staged refit.

    Attributes:
        stages: one for each budget.
        risk_today: risk before the first.
        measure: how risk is counted.
        exact: whether every order was tried.
        notes: what to know when reading it.
    """

    stages: tuple[Stage, ...]
    risk_today: float
    measure: RiskMeasure
    exact: bool = True
    notes: tuple[str, ...] = field(default=())


def bundles_of(aircraft: Aircraft, lines: Sequence[PlanLine], limits: Limits) -> tuple[Bundle, ...]:
    """The lines of a plan in bundles: a matched group is one, the whole supply is one."""
    groups = groups_of(aircraft, survey(aircraft, limits.conditions))
    home = {code: at for at, group in enumerate(groups) for code in group.codes}
    found: dict[int, list[PlanLine]] = {}
    for line in lines:
        at = home.get(line.place or "", -2) if line.action in _SERVO else -1
        found.setdefault(at, []).append(line)
    return tuple(Bundle(tuple(each)) for _, each in sorted(found.items()))


def stages(
    aircraft: Aircraft,
    point: Point,
    budgets: Sequence[float],
    catalogue: Library,
    limits: Limits | None = None,
    *,
    measure: RiskMeasure | None = None,
    progress: Progress = no_progress,
    stop: Stop = never,
) -> Stages:
    """Cut a refit into stages so that the most risk is gone first.

    Money that is left over carries to the next stage. Each state in between is surveyed and inspected; one
    that brings a warning that was not there is never passed through.

    Args:
        aircraft: as it is.
        point: the refit, from the front.
        budgets: money of each stage, 0 or more.
        catalogue: the library.
        limits: conditions and thresholds.
        measure: how risk is counted; None takes the usual one.
        progress: told how far it is.
        stop: asked before each state; true ends with the states seen so far.

    Returns:
        For each stage what to do and the risk left: least after the first stage, then after the second,
        and so on.

    Raises:
        BadInput: no budget, a negative one, or more bundles than can be tried.
    """
    if not budgets or min(budgets) < 0.0:
        raise BadInput("The stages need at least one budget of 0 or more.")
    limits, measure = limits or Limits(), measure or RiskMeasure()
    bundles = bundles_of(aircraft, point.changes, limits)
    if len(bundles) > MOST_BUNDLES:
        raise BadInput(f"The refit has {len(bundles)} bundles; up to {MOST_BUNDLES} can be staged.")
    states = _States(aircraft, bundles, catalogue, limits, measure)
    limit = list(accumulate(budgets))
    asked = [subset for subset in range(1 << len(bundles)) if states.price(subset) <= limit[-1] + _NEARLY]
    stopped = False
    for number, subset in enumerate(asked):
        progress(number / len(asked), "judging the states in between")
        if stop():
            stopped = True
            break
        states.risk(subset)
    known = {subset for subset in asked if subset in states.seen}
    chosen = order_of(
        len(bundles), lambda subset: states.risk(subset) if subset in known else math.inf, states.price, limit
    )
    return Stages(
        tuple(_stages(bundles, chosen, states)),
        states.risk(0),
        measure,
        not stopped,
        (measure.words, *([NOT_PROVED] if stopped else [])),
    )


class _States:
    """Risk and price of the aircraft with some bundles done; infinite risk where it is worse than today."""

    def __init__(
        self,
        aircraft: Aircraft,
        bundles: Sequence[Bundle],
        library: Library,
        limits: Limits,
        measure: RiskMeasure,
    ) -> None:
        self.aircraft, self.bundles, self.library = aircraft, bundles, library
        self.limits, self.measure = limits, measure
        self.today: Judged = judged(aircraft, limits)
        self.seen: dict[int, float] = {0: measure.of(self.today.findings)}

    def price(self, subset: int) -> float:
        return sum(bundle.price for at, bundle in enumerate(self.bundles) if subset >> at & 1)

    def risk(self, subset: int) -> float:
        if subset not in self.seen:
            lines = [line for at, each in enumerate(self.bundles) if subset >> at & 1 for line in each.lines]
            numbered = [replace(line, number=number) for number, line in enumerate(lines, 1)]
            after = judged(changed(self.aircraft, numbered, self.library), self.limits)
            worse = after.worst_bus_v is None or new_warnings(self.today.findings, after)
            self.seen[subset] = math.inf if worse else self.measure.of(after.findings)
        return self.seen[subset]


def order_of(
    count: int, risk: Callable[[int], float], price: Callable[[int], float], limits: Sequence[float]
) -> tuple[int, ...]:
    """The set of bundles done after each stage: least risk after the first, then after the second, and so on.

    Args:
        count: number of bundles; a set is a number whose bits are bundles.
        risk: risk with a set done; infinite where it must not be passed through.
        price: price of a set.
        limits: money spent at most by the end of each stage.

    Returns:
        One set for each stage, each holding the one before; of equal risks the cheapest, then the first.
    """
    everything = range(1 << count)
    states = {0}
    chosen: list[dict[int, int]] = []
    for most in limits:
        came: dict[int, int] = {}
        for subset in everything:
            if price(subset) > most + _NEARLY or math.isinf(risk(subset)):
                continue
            before = min((each for each in states if each & subset == each), default=None)
            if before is not None:
                came[subset] = before
        least = min((risk(subset) for subset in came), default=math.inf)
        best = {subset: before for subset, before in came.items() if risk(subset) <= least + _NEARLY}
        chosen.append(best)
        states = set(best)
    return tuple(_traced(chosen, price)) if chosen and chosen[-1] else (0,) * len(limits)


def _traced(chosen: Sequence[dict[int, int]], price: Callable[[int], float]) -> Iterator[int]:
    """One chain through the best sets of every stage, the cheapest at its end."""
    at = min(chosen[-1], key=lambda subset: (round(price(subset), 6), subset))
    chain = [at]
    for best in reversed(chosen[1:]):
        at = best[at]
        chain.append(at)
    yield from reversed(chain)


def _stages(bundles: Sequence[Bundle], chosen: Sequence[int], states: _States) -> Iterator[Stage]:
    done = 0
    for subset in chosen:
        fresh = tuple(bundle for at, bundle in enumerate(bundles) if (subset & ~done) >> at & 1)
        yield Stage(fresh, round(sum(bundle.price for bundle in fresh), 2), states.risk(subset))
        done = subset
