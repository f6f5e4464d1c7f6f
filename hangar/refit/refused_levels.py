"""Types that no level of bus volts allows: the first hard rule each breaks where it does best."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from hangar.base.text import Text, text
from hangar.refit.levels import Level
from hangar.refit.options import KEEP
from hangar.refit.refusal import Refusal
from hangar.refit.strengths import NEARLY, AtLevel
from hangar.refit.tables import Tables


@dataclass
class _Best:
    """Where a type does best: at which level and with which gauge."""

    level: Level
    assessed: AtLevel
    row: int


def level_refusals(tables: Tables) -> tuple[Refusal, ...]:
    """What every type lacks that fits its place but is never strong, quick or well fed enough."""
    return tuple(
        refusal
        for at, lists in enumerate(tables.lists)
        if not lists.locked
        for refusal in _of_group(tables, at)
    )


def _of_group(tables: Tables, at: int) -> Iterator[Refusal]:
    strength, lists = tables.strengths[at], tables.lists[at]
    count = len(strength.variants)
    good_ever, allowed_ever = np.zeros(count, np.bool_), np.zeros(count, np.bool_)
    best, where = np.full(count, -np.inf), np.zeros(count, np.int64)
    for number, level in enumerate(tables.levels):
        assessed = tables.assessed(at, level)
        allowed = np.zeros(count, np.bool_)
        allowed[strength.option_variant[level.of_class.allowed[at]]] = True
        allowed_ever |= allowed
        good_ever |= allowed & tables.good_variants(at, assessed)
        short = np.nan_to_num(assessed.short, nan=-1.0)
        better = allowed & (short > best)
        best[better], where[better] = short[better], number
    rows: dict[str, list[int]] = {}
    for row, variant in enumerate(strength.variants):
        rows.setdefault(variant.servo_type, []).append(row)
    for code, own in rows.items():
        what = text("{place}: {what}", place=lists.group.name, what=code or _as_it_is(tables, at))
        if good_ever[own].any():
            continue
        if not allowed_ever[own].any():
            yield Refusal(what, _too_many_volts(tables, at, code), "over-volts")
            continue
        row = max(own, key=lambda each: (float(best[each]), -each))
        level = tables.levels[int(where[row])]
        yield Refusal(what, *_words(_Best(level, tables.assessed(at, level), row)))


def _as_it_is(tables: Tables, at: int) -> Text:
    own = dict.fromkeys(kind.code for kind in tables.lists[at].own_types if kind)
    return text("{servos} as it is", servos=" + ".join(own) or text("nothing"))


def _too_many_volts(tables: Tables, at: int, code: str) -> Text:
    if not tables.levels:
        return text("no supply that can be worked gives it what it needs")
    kinds = [tables.library.servo_types.get(code)] if code != KEEP else list(tables.lists[at].own_types)
    limits = [kind.supply_max_v for kind in kinds if kind is not None and kind.supply_max_v is not None]
    tops = [supply.volts.bus_max_v for supply in tables.supplies if supply.volts is not None]
    least = min((top for top in tops if top is not None), default=0.0)
    allowed = min(limits, default=0.0)
    return text(
        "it bears {limit:g} V; the lowest supply that can be worked gives {least:.2f} V",
        limit=allowed,
        least=least,
    )


def _words(best: _Best) -> tuple[Text, str]:
    assessed, row, volts = best.assessed, best.row, best.level.level_mv / 1000.0
    if assessed.slow[row]:
        time_s = float(assessed.transit_s[row])
        said = "it takes {time:.3f} s for 60° with the bus at {volts:.2f} V"
        return text(said, time=time_s, volts=volts), "speed"
    if assessed.short[row] < 1.0 - NEARLY:
        wanted = assessed.margin_pct[row] / assessed.short[row] / 100.0 if assessed.short[row] > 0 else 0.0
        return text(
            "its torque is {given:.2f} times the load with the bus at {volts:.2f} V; "
            "{wanted:.2f} times is wanted",
            given=float(assessed.margin_pct[row]) / 100.0,
            volts=volts,
            wanted=float(wanted),
        ), "torque"
    if not assessed.spare_v[row] >= 0.0:
        return text(
            "it gets {short:.2f} V less than it works from with the bus at {volts:.2f} V",
            short=-float(assessed.spare_v[row]),
            volts=volts,
        ), "volts"
    return text("its lead is not known"), "lead"
