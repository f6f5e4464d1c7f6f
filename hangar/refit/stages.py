"""A refit in stages: what to do this month and next, most safety first, never worse in between."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from itertools import accumulate
from typing import Any

from hangar.base.errors import BadInput
from hangar.base.text import NOTHING, Text, joined, plural, series, text
from hangar.parts import Aircraft, Library, PlanLine
from hangar.parts.choices import PlanAction
from hangar.refit.as_json import line_as_json
from hangar.refit.front import Point
from hangar.refit.groups import groups_of
from hangar.refit.limits import Limits
from hangar.refit.line_words import change_words
from hangar.refit.planning import NOT_PROVED, Progress, Stop, never, no_progress
from hangar.refit.prove import Assessment, assessed, changed, new_warnings
from hangar.refit.risk import RiskMeasure
from hangar.survey import survey

MOST_BUNDLES = 14
_SERVO = (
    *(PlanAction.FIT_SERVO, PlanAction.CHANGE_LEAD, PlanAction.CHANGE_ARM, PlanAction.FIT_FIXINGS),
    *(PlanAction.SET_HORN, PlanAction.CHANGE_ROD, PlanAction.PROTECT_LEAD),
    *(PlanAction.SET_PULSE, PlanAction.SET_RATE),
)
_NEARLY = 1e-9


@dataclass(frozen=True)
class Bundle:
    """Changes that must be done together, with their price."""

    lines: tuple[PlanLine, ...]

    @property
    def price(self) -> float:
        """What its parts cost; a line without a price counts as nothing."""
        return sum((line.price or 0.0) * line.quantity for line in self.lines)

    @property
    def words(self) -> Text:
        """Its changes in a row."""
        return series(change_words(self.lines))


@dataclass(frozen=True)
class Stage:
    """What is done in one stage, and the risk that is left after it.

    Attributes:
        bundles: what is done.
        price: what it costs.
        risk_after: risk that is left.
        budget: money of this stage alone.
        at_hand: money of this stage with what the stages before left over.
        why: why this and nothing else, in a sentence or two.
    """

    bundles: tuple[Bundle, ...]
    price: float
    risk_after: float
    budget: float = 0.0
    at_hand: float = 0.0
    why: Text = NOTHING

    @property
    def words(self) -> Text:
        """What is done, in a row; nothing when nothing is."""
        return series([bundle.words for bundle in self.bundles])


@dataclass(frozen=True)
class Stages:
    """A staged refit.

    Attributes:
        stages: one for each budget.
        risk_today: risk before the first.
        measure: how risk is counted.
        left: what no stage pays for.
        exact: whether every order was tried.
        notes: what to know when reading it.
    """

    stages: tuple[Stage, ...]
    risk_today: float
    measure: RiskMeasure
    left: tuple[Bundle, ...] = ()
    exact: bool = True
    notes: tuple[Text, ...] = field(default=())


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
    point: Point | Sequence[PlanLine],
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
        point: the refit, from the front, or the open lines of a plan.
        budgets: money of each stage, 0 or more.
        catalogue: the library.
        limits: conditions and thresholds.
        measure: how risk is counted; None takes the measure of the limits.
        progress: told how far it is.
        stop: asked before each state; true ends with the states seen so far.

    Returns:
        For each stage what to do and the risk left: least after the first stage, then after the second,
        and so on.

    Raises:
        BadInput: no change, no budget, a negative one, or more bundles than can be tried.
    """
    if not budgets or not min(budgets) >= 0.0:
        raise BadInput("The stages need at least one budget of 0 or more.")
    lines = point.changes if isinstance(point, Point) else tuple(point)
    if not lines:
        raise BadInput("The refit changes nothing, so there is nothing to put in stages.")
    limits = limits or Limits()
    measure = measure or limits.risk
    bundles = bundles_of(aircraft, lines, limits)
    if len(bundles) > MOST_BUNDLES:
        raise BadInput(
            "The refit has {count} groups of changes; up to {most} can be staged.",
            count=len(bundles),
            most=MOST_BUNDLES,
        )
    states = _States(aircraft, bundles, catalogue, limits, measure)
    limit = list(accumulate(budgets))
    asked = [subset for subset in range(1 << len(bundles)) if states.price(subset) <= limit[-1] + _NEARLY]
    stopped = False
    for number, subset in enumerate(asked):
        progress(number / len(asked), text("judging the states in between"))
        if stop():
            stopped = True
            break
        states.risk(subset)
    known = {subset for subset in asked if subset in states.seen}
    chosen = order_of(
        len(bundles), lambda subset: states.risk(subset) if subset in known else math.inf, states.price, limit
    )
    every = (1 << len(bundles)) - 1
    return Stages(
        tuple(_stages(chosen, budgets, states, known | {0})),
        states.risk(0),
        measure,
        states.bundles_in(every & ~chosen[-1]),
        not stopped,
        tuple(_notes(measure, lines, stopped)),
    )


