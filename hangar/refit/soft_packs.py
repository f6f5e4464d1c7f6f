"""Where a bus is so low that servos stall in the peak: the tables then count more than they draw."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING

import numpy as np

from hangar.base.text import Text, text
from hangar.survey.defaults import class_defaults

if TYPE_CHECKING:
    from hangar.refit.level_table import LevelTable
    from hangar.refit.levels import Level
    from hangar.refit.tables import Tables


def soft_pack_doubts(tables: Tables, level_tables: Iterable[LevelTable] | None = None) -> tuple[Text, ...]:
    """One sentence where a refit that is allowed could stand on a bus at which servos stall in the peak.

    In the peak a servo draws a share of its stall current at the nominal volts of the supply. Where less
    than that share of the nominal volts reaches it, it stalls and draws less, while the tables go on
    counting the whole share. What they allow holds; but a refit that needs a softer pack may be missing,
    so the front is not proved best.

    Args:
        tables: of one aircraft.
        level_tables: its levels as the solver takes them, where they are at hand.
    """
    defaults = class_defaults().changed(tables.limits.conditions.defaults)
    share = defaults.peak_share.value(tables.aircraft.airframe.aircraft_class)
    firm: dict[tuple[int, ...], dict[int, int]] = {}
    for level, one in zip(tables.levels, level_tables or tables.level_tables(), strict=True):
        stalled = _stalled(tables, level, one, share * level.of_class.nominal_v)
        known = firm.setdefault(level.of_class.supplies, {})
        if not stalled:
            known.update(level.most_ua)
        elif _is_reached(one, known):
            places, bus_v = ", ".join(stalled), level.level_mv / 1000.0
            return (
                text(
                    "Not proved best: with the bus at {volts:.2f} V servos stall in the peak at {places}, "
                    "and more current is counted than they draw.",
                    volts=bus_v,
                    places=places,
                ),
            )
    return ()


def _is_reached(one: LevelTable, firm: Mapping[int, int]) -> bool:
    """Whether a refit could pull some supply down to a level, from the lowest at which nothing stalls.

    Args:
        one: what is allowed at the level.
        firm: by supply the current that it gives at that higher level.
    """
    most = sum(int(group.current_ua.max()) for group in one.groups)
    open_to = zip(one.supplies.choice.tolist(), one.supplies.most_ua.tolist(), strict=True)
    return any(min(most, given) > firm.get(number, -1) for number, given in open_to)


def _stalled(tables: Tables, level: Level, one: LevelTable, least_v: float) -> list[str]:
    """Positions whose servo could get less than some volts in a refit that keeps every rule at a level."""
    if any(not len(group.choice) for group in one.groups) or not len(one.supplies.choice):
        return []
    found = []
    for at, group in enumerate(one.groups):
        strength = tables.strengths[at]
        variant = np.unique(strength.option_variant[group.choice])
        for row, each in enumerate(strength.places):
            upstream_v = level.of_class.upstream_v[at][row][variant]
            amps = level.of_class.current_a[at][row][variant]
            volts = level.level_mv / 1000.0 - upstream_v - amps * np.nan_to_num(each.ohm[variant])
            if (volts[each.kind[variant] >= 0] < least_v).any():
                found.append(each.place.fit.code)
    return found
