"""The declared integer tables of one aircraft: every option and every supply at every level of bus volts.

Prices in hundredths, mass in grams, currents in microamperes rounded up, margins in steps rounded down,
levels in millivolts. Where nothing but these tables decides, the answer is exact on them.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from hangar.base.text import Text
from hangar.parts import Aircraft, Library
from hangar.refit.curves import Curves, Floats, Ints
from hangar.refit.groups import Group
from hangar.refit.level_table import Bounds, GroupTable, LevelTable, SupplyTable
from hangar.refit.levels import Level
from hangar.refit.limits import Limits
from hangar.refit.options import KEEP, GroupOptions
from hangar.refit.refusal import Refusal
from hangar.refit.source_current import endurance_limit_a, mean_limit_a
from hangar.refit.strengths import (
    NEARLY,
    AtLevel,
    GroupStrength,
    Variant,
    at_level,
    short_today,
)
from hangar.refit.supplies import Supply
from hangar.rules.case import works_from_v
from hangar.rules.starved import may_stop_below_v
from hangar.survey.model import Survey

UA = 1e6
"""Microamperes in an ampere."""
_BITS = 62
_NO_LIMIT_UA = 10**15
_LEAST_V = 2.5
"""Bus volts that no level is below."""
_AS_IT_IS = Variant(KEEP, None)


@dataclass
class Tables:
    """Everything the solver is handed, and what the explanations look up.

    Attributes:
        aircraft: as it is.
        survey: its survey.
        limits: what was asked.
        lists: the options of each group.
        supplies: the supplies by number; the first is the present one.
        levels: every class at every level, highest level first.
        refused: what no rule of fit or voltage allows.
        doubts: why the answer is not exact on the tables; empty when it is.
        notes: what to know when reading it.
        waived: groups for which nothing meets every rule: they may stay, or get what is no weaker.
    """

    aircraft: Aircraft
    survey: Survey
    library: Library
    limits: Limits
    lists: tuple[GroupOptions, ...]
    supplies: tuple[Supply, ...]
    strengths: tuple[GroupStrength, ...]
    curves: Curves
    levels: tuple[Level, ...]
    refused: tuple[Refusal, ...]
    standing_a: float
    usual_share: float
    spare_types: tuple[str, ...]
    spare_counts: tuple[int, ...]
    doubts: tuple[Text, ...] = ()
    notes: tuple[Text, ...] = ()
    waived: frozenset[int] = frozenset()
    keep_weak: bool = False
    mean_binds: bool = False
    _options: dict[int, tuple[Ints, ...]] = field(default_factory=dict, repr=False)
    _assessed: dict[tuple[int, int, bytes], AtLevel] = field(default_factory=dict, repr=False)
    _level_tables: dict[int, LevelTable] = field(default_factory=dict, repr=False)

    @property
    def groups(self) -> tuple[Group, ...]:
        """The groups of positions."""
        return tuple(each.group for each in self.lists)

    @cached_property
    def type_bits(self) -> dict[str, int]:
        """A bit for each type that may have to be bought; empty where any number of them may be."""
        if self.limits.most_types is None:
            return {}
        kinds = {option.servo_type for each in self.lists for option in each.options if option.bought}
        return {kind: bit for bit, kind in enumerate(sorted(kinds))}

    @property
    def bounds(self) -> Bounds:
        """Budget, mass and types as the solver takes them."""
        limits = self.limits
        return Bounds(
            budget=None if limits.budget is None else int(100.0 * limits.budget + 1e-6),
            mass_g=None if limits.mass_g is None else math.floor(limits.mass_g + 1e-6),
            most_types=limits.most_types,
        )

    def level_tables(self) -> Iterator[LevelTable]:
        """Every level as the solver takes it, the highest first."""
        for number, level in enumerate(self.levels):
            if number not in self._level_tables:
                self._level_tables[number] = self.level_table_of(level)
            yield self._level_tables[number]

    def level_table_of(self, level: Level) -> LevelTable:
        """One level as the solver takes it."""
        groups = tuple(self._group_table(at, level) for at in range(len(self.lists)))
        return LevelTable(level.level_mv, groups, self._supply_table(level))

    def assessed(self, at: int, level: Level) -> AtLevel:
        """A group's variants at a level; classes that lose nothing on the way to it share the answer."""
        upstream = level.of_class.upstream_v[at]
        key = (at, level.level_mv, b"".join(lost.tobytes() for lost in upstream))
        if key not in self._assessed:
            self._assessed[key] = at_level(
                self.strengths[at], self.curves, level.level_mv / 1000.0, upstream, self.usual_share
            )
        return self._assessed[key]

    def good_variants(self, at: int, assessed: AtLevel) -> NDArray[np.bool_]:
        """The variants that meet torque, speed and volts at a level; what is locked must only bear it."""
        if self.lists[at].locked:
            return self._bearable(at, assessed)
        works = assessed.spare_v >= -NEARLY
        if at in self.waived:
            stays = np.array([variant == _AS_IT_IS for variant in self.strengths[at].variants])
            return np.asarray(stays | (assessed.short >= self.present_short(at) - NEARLY) & works)
        return np.asarray((assessed.short >= 1.0 - NEARLY) & ~assessed.slow & works)

    def _bearable(self, at: int, assessed: AtLevel) -> NDArray[np.bool_]:
        """The variants of a locked group that bring no warning of volts or torque that is not there today.

        The bus stands up to a step above its level; what only that step may save is left to the proof.
        """
        leeway = 1.0 + self.limits.level_step_v / _LEAST_V
        good = np.ones(len(assessed.short), np.bool_)
        if self.present_spare_v(at) >= 0.0:
            good &= assessed.spare_v + self.limits.level_step_v >= 0.0
        if self.present_short(at) >= 1.0:
            good &= ~(assessed.short * leeway**2 < 1.0)
        return good

    def present_short(self, at: int) -> float:
        """Torque of today over that from which no check complains, least of a group; 0 where not known."""
        found = [
            own
            for each in self.strengths[at].places
            if (own := short_today(each.place, self.survey)) is not None
        ]
        return min(found, default=0.0)

    def present_spare_v(self, at: int) -> float:
        """Today's least volts at a servo of a group above those below which it may stop."""
        found = []
        for each in self.strengths[at].places:
            fit = each.place.fit
            volts, kind = self.survey.positions[fit.code].delivered_v, fit.servo_type
            if volts is not None and kind is not None:
                found.append(volts.expected - may_stop_below_v(fit, works_from_v(kind, self.limit)))
        return min(found, default=0.0)

    def limit(self, name: str) -> float:
        """A threshold of the rules for this aircraft."""
        return self.limits.thresholds.value(name, self.aircraft.airframe.aircraft_class)

    def _group_table(self, at: int, level: Level) -> GroupTable:
        assessed = self.assessed(at, level)
        strength = self.strengths[at]
        good = self.good_variants(at, assessed)
        if self.keep_weak:
            good |= np.array([variant.servo_type == KEEP for variant in strength.variants])
        amps = np.sum(level.of_class.current_a[at], axis=0)
        good &= np.isfinite(amps)
        rows = np.flatnonzero(good[strength.option_variant] & level.of_class.allowed[at])
        variant = strength.option_variant[rows]
        price, mass, uses, bought = self._columns(at)
        steps = margin_steps(assessed.margin_pct[variant], self.limits)
        return GroupTable(
            rows, price[rows], mass[rows], rounded_up_ua(amps[variant]), steps, uses[rows], bought[rows]
        )

    def _columns(self, at: int) -> tuple[Ints, ...]:
        """Price, mass, uses and types of a group's options: the same at every level."""
        if at not in self._options:
            options, strength = self.lists[at].options, self.strengths[at]
            price = np.array([self.limits.price_units(option.price) for option in options], np.int64)
            mass = np.array([self.limits.mass_units(option.mass_g) for option in options], np.int64)
            uses = np.zeros((len(options), len(self.spare_types) + self.mean_binds), np.int64)
            bought = np.zeros((len(options), -(-len(self.type_bits) // _BITS)), np.int64)
            for row, option in enumerate(options):
                if option.servo_type in self.spare_types:
                    uses[row, self.spare_types.index(option.servo_type)] = option.spares
                if option.bought and self.type_bits:
                    bit = self.type_bits[option.servo_type]
                    bought[row, bit // _BITS] = 1 << (bit % _BITS)
            if self.mean_binds:
                average = np.sum([place.average_a for place in strength.places], axis=0)
                uses[:, -1] = rounded_up_ua(average[strength.option_variant])
            self._options[at] = (price, mass, uses, bought)
        return self._options[at]

    def _supply_table(self, level: Level) -> SupplyTable:
        numbers = [n for n in level.of_class.supplies if level.most_ua.get(n, -1) >= 0]
        rows = self._supply_rows.take(np.array(numbers, np.int64))
        return replace(rows, most_ua=np.array([level.most_ua[number] for number in numbers], np.int64))

    @cached_property
    def _supply_rows(self) -> SupplyTable:
        """What every supply costs and leaves, at whatever level."""
        count = len(self.supplies)
        spare = np.tile(np.array([*self.spare_counts, *([0] * self.mean_binds)], np.int64), (count, 1))
        if self.mean_binds:
            spare[:, -1] = self.mean_ua
        return SupplyTable(
            np.arange(count),
            np.array([self.limits.price_units(each.price) for each in self.supplies], np.int64),
            np.array([self.limits.mass_units(each.mass_g) for each in self.supplies], np.int64),
            np.zeros(count, np.int64),
            spare,
        )

    @cached_property
    def mean_ua(self) -> tuple[int, ...]:
        """Mean current that each supply leaves for the servos."""
        return tuple(mean_capacity_ua(each, self) for each in self.supplies)


def rounded_up_ua(amps: Floats) -> Ints:
    """Amperes as whole microamperes, rounded up."""
    return np.ceil(amps * UA - 1e-3).astype(np.int64)


def margin_steps(margin_pct: Floats, limits: Limits) -> Ints:
    """Margins in whole steps, rounded down, none above the cap."""
    capped = np.minimum(
        np.nan_to_num(margin_pct, nan=0.0, posinf=limits.margin_cap_pct), limits.margin_cap_pct
    )
    return np.floor(capped / limits.margin_step_pct + 1e-9).astype(np.int64)


def mean_capacity_ua(supply: Supply, tables: Tables) -> int:
    """Mean current that a supply's parts leave for the servos, and that its packs can keep up."""
    conditions, airframe = tables.limits.conditions, tables.aircraft.airframe
    limit = mean_limit_a(supply, conditions)
    if airframe.flight_min is not None:
        wanted = tables.limit("endurance-warn") * airframe.flight_min * (airframe.flights_per_charge or 1)
        limit = min(limit, endurance_limit_a(supply, wanted, conditions))
    return _NO_LIMIT_UA if math.isinf(limit) else math.floor((limit - tables.standing_a) * UA)