def _notes(measure: RiskMeasure, lines: Sequence[PlanLine], stopped: bool) -> Iterator[Text]:
    yield measure.words
    unpriced = sum(line.price is None for line in lines)
    if unpriced:
        yield text(
            "{count} of {all} lines have no price and count as costing nothing.",
            count=unpriced,
            all=len(lines),
        )
    if stopped:
        yield NOT_PROVED


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
        self.today: Assessment = assessed(aircraft, limits)
        self.seen: dict[int, float] = {0: measure.of(self.today.findings)}

    def bundles_in(self, subset: int) -> tuple[Bundle, ...]:
        return tuple(bundle for at, bundle in enumerate(self.bundles) if subset >> at & 1)

    def price(self, subset: int) -> float:
        return sum(bundle.price for bundle in self.bundles_in(subset))

    def risk(self, subset: int) -> float:
        if subset not in self.seen:
            lines = [line for each in self.bundles_in(subset) for line in each.lines]
            numbered = [replace(line, number=number) for number, line in enumerate(lines, 1)]
            after = assessed(changed(self.aircraft, numbered, self.library), self.limits)
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


def _stages(
    chosen: Sequence[int], budgets: Sequence[float], states: _States, known: set[int]
) -> Iterator[Stage]:
    done, spent = 0, 0.0
    for subset, budget, most in zip(chosen, budgets, accumulate(budgets), strict=True):
        fresh = states.bundles_in(subset & ~done)
        yield Stage(
            bundles=fresh,
            price=round(sum(bundle.price for bundle in fresh), 2),
            risk_after=states.risk(subset),
            budget=budget,
            at_hand=round(most - spent, 2),
            why=_why(done, subset, most, states, known),
        )
        done, spent = subset, states.price(subset)


def _why(done: int, chosen: int, most: float, states: _States, known: set[int]) -> Text:
    """Why a stage does what it does: what it leaves, the next best, and what must not be passed through."""
    waiting = ((1 << len(states.bundles)) - 1) & ~done
    at_hand, risk = most - states.price(done), states.risk(chosen)
    if not waiting:
        return text("Everything is done.")
    payable = [
        each
        for each in known
        if each & done == done and each != chosen and states.price(each) <= most + _NEARLY
    ]
    barred = sum(math.isinf(states.risk(each)) for each in payable)
    others = [each for each in payable if each != done and not math.isinf(states.risk(each))]
    if chosen == done:
        said = [text("Nothing that {money:g} pays leaves less risk than {risk:g}.", money=at_hand, risk=risk)]
    else:
        said = [
            text(
                "Of all that {money:g} pays, this leaves the least risk: {risk:g} after {before:g}.",
                money=at_hand,
                risk=risk,
                before=states.risk(done),
            )
        ]
    if others:
        best = min(others, key=lambda each: (states.risk(each), states.price(each), each))
        words = series([bundle.words for bundle in states.bundles_in(best & ~done)])
        same = states.risk(best) <= risk + _NEARLY
        said.append(
            text("Equal in risk and no cheaper: {changes}.", changes=words)
            if same
            else text("Next best: {changes}, leaving {risk:g}.", changes=words, risk=states.risk(best))
        )
    if barred:
        said.append(
            plural(
                "Never passed through, as it brings a warning or a collapse that is not there today: "
                "{count} other set of changes.",
                "Never passed through, as it brings a warning or a collapse that is not there today: "
                "{count} other sets of changes.",
                count=barred,
            )
        )
    return joined(*said)


def stages_as_json(staged: Stages) -> dict[str, Any]:
    """A staged refit as a plain object for scripts."""
    return {
        "risk_today": staged.risk_today,
        "stages": [
            {
                "budget": stage.budget,
                "at_hand": stage.at_hand,
                "price": stage.price,
                "risk_after": stage.risk_after,
                "bundles": [_bundle_as_json(bundle) for bundle in stage.bundles],
                "why": str(stage.why),
            }
            for stage in staged.stages
        ],
        "left": [_bundle_as_json(bundle) for bundle in staged.left],
        "exact": staged.exact,
        "notes": [str(note) for note in staged.notes],
    }


def _bundle_as_json(bundle: Bundle) -> dict[str, Any]:
    changes = [line_as_json(line) for line in bundle.lines]
    return {"price": round(bundle.price, 2), "words": str(bundle.words), "changes": changes}
