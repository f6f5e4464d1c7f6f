"""Find the operating point of a supply network: modified nodal equations and Newton's method.

Unknowns are the node volts and, for packs and resistors of almost no resistance, their currents.
Linear parts are stamped once; diodes, regulators, moving servos and constant-power loads are
stamped anew in each Newton step.  Theory: C.-W. Ho, A. Ruehli and P. Brennan, "The modified nodal
approach to network analysis", IEEE Trans. Circuits and Systems 22 (1975) 504-509.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from hangar.base.errors import NoAnswer
from hangar.physics.network_elements import (
    CurrentLoad,
    Diode,
    Element,
    MovingServo,
    Pack,
    PowerLoad,
    Regulator,
    Resistor,
    TwoPole,
)

Vector = NDArray[np.float64]

RESIDUAL_LIMIT_A = 1e-9
# Below this a branch gets its own current unknown: volts over ohms would lose too many digits.
_SMALL_OHM = 1e-3
_LEAST_SHARE = 0.02
# Slope given to a part that blocks, in Newton's matrix only: what hangs on it must not fly off.
_BLOCKED_SIEMENS = 1e-3
# Holds nodes that nothing holds (behind blocked diodes); far below the residual limit in effect.
_HOLDING_SIEMENS = 1e-12


def collapse(detail: str) -> NoAnswer:
    """The error for a network that cannot carry its loads."""
    return NoAnswer(f"no operating point: the supply collapses ({detail})")


class Equations:
    """The stamped equations of one network.

    Args:
        elements: The parts.
        node_index: Node name to row; nodes held at 0 V share the row after the last unknown.
        node_count: Number of node unknowns.
    """

    def __init__(self, elements: Sequence[Element], node_index: dict[str, int], node_count: int) -> None:
        self.elements = elements
        self.own_current = [
            e for e in elements if isinstance(e, (Pack, Resistor)) and e.resistance_ohm < _SMALL_OHM
        ]
        self.size = node_count + len(self.own_current)
        self.node_count = node_count
        self.row = {node: index if index < node_count else self.size for node, index in node_index.items()}
        self.own_row = {e.name: node_count + k for k, e in enumerate(self.own_current)}
        self.current_loads = [e for e in elements if isinstance(e, CurrentLoad)]
        self.regulators = [
            (e, self.row[e.input], self.row[e.output], self.row[e.ground])
            for e in elements
            if isinstance(e, Regulator)
        ]
        self.two_poles: list[tuple[TwoPole, int, int]] = [
            (e, self.row[e.a], self.row[e.b])
            for e in elements
            if not isinstance(e, (Pack, Resistor, CurrentLoad, Regulator))
        ]
        self.may_fold = any(e.switching for e, *_ in self.regulators) or any(
            isinstance(e, PowerLoad) for e, *_ in self.two_poles
        )
        self.highest_v = max(1.0, sum(e.open_circuit_v for e in elements if isinstance(e, Pack)))
        self._stamp()

    @property
    def is_linear(self) -> bool:
        return not self.two_poles and not self.regulators

    def _stamp(self) -> None:
        width = self.size + 1
        places: list[int] = []
        values: list[float] = []
        fixed = [0.0] * width
        drawn = [0.0] * width
        for e in self.elements:
            if isinstance(e, Pack):
                a, b, emf = self.row[e.positive], self.row[e.negative], e.open_circuit_v
            elif isinstance(e, Resistor):
                a, b, emf = self.row[e.a], self.row[e.b], 0.0
            elif isinstance(e, CurrentLoad):
                drawn[self.row[e.a]] -= e.current_a
                drawn[self.row[e.b]] += e.current_a
                continue
            else:
                continue
            ohm = e.resistance_ohm
            if ohm < _SMALL_OHM:
                # Own current counts from a to b through the element: va - vb - emf = ohm * current.
                k = self.own_row[e.name]
                places += (a * width + k, b * width + k, k * width + a, k * width + b, k * width + k)
                values += (1.0, -1.0, 1.0, -1.0, -ohm)
                fixed[k] += emf
                continue
            siemens = 1.0 / ohm
            places += (a * width + a, b * width + b, a * width + b, b * width + a)
            values += (siemens, siemens, -siemens, -siemens)
            if emf:
                fixed[a] += emf * siemens
                fixed[b] -= emf * siemens
        flat = np.bincount(np.asarray(places, dtype=np.intp), np.asarray(values), minlength=width * width)
        self.matrix: Vector = flat.astype(np.float64).reshape(width, width)
        self.fixed: Vector = np.asarray(fixed)
        self.drawn: Vector = np.asarray(drawn)

    def _solve(self, matrix: Vector, right: Vector) -> Vector:
        held = matrix[:-1, :-1].copy()
        diagonal = held.ravel()[:: self.size + 1][: self.node_count]
        diagonal += _HOLDING_SIEMENS
        x = np.zeros(self.size + 1)
        x[:-1] = np.linalg.solve(held, right[:-1])
        return x

    def imbalance(self, x: Vector, share: float, matrix: Vector | None = None) -> Vector:
        """Left side of the equations at ``x``; stamps the slopes into ``matrix`` when given."""
        f: Vector = self.matrix @ x - self.fixed - share * self.drawn
        volts = x.tolist()
        for e, a, b in self.two_poles:
            current, slope = e.current_and_slope(volts[a] - volts[b], share)
            f[a] += current
            f[b] -= current
            if matrix is not None and (slope or isinstance(e, Diode)):
                slope = slope or _BLOCKED_SIEMENS
                matrix[a, a] += slope
                matrix[b, b] += slope
                matrix[a, b] -= slope
                matrix[b, a] -= slope
        for regulator, i, o, g in self.regulators:
            self._add_regulator(regulator, (i, o, g), volts, f, matrix)
        f[-1] = 0.0
        return f

    @staticmethod
    def _add_regulator(
        regulator: Regulator, rows: tuple[int, int, int], volts: list[float], f: Vector, matrix: Vector | None
    ) -> None:
        i, o, g = rows
        input_v, output_v = volts[i] - volts[g], volts[o] - volts[g]
        output = regulator.output_state(input_v, output_v)
        current, out_by_in, out_by_out, state = output
        drawn, in_by_in, in_by_out = regulator.input_state(input_v, output_v, output)
        f[i] += drawn
        f[o] -= current
        f[g] += current - drawn
        if matrix is None:
            return
        if state == "off":
            out_by_out = -_BLOCKED_SIEMENS
        for row, by_in, by_out in (
            (i, in_by_in, in_by_out),
            (o, -out_by_in, -out_by_out),
            (g, out_by_in - in_by_in, out_by_out - in_by_out),
        ):
            matrix[row, i] += by_in
            matrix[row, o] += by_out
            matrix[row, g] -= by_in + by_out

    def start(self) -> Vector:
        """A first guess from above: diodes conduct, regulators regulate, other loads draw too little."""
        matrix = self.matrix.copy()
        right = self.fixed + self.drawn
        for e, a, b in self.two_poles:
            if isinstance(e, Diode):
                _stamp_source(matrix, right, (a, b), 1.0 / e.resistance_ohm, e.forward_v)
            elif isinstance(e, MovingServo):
                least = min(1.0 / e.stall_resistance_ohm, e.running_current_a / self.highest_v)
                _stamp_source(matrix, right, (a, b), least, 0.0)
            else:
                _stamp_source(matrix, right, (a, b), e.power_w / self.highest_v**2, 0.0)
        trial, trial_right = matrix.copy(), right.copy()
        for regulator in self.regulators:
            _stamp_regulating(trial, trial_right, *regulator)
        x = self._solve(trial, trial_right)
        starved = [r.name for r, i, o, g in self.regulators if x[i] - x[g] < r.set_v + r.drop_v]
        if not starved:
            return x
        for regulator in self.regulators:
            stamp = _stamp_dropped if regulator[0].name in starved else _stamp_regulating
            stamp(matrix, right, *regulator)
        return self._solve(matrix, right)

    def newton(
        self, x: Vector, share: float = 1.0, steps: int = 30, step_limit_v: float = np.inf
    ) -> Vector | None:
        """Newton's method from ``x``; None when it does not settle."""
        best = np.inf
        for _ in range(steps):
            matrix = self.matrix.copy()
            f = self.imbalance(x, share, matrix)
            size = float(np.max(np.abs(f), initial=0.0))
            if size < 1e-11 or (size < RESIDUAL_LIMIT_A and size > 0.5 * best):
                return x
            best = min(best, size)
            try:
                change = self._solve(matrix, f)
            except np.linalg.LinAlgError:
                return None
            largest = float(np.max(np.abs(change[: self.node_count]), initial=0.0))
            if not np.isfinite(largest):
                return None
            x = x - change * min(1.0, step_limit_v / largest) if largest else x - change
        f = self.imbalance(x, share)
        return x if np.max(np.abs(f), initial=0.0) < RESIDUAL_LIMIT_A else None

    def starved_load(self, x: Vector) -> str | None:
        """Name of a load that would have to draw its current or power at no volts, or None."""
        for load in self.current_loads:
            if load.current_a > 0.0 and x[self.row[load.a]] <= x[self.row[load.b]]:
                return load.name
        for e, a, b in self.two_poles:
            if isinstance(e, PowerLoad) and e.power_w > 0.0 and x[a] - x[b] <= 1e-3:
                return e.name
        for r, i, o, g in self.regulators:
            if x[i] - x[g] <= 0.1 and r.output_state(x[i] - x[g], x[o] - x[g])[0] > 0.0:
                return r.name
        return None

    def is_stable(self, x: Vector, share: float = 1.0) -> bool:
        """Whether the point lies on the branch reached from no load.

        On that branch the falling characteristics (amps that rise as volts fall) ask for less than
        the rest of the network can follow: seen from their ports, the network's impedance times
        their slope stays below one.
        """
        if not self.may_fold:
            return True
        matrix = self.matrix.copy()
        self.imbalance(x, share, matrix)
        ports = self._falling_ports(x, share)
        if not ports:
            return True
        incidence = np.zeros((self.size + 1, len(ports)))
        for k, (a, b, slope) in enumerate(ports):
            _stamp_source(matrix, incidence[:, k], (a, b), slope, 0.0)
            incidence[a, k], incidence[b, k] = 1.0, -1.0
        held = matrix[:-1, :-1]
        held[np.arange(self.node_count), np.arange(self.node_count)] += _HOLDING_SIEMENS
        try:
            seen = incidence[:-1].T @ np.linalg.solve(held, incidence[:-1])
        except np.linalg.LinAlgError:
            return False
        gains = np.linalg.eigvals(seen * np.array([slope for _, _, slope in ports]))
        return bool(np.all(gains.real < 1.0))

    def _falling_ports(self, x: Vector, share: float) -> list[tuple[int, int, float]]:
        """Nodes and size of every falling slope at a point."""
        ports = []
        for e, a, b in self.two_poles:
            slope = e.current_and_slope(float(x[a] - x[b]), share)[1]
            if slope < 0.0:
                ports.append((a, b, -slope))
        for r, i, o, g in self.regulators:
            input_v, output_v = float(x[i] - x[g]), float(x[o] - x[g])
            output = r.output_state(input_v, output_v)
            if r.switching and input_v > 0.1 and output[0] > 0.0:
                drawn = r.input_state(input_v, output_v, output)[0] - r.quiescent_a
                ports.append((i, g, max(0.0, drawn) / input_v))
        return ports


