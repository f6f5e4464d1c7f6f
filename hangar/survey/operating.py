"""The operating point of an aircraft's supply, worked straight from its shape where that will do.

An aircraft's supply is always built alike: power paths side by side on one bus, and leads that branch
from the bus to servos and gyros without ever meeting again. With regulators that regulate, isolators
that conduct or block, and servos that turn or stall, every path is a source with a resistance and every
load a fixed current or a resistance, and the point follows in a few lines. Each of those guesses is
checked at the point found and mended; where that fails, or nothing is left for a load, None sends the
case to the general network.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING

from hangar.base.values import value_class
from hangar.physics.network_elements import CurrentLoad, Diode, MovingServo, Pack, Regulator, Resistor
from hangar.survey.paths import BUS, GROUND, PathModel

if TYPE_CHECKING:
    from hangar.physics.network import RegulatorPoint

_LEAST_OHM = 1e-4
_LEAST_INPUT_V = 0.1
_MOST_ROUNDS = 6

Drawn = tuple[float, float]
"""A current that does not change, and siemens: what goes with the volts."""

_NOTHING: Drawn = (0.0, 0.0)


@value_class
class OperatingPoint:
    """Volts of every node, amperes of every element, and how each regulator works."""

    node_v: dict[str, float]
    branch_a: dict[str, float]
    regulators: dict[str, RegulatorPoint]


@value_class
class PathState:
    """One power path in a load case: its packs as they are then, and what they are from the lead's end."""

    path: PathModel
    packs: tuple[Pack, ...]
    emf_v: float
    pack_ohm: float
    ohm: float

    @classmethod
    def of(cls, path: PathModel, packs: Sequence[Pack]) -> PathState:
        """Packs in series add up; packs side by side share by their resistances."""
        if path.in_series:
            emf_v, ohm = sum(p.open_circuit_v for p in packs), sum(p.resistance_ohm for p in packs)
        else:
            siemens = sum(1.0 / p.resistance_ohm for p in packs)
            emf_v = sum(p.open_circuit_v / p.resistance_ohm for p in packs) / siemens
            ohm = 1.0 / siemens
        outside = sum(max(resistor[3], _LEAST_OHM) for resistor in path.resistors)
        return cls(path, tuple(packs), emf_v, ohm, ohm + outside)

    def seen_from_bus(self, starved: bool) -> tuple[float, float, bool]:
        """Volts and ohms that the bus sees, and whether current can only come out.

        A linear regulator holds its volts; a starved one is its drop and a resistance behind the packs.
        """
        out = self.path.out
        if isinstance(out, Regulator):
            if not starved:
                return out.set_v, out.regulation_ohm, True
            return self.emf_v - self.ohm * out.quiescent_a - out.drop_v, self.ohm + out.drop_ohm, True
        if isinstance(out, Diode):
            return self.emf_v - out.forward_v, self.ohm + out.resistance_ohm, True
        joint = 0.0 if out is None else out.resistance_ohm
        return self.emf_v, self.ohm + joint, False


@value_class
class Tree:
    """The leads that branch from the bus, outwards, and the steady loads on their nodes."""

    leads: tuple[Resistor, ...]
    steady: tuple[CurrentLoad, ...]


def operating_point(
    feedings: Sequence[PathState], tree: Tree, servos: Sequence[CurrentLoad | MovingServo]
) -> OperatingPoint | None:
    """The point at which everything balances; None where one of the guesses does not hold.

    Args:
        feedings: the power paths that are there.
        tree: leads and steady loads behind the bus.
        servos: every servo with what it draws in the case.

    Returns:
        Volts, currents and regulators, exact for the elements' straight lines.
    """
    stalled: set[str] = set()
    every = {servo.name for servo in servos if isinstance(servo, MovingServo)}
    for _ in range(_MOST_ROUNDS):
        solved = _with_stalled(feedings, tree, servos, stalled)
        if solved is not None:
            point, wrong = solved
            if not wrong:
                return point
            stalled = stalled ^ wrong
        elif stalled != every:
            # Fixed currents that the packs cannot give: held fast the servos ask the least.
            stalled = every
        else:
            return None
    return None


