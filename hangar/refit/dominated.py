"""A level without the choices that cannot be in a refit worth showing."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from hangar.refit.incumbent import Incumbent, added, corners_of
from hangar.refit.level_table import Bounds, GroupTable, Ints, LevelTable, SupplyTable, no_rows
from hangar.refit.undominated import undominated_by_class, undominated_in_groups

_PASSES = 2


@dataclass(frozen=True)
class _Flat:
    """The choices of all groups under each other; ``row`` is the place in the group's own columns."""

    group: Ints
    row: Ints
    price: Ints
    mass_g: Ints
    current_ua: Ints
    margin: Ints

    @classmethod
    def of(cls, groups: tuple[GroupTable, ...]) -> _Flat:
        sizes = [len(each) for each in groups]
        return cls(
            np.repeat(np.arange(len(groups)), sizes),
            np.concatenate([np.arange(size) for size in sizes]),
            *(
                np.concatenate([getattr(each, name) for each in groups])
                for name in ("price", "mass_g", "current_ua", "margin")
            ),
        )

    def take(self, rows: Ints | NDArray[np.bool_]) -> _Flat:
        return _Flat(*(getattr(self, name)[rows] for name in self.__dataclass_fields__))

    def starts(self, groups: int) -> Ints | None:
        """Where each group begins; None when one is empty."""
        found = np.searchsorted(self.group, np.arange(groups + 1))
        return None if (found[1:] == found[:-1]).any() else found[:-1]


def without_dominated(one: LevelTable, bounds: Bounds, known: Incumbent) -> LevelTable | None:
    """A level without choices that cannot be in a refit or that another choice equals or beats.

    Margins above what the group that can least is able to give are levelled. None where no refit is left.
    """
    found = _looked_through(one, known)
    if found is None:
        return None
    groups = _undominated(*found, by_type=bounds.most_types is not None)
    return LevelTable(one.level_mv, groups, one.supplies.take(_supplies_kept(one.supplies)))


def within_limits(one: LevelTable, bounds: Bounds) -> LevelTable | None:
    """A level without choices that cannot keep to the budget and the mass; None where no refit is left."""
    found = _looked_through(one, Incumbent(no_rows(len(one.groups)), one.level_mv, bounds))
    return None if found is None else replace(one, groups=found[1])


def _looked_through(one: LevelTable, known: Incumbent) -> tuple[_Flat, tuple[GroupTable, ...]] | None:
    count = len(one.groups)
    if not len(one.supplies.choice) or any(not len(group) for group in one.groups):
        return None
    flat = _Flat.of(one.groups)
    for _ in range(_PASSES):
        starts = flat.starts(count)
        if starts is None:
            return None
        most = np.maximum.reduceat(flat.margin, starts).min()
        flat = replace(flat, margin=np.minimum(flat.margin, most))
        flat = flat.take(_possible(flat, starts, one.supplies, known))
    starts = flat.starts(count)
    if starts is None or not _may_win(flat, starts, one.supplies, known):
        return None
    ends = np.append(starts[1:], len(flat.row))
    groups = tuple(
        replace(group.take(flat.row[first:last]), margin=flat.margin[first:last])
        for group, first, last in zip(one.groups, starts.tolist(), ends.tolist(), strict=True)
    )
    return flat, groups


def _possible(flat: _Flat, starts: Ints, supplies: SupplyTable, known: Incumbent) -> NDArray[np.bool_]:
    """Choices that with the best of everything else are within the limits and not beaten already."""
    price, mass, current = (
        np.minimum.reduceat(each, starts) for each in (flat.price, flat.mass_g, flat.current_ua)
    )
    spare_ua = int(supplies.most_ua.max()) - int(current.sum())
    other_price = int(price.sum()) + int(supplies.price.min()) - price
    other_mass = int(mass.sum()) + int(supplies.mass_g.min()) - mass
    good = flat.current_ua - current[flat.group] <= spare_ua
    good &= ~known.beats(
        flat.price + other_price[flat.group], flat.mass_g + other_mass[flat.group], flat.margin
    )
    return np.asarray(good)


def _may_win(flat: _Flat, starts: Ints, supplies: SupplyTable, known: Incumbent) -> bool:
    """Whether any refit of a level could be worth something, by price, mass and margin alone."""
    ends = [*starts[1:].tolist(), len(flat.row)]
    corners = corners_of(supplies.price, supplies.mass_g)
    for first, last in zip(starts.tolist(), ends, strict=True):
        corners = added(corners, corners_of(flat.price[first:last], flat.mass_g[first:last]))
    price, mass = corners
    return not known.beats(price, mass, np.maximum.reduceat(flat.margin, starts).min()).all()


def _undominated(flat: _Flat, groups: tuple[GroupTable, ...], *, by_type: bool) -> tuple[GroupTable, ...]:
    if by_type or any(group.uses.size and (group.uses != group.uses[0]).any() for group in groups):
        return tuple(undominated_group(group, by_type=by_type) for group in groups)
    keep = undominated_in_groups(flat.price, flat.mass_g, flat.current_ua, flat.margin, flat.group)
    first = np.searchsorted(flat.group, np.arange(len(groups)))
    member = flat.group[keep]
    return tuple(group.take(keep[member == at] - first[at]) for at, group in enumerate(groups))


def undominated_table(one: LevelTable, *, by_type: bool = False) -> LevelTable:
    """A level without choices that another choice of the same group equals or beats."""
    return replace(one, groups=tuple(undominated_group(group, by_type=by_type) for group in one.groups))


def undominated_group(group: GroupTable, *, by_type: bool) -> GroupTable:
    """The group without choices that another equals or beats with no more use of scarce things."""
    keys = np.concatenate((group.uses, group.bought), axis=1) if by_type else group.uses
    keep = undominated_by_class(
        group.price, group.mass_g, group.current_ua, group.margin, keys, group.uses.shape[1]
    )
    return group.take(keep)


def _supplies_kept(supplies: SupplyTable) -> Ints:
    keys = -supplies.spare
    same = np.zeros_like(supplies.price)
    return undominated_by_class(supplies.price, supplies.mass_g, -supplies.most_ua, same, keys, keys.shape[1])
