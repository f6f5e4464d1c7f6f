"""Packs: volts of each chemistry, what a pack of cells gives, and packs joined on one bus.

Source: Kirchhoff's and Ohm's laws; volts of the chemistries are marked where they stand.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from hangar.base.chemistry import Chemistry as Chemistry
from hangar.base.errors import BadInput, NoAnswer
from hangar.base.figure import Band
from hangar.physics.checks import finite


@dataclass(frozen=True, slots=True)
class CellVolts:
    """Volts of one cell.

    Attributes:
        nominal_v: What the label counts with.
        charge_limit_v: Highest while charging (nickel: the peak).
        full_v: Highest off the charger; what parts must stand.
        rested_full_v: Charged and rested an hour.
        half_v: Resting near half charge.
        field_minimum_v: Least under the test load before a flight.
        land_now_v: Under flight load: land.
        never_below_v: End of discharge.
        storage_low_v, storage_high_v: Resting volts to store at; None where any charge will do.
        ready_emf_v: Inner volts of a cell fit for a full set of flights.
        recharge_emf_v: Inner volts below which it must be charged before it flies.
        resistance_kelvin: Exponent of the resistance's temperature law.
        charge_factor: Charge put in over charge got out.
    """

    nominal_v: float
    charge_limit_v: float
    full_v: float
    rested_full_v: float
    half_v: float
    field_minimum_v: float
    land_now_v: float
    never_below_v: float
    storage_low_v: float | None
    storage_high_v: float | None
    ready_emf_v: float
    recharge_emf_v: float
    resistance_kelvin: float
    charge_factor: float


# Nominal and end volts of NiCd and NiMH: IEC 61951-1 and -2, from memory, unverified.  Lithium
# nominal, full, end and storage volts: battery table of a general multi-chemistry charger manual.
# Field minimum, land-now, rested volts: common practice, no source.  Ready and recharge volts are
# proposals set on trade anchors.  2300 K: fitted to PyBaMM's ORegan2022 cell; 2000 K assumed.
CELLS: dict[Chemistry, CellVolts] = {
    Chemistry.NICD: CellVolts(
        1.2, 1.6, 1.45, 1.35, 1.27, 1.20, 1.10, 1.0, None, None, 1.32, 1.22, 2000.0, 1.2
    ),
    Chemistry.NIMH: CellVolts(
        1.2, 1.6, 1.45, 1.38, 1.27, 1.22, 1.12, 1.0, 1.25, 1.33, 1.33, 1.22, 2000.0, 1.2
    ),
    Chemistry.NIMH_LSD: CellVolts(
        1.2, 1.6, 1.45, 1.38, 1.27, 1.22, 1.12, 1.0, 1.25, 1.33, 1.33, 1.22, 2000.0, 1.2
    ),
    Chemistry.LIPO: CellVolts(
        3.7, 4.20, 4.20, 4.18, 3.84, 3.80, 3.50, 3.0, 3.80, 3.85, 4.10, 3.70, 2300.0, 1.0
    ),
    Chemistry.LIHV: CellVolts(
        3.8, 4.35, 4.35, 4.32, 3.85, 3.85, 3.55, 3.0, 3.80, 3.85, 4.22, 3.72, 2300.0, 1.0
    ),
    Chemistry.LI_ION: CellVolts(
        3.6, 4.20, 4.20, 4.15, 3.75, 3.80, 3.50, 3.0, 3.75, 3.85, 4.05, 3.60, 2300.0, 1.0
    ),
    Chemistry.LIFEPO4: CellVolts(
        3.3, 3.65, 3.60, 3.37, 3.28, 3.20, 3.05, 2.5, 3.25, 3.30, 3.32, 3.23, 2300.0, 1.0
    ),
}


def cell(chemistry: Chemistry) -> CellVolts:
    """Volts of one cell of a chemistry.

    >>> cell(Chemistry.LIPO).full_v
    4.2
    """
    return CELLS[chemistry]


def _check_cells(cells: int, parallel: int = 1) -> None:
    if cells < 1 or parallel < 1:
        raise BadInput(
            "a pack of {cells} cells in series by {parallel} was found; 1 or more is allowed",
            cells=cells,
            parallel=parallel,
        )


def full_v(chemistry: Chemistry, cells: int) -> float:
    """Highest volts of a pack off the charger; what the parts on it must stand.

    Raises:
        BadInput: fewer than one cell.

    >>> full_v(Chemistry.LIPO, 2), full_v(Chemistry.NIMH, 5)
    (8.4, 7.25)
    """
    _check_cells(cells)
    return cells * CELLS[chemistry].full_v


def rested_full_v(chemistry: Chemistry, cells: int) -> float:
    """Volts of a charged pack after an hour's rest.

    Raises:
        BadInput: fewer than one cell.

    >>> round(rested_full_v(Chemistry.NIMH, 5), 2)
    6.9
    """
    _check_cells(cells)
    return cells * CELLS[chemistry].rested_full_v


def nominal_v(chemistry: Chemistry, cells: int) -> float:
    """Volts that the label counts with.

    Raises:
        BadInput: fewer than one cell.

    >>> nominal_v(Chemistry.NIMH, 5)
    6.0
    """
    _check_cells(cells)
    return cells * CELLS[chemistry].nominal_v


def watt_hours(chemistry: Chemistry, cells: int, capacity_ah: float) -> float:
    """Energy by which carriers count a pack: nominal volts times rated capacity.

    Args:
        capacity_ah: Rated capacity of the whole pack.

    Raises:
        BadInput: fewer than one cell, or a capacity below 0.

    >>> round(watt_hours(Chemistry.LIPO, 6, 5.0), 1)
    111.0
    """
    finite(capacity_ah=capacity_ah)
    if capacity_ah < 0.0:
        raise BadInput("a capacity of {capacity:g} Ah was found; 0 or more is allowed", capacity=capacity_ah)
    return nominal_v(chemistry, cells) * capacity_ah


def pack_resistance_ohm(cell_ohm: float, cells: int, parallel: int = 1) -> float:
    """Resistance of a pack from that of one cell.

    Raises:
        BadInput: fewer than one cell, or a resistance below 0.

    >>> pack_resistance_ohm(0.030, 5)
    0.15
    """
    finite(cell_ohm=cell_ohm)
    _check_cells(cells, parallel)
    if cell_ohm < 0.0:
        raise BadInput(
            "a cell resistance of {resistance:g} ohm was found; 0 or more is allowed", resistance=cell_ohm
        )
    return cell_ohm * cells / parallel


# Ohms of a new cell at 20 to 25 C, direct current over ten seconds.  From memory and common
# practice; AA to 50 mohm from a published discharge of 1.20 V at 1 A and 1.15 V at 2 A.
_NICKEL_SIZES = {
    "sub-C": Band(0.006, 0.010, 0.014),
    "4/5A": Band(0.015, 0.020, 0.028),
    "A": Band(0.015, 0.020, 0.028),
    "AA": Band(0.025, 0.030, 0.050),
    "AAA": Band(0.060, 0.080, 0.110),
}
_OHM_AH = {
    Chemistry.LIPO: Band(0.015, 0.025, 0.040),
    Chemistry.LIHV: Band(0.015, 0.025, 0.040),
    Chemistry.LI_ION: Band(0.120, 0.150, 0.170),
    Chemistry.LIFEPO4: Band(0.018, 0.028, 0.040),
}


def typical_cell_ohm(
    chemistry: Chemistry, *, capacity_ah: float | None = None, size: str | None = None
) -> Band:
    """Resistance of a new cell where neither its maker nor a test says.

    Args:
        chemistry: Kind of cell.
        capacity_ah: Capacity of one cell; needed for lithium.
        size: Cell size of a nickel cell (sub-C, 4/5A, A, AA, AAA); without it the whole span
            of sub-C to AA is given.

    Raises:
        BadInput: No capacity for lithium, or an unknown size.

    Source: common practice and memory, unverified; lithium falls as one over capacity.

    >>> typical_cell_ohm(Chemistry.NIMH, size="AA").expected
    0.03
    >>> typical_cell_ohm(Chemistry.LIPO, capacity_ah=2.0).expected
    0.0125
    """
    if chemistry.is_nickel:
        if size is None:
            return Band(0.006, 0.025, 0.050)
        if size not in _NICKEL_SIZES:
            raise BadInput(
                "nickel cell size {size} was found; allowed are {allowed}",
                size=repr(size),
                allowed=", ".join(_NICKEL_SIZES),
            )
        return _NICKEL_SIZES[size]
    if capacity_ah is None or not capacity_ah > 0.0:
        raise BadInput(
            "the capacity of one cell, more than 0, is needed to estimate a lithium cell's resistance"
        )
    return _OHM_AH[chemistry] / capacity_ah


@dataclass(frozen=True, slots=True)
class ParallelBus:
    """Packs joined on one bus: bus volts and the amps out of each (negative: it is being charged)."""

    bus_v: float
    pack_a: tuple[float, ...]

    @property
    def charging(self) -> tuple[int, ...]:
        """Positions of the packs that take current in."""
        return tuple(k for k, current in enumerate(self.pack_a) if current < 0.0)


def parallel_bus(packs: Sequence[tuple[float, float]], load_a: float) -> ParallelBus:
    """Volts and shares of packs joined directly, without isolation.

    Args:
        packs: Open-circuit volts and ohms of each (leads included), ohms more than 0.
        load_a: Current drawn from the bus.

    Raises:
        BadInput: No packs, or one without resistance.
        NoAnswer: The load is more than they can give: the supply collapses.

    Source: Kirchhoff's laws.

    >>> unequal = parallel_bus([(8.25, 0.0672), (7.95, 0.0760)], 0.5)
    >>> round(unequal.pack_a[0], 2), unequal.charging
    (2.36, (1,))
    """
    finite(load_a=load_a)
    if not packs or any(ohm <= 0.0 for _, ohm in packs):
        raise BadInput("packs on one bus need at least one pack, each with a resistance of more than 0")
    siemens = sum(1.0 / ohm for _, ohm in packs)
    bus_v = (sum(emf / ohm for emf, ohm in packs) - load_a) / siemens
    if bus_v <= 0.0 < load_a:
        raise NoAnswer(
            "no operating point: the supply collapses ({current:g} A asked of these packs)", current=load_a
        )
    return ParallelBus(bus_v, tuple((emf - bus_v) / ohm for emf, ohm in packs))
