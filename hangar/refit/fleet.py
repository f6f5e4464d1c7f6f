"""One budget and one bay over all aircraft: columns of plans, a master, a bound for the whole."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

from hangar.base.text import text
from hangar.parts import Aircraft, Library
from hangar.parts.choices import PlanAction
from hangar.refit.answer import Answer
from hangar.refit.answering import answer_of
from hangar.refit.bay import regulator_key
from hangar.refit.fleet_master import Column, Master, solved
from hangar.refit.goal import cost_of_money, money_of_cost
from hangar.refit.judge import PlanVerdict, Progress, Stop, never, no_progress
from hangar.refit.nodes import Outcome
from hangar.refit.offers import Offers
from hangar.refit.partners import Partners
from hangar.refit.planner import search_of
from hangar.refit.request import RefitRequest
from hangar.refit.search import Search
from hangar.refit.supplies import Supply

_MOST_ROUNDS = 5
_MOST_LOOKS = 1600
"""Looks that the whole fleet may take; what one question does not need is left for those after it."""
_LEAST_EACH, _MOST_EACH, _SHARES = 4, 80, 3
"""Looks of one question in any case, and at most; between, so many shares of what is left ask them all."""
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
    regulators: Mapping[str, tuple[str, ...]]
    verdicts: list[PlanVerdict] = field(default_factory=list)
    columns: list[Column] = field(default_factory=list)
    givers: list[str] = field(default_factory=list)
    """The aircraft that the regulator of each plan comes off; empty where it is bought."""

    def take_in(self, weight: float) -> None:
        """Every judged plan that makes nothing worse and keeps its limits.

        A regulator has neither tag nor age: one that comes off another aircraft does what a new one does, so
        that is the same plan for less money.
        """
        search, goal = self.search, self.search.goal()
        known = {verdict.picks for verdict in self.verdicts}
        for judged in list(search.judge.known.values()):
            if judged is None or judged.picks in known or search.cost_of(goal, judged) is None:
                continue
            if search.keeps_limits(goal, judged.picks):
                warnings, cautions = judged.count
                spares = Counter(dict(search.spares_of(judged.picks)))
                spares.subtract(search.gives_of(judged.picks))
                worth, money = weight * warnings + cautions, search.price(judged.picks)
                for giver, price, key in (("", 0.0, ""), *self._given(search.supplies[judged.picks[-1]])):
                    own = Counter({kind: spares[kind] + (kind == key) for kind in {*spares, key} if kind})
                    self.verdicts.append(judged)
                    self.givers.append(giver)
                    self.columns.append(Column(worth, round(money - price, 2), tuple(sorted(own.items()))))

    def _given(self, supply: Supply) -> Iterator[tuple[str, float, str]]:
        """Aircraft that may give the one regulator of a supply, what it saves, and what stands for it."""
        kind, price = supply.bought_regulator or ("", 0.0)
        for giver in self.regulators.get(kind, ()):
            if giver != self.search.aircraft.code:
                yield giver, price, regulator_key(kind, giver)

    def saved(self, price: float, parts: Mapping[str, float]) -> dict[str, int]:
        """What a regulator off another aircraft saves at prices, by type, as a cost of a goal."""
        saved: dict[str, int] = {}
        for supply in self.search.supplies:
            for _, money, key in self._given(supply):
                kind = (supply.bought_regulator or ("", 0.0))[0]
                own = cost_of_money(money) - cost_of_money(parts.get(key, 0.0) / price)
                saved[kind] = max(own, saved.get(kind, 0))
        return saved


def fleet(
    aircraft: Iterable[Aircraft], library: Library, asking: RefitRequest, *, progress: Progress = no_progress,
    stop: Stop = never,
) -> FleetAnswer:  # fmt: skip
    """The plans that leave least on the whole fleet for one budget, nothing made worse anywhere.

    Plans are columns; a linear choice among them prices money and every part that several could use, each
    aircraft is asked for a plan that is worth more at those prices, and so on until none is. What all plans
    cost at least at the prices, less what money and parts there are, is the bound; a whole choice the answer.

    Args:
        aircraft: the fleet.
        library: types and spares, shared by all.
        asking: with the budget; None spends nothing.
        progress: told a share of 0 to 1 and what is being done.
        stop: asked often; true ends with the plans found so far.
    """
    budget = asking.budget or 0.0
    work = _Work(asking, tuple(aircraft), progress, stop)
    menus = work.menus(library)
    # What an aircraft gives up is there for others only with the plan that gives it up.
    spares = {tag: 0 for menu in menus for tag in menu.search.offered}
    spares |= {regulator_key(kind, code): 0 for kind, codes in work.regulators.items() for code in codes}
    spares |= {kind: count for menu in menus for kind, count in menu.search.stock.items()}
    bound = 0.0
    for number in range(_MOST_ROUNDS if menus else 0):
        prices = solved([menu.columns for menu in menus], budget, spares, whole=False)
        least = work.ask_all(menus, prices, spares, number)
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
    looks: int = _MOST_LOOKS
    regulators: Mapping[str, tuple[str, ...]] = field(default_factory=dict)

    @property
    def weight(self) -> float:
        """Cautions that a warning is worth."""
        return self.asking.warning_in_cautions

    def menus(self, library: Library) -> list[_Menu]:
        """Every aircraft with its first plans: those worth it for dear, usual and plentiful money."""
        menus: list[_Menu] = []
        offers = self._offers(library)
        self.regulators = offers.regulators
        for at, aircraft in enumerate(self.aircraft):
            if self._is_stopped(0.1 + 0.3 * at / len(self.aircraft), aircraft.code):
                break
            search = search_of(aircraft, library, self.asking, offers.offer(aircraft.code))
            menu = _Menu(search, self.regulators)
            # Nobody has given anything up yet.
            menu.search.spares = menu.search.stock
            for price in _FIRST_PRICES:
                if any(menu.search.today.count):
                    self._ask(menu, price, {})
            menu.search.spares = menu.search.stock | dict.fromkeys(menu.search.offered, 1)
            menu.take_in(self.weight)
            menus.append(menu)
        return menus

    def _offers(self, library: Library) -> Offers:
        offers = Offers(Partners(tuple(self.aircraft)), library, self.asking)
        for at, aircraft in enumerate(self.aircraft if self.asking.swaps else ()):
            if self._is_stopped(0.1 * at / len(self.aircraft), aircraft.code):
                break
            offers.take_in(aircraft.code)
        return offers

    def ask_all(
        self, menus: Sequence[_Menu], prices: Master, spares: Mapping[str, int], number: int
    ) -> float | None:
        """What any plan of the fleet leaves at least, by what each costs at prices; None where stopped."""
        price = max(prices.price, _LEAST_PRICE)
        least = -price * (self.asking.budget or 0.0)
        least -= sum(own * spares[kind] for kind, own in prices.spare_prices.items())
        self.fresh = False
        for at, menu in enumerate(menus):
            share = 0.4 + 0.6 * (number + at / len(menus)) / _MOST_ROUNDS
            if self._is_stopped(share, menu.search.aircraft.code):
                return None
            before = len(menu.columns)
            least += self._ask(menu, price, prices.spare_prices)
            menu.take_in(self.weight)
            self.fresh = self.fresh or len(menu.columns) > before
        return least

    def is_best(self, worth: float, bound: float) -> bool:
        """Whether nothing can leave less; where a warning is worth whole cautions, by whole cautions."""
        whole = self.weight == int(self.weight)
        return not self.stopped and worth - (1.0 - 1e-3 if whole else 1e-6) < bound

    def _ask(self, menu: _Menu, price: float, parts: Mapping[str, float]) -> float:
        """What an aircraft's plans cost at least, in cautions: findings, money and parts at their prices."""
        search = menu.search
        share = self.looks // (_SHARES * len(self.aircraft))
        most, before = min(_MOST_EACH, max(_LEAST_EACH, share)), search.judge.looks
        goal = search.goal(
            caution_money=1.0 / price, warning_in_cautions=self.weight,
            parts={kind: cost_of_money(own / price) for kind, own in parts.items() if own},
            saved=menu.saved(price, parts),
        )  # fmt: skip
        outcome = search.best(goal, stop=self.stop, most_looks=most)
        if (
            outcome.judged is not None
            and search.offered & dict(search.spares_of(outcome.judged.picks)).keys()
        ):
            # Its owner may not give the part up: then this one does without.
            spares, search.spares = search.spares, search.stock
            search.best(goal, stop=self.stop, most_looks=most)
            search.spares = spares
        self.looks -= search.judge.looks - before
        self.fresh = self.fresh or not outcome.proved
        if outcome.bound is None or outcome.doubted:
            # Nothing is known but that it leaves no less than nothing, and what it may give up.
            return -sum(own for tag, own in parts.items() if tag in search.wanted)
        return price * money_of_cost(outcome.bound)

    def _is_stopped(self, share: float, code: str) -> bool:
        self.stopped = self.stopped or self.stop()
        self.progress(share, text("looking at {aircraft}", aircraft=code))
        return self.stopped


