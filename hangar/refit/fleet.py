"""One budget and one bay over all aircraft: columns of plans, a master, a bound for the whole."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace

from hangar.base.text import text
from hangar.parts import Aircraft, Library
from hangar.refit.answer import Answer
from hangar.refit.answering import answer_of, swaps_of
from hangar.refit.choice import Swap, swap_key
from hangar.refit.fleet_master import Column, Master, solved
from hangar.refit.goal import money_of_cost
from hangar.refit.judge import PlanVerdict, Progress, Stop, never, no_progress
from hangar.refit.nodes import Outcome
from hangar.refit.partners import Partners
from hangar.refit.planner import search_of
from hangar.refit.request import RefitRequest
from hangar.refit.search import Search

_MOST_ROUNDS = 6
_MOST_LOOKS = 1600
"""Looks that the whole fleet may take; each aircraft an equal share of them."""
_FIRST_PRICES = (0.5, 0.1, 0.02)
"""Cautions that one unit of money is worth at first: dear, usual and plentiful money."""
_LEAST_PRICE = 1e-4
"""The same where money is no matter: of plans that leave the same the cheaper one is still wanted."""


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
        not_asked: aircraft that were not looked at before the keeper stopped it.
        warning_in_cautions: how many cautions a warning counts as.
        stopped: whether the keeper stopped it.
    """

    budget: float
    money: float
    proved: bool
    worth: float
    bound: float
    parts: tuple[Answer, ...]
    spares: tuple[tuple[str, str], ...] = ()
    not_asked: tuple[str, ...] = ()
    warning_in_cautions: float = 10.0
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
                for swap in swaps_of(search, judged.picks):
                    warnings, cautions = warnings - swap.gain[0], cautions - swap.gain[1]
                spares = search.spares_of(judged.picks)
                if judged.picks != search.as_it_is:
                    spares = (*spares, (swap_key(search.aircraft.code), 1))
                money = search.price(judged.picks)
                self.columns.append(Column(weight * warnings + cautions, money, spares))

    @property
    def spares_without_swaps(self) -> dict[str, int]:
        """What it may take from Stores."""
        keys = {swap.key for swap in self.offered()}
        return {kind: count for kind, count in self.search.spares.items() if kind not in keys}

    def offered(self) -> Iterator[Swap]:
        """Every swap that a plan may take."""
        swaps = [choice.swap for choice_list in self.search.lists for choice in choice_list.choices]
        swaps += [supply.swap for supply in self.search.supplies]
        return (swap for swap in swaps if swap is not None)

    def gains(self, weight: float) -> Iterator[tuple[str, float]]:
        """What each swap that is offered clears on another aircraft, in cautions."""
        for swap in self.offered():
            yield swap.aircraft.code, weight * swap.gain[0] + swap.gain[1]


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
    budget, fleet_of = asking.budget or 0.0, tuple(aircraft)
    work = _Work(asking, fleet_of, progress, stop)
    menus = work.menus(library)
    spares = {kind: count for menu in menus for kind, count in menu.search.spares.items()}
    # An aircraft that was not looked at cannot take part in a swap.
    spares |= {swap_key(other.code): 0 for other in fleet_of[len(menus) :]}
    bound = 0.0
    for number in range(_MOST_ROUNDS):
        price = solved([menu.columns for menu in menus], budget, {}, whole=False).price if menus else 0.0
        least = work.ask_all(menus, max(price, _LEAST_PRICE), number)
        if least is None:
            break
        bound = max(bound, least)
        chosen = solved([menu.columns for menu in menus], budget, spares, whole=True)
        if work.is_best(chosen.worth, bound) or not work.fresh:
            break
    chosen = solved([menu.columns for menu in menus], budget, spares, whole=True)
    return _answered(menus, chosen, work, bound)


