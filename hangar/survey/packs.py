"""What the packs of a power path give: volts full, rested and in flight, resistance, capacity."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

from hangar.base.figure import Basis, Figure, Working
from hangar.base.text import Text, fixed, text
from hangar.base.values import value_class
from hangar.parts import FedPack, PowerPath
from hangar.parts.choices import PackJoin
from hangar.parts.readings import is_aside
from hangar.physics.pack import Chemistry, cell
from hangar.physics.pack_charge import resting_cell_v
from hangar.physics.pack_resistance import at_temperature_ohm
from hangar.survey.defaults import Defaults, defaults_with
from hangar.survey.figures import Facts, input_of, made
from hangar.survey.learned import pack_learned
from hangar.survey.model import Conditions
from hangar.survey.pack_readings import LEAST_CELL_C, MOST_CELL_C

CELL_TABLE = text("cell volts by chemistry; common practice, no source, the maker's sheet governs")
LEAST_CHARGE = 0.05


@value_class
class PackFigures:
    """One pack as the supply sees it."""

    fed: FedPack
    cell_mohm: Figure
    new_mohm: Figure
    capacity_mah: Figure

    @property
    def tag(self) -> str:
        """The pack's tag."""
        return self.fed.pack.tag

    @property
    def chemistry(self) -> Chemistry:
        """Its chemistry, as the physics names it."""
        return Chemistry(self.fed.pack_type.chemistry)

    def resting_v(self, charge_pct: float) -> float:
        """Open-circuit volts at a charge, 5 to 100; a nickel pack keeps those of half charge."""
        if self.chemistry.is_nickel:
            return self.fed.pack_type.series * cell(self.chemistry).half_v
        charge = min(max(charge_pct / 100.0, LEAST_CHARGE), 1.0)
        return self.fed.pack_type.series * resting_cell_v(self.chemistry, charge)

    def ohm(self, temperature_c: float, *, at_least_new_times: float = 0.0) -> float:
        """Resistance of the whole pack at a temperature, and no better than an aged one."""
        kind = self.fed.pack_type
        cell_mohm = max(self.cell_mohm.expected, at_least_new_times * self.new_mohm.expected)
        held_c = min(max(temperature_c, LEAST_CELL_C), MOST_CELL_C)
        ohm = at_temperature_ohm(cell_mohm / 1000.0, self.chemistry, held_c)
        return ohm * kind.series / kind.parallel


def pack_figures(fed: FedPack, today: date, defaults: Defaults) -> PackFigures:
    """Resistance and capacity of a pack: measured where it was, else from its type and age."""
    learned = pack_learned(fed, today, defaults)
    return PackFigures(fed, learned.cell_mohm, learned.new_mohm, _capacity(fed, defaults))


@value_class
class LoadTestLines:
    """Loaded volts that a pack is held against.

    Not below ``least_v``; a charged one shows ``ready_v`` to ``full_v``. They rest on a typical resistance
    where ``is_typical``.
    """

    least_v: float
    ready_v: float
    full_v: float
    is_typical: bool


def load_test_lines(
    fed: FedPack, load_a: float, conditions: Conditions, temperature_c: float | None = None
) -> LoadTestLines:
    """What a load test of this pack must show: one answer for rule, sheet and screen.

    Args:
        fed: the pack with what is known of its resistance.
        load_a: current of the test.
        conditions: the day, and the temperature of the packs.
        temperature_c: of the pack; None for that of the day. Outside -10 to 45 C the nearer end is taken.
    """
    from hangar.physics.pack_verdict import expected_loaded_v, least_loaded_v

    learned = pack_learned(fed, conditions.today, defaults_with(conditions.defaults))
    kind, chemistry = fed.pack_type, Chemistry(fed.pack_type.chemistry.value)
    times = kind.series / kind.parallel / 1000.0
    ohm, new_ohm = times * learned.cell_mohm.expected, times * learned.new_mohm.expected
    at_c = conditions.pack_c if temperature_c is None else temperature_c
    held_c = min(max(at_c, LEAST_CELL_C), MOST_CELL_C)
    ln_sd = 0.25 if learned.track is None else learned.track.at(learned.today_y).ln_sd
    least_v = least_loaded_v(chemistry, kind.series, load_a, ohm, new_ohm, temperature_c=held_c)
    ready_v, full_v = expected_loaded_v(chemistry, kind.series, load_a, ohm, ln_sd, temperature_c=held_c)
    typical = not learned.is_measured and learned.new_mohm.basis is Basis.TYPICAL
    return LoadTestLines(least_v, max(least_v, ready_v), max(least_v, full_v), typical)


