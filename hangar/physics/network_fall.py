"""The way a supply falls to its operating point when its loads come on: Euler's implicit steps in time.

With a capacitor at every node the volts fall from above, never past the highest point that balances,
and where none is left they fall until a load starves.  Slower than Newton's method, but neither corners
in the parts' laws nor lower points lead it astray.

Source: pseudo-transient continuation; C. T. Kelley and D. E. Keyes, "Convergence analysis of
pseudo-transient continuation", SIAM J. Numerical Analysis 35 (1998) 508-523 (from memory, unverified).
"""

from __future__ import annotations

import numpy as np

from hangar.base.errors import BadInput
from hangar.physics.network_solver import RESIDUAL_LIMIT_A, Equations, Vector

_FIRST_STEP_S = 1e-3
_LEAST_STEP_S = 1e-6
_LAST_STEP_S = 1e6
_MOST_STEPS = 300
_MOST_ROUNDS = 6
# A longer stride could jump over the point.
_STRIDE_V = 0.25


def fall(equations: Equations, x: Vector, share: float) -> Vector | None:
    """The point at which the volts come to rest, from volts above it; None where a load starves first.

    Args:
        equations: The network.
        x: Volts and own currents to fall from.
        share: Share of the drawing loads that is on, 0 to 1.

    Raises:
        BadInput: A share outside 0 to 1.

    >>> from hangar.physics.network_elements import read_element
    >>> parts = [read_element(each) for each in (
    ...     {"type": "pack", "name": "P", "pos": "p", "neg": "0", "voc_v": 8.0, "r_ohm": 0.5},
    ...     {"type": "load_power", "name": "L", "a": "p", "b": "0", "p_w": 24.0})]
    >>> round(float(fall(Equations(parts, {"p": 0, "0": 1}, 1), np.array([8.0, 0.0]), 1.0)[0]), 6)
    6.0
    """
    if not 0.0 <= share <= 1.0:
        raise BadInput("a share of {share:g} of the loads was given; 0 to 1 is allowed", share=share)
    step_s = _FIRST_STEP_S
    for _ in range(_MOST_STEPS):
        trial = _step(equations, x, share, step_s)
        if trial is None:
            step_s *= 0.25
            if step_s < _LEAST_STEP_S:
                return None
            continue
        x = trial
        if equations.starved_load(x) is not None:
            return None
        if step_s >= _LAST_STEP_S or _is_at_rest(equations, x, share):
            return equations.newton(x, share)
        step_s *= 3.0
    return None


def _is_at_rest(equations: Equations, x: Vector, share: float) -> bool:
    return float(np.max(np.abs(equations.imbalance(x, share)))) < RESIDUAL_LIMIT_A


def _step(equations: Equations, before: Vector, share: float, step_s: float) -> Vector | None:
    """Volts a step later, with a farad at every node; None when the step is too long to be sure of."""
    nodes = np.arange(equations.node_count)
    x = before
    for _ in range(_MOST_ROUNDS):
        matrix = equations.matrix.copy()
        f = equations.imbalance(x, share, matrix)
        f[nodes] += (x - before)[nodes] / step_s
        matrix[nodes, nodes] += 1.0 / step_s
        size = float(np.max(np.abs(f)))
        if size < RESIDUAL_LIMIT_A * max(1.0, 1e-3 / step_s):
            return x
        try:
            change = equations.solve_linear(matrix, f)
        except np.linalg.LinAlgError:
            return None
        x = x - change
        strode_v = float(np.max(np.abs(x - before)[nodes], initial=0.0))
        if not strode_v < _STRIDE_V:
            return None
    return None
