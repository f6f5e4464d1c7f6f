"""Types that no level of bus volts allows: the first hard rule each breaks where it does best."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from hangar.refit.levels import Level
from hangar.refit.options import KEEP
from hangar.refit.refusal import Refusal
from hangar.refit.strengths import NEARLY, AtLevel
from hangar.refit.tables import Tables


@dataclass
class _Best:
    """Where a type does best: how short it is, at which level and with which gauge."""

    short: float
    level: Level
    judged: AtLevel
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
    good_types: set[str] = set()
    allowed_types: set[str] = set()
    best: dict[str, _Best] = {}
    for level in tables.levels:
        judged = tables.judged(at, level)
        good = tables.good_variants(at, judged)
        allowed = np.unique(strength.option_variant[level.of_class.allowed[at]])
        for row in allowed.tolist():
            code = strength.variants[row].servo_type
            allowed_types.add(code)
            if good[row]:
                good_types.add(code)
            short = float(np.nan_to_num(judged.short[row], nan=-1.0))
            if code not in best or short > best[code].short:
                best[code] = _Best(short, level, judged, row)
    for code in dict.fromkeys(variant.servo_type for variant in strength.variants):
        what = f"{lists.group.name}: {code or _as_it_is(tables, at)}"
        if code in good_types:
            continue
        if code not in allowed_types:
            yield Refusal(what, _too_many_volts(tables, at, code), "over-volts")
        else:
            yield Refusal(what, *_words(tables, best[code]))


def _as_it_is(tables: Tables, at: int) -> str:
    own = dict.fromkeys(kind.code for kind in tables.lists[at].own_types if kind)
    return f"{' + '.join(own) or 'nothing'} as it is"


def _too_many_volts(tables: Tables, at: int, code: str) -> str:
    if not tables.levels:
        return "no supply that can be worked gives it what it needs"
    kinds = [tables.library.servo_types.get(code)] if code != KEEP else list(tables.lists[at].own_types)
    limits = [kind.supply_max_v for kind in kinds if kind is not None and kind.supply_max_v is not None]
    tops = [supply.volts.bus_max_v for supply in tables.supplies if supply.volts is not None]
    least = min((top for top in tops if top is not None), default=0.0)
    allowed = min(limits, default=0.0)
    return f"it may have {allowed:g} V; the lowest supply that can be worked gives {least:.2f} V"


def _words(tables: Tables, best: _Best) -> tuple[str, str]:
    judged, row, volts = best.judged, best.row, best.level.level_mv / 1000.0
    if judged.slow[row]:
        return f"it takes {judged.transit_s[row]:.3f} s for 60 degrees with the bus at {volts:.2f} V", "speed"
    if judged.short[row] < 1.0 - NEARLY:
        wanted = judged.margin_pct[row] / judged.short[row] / 100.0 if judged.short[row] > 0 else 0.0
        return (
            f"its torque is {judged.margin_pct[row] / 100.0:.2f} of the load with the bus at {volts:.2f} V; "
            f"{wanted:.2f} is wanted"
        ), "torque"
    if not np.isfinite(judged.margin_pct[row]) and np.isnan(judged.drop[row]):
        return "its lead is not known", "lead"
    most = tables.limit("lead-drop-warn")
    drop = 100.0 * judged.drop[row]
    return f"its lead loses {drop:.0f} % of {volts:.2f} V; {most:g} % is allowed", "lead"