def _stamp_source(matrix: Vector, right: Vector, rows: tuple[int, int], siemens: float, emf: float) -> None:
    a, b = rows
    matrix[a, a] += siemens
    matrix[b, b] += siemens
    matrix[a, b] -= siemens
    matrix[b, a] -= siemens
    right[a] += siemens * emf
    right[b] -= siemens * emf


def _stamp_regulating(
    matrix: Vector, right: Vector, r: Regulator, input_row: int, output_row: int, ground_row: int
) -> None:
    """A regulator holding its output; its input draws that current, or half of it when switching."""
    siemens = 1.0 / r.regulation_ohm
    _stamp_source(matrix, right, (output_row, ground_row), siemens, r.set_v)
    passed = siemens * (0.5 if r.switching else 1.0)
    for row, sign in ((input_row, -passed), (ground_row, passed)):
        matrix[row, output_row] += sign
        matrix[row, ground_row] -= sign
        right[row] += sign * r.set_v


def _stamp_dropped(
    matrix: Vector, right: Vector, r: Regulator, input_row: int, output_row: int, ground_row: int
) -> None:
    """A regulator whose input is too low: a resistance with a fixed drop."""
    del ground_row
    _stamp_source(matrix, right, (input_row, output_row), 1.0 / r.drop_ohm, r.drop_v)


