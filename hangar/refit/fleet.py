"""One budget and one bay over all aircraft: columns of plans, a master, a bound for the whole."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace

from hangar.base.text import text
from hangar.parts import Aircraft, Library
from hangar.refit.answer import Answer
from hangar.refit.answering import answer_of
from hangar.refit.fleet_master import Column, Master, solved
from hangar.refit.goal import money_of_cost
from hangar.refit.judge import PlanVerdict, Progress, Stop, never, no_progress
from hangar.refit.nodes import Outcome
from hangar.refit.planner import search_of
from hangar.refit.request import RefitRequest
from hangar.refit.search import Search

_MOST_ROUNDS = 6
_MOST_LOOKS = 40
"""Looks that one aircraft may take for one price of money."""


@dataclass(frozen=True, kw_only=True)
class FleetAnswer:
    """What one budget does for a fleet.

    Attributes:
        budget: the money there is.
        money: what is spent.
        proved: whether nothing better can be, in findings counted by the keeper's weight.
        worth: what is left: cautions, a warning counted as many of them.
        bound: no plan for the fleet leaves less.
        parts: an answer for each aircraft.
        spares: tag or type of each spare that is taken, with the aircraft it goes to.
        stopped: whether the keeper stopped it.
    """

    budget: float
    money: float
    proved: bool
    worth: float
    bound: float
    parts: tuple[Answer, ...]
    spares: tuple[tuple[str, str], ...] = ()
    stopped: bool = False


@dataclass
class _Menu:
    """One aircraft with the plans that may be taken of it."""

    search: Search
    verdicts: list[PlanVerdict] = field(default_factory=list)
    columns: list[Column] = field(default_factory=list)

    def take_in(self, weight: float) -> None:
        """Every judged plan that makes nothing worse and keeps its limits."""
        search, goal = self.search, self.search.goal()
        known = {verdict.picks for verdict in self.verdicts}
        for judged in list(search.judge.known.values()):
            if judged is None or judged.picks in known or search.cost_of(goal, judged) is None:
                continue
            if search.keeps_limits(goal, judged.picks):
                self.verdicts.append(judged)
                warnings, cautions = judged.count
                spares = search.spares_of(judged.picks)
                money = search.price(judged.picks)
                self.columns.append(Column(weight * warnings + cautions, money, spares))


def fleet(
    aircraft: Iterable[Aircraft], library: Library, asking: RefitRequest, *, progress: Progress = no_progress,
    stop: Stop = never,
) -> FleetAnswer:  # fmt: skip
    """The plans that leave least on the whole fleet for one budget, nothing made worse anywhere.

    Plans are columns; a linear choice among them prices money, each aircraft is asked for a plan that is
    worth more at that price, and so on until none is. That choice is the bound; a whole one the answer.

    Args:
        aircraft: the fleet.
        library: types and spares, shared by all.
        asking: with the budget; None spends nothing.
        progress: told a share of 0 to 1 and what is being done.
        stop: asked often; true ends with the plans found so far.
    """
    budget, weight = asking.budget or 0.0, asking.warning_in_cautions
    menus = [_Menu(search_of(each, library, asking)) for each in aircraft]
    for menu in menus:
        menu.take_in(weight)
    spares = {kind: count for menu in menus for kind, count in menu.search.spares.items()}
    bound = 0.0
    for number in range(_MOST_ROUNDS):
        if stop():
            break
        progress(number / _MOST_ROUNDS, text("{count} plans judged", count=sum(_looks(menus))))
        price = solved([menu.columns for menu in menus], budget, {}, whole=False).price
        least, fresh = -price * budget, False
        for menu in menus:
            before = len(menu.columns)
            least += _priced(menu, price, weight, stop)
            menu.take_in(weight)
            fresh = fresh or len(menu.columns) > before
        bound = max(bound, least)
        if not fresh:
            break
    chosen = solved([menu.columns for menu in menus], budget, spares, whole=True)
    return _answered(menus, chosen, budget, bound, stopped=stop())


def _looks(menus: Sequence[_Menu]) -> list[int]:
    return [menu.search.judge.looks for menu in menus]


def _priced(menu: _Menu, price: float, weight: float, stop: Stop) -> float:
    """What an aircraft's plans cost at least, findings and money added up at a price of money."""
    search = menu.search
    if price <= 1e-9:
        outcome = search.best(search.goal(), stop=stop, most_looks=_MOST_LOOKS)
        if outcome.bound is None:
            return 0.0
        found = outcome.gap
        warnings, cautions = outcome.judged.count if outcome.judged is not None else (0, 0)
        return weight * (warnings - found.warnings) + (0 if found.warnings else cautions - found.cautions)
    goal = search.goal(caution_money=1.0 / price, warning_in_cautions=weight)
    outcome = search.best(goal, stop=stop, most_looks=_MOST_LOOKS)
    return 0.0 if outcome.bound is None else price * money_of_cost(outcome.bound)


def _answered(
    menus: Sequence[_Menu], chosen: Master, budget: float, bound: float, *, stopped: bool
) -> FleetAnswer:
    parts, spares, worth, money = [], [], 0.0, 0.0
    for menu, at in zip(menus, chosen.picks, strict=True):
        judged, column = menu.verdicts[at], menu.columns[at]
        worth, money = worth + column.worth, money + column.money
        search = menu.search
        cost = search.cost_of(search.goal(), judged)
        outcome = Outcome(judged=judged, cost=cost, bound=None, looks=search.judge.looks, nodes=0)
        parts.append(answer_of(search, "fleet", search.goal(), outcome))
        spares += [(kind, search.aircraft.code) for kind, count in column.spares for _ in range(count)]
    proved = not stopped and worth <= bound + 1e-6
    return FleetAnswer(
        budget=budget, money=round(money, 2), proved=proved, worth=worth, bound=round(bound, 3),
        parts=tuple(replace(part, proved=proved) for part in parts), spares=tuple(spares), stopped=stopped,
    )  # fmt: skip
