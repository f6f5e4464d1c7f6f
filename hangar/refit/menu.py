"""Every refit of one aircraft as the fleet sees it: risk, price, spares taken, and what the supply allows."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from hangar.refit.level_table import Ints
from hangar.refit.undominated import undominated, undominated_by_class

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class MenuGroup:
    """The choices of one group at one level; ``uses`` has a column for each spare type of the bay."""

    choice: Ints
    risk: Ints
    price: Ints
    current_ua: Ints
    uses: Ints
    mean_ua: Ints

    def take(self, rows: Ints) -> MenuGroup:
        """Some of the choices."""
        return MenuGroup(*(getattr(self, name)[rows] for name in self.__dataclass_fields__))


@dataclass(frozen=True)
class MenuLevel:
    """One level: its groups, and each supply's price, peak current and mean current."""

    groups: tuple[MenuGroup, ...]
    supply: Ints
    supply_price: Ints
    most_ua: Ints
    most_mean_ua: Ints


@dataclass(frozen=True)
class Column:
    """One refit of one aircraft; ``choices`` is empty for doing nothing."""

    risk: int
    price: int
    uses: tuple[int, ...]
    choices: tuple[int, ...] = ()

    def cost(self, money: float, spares: Floats) -> float:
        """Risk with money and spares counted at their shadow prices."""
        return self.risk + money * self.price + float(np.dot(spares, self.uses))


@dataclass(frozen=True)
class _Partial:
    risk: Ints
    price: Ints
    current: Ints
    uses: Ints
    mean: Ints
    cost: Floats
    parent: Ints
    row: Ints


class Menu:
    """All levels of one aircraft, ready to be asked for the best refit at shadow prices."""

    def __init__(self, nothing: Column, levels: Sequence[MenuLevel]) -> None:
        self.nothing = nothing
        self.levels = [
            MenuLevel(
                tuple(map(_undominated, one.groups)),
                one.supply,
                one.supply_price,
                one.most_ua,
                one.most_mean_ua,
            )
            for one in levels
            if all(len(group.choice) for group in one.groups) and len(one.supply)
        ]
        self._flat()

    def _flat(self) -> None:
        groups = [group for level in self.levels for group in level.groups]
        self.starts = np.cumsum([0, *(len(group.choice) for group in groups)])[:-1]
        none = np.zeros(0, np.int64)
        self.risk = np.concatenate([none, *(group.risk for group in groups)])
        self.price = np.concatenate([none, *(group.price for group in groups)])
        spares = len(self.nothing.uses)
        self.uses = np.concatenate([np.zeros((0, spares), np.int64), *(group.uses for group in groups)])
        self.size = len(self.levels[0].groups) if self.levels else 0
        self.supply_price = np.array([int(level.supply_price.min()) for level in self.levels], np.int64)

    def least_costs(self, money: float, spares: Floats) -> Floats:
        """For each level a cost that no refit there undercuts."""
        if not self.levels:
            return np.zeros(0)
        cost = self.risk + money * self.price + self.uses @ spares
        least = np.minimum.reduceat(cost, self.starts).reshape(len(self.levels), self.size).sum(axis=1)
        return np.asarray(least + money * self.supply_price)

    def best(self, money: float, spares: Floats) -> Column:
        """The refit of least cost at shadow prices of money and spares."""
        found, value = self.nothing, self.nothing.cost(money, spares)
        least = self.least_costs(money, spares)
        for at in np.argsort(least, kind="stable").tolist():
            if least[at] >= value - 1e-9:
                break
            for column in self._within(self.levels[at], money, spares, value - 1e-9, cheapest=True):
                cost = column.cost(money, spares)
                if cost < value:
                    found, value = column, cost
        return found

    def up_to(self, money: float, spares: Floats, most: float, limit: int) -> list[Column] | None:
        """Every refit of no more than a cost that none beats; None when there are too many."""
        columns = [self.nothing] if self.nothing.cost(money, spares) <= most else []
        least = self.least_costs(money, spares)
        for at in np.flatnonzero(least <= most).tolist():
            columns += self._within(self.levels[at], money, spares, most, cheapest=False)
            if len(columns) > limit:
                columns = _best_columns(columns)
                if len(columns) > limit:
                    return None
        return _best_columns(columns)

    def _within(
        self, level: MenuLevel, money: float, spares: Floats, most: float, *, cheapest: bool
    ) -> Iterator[Column]:
        """Refits of a level within a cost; only the least of each current where one is enough."""
        costs = [group.risk + money * group.price + group.uses @ spares for group in level.groups]
        if cheapest and (least := _least(level, costs, money)) is not None:
            yield least
            return
        base = most - money * float(level.supply_price.min())
        labels: list[_Partial] = []
        for at, group in enumerate(level.groups):
            after = level.groups[at + 1 :]
            extended = _extended(labels[-1] if labels else None, group, costs[at])
            good = extended.cost <= base - sum(float(each.min()) for each in costs[at + 1 :]) + 1e-9
            good &= extended.current <= int(level.most_ua.max()) - sum(
                int(each.current_ua.min()) for each in after
            )
            extended = _levelled(_taken(extended, np.flatnonzero(good)), after, level)
            if not len(extended.risk):
                return
            keep = _front_of_cost(extended) if cheapest else _front_of_all(extended)
            labels.append(_taken(extended, keep))
        yield from _columns(level, labels, money, most)