def _capacity(fed: FedPack, defaults: Defaults) -> Figure:
    on: date | None
    facts, kind = Facts(), fed.pack_type
    tests = [
        test
        for test in fed.capacity_tests
        if test.capacity_mah is not None and not is_aside(test, fed.set_aside)
    ]
    newest = max(tests, key=lambda test: test.tested_on, default=None)
    pack_on = fed.pack.capacity_on or date.min
    if newest is not None and (fed.pack.capacity_mah is None or newest.tested_on >= pack_on):
        measured, on = facts.known(newest, "capacity_mah"), newest.tested_on
    else:
        measured, on = facts.known(fed.pack, "capacity_mah"), fed.pack.capacity_on
    if measured is not None:
        if on is not None:
            facts.note("newest reading", text("{day}", day=on), "", Basis.MEASURED)
        working = Working(text("measured"), tuple(facts.inputs), fixed("the record"))
        return Figure(fixed("capacity"), measured, "mAh", basis=Basis.MEASURED, working=working, read_on=on)
    label = facts.known(kind, "capacity_mah", Basis.RATED) or 0.0
    share = facts.assume(defaults.unmeasured_capacity)
    return facts.figure(
        "capacity", label * share, "mAh", "capacity on the label x share of an unmeasured pack"
    )


def path_volts(path: PowerPath, name: Text, cell_volts: Callable[[Chemistry], float]) -> Figure | None:
    """Volts of the packs of a path from the volts of one cell; None without packs.

    Packs in series add up; of packs side by side the highest counts, which the parts must stand.
    """
    if not path.packs:
        return None
    facts = Facts()
    volts = []
    for fed in path.packs:
        kind = fed.pack_type
        value = cell_volts(Chemistry(kind.chemistry))
        facts.note(
            text("{pack}: {chemistry} cells in series", pack=fed.pack.tag, chemistry=kind.chemistry),
            kind.series,
            "count",
            Basis.RATED,
        )
        facts.note(text("{pack}: volts of a cell", pack=fed.pack.tag), value, "V", Basis.RATED)
        volts.append(kind.series * value)
    series = path.feed.join is PackJoin.SERIES
    formula = fixed(
        "cells in series x volts of a cell, packs added"
        if series and len(volts) > 1
        else "cells in series x volts of a cell"
    )
    return facts.figure(name, sum(volts) if series else max(volts), "V", formula, CELL_TABLE)


def full_v(path: PowerPath) -> Figure | None:
    """Volts of a path fresh off charge."""
    return path_volts(path, fixed("volts fresh off charge"), lambda chemistry: cell(chemistry).full_v)


def rested_v(path: PowerPath) -> Figure | None:
    """Volts of a path charged and rested."""
    return path_volts(path, fixed("volts full and rested"), lambda chemistry: cell(chemistry).rested_full_v)


def nominal_v(path: PowerPath) -> Figure | None:
    """Volts that the label counts with."""
    return path_volts(path, fixed("nominal volts"), lambda chemistry: cell(chemistry).nominal_v)


def land_v(path: PowerPath) -> Figure | None:
    """Volts under load at which to land."""
    return path_volts(path, fixed("volts to land at"), lambda chemistry: cell(chemistry).land_now_v)


def capacity_of(path: PowerPath, packs: tuple[PackFigures, ...]) -> Figure | None:
    """Charge of a path: the least pack of a series, the sum of packs side by side."""
    if not packs:
        return None
    values = [pack.capacity_mah.expected for pack in packs]
    series = path.feed.join is PackJoin.SERIES
    inputs = [input_of(pack.capacity_mah) for pack in packs]
    formula = fixed(
        "least capacity of the packs in series" if series else "capacity of the packs side by side"
    )
    return made("capacity", min(values) if series else sum(values), "mAh", formula, inputs)
