"""What a question wants least of, as one number: warnings, cautions, money, hours, grams in order."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from hangar.refit.answer import Value
from hangar.refit.cheapest_choice import FORBIDDEN
from hangar.refit.choice import Choice
from hangar.refit.judge import Key, PlanVerdict
from hangar.refit.supplies import Supply
from hangar.rules.finding import Level

_GRAMS, _HOURS = 10**6, 10**6
_MONEY_AT, _CAUTION_AT, _WARNING_AT = _GRAMS * _HOURS, _GRAMS * _HOURS * 10**12, _GRAMS * _HOURS * 10**18


@dataclass(frozen=True)
class Goal:
    """What one question wants.

    Attributes:
        today: level of each unit as the aircraft is.
        counts: the levels that count.
        no_worse: the levels at which a unit must not be graver than today.
        budget: most money; None for no limit.
        grams: most mass to add; None for no limit.
        caution_money: for one budget over a fleet, what a caution is worth in money: then findings and money
            are added up; None where they are compared in order.
        warning_in_cautions: how many cautions a warning is worth then.
        parts: what a spare costs then that is wanted elsewhere too, by tag or type; who gives one up gets it.
        saved: what one regulator off another aircraft saves then, by type.
    """

    today: dict[Key, Level]
    counts: frozenset[Level] = frozenset({Level.WARNING, Level.CAUTION})
    no_worse: frozenset[Level] = frozenset({Level.WARNING, Level.CAUTION})
    budget: float | None = None
    grams: float | None = None
    caution_money: float | None = None
    warning_in_cautions: float = 10.0
    without: frozenset[Key] = frozenset()
    parts: Mapping[str, int] = field(default_factory=dict)
    saved: Mapping[str, int] = field(default_factory=dict)

    def of_unit(self, key: Key, level: Level) -> int:
        """What a unit costs at a level."""
        if self.forbids(key, level):
            return FORBIDDEN
        if level not in self.counts:
            return 0
        if self.caution_money is not None:
            times = self.warning_in_cautions if level is Level.WARNING else 1.0
            return int(100.0 * self.caution_money * times * _MONEY_AT)
        return _WARNING_AT if level is Level.WARNING else _CAUTION_AT

    def forbids(self, key: Key, level: Level) -> bool:
        """Whether a unit must not be there at a level: graver than today, or what is asked away."""
        if key in self.without and level in self.counts:
            return True
        if level not in self.no_worse:
            return False
        today = self.today.get(key)
        return today is None or level.rank < today.rank

    def of_choice(self, choice: Choice | Supply) -> int:
        """Money, hours and grams of a choice, and what its parts are worth elsewhere."""
        parts = 0
        if self.parts:
            parts += sum(self.parts.get(kind, 0) * count for kind, count in choice.spares.items())
            parts -= sum(self.parts.get(tag, 0) for tag in choice.gives)
        if self.saved and isinstance(choice, Supply) and choice.bought_regulator is not None:
            parts -= self.saved.get(choice.bought_regulator[0], 0)
        return (
            parts
            + cents(choice.price) * _MONEY_AT
            + round(100.0 * choice.hours) * _GRAMS
            + round(10.0 * choice.mass_g)
        )

    def of_judged(self, judged: PlanVerdict) -> int | None:
        """What the units of a judged plan cost; None where one of them is forbidden."""
        total = 0
        for key, level in judged.units.items():
            cost = self.of_unit(key, level)
            if cost >= FORBIDDEN:
                return None
            total += cost
        return total


def cost_of_money(money: float) -> int:
    """A sum of money as a cost of a goal that adds up findings and money."""
    return round(100.0 * money * _MONEY_AT)


def cents(money: float) -> int:
    """Money in hundredths."""
    return round(100.0 * money)


def money_of_cost(cost: int) -> float:
    """A cost of a goal that adds up findings and money, in money."""
    return cost / (100.0 * _MONEY_AT)


def value_of(cost: int) -> Value:
    """A cost taken apart again.

    >>> value_of(_WARNING_AT * 2 + _MONEY_AT * 1350 - 7)
    Value(warnings=2, cautions=0, money=13.5, hours=0.0, mass_g=-0.7)
    """
    warnings, rest = divmod(cost + _MONEY_AT // 2, _WARNING_AT)
    cautions, rest = divmod(rest, _CAUTION_AT)
    money, rest = divmod(rest, _MONEY_AT)
    rest -= _MONEY_AT // 2
    hours = (rest + _GRAMS // 2) // _GRAMS
    return Value(warnings, cautions, money / 100.0, hours / 100.0, (rest - hours * _GRAMS) / 10.0)