def _with_stalled(
    feedings: Sequence[PathState], tree: Tree, servos: Sequence[CurrentLoad | MovingServo], stalled: set[str]
) -> tuple[OperatingPoint, set[str]] | None:
    """The point with these servos stalled and the others turning, and for which of them that is wrong."""
    drawn, leads = _drawn(tree, servos, stalled)
    settled = _settled(feedings, drawn.get(BUS, _NOTHING))
    if settled is None:
        return None
    bus_v, given, regulators = settled
    branch_a: dict[str, float] = {}
    node_v = {GROUND: 0.0, BUS: bus_v}
    for feeding, output_a in zip(feedings, given, strict=True):
        _add_path(feeding, output_a, regulators, node_v, branch_a)
    for lead, (fixed_a, siemens) in zip(tree.leads, reversed(leads), strict=True):
        amps = fixed_a + siemens * node_v[lead.a]
        branch_a[lead.name] = amps
        node_v[lead.b] = volts = node_v[lead.a] - amps * lead.resistance_ohm
        if not volts > 0.0:
            return None
    wrong = _add_loads(tree, servos, stalled, node_v, branch_a)
    return OperatingPoint(node_v, branch_a, regulators), wrong


def _drawn(
    tree: Tree, servos: Sequence[CurrentLoad | MovingServo], stalled: set[str]
) -> tuple[dict[str, Drawn], list[Drawn]]:
    """What is drawn at each node with all that lies behind it, and what each lead takes, outmost first.

    A turning servo draws a fixed current, a stalled one a current that goes with its volts.
    """
    drawn: dict[str, Drawn] = {}
    for load in (*tree.steady, *servos):
        fixed_a, siemens = drawn.get(load.a, _NOTHING)
        if isinstance(load, CurrentLoad):
            drawn[load.a] = fixed_a + load.current_a, siemens
        elif load.name in stalled:
            drawn[load.a] = fixed_a + load.idle_current_a, siemens + 1.0 / load.stall_resistance_ohm
        else:
            drawn[load.a] = fixed_a + load.running_current_a + load.idle_current_a, siemens
    leads: list[Drawn] = []
    for lead in reversed(tree.leads):
        fixed_a, siemens = drawn.get(lead.b, _NOTHING)
        # The lead's own drop lowers the volts that the part behind it draws by.
        less = 1.0 + lead.resistance_ohm * siemens
        through = fixed_a / less, siemens / less
        leads.append(through)
        above_a, above_siemens = drawn.get(lead.a, _NOTHING)
        drawn[lead.a] = above_a + through[0], above_siemens + through[1]
    return drawn, leads


def _add_loads(
    tree: Tree,
    servos: Sequence[CurrentLoad | MovingServo],
    stalled: set[str],
    node_v: dict[str, float],
    branch_a: dict[str, float],
) -> set[str]:
    """Note what each load draws; returns the servos that were taken to turn and stall, or the other way."""
    for load in tree.steady:
        branch_a[load.name] = load.current_a
    wrong = set()
    for servo in servos:
        if isinstance(servo, CurrentLoad):
            branch_a[servo.name] = servo.current_a
            continue
        stall_a = node_v[servo.a] / servo.stall_resistance_ohm
        branch_a[servo.name] = min(stall_a, servo.running_current_a) + servo.idle_current_a
        if (stall_a < servo.running_current_a) != (servo.name in stalled):
            wrong.add(servo.name)
    return wrong


def _settled(
    feedings: Sequence[PathState], drawn: Drawn
) -> tuple[float, list[float], dict[str, RegulatorPoint]] | None:
    """Bus volts, what each path gives and its regulator; starved regulators are tried as such."""
    starved: set[str] = set()
    for _ in range(2):
        bus_v, given = _bus(
            [feeding.seen_from_bus(feeding.path.code in starved) for feeding in feedings], drawn
        )
        if not bus_v > 0.0:
            return None
        regulators: dict[str, RegulatorPoint] = {}
        for feeding, output_a in zip(feedings, given, strict=True):
            if isinstance(out := feeding.path.out, Regulator):
                point = _regulator(out, feeding, output_a, bus_v)
                if point is None:
                    return None
                regulators[out.name] = point
        fell = {
            feeding.path.code
            for feeding in feedings
            if feeding.path.out is not None
            and feeding.path.out.name in regulators
            and (regulators[feeding.path.out.name].state == "drop-out") != (feeding.path.code in starved)
        }
        if not fell:
            return bus_v, given, regulators
        starved ^= fell
    return None


