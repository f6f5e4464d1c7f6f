"""A power path as network elements: packs, switch, lead, then regulator, isolation or a plain joint."""

from __future__ import annotations

import math
from datetime import date
from functools import lru_cache

from hangar.base.errors import BadInput
from hangar.base.figure import Basis, Figure, Input
from hangar.base.text import Text, text
from hangar.base.values import value_class
from hangar.parts import PowerPath
from hangar.parts.choices import PackJoin, RegulatorKind
from hangar.physics.network_elements import Diode, Element, Pack, Regulator, Resistor
from hangar.physics.wire import loop_ohm
from hangar.survey import packs
from hangar.survey.defaults import Defaults
from hangar.survey.figures import Facts, field_missing, input_of
from hangar.survey.packs import PackFigures, pack_figures
from hangar.survey.path_leads import PathLeads, path_leads

GROUND = "0"
BUS = "bus"
_LEAST_OHM = 1e-4
_REGULATING = {RegulatorKind.LINEAR, RegulatorKind.SWITCHING, RegulatorKind.BEC, None}
_BURST_UNKNOWN_A = math.inf


@value_class
class PathModel:
    """One power path with its resistances worked out.

    ``set_v`` is the regulator's output; None where the packs feed the bus directly.  ``resistors``
    are (name, from node, to node, ohm) of switch and lead; ``out`` is the element that ends at
    the bus; None where the lead itself does. ``leads`` is what a flight log has told of them.
    """

    path: PowerPath
    packs: tuple[PackFigures, ...]
    inputs: tuple[Input, ...]
    full_v: Figure
    rested_v: Figure
    nominal_v: Figure
    land_v: Figure
    set_v: Figure | None
    outside_ohm: Figure
    resistors: tuple[tuple[str, str, str, float], ...]
    out: Regulator | Diode | Resistor | None
    leads: PathLeads | None = None

    @property
    def code(self) -> str:
        """Code of the power path."""
        return self.path.feed.code

    @property
    def in_series(self) -> bool:
        """Whether its packs add their volts."""
        return self.path.feed.join is PackJoin.SERIES

    @property
    def regulated(self) -> bool:
        """Whether a regulator holds the bus volts."""
        return self.set_v is not None

    @property
    def pack_nodes(self) -> list[tuple[str, str]]:
        """Each pack's plus and minus node: one on top of the other in series, else side by side."""
        top = f"{self.code} packs"
        if not self.in_series:
            return [(top, GROUND)] * len(self.packs)
        joints = [f"{self.code} packs {number + 1}" for number in range(len(self.packs) - 1)]
        return list(zip([*joints, top], [GROUND, *joints], strict=True))

    @property
    def switched_node(self) -> str:
        """Network node behind the path's switch."""
        return _switched(self.code)

    def pack_elements(self, charge_pct: float, temperature_c: float, aged_times: float = 0.0) -> list[Pack]:
        """The packs as sources, at a charge, a temperature and no better than an aged one."""
        paths = []
        for pack, (above, below) in zip(self.packs, self.pack_nodes, strict=True):
            ohm = max(pack.ohm(temperature_c, at_least_new_times=aged_times), _LEAST_OHM)
            paths.append(Pack(pack_name(self.code, pack), above, below, pack.resting_v(charge_pct), ohm))
        return paths

    def elements(self, charge_pct: float, temperature_c: float) -> list[Element]:
        """The whole path."""
        part_figure: list[Element] = list(self.pack_elements(charge_pct, temperature_c))
        part_figure += [Resistor(name, a, b, max(ohm, _LEAST_OHM)) for name, a, b, ohm in self.resistors]
        return part_figure if self.out is None else [*part_figure, self.out]


@lru_cache(maxsize=512)
def path_model(
    path: PowerPath, today: date, defaults: Defaults, *, only: bool = False
) -> tuple[PathModel | None, tuple[Text, ...]]:
    """A power path as the network sees it, and what is missing; None when that is needed.

    The ``only`` path of an aircraft has nothing to be isolated from, so that word adds no diode to it.
    """
    missing: list[Text] = []
    return _path_model(path, today, defaults, missing, only), tuple(missing)


def _path_model(
    path: PowerPath, today: date, defaults: Defaults, missing: list[Text], only: bool
) -> PathModel | None:
    if not path.packs:
        missing.append(text("power path {path}: packs", path=path.feed.code))
        return None
    full, rested = packs.full_v(path), packs.rested_v(path)
    nominal, land = packs.nominal_v(path), packs.land_v(path)
    facts, out_facts = Facts(missing), Facts(missing)
    out = _out(path, defaults, out_facts, only)
    lead_ohm = _lead_ohm(path, defaults, facts)
    switch_ohm = _switch_ohm(path, defaults, facts)
    if out is None or lead_ohm is None or full is None or rested is None or nominal is None or land is None:
        return None
    element, set_v = out
    code = path.feed.code
    lead_to = BUS if element is None else _lead_end(code)
    lead_from = f"{code} packs" if switch_ohm is None else _switched(code)
    lead = (f"feed lead {code}", lead_from, lead_to, lead_ohm)
    switch = (f"switch {code}", f"{code} packs", _switched(code), switch_ohm or 0.0)
    outside = facts.figure(
        "switch and lead", lead_ohm + (switch_ohm or 0.0), "ohm", "switch + lead, both wires, with its plugs"
    )
    leads = path_leads(path, outside, today, defaults)
    times = 1.0 if leads is None else leads.times
    lead, switch = _times(lead, times), _times(switch, times)
    outside = outside if leads is None else leads.figure
    own_packs = tuple(pack_figures(fed, today, defaults) for fed in path.packs)
    inputs = (*(input_of(pack.cell_mohm) for pack in own_packs), input_of(outside), *out_facts.inputs)
    return PathModel(
        path, own_packs, inputs, full, rested, nominal, land,
        set_v, outside, (lead,) if switch_ohm is None else (switch, lead), element, leads,
    )  # fmt: skip


