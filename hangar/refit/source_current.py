"""How much current a supply gives while it holds the bus at given volts."""

from __future__ import annotations

import math
from dataclasses import dataclass

from hangar.parts.choices import FeedRole
from hangar.physics.network_elements import Diode, Regulator
from hangar.refit.regulated import input_volts
from hangar.refit.supplies import Supply
from hangar.survey.defaults import class_defaults
from hangar.survey.model import Conditions
from hangar.survey.packs import capacity_of
from hangar.survey.paths import PathModel
from hangar.survey.supply import charge_pct

_LEAST_OHM = 1e-4
_HALVINGS = 60
_CLOSED = -math.inf


@dataclass(frozen=True)
class Source:
    """One power path as seen from the bus: volts behind a resistance, then what stands at the bus."""

    open_v: float
    ohm: float
    out: object
    pack_limit_a: float
    out_limit_a: float

    def current_a(self, bus_v: float) -> tuple[float, float]:
        """Amps into the bus and out of the packs at bus volts; minus infinity where it collapses."""
        if isinstance(self.out, Regulator):
            return self._regulated(self.out, bus_v)
        ohm, volts = self.ohm, self.open_v - bus_v
        if isinstance(self.out, Diode):
            volts, ohm = max(volts - self.out.forward_v, 0.0), ohm + self.out.resistance_ohm
        elif self.out is not None:
            ohm += getattr(self.out, "resistance_ohm", 0.0)
        return volts / ohm, volts / ohm

    def _regulated(self, regulator: Regulator, bus_v: float) -> tuple[float, float]:
        input_v = input_volts(regulator, self.open_v, self.ohm, bus_v)
        if input_v is None:
            return _CLOSED, _CLOSED
        state = regulator.output_state(input_v, bus_v)
        return state[0], regulator.input_state(input_v, bus_v, state)[0]


@dataclass(frozen=True)
class SourceCurrent:
    """A whole supply: the current it gives at bus volts, and the bus volts below which it is overrun."""

    sources: tuple[Source, ...]

    @classmethod
    def of(cls, supply: Supply, conditions: Conditions) -> SourceCurrent:
        """The supply on the day of a refit."""
        return cls(tuple(_source(model, conditions) for model in supply.models))

    def given_a(self, bus_v: float) -> float:
        """Amps at bus volts; minus infinity where the supply cannot hold them."""
        return sum(source.current_a(bus_v)[0] for source in self.sources)

    @property
    def alone_limit_a(self) -> float:
        """What the least regulator could give if it were the only one left."""
        if len(self.sources) < 2:
            return math.inf
        return min(source.out_limit_a for source in self.sources)

    def within(self, bus_v: float) -> bool:
        """Whether no part of the supply is overrun at bus volts."""
        given_a = 0.0
        for source in self.sources:
            out_a, pack_a = source.current_a(bus_v)
            if pack_a == _CLOSED or pack_a > source.pack_limit_a or out_a > source.out_limit_a:
                return False
            given_a += out_a
        return given_a <= self.alone_limit_a

    def knee_v(self, least_v: float) -> float:
        """The lowest bus volts, no lower than asked, from which on nothing is overrun."""
        top = max(source.open_v for source in self.sources)
        if self.within(least_v):
            return least_v
        low, high = least_v, top
        for _ in range(_HALVINGS):
            middle = 0.5 * (low + high)
            low, high = (low, middle) if self.within(middle) else (middle, high)
        return high


def _source(model: PathModel, conditions: Conditions) -> Source:
    defaults = class_defaults().changed(conditions.defaults)
    packs = model.pack_elements(charge_pct(conditions, defaults), conditions.pack_c)
    if model.in_series:
        open_v, ohm = sum(pack.open_circuit_v for pack in packs), sum(pack.resistance_ohm for pack in packs)
    else:
        siemens = sum(1.0 / pack.resistance_ohm for pack in packs)
        open_v = sum(pack.open_circuit_v / pack.resistance_ohm for pack in packs) / siemens
        ohm = 1.0 / siemens
    ohm += sum(max(each, _LEAST_OHM) for *_, each in model.resistors)
    kind = model.path.regulator_type
    most = model.out.limit_a if isinstance(model.out, Regulator) else kind and kind.burst_a
    out_limit = most or math.inf
    return Source(open_v, ohm, model.out, pack_limit_a(model), out_limit * (1.0 - 1e-9))


