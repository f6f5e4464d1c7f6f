"""Supplies that are alike for the servos: the same nominal volts, and the same types allowed."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from hangar.parts import ServoType
from hangar.refit.curves import Floats
from hangar.refit.levels import SupplyClass
from hangar.refit.options import KEEP, GroupOptions
from hangar.refit.strengths import Place, peak_currents_a
from hangar.refit.tables import Tables
from hangar.rules.over_volts import Verdict, verdict


def classes_of(
    tables: Tables, types: dict[str, ServoType], places: dict[str, Place], share: float
) -> list[SupplyClass]:
    """The supplies of an aircraft by nominal volts, by types that may have their volts, by one pack or two.

    Args:
        tables: with options, supplies and ratings; the levels are not needed yet.
        types: every servo type by code.
        places: every position by code.
        share: share of its stall current that each servo draws in the peak.
    """
    by_key: dict[tuple[object, ...], list[int]] = {}
    verdicts: dict[int, dict[str, Verdict]] = {}
    factor = tables.limit("full-over-factor")
    for number, supply in enumerate(tables.supplies):
        volts = supply.volts
        assessed = {
            code: Verdict.WITHIN
            if kind.supply_max_v is None or volts is None
            else verdict(volts, kind.supply_max_v, kind.max_means, factor)
            for code, kind in types.items()
        }
        verdicts[number] = assessed
        key = (supply.nominal_v, supply.unchanged, supply.second, tuple(assessed.values()))
        by_key.setdefault(key, []).append(number)
    found = []
    for numbers in by_key.values():
        supply = tables.supplies[numbers[0]]
        current = tuple(
            peak_currents_a(each, tables.curves, supply.nominal_v, share) for each in tables.strengths
        )
        allowed = tuple(
            _allowed(each, verdicts[numbers[0]], tables, supply.unchanged) for each in tables.lists
        )
        found.append(
            SupplyClass(
                tuple(numbers), supply.nominal_v, allowed, current, _upstream_v(tables, places, current)
            )
        )
    return found


def _allowed(
    lists: GroupOptions, verdicts: dict[str, Verdict], tables: Tables, unchanged: bool
) -> NDArray[np.bool_]:
    """Options whose servos may have the volts: new ones without any doubt, those that stay unless over."""
    own_over = any(kind is not None and verdicts[kind.code] is Verdict.OVER for kind in lists.own_types)
    may_stay = not own_over or (unchanged and (tables.keep_weak or lists.locked))
    found = []
    for option in lists.options:
        if option.servo_type == KEEP:
            found.append(may_stay)
        else:
            some_stay = len(option.changed) < len(lists.group.fits)
            verdict_now = verdicts[option.servo_type]
            found.append(verdict_now is Verdict.WITHIN or (some_stay and not option.changed))
    return np.array(found, np.bool_)


def _upstream_v(
    tables: Tables, places: dict[str, Place], current: tuple[list[Floats], ...]
) -> tuple[list[Floats], ...]:
    """Volts lost between bus and lead: own group's currents as they are, other groups' at their most."""
    where = {
        fit.code: (at, row) for at, each in enumerate(tables.lists) for row, fit in enumerate(each.group.fits)
    }
    found = []
    for at, each in enumerate(tables.lists):
        own = []
        for fit in each.group.fits:
            lost = np.zeros(len(tables.strengths[at].variants))
            for ohm, steady_a, fed in places[fit.code].upstream:
                lost = lost + ohm * steady_a
                for code in fed:
                    if code in where:
                        group, row = where[code]
                        amps = current[group][row]
                        lost = lost + ohm * (amps if group == at else float(np.nanmax(amps, initial=0.0)))
            own.append(lost)
        found.append(own)
    return tuple(found)
