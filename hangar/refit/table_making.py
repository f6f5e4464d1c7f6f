"""Making the tables of one aircraft: options, supplies, strengths and levels, and what must be waived."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from hangar.base.text import Text, text
from hangar.parts import Aircraft, Library
from hangar.refit.bay import Bay
from hangar.refit.groups import Group, groups_of
from hangar.refit.levels import levels_of
from hangar.refit.limits import Limits
from hangar.refit.options import KEEP, GroupOptions, Option, option_lists
from hangar.refit.strengths import (
    Place,
    curves_of,
    group_strength,
    places_of,
    types_in,
)
from hangar.refit.supplies import supplies_of
from hangar.refit.supply_classes import classes_of
from hangar.refit.tables import UA, Tables
from hangar.survey import survey as survey_of
from hangar.survey.defaults import class_defaults
from hangar.survey.supply import supply_model


def tables_of(
    aircraft: Aircraft,
    library: Library,
    bay: Bay,
    limits: Limits,
    *,
    barred: frozenset[tuple[str, str]] = frozenset(),
    keep_weak: bool = False,
    waive_all: bool = False,
    shared: tuple[str, ...] = (),
) -> Tables:
    """Build the tables of one aircraft.

    Args:
        aircraft: as it is.
        library: types, spares, arms.
        bay: what can be taken from the parts bay.
        limits: what is asked.
        barred: (group name, type) that the rules refused when the aircraft was put through them.
        keep_weak: whether servos that are too weak may stay (for the fleet: the risk counts instead).
        waive_all: whether every group may stay as it is, because no refit meets every rule.
        shared: spare types that other aircraft want as well.
    """
    conditions = limits.conditions
    defaults = class_defaults().changed(conditions.defaults)
    survey = survey_of(aircraft, conditions)
    model = supply_model(aircraft, conditions, defaults)
    groups = groups_of(aircraft, survey)
    lists = option_lists(aircraft, survey, groups, library, bay, limits, barred)
    if keep_weak or waive_all:
        lists = tuple(_with_keep(each) for each in lists)
    supplies, supply_refused = supplies_of(aircraft, library, bay, limits)
    types = types_in(aircraft, library)
    places = places_of(aircraft, survey, model, limits)
    spare_idle = {
        kind: max((library.spare_servos[tag].idle_ma or 0.0) / 1000.0 for tag in tags)
        for kind, tags in bay.servo_tags.items()
    }
    kind = aircraft.airframe.aircraft_class

    def limit(name: str) -> float:
        return limits.thresholds.value(name, kind)

    strengths = tuple(
        group_strength(aircraft, each, places, types, defaults, spare_idle, limit) for each in lists
    )
    spare_types, spare_counts = _contested(lists, bay, shared)
    tables = Tables(
        aircraft=aircraft, survey=survey, library=library, limits=limits, lists=lists, supplies=supplies,
        strengths=strengths, curves=curves_of(types), levels=(),
        refused=(*(refusal for each in lists for refusal in each.refused), *supply_refused),
        standing_a=model.standing_a, usual_share=defaults.own_work_share.value(),
        spare_types=spare_types, spare_counts=spare_counts, keep_weak=keep_weak,
        doubts=tuple(_shared_ways(groups, places)),
    )  # fmt: skip
    tables.mean_binds = _mean_binds(tables)
    share = defaults.peak_share.value(aircraft.airframe.aircraft_class)
    classes = classes_of(tables, types, places, share)
    tables.levels = tuple(
        levels_of(
            classes,
            supplies,
            limits,
            tables.standing_a,
            _receiver_floor_v(tables),
            alone_v=_receiver_floor_v(tables) + tables.limit("receiver-reserve"),
            knees_too=not keep_weak,
        )
    )
    if waive_all:
        _waive(tables, range(len(groups)), _AT_ONCE)
    elif not keep_weak:
        _waive(tables, [at for at in range(len(groups)) if not _has_any(tables, at)], _AT_ANY_VOLTS)
    return tables


def _has_any(tables: Tables, at: int) -> bool:
    """Whether some option of a group meets every rule at some level."""
    variant = tables.strengths[at].option_variant
    for level in tables.levels:
        good = tables.good_variants(at, tables.assessed(at, level))
        if (good[variant] & level.of_class.allowed[at]).any():
            return True
    return False


_AT_ONCE = text(
    "Nothing meets every rule at once for {places}: it may stay, or give way to what is no weaker."
).key
_AT_ANY_VOLTS = text(
    "Nothing meets every rule at any bus volts for {places}: it may stay, or give way to what is no weaker."
).key


def _waive(tables: Tables, groups: Sequence[int] | range, sentence: str) -> None:
    """Let groups that nothing cures stay as they are, or get what is no weaker."""
    if not len(groups) or not tables.levels:
        return
    tables.waived = frozenset(groups)
    for level in tables.levels:
        if all(tables.supplies[number].unchanged for number in level.of_class.supplies):
            for at in groups:
                keeps = [option.servo_type == KEEP for option in tables.lists[at].options]
                level.of_class.allowed[at][np.array(keeps, np.bool_)] = True
    names = "; ".join(tables.lists[at].group.name for at in groups)
    tables.notes = (
        *tables.notes,
        text(sentence, places=names),
    )


def _with_keep(lists: GroupOptions) -> GroupOptions:
    if any(option.is_as_it_is for option in lists.options):
        return lists
    return replace(lists, options=(Option(), *lists.options))


def _contested(
    lists: Sequence[GroupOptions], bay: Bay, shared: tuple[str, ...]
) -> tuple[tuple[str, ...], tuple[int, ...]]:
    """Spares that the groups together could want more of than there are."""
    wanted: dict[str, int] = {}
    for each in lists:
        most: dict[str, int] = {}
        for option in each.options:
            most[option.servo_type] = max(most.get(option.servo_type, 0), option.spares)
        for kind, count in most.items():
            wanted[kind] = wanted.get(kind, 0) + count
    scarce = [kind for kind, count in wanted.items() if kind and count > bay.servos(kind)]
    scarce = list(shared) or sorted(scarce)
    return tuple(scarce), tuple(bay.servos(kind) for kind in scarce)


def _shared_ways(groups: Sequence[Group], places: dict[str, Place]) -> Iterator[Text]:
    ways = dict.fromkeys(
        fed
        for group in groups
        for fit in group.fits
        for *_, fed in places[fit.code].upstream
        if set(fed) - set(group.codes)
    )
    for fed in ways:
        yield text(
            "{positions} share a lead from the bus; the most they could draw is counted.",
            positions=", ".join(fed),
        )


def _mean_binds(tables: Tables) -> bool:
    most = sum(
        float(np.sum([place.average_a for place in each.places], axis=0).max(initial=0.0))
        for each in tables.strengths
    )
    return most * UA > min(tables.mean_ua, default=0)


def _receiver_floor_v(tables: Tables) -> float:
    return max((each.supply_min_v or 0.0 for each in tables.aircraft.receivers), default=0.0)
