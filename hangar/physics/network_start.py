"""A first guess at a supply's operating point, taken from above: every load draws too little there.

Each one-way part (diode, regulator) is first taken as feeding; where that would drive current back
into it, it is shut.  Left open it would drag the guess far below the point, into the reach of lower
points that the supply never falls to.

Source: Kirchhoff's laws on the straight stretches of the parts' laws.
"""

from __future__ import annotations

import math

from hangar.base.errors import BadInput
from hangar.physics.network_elements import Diode, MovingServo, PowerLoad, Regulator
from hangar.physics.network_solver import BLOCKED_SIEMENS, Equations, Vector

_MOST_ROUNDS = 24

_Rows = tuple[int, ...]
_OneWay = tuple[Diode | Regulator, _Rows]


def first_guess(equations: Equations, share: float = 1.0) -> Vector:
    """Volts and own currents to start from, with a share of the drawing loads on.

    Args:
        equations: The network.
        share: Share of the drawing loads that is on, 0 to 1.

    Raises:
        BadInput: A share outside 0 to 1.
        numpy.linalg.LinAlgError: parts without any resistance stand side by side.

    >>> from hangar.physics.network_elements import read_element
    >>> parts = [read_element(each) for each in (
    ...     {"type": "pack", "name": "P", "pos": "p", "neg": "0", "voc_v": 5.0, "r_ohm": 0.1},
    ...     {"type": "diode", "name": "D", "a": "p", "b": "bus", "vf_v": 0.3, "ron_ohm": 0.1},
    ...     {"type": "load_current", "name": "L", "a": "bus", "b": "0", "i_a": 2.0})]
    >>> round(float(first_guess(Equations(parts, {"p": 0, "bus": 1, "0": 2}, 2))[1]), 6)
    4.3
    """
    if not 0.0 <= share <= 1.0:
        raise BadInput("a share of {share:g} of the loads was given; 0 to 1 is allowed", share=share)
    matrix = equations.matrix.copy()
    right = equations.fixed + share * equations.drawn
    one_way: list[_OneWay] = [(r, (i, o, g)) for r, i, o, g in equations.regulators]
    for e, a, b in equations.two_poles:
        if isinstance(e, Diode):
            one_way.append((e, (a, b)))
        else:
            Equations.stamp_source(matrix, right, (a, b), _greatest_ohm(e, equations.highest_v), 0.0)
    if not one_way:
        return equations.solve_linear(matrix, right)
    return _with_one_way(equations, one_way, matrix, right)


def _greatest_ohm(load: MovingServo | PowerLoad, highest_v: float) -> float:
    """A resistance that draws no more than the load does, up to the highest volts."""
    if isinstance(load, MovingServo):
        if load.running_current_a == 0.0:
            return math.inf
        return max(load.stall_resistance_ohm, highest_v / load.running_current_a)
    return highest_v**2 / load.power_w if load.power_w else math.inf


def _with_one_way(equations: Equations, one_way: list[_OneWay], matrix: Vector, right: Vector) -> Vector:
    shut: set[str] = set()
    starved: set[str] = set()
    x = right
    for _ in range(_MOST_ROUNDS):
        trial, trial_right = matrix.copy(), right.copy()
        for e, rows in one_way:
            _stamp_one_way(trial, trial_right, e, rows, _state(e, shut, starved))
        x = equations.solve_linear(trial, trial_right)
        volts = x.tolist()
        back = {e.name for e, rows in one_way if e.name not in shut and _runs_back(e, rows, volts, starved)}
        if back:
            shut |= back
            continue
        fallen = {
            e.name
            for e, rows in one_way
            if e.name not in shut and e.name not in starved and _is_starved(e, rows, volts)
        }
        if not fallen:
            return x
        # The bus falls with them, so what it held shut may feed again.
        starved |= fallen
        shut.clear()
    return x


def _state(e: Diode | Regulator, shut: set[str], starved: set[str]) -> str:
    return "shut" if e.name in shut else "starved" if e.name in starved else "feeding"


def _runs_back(e: Diode | Regulator, rows: _Rows, volts: list[float], starved: set[str]) -> bool:
    if isinstance(e, Diode):
        a, b = rows
        return volts[a] - volts[b] < e.forward_v
    i, o, g = rows
    if e.name in starved:
        return volts[i] - volts[o] < e.drop_v
    return volts[o] - volts[g] > e.set_v


def _is_starved(e: Diode | Regulator, rows: _Rows, volts: list[float]) -> bool:
    return isinstance(e, Regulator) and volts[rows[0]] - volts[rows[2]] < e.set_v + e.drop_v


def _stamp_one_way(matrix: Vector, right: Vector, e: Diode | Regulator, rows: _Rows, state: str) -> None:
    through = (rows[0], rows[1])
    if state == "shut":
        Equations.stamp_source(matrix, right, through, 1.0 / BLOCKED_SIEMENS, 0.0)
    elif isinstance(e, Diode):
        Equations.stamp_source(matrix, right, through, e.resistance_ohm, e.forward_v)
    elif state == "starved":
        # A regulator whose input is too low: a resistance with a fixed drop.
        Equations.stamp_source(matrix, right, through, e.drop_ohm, e.drop_v)
    else:
        _stamp_regulating(matrix, right, e, rows)


def _stamp_regulating(matrix: Vector, right: Vector, r: Regulator, rows: _Rows) -> None:
    """A regulator holding its output; its input draws that current, or half of it when switching."""
    input_row, output_row, ground_row = rows
    siemens = 1.0 / r.regulation_ohm
    Equations.stamp_source(matrix, right, (output_row, ground_row), r.regulation_ohm, r.set_v)
    passed = siemens * (0.5 if r.switching else 1.0)
    for row, sign in ((input_row, -passed), (ground_row, passed)):
        matrix[row, output_row] += sign
        matrix[row, ground_row] -= sign
        right[row] += sign * r.set_v
