"""The on-board supply as a network: what volts every part gets and what current every lead carries."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Any

from hangar.base.errors import BadInput
from hangar.base.text import text
from hangar.base.values import value_class
from hangar.physics.network_elements import (
    CurrentLoad,
    Element,
    Pack,
    Regulator,
    Resistor,
    read_element,
)
from hangar.physics.network_point import collapse, operating_point
from hangar.physics.network_solver import RESIDUAL_LIMIT_A, Equations
from hangar.physics.pulse import flight_profile, pulse_response

__all__ = ["Network", "Solution", "flight_profile", "pulse_response"]


# Two parts below this, side by side, cannot be told apart from none in a sum of currents.
_NO_OHM = 1e-12


@value_class
class RegulatorPoint:
    """How one regulator works: amps in and out, volts in and out, and its state in a word.

    ``state`` is ``regulating``, ``drop-out``, ``limiting`` or ``off``.
    """

    input_v: float
    output_v: float
    input_a: float
    output_a: float
    state: str

    @property
    def heat_w(self) -> float:
        """Power turned into heat in the regulator."""
        return self.input_v * self.input_a - self.output_v * self.output_a


@dataclass(frozen=True, slots=True)
class Solution:
    """The operating point of a network.

    Attributes:
        node_v: Volts of every node against the reference node.
        branch_a: Amps of every element, counted from its first node to its second; of a pack,
            out of its plus pole; of a regulator, out of its output.
        across_v: Volts across every element: first node less second; of a regulator, its output
            against its ground.
        regulators: How each regulator works.
        residual_a: Largest sum of currents left over at any node.
    """

    node_v: dict[str, float]
    branch_a: dict[str, float]
    across_v: dict[str, float]
    regulators: dict[str, RegulatorPoint]
    residual_a: float


@dataclass(frozen=True, slots=True)
class Network:
    """Packs, leads, switches, regulators and loads joined at named nodes.

    The reference is the named node (``0`` unless told otherwise); without it, the minus pole of the
    first pack is.  A part of the
    network that has no way to the reference (both legs of its switch open) floats, and its volts
    count from its own pack's minus pole.
    """

    elements: tuple[Element, ...]
    reference_node: str = "0"

    @classmethod
    def from_dict(cls, data: Mapping[str, Any]) -> Network:
        """Read a network from plain data.

        Args:
            data: ``{"elements": [...]}``, with a ``reference_node`` if that is not ``0``; the forms
                are those of :func:`hangar.physics.network_elements.read_element`.

        Raises:
            BadInput: A missing or impossible value, two elements of one name, or a reference that is
                no node of the network.

        >>> supply = Network.from_dict({"elements": [
        ...     {"type": "pack", "name": "P", "pos": "p", "neg": "0", "voc_v": 5.2, "r_ohm": 0.13},
        ...     {"type": "load_current", "name": "RX", "a": "p", "b": "0", "i_a": 1.0}]})
        >>> supply.solve().node_v["p"]
        5.07
        """
        if not isinstance(data, Mapping):
            raise BadInput(
                "a network {data} was found; a table with a list 'elements' is wanted", data=repr(data)
            )
        listed = data.get("elements")
        if not isinstance(listed, (list, tuple)) or not listed:
            raise BadInput("a network needs a list 'elements' with at least one element")
        network = cls.of(read_element(entry) for entry in listed)
        reference = data.get("reference_node")
        if reference is None:
            return network
        if not any(str(reference) in _terminals(element) for element in network.elements):
            raise BadInput(
                "the reference node {reference} is no node of the network; name one of its nodes",
                reference=repr(reference),
            )
        return replace(network, reference_node=str(reference))

    @classmethod
    def of(cls, elements: Iterable[Element]) -> Network:
        """A network of elements made in Python; names must differ."""
        network = cls(tuple(elements))
        seen: set[str] = set()
        for element in network.elements:
            if element.name in seen:
                raise BadInput("two network elements are named {name}; names must differ", name=element.name)
            seen.add(element.name)
        return network

    def with_elements(self, *changed: Element) -> Network:
        """The same network with the elements of the given names replaced."""
        by_name = {element.name: element for element in changed}
        missing = by_name.keys() - {element.name for element in self.elements}
        if missing:
            raise BadInput("no network element is named {names}", names=", ".join(sorted(missing)))
        return replace(self, elements=tuple(by_name.get(element.name, element) for element in self.elements))

    def without(self, *names: str) -> Network:
        """The same network with the named elements taken out (a lead open, a pack unplugged)."""
        known = {element.name for element in self.elements}
        missing = set(names) - known
        if missing:
            raise BadInput("no network element is named {names}", names=", ".join(sorted(missing)))
        return replace(
            self, elements=tuple(element for element in self.elements if element.name not in names)
        )

    def solve(self) -> Solution:
        """The operating point that the network reaches when the loads come on from nothing.

        Returns:
            Node volts, branch amps and the checked residual (below 1e-9 A at every node).

        Raises:
            NoAnswer: The loads ask more than the supply can give: "no operating point: the supply
                collapses".
            BadInput: Parts without any resistance close a ring, so how they share is not settled.

        Valid for: direct current, settled; the diode and regulator models of
            :mod:`hangar.physics.network_elements`.

        Source: Kirchhoff's laws; checked against ngspice 39 in tests/published.
        """
        index, count = _number_nodes(self.elements, self.reference_node)
        equations = Equations(self.elements, index, count)
        if equations.own_current:
            _refuse_rings(equations.own_current)
        x = operating_point(equations).tolist()
        node_v = {node: x[row] for node, row in equations.row.items()}
        branch_a: dict[str, float] = {}
        across_v: dict[str, float] = {}
        regulators: dict[str, RegulatorPoint] = {}
        left_over = dict.fromkeys(node_v, 0.0)
        for e in self.elements:
            if isinstance(e, Regulator):
                point = _regulator_point(e, node_v)
                regulators[e.name] = point
                branch_a[e.name], across_v[e.name] = point.output_a, point.output_v
                left_over[e.input] += point.input_a
                left_over[e.output] -= point.output_a
                left_over[e.ground] += point.output_a - point.input_a
                continue
            plus, minus = (e.positive, e.negative) if isinstance(e, Pack) else (e.a, e.b)
            volts = node_v[plus] - node_v[minus]
            current = _branch_current(e, volts, x, equations.own_row)
            branch_a[e.name], across_v[e.name] = current, volts
            through = -current if isinstance(e, Pack) else current
            left_over[plus] += through
            left_over[minus] -= through
        # Nodes held at 0 V take up what the rest leaves; theirs is checked as a sum over the island.
        residual = max(
            (abs(left_over[n]) for n, row in equations.row.items() if row != equations.size), default=0.0
        )
        if not residual < RESIDUAL_LIMIT_A:
            raise collapse(text("{current:.2g} A are left over at a node", current=residual))
        return Solution(node_v, branch_a, across_v, regulators, residual)


def _regulator_point(e: Regulator, node_v: Mapping[str, float]) -> RegulatorPoint:
    input_v = node_v[e.input] - node_v[e.ground]
    output_v = node_v[e.output] - node_v[e.ground]
    output = e.output_state(input_v, output_v)
    return RegulatorPoint(
        input_v, output_v, e.input_state(input_v, output_v, output)[0], output[0], output[3]
    )


def _branch_current(e: Element, volts: float, x: list[float], own_row: Mapping[str, int]) -> float:
    row = own_row.get(e.name)
    if isinstance(e, Pack):
        return -x[row] if row is not None else (e.open_circuit_v - volts) / e.resistance_ohm
    if isinstance(e, Resistor):
        return x[row] if row is not None else volts / e.resistance_ohm
    if isinstance(e, CurrentLoad):
        return e.current_a
    assert not isinstance(e, Regulator)
    return e.current_and_slope(volts, 1.0)[0]


def _terminals(e: Element) -> tuple[str, ...]:
    if isinstance(e, Pack):
        return (e.negative, e.positive)
    if isinstance(e, Regulator):
        return (e.ground, e.input, e.output)
    return (e.a, e.b)


def _root(joined: dict[str, str], node: str) -> str:
    """The node that stands for all that are joined with this one."""
    while joined[node] != node:
        joined[node] = joined[joined[node]]
        node = joined[node]
    return node


def _refuse_rings(parts: Iterable[Pack | Resistor]) -> None:
    joined: dict[str, str] = {}
    for part in parts:
        if part.resistance_ohm >= _NO_OHM:
            continue
        first, second = _terminals(part)
        name = _root(joined, joined.setdefault(first, first))
        other = _root(joined, joined.setdefault(second, second))
        if name == other:
            raise BadInput(
                "{name} closes a ring of parts without any resistance, so how they share the current "
                "is not settled; give one of them its resistance",
                name=part.name,
            )
        joined[name] = other


def _number_nodes(elements: Iterable[Element], reference_node: str) -> tuple[dict[str, int], int]:
    """Row of every node; one node of each separate island is held at 0 V and gets the last row."""
    island: dict[str, str] = {}
    packs: list[str] = []
    for element in elements:
        first, *others = _terminals(element)
        if isinstance(element, Pack):
            packs.append(first)
        island.setdefault(first, first)
        for other in others:
            island.setdefault(other, other)
            island[_root(island, other)] = _root(island, first)
    held: dict[str, str] = {}
    for node in (reference_node, *packs, *island):
        if node in island:
            held.setdefault(_root(island, node), node)
    grounds = set(held.values())
    free = [node for node in island if node not in grounds]
    index = {node: row for row, node in enumerate(free)}
    index.update(dict.fromkeys(grounds, len(free)))
    return index, len(free)
