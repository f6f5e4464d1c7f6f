"""One budget and one parts bay over the whole fleet, spent where it removes the most shortage of torque."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

import numpy as np

from hangar.base.text import NOTHING, Text, text
from hangar.parts import Aircraft, Library, PlanLine
from hangar.refit.as_json import findings_counted, line_as_json
from hangar.refit.bay import Bay, PartsBay, bay_of
from hangar.refit.changes import plan_lines
from hangar.refit.fleet_packs import by_packs, retagged
from hangar.refit.fleet_solver import FleetAnswer, FleetProblem
from hangar.refit.front import Point
from hangar.refit.level_table import LevelTable
from hangar.refit.levels import Level
from hangar.refit.limits import Limits
from hangar.refit.menu import Column, Menu, MenuGroup, MenuLevel, without, without_supply
from hangar.refit.planning import NOT_PROVED, Progress, Stop, never, no_progress
from hangar.refit.prove import Assessment, assessed, changed, cured, falls_short, new_warnings
from hangar.refit.refusal import Refusal
from hangar.refit.risk import RiskMeasure
from hangar.refit.second_pack import wants_second_pack
from hangar.refit.soft_packs import soft_pack_doubts
from hangar.refit.strengths import short_today
from hangar.refit.supplies import Supply
from hangar.refit.table_making import tables_of
from hangar.refit.tables import Tables
from hangar.rules.over_volts import Verdict, verdict

_SHORTAGE_UNIT = 1000.0
FLEET_LEVEL_STEP_V = 0.2
"""Spacing of the levels of bus volts that keeps a whole fleet quick."""
_MOST_CUTS = 40


def searched_words(measure: RiskMeasure) -> Text:
    """What the search makes least, in one sentence.

    >>> "flight x 3" in str(searched_words(RiskMeasure()))
    True
    """
    return text(
        "The money goes where it removes the most shortage: the sum over positions of the same factor "
        "({factors}) times the squared share of the wanted torque that is lacking, all of it where a servo "
        "stands above its volts.",
        factors=measure.factor_words,
    )


@dataclass(frozen=True, kw_only=True)
class FleetPoint:
    """What one aircraft gets, and its risk before and after.

    Attributes:
        aircraft: as it is.
        point: what it gets.
        risk_before: risk of all its open findings as it is.
        risk_after: the same once the refit is done, as survey and rules find it.
        shortage_before: shortage of torque as it is.
        shortage_after: shortage that the search leaves.
    """

    aircraft: Aircraft
    point: Point
    risk_before: float
    risk_after: float
    shortage_before: float
    shortage_after: float


@dataclass(frozen=True, kw_only=True)
class FleetPlan:
    """A plan for the whole fleet.

    Attributes:
        budget: money for all.
        parts: one for each aircraft, in the order given.
        gap: how much less shortage another plan could leave, as a share; 0 when this one is proved best.
        exact: whether it is proved to leave the least shortage on the declared steps.
        cut: refits that survey or rules refused.
        measure: how risk is counted.
        notes: what to know when reading it, the measure of risk first, then what was searched for.
    """

    budget: float
    parts: tuple[FleetPoint, ...]
    gap: float
    exact: bool
    cut: tuple[Refusal, ...] = ()
    measure: RiskMeasure = field(default_factory=RiskMeasure)
    notes: tuple[Text, ...] = ()

    @property
    def price(self) -> float:
        """What all of it costs."""
        return round(sum(part.point.price for part in self.parts), 2)

    @property
    def risk_before(self) -> float:
        """Risk of the fleet as it is."""
        return sum(part.risk_before for part in self.parts)

    @property
    def risk_after(self) -> float:
        """Risk that is left."""
        return sum(part.risk_after for part in self.parts)

    @property
    def shortage_before(self) -> float:
        """Shortage of torque of the fleet as it is."""
        return sum(part.shortage_before for part in self.parts)

    @property
    def shortage_after(self) -> float:
        """Shortage that is left."""
        return sum(part.shortage_after for part in self.parts)


@dataclass
class _Craft:
    """One aircraft with its tables, its menu and what it is today."""

    tables: Tables
    levels: list[MenuLevel]
    nothing: Column
    before: Assessment
    soft: tuple[Text, ...] = ()
    wants_pack: bool = False
    menu: Menu = field(init=False)
    doubt: Text = NOTHING

    def __post_init__(self) -> None:
        self.menu = Menu(self.nothing, self.levels)

    def bar(self, choices: tuple[int, ...], library: Library, bay: Bay) -> None:
        """Leave a refit out for good; all refits with its supply when that fails by itself."""
        supply = self.tables.supplies[choices[-1]]
        if supply.lines and self._fails_alone(supply, library, bay):
            self.levels = [without_supply(level, choices[-1]) for level in self.levels]
            self.doubt = text(
                "{aircraft}: supplies that fail with today's servos were left out",
                aircraft=self.tables.aircraft.code,
            )
        else:
            self.levels = [part for level in self.levels for part in without(level, choices)]
        self.menu = Menu(self.nothing, self.levels)

    def _fails_alone(self, supply: Supply, library: Library, bay: Bay) -> bool:
        tables = self.tables
        lines = plan_lines(tables.aircraft, [], supply, bay, tables.limits)
        after = assessed(changed(tables.aircraft, lines, library), tables.limits)
        return bool(new_warnings(self.before.findings, after))


def plan_fleet(
    fleet: Sequence[Aircraft],
    catalogue: Library,
    budget: float,
    parts_bay: PartsBay = None,
    limits: Limits | None = None,
    *,
    limits_of: Mapping[str, Limits] | None = None,
    prove: bool = True,
    progress: Progress = no_progress,
    stop: Stop = never,
) -> FleetPlan:
    """Spend one budget and one parts bay where they remove the most shortage of torque.

    Args:
        fleet: the aircraft as they are.
        catalogue: types, tagged spares, other plans.
        budget: money for all of them, 0 or more.
        parts_bay: untagged spare servos; None takes the catalogue's stock.
        limits: wishes and fineness for every aircraft; None the usual ones, with coarser steps.
        limits_of: other limits for single aircraft, by code.
        prove: whether to go on until the plan is proved best.
        progress: told a share of 0 to 1 and what is being done.
        stop: asked often; true ends with the best plan so far.

    Returns:
        What each aircraft gets. Servos that are too weak may stay; the shortage counts them. Every refit was
        surveyed and inspected as a changed aircraft, and its risk counted by the measure of the limits.
    """
    limits = limits or Limits(level_step_v=FLEET_LEVEL_STEP_V)
    bay = replace(bay_of(catalogue, parts_bay), wanted_elsewhere=True)
    shared = tuple(sorted({*bay.servo_tags, *bay.untagged} & catalogue.servo_types.keys()))
    packs = tuple(sorted(kind for kind, tags in bay.pack_tags.items() if tags))
    crafts = []
    for number, aircraft in enumerate(fleet):
        progress(0.1 * number / max(1, len(fleet)), text("reading {aircraft}", aircraft=aircraft.code))
        asked = (limits_of or {}).get(aircraft.code, limits)
        own = replace(asked, budget=None, second_pack=False)
        craft = _craft(aircraft, catalogue, bay, own, shared, packs)
        craft.wants_pack = asked.change_supply and wants_second_pack(aircraft, asked)
        crafts.append(craft)
    counts = [*(bay.servos(kind) for kind in shared), *(len(bay.pack_tags[kind]) for kind in packs)]
    cut: list[Refusal] = []
    while True:
        problem = FleetProblem(
            [craft.menu for craft in crafts], int(100.0 * budget + 1e-6), counts, prove, stop, progress
        )
        answer = problem.solve()
        parts, failed = _parts(crafts, answer, bay, catalogue)
        if not failed or answer.stopped or len(cut) > _MOST_CUTS:
            break
        for at, why in failed.items():
            cut.append(Refusal(text("{code}", code=crafts[at].tables.aircraft.code), why, "rules"))
            crafts[at].bar(answer.columns[at].choices, catalogue, bay)
    parts = [part if part is not None else _as_it_is(crafts[at]) for at, part in enumerate(parts)]
    found = [part for part in parts if part is not None]
    return _plan(budget, found, answer, bool(failed), cut, crafts, limits.risk)


def _plan(
    budget: float,
    parts: list[FleetPoint],
    answer: FleetAnswer,
    failed: bool,
    cut: list[Refusal],
    crafts: Sequence[_Craft],
    measure: RiskMeasure,
) -> FleetPlan:
    doubts = [
        doubt for craft in crafts for doubt in (*craft.tables.doubts, *craft.soft, craft.doubt) if doubt
    ]
    notes = [measure.words, searched_words(measure), *doubts, *_without_second_pack(crafts)]
    if answer.stopped:
        notes.append(NOT_PROVED)
    if failed:
        notes.append(text("Too many refits failed the rules; aircraft whose refit failed stay as they are."))
    exact = answer.gap == 0.0 and not answer.stopped and not failed and not doubts
    return FleetPlan(
        budget=budget, parts=tuple(parts), gap=answer.gap, exact=exact, cut=tuple(cut), measure=measure,
        notes=tuple(notes),
    )  # fmt: skip


def _without_second_pack(crafts: Sequence[_Craft]) -> Iterator[Text]:
    """For whom the fleet offers no second pack: what it is worth is no torque, and that alone is counted."""
    codes = [craft.tables.aircraft.code for craft in crafts if craft.wants_pack]
    if codes:
        yield text(
            "A second pack is wanted for {aircraft}; the fleet's money goes by torque alone, so "
            "none is offered here: search for a refit of the aircraft by itself.",
            aircraft=", ".join(codes),
        )


def _craft(
    aircraft: Aircraft,
    library: Library,
    bay: Bay,
    limits: Limits,
    shared: tuple[str, ...],
    packs: tuple[str, ...],
) -> _Craft:
    tables = tables_of(aircraft, library, bay, limits, keep_weak=True, shared=shared)
    level_tables = [tables.level_table_of(level) for level in tables.levels]
    levels = [
        part
        for level, one in zip(tables.levels, level_tables, strict=True)
        for part in by_packs(_menu_level(tables, level, one, len(shared)), tables.supplies, packs)
    ]
    nothing = Column(_shortage_today(tables), 0, (0,) * (len(shared) + len(packs)))
    soft = tuple(
        text("{aircraft}: {doubt}", aircraft=aircraft.code, doubt=doubt)
        for doubt in soft_pack_doubts(tables, level_tables)
    )
    return _Craft(tables, levels, nothing, assessed(aircraft, limits), soft)


def _menu_level(tables: Tables, level: Level, one: LevelTable, spares: int) -> MenuLevel:
    groups = []
    over = _over_weights(tables, level.of_class.supplies[0])
    for at, group in enumerate(one.groups):
        variant = tables.strengths[at].option_variant[group.choice]
        short = tables.assessed(at, level).shortage[variant]
        kept = np.array(
            [not tables.lists[at].options[row].changed for row in group.choice.tolist()], np.bool_
        )
        risk = np.ceil(_SHORTAGE_UNIT * (short + np.where(kept, over[at], 0.0)) - 1e-6).astype(np.int64)
        mean = group.uses[:, spares] if tables.mean_binds else np.zeros(len(risk), np.int64)
        groups.append(
            MenuGroup(group.choice, risk, group.price, group.current_ua, group.uses[:, :spares], mean)
        )
    supplies = one.supplies
    most_mean = supplies.spare[:, spares] if tables.mean_binds else np.zeros(len(supplies.choice), np.int64)
    return MenuLevel(tuple(groups), supplies.choice, supplies.price, supplies.most_ua, most_mean)


def _over_weights(tables: Tables, supply: int) -> list[float]:
    """For each group the weight of its present servos that a supply gives too many volts."""
    volts, factor = tables.supplies[supply].volts, tables.limit("full-over-factor")
    found = []
    for each in tables.lists:
        weight = 0.0
        for fit, kind in zip(each.group.fits, each.own_types, strict=True):
            if kind is None or kind.supply_max_v is None or volts is None:
                continue
            if verdict(volts, kind.supply_max_v, kind.max_means, factor) is Verdict.OVER:
                weight += tables.limits.risk.by_criticality[fit.criticality]
        found.append(weight)
    return found


def _shortage_today(tables: Tables) -> int:
    """Shortage of the aircraft as it is, from its survey; a load without known torque lacks it all."""
    total = sum(_over_weights(tables, 0)) if tables.supplies else 0.0
    for strength in tables.strengths:
        for each in strength.places:
            if each.place.load_nm is None:
                continue
            own = short_today(each.place, tables.survey) or 0.0
            total += each.place.weight * max(0.0, 1.0 - own) ** 2
    return math.ceil(_SHORTAGE_UNIT * total - 1e-6)


def _parts(
    crafts: Sequence[_Craft], answer: FleetAnswer, bay: Bay, library: Library
) -> tuple[list[FleetPoint | None], dict[int, Text]]:
    """Every aircraft's refit proved; and the reason where one does not hold."""
    left = {kind: list(tags) for kind, tags in bay.servo_tags.items()}
    packs = {kind: list(tags) for kind, tags in bay.pack_tags.items()}
    parts: list[FleetPoint | None] = []
    failed: dict[int, Text] = {}
    for at, (craft, column) in enumerate(zip(crafts, answer.columns, strict=True)):
        if not column.choices:
            parts.append(_as_it_is(craft))
            continue
        tables = craft.tables
        options = [each.options[row] for each, row in zip(tables.lists, column.choices, strict=False)]
        supply = retagged(tables.supplies[column.choices[-1]], packs)
        own = replace(bay, servo_tags={kind: tuple(tags) for kind, tags in left.items()})
        lines = plan_lines(tables.aircraft, options, supply, own, tables.limits)
        taken = {line.from_stock for line in lines}
        left = {kind: [tag for tag in tags if tag not in taken] for kind, tags in left.items()}
        packs = {kind: [tag for tag in tags if tag not in taken] for kind, tags in packs.items()}
        after = assessed(changed(tables.aircraft, lines, library), tables.limits)
        fresh = new_warnings(craft.before.findings, after)
        why = falls_short(after, 0.0, 0.0) or (fresh[0].message if fresh else NOTHING)
        if why:
            failed[at] = why
            parts.append(None)
            continue
        price = supply.price + sum(option.price for option in options)
        mass = supply.mass_g + sum(option.mass_g for option in options)
        parts.append(_fleet_point(craft, column, after, lines, price, mass))
    return parts, failed


