"""The operating point of a supply network: the one reached as its loads come on from nothing.

Source: Newton's method with continuation from no load.
"""

from __future__ import annotations

import numpy as np

from hangar.base.errors import NoAnswer
from hangar.physics.network_solver import Equations, Vector

_LEAST_SHARE = 0.02


def collapse(detail: str) -> NoAnswer:
    """The error for a network that cannot carry its loads.

    >>> str(collapse("no pack"))
    'no operating point: the supply collapses (no pack)'
    """
    return NoAnswer(f"no operating point: the supply collapses ({detail})")


def operating_point(equations: Equations) -> Vector:
    """Volts and own currents at the operating point reached from no load.

    Raises:
        NoAnswer: "no operating point: the supply collapses", with what gave way.

    >>> from hangar.physics.network_elements import read_element
    >>> pack = {"type": "pack", "name": "P", "pos": "p", "neg": "0", "voc_v": 5.0, "r_ohm": 0.1}
    >>> load = {"type": "load_current", "name": "L", "a": "p", "b": "0", "i_a": 10.0}
    >>> parts = [read_element(pack), read_element(load)]
    >>> round(float(operating_point(Equations(parts, {"p": 0, "0": 1}, 1))[0]), 6)
    4.0
    """
    try:
        start = equations.start()
    except np.linalg.LinAlgError:
        raise collapse("packs or leads without any resistance stand side by side") from None
    if equations.is_linear:
        return _linear_point(equations, start)
    x = _settled(equations, start, 1.0)
    return _from_no_load(equations) if x is None else x


def _settled(equations: Equations, start: Vector, share: float) -> Vector | None:
    """A point that balances, feeds every load and can be reached; full Newton steps first."""
    for careful in (False, True):
        x = equations.newton(start, share, careful=careful)
        if x is not None and _is_acceptable(equations, x, share):
            return x
    return None


def _is_acceptable(equations: Equations, x: Vector, share: float) -> bool:
    return equations.starved_load(x) is None and equations.is_stable(x, share)


def _linear_point(equations: Equations, start: Vector) -> Vector:
    x = equations.newton(start)
    starved = None if x is None else equations.starved_load(x)
    if x is None or starved is not None:
        raise collapse(f"nothing is left for {starved}" if starved else "the equations cannot be balanced")
    return x


def _from_no_load(equations: Equations) -> Vector:
    """Follow the operating point while the drawing loads grow from nothing to their full value."""
    # A little load is left on so that blocking diodes conduct.
    share, step = _LEAST_SHARE, 0.25
    x = _settled(equations, equations.start(share), share)
    if x is None:
        raise collapse("the loads ask more than it can carry")
    while share < 1.0:
        trial_share = min(1.0, share + step)
        trial = _settled(equations, x, trial_share)
        if trial is not None:
            x, share, step = trial, trial_share, 2.0 * step
            continue
        step *= 0.5
        if step < 1.0 / 128.0:
            return _beyond_the_fold(equations, x, share)
    return x


def _beyond_the_fold(equations: Equations, x: Vector, share: float) -> Vector:
    """A switching regulator that cannot regulate falls into drop-out: look for that point lower down."""
    if any(regulator.switching for regulator, *_ in equations.regulators):
        for factor in (0.9, 0.75, 0.6, 0.4):
            trial = _settled(equations, factor * x, 1.0)
            if trial is not None:
                return trial
    raise collapse(f"it carries about {100.0 * share:.0f} % of what the loads ask")