def operating_point(equations: Equations) -> Vector:
    """Volts and own currents at the operating point reached from no load.

    Raises:
        NoAnswer: "no operating point: the supply collapses", with what gave way.
    """
    try:
        start = equations.start()
    except np.linalg.LinAlgError:
        raise collapse("sources without resistance are set against each other") from None
    if equations.is_linear:
        return _linear_point(equations, start)
    for limit, steps in ((equations.highest_v, 25), (1.0, 80)):
        x = equations.newton(start, steps=steps, step_limit_v=limit)
        if x is not None and _is_acceptable(equations, x, 1.0):
            return x
    return _from_no_load(equations, start)


def _is_acceptable(equations: Equations, x: Vector, share: float) -> bool:
    return equations.starved_load(x) is None and equations.is_stable(x, share)


def _linear_point(equations: Equations, start: Vector) -> Vector:
    x = equations.newton(start)
    starved = None if x is None else equations.starved_load(x)
    if x is None or starved is not None:
        raise collapse(f"nothing is left for {starved}" if starved else "the equations cannot be balanced")
    return x


def _from_no_load(equations: Equations, start: Vector) -> Vector:
    """Follow the operating point while the drawing loads grow from nothing to their full value."""
    # A little load is left on so that blocking diodes conduct.
    share, step = _LEAST_SHARE, 0.25
    x = equations.newton(start, share=share, steps=200, step_limit_v=1.0)
    if x is None:
        raise collapse("not even the unloaded network balances")
    while share < 1.0:
        trial_share = min(1.0, share + step)
        trial = equations.newton(x, share=trial_share, steps=40, step_limit_v=1.0)
        if trial is not None and _is_acceptable(equations, trial, trial_share):
            x, share, step = trial, trial_share, 2.0 * step
            continue
        step *= 0.5
        if step < 1.0 / 512.0:
            return _beyond_the_fold(equations, x, share)
    return x


def _beyond_the_fold(equations: Equations, x: Vector, share: float) -> Vector:
    """A switching regulator that cannot regulate falls into drop-out: look for that point lower down."""
    if any(regulator.switching for regulator, *_ in equations.regulators):
        for factor in (0.9, 0.75, 0.6, 0.4):
            trial = equations.newton(factor * x, steps=60, step_limit_v=1.0)
            if trial is not None and _is_acceptable(equations, trial, 1.0):
                return trial
    raise collapse(f"it carries about {100.0 * share:.0f} % of what the loads ask")
