"""The cheapest refit of one level by growing partial refits: what the integer programme finds, sooner."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from hangar.refit.dominated import undominated_group
from hangar.refit.incumbent import Incumbent, added, corners_of, remaining_after
from hangar.refit.labels import Labels as Partial
from hangar.refit.labels import extended, level_points, start
from hangar.refit.level_programme import Answer, Question
from hangar.refit.level_table import Bounds, GroupTable, Ints, LevelTable, SupplyTable, no_rows
from hangar.refit.undominated import undominated_by_class

NO_PRICE = int(np.iinfo(np.int64).max)
"""A price for what has none yet."""


def cheapest_refit(one: LevelTable, question: Question) -> Answer | None:
    """The cheapest refit at a level, the lightest of those that cost the same; None when there is none.

    Args:
        one: the level.
        question: what is asked; answers that are not wanted again must not be in it.
    """
    level = _asked(one, question)
    found, _ = level_points(level, _bounds(question), no_rows(len(level.groups)))
    if not len(found):
        return None
    row = int(np.lexsort((found.mass_g, found.price))[0])
    return Answer(int(found.price[row]), int(found.mass_g[row]), tuple(found.choices[row].tolist()))


def _asked(one: LevelTable, question: Question) -> LevelTable:
    """The level with the choices that have the margin, and without what the relaxed limits look at."""
    groups = []
    for at, group in enumerate(one.groups):
        good = group.margin >= question.margin
        if at in question.forced:
            good &= group.choice == question.forced[at]
        own = group.take(good)
        own = replace(own, margin=np.zeros_like(own.margin))
        if "current" in question.relaxed:
            own = replace(own, current_ua=np.zeros_like(own.current_ua))
        if "scarce" in question.relaxed:
            own = replace(own, uses=np.zeros_like(own.uses))
        groups.append(own)
    supplies = one.supplies
    if "scarce" in question.relaxed:
        supplies = replace(supplies, spare=np.zeros_like(supplies.spare))
    return LevelTable(one.level_mv, tuple(groups), supplies)


def _bounds(question: Question) -> Bounds:
    bounds, relaxed = question.bounds, question.relaxed
    return Bounds(
        budget=None if "budget" in relaxed else bounds.budget,
        mass_g=None if "mass" in relaxed else bounds.mass_g,
        most_types=None if "types" in relaxed else bounds.most_types,
    )


def cheapest_with_each(
    one: LevelTable, at: int, margin: int, bounds: Bounds, before: Ints | None = None
) -> Ints:
    """For every choice of one group the least price of a whole refit with it; -1 where there is none.

    Args:
        one: the level.
        at: the group.
        margin: least margin, in steps, of every group.
        bounds: budget and mass; types are not counted.
        before: price known for each choice, in this order, ``NO_PRICE`` where none is; only less is told.
    """
    every = one.groups[at]
    best = np.full(len(every), -1, np.int64)
    groups = [group.take(group.margin >= margin) for group in one.groups]
    if any(not len(group) for group in groups) or not len(one.supplies.choice):
        return best
    others = [group for number, group in enumerate(groups) if number != at]
    known = np.full(len(every), NO_PRICE) if before is None else before
    rows = np.flatnonzero((every.margin >= margin) & _may_gain(every, others, one.supplies, bounds, known))
    if not len(rows):
        return best
    own, most = every.take(rows), int(known[rows].max())
    if most < NO_PRICE:
        bounds = replace(bounds, budget=min(most - 1, NO_PRICE if bounds.budget is None else bounds.budget))
    labels = _partial(replace(one, groups=(*others, own)), bounds)
    if labels is not None:
        found = _least_prices(labels, own, one.supplies, bounds)
        best[rows] = np.where(found < known[rows], found, -1)
    return best


def _may_gain(
    every: GroupTable, others: list[GroupTable], supplies: SupplyTable, bounds: Bounds, known: Ints
) -> np.ndarray[tuple[int], np.dtype[np.bool_]]:
    """Choices that, with the best of everything else, could cost less than is known."""
    corners = corners_of(supplies.price, supplies.mass_g)
    for group in others:
        corners = added(corners, corners_of(group.price, group.mass_g))
    price, mass = corners
    first = np.zeros(len(every), np.int64)
    if bounds.mass_g is not None:
        first = np.searchsorted(-mass, every.mass_g - bounds.mass_g)
    good = first < len(price)
    good &= every.price + price[np.minimum(first, len(price) - 1)] < known
    others_ua = sum(int(group.current_ua.min()) for group in others)
    good &= every.current_ua + others_ua <= int(supplies.most_ua.max())
    return np.asarray(good)


def _partial(one: LevelTable, bounds: Bounds) -> Partial | None:
    """Partial refits of all groups but the last, margins left out; None where there is none."""
    *others, own = one.groups
    level = [
        undominated_group(replace(group, margin=np.zeros_like(group.margin)), by_type=False)
        for group in others
    ]
    ready = replace(one, groups=(*level, own))
    labels, known = start(ready), Incumbent(no_rows(len(one.groups)), one.level_mv, bounds)
    for group, rest in zip(level, remaining_after(ready.groups, one.supplies)[1:], strict=False):
        labels = extended(labels, group, rest, one.supplies, bounds, known)
        if not len(labels):
            return None
    return labels


def _least_prices(labels: Partial, own: GroupTable, supplies: SupplyTable, bounds: Bounds) -> Ints:
    """For every choice the least price with some partial refit and some supply; -1 where none fits."""
    count = len(supplies.choice)
    price = (labels.price[:, None] + supplies.price).ravel()
    mass = (labels.mass_g[:, None] + supplies.mass_g).ravel()
    spare_ua = (supplies.most_ua - labels.current_ua[:, None]).ravel()
    left = (supplies.spare - labels.uses[:, None, :]).reshape(len(labels) * count, -1)
    same = np.zeros_like(price)
    keep = undominated_by_class(price, mass, -spare_ua, same, -left, left.shape[1])
    price, mass, spare_ua, left = price[keep], mass[keep], spare_ua[keep], left[keep]
    total = own.price[:, None] + price
    good = own.current_ua[:, None] <= spare_ua
    good &= (own.uses[:, None, :] <= left).all(axis=2)
    if bounds.mass_g is not None:
        good &= own.mass_g[:, None] + mass <= bounds.mass_g
    if bounds.budget is not None:
        good &= total <= bounds.budget
    least = np.where(good, total, NO_PRICE).min(axis=1, initial=NO_PRICE)
    return np.asarray(np.where(least == NO_PRICE, -1, least))