def _times(resistor: tuple[str, str, str, float], times: float) -> tuple[str, str, str, float]:
    name, above, below, ohm = resistor
    return name, above, below, times * ohm


def pack_name(code: str, pack: PackFigures) -> str:
    """Name of a pack in the network: with its path, as papers may claim one pack for two paths."""
    return f"{code} pack {pack.tag}"


def _switched(code: str) -> str:
    return f"{code} switched"


def _lead_end(code: str) -> str:
    return f"{code} lead end"


def _switch_ohm(path: PowerPath, defaults: Defaults, facts: Facts) -> float | None:
    """Ohms of the switch; None where there is none."""
    if path.feed.switch is None and path.switch is None:
        return None
    kind = path.switch_type
    if kind is None:
        return facts.assume(defaults.switch_contact, "slide") / 1000.0
    return facts.take(kind, "contact_mohm", defaults.switch_contact, kind.switch, basis=Basis.RATED) / 1000.0


def _lead_ohm(path: PowerPath, defaults: Defaults, facts: Facts) -> float | None:
    feed = path.feed
    length_mm = facts.take(feed, "lead_length_mm", defaults.feed_lead)
    gauge = facts.take(feed, "lead_awg", defaults.feed_gauge)
    joints = facts.take(feed, "joints", defaults.joints, "feed")
    contact = facts.assume(defaults.contact)
    try:
        return loop_ohm(
            length_mm / 1000.0, int(gauge), joints=int(joints), contact_ohm=contact / 1000.0,
            parallel=feed.parallel_leads,
        )  # fmt: skip
    except BadInput as fault:
        facts.lack(text("power path {path}: {fault}", path=feed.code, fault=fault.text))
        return None


def _out(
    path: PowerPath, defaults: Defaults, facts: Facts, only: bool
) -> tuple[Regulator | Diode | Resistor | None, Figure | None] | None:
    """What stands between the path's lead and the bus, with the volts a regulator is set to.

    None when something is missing; nothing stands between where the lead is plugged in plainly.
    """
    code = path.feed.code
    kind = path.regulator_type
    if kind is None:
        if path.feed.regulator is not None or path.regulator is not None:
            facts.lack(text("regulator {regulator}: type", regulator=path.feed.regulator or code))
            return None
        if path.feed.isolated and not only:
            return _isolator(path, defaults, facts), None
        return None, None
    if kind.regulator in _REGULATING:
        return _regulator(path, defaults, facts)
    if kind.isolated or path.feed.isolated:
        return _isolator(path, defaults, facts), None
    ohm = facts.assume(defaults.isolation_ohm) / 1000.0
    return Resistor(f"board {code}", _lead_end(code), BUS, ohm), None


def _isolator(path: PowerPath, defaults: Defaults, facts: Facts) -> Diode:

    code = path.feed.code
    part_figure = None
    if path.regulator_type is not None:
        part_figure = facts.known(path.regulator_type, "drop_out_v", Basis.RATED)
    forward_v = facts.assume(defaults.isolation_drop) if part_figure is None else part_figure
    ohm = facts.assume(defaults.isolation_ohm) / 1000.0
    return Diode(f"isolation {code}", _lead_end(code), BUS, forward_v, ohm)


def _regulator(path: PowerPath, defaults: Defaults, facts: Facts) -> tuple[Regulator, Figure] | None:

    kind, code = path.regulator_type, path.feed.code
    if kind is None or path.regulator is None:
        facts.lack(text("regulator {regulator}: output set", regulator=path.feed.regulator or code))
        return None
    part_figure = Facts(facts.missing)
    set_v = part_figure.need(path.regulator, "set_v")
    if set_v is None:
        return None
    if kind.regulator is None:
        facts.lack(field_missing(kind, "regulator"))
    # Of a kind that is not said the one that wastes most is taken.
    switching = kind.regulator not in (RegulatorKind.LINEAR, None)
    drop_v = facts.take(kind, "drop_out_v", defaults.drop_out, kind.regulator, basis=Basis.RATED)
    efficiency = 100.0
    if switching:
        efficiency = facts.take(
            kind, "efficiency_pct", defaults.efficiency, kind.regulator, basis=Basis.RATED
        )
    regulation_ohm = facts.assume(defaults.regulation) / 1000.0
    standing_a = facts.assume(defaults.regulator_standing) / 1000.0
    limit_a = kind.burst_a or kind.continuous_a or _BURST_UNKNOWN_A
    element = Regulator(
        f"regulator {code}", _lead_end(code), BUS, GROUND, switching, set_v, drop_v,
        regulation_ohm, regulation_ohm, limit_a, standing_a, efficiency / 100.0,
    )  # fmt: skip
    return element, part_figure.figure("regulator set to", set_v, "V", "as set")