@dataclass
class _Work:
    """One question to a fleet: what is asked, how far it is, and whether it goes on."""

    asking: RefitRequest
    aircraft: Sequence[Aircraft]
    progress: Progress
    stop: Stop
    fresh: bool = False
    stopped: bool = False

    def __post_init__(self) -> None:
        self.partners = Partners(tuple(self.aircraft))

    @property
    def weight(self) -> float:
        """Cautions that a warning is worth."""
        return self.asking.warning_in_cautions

    @property
    def request(self) -> RefitRequest:
        """What is asked of each aircraft."""
        return replace(self.asking, swap_with=self.partners if self.asking.swaps else None)

    def menus(self, library: Library) -> list[_Menu]:
        """Every aircraft with its first plans: those worth it for dear, usual and plentiful money."""
        menus: list[_Menu] = []
        for at, aircraft in enumerate(self.aircraft):
            if self._is_stopped(0.4 * at / len(self.aircraft), aircraft.code):
                break
            menu = _Menu(search_of(aircraft, library, self.request))
            for price in _FIRST_PRICES:
                if any(menu.search.today.count):
                    self._ask(menu, price)
            menu.take_in(self.weight)
            menus.append(menu)
        return menus

    def ask_all(self, menus: Sequence[_Menu], price: float, number: int) -> float | None:
        """What any plan of the fleet leaves at least, by what each costs at a price; None where stopped."""
        gains: dict[str, float] = {}
        for code, gain in (pair for menu in menus for pair in menu.gains(self.weight)):
            gains[code] = max(gain, gains.get(code, 0.0))
        # An aircraft's own plans do not count what a swap clears on the other one, at most once for each.
        least = -price * (self.asking.budget or 0.0) - sum(gains.values())
        self.fresh = False
        for at, menu in enumerate(menus):
            share = 0.4 + 0.6 * (number + at / len(menus)) / _MOST_ROUNDS
            if self._is_stopped(share, menu.search.aircraft.code):
                return None
            before = len(menu.columns)
            least += self._ask(menu, price)
            menu.take_in(self.weight)
            self.fresh = self.fresh or len(menu.columns) > before
        return least

    def is_best(self, worth: float, bound: float) -> bool:
        """Whether nothing can leave less; where a warning is worth whole cautions, by whole cautions."""
        whole = self.weight == int(self.weight)
        return not self.stopped and worth - (1.0 - 1e-3 if whole else 1e-6) < bound

    def _ask(self, menu: _Menu, price: float) -> float:
        """What an aircraft's plans cost at least, in cautions, findings and money added up at a price."""
        search = menu.search
        most = max(4, _MOST_LOOKS // len(self.aircraft) // (len(_FIRST_PRICES) + _MOST_ROUNDS))
        goal = search.goal(caution_money=1.0 / price, warning_in_cautions=self.weight)
        outcome = search.best(goal, stop=self.stop, most_looks=most)
        if outcome.judged is not None and swaps_of(search, outcome.judged.picks):
            # Another aircraft may want the same swap more: then this one does without.
            spares, search.spares = search.spares, menu.spares_without_swaps
            search.best(goal, stop=self.stop, most_looks=most)
            search.spares = spares
        if outcome.bound is None or outcome.doubted:
            return 0.0
        return price * money_of_cost(outcome.bound)

    def _is_stopped(self, share: float, code: str) -> bool:
        self.stopped = self.stopped or self.stop()
        self.progress(share, text("looking at {aircraft}", aircraft=code))
        return self.stopped


def _answered(menus: Sequence[_Menu], chosen: Master, work: _Work, bound: float) -> FleetAnswer:
    parts, spares, worth, money = [], list[tuple[str, str]](), 0.0, 0.0
    taken = [(menu, menu.verdicts[at]) for menu, at in zip(menus, chosen.picks, strict=True)]
    swaps = {
        swap.aircraft.code: swap for menu, judged in taken for swap in swaps_of(menu.search, judged.picks)
    }
    for (menu, judged), at in zip(taken, chosen.picks, strict=True):
        column = menu.columns[at]
        swap = swaps.get(menu.search.aircraft.code)
        if swap is not None:
            judged = menu.search.judge.look(swap.after, judged.picks)
        worth, money = worth + column.worth, money + column.money
        search = menu.search
        cost = search.cost_of(search.goal(), judged)
        outcome = Outcome(judged=judged, cost=cost, bound=None, looks=search.judge.looks, nodes=0)
        parts.append(answer_of(search, "fleet", search.goal(), outcome))
        # What another line of the same plan sets free comes from no store.
        own = [(kind, min(count, menu.spares_without_swaps.get(kind, 0))) for kind, count in column.spares]
        spares += [(kind, search.aircraft.code) for kind, count in own for _ in range(count)]
    proved = work.is_best(worth, bound)
    return FleetAnswer(
        budget=work.asking.budget or 0.0,
        money=round(money, 2),
        proved=proved,
        worth=worth,
        bound=worth if proved else round(bound, 3),
        parts=tuple(replace(part, proved=proved) for part in _shared_out(parts)),
        spares=tuple(spares),
        not_asked=tuple(aircraft.code for aircraft in work.aircraft[len(menus) :]),
        warning_in_cautions=work.weight,
        stopped=work.stopped,
    )


def _shared_out(parts: Sequence[Answer]) -> Iterator[Answer]:
    """The answers, each with what swaps of the others do on its aircraft."""
    for part in parts:
        own = [change for change in part.changes if not change.at]
        numbers = {change.line.number for change in own}
        changes = [
            replace(change, together=tuple(number for number in change.together if number in numbers))
            for change in own
        ]
        for other in parts:
            for change in other.changes:
                if change.at == part.aircraft.code:
                    line = replace(change.line, number=len(changes) + 1)
                    changes.append(replace(change, line=line, together=(), at=""))
        hours = round(sum(change.hours for change in changes), 2)
        money = round(sum((change.line.price or 0.0) * change.line.quantity for change in changes), 2)
        yield replace(part, changes=tuple(changes), left=replace(part.left, hours=hours, money=money))
