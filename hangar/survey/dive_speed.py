"""The greatest speed an aircraft is judged at: its own, or what is usual of its class and wing loading.

Speeds of aircraft that are alike go with the square root of the wing loading: lift at one coefficient, and
the speed at which drag balances a share of the weight, both hold weight over area against dynamic pressure.
"""

from __future__ import annotations

import math

from hangar.parts import Airframe
from hangar.survey.defaults import Defaults
from hangar.survey.figures import Facts

_LEAST, _MOST = 0.25, 1.2
"""Bounds of the square root: beyond them a record is more likely wrong; engineering judgement, no source."""


def dive_speed_m_s(airframe: Airframe, defaults: Defaults, facts: Facts | None = None) -> float:
    """Dive speed of an aircraft [m/s].

    Args:
        airframe: whose own dive speed goes before all.
        defaults: class defaults; the value of a class is that at its usual wing loading.
        facts: takes the inputs.
    """
    noted = facts if facts is not None else Facts()
    kind, entered = airframe.aircraft_class, noted.known(airframe, "dive_speed_m_s")
    if entered is not None:
        return entered
    usual = noted.assume(defaults.dive_speed, kind)
    loading = _loading_g_dm2(airframe)
    if kind is None or loading is None:
        return usual
    typical = noted.assume(defaults.usual_wing_loading, kind)
    share = min(_MOST, max(_LEAST, math.sqrt(loading / typical)))
    noted.note("wing loading", loading, "g/dm2")
    return share * usual


def _loading_g_dm2(airframe: Airframe) -> float | None:
    area = airframe.wing_area_dm2
    if area is None and airframe.span_mm is not None and airframe.mean_chord_mm is not None:
        area = airframe.span_mm * airframe.mean_chord_mm * (airframe.wing_count or 1) / 10_000.0
    if airframe.all_up_mass_g is None or not area:
        return None
    return airframe.all_up_mass_g / area