def alone_a(supply: Supply, floor_v: float, conditions: Conditions) -> float:
    """The current that every path of a supply can carry by itself while the bus keeps some volts.

    Minus infinity where one of them cannot hold those volts at all.
    """
    found = []
    for source in SourceCurrent.of(supply, conditions).sources:
        one = SourceCurrent((source,))
        knee_v = one.knee_v(floor_v)
        found.append(one.given_a(knee_v) if one.within(knee_v) else _CLOSED)
    return min(found)


def pack_limit_a(model: PathModel) -> float:
    """The peak current that a path's packs, plug and switch may carry; infinite where none is known."""
    feed, switch = model.path.feed, model.path.switch_type
    side_by_side = 1 if model.in_series else len(model.packs)
    limits = [
        side_by_side * (pack.fed.pack_type.burst_a or pack.fed.pack_type.continuous_a or math.inf)
        for pack in model.packs
    ]
    limits.append(feed.parallel_leads * (feed.joint_limit_a or math.inf))
    if switch is not None:
        limits.append(switch.burst_a or math.inf)
    return min(limits)


def mean_limit_a(supply: Supply, conditions: Conditions) -> float:
    """The mean current that switches, plugs and regulators may carry; infinite where none is known.

    Every regulator must be able to shed the heat of the whole of it, for the day when it is the only one.
    """
    total, alone = 0.0, math.inf
    for model in supply.models:
        feed, switch, kind = model.path.feed, model.path.switch_type, model.path.regulator_type
        limits = [feed.parallel_leads * (feed.joint_limit_a or math.inf)]
        limits += [each.continuous_a or math.inf for each in (switch, kind) if each is not None]
        total += min(limits)
        if kind is not None and kind.shed_w is not None and isinstance(model.out, Regulator):
            alone = min(alone, _heat_limit_a(_source(model, conditions), model.out, kind.shed_w))
    return min(total, alone)


def endurance_limit_a(supply: Supply, wanted_min: float, conditions: Conditions) -> float:
    """The mean current on the bus at which the packs last for the minutes wanted.

    Infinite for packs that drive the motor as well, and for the supply that is there already.
    """
    if supply.unchanged or any(model.path.feed.role is FeedRole.DRIVE for model in supply.models):
        return math.inf
    defaults = class_defaults().changed(conditions.defaults)
    charges = [capacity_of(model.path, model.packs) for model in supply.models]
    charge_mah = sum(each.expected for each in charges if each is not None)
    packs_a = 60.0 * charge_mah / 1000.0 * defaults.usable_charge.value() / wanted_min
    share, total = packs_a / len(supply.models), 0.0
    for model in supply.models:
        if not isinstance(model.out, Regulator):
            total += share
            continue
        source, regulator = _source(model, conditions), model.out
        out_a = max(0.0, share - regulator.quiescent_a)
        if regulator.switching:
            out_a *= regulator.efficiency * (source.open_v - source.ohm * share) / regulator.set_v
        total += out_a
    return total


def _heat_limit_a(source: Source, regulator: Regulator, shed_w: float) -> float:
    """The current at which a regulator makes as much heat as it can shed."""

    def heat_w(out_a: float) -> float:
        ratio = regulator.set_v / regulator.efficiency if regulator.switching else 0.0
        in_a = out_a + regulator.quiescent_a
        in_v = source.open_v - source.ohm * in_a
        if regulator.switching:
            in_a = out_a * ratio / max(in_v, regulator.set_v) + regulator.quiescent_a
            in_v = source.open_v - source.ohm * in_a
        return in_v * in_a - regulator.set_v * out_a

    low, high = 0.0, 1.0
    while heat_w(high) <= shed_w and high < 1000.0:
        low, high = high, 2.0 * high
    if high >= 1000.0:
        return math.inf
    for _ in range(_HALVINGS):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if heat_w(middle) <= shed_w else (low, middle)
    return low
