"""The operating point of a supply network: the one reached as its loads come on from nothing.

Source: Newton's method from above, and where that fails the fall of the volts in time.
"""

from __future__ import annotations

import numpy as np

from hangar.base.errors import NoAnswer
from hangar.base.text import Text, text
from hangar.physics.network_fall import fall
from hangar.physics.network_solver import Equations, Vector
from hangar.physics.network_start import first_guess

_SHARE_HALVINGS = 7


def collapse(detail: Text) -> NoAnswer:
    """The error for a network that cannot carry its loads.

    >>> str(collapse(text("no pack")))
    'no operating point: the supply collapses (no pack)'
    """
    return NoAnswer("no operating point: the supply collapses ({detail})", detail=detail)


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
        start = first_guess(equations)
    except np.linalg.LinAlgError:
        raise collapse(text("packs or leads without any resistance stand side by side")) from None
    if equations.is_linear:
        return _linear_point(equations, start)
    x = _quickly(equations, start, 1.0)
    if x is None:
        x = _slowly(equations, start, 1.0)
    if x is None:
        raise collapse(_carried(equations))
    return x


def _quickly(equations: Equations, start: Vector, share: float) -> Vector | None:
    x = equations.newton(start, share)
    return x if x is not None and _is_acceptable(equations, x, share) else None


def _slowly(equations: Equations, start: Vector, share: float) -> Vector | None:
    x = fall(equations, start, share)
    return x if x is not None and _is_acceptable(equations, x, share) else None


def _is_acceptable(equations: Equations, x: Vector, share: float) -> bool:
    return equations.starved_load(x) is None and equations.is_stable(x, share)


def _linear_point(equations: Equations, start: Vector) -> Vector:
    x = equations.newton(start)
    starved = None if x is None else equations.starved_load(x)
    if x is None or starved is not None:
        raise collapse(
            text("nothing is left for {load}", load=starved)
            if starved
            else text("the equations cannot be balanced")
        )
    return x


def _carried(equations: Equations) -> Text:
    """How much of its drawing loads a network that collapses under them still carries."""
    carried, too_much = 0.0, 1.0
    reached: Vector | None = None
    for _ in range(_SHARE_HALVINGS):
        share = 0.5 * (carried + too_much)
        start = first_guess(equations, share) if reached is None else reached
        x = _quickly(equations, start, share)
        if x is None:
            x = _slowly(equations, start, share)
        if x is None:
            too_much = share
        else:
            carried, reached = share, x
    if carried == 0.0:
        return text("the loads ask more than it can carry")
    return text("it carries about {percent:.0f} % of what the loads ask", percent=100.0 * carried)
