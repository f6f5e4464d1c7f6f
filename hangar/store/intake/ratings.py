"""The ratings in a row: torques, times and volts beside each other, several in one cell perhaps."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import NamedTuple

from hangar.base.text import Text, text
from hangar.store.intake.account import About
from hangar.store.intake.columns import Column
from hangar.store.intake.context import CellWords, TableReader
from hangar.store.intake.facts import SheetRating, TypeName
from hangar.store.intake.figures import Figure, figures, unit_after
from hangar.store.intake.grid import Cell

_VOLTS_LOW, _VOLTS_HIGH = 2.4, 15.0
_TIME_LOW, _TIME_HIGH = 0.02, 1.5
_AT = re.compile(r"(?:@|\b(?:bei|at|à|a|bij|con)\b|\()\s*$", re.IGNORECASE)


class Part(NamedTuple):
    """One figure of a cell: its number, its unit where one stands beside it, and the volts given with it."""

    number: float
    unit: tuple[str, float] | None
    volts: float | None


def parts_of(text: str, dimension: str) -> list[Part]:
    """The figures of a cell of ratings, as in "319/375", "460@6.0 / 528@7.4" or "9kg (6V) 7,4kg (4,8V)"."""
    parts: list[Part] = []
    waiting: float | None = None
    before = 0
    for figure in figures(text):
        volts = unit_after(figure.after, "volts")
        is_at = bool(_AT.search(text[before : figure.start]))
        before = figure.end
        if (volts or is_at) and _VOLTS_LOW <= figure.number <= _VOLTS_HIGH and dimension != "volts":
            if parts and parts[-1].volts is None:
                parts[-1] = parts[-1]._replace(volts=figure.number)
            else:
                waiting = figure.number
            continue
        parts.append(Part(figure.number, _unit(figure, dimension), waiting))
        waiting = None
    # One unit at the end stands for all figures before it: "4,8 / 6 V".
    if parts and parts[-1].unit:
        parts = [part if part.unit else part._replace(unit=parts[-1].unit) for part in parts]
    return parts


def _unit(figure: Figure, dimension: str) -> tuple[str, float] | None:
    return unit_after(figure.after, dimension)


class RatingReader:
    """Gathers the ratings of a table's rows for the types they name."""

    def __init__(self, table: TableReader) -> None:
        self._table = table
        self._account = table.account
        self._context = table.context

    def take(self, name: TypeName | None, taken: Mapping[int, CellWords]) -> None:
        """Take the ratings of a row; without a type they are of no use."""
        torques = [column for column in self._table.of_role("torque") if column.at in taken]
        speeds = [column for column in self._table.of_role("speed") if column.at in taken]
        for column in self._table.columns.values():
            if column.is_twin and column.at in taken:
                self._account.leave(
                    taken[column.at].cell, text("says in another unit what another column says")
                )
        volts_taken = self._table.get(taken, "volts")
        volts = self._volts(volts_taken)
        if name is None:
            for column in (*torques, *speeds):
                self._account.leave(
                    taken[column.at].cell, text("belongs to no servo type"), taken[column.at].is_none
                )
            return
        spread = {column.volts for column in (*torques, *speeds) if column.volts is not None}
        for at_volts in sorted(spread):
            self._take_one(
                name,
                [torque for torque in torques if torque.volts == at_volts],
                [speed for speed in speeds if speed.volts == at_volts],
                [at_volts],
                None,
                taken,
            )
        rest_torques = [torque for torque in torques if torque.volts is None]
        rest_speeds = [speed for speed in speeds if speed.volts is None]
        if rest_torques or rest_speeds:
            self._take_one(
                name, rest_torques, rest_speeds, volts, volts_taken.cell if volts_taken else None, taken
            )

    def _volts(self, taken: CellWords | None) -> list[float]:
        if taken is None:
            return []
        if taken.is_none or taken.is_unknown:
            self._say(taken, About.RATING, text("the volts are not known"))
            return []
        volts = [part.number for part in parts_of(taken.text, "volts")]
        if not volts or not all(_VOLTS_LOW <= value <= _VOLTS_HIGH for value in volts):
            self._account.doubt(taken.cell, About.RATING, text("are no volts of a servo"))
            return []
        self._account.read(taken.cell)
        return volts

    def _say(self, taken: CellWords, about: About, reason: Text) -> None:
        if taken.is_none:
            self._account.read(taken.cell)
        else:
            self._account.doubt(taken.cell, about, reason)

    def _take_one(
        self, name: TypeName, torques: list[Column], speeds: list[Column], volts: list[float],
        volts_cell: Cell | None, taken: Mapping[int, CellWords],
    ) -> None:  # fmt: skip
        torque = self._figures(torques[0], taken, "torque") if torques else []
        times = self._figures(speeds[0], taken, "speed") if speeds else []
        torque_cell = taken[torques[0].at].cell if torques else None
        speed_cell = taken[speeds[0].at].cell if speeds else None
        rated_v = [part.volts for part in torque if part.volts is not None]
        at = [float(value) for value in rated_v] if len(rated_v) == len(torque) and rated_v else volts
        count = max(len(torque), len(times))
        if not count:
            return
        if len(at) != count:
            words = (
                text("gives {count} figures for {volts} volts", count=count, volts=len(at))
                if at
                else text("gives no volts beside it")
            )
            self._account.doubt(torque_cell or speed_cell, About.RATING, words)
            if torque_cell is not None:
                self._account.doubt(speed_cell, About.RATING, words)
            return
        if (torque and len(torque) != count) or (times and len(times) != count):
            self._account.doubt(
                torque_cell if len(torque) != count else speed_cell,
                About.RATING,
                text("gives not {count} figures", count=count),
            )
        for number, at_volts in enumerate(at):
            rated = SheetRating(
                name, at_volts, torque_cell=torque_cell, speed_cell=speed_cell, volts_cell=volts_cell
            )
            if len(torque) == count:
                rated.torque, rated.torque_unit = (
                    torque[number].number,
                    torque[number].unit or self._default(torques[0]),
                )
                rated.column = torques[0].at
            if len(times) == count:
                rated.transit_s = self._time(times[number], speeds[0], speed_cell)
            if rated.torque is not None or rated.transit_s is not None:
                self._table.facts.ratings.append(rated)
        self._account.read(torque_cell, speed_cell)

    def _default(self, column: Column) -> tuple[str, float] | None:
        return column.unit or self._context.units.get("torque")

    def _time(self, part: Part, column: Column, cell: Cell | None) -> float | None:
        unit = part.unit or self._context.units.get("speed") or column.unit or ("s/60°", 1.0)
        value = part.number * unit[1]
        if (
            not _TIME_LOW <= value <= _TIME_HIGH
            and _TIME_LOW <= part.number / 1000 <= _TIME_HIGH
            and part.unit is None
        ):
            value = part.number / 1000
        if _TIME_LOW <= value <= _TIME_HIGH:
            return round(value, 6)
        self._account.doubt(cell, About.RATING, text("is no time for 60° of a servo"))
        return None

    def _figures(self, column: Column, taken: Mapping[int, CellWords], dimension: str) -> list[Part]:
        words = taken[column.at]
        if words.is_none:
            self._account.read(words.cell)
            return []
        if words.is_unknown:
            self._account.doubt(words.cell, About.RATING, text("the figure is not known"))
            return []
        rating_parts = parts_of(words.text, dimension)
        if not rating_parts:
            self._account.doubt(words.cell, About.RATING, text("holds no figure"))
        return rating_parts
