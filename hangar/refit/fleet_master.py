"""The master of a fleet: one plan of each aircraft, one budget, spares for all; solved by HiGHS."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from hangar.refit.highs import highs_package


@dataclass(frozen=True)
class Column:
    """One plan of one aircraft: what it leaves, what it costs, the spares it takes less those it gives up."""

    worth: float
    money: float
    spares: tuple[tuple[str, int], ...] = ()


@dataclass(frozen=True)
class Master:
    """A solved master: the plan taken of each aircraft, what is left, what more of anything would save."""

    picks: tuple[int, ...]
    worth: float
    price: float
    spare_prices: Mapping[str, float] = field(default_factory=dict)


def solved(
    menus: Sequence[Sequence[Column]], budget: float, spares: Mapping[str, int], *, whole: bool
) -> Master:
    """The choice that leaves least.

    Args:
        menus: the plans of each aircraft; none of them empty.
        budget: the money for all.
        spares: how many of each spare there are before any plan gives one up; others have no limit.
        whole: whether plans are taken as a whole; else by shares, which gives the prices.

    >>> menu = [Column(3.0, 0.0), Column(1.0, 10.0)]
    >>> solved([menu, menu], 10.0, {}, whole=True).worth
    4.0
    """
    import numpy as np

    highspy = highs_package()
    solver = highspy.Highs()
    solver.setOptionValue("output_flag", False)
    solver.setOptionValue("threads", 1)
    solver.setOptionValue("mip_rel_gap", 0.0)
    columns = [column for menu in menus for column in menu]
    count = len(columns)
    zeros, ones = np.zeros(count), np.ones(count)
    # Of choices that leave the same the cheaper one is taken.
    costs = np.array([column.worth + 1e-7 * column.money for column in columns])
    solver.addCols(count, costs, zeros, ones, 0, np.array([], np.int32), np.array([], np.int32), np.array([]))
    numbers = np.arange(count, dtype=np.int32)
    money = np.array([column.money for column in columns])
    solver.addRow(-highspy.kHighsInf, budget + 1e-9, count, numbers, money)
    first = 0
    for menu in menus:
        own = np.arange(first, first + len(menu), dtype=np.int32)
        solver.addRow(1.0, 1.0, len(menu), own, np.ones(len(menu)))
        first += len(menu)
    users: dict[str, list[tuple[int, int]]] = {}
    for at, column in enumerate(columns):
        for kind, taken in column.spares:
            if kind in spares:
                users.setdefault(kind, []).append((at, taken))
    for kind, own_users in users.items():
        places = np.array([at for at, _ in own_users], np.int32)
        counts = np.array([float(taken) for _, taken in own_users])
        solver.addRow(-highspy.kHighsInf, float(spares[kind]), len(own_users), places, counts)
    if whole:
        solver.changeColsIntegrality(count, numbers, np.full(count, highspy.HighsVarType.kInteger))
    solver.run()
    solution = solver.getSolution()
    values = [float(value) for value in solution.col_value]
    picks, first = [], 0
    for menu in menus:
        own_values = values[first : first + len(menu)]
        picks.append(own_values.index(max(own_values)))
        first += len(menu)
    if whole:
        worth = sum(menu[at].worth for menu, at in zip(menus, picks, strict=True))
        return Master(tuple(picks), worth, 0.0)
    worth = sum(column.worth * value for column, value in zip(columns, values, strict=True))
    prices = [max(0.0, -float(dual)) for dual in solution.row_dual]
    return Master(tuple(picks), worth, prices[0], dict(zip(users, prices[1 + len(menus) :], strict=True)))
