"""The solver's tables of one level, and the points it finds."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray

Ints = NDArray[np.int64]


@dataclass(frozen=True)
class GroupTable:
    """The choices of one group at one level.

    Attributes:
        choice: number of each choice in the group's whole list.
        price: in hundredths of the money unit.
        mass_g: change of mass.
        current_ua: peak current at this level, rounded up.
        margin: weakest margin in steps, rounded down.
        uses: what each choice takes of each scarce thing (columns: contested spares, mean current).
        bought: bit of the type that is bought, by 62-bit words; zeros where nothing is bought. No words where
            the number of types has no limit.
    """

    choice: Ints
    price: Ints
    mass_g: Ints
    current_ua: Ints
    margin: Ints
    uses: Ints
    bought: Ints

    def take(self, rows: Ints | NDArray[np.bool_]) -> GroupTable:
        """Some of the choices."""
        return GroupTable(
            self.choice[rows], self.price[rows], self.mass_g[rows], self.current_ua[rows],
            self.margin[rows], self.uses[rows], self.bought[rows],
        )  # fmt: skip

    def __len__(self) -> int:
        return len(self.choice)


@dataclass(frozen=True)
class SupplyTable:
    """The supplies that are open at one level: what each costs and the current at which it still gives it."""

    choice: Ints
    price: Ints
    mass_g: Ints
    most_ua: Ints
    spare: Ints
    """Capacity of each scarce thing with that supply (rows: supplies)."""

    def take(self, rows: Ints | NDArray[np.bool_]) -> SupplyTable:
        """Some of the supplies."""
        return SupplyTable(
            self.choice[rows], self.price[rows], self.mass_g[rows], self.most_ua[rows], self.spare[rows]
        )


@dataclass(frozen=True)
class LevelTable:
    """One level of bus volts with one class of supplies."""

    level_mv: int
    groups: tuple[GroupTable, ...]
    supplies: SupplyTable


@dataclass(frozen=True)
class Bounds:
    """What the whole refit must keep to; None means no limit."""

    budget: int | None = None
    mass_g: int | None = None
    most_types: int | None = None
    clamp: bool = True


@dataclass
class FrontRows:
    """The points found so far, one row each; ``choices`` holds a choice of every group, then the supply."""

    price: Ints
    mass_g: Ints
    margin: Ints
    level_mv: Ints
    choices: Ints
    complete: bool = True
    labels: int = field(default=0, compare=False)

    def __len__(self) -> int:
        return len(self.price)

    def rows(self, rows: Ints) -> FrontRows:
        """Some of the points."""
        return replace(
            self, price=self.price[rows], mass_g=self.mass_g[rows], margin=self.margin[rows],
            level_mv=self.level_mv[rows], choices=self.choices[rows],
        )  # fmt: skip


def no_rows(groups: int) -> FrontRows:
    """No points yet."""
    none = np.zeros(0, np.int64)
    return FrontRows(none, none, none, none, np.zeros((0, groups + 1), np.int64))


def described(found: FrontRows) -> Iterator[tuple[int, int, int, int]]:
    """Price, mass, margin and level of every point as plain numbers."""
    columns = (found.price, found.mass_g, found.margin, found.level_mv)
    return zip(*(column.tolist() for column in columns), strict=True)