def _off(answer: Answer, giver: str) -> Answer:
    """The answer with its regulator off another aircraft instead of a new one."""
    changes = tuple(
        replace(change, line=replace(change.line, from_aircraft=giver, price=0.0))
        if change.line.action is PlanAction.FIT_REGULATOR
        else change
        for change in answer.changes
    )
    money = round(sum((change.line.price or 0.0) * change.line.quantity for change in changes), 2)
    return replace(answer, changes=changes, left=replace(answer.left, money=money))


def _answered(menus: Sequence[_Menu], chosen: Master, work: _Work, bound: float) -> FleetAnswer:
    parts, spares, worth, money = [], list[tuple[str, str]](), 0.0, 0.0
    moved = {
        tag
        for menu, at in zip(menus, chosen.picks, strict=True)
        for tag, _ in menu.search.spares_of(menu.verdicts[at].picks)
    }
    for menu, at in zip(menus, chosen.picks, strict=True):
        search, column, judged = menu.search, menu.columns[at], menu.verdicts[at]
        worth, money = worth + column.worth, money + column.money
        cost = search.cost_of(search.goal(), judged)
        outcome = Outcome(judged=judged, cost=cost, bound=None, looks=search.judge.looks, nodes=0)
        answer = answer_of(search, "fleet", search.goal(), outcome, taken=moved)
        parts.append(_off(answer, menu.givers[at]) if menu.givers[at] else answer)
        # What another line or another plan sets free comes from no store.
        own = [(kind, min(count, search.stock.get(kind, 0))) for kind, count in column.spares]
        spares += [(kind, search.aircraft.code) for kind, count in own for _ in range(count)]
    proved = work.is_best(worth, bound)
    return FleetAnswer(
        budget=work.asking.budget or 0.0,
        money=round(money, 2),
        proved=proved,
        worth=worth,
        bound=worth if proved else round(bound, 3),
        parts=tuple(replace(part, proved=proved) for part in parts),
        spares=tuple(spares),
        not_asked=tuple(aircraft.code for aircraft in work.aircraft[len(menus) :]),
        warning_in_cautions=work.weight,
        stopped=work.stopped,
    )
