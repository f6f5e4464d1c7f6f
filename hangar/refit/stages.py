"""A plan in stages: what each month's money does, most safety first, nothing worse in between."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from hangar.base.errors import BadInput
from hangar.base.text import NOTHING, Text, plural, series, text
from hangar.parts import Aircraft, Library, PlanLine
from hangar.refit.answer import Answer, Unit, Value
from hangar.refit.answering import answer_of, elsewhere_of
from hangar.refit.bay import bay_of
from hangar.refit.bundles import Bundle, bundles_of, givers_of, places_given_up, set_free
from hangar.refit.choice import AS_IT_IS, Choice, ChoiceList
from hangar.refit.faults import Faults, faults_of, is_graver
from hangar.refit.goal import cents
from hangar.refit.groups import groups_of
from hangar.refit.judge import PlanVerdict, Progress, Stop, never, no_progress
from hangar.refit.ladder import Questions
from hangar.refit.nodes import Outcome
from hangar.refit.planner import NO_SUPPLY
from hangar.refit.request import RefitRequest
from hangar.refit.search import Search
from hangar.rules.finding import Level
from hangar.survey import survey

MOST_BUNDLES = 10
"""Bundles of which every set is judged; of more, those on the way that leaves least step by step."""
_TODAY = 0


@dataclass(frozen=True, kw_only=True)
class Stage:
    """What is done in one stage, and the aircraft after it.

    Attributes:
        budget: money of this stage alone.
        at_hand: the same with what the stages before left over.
        bundles: what is done.
        answer: the aircraft with all stages so far carried out.
        clears: what was there before the stage and is not any more.
    """

    budget: float
    at_hand: float
    bundles: tuple[Bundle, ...]
    answer: Answer
    clears: tuple[Unit, ...]

    @property
    def price(self) -> float:
        """What its parts cost."""
        return round(sum(bundle.price for bundle in self.bundles), 2)

    @property
    def hours(self) -> float:
        """Hours of its work."""
        return round(sum(bundle.hours for bundle in self.bundles), 2)


@dataclass(frozen=True, kw_only=True)
class Stages:
    """A plan in stages.

    Attributes:
        aircraft: as it is.
        today: warnings and cautions before the first stage.
        stages: one for each sum of money.
        left: what is done in no stage, each with the reason.
        proved: whether no other order leaves less after the first stage, then after the second, and so on.
        unpriced: how many lines have no price and count as costing nothing.
        stopped: whether the keeper stopped it.
    """

    aircraft: Aircraft
    today: Value
    stages: tuple[Stage, ...]
    left: tuple[tuple[Bundle, Text], ...] = ()
    proved: bool = False
    unpriced: int = 0
    stopped: bool = False


def best_in_stages(
    aircraft: Aircraft, library: Library, asking: RefitRequest, months: Sequence[float], *,
    progress: Progress = no_progress, stop: Stop = never,
) -> Stages:  # fmt: skip
    """The best plan for all months together, cut into stages.

    Raises:
        BadInput: no money at all, or a negative one.
    """
    _refuse_no_money(months)
    questions = Questions(aircraft, library, asking, progress, stop)
    search = questions.search
    goal = search.goal(budget=sum(months))
    whole = search.best(goal, progress=lambda share, words: progress(share / 2.0, words), stop=stop)
    picks = search.as_it_is if whole.judged is None else whole.judged.picks
    lines = search.judge.lines(picks)
    there = elsewhere_of(search, picks)
    staged = lines_in_stages(
        aircraft, lines, library, asking, months, there,
        progress=lambda share, words: progress(0.5 + share / 2.0, words), stop=stop,
    )  # fmt: skip
    if whole.proved:
        return staged
    unproved = tuple(
        replace(stage, answer=replace(stage.answer, proved=False, gap=whole.gap)) for stage in staged.stages
    )
    return replace(staged, stages=unproved, proved=False, stopped=staged.stopped or whole.stopped)


def lines_in_stages(
    aircraft: Aircraft, lines: Sequence[PlanLine], library: Library, asking: RefitRequest,
    months: Sequence[float], elsewhere: Mapping[str, Sequence[PlanLine]] | None = None, *,
    progress: Progress = no_progress, stop: Stop = never,
) -> Stages:  # fmt: skip
    """The lines of a plan cut into stages.

    Each stage holds the one before, costs no more than the money so far, and makes nothing worse at any
    place than it is today, but for what the whole plan itself brings there. Of all such ways the one is
    taken whose first stage leaves least, then whose second does, and so on; of equal ones that which does
    most in the end, and buys late. What a swap does on another aircraft is done with it: it too is judged
    in full, and where something is worse there the swap is in no stage.

    Args:
        aircraft: as it is.
        lines: what the plan does.
        library: types and spares.
        asking: the day, the limits, hours of work.
        months: money of each stage; what is left over goes on to the next.
        elsewhere: what is done on other aircraft where parts come off them, by their codes; they are
            among ``swap_with`` of what is asked.
        progress: told a share of 0 to 1 and what is being done.
        stop: asked often; true ends with the states judged so far.

    Raises:
        BadInput: no money at all, or a negative one.
    """
    _refuse_no_money(months)
    bundles = bundles_of(aircraft, lines, asking, elsewhere)
    states = _States(aircraft, bundles, library, asking, progress, stop)
    at_hand = [cents(money) for money in itertools.accumulate(months)]
    states.judge_all(at_hand[-1])
    way = best_way(states.left, states.price, at_hand)
    return Stages(
        aircraft=aircraft,
        today=Value(*states.search.today.count),
        stages=tuple(_stages(states, way, months)),
        left=tuple(_left_over(states, way[-1], at_hand[-1])),
        proved=states.complete,
        unpriced=sum(line.price is None for bundle in bundles for line in bundle.every_line),
        stopped=states.stopped,
    )


def _refuse_no_money(months: Sequence[float]) -> None:
    if not months or not min(months) >= 0.0:
        raise BadInput("The stages need at least one budget of 0 or more.")


def best_way(
    left: Mapping[int, tuple[int, int]], price: Sequence[int], at_hand: Sequence[int]
) -> tuple[int, ...]:
    """The state after each stage; a state is a set of bundles, a bit for each.

    Args:
        left: warnings and cautions of each state that may be passed through; that of today among them.
        price: of each bundle in hundredths.
        at_hand: money so far at each stage, in hundredths.

    >>> best_way({0: (2, 0), 1: (1, 0), 3: (0, 0)}, [100, 50], [120, 120, 150])
    (1, 1, 3)
    """
    cost = {state: _cost(state, price) for state in left}
    ways: dict[int, tuple[int, ...]] = {_TODAY: ()}
    for most in at_hand:
        further: dict[int, tuple[int, ...]] = {}
        for before, way in ways.items():
            for state in left:
                if state & before != before or cost[state] > most:
                    continue
                known = further.get(state)
                if known is None or [cost[number] for number in way] < [
                    cost[number] for number in known[:-1]
                ]:
                    further[state] = (*way, state)
        least = min(left[state] for state in further)
        ways = {state: way for state, way in further.items() if left[state] == least}
    return min(ways.values(), key=lambda way: (-way[-1].bit_count(), [cost[state] for state in way], way))


def _cost(state: int, price: Sequence[int]) -> int:
    return sum(own for at, own in enumerate(price) if state >> at & 1)


class _States:
    """The aircraft with some bundles done, judged as the search judges its plans."""

    def __init__(
        self, aircraft: Aircraft, bundles: Sequence[Bundle], library: Library, asking: RefitRequest,
        progress: Progress, stop: Stop,
    ) -> None:  # fmt: skip
        self.bundles, self.progress, self.stop = tuple(bundles), progress, stop
        groups = groups_of(aircraft, survey(aircraft, asking.conditions))
        # The groups come first: findings are counted by them, as in every other answer.
        lists = [
            ChoiceList(name=group.name, places=group.codes, kinds=frozenset(), choices=(AS_IT_IS,))
            for group in groups
        ]
        self.first = len(lists)
        self.barred = [self._bar(aircraft, bundle, library, asking) for bundle in bundles]
        for bundle in bundles:
            choice = Choice(
                lines=bundle.lines, price=bundle.price, hours=bundle.hours, frees=set_free(aircraft, bundle),
                elsewhere=bundle.elsewhere,
            )  # fmt: skip
            lists.append(ChoiceList(name="", places=(), kinds=frozenset(), choices=(AS_IT_IS, choice)))
        bay = bay_of(library, None, aircraft)
        self.search = Search(aircraft, library, lists, (NO_SUPPLY,), asking, bay)
        self.goal = self.search.goal(no_worse=frozenset())
        self.today = self._by_place(self.search.today)
        every = self.verdict(sum(1 << at for at, why in enumerate(self.barred) if not why))
        self.brought = set() if every is None else self._graver(every)
        self.price = [cents(bundle.price) for bundle in bundles]
        self.left: dict[int, tuple[int, int]] = {_TODAY: self.search.today.count}
        self.stopped = False
        self.complete = len(self.bundles) <= MOST_BUNDLES

    def _bar(self, aircraft: Aircraft, bundle: Bundle, library: Library, asking: RefitRequest) -> Text:
        """Why another aircraft must not give up what a bundle takes off it; empty where it may."""
        givers = givers_of(aircraft.code, bundle.lines)
        partners = (
            asking.swap_with.of(aircraft.code, asking.conditions, asking.thresholds)
            if givers and asking.swap_with
            else []
        )
        known = {partner.aircraft.code: partner for partner in partners}
        for code in sorted(givers):
            if code not in known:
                return text("{aircraft} cannot be judged", aircraft=code)
            lines = bundle.elsewhere.get(code, ())
            if not places_given_up(known[code].aircraft, bundle.lines) <= {line.place for line in lines}:
                return text("nothing takes its place on {aircraft}", aircraft=code)
            after = known[code].after(lines, library)
            if after is None or known[code].is_worse(after[1]):
                return text("it would make something worse on {aircraft}", aircraft=code)
        return NOTHING

    def judge_all(self, most: int) -> None:
        """Judge every state that the money pays, or those found one by one where there are too many."""
        if not self.complete:
            self._one_by_one(most)
            return
        payable = [state for state in range(1, 1 << len(self.bundles)) if _cost(state, self.price) <= most]
        for number, state in enumerate(payable):
            if not self._goes_on(number / len(payable)):
                return
            self._take(state)

    def _one_by_one(self, most: int) -> None:
        """Each bundle alone, then what leaves least with one more, and so on; the whole plan as well."""
        every = (1 << len(self.bundles)) - 1
        if _cost(every, self.price) <= most:
            self._take(every)
        at = _TODAY
        for number in range(len(self.bundles)):
            further = []
            for bundle in range(len(self.bundles)):
                state = at | 1 << bundle
                if state == at or _cost(state, self.price) > most:
                    continue
                if not self._goes_on(number / len(self.bundles)):
                    return
                if self._take(state):
                    further.append((self.left[state], _cost(state, self.price), state))
            if not further:
                return
            at = min(further)[-1]

    def _goes_on(self, share: float) -> bool:
        if self.stop():
            self.stopped, self.complete = True, False
            return False
        self.progress(share, plural("{count} state in between judged", "{count} states in between judged",
                                    count=self.search.judge.looks))  # fmt: skip
        return True

    def _take(self, state: int) -> bool:
        """Judge a state; whether it may be passed through."""
        if any(why and state >> at & 1 for at, why in enumerate(self.barred)):
            return False
        judged = self.verdict(state)
        if judged is None or not self._graver(judged) <= self.brought:
            return False
        self.left[state] = judged.count
        return True

    def _graver(self, judged: PlanVerdict) -> set[tuple[str, str, Level]]:
        """What is graver at a place than today; a matched group may hold a fault and get one more."""
        return {
            (*key, level)
            for key, level in self._by_place(judged).items()
            if is_graver(level, self.today.get(key))
        }

    def _by_place(self, judged: PlanVerdict) -> Faults:
        """The gravest level of each rule at each position, or at the aircraft."""
        flags = (
            (slug, raised.flag) for (slug, _), all_raised in judged.flags.items() for raised in all_raised
        )
        return faults_of(judged.aircraft, flags)

    def verdict(self, state: int) -> PlanVerdict | None:
        """What is said of a state; None where its lines cannot be carried out."""
        own = tuple(state >> at & 1 for at in range(len(self.bundles)))
        return self.search.judged((*(0,) * self.first, *own, 0))

    def answer(self, state: int) -> Answer:
        """The state as an answer."""
        judged = self.verdict(state)
        assert judged is not None
        cost = self.search.cost_of(self.goal, judged)
        outcome = Outcome(
            judged=judged, cost=cost, bound=cost if self.complete else 0, looks=self.search.judge.looks,
            nodes=0, stopped=self.stopped,
        )  # fmt: skip
        return answer_of(self.search, "stages", self.goal, outcome)

    def units(self, state: int) -> tuple[Unit, ...]:
        """Warnings and cautions of a state, gravest first."""
        judged = self.verdict(state)
        assert judged is not None
        units = [Unit(key[0], self.search.judge.places(key), level) for key, level in judged.units.items()]
        return tuple(sorted(units, key=lambda unit: (unit.level.rank, unit.rule, unit.places)))


def _stages(states: _States, way: Sequence[int], months: Sequence[float]) -> Iterator[Stage]:
    done, spent = _TODAY, 0
    for state, money, most in zip(way, months, itertools.accumulate(map(cents, months)), strict=True):
        left = set(states.units(state))
        yield Stage(
            budget=money,
            at_hand=(most - spent) / 100.0,
            bundles=tuple(bundle for at, bundle in enumerate(states.bundles) if state & ~done & 1 << at),
            answer=states.answer(state),
            clears=tuple(unit for unit in states.units(done) if unit not in left),
        )
        done, spent = state, _cost(state, states.price)


def _left_over(states: _States, done: int, most: int) -> Iterator[tuple[Bundle, Text]]:
    """What no stage does, and why."""
    for at, bundle in enumerate(states.bundles):
        state = done | 1 << at
        if state == done:
            continue
        if _cost(state, states.price) > most:
            yield bundle, text("the money does not reach")
            continue
        if states.barred[at]:
            yield bundle, states.barred[at]
            continue
        if states.stopped:
            yield bundle, text("not tried")
            continue
        if states.verdict(state) is None:
            yield bundle, text("it cannot be done without the others")
            continue
        brought = [unit.words for unit in states.units(state) if unit not in states.units(done)]
        if brought:
            yield bundle, text("it would bring {findings}", findings=series(brought))
        else:
            yield bundle, text("not tried")