def _bus(sources: Sequence[tuple[float, float, bool]], drawn: Drawn) -> tuple[float, list[float]]:
    """Bus volts and what each path gives; 0 V when none gives anything.

    A path that could only take current in drops out. That raises the bus, so it stays out.
    """
    fixed_a, drawn_siemens = drawn
    giving = set(range(len(sources)))
    while giving:
        siemens = sum(1.0 / sources[k][1] for k in giving) + drawn_siemens
        bus_v = (sum(sources[k][0] / sources[k][1] for k in giving) - fixed_a) / siemens
        blocked = {k for k in giving if sources[k][2] and sources[k][0] <= bus_v}
        if not blocked:
            return bus_v, [
                (emf_v - bus_v) / ohm if k in giving else 0.0 for k, (emf_v, ohm, _) in enumerate(sources)
            ]
        giving -= blocked
    return 0.0, []


def _add_path(
    feeding: PathState,
    output_a: float,
    regulators: dict[str, RegulatorPoint],
    node_v: dict[str, float],
    branch_a: dict[str, float],
) -> None:
    """Note volts and currents inside a path."""
    path, out, amps = feeding.path, feeding.path.out, output_a
    if out is not None:
        branch_a[out.name] = output_a
        if out.name in regulators:
            amps = regulators[out.name].input_a
    _add_packs(feeding, amps, node_v, branch_a)
    for name, start, end, ohm in path.resistors:
        branch_a[name] = amps
        if end != BUS:
            node_v[end] = node_v[start] - amps * max(ohm, _LEAST_OHM)


def _add_packs(feeding: PathState, amps: float, node_v: dict[str, float], branch_a: dict[str, float]) -> None:
    joined_v = feeding.emf_v - amps * feeding.pack_ohm
    below_v = 0.0
    for pack in feeding.packs:
        if feeding.path.in_series:
            branch_a[pack.name] = amps
            below_v += pack.open_circuit_v - amps * pack.resistance_ohm
            node_v[pack.positive] = below_v
        else:
            branch_a[pack.name] = (pack.open_circuit_v - joined_v) / pack.resistance_ohm
            node_v[pack.positive] = joined_v


def _regulator(out: Regulator, feeding: PathState, output_a: float, bus_v: float) -> RegulatorPoint | None:
    """How a regulator works that gives this current; None where it limits, or nothing feeds it.

    A linear one that cannot hold its volts is told as in drop-out; a switching one is not followed there.
    """
    from hangar.physics.network import RegulatorPoint

    open_v = feeding.emf_v - feeding.ohm * out.quiescent_a
    input_v, input_a = open_v - feeding.ohm * output_a, output_a + out.quiescent_a
    if out.switching:
        # Input volts x input current is a fixed power; of its two points the upper one is reached.
        power_w = output_a * bus_v / out.efficiency
        under_root = open_v * open_v - 4.0 * feeding.ohm * power_w
        input_v = 0.5 * (open_v + math.sqrt(max(0.0, under_root)))
        if under_root < 0.0 or input_v <= _LEAST_INPUT_V:
            return None
        input_a = out.quiescent_a + power_w / input_v
    if input_v <= _LEAST_INPUT_V or output_a >= out.limit_a:
        return None
    if output_a <= 0.0:
        return RegulatorPoint(input_v, bus_v, input_a, 0.0, "off")
    regulating_a = (out.set_v - bus_v) / out.regulation_ohm
    dropped_a = (input_v - out.drop_v - bus_v) / out.drop_ohm
    # The current is one of the two; the other must allow as much.
    fallen = dropped_a < regulating_a
    if fallen and out.switching:
        return None
    return RegulatorPoint(input_v, bus_v, input_a, output_a, "drop-out" if fallen else "regulating")
