"""Why: why not this servo, what bound the answer, the next best, and what more money would buy."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from itertools import islice, product

import numpy as np

from hangar.base.text import NOTHING, Text, joined, series, text
from hangar.parts import Aircraft, Library
from hangar.refit.bay import PartsBay, bay_of
from hangar.refit.branch import Branch, kinds_of
from hangar.refit.changes import plan_lines
from hangar.refit.cheapest import NO_PRICE, cheapest_refit, cheapest_with_each
from hangar.refit.dominated import within_limits
from hangar.refit.front import Front, Point
from hangar.refit.level_programme import Answer, Question, cheapest
from hangar.refit.level_table import LevelTable
from hangar.refit.limits import Limits
from hangar.refit.line_words import change_words
from hangar.refit.refused_levels import level_refusals
from hangar.refit.table_making import tables_of
from hangar.refit.tables import Tables

LIMITS = {
    "current": (
        text("the current that the supplies can give"),
        text("If the supplies could give more current"),
    ),
    "scarce": (text("the spares in Stores"), text("With more spares in Stores")),
    "budget": (text("the budget"), text("With a bigger budget")),
    "mass": (text("the mass that this refit adds"), text("If it might weigh more")),
    "types": (text("the number of types to buy"), text("If more servo types might be bought")),
}
"""The limits that can be relaxed one at a time: what stands against a choice, and what it is without."""
_LEAST_GAIN = 0.005
"""A gain of margin below it is not worth telling."""
_MOST_ALIKE = 256
"""Ways to share out spares that are left out when the next best is sought."""
_PLAIN_GAIN = 0.01
"""From this gain on two decimals tell the margins apart."""


@dataclass
class Explainer:
    """Answers questions about one front from the model that made it.

    ``margin_pct`` and ``level_mv`` are what a point certifies; a question is asked at the same.
    """

    front: Front
    tables: Tables
    _refusals: dict[str, Text] | None = None
    _of_kind: dict[Branch, list[LevelTable]] = field(default_factory=dict)

    @classmethod
    def of(
        cls,
        front: Front,
        aircraft: Aircraft,
        catalogue: Library,
        parts_bay: PartsBay = None,
        limits: Limits | None = None,
    ) -> Explainer:
        """An explainer for a front that :func:`hangar.refit.plan` gave for the same arguments."""
        if front.tables is not None:
            return cls(front, front.tables)
        bay = bay_of(catalogue, parts_bay, aircraft)
        return cls(front, tables_of(aircraft, catalogue, bay, limits or Limits()))

    def why_not(self, position: str, servo_type: str, point: Point) -> Text:
        """One sentence: why a point does not have a servo type at a position.

        Args:
            position: code of a position.
            servo_type: code of a type of the library.
            point: a point of the front that changes something.

        Returns:
            The hard rule it breaks; or what it would cost more; or which limit stands against it.
        """
        told = self.known_at_once(position, servo_type, point)
        at = self._group(position)
        if told is not None or at is None:
            return told or NOTHING
        options = self.tables.lists[at].options
        rows = [row for row, option in enumerate(options) if option.servo_type == servo_type]
        return self._forced(at, rows, position, servo_type, point)

    def known_at_once(self, position: str, servo_type: str, point: Point) -> Text | None:
        """The answer of :meth:`why_not` where nothing has to be solved for it, else None."""
        at = self._group(position)
        if at is None:
            return text("{position} holds no servo that is planned.", position=position)
        lists = self.tables.lists[at]
        told = self._refused().get(f"{lists.group.name}: {servo_type}")
        if told is not None:
            return _cannot(servo_type, position, told)
        if lists.locked:
            return _cannot(servo_type, position, text("what is there was asked to stay"))
        if not any(option.servo_type == servo_type for option in lists.options):
            return self._not_offered(at, position, servo_type)
        if point.certified is None:
            return text(
                "{type} could go to {position}: nothing was chosen there.", type=servo_type, position=position
            )
        if self._chosen_type(at, point) == servo_type:
            return _is_there(servo_type, position)
        return None

    def _not_offered(self, at: int, position: str, servo_type: str) -> Text:
        if any(kind is not None and kind.code == servo_type for kind in self.tables.lists[at].own_types):
            return text("{type} is at {position} already.", type=servo_type, position=position)
        if servo_type not in self.tables.library.servo_types:
            return text("{type} is not in the library.", type=servo_type)
        return text("{type} has no price, and too few lie in Stores.", type=servo_type)

    def why_not_all(self, position: str, point: Point) -> dict[str, Text]:
        """For every type of the library one sentence: why a point does not have it at a position."""
        at = self._group(position)
        if at is None or point.certified is None:
            return {}
        lists = self.tables.lists[at]
        told = {
            code: _cannot(code, position, why)
            for code in self.tables.library.servo_types
            if (why := self._refused().get(f"{lists.group.name}: {code}")) is not None
        }
        prices = self._prices_with_each(at, point)
        for option, price in zip(lists.options, prices, strict=True):
            code = option.servo_type
            if code and code not in told:
                known = [
                    each for row, each in enumerate(prices)
                    if lists.options[row].servo_type == code and each is not None
                ]  # fmt: skip
                told[code] = _price_words(code, position, min(known, default=price), point.certified[0])
        chosen = self._chosen_type(at, point)
        return told if not chosen else {**told, chosen: _is_there(chosen, position)}

    def _chosen_type(self, at: int, point: Point) -> str:
        """The type that a point fits at a group; empty where what is there stays."""
        return self.tables.lists[at].options[point.choices[at]].servo_type

    def _prices_with_each(self, at: int, point: Point) -> list[int | None]:
        """The least price of a refit as good as a point with each option of a group."""
        assert point.certified is not None
        margin = point.certified[2] // self.tables.limits.margin_step_pct
        bounds = replace(self.tables.bounds, mass_g=point.certified[1])
        best = np.full(len(self.tables.lists[at].options), NO_PRICE)
        for one in self._level_tables(point, weaker=False):
            choice = one.groups[at].choice
            found = cheapest_with_each(one, at, margin, bounds, best[choice])
            best[choice] = np.where(found >= 0, found, best[choice])
        return [None if price == NO_PRICE else price for price in best.tolist()]

    def _forced(self, at: int, rows: list[int], position: str, servo_type: str, point: Point) -> Text:
        assert point.certified is not None
        price = point.certified[0]
        best = self._cheapest_forced(at, rows, point, frozenset())
        if best is not None and best.price <= price:
            return _same_price(servo_type, position)
        if best is not None:
            return text(
                "{type} at {position} is possible and costs {money:.2f} more "
                "for no less margin and volts and no more mass.",
                type=servo_type,
                position=position,
                money=(best.price - price) / 100.0,
            )
        against = [
            words
            for name, (words, _) in LIMITS.items()
            if self._stands(name) and self._cheapest_forced(at, rows, point, frozenset({name}))
        ]
        if against:
            held = joined(*against, between="{first} and by {then}")
            return text(
                "{type} at {position} is held back by {limits}.",
                type=servo_type,
                position=position,
                limits=held,
            )
        if self._cheapest_forced(at, rows, point, frozenset(), weaker=True):
            return text(
                "{type} at {position} would leave less margin or lower volts than this refit has.",
                type=servo_type,
                position=position,
            )
        return text(
            "{type} at {position} breaks several limits together.", type=servo_type, position=position
        )

    def _cheapest_forced(
        self, at: int, rows: list[int], point: Point, relaxed: frozenset[str], *, weaker: bool = False
    ) -> Answer | None:
        found = [
            answer
            for row in rows
            for answer in [self._cheapest(point, forced={at: row}, relaxed=relaxed, weaker=weaker)]
            if answer is not None
        ]
        return min(found, key=lambda answer: (answer.price, answer.mass_g), default=None)

    def binding(self, point: Point) -> Text:
        """One sentence: which single limit, left out, would make a point cheapest.

        Args:
            point: a point of the front that changes something.
        """
        if point.certified is None:
            return text("Nothing is changed, so nothing is held back.")
        price = point.certified[0]
        saved: dict[Text, int] = {}
        for name, (_, without) in LIMITS.items():
            if not self._stands(name):
                continue
            answer = self._cheapest(point, relaxed=frozenset({name}), most=price - 1)
            if answer is not None:
                saved[without] = price - answer.price
        if not saved:
            return text("No single limit makes it dearer; {weakest}.", weakest=self.weakest_words(point))
        without = max(saved, key=lambda each: saved[each])
        return text(
            "{without}, the same margin and volts would cost {money:.2f} less.",
            without=without,
            money=saved[without] / 100.0,
        )

    def weakest_words(self, point: Point) -> Text:
        """Which position holds the margin down."""
        from hangar.refit.prove import changed
        from hangar.survey import survey

        after = changed(self.tables.aircraft, point.changes, self.tables.library)
        seen = survey(after, self.tables.limits.conditions)
        margins = {
            code: each.reserve.expected for code, each in seen.positions.items() if each.reserve is not None
        }
        if not margins:
            return text("no margin is known")
        code = min(margins, key=lambda each: (margins[each], each))
        if seen.positions[code].control_left is not None:
            return text(
                "{position} is the weakest: its servo holds {share:.0f} % of what is wanted",
                position=code,
                share=100.0 * margins[code],
            )
        return text(
            "{position} is the weakest: its servo gives {margin:.2f} times the load",
            position=code,
            margin=margins[code],
        )

    def next_best(self, point: Point) -> Text:
        """One sentence: the cheapest other refit with no less margin and volts and no more mass."""
        if point.certified is None:
            return text("Nothing is changed.")
        answer = self._cheapest(point, without=self._same_but_for_spares(point.choices))
        if answer is None:
            return text("There is no other refit with as much margin and volts for as little mass.")
        more = (answer.price - point.certified[0]) / 100.0
        changes = self._words(answer) or text("no change")
        if not more:
            return text("The next best costs the same: {changes}.", changes=changes)
        return text("The next best costs {money:.2f} more: {changes}.", money=more, changes=changes)

    def _same_but_for_spares(self, choices: tuple[int, ...]) -> list[tuple[int, ...]]:
        """Refits that change the same, whatever is bought or taken from the bay; the refit itself first."""
        alike: list[tuple[int, ...]] = [(choices[-1],)]
        for each, chosen in zip(reversed(self.tables.lists), reversed(choices[:-1]), strict=True):
            own = each.options[chosen]
            rows = [
                row for row, option in enumerate(each.options)
                if row != chosen and (option.servo_type, option.awg) == (own.servo_type, own.awg)
            ]  # fmt: skip
            alike.insert(0, (chosen, *rows))
        return list(islice(product(*alike), _MOST_ALIKE))

    def more_money(self, point: Point) -> Text:
        """One sentence: the next step of the front that more money buys."""
        least = point.weakest_margin or 0.0
        better = [
            each
            for each in self.front.points
            if each.price > point.price
            and (each.weakest_margin or 0.0) - least >= _LEAST_GAIN
            and self._second(each) >= self._second(point)
        ]
        if not better:
            return text("More money buys no more margin.")
        step = min(better, key=lambda each: (each.price, each.mass_change_g))
        gained = step.weakest_margin or 0.0
        return text(
            "The next step costs {money:.2f} more and lifts the weakest margin "
            "from {least:.2f} to {more:.2f}."
            if gained - least >= _PLAIN_GAIN
            else "The next step costs {money:.2f} more and lifts the weakest margin "
            "from {least:.3f} to {more:.3f}.",
            money=step.price - point.price,
            least=least,
            more=gained,
        )

    def _stands(self, name: str) -> bool:
        """Whether there is such a limit at all."""
        bounds = self.tables.bounds
        return {
            "budget": bounds.budget is not None,
            "types": bounds.most_types is not None,
            "scarce": bool(self.tables.spare_types) or self.tables.mean_binds,
        }.get(name, True)

    def _second(self, point: Point) -> bool:
        """Whether a point gives the radio a second pack."""
        return bool(point.choices) and self.tables.supplies[point.choices[-1]].second

    def _group(self, position: str) -> int | None:
        return next((at for at, each in enumerate(self.tables.lists) if position in each.group.codes), None)

    def _refused(self) -> dict[str, Text]:
        if self._refusals is None:
            told = self.front.refused
            if self.front.tables is not self.tables:
                told = (*told, *self.tables.refused, *level_refusals(self.tables))
            self._refusals = {}
            for refusal in told:
                self._refusals.setdefault(str(refusal.what), refusal.why)
        return self._refusals

    def _level_tables(self, point: Point, *, weaker: bool) -> Iterator[LevelTable]:
        """The levels with the supplies that a point is weighed among, those at its volts or above."""
        assert point.certified is not None
        kind = next(each for each in kinds_of(self.tables.supplies) if each.holds(point.choices))
        if kind not in self._of_kind:
            owned = (kind.of(one) for one in self.tables.level_tables())
            self._of_kind[kind] = [one for one in owned if len(one.supplies.choice)]
        for one in self._of_kind[kind]:
            if weaker or one.level_mv >= point.certified[3]:
                yield one

    def _cheapest(
        self,
        point: Point,
        *,
        forced: dict[int, int] | None = None,
        relaxed: frozenset[str] = frozenset(),
        without: list[tuple[int, ...]] | None = None,
        weaker: bool = False,
        most: int | None = None,
    ) -> Answer | None:
        """The cheapest refit with a point's margin, volts and mass, over all levels that give them.

        ``most`` is the price above which no answer is wanted, in hundredths.
        """
        assert point.certified is not None
        margin = 0 if weaker else point.certified[2] // self.tables.limits.margin_step_pct
        mass_g = None if weaker or "mass" in relaxed else point.certified[1]
        budget = None if "budget" in relaxed else self.tables.bounds.budget
        relaxed -= {"mass", "budget"}
        best: Answer | None = None
        for one in self._level_tables(point, weaker=weaker):
            dearest = [each for each in (budget, most, best.price if best else None) if each is not None]
            bounds = replace(self.tables.bounds, mass_g=mass_g, budget=min(dearest, default=None))
            question = Question(margin, bounds, forced or {}, without or [], relaxed)
            answer = _answered(one, question)
            if answer is not None and (
                best is None or (answer.price, answer.mass_g) < (best.price, best.mass_g)
            ):
                best = answer
        return best

    def _words(self, answer: Answer) -> Text:
        options = [each.options[at] for each, at in zip(self.tables.lists, answer.choices, strict=False)]
        supply = self.tables.supplies[answer.choices[-1]]
        bay = bay_of(self.tables.library, {}, self.tables.aircraft)
        lines = plan_lines(self.tables.aircraft, options, supply, bay, self.tables.limits)
        return series(change_words(lines, self.tables.aircraft))


def explanations(front: Front) -> list[dict[str, Text]]:
    """For every point of a front, in its order: what binds it, the next best, what more money buys."""
    if front.tables is None:
        return []
    explainer = Explainer(front, front.tables)
    return [
        {
            "binding": explainer.binding(point),
            "next_best": explainer.next_best(point),
            "more_money": explainer.more_money(point),
        }
        for point in front.points
    ]


def _cannot(servo_type: str, position: str, why: Text) -> Text:
    return text("{type} cannot go to {position}: {why}.", type=servo_type, position=position, why=why)


def _is_there(servo_type: str, position: str) -> Text:
    return text("{type} is what this refit has at {position}.", type=servo_type, position=position)


def _same_price(servo_type: str, position: str) -> Text:
    return text("{type} at {position} is possible at the same price.", type=servo_type, position=position)


def _price_words(code: str, position: str, price: int | None, chosen: int) -> Text:
    if price is None:
        return text(
            "{type} at {position} would leave less margin or volts, or more mass, than this refit has.",
            type=code,
            position=position,
        )
    if price <= chosen:
        return _same_price(code, position)
    return text(
        "{type} at {position} is possible and costs {money:.2f} more.",
        type=code,
        position=position,
        money=(price - chosen) / 100.0,
    )


def _answered(one: LevelTable, question: Question) -> Answer | None:
    """The cheapest refit of a level; the integer programme is asked where some are not wanted again."""
    if not question.without:
        return cheapest_refit(one, question)
    groups = tuple(group.take(group.margin >= question.margin) for group in one.groups)
    left = within_limits(replace(one, groups=groups), question.bounds)
    return None if left is None else cheapest(left, question)
