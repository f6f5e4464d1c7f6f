"""How full a pack is by its resting volts, for the chemistries in which they tell anything.

Source: tables named beside each curve.
"""

from __future__ import annotations

from dataclasses import dataclass

from hangar.base.errors import BadInput, NoAnswer, OutOfValidity
from hangar.base.text import Text, text
from hangar.physics.chart import Chart, read_chart
from hangar.physics.pack import CELLS, Chemistry

# Charge and resting volts of one cell, emptiest first.
# Hobby table: common practice, no source; reads lower, so more carefully, than the modelled cells.
_LIPO: Chart = (
    (0.05, 3.61),
    (0.10, 3.69),
    (0.20, 3.73),
    (0.30, 3.77),
    (0.40, 3.80),
    (0.50, 3.84),
    (0.60, 3.87),
    (0.70, 3.95),
    (0.80, 4.02),
    (0.90, 4.11),
    (1.00, 4.20),
)
# PyBaMM (V. Sulzer et al., J. Open Res. Software 9 (2021) 14), C/50 discharge, parameters of
# C.-H. Chen et al., J. Electrochem. Soc. 167 (2020) 080534 (NMC 811 cylindrical cell).
_LIION: Chart = (
    (0.02, 2.8598),
    (0.05, 3.1053),
    (0.10, 3.2920),
    (0.20, 3.4813),
    (0.30, 3.5778),
    (0.40, 3.6632),
    (0.50, 3.7464),
    (0.60, 3.8364),
    (0.70, 3.9435),
    (0.80, 4.0371),
    (0.90, 4.0929),
    (0.95, 4.1175),
    (1.00, 4.1958),
)
# As above, parameters of E. Prada et al., J. Electrochem. Soc. 160 (2013) A616 (LiFePO4).
_LIFE: Chart = (
    (0.02, 2.4577),
    (0.05, 2.7821),
    (0.10, 2.9750),
    (0.20, 3.1661),
    (0.30, 3.2036),
    (0.40, 3.2505),
    (0.50, 3.2643),
    (0.60, 3.2672),
    (0.70, 3.2720),
    (0.80, 3.3076),
    (0.90, 3.3123),
    (0.95, 3.3144),
    (1.00, 3.5962),
)
# A cell charged to 4.35 V holds about this share at 4.20 V; from memory, unverified.
_LIHV_SHARE_AT_4_20 = 0.87
_LIHV: Chart = (*((soc * _LIHV_SHARE_AT_4_20, volts) for soc, volts in _LIPO), (1.0, 4.35))

_CURVES: dict[Chemistry, tuple[Chart, float]] = {
    Chemistry.LIPO: (_LIPO, 0.15),
    Chemistry.LIHV: (_LIHV, 0.15),
    Chemistry.LI_ION: (_LIION, 0.10),
}


@dataclass(frozen=True, slots=True)
class ChargeReading:
    """How full a pack is, as a share: least, expected (None where only edges show), most, in words."""

    low: float
    expected: float | None
    high: float
    remark: Text


def state_of_charge(
    chemistry: Chemistry, resting_cell_v: float, *, rested_h: float = 1.0, temperature_c: float = 20.0
) -> ChargeReading:
    """How full a cell is by its resting volts.

    Args:
        chemistry: Kind of cell.
        resting_cell_v: Volts of one cell, nothing connected; more than 0.
        rested_h: Hours since charge or flight.
        temperature_c: Cell temperature.

    Raises:
        BadInput: No volts, or volts above any cell of this kind.
        NoAnswer: A nickel chemistry: its resting volts say nothing about charge.
        OutOfValidity: Rested less than an hour, or outside 10 to 35 C.

    Valid for: rested at least an hour, 10 to 35 C, less than a fiftieth of capacity drawn.

    Source: LiPo and LiHV common practice, no source; Li-ion and LiFePO4 PyBaMM with published
        parameters (Chen 2020, Prada 2013).

    >>> state_of_charge(Chemistry.LIPO, 3.80).expected
    0.4
    """
    if chemistry.is_nickel:
        raise NoAnswer(
            "resting volts say nothing about the charge of a {chemistry} pack; test it under load",
            chemistry=chemistry,
        )
    if not rested_h >= 1.0 or not 10.0 <= temperature_c <= 35.0:
        raise OutOfValidity(
            "resting volts after {hours:g} h at {temperature:g} °C were given; at least 1 h and 10 "
            "to 35 °C are needed",
            hours=rested_h,
            temperature=temperature_c,
        )
    if not 0.0 < resting_cell_v <= CELLS[chemistry].charge_limit_v + 0.10:
        raise BadInput(
            "{volts:g} V of a {chemistry} cell was found; above 0 to {most:g} V is allowed",
            volts=resting_cell_v,
            chemistry=chemistry,
            most=CELLS[chemistry].charge_limit_v + 0.1,
        )
    if chemistry is Chemistry.LIFEPO4:
        return _life_edges(resting_cell_v)
    curve, either_way = _CURVES[chemistry]
    if resting_cell_v < curve[0][1]:
        return ChargeReading(0.0, 0.0, curve[0][0], text("empty"))
    expected = read_chart(((volts, soc) for soc, volts in curve), resting_cell_v)
    return ChargeReading(
        max(0.0, expected - either_way),
        expected,
        min(1.0, expected + either_way),
        text("within {percent:.0f} % of capacity", percent=100 * either_way),
    )


def _life_edges(volts: float) -> ChargeReading:
    """The plateau hides the charge; only its edges can be told."""
    if volts > 3.33:
        return ChargeReading(0.90, None, 1.0, text("nearly full"))
    if volts >= 3.25:
        return ChargeReading(0.30, None, 0.90, text("somewhere between 30 and 90 %"))
    if volts >= 3.20:
        return ChargeReading(0.20, None, 0.45, text("below half"))
    return ChargeReading(0.0, None, 0.30, text("below about a quarter"))


def resting_cell_v(chemistry: Chemistry, charge: float) -> float:
    """Resting volts of a cell at a share of its charge, 0.05 to 1.

    Raises:
        NoAnswer: A nickel chemistry.
        OutOfValidity: A charge below the tables.

    >>> resting_cell_v(Chemistry.LI_ION, 0.5)
    3.7464
    """
    if chemistry.is_nickel:
        raise NoAnswer("resting volts of a {chemistry} pack do not follow its charge", chemistry=chemistry)
    curve = _LIFE if chemistry is Chemistry.LIFEPO4 else _CURVES[chemistry][0]
    if not curve[0][0] <= charge <= 1.0:
        raise OutOfValidity(
            "a charge of {charge:g} was asked; {least:.2g} to 1 is covered", charge=charge, least=curve[0][0]
        )
    return read_chart(curve, charge)
