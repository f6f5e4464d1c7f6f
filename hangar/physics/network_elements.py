"""The kinds of part an on-board supply network is made of, and how to read them from plain data.

Source: element laws as stated with each class; Ohm's law.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from hangar.base.errors import BadInput
from hangar.base.text import text
from hangar.base.values import value_class


@value_class
class Pack:
    """A battery: an electromotive force behind a resistance; current counts out of the plus pole."""

    name: str
    positive: str
    negative: str
    open_circuit_v: float
    resistance_ohm: float


@value_class
class Resistor:
    """A lead leg, contact, switch, or a stalled servo seen as volts over stall current."""

    name: str
    a: str
    b: str
    resistance_ohm: float
    is_load: bool = False


@value_class
class CurrentLoad:
    """A part that draws a fixed current whatever the volts."""

    name: str
    a: str
    b: str
    current_a: float


@dataclass(frozen=True, slots=True)
class PowerLoad:
    """A part that draws a fixed power, so more current as the volts fall (input of a buck converter)."""

    name: str
    a: str
    b: str
    power_w: float

    def current_and_slope(self, volts: float, share: float) -> tuple[float, float]:
        """Amps at these volts with a share of the load on, and their slope against the volts."""
        # Below a millivolt the hyperbola is followed along its tangent so that Newton stays finite.
        floor_v = max(volts, 1e-3)
        current = share * self.power_w / floor_v
        slope = -current / floor_v
        return current + slope * (volts - floor_v), slope


@value_class
class MovingServo:
    """A servo driving against a torque: fixed motor current until the volts stall it, then a resistance.

    While it turns, the motor current is no-load current plus torque over torque constant, whatever
    the volts; it can never exceed volts over winding resistance.  The idle current comes on top.
    """

    name: str
    a: str
    b: str
    stall_resistance_ohm: float
    running_current_a: float
    idle_current_a: float

    def current_and_slope(self, volts: float, share: float) -> tuple[float, float]:
        """Amps at these volts with a share of the load on, and their slope against the volts."""
        running = share * self.running_current_a
        idle = share * self.idle_current_a
        stalled = volts / self.stall_resistance_ohm
        if stalled < running:
            return stalled + idle, 1.0 / self.stall_resistance_ohm
        return running + idle, 0.0


@dataclass(frozen=True, slots=True)
class Diode:
    """A blocking diode as two straight lines: no current up to its forward volts, then a resistance."""

    name: str
    a: str
    b: str
    forward_v: float
    resistance_ohm: float

    def current_and_slope(self, volts: float, share: float) -> tuple[float, float]:
        """Amps at these volts with a share of the load on, and their slope against the volts."""
        del share
        if volts <= self.forward_v:
            return 0.0, 0.0
        return (volts - self.forward_v) / self.resistance_ohm, 1.0 / self.resistance_ohm


@dataclass(frozen=True, slots=True)
class Regulator:
    """A linear or switching step-down regulator with drop-out and current limit.

    Output current is the least of what regulation asks, ``(set - out) / regulation_ohm``, what
    drop-out lets through, ``(in - drop - out) / drop_ohm``, and the limit; never below nothing.
    Linear: input current is output current plus quiescent current.  Switching: input power is
    output power over efficiency, plus the quiescent current.
    """

    name: str
    input: str
    output: str
    ground: str
    switching: bool
    set_v: float
    drop_v: float
    drop_ohm: float
    regulation_ohm: float
    limit_a: float
    quiescent_a: float
    efficiency: float

    def output_state(self, input_v: float, output_v: float) -> tuple[float, float, float, str]:
        """Output current, its slopes against input and output volts, and the working state in a word."""
        regulating = (self.set_v - output_v) / self.regulation_ohm
        dropped = (input_v - self.drop_v - output_v) / self.drop_ohm
        wanted = min(regulating, dropped)
        if wanted >= self.limit_a:
            return self.limit_a, 0.0, 0.0, "limiting"
        if wanted <= 0.0:
            return 0.0, 0.0, 0.0, "off"
        if dropped < regulating:
            return dropped, 1.0 / self.drop_ohm, -1.0 / self.drop_ohm, "drop-out"
        return regulating, 0.0, -1.0 / self.regulation_ohm, "regulating"

    def input_state(
        self, input_v: float, output_v: float, output: tuple[float, float, float, str]
    ) -> tuple[float, float, float]:
        """Input current and its slopes against input and output volts."""
        current, by_input, by_output, _ = output
        if not self.switching:
            return current + self.quiescent_a, by_input, by_output
        # A reversed or empty input is followed along the tangent at a tenth of a volt.
        source_v = max(input_v, 0.1)
        ratio = output_v / (self.efficiency * source_v)
        return (
            current * ratio + self.quiescent_a,
            by_input * ratio - (current * ratio / source_v if input_v > 0.1 else 0.0),
            by_output * ratio + current / (self.efficiency * source_v),
        )


Element = Pack | Resistor | CurrentLoad | PowerLoad | MovingServo | Diode | Regulator
TwoPole = PowerLoad | MovingServo | Diode


def read_element(data: Mapping[str, Any]) -> Element:
    """One network element from its plain form.

    Forms (``type`` and its fields; every element has a ``name``; other keys are ignored):

    * ``pack``: pos, neg, voc_v, r_ohm
    * ``resistor`` and ``load_resistance``: a, b, r_ohm
    * ``load_current``: a, b, i_a
    * ``load_power``: a, b, p_w
    * ``load_servo``: a, b, r_ohm (volts over stall current), i_run_a, i_idle_a (default 0)
    * ``diode``: a (anode), b (cathode), vf_v, ron_ohm
    * ``regulator``: inp, out, gnd, kind (linear or switching), vset_v, vdrop_v, rdrop_ohm,
      rreg_ohm, ilim_a (default none), iq_a (default 0), eff (switching)

    Raises:
        BadInput: A field is missing, is no number, or is outside what is allowed; names both.

    >>> read_element({"type": "load_current", "name": "RX", "a": "bus", "b": "0", "i_a": 0.1}).current_a
    0.1
    """
    if not isinstance(data, Mapping):
        raise BadInput(
            "a network element {data} was found; a table of its type, name and values is wanted",
            data=repr(data),
        )
    name = str(data.get("name", "")).strip()
    if not name:
        raise BadInput("a network element without a name was found: {data}", data=repr(dict(data)))
    kind = data.get("type")
    reader = _READERS.get(str(kind))
    if reader is None:
        raise BadInput(
            "element {name} has type {kind}; allowed are {allowed}",
            name=name,
            kind=repr(kind),
            allowed=", ".join(sorted(_READERS)),
        )
    return reader(name, data)


def _node(name: str, data: Mapping[str, Any], *keys: str) -> str:
    for key in keys:
        if key in data:
            return str(data[key])
    raise BadInput("element {name} lacks the node {node}", name=name, node=repr(keys[0]))


def _number(
    name: str,
    data: Mapping[str, Any],
    keys: str,
    *,
    least: float = -math.inf,
    above: float = -math.inf,
    default: float | None = None,
) -> float:
    names = keys.split()
    given = next((data[key] for key in names if data.get(key) is not None), default)
    if given is None:
        raise BadInput("element {name} lacks the value {field}", name=name, field=repr(names[0]))
    try:
        value = float(given)
    except (TypeError, ValueError):
        raise BadInput(
            "element {name} has {field} = {given}; a number is allowed",
            name=name,
            field=names[0],
            given=repr(given),
        ) from None
    if math.isnan(value) or value < least or value <= above:
        limit = (
            text("{least:g} or more", least=least)
            if least > -math.inf
            else text("more than {least:g}", least=above)
        )
        raise BadInput(
            "element {name} has {field} = {value:g}; allowed is {limit}",
            name=name,
            field=names[0],
            value=value,
            limit=limit,
        )
    return value


def _finite(name: str, data: Mapping[str, Any], keys: str, *, least: float = -math.inf) -> float:
    value = _number(name, data, keys, least=least)
    if math.isinf(value):
        raise BadInput(
            "element {name} has {field} = {value:g}; a finite number is allowed",
            name=name,
            field=keys.split()[0],
            value=value,
        )
    return value


def _read_pack(name: str, data: Mapping[str, Any]) -> Pack:
    return Pack(
        name,
        _node(name, data, "pos", "a"),
        _node(name, data, "neg", "b"),
        _finite(name, data, "voc_v", least=0.0),
        _number(name, data, "r_ohm", least=0.0),
    )


def _read_resistor(name: str, data: Mapping[str, Any]) -> Resistor:
    return Resistor(
        name, _node(name, data, "a"), _node(name, data, "b"), _number(name, data, "r_ohm", least=0.0)
    )


def _read_resistive_load(name: str, data: Mapping[str, Any]) -> Resistor:
    ohm = _number(name, data, "r_ohm", above=0.0)
    return Resistor(name, _node(name, data, "a"), _node(name, data, "b"), ohm, is_load=True)


def _read_current_load(name: str, data: Mapping[str, Any]) -> CurrentLoad:
    return CurrentLoad(name, _node(name, data, "a"), _node(name, data, "b"), _finite(name, data, "i_a"))


def _read_power_load(name: str, data: Mapping[str, Any]) -> PowerLoad:
    return PowerLoad(
        name, _node(name, data, "a"), _node(name, data, "b"), _finite(name, data, "p_w", least=0.0)
    )


def _read_servo(name: str, data: Mapping[str, Any]) -> MovingServo:
    return MovingServo(
        name,
        _node(name, data, "a"),
        _node(name, data, "b"),
        _number(name, data, "r_ohm", above=0.0),
        _finite(name, data, "i_run_a", least=0.0),
        _number(name, data, "i_idle_a", least=0.0, default=0.0),
    )


def _read_diode(name: str, data: Mapping[str, Any]) -> Diode:
    return Diode(
        name,
        _node(name, data, "a", "anode"),
        _node(name, data, "b", "k", "cathode"),
        _number(name, data, "vf_v vf", least=0.0),
        _number(name, data, "ron_ohm ron r_ohm", above=0.0),
    )


def _read_regulator(name: str, data: Mapping[str, Any]) -> Regulator:
    kind = data.get("kind")
    if kind not in ("linear", "switching"):
        raise BadInput(
            "regulator {name} has kind {kind}; allowed are linear, switching", name=name, kind=repr(kind)
        )
    switching = kind == "switching"
    efficiency = _number(name, data, "eff", above=0.0) if switching else 1.0
    if efficiency > 1.0:
        raise BadInput(
            "regulator {name} has eff = {efficiency:g}; allowed is more than 0 up to 1",
            name=name,
            efficiency=efficiency,
        )
    return Regulator(
        name,
        _node(name, data, "inp", "in"),
        _node(name, data, "out"),
        _node(name, data, "gnd"),
        switching,
        _number(name, data, "vset_v", above=0.0),
        _number(name, data, "vdrop_v", least=0.0),
        _number(name, data, "rdrop_ohm", above=0.0),
        _number(name, data, "rreg_ohm", above=0.0),
        _number(name, data, "ilim_a", above=0.0, default=math.inf),
        _number(name, data, "iq_a", least=0.0, default=0.0),
        efficiency,
    )


_READERS: dict[str, Callable[[str, Mapping[str, Any]], Element]] = {
    "pack": _read_pack,
    "resistor": _read_resistor,
    "load_resistance": _read_resistive_load,
    "load_current": _read_current_load,
    "load_power": _read_power_load,
    "load_servo": _read_servo,
    "diode": _read_diode,
    "regulator": _read_regulator,
}
