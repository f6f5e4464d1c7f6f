"""The equations of a supply network, stamped for Newton's method (modified nodal analysis).

Unknowns are the node volts and, for packs and resistors of almost no resistance, their currents.
Linear parts are stamped once; diodes, regulators, moving servos and constant-power loads are
stamped anew in each Newton step.  Theory: C.-W. Ho, A. Ruehli and P. Brennan, "The modified nodal
approach to network analysis", IEEE Trans. Circuits and Systems 22 (1975) 504-509.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from hangar.physics.network_elements import (
    CurrentLoad,
    Diode,
    Element,
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
_MOST_ROUNDS = 25
# Slope given to a part that blocks, in Newton's matrix only: what hangs on it must not fly off.
BLOCKED_SIEMENS = 1e-3
# Holds nodes that nothing holds (behind blocked diodes); far below the residual limit in effect.
_HOLDING_SIEMENS = 1e-12


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
        """Whether one linear solution is the answer: no diodes, regulators or loads that bend."""
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

    def solve_linear(self, matrix: Vector, right: Vector) -> Vector:
        """Solution of linear equations in the unknowns; nodes that nothing holds are held weakly."""
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
                slope = slope or BLOCKED_SIEMENS
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
            out_by_out = -BLOCKED_SIEMENS
        for row, by_in, by_out in (
            (i, in_by_in, in_by_out),
            (o, -out_by_in, -out_by_out),
            (g, out_by_in - in_by_in, out_by_out - in_by_out),
        ):
            matrix[row, i] += by_in
            matrix[row, o] += by_out
            matrix[row, g] -= by_in + by_out

    @staticmethod
    def stamp_source(matrix: Vector, right: Vector, rows: tuple[int, int], ohm: float, emf_v: float) -> None:
        """Add a resistance with a fixed drop between two rows."""
        a, b = rows
        siemens = 1.0 / ohm
        matrix[a, a] += siemens
        matrix[b, b] += siemens
        matrix[a, b] -= siemens
        matrix[b, a] -= siemens
        right[a] += siemens * emf_v
        right[b] -= siemens * emf_v

    def newton(self, x: Vector, share: float = 1.0) -> Vector | None:
        """Newton's method from ``x``; None when it does not settle.

        Full steps are quick, but can swing for ever across a corner in a part's law.
        """
        best = np.inf
        for _ in range(_MOST_ROUNDS):
            matrix = self.matrix.copy()
            f = self.imbalance(x, share, matrix)
            size = _largest(f)
            if _is_settled(size, best):
                return x
            best = min(best, size)
            change = self._newton_change(matrix, f)
            if change is None:
                return None
            x = x - change
        return x if _largest(self.imbalance(x, share)) < RESIDUAL_LIMIT_A else None

    def _newton_change(self, matrix: Vector, f: Vector) -> Vector | None:
        try:
            change = self.solve_linear(matrix, f)
        except np.linalg.LinAlgError:
            return None
        largest = _largest(change[: self.node_count])
        if not np.isfinite(largest):
            return None
        return change * (self.highest_v / largest) if largest > self.highest_v else change

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
            self.stamp_source(matrix, incidence[:, k], (a, b), 1.0 / slope, 0.0)
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
                if drawn > 0.0:
                    ports.append((i, g, drawn / input_v))
        return ports


def _largest(values: Vector) -> float:
    return float(np.max(np.abs(values), initial=0.0))


def _is_settled(size: float, best_before: float) -> bool:
    """Whether the imbalance is nothing, or small and no longer falling (rounding is reached)."""
    return size < 1e-11 or (size < RESIDUAL_LIMIT_A and size > 0.5 * best_before)