def _fleet_point(
    craft: _Craft, column: Column, after: Assessment, lines: tuple[PlanLine, ...], price: float, mass_g: float
) -> FleetPoint:
    return FleetPoint(
        aircraft=craft.tables.aircraft,
        point=Point(
            price=round(price, 2), mass_change_g=round(mass_g, 3), weakest_margin=after.weakest_margin,
            worst_bus_v=after.worst_bus_v, changes=lines, findings_after=after.findings,
            cured=cured(craft.before, after), choices=column.choices,
        ),
        risk_before=craft.tables.limits.risk.of(craft.before.findings),
        risk_after=craft.tables.limits.risk.of(after.findings),
        shortage_before=craft.nothing.risk / _SHORTAGE_UNIT,
        shortage_after=column.risk / _SHORTAGE_UNIT,
    )  # fmt: skip


def _as_it_is(craft: _Craft) -> FleetPoint:
    return _fleet_point(craft, craft.nothing, craft.before, (), 0.0, 0.0)


def fleet_as_json(plan: FleetPlan) -> dict[str, Any]:
    """A fleet plan as a plain object for scripts."""
    return {
        "budget": plan.budget,
        "price": plan.price,
        "risk_before": round(plan.risk_before, 3),
        "risk_after": round(plan.risk_after, 3),
        "shortage_before": round(plan.shortage_before, 3),
        "shortage_after": round(plan.shortage_after, 3),
        "gap": plan.gap,
        "exact": plan.exact,
        "aircraft": [
            {
                "aircraft": part.aircraft.code,
                "price": part.point.price,
                "mass_change_g": round(part.point.mass_change_g, 1),
                "weakest_margin": part.point.weakest_margin,
                "worst_bus_v": part.point.worst_bus_v,
                "risk_before": part.risk_before,
                "risk_after": part.risk_after,
                "shortage_before": part.shortage_before,
                "shortage_after": part.shortage_after,
                "changes": [line_as_json(line) for line in part.point.changes],
                "findings_after": findings_counted(part.point),
            }
            for part in plan.parts
        ],
        "refused": [{"what": str(each.what), "why": str(each.why)} for each in plan.cut],
        "notes": [str(note) for note in plan.notes],
    }
