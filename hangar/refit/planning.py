"""Every refit of one aircraft that none beats: tables, front, proof."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

from hangar.base.text import NOTHING, Text, series, text
from hangar.parts import Aircraft, Library, PlanLine
from hangar.refit.bay import Bay, PartsBay, bay_of
from hangar.refit.changes import plan_lines
from hangar.refit.front import Front, Point
from hangar.refit.limits import Limits
from hangar.refit.prove import Assessment, assessed, changed, cured, falls_short, new_warnings
from hangar.refit.refusal import Refusal

if TYPE_CHECKING:
    from hangar.refit.branch import Branch
    from hangar.refit.level_table import FrontRows, LevelTable
    from hangar.refit.options import Option
    from hangar.refit.supplies import Supply
    from hangar.refit.tables import Tables

Progress = Callable[[float, Text], None]
Stop = Callable[[], bool]

_MOST_CUTS = 30
NOT_PROVED = text("The search was stopped: what is shown is not proved best.")


def no_progress(_share: float, _words: Text) -> None:
    """Tell nobody."""


def never() -> bool:
    """Do not stop."""
    return False


def plan(
    aircraft: Aircraft,
    catalogue: Library,
    parts_bay: PartsBay = None,
    limits: Limits | None = None,
    *,
    progress: Progress = no_progress,
    stop: Stop = never,
) -> Front:
    """Every refit that no other equals or beats in price, mass, weakest margin and bus volts at once.

    Args:
        aircraft: the aircraft as it is.
        catalogue: types that can be bought, tagged spares, and other plans with what they reserve.
        parts_bay: untagged spare servos, by type or as stock items; None takes the catalogue's stock.
        limits: budget, wishes, fineness; None asks for everything.
        progress: told a share of 0 to 1 and what is being done.
        stop: asked often; true ends the search with what was found.

    Returns:
        The front with each change list, what it cures and what stays open. Every point was surveyed and
        inspected as a changed aircraft; the aircraft as it is comes first.

    Raises:
        BadInput: impossible limits or conditions.
    """
    limits = limits or Limits()
    bay = bay_of(catalogue, parts_bay, aircraft)
    search = Search(aircraft, catalogue, bay, limits, progress, stop)
    return search.front()


@dataclass
class Search:
    """One search: solves, proves, cuts what fails and solves again."""

    aircraft: Aircraft
    library: Library
    bay: Bay
    limits: Limits
    progress: Progress = no_progress
    stop: Stop = never
    barred: dict[tuple[str, str], Refusal] = field(default_factory=dict)
    cut: list[Refusal] = field(default_factory=list)
    proved: dict[tuple[object, ...], tuple[Point | None, Text]] = field(default_factory=dict)
    stopped: bool = False
    waive_all: bool = False

    def front(self) -> Front:
        """The front with everything that was refused on the way."""
        from hangar.refit.refused_levels import level_refusals

        self.progress(0.0, text("looking at the aircraft as it is"))
        before = assessed(self.aircraft, self.limits)
        while True:
            tables = self._tables()
            outcome = self._round(tables, before)
            if outcome is not None:
                break
        points, found, doubts = outcome
        as_it_is = _today(before)
        shown = tuple(sorted((as_it_is, *points), key=_order))
        return Front(
            aircraft=self.aircraft,
            points=shown,
            refused=(*tables.refused, *self.barred.values(), *level_refusals(tables)),
            cut=tuple(self.cut),
            exact=not self.stopped and not doubts,
            hidden=max(0, found - len(points)),
            doubts=(*doubts, *tables.notes, *_unknown(before), *([NOT_PROVED] if self.stopped else [])),
            stopped=self.stopped,
            tables=tables,
        )

    def _tables(self) -> Tables:
        from hangar.refit.table_making import tables_of

        self.progress(0.05, text("reading the library"))
        return tables_of(
            self.aircraft, self.library, self.bay, self.limits, barred=frozenset(self.barred),
            waive_all=self.waive_all,
        )  # fmt: skip

    def _round(self, tables: Tables, before: Assessment) -> tuple[list[Point], int, list[Text]] | None:
        """Solve and prove until every point that is shown holds; None when a type was barred meanwhile."""
        from hangar.refit.branch import joined, kinds_of
        from hangar.refit.soft_packs import soft_pack_doubts

        doubts = [*tables.doubts, *soft_pack_doubts(tables)]
        parts = [(kind, self._solved(tables, kind)) for kind in kinds_of(tables.supplies)]
        while True:
            found = joined(parts, len(tables.lists))
            rows = shown_rows(found, self.limits.most_shown)
            points, failing = self._proved(tables, found, rows, before)
            if not len(found) and not self.waive_all and not self.stopped:
                self.waive_all = True
                return None
            if failing is None or self.stopped:
                return points, len(found), doubts
            if self._bars(tables, failing, before):
                return None
            if len(self.cut) > _MOST_CUTS:
                doubts.append(text("too many refits failed the rules; those that passed are shown"))
                return points, len(found), doubts
            parts = self._split(tables, parts, failing)

    def _solved(self, tables: Tables, part: Branch) -> FrontRows:
        from hangar.refit.labels import whole_front

        levels = max(1, len(tables.levels))
        done = 0

        def step(one: LevelTable) -> bool:
            nonlocal done
            done += 1
            self.progress(
                0.1 + 0.6 * done / levels, text("bus at {volts:.2f} V", volts=one.level_mv / 1000.0)
            )
            self.stopped = self.stopped or self.stop()
            return not self.stopped

        def owned() -> Iterator[LevelTable]:
            for one in tables.level_tables():
                self.stopped = self.stopped or self.stop()
                if self.stopped:
                    return
                yield part.of(one)

        known = self._as_it_is(tables, part)
        return whole_front(owned(), len(tables.lists), tables.bounds, step=step, known=known)

    def _as_it_is(self, tables: Tables, part: Branch) -> FrontRows | None:
        """Every servo as it is, as the tables count it: a change that is worth no step must not show."""
        import numpy as np

        from hangar.refit.branch import Branch
        from hangar.refit.labels import whole_front

        stays = [
            next((row for row, option in enumerate(each.options) if option.is_as_it_is), None)
            for each in tables.lists
        ]
        fixed = tuple(row for row in stays if row is not None)
        if len(fixed) < len(stays):
            return None
        second = part.supplies is not None and 0 not in part.supplies
        own = Branch(fixed, supplies=part.supplies) if second else Branch((*fixed, 0))
        found = whole_front((own.of(one) for one in tables.level_tables()), len(stays), tables.bounds)
        held = [row for row, choices in enumerate(found.choices.tolist()) if part.holds(tuple(choices))]
        return found.rows(np.array(held, np.int64)) if held else None

    def _split(
        self, tables: Tables, parts: list[tuple[Branch, FrontRows]], failing: tuple[int, ...]
    ) -> list[tuple[Branch, FrontRows]]:
        """The part that holds a refit replaced by parts that hold all its others."""
        kept = []
        for part, found in parts:
            if part.holds(failing):
                kept += [(child, self._solved(tables, child)) for child in part.without(failing)]
            else:
                kept.append((part, found))
        return kept

    def _proved(
        self, tables: Tables, found: FrontRows, rows: list[int], before: Assessment
    ) -> tuple[list[Point], tuple[int, ...] | None]:
        """The points of rows, and the first whose refit does not hold."""
        points: list[Point] = []
        for place, row in enumerate(rows):
            self.progress(0.7 + 0.3 * place / len(rows), text("proving"))
            if self.stopped or self.stop():
                self.stopped = True
                break
            choices = tuple(found.choices[row].tolist())
            point = self._point(tables, found, row, before)
            if point is None:
                return points, choices
            if point.changes:
                points.append(point)
        return points, None

    def _point(self, tables: Tables, found: FrontRows, row: int, before: Assessment) -> Point | None:
        """The refit of a row as survey and rules judge it; None when they refuse it."""
        choices = tuple(found.choices[row].tolist())
        certified = (
            int(found.price[row]), int(found.mass_g[row]),
            int(found.margin[row]) * self.limits.margin_step_pct, int(found.level_mv[row]),
        )  # fmt: skip
        options = [each.options[at] for each, at in zip(tables.lists, choices, strict=False)]
        supply = tables.supplies[choices[-1]]
        lines = plan_lines(self.aircraft, options, supply, self.bay, self.limits)
        key = (lines, certified)
        if key not in self.proved:
            after = assessed(changed(self.aircraft, lines, self.library), self.limits)
            why = self._why_not(before, after, certified, bool(lines))
            self.proved[key] = (
                None if why else _made(before, after, lines, options, supply, certified), why
            )  # fmt: skip
            if why:
                what = series([f"{line.place} {line.part_type or ''}".strip() for line in lines])
                self.cut.append(Refusal(what, why, "rules"))
        point = self.proved[key][0]
        return None if point is None else replace(point, choices=choices)

    def _why_not(
        self, before: Assessment, after: Assessment, certified: tuple[int, int, int, int], changes: bool
    ) -> Text:
        short = falls_short(after, certified[2], certified[3] / 1000.0)
        if short:
            return short
        fresh = new_warnings(before.findings, after)
        return fresh[0].message if changes and fresh else NOTHING

    def _bars(self, tables: Tables, failing: tuple[int, ...], before: Assessment) -> bool:
        """Bar a type at a group when it alone brings the same warning with the supply as it is."""
        barred = False
        for each, at in zip(tables.lists, failing, strict=False):
            option = each.options[at]
            if not option.changed:
                continue
            alone = plan_lines(self.aircraft, [option], tables.supplies[0], self.bay, self.limits)
            after = assessed(changed(self.aircraft, alone, self.library), self.limits)
            fresh = [
                finding
                for finding in new_warnings(before.findings, after)
                if finding.rule in _OF_THE_TYPE and set(each.group.codes) & set(finding.about)
            ]
            if fresh:
                what = text("{place}: {what}", place=each.group.name, what=option.servo_type)
                self.barred[(each.group.name, option.servo_type)] = Refusal(
                    what, fresh[0].message.as_clause(), fresh[0].rule
                )
                barred = True
        return barred


_OF_THE_TYPE = frozenset({
    "gear-vs-duty", "case-too-big", "frame-rate-too-high", "pulse-narrow-on-wide", "arm-spline-mismatch",
    "bearing-vs-duty", "duty-unfit",
})  # fmt: skip
"""Rules that look at a type in its place, whatever the supply."""


def _made(
    before: Assessment, after: Assessment, lines: tuple[PlanLine, ...], options: list[Option], supply: Supply,
    certified: tuple[int, int, int, int],
) -> Point:  # fmt: skip
    price = supply.price + sum(option.price for option in options)
    mass = supply.mass_g + sum(option.mass_g for option in options)
    return Point(
        price=round(price, 2), mass_change_g=round(mass, 3), weakest_margin=after.weakest_margin,
        worst_bus_v=after.worst_bus_v, changes=lines, findings_after=after.findings,
        cured=cured(before, after), certified=certified,
    )  # fmt: skip


def _today(before: Assessment) -> Point:
    return Point(
        price=0.0, mass_change_g=0.0, weakest_margin=before.weakest_margin, worst_bus_v=before.worst_bus_v,
        changes=(), findings_after=before.findings,
    )  # fmt: skip


def _unknown(before: Assessment) -> list[Text]:
    if not before.unknown:
        return []
    return [
        text("The margin of {positions} cannot be told and is left out.", positions=", ".join(before.unknown))
    ]


def _order(point: Point) -> tuple[bool, float, float, float, float]:
    return (
        bool(point.changes), point.price, point.mass_change_g, -(point.weakest_margin or 0.0),
        -(point.worst_bus_v or 0.0),
    )  # fmt: skip


def shown_rows(found: FrontRows, most: int) -> list[int]:
    """Rows to show: all, or the best in each criterion and the rest evenly along the price."""
    count = len(found)
    if count <= most:
        return list(range(count))
    best = [
        int(found.mass_g.argmin()), int(found.margin.argmax()), int(found.level_mv.argmax()), 0, count - 1,
    ]  # fmt: skip
    wanted = dict.fromkeys(best)
    for place in range(most):
        if len(wanted) >= most:
            break
        wanted.setdefault(round(place * (count - 1) / max(1, most - 1)))
    return sorted(list(wanted)[:most])
