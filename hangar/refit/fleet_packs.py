"""Spare packs of a parts bay that several aircraft may want: each is given out once."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

import numpy as np

from hangar.parts import PlanLine
from hangar.parts.choices import PlanAction
from hangar.refit.menu import MenuLevel
from hangar.refit.supplies import Supply

Tags = Mapping[str, Sequence[str]]


def packs_taken(supply: Supply, kinds: Sequence[str]) -> tuple[int, ...]:
    """How many spare packs of each type a supply takes."""
    taken = [
        line.part_type for line in supply.lines if line.action is PlanAction.FIT_PACK and line.from_stock
    ]
    return tuple(taken.count(kind) for kind in kinds)


def by_packs(level: MenuLevel, supplies: Sequence[Supply], kinds: Sequence[str]) -> Iterator[MenuLevel]:
    """A level as one for each number of spare packs that its supplies take.

    The packs are counted with the first group, as every refit has one choice of it.

    Args:
        level: its groups count servos only.
        supplies: every supply of the aircraft, by number.
        kinds: pack types that lie in the bay.
    """
    if not kinds:
        yield level
        return
    taken = [packs_taken(supplies[number], kinds) for number in level.supply.tolist()]
    for own in sorted(set(taken)):
        if not level.groups and any(own):
            continue
        rows = np.array([row for row, each in enumerate(taken) if each == own], np.int64)
        groups = tuple(
            replace(
                group,
                uses=np.concatenate(
                    (group.uses, np.tile(np.array(own if at == 0 else [0] * len(own), np.int64),
                                         (len(group.choice), 1))),
                    axis=1,
                ),
            )
            for at, group in enumerate(level.groups)
        )  # fmt: skip
        yield MenuLevel(
            groups, level.supply[rows], level.supply_price[rows], level.most_ua[rows],
            level.most_mean_ua[rows],
        )  # fmt: skip


def retagged(supply: Supply, left: Tags) -> Supply:
    """A supply with the first packs that are left in place of those it was drawn up with."""
    tags = {kind: list(each) for kind, each in left.items()}

    def own(line: PlanLine) -> PlanLine:
        if line.action is not PlanAction.FIT_PACK or not line.from_stock:
            return line
        return replace(line, from_stock=tags[line.part_type or ""].pop(0))

    return replace(supply, lines=tuple(own(line) for line in supply.lines))
