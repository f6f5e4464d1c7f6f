"""Single questions about one level of bus volts, as one integer programme each.

The cheapest refit with at least a margin, the same with a choice forced, with one limit relaxed, or
without an answer that was already given. HiGHS solves it.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from hangar.refit.highs import highs_package
from hangar.refit.level_table import Bounds, Ints, LevelTable

Floats = NDArray[np.float64]
_MASS_WEIGHT = 1e-4
"""Mass only breaks ties of price: a kilogram counts a tenth of a hundredth of the money unit."""
_UA = 1e-6
_INFINITE = float("inf")


@dataclass(frozen=True)
class Question:
    """What is asked of one level.

    Attributes:
        margin: least margin, in steps.
        bounds: budget, mass and types.
        forced: choice that a group must take, by group.
        without: answers that are not wanted again: a choice for every group, then the supply.
        relaxed: limits left out: ``current``, ``scarce``, ``budget``, ``mass``, ``types``.
    """

    margin: int = 0
    bounds: Bounds = field(default_factory=Bounds)
    forced: Mapping[int, int] = field(default_factory=dict)
    without: Sequence[tuple[int, ...]] = ()
    relaxed: frozenset[str] = frozenset()


@dataclass(frozen=True)
class Answer:
    """The cheapest refit that answers a question, the lightest of those that cost the same."""

    price: int
    mass_g: int
    choices: tuple[int, ...]


@dataclass(frozen=True)
class Programme:
    """Minimise cost over whole numbers 0 and 1 within rows; the matrix is held by columns."""

    cost: Floats
    most: Floats
    start: NDArray[np.int32]
    row: NDArray[np.int32]
    value: Floats
    row_low: Floats
    row_high: Floats


def cheapest(one: LevelTable, question: Question) -> Answer | None:
    """The cheapest refit at a level; None when there is none.

    Args:
        one: the level; choices that another one beats may be left in.
        question: what is asked.
    """
    table = _Table.of(one, question)
    if table is None:
        return None
    cuts: list[Ints] = [cut for cut in map(table.columns_of, question.without) if cut is not None]
    while True:
        chosen = solved(table.programme(cuts))
        if chosen is None:
            return None
        picked = np.flatnonzero(chosen[: table.columns] > 0.5)
        if table.keeps_to_limits(picked):
            return table.answer(picked)
        # The programme's arithmetic is not exact: what breaks a limit of the integer tables is cut off.
        cuts.append(picked)


@dataclass(frozen=True)
class _Table:
    """Choices and supplies of a level side by side as columns."""

    group: Ints
    choice: Ints
    price: Ints
    mass_g: Ints
    current_ua: Ints
    uses: Ints
    bought: Ints
    groups: int
    question: Question

    @classmethod
    def of(cls, one: LevelTable, question: Question) -> _Table | None:
        parts: list[tuple[Ints, ...]] = []
        for number, group in enumerate(one.groups):
            good = group.margin >= question.margin
            if number in question.forced:
                good &= group.choice == question.forced[number]
            own = group.take(good)
            if not len(own):
                return None
            parts.append(
                (np.full(len(own), number), own.choice, own.price, own.mass_g, own.current_ua, own.uses,
                 own.bought)
            )  # fmt: skip
        supply, count = one.supplies, len(one.groups)
        if not len(supply.choice):
            return None
        words = parts[0][-1].shape[1]
        parts.append(
            (np.full(len(supply.choice), count), supply.choice, supply.price, supply.mass_g,
             -supply.most_ua, -supply.spare, np.zeros((len(supply.choice), words), np.int64))
        )  # fmt: skip
        member, *rest = (np.concatenate(column) for column in zip(*parts, strict=True))
        choice, price, mass, current, uses, bought = rest
        return cls(member, choice, price, mass, current, uses, bought, count, question)

    @property
    def columns(self) -> int:
        return len(self.group)

    def columns_of(self, choices: Sequence[int]) -> Ints | None:
        """The columns of an answer; None when one of them is not there anyway."""
        found = [
            np.flatnonzero((self.group == at) & (self.choice == each)) for at, each in enumerate(choices)
        ]
        return np.concatenate(found) if all(len(each) for each in found) else None

    def programme(self, cuts: Sequence[Ints]) -> Programme:
        rows, low, high = self._rows(cuts)
        types, type_rows = self._types()
        most_types = self.question.bounds.most_types
        if type_rows:
            assert most_types is not None
            low += [-_INFINITE] * len(type_rows)
            high += [0.0] * (len(type_rows) - 1) + [float(most_types)]
        starts, index, value = _by_columns([*rows, *type_rows], self.columns + types)
        cost = np.concatenate((self.price + _MASS_WEIGHT * self.mass_g, np.zeros(types)))
        return Programme(
            cost, np.ones(len(cost)), starts, index, value, np.array(low, float), np.array(high, float)
        )

    def _rows(self, cuts: Sequence[Ints]) -> tuple[list[tuple[Ints, Floats]], list[float], list[float]]:
        question, bounds = self.question, self.question.bounds
        rows, low, high = [], [], []
        for number in range(self.groups + 1):
            columns = np.flatnonzero(self.group == number)
            rows.append((columns, np.ones(len(columns))))
            low.append(1.0)
            high.append(1.0)
        every = np.arange(self.columns)
        limits: list[tuple[str, Floats, float]] = [("current", np.asarray(self.current_ua * _UA), 0.0)]
        limits += [("scarce", column.astype(float), 0.0) for column in self.uses.T]
        if bounds.budget is not None:
            limits.append(("budget", self.price.astype(float), float(bounds.budget)))
        if bounds.mass_g is not None:
            limits.append(("mass", self.mass_g.astype(float), float(bounds.mass_g)))
        for name, values, most in limits:
            if name not in question.relaxed:
                rows.append((every, values))
                low.append(-_INFINITE)
                high.append(most)
        for cut in cuts:
            rows.append((cut, np.ones(len(cut))))
            low.append(-_INFINITE)
            high.append(len(cut) - 1.0)
        return rows, low, high

    def _types(self) -> tuple[int, list[tuple[Ints, Floats]]]:
        """One more column for every type that could be bought: 1 where it is."""
        if self.question.bounds.most_types is None or "types" in self.question.relaxed:
            return 0, []
        kinds, member = np.unique(self.bought, axis=0, return_inverse=True)
        member = member.ravel()
        bought = [number for number in range(len(kinds)) if kinds[number].any()]
        rows = []
        for place, number in enumerate(bought):
            columns = np.flatnonzero(member == number)
            chosen = np.append(np.ones(len(columns)), -float(self.groups))
            rows.append((np.append(columns, self.columns + place), chosen))
        extra = self.columns + np.arange(len(bought))
        return len(bought), [*rows, (extra, np.ones(len(bought)))]

    def keeps_to_limits(self, picked: Ints) -> bool:
        question, bounds = self.question, self.question.bounds
        checks = {
            "current": int(self.current_ua[picked].sum()) <= 0,
            "scarce": bool((self.uses[picked].sum(axis=0) <= 0).all()),
            "budget": bounds.budget is None or int(self.price[picked].sum()) <= bounds.budget,
            "mass": bounds.mass_g is None or int(self.mass_g[picked].sum()) <= bounds.mass_g,
        }
        return all(holds for name, holds in checks.items() if name not in question.relaxed)

    def answer(self, picked: Ints) -> Answer:
        ordered = picked[np.argsort(self.group[picked], kind="stable")]
        price, mass = int(self.price[picked].sum()), int(self.mass_g[picked].sum())
        return Answer(price, mass, tuple(self.choice[ordered].tolist()))


def _by_columns(
    rows: Sequence[tuple[Ints, Floats]], columns: int
) -> tuple[NDArray[np.int32], NDArray[np.int32], Floats]:
    column = np.concatenate([each for each, _ in rows])
    value = np.concatenate([each for _, each in rows])
    row = np.repeat(np.arange(len(rows)), [len(each) for each, _ in rows])
    order = np.argsort(column, kind="stable")
    starts = np.searchsorted(column[order], np.arange(columns + 1))
    return starts.astype(np.int32), row[order].astype(np.int32), value[order]


def solved(programme: Programme) -> Floats | None:
    """The columns of the least cost, each 0 or 1; None where nothing is within the rows."""
    package = highs_package()
    highs, infinite = package.Highs(), package.kHighsInf
    for option, value in (
        ("output_flag", False), ("threads", 1), ("random_seed", 1), ("mip_rel_gap", 0.0),
        ("mip_abs_gap", 0.0),
    ):  # fmt: skip
        highs.setOptionValue(option, value)
    count, rows = len(programme.cost), len(programme.row_low)
    problem = package.HighsLp()
    problem.num_col_, problem.num_row_ = count, rows
    problem.col_cost_ = programme.cost
    problem.col_lower_, problem.col_upper_ = np.zeros(count), programme.most
    problem.row_lower_ = np.maximum(programme.row_low, -infinite)
    problem.row_upper_ = np.minimum(programme.row_high, infinite)
    matrix = problem.a_matrix_
    matrix.start_, matrix.index_, matrix.value_ = programme.start, programme.row, programme.value
    problem.integrality_ = [package.HighsVarType.kInteger] * count
    highs.passModel(problem)
    highs.run()
    if highs.getModelStatus() != package.HighsModelStatus.kOptimal:
        return None
    return np.asarray(highs.getSolution().col_value, float)
