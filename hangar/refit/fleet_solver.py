"""One budget and one bay over many aircraft: column generation, an integer master, and a proven gap."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import Any

import numpy as np

from hangar.base.text import Text, text
from hangar.refit.level_programme import Programme, solved
from hangar.refit.menu import Column, Floats, Menu

_INFINITE = float("inf")
_NEARLY = 1e-6
_TIE = 1e-7
"""What the whole budget counts at least, in points of risk: of equal refits the cheapest is found."""
_MOST_ROUNDS = 200
_MOST_COLUMNS = 60_000
_WINDOWS = (0.1, 0.3, 1.0)


@dataclass(frozen=True)
class FleetAnswer:
    """One column for every aircraft.

    Attributes:
        columns: what each aircraft gets.
        risk: all risk that is left.
        bound: a risk that no plan undercuts.
        stopped: whether it was stopped before the proof.
    """

    columns: tuple[Column, ...]
    risk: int
    bound: float
    stopped: bool = False

    @property
    def gap(self) -> float:
        """How much better another plan could be, as a share of this one's risk; 0 when proved best."""
        if self.risk <= 0:
            return 0.0
        return max(0.0, (self.risk - self.bound) / self.risk)


@dataclass
class FleetProblem:
    """The columns found so far, and the linear and the integer choice among them."""

    menus: Sequence[Menu]
    budget: int
    bay: Sequence[int]
    prove: bool = True
    stop: Callable[[], bool] = lambda: False
    progress: Callable[[float, Text], None] = lambda _share, _words: None
    columns: list[list[Column]] = field(default_factory=list)

    def solve(self) -> FleetAnswer:
        """The plan of least risk with its proven gap; proved best when asked and possible."""
        self.columns = [[menu.nothing] for menu in self.menus]
        bound, money, spares, convex, stopped = self._generate()
        chosen = self._master()
        best = sum(column.risk for column in chosen)
        if not stopped and self.prove and best - bound > 1.0 - _NEARLY:
            chosen, bound, stopped = self._close(chosen, bound, money, spares, convex)
        risk = sum(column.risk for column in chosen)
        bound = min(float(np.ceil(bound - _NEARLY)), float(risk))
        return FleetAnswer(tuple(chosen), risk, bound, stopped)

    def _generate(self) -> tuple[float, float, Floats, Floats, bool]:
        """Columns until none improves the linear choice; its value is a lower bound."""
        bound = -_INFINITE
        for round_ in range(_MOST_ROUNDS):
            value, money, spares, convex = self._linear()
            if self.stop():
                return max(bound, 0.0), money, spares, convex, True
            self.progress(0.1 + 0.6 * round_ / (round_ + 5.0), text("pricing each aircraft"))
            gained = 0.0
            for at, menu in enumerate(self.menus):
                column = menu.best(money + _TIE / max(1, self.budget), spares)
                better = convex[at] - column.cost(money, spares)
                if better > _NEARLY and column not in self.columns[at]:
                    self.columns[at].append(column)
                    gained += better
            bound = max(bound, value - gained)
            if gained <= _NEARLY * max(1.0, abs(value)):
                return value - gained, money, spares, convex, False
        return bound, money, spares, convex, False

    def _linear(self) -> tuple[float, float, Floats, Floats]:
        """The linear master: its value and the shadow prices of money, spares and aircraft."""
        from scipy.optimize import linprog
        from scipy.sparse import csr_array

        flat, owner = self._flat()
        rows = len(self.bay) + 1
        usage = np.array([[column.price, *column.uses] for column in flat], float).reshape(len(flat), rows).T
        convex: Any = csr_array(
            (np.ones(len(flat)), (owner, np.arange(len(flat)))), shape=(len(self.menus), len(flat))
        )
        linear = linprog(
            [float(column.risk) for column in flat],
            A_ub=usage,
            b_ub=[float(self.budget), *map(float, self.bay)],
            A_eq=convex,
            b_eq=np.ones(len(self.menus)),
            method="highs",
        )
        prices = np.maximum(-np.asarray(linear.ineqlin.marginals), 0.0)
        return float(linear.fun or 0.0), float(prices[0]), prices[1:], np.asarray(linear.eqlin.marginals)

    def _flat(self) -> tuple[list[Column], list[int]]:
        flat = [column for own in self.columns for column in own]
        return flat, [at for at, own in enumerate(self.columns) for _ in own]

    def _master(self) -> list[Column]:
        """The best whole choice among the columns; of equal ones the cheapest."""
        flat, owner = self._flat()
        count, fleet = len(flat), len(self.menus)
        usage = np.array([[column.price, *column.uses] for column in flat], float).reshape(count, -1)
        columns = np.arange(count)
        rows = np.concatenate((owner, *(np.full(count, fleet + at) for at in range(usage.shape[1]))))
        column = np.tile(columns, 1 + usage.shape[1])
        value = np.concatenate((np.ones(count), usage.T.ravel()))
        used = value != 0.0
        rows, column, value = rows[used], column[used], value[used]
        order = np.argsort(column, kind="stable")
        starts = np.searchsorted(column[order], np.arange(count + 1))
        most = float(max(1, self.budget)) * 2.0
        cost = np.array([each.risk + each.price / most for each in flat])
        answer = solved(
            Programme(
                cost, np.ones(count), starts.astype(np.int32), rows[order].astype(np.int32), value[order],
                np.concatenate((np.ones(fleet), np.full(usage.shape[1], -_INFINITE))),
                np.concatenate((np.ones(fleet), [float(self.budget), *map(float, self.bay)])),
            )
        )  # fmt: skip
        if answer is None:
            return [menu.nothing for menu in self.menus]
        return [flat[at] for at in np.flatnonzero(answer > 0.5).tolist()]

    def _close(
        self, chosen: list[Column], bound: float, money: float, spares: Floats, convex: Floats
    ) -> tuple[list[Column], float, bool]:
        """Bring in every column that a better plan could use, in widening windows, and choose again."""
        start = bound
        for window in _WINDOWS:
            best = sum(column.risk for column in chosen)
            if best - bound <= 1.0 - _NEARLY:
                return chosen, float(best), False
            room = window * (best - start)
            self.progress(0.7 + 0.25 * window, text("proving that nothing is better"))
            if not self._widen(money, spares, convex, room):
                return chosen, bound, self.stop()
            chosen = self._master()
            # Every plan of no more than start + room is made of columns that are there by now.
            bound = max(bound, min(float(sum(column.risk for column in chosen)), start + room))
        return chosen, bound, False

    def _widen(self, money: float, spares: Floats, convex: Floats, room: float) -> bool:
        left = _MOST_COLUMNS
        for at, menu in enumerate(self.menus):
            if self.stop():
                return False
            found = menu.up_to(money, spares, float(convex[at]) + room, left)
            if found is None:
                return False
            known = set(self.columns[at])
            self.columns[at] += [column for column in found if column not in known]
            left -= len(found)
            if left <= 0:
                return False
        return True