def _least(level: MenuLevel, costs: Sequence[Floats], money: float) -> Column | None:
    """The cheapest choice of every group with the cheapest supply, when the supply bears it."""
    rows = [int(cost.argmin()) for cost in costs]
    picked = list(zip(level.groups, rows, strict=True))
    current = sum(int(group.current_ua[row]) for group, row in picked)
    mean = sum(int(group.mean_ua[row]) for group, row in picked)
    at = int(level.supply_price.argmin()) if money > 0.0 else int(level.most_ua.argmax())
    if current > level.most_ua[at] or mean > level.most_mean_ua[at]:
        return None
    uses = np.sum([group.uses[row] for group, row in picked], axis=0)
    return Column(
        sum(int(group.risk[row]) for group, row in picked),
        sum(int(group.price[row]) for group, row in picked) + int(level.supply_price[at]),
        tuple(uses.tolist()),
        (*(int(group.choice[row]) for group, row in picked), int(level.supply[at])),
    )


def _levelled(labels: _Partial, after: Sequence[MenuGroup], level: MenuLevel) -> _Partial:
    """Labels whose currents no longer differ where the difference can never count."""
    floor = int(level.most_ua.min()) - sum(int(each.current_ua.max()) for each in after)
    mean_floor = int(level.most_mean_ua.min()) - sum(int(each.mean_ua.max()) for each in after)
    return replace(
        labels, current=np.maximum(labels.current, floor), mean=np.maximum(labels.mean, mean_floor)
    )


def _undominated(group: MenuGroup) -> MenuGroup:
    keys = np.concatenate((group.uses, group.mean_ua[:, None]), axis=1)
    same = np.zeros_like(group.price)
    return group.take(
        undominated_by_class(group.price, group.risk, group.current_ua, same, keys, keys.shape[1])
    )


def _extended(before: _Partial | None, group: MenuGroup, cost: Floats) -> _Partial:
    count = len(group.choice)
    if before is None:
        return _Partial(
            group.risk, group.price, group.current_ua, group.uses, group.mean_ua, cost,
            np.zeros(count, np.int64), np.arange(count),
        )  # fmt: skip
    size = len(before.risk)
    parent, row = np.repeat(np.arange(size), count), np.tile(np.arange(count), size)
    return _Partial(
        before.risk[parent] + group.risk[row], before.price[parent] + group.price[row],
        before.current[parent] + group.current_ua[row], before.uses[parent] + group.uses[row],
        before.mean[parent] + group.mean_ua[row], before.cost[parent] + cost[row], parent, row,
    )  # fmt: skip


def _taken(labels: _Partial, rows: Ints) -> _Partial:
    return _Partial(*(getattr(labels, name)[rows] for name in labels.__dataclass_fields__))


def _front_of_cost(labels: _Partial) -> Ints:
    """Labels that no other undercuts in cost, current and mean current."""
    ranks = np.unique(labels.cost, return_inverse=True)[1].astype(np.int64)
    return undominated(ranks, labels.mean, labels.current, np.zeros(len(ranks), np.int64))


def _front_of_all(labels: _Partial) -> Ints:
    keys = np.concatenate((labels.uses, labels.mean[:, None]), axis=1)
    same = np.zeros(len(labels.risk), np.int64)
    return undominated_by_class(labels.price, labels.risk, labels.current, same, keys, keys.shape[1])


def _columns(level: MenuLevel, labels: Sequence[_Partial], money: float, most: float) -> Iterator[Column]:
    last = labels[-1]
    for number in range(len(level.supply)):
        fits = (last.current <= level.most_ua[number]) & (last.mean <= level.most_mean_ua[number])
        fits &= last.cost + money * int(level.supply_price[number]) <= most + 1e-9
        for row in np.flatnonzero(fits).tolist():
            choices = [int(level.supply[number])]
            at = row
            for stage, group in zip(reversed(labels), reversed(level.groups), strict=True):
                choices.append(int(group.choice[stage.row[at]]))
                at = int(stage.parent[at])
            yield Column(
                int(last.risk[row]),
                int(last.price[row] + level.supply_price[number]),
                tuple(last.uses[row].tolist()),
                tuple(reversed(choices)),
            )


def _best_columns(columns: Sequence[Column]) -> list[Column]:
    """Columns that none beats in risk, price and spares."""
    if not columns:
        return []
    uses = np.array([column.uses for column in columns], np.int64).reshape(len(columns), -1)
    risk = np.array([column.risk for column in columns], np.int64)
    price = np.array([column.price for column in columns], np.int64)
    same = np.zeros_like(risk)
    keep = undominated_by_class(price, risk, same, same, uses, uses.shape[1])
    return [columns[at] for at in keep.tolist()]


def without_supply(level: MenuLevel, supply: int) -> MenuLevel:
    """A level less one supply."""
    rows = np.flatnonzero(level.supply != supply)
    return replace(
        level, supply=level.supply[rows], supply_price=level.supply_price[rows], most_ua=level.most_ua[rows],
        most_mean_ua=level.most_mean_ua[rows],
    )  # fmt: skip


def without(level: MenuLevel, choices: tuple[int, ...]) -> list[MenuLevel]:
    """A level in parts that hold all its refits but one."""
    found, groups = [], list(level.groups)
    for at, choice in enumerate(choices[:-1]):
        group = level.groups[at]
        others = list(groups)
        others[at] = group.take(np.flatnonzero(group.choice != choice))
        found.append(replace(level, groups=tuple(others)))
        groups[at] = group.take(np.flatnonzero(group.choice == choice))
    rows = np.flatnonzero(level.supply != choices[-1])
    found.append(
        MenuLevel(
            tuple(groups), level.supply[rows], level.supply_price[rows], level.most_ua[rows],
            level.most_mean_ua[rows],
        )
    )  # fmt: skip
    return found
