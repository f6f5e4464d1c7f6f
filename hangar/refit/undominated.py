"""Which rows of a table no other row equals or beats."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Ints = NDArray[np.int64]
_PAIRWISE = 96
_CHUNK = 384
_ROUNDS = 12
"""After these many rows are left only where few beat many; a table is quicker for them."""
_MOST_CELLS = 4_000_000


def undominated(price: Ints, mass: Ints, current: Ints, margin: Ints) -> Ints:
    """Rows that no other row equals or beats in all four; of equal rows the first stays.

    Args:
        price: less is better, as are ``mass`` and ``current``.
        mass: any whole numbers.
        current: any whole numbers.
        margin: more is better.

    Returns:
        Row numbers, rising.

    >>> import numpy as np
    >>> one = np.array([1, 2, 1, 3])
    >>> undominated(one, one, one, np.array([5, 6, 5, 6])).tolist()
    [0, 1]
    """
    order = np.lexsort((-margin, current, mass, price))
    kept = order[_thinned(mass[order], current[order], margin[order])]
    kept.sort()
    return kept


def undominated_in_groups(price: Ints, mass: Ints, current: Ints, margin: Ints, group: Ints) -> Ints:
    """The same within each group by itself; the groups' numbers rise with the rows.

    >>> import numpy as np
    >>> one, same = np.array([1, 2, 1, 3]), np.zeros(4, int)
    >>> undominated_in_groups(one, same, same, same, np.array([0, 0, 1, 1])).tolist()
    [0, 2]
    """
    if len(price) > 2 * _PAIRWISE:
        ends = np.flatnonzero(np.diff(group, append=group[-1] + 1)) + 1
        return np.concatenate([
            undominated(price[first:last], mass[first:last], current[first:last], margin[first:last]) + first
            for first, last in zip((0, *ends[:-1].tolist()), ends.tolist(), strict=True)
        ])  # fmt: skip
    order = np.lexsort((-margin, current, mass, price))
    beats = mass[order, None] <= mass[order]
    beats &= current[order, None] <= current[order]
    beats &= margin[order, None] >= margin[order]
    beats &= group[order, None] == group[order]
    beats &= _EARLIER[: len(order), : len(order)]
    return np.sort(order[~beats.any(axis=0)])


def _thinned(mass: Ints, current: Ints, margin: Ints) -> NDArray[np.bool_]:
    """Rows, sorted by price, that no earlier row equals or beats: what the first ones beat goes at once."""
    keep = np.zeros(len(mass), np.bool_)
    left = np.arange(len(mass))
    for _ in range(_ROUNDS):
        head, left = left[:_PAIRWISE], left[_PAIRWISE:]
        head = head[_pairwise(mass[head], current[head], margin[head])]
        keep[head] = True
        if not len(left):
            return keep
        beats = mass[head, None] <= mass[left]
        beats &= current[head, None] <= current[left]
        beats &= margin[head, None] >= margin[left]
        left = left[~beats.any(axis=0)]
    keep[left[_swept(mass[left], current[left], margin[left])]] = True
    return keep


def _pairwise(mass: Ints, current: Ints, margin: Ints) -> NDArray[np.bool_]:
    """Rows, sorted by price, that no earlier row equals or beats."""
    beats = mass[:, None] <= mass
    beats &= current[:, None] <= current
    beats &= margin[:, None] >= margin
    beats &= _EARLIER[: len(mass), : len(mass)]
    return np.asarray(~beats.any(axis=0))


_EARLIER = np.triu(np.ones((_CHUNK, _CHUNK), np.bool_), 1)


def _ranks(values: Ints) -> tuple[NDArray[np.int32], int]:
    distinct, ranks = np.unique(values, return_inverse=True)
    return ranks.astype(np.int32), len(distinct)


def _swept(mass: Ints, current: Ints, margin: Ints) -> NDArray[np.bool_]:
    """The same for many rows: a table holds the least current so far by margin and mass."""
    masses, mass_count = _ranks(mass)
    margins, margin_count = _ranks(-margin)
    currents, current_count = _ranks(current)
    if current_count == 1:
        return _swept_flat(masses, margins, mass_count)
    if mass_count * margin_count > _MOST_CELLS:
        return _swept_wide(masses, margins, currents)
    keep = np.zeros(len(mass), np.bool_)
    least = np.full((margin_count, mass_count), current_count, np.int32)
    for first in range(0, len(mass), _CHUNK):
        part = slice(first, first + _CHUNK)
        alive = np.flatnonzero(currents[part] < least[margins[part], masses[part]]) + first
        if not len(alive):
            continue
        alive = alive[_pairwise_ranks(masses[alive], currents[alive], margins[alive])]
        keep[alive] = True
        np.minimum.at(least, (margins[alive], masses[alive]), currents[alive])
        np.minimum.accumulate(least, axis=1, out=least)
        np.minimum.accumulate(least, axis=0, out=least)
    return keep


def _pairwise_ranks(
    masses: NDArray[np.int32], currents: NDArray[np.int32], margins: NDArray[np.int32]
) -> NDArray[np.bool_]:
    beats = masses[:, None] <= masses
    beats &= currents[:, None] <= currents
    beats &= margins[:, None] <= margins
    beats &= _EARLIER[: len(masses), : len(masses)]
    return np.asarray(~beats.any(axis=0))


def _swept_flat(masses: NDArray[np.int32], margins: NDArray[np.int32], mass_count: int) -> NDArray[np.bool_]:
    """Only mass and margin differ: the best margin so far at each mass, in Python as rows are few."""
    best = np.full(mass_count, np.iinfo(np.int32).max, np.int32)
    keep = np.zeros(len(masses), np.bool_)
    for first in range(0, len(masses), _CHUNK):
        part = slice(first, first + _CHUNK)
        alive = np.flatnonzero(margins[part] < best[masses[part]]) + first
        if not len(alive):
            continue
        alive = alive[_pairwise_ranks(masses[alive], np.zeros(len(alive), np.int32), margins[alive])]
        keep[alive] = True
        np.minimum.at(best, masses[alive], margins[alive])
        np.minimum.accumulate(best, out=best)
    return keep


def _swept_wide(
    masses: NDArray[np.int32], margins: NDArray[np.int32], currents: NDArray[np.int32]
) -> NDArray[np.bool_]:
    """Against all kept rows, where the table would be too large."""
    kept = np.zeros(0, np.int64)
    for first in range(0, len(masses), _CHUNK):
        alive = np.arange(first, min(first + _CHUNK, len(masses)))
        for start in range(0, len(kept), 8 * _CHUNK):
            old = kept[start : start + 8 * _CHUNK, None]
            beaten = (masses[old] <= masses[alive]) & (currents[old] <= currents[alive])
            beaten &= margins[old] <= margins[alive]
            alive = alive[~beaten.any(axis=0)]
        alive = alive[_pairwise_ranks(masses[alive], currents[alive], margins[alive])]
        kept = np.concatenate((kept, alive))
    keep = np.zeros(len(masses), np.bool_)
    keep[kept] = True
    return keep


def count_bits(bought: Ints) -> Ints:
    """How many bits are set in each row of words."""
    return np.asarray(np.bitwise_count(bought).sum(axis=1, dtype=np.int64))


def undominated_by_class(
    price: Ints, mass: Ints, current: Ints, margin: Ints, keys: Ints, counted: int
) -> Ints:
    """Rows that no other row equals or beats with no more of each scarce thing and no other type bought.

    Args:
        price: less is better, as are mass and current.
        mass: change of mass.
        current: peak current.
        margin: more is better.
        keys: columns that a better row may not exceed; the first ``counted`` as numbers, the rest as bits.
        counted: how many columns are numbers.
    """
    if not keys.shape[1] or not (keys != keys[0]).any():
        return undominated(price, mass, current, margin)
    classes, member = np.unique(keys, axis=0, return_inverse=True)
    member = member.ravel()
    weight = classes[:, :counted].sum(axis=1) + count_bits(classes[:, counted:])
    accepted: dict[int, Ints] = {}
    for one in np.argsort(weight, kind="stable").tolist():
        own = np.flatnonzero(member == one)
        better = [rows for other, rows in accepted.items() if _within(classes[other], classes[one], counted)]
        above = np.concatenate(better) if better else np.zeros(0, np.int64)
        rows = np.concatenate((above, own))
        keep = undominated(price[rows], mass[rows], current[rows], margin[rows])
        accepted[one] = own[keep[keep >= len(above)] - len(above)]
    return np.sort(np.concatenate(list(accepted.values())))


def _within(less: Ints, more: Ints, counted: int) -> bool:
    numbers = bool((less[:counted] <= more[:counted]).all())
    return numbers and not bool((less[counted:] & ~more[counted:]).any())
