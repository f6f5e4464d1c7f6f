"""What the packs of a power path give: volts full, rested and in flight, resistance, capacity."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

from hangar.base.figure import Basis, Figure
from hangar.base.text import Text, fixed, text
from hangar.base.values import value_class
from hangar.parts import FedPack, PackType, PowerPath
from hangar.parts.choices import PackJoin
from hangar.physics.pack import Chemistry, cell, typical_cell_ohm
from hangar.physics.pack_charge import resting_cell_v
from hangar.physics.pack_resistance import REFERENCE_C, at_25_c_ohm, at_temperature_ohm
from hangar.survey.defaults import Defaults
from hangar.survey.figures import Facts, input_of, made

CELL_TABLE = text("cell volts by chemistry; common practice, no source, the maker's sheet governs")
LEAST_CELL_C, MOST_CELL_C = -10.0, 45.0
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
    new = _new_cell(fed.pack_type)
    return PackFigures(fed, _cell_mohm(fed, new, today, defaults), new, _capacity(fed, defaults))


@value_class
class LoadTestLines:
    """Loaded volts that a pack is held against: not below ``least_v``; charged and healthy from ``ready_v``.

    ``ready_v`` rests on a typical resistance where ``is_typical``.
    """

    least_v: float
    ready_v: float
    is_typical: bool


def load_test_lines(kind: PackType, load_a: float, temperature_c: float | None = None) -> LoadTestLines:
    """What a load test of a pack of this type must show: one answer for rule, sheet and screen.

    Args:
        kind: the pack's type; its resistance is that of a new one, the maker's or typical.
        load_a: current of the test.
        temperature_c: of the pack; None for 25 C. Outside -10 to 45 C the nearer end is taken.
    """
    from hangar.physics.pack_health import least_loaded_v, loaded_lines_v

    new, chemistry = _new_cell(kind), Chemistry(kind.chemistry.value)
    ohm = new.expected / 1000.0 / kind.parallel
    held_c = 25.0 if temperature_c is None else min(max(temperature_c, LEAST_CELL_C), MOST_CELL_C)
    least_v = least_loaded_v(chemistry, kind.series, load_a, ohm, temperature_c=held_c)
    ready_v, _ = loaded_lines_v(chemistry, kind.series, load_a, ohm, temperature_c=held_c)
    return LoadTestLines(least_v, max(least_v, ready_v), new.basis is Basis.TYPICAL)


def _new_cell(kind: PackType) -> Figure:
    facts = Facts()
    rated = facts.known(kind, "cell_mohm", Basis.RATED)
    if rated is not None:
        return facts.figure("resistance of a new cell", rated, "mohm", "maker's figure")
    ohm = typical_cell_ohm(
        Chemistry(kind.chemistry), capacity_ah=kind.capacity_mah / kind.parallel / 1000.0
    ).expected
    facts.note("chemistry", kind.chemistry, basis=Basis.TYPICAL)
    facts.known(kind, "capacity_mah", Basis.RATED)
    return facts.figure(
        "resistance of a new cell", 1000.0 * ohm, "mohm", "typical of chemistry and size",
        "common practice and memory, unverified",
    )  # fmt: skip


def _cell_mohm(fed: FedPack, new: Figure, today: date, defaults: Defaults) -> Figure:
    measured = _measured_cell_mohm(fed)
    if measured is not None:
        return measured
    facts = Facts()
    facts.use(new)
    growth = facts.assume(defaults.age_growth)
    lived = _life_used(fed, today, defaults, facts)
    return facts.figure(
        "resistance of one cell",
        new.expected * (1.0 + growth * lived),
        "mohm",
        "resistance new x (1 + growth over its life x share of its life used)",
    )


def _measured_cell_mohm(fed: FedPack) -> Figure | None:
    """The newest reading, brought to 25 C where its temperature is known."""
    pack = fed.pack
    readings: list[tuple[date, float, float | None]] = []
    if pack.cell_mohm is not None:
        readings.append((pack.cell_mohm_on or date.min, pack.cell_mohm, pack.cell_mohm_temp_c))
    readings += [
        (test.tested_on, test.cell_mohm, test.ambient_c)
        for test in fed.capacity_tests
        if test.cell_mohm is not None
    ]
    if not readings:
        return None
    read_on, mohm, read_c = max(readings, key=lambda reading: reading[0])
    facts = Facts()
    facts.note("resistance measured, per cell", mohm, "mohm", Basis.MEASURED)
    if read_on > date.min:
        facts.note("measured on", text("{day}", day=read_on), basis=Basis.MEASURED)
    at_25 = mohm
    if read_c is not None and LEAST_CELL_C <= read_c <= MOST_CELL_C:
        facts.note("at temperature", read_c, "C", Basis.MEASURED)
        at_25 = 1000.0 * at_25_c_ohm(mohm / 1000.0, Chemistry(fed.pack_type.chemistry), read_c)
    return facts.figure(
        "resistance of one cell", at_25, "mohm",
        text("measured, brought to {temperature:g} °C", temperature=REFERENCE_C),
        "exp(B (1/T - 1/298.15 K)) fitted to simulated cells",
    )  # fmt: skip


def _life_used(fed: FedPack, today: date, defaults: Defaults, facts: Facts) -> float:
    """Share of its life that a pack has used, by years or by cycles, whichever is more."""
    kind, pack = fed.pack_type, fed.pack
    life_y = facts.take(kind, "life_y", defaults.pack_life, kind.chemistry, basis=Basis.RATED)
    shares = [0.0]
    if pack.bought_on is not None:
        age_y = max(0.0, (today - pack.bought_on).days / 365.25)
        facts.note("age", age_y, "y", Basis.MEASURED)
        shares.append(age_y / life_y)
    if pack.cycles is not None and kind.life_cycles:
        facts.known(pack, "cycles")
        facts.known(kind, "life_cycles", Basis.RATED)
        shares.append(pack.cycles / kind.life_cycles)
    if len(shares) == 1:
        facts.note("age not known, taken at the end of its life", 1.0, "ratio", Basis.TYPICAL)
        return 1.0
    return max(shares)


def _capacity(fed: FedPack, defaults: Defaults) -> Figure:
    facts, kind = Facts(), fed.pack_type
    tests = [test for test in fed.capacity_tests if test.capacity_mah is not None]
    newest = max(tests, key=lambda test: test.tested_on, default=None)
    pack_on = fed.pack.capacity_on or date.min
    if newest is not None and (fed.pack.capacity_mah is None or newest.tested_on >= pack_on):
        measured = facts.known(newest, "capacity_mah")
    else:
        measured = facts.known(fed.pack, "capacity_mah")
    if measured is not None:
        return facts.figure("capacity", measured, "mAh", "measured")
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
        each = cell_volts(Chemistry(kind.chemistry))
        facts.note(
            text("{pack}: {chemistry} cells in series", pack=fed.pack.tag, chemistry=kind.chemistry),
            kind.series,
            "count",
            Basis.RATED,
        )
        facts.note(text("{pack}: volts of a cell", pack=fed.pack.tag), each, "V", Basis.RATED)
        volts.append(kind.series * each)
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
    each = [pack.capacity_mah.expected for pack in packs]
    series = path.feed.join is PackJoin.SERIES
    inputs = [input_of(pack.capacity_mah) for pack in packs]
    formula = fixed(
        "least capacity of the packs in series" if series else "capacity of the packs side by side"
    )
    return made("capacity", min(each) if series else sum(each), "mAh", formula, inputs)
