"""Inner resistance of a pack: from two loads, with its uncertainty, and brought to 25 C.

Source: Ohm's law; temperature law named with its function.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from hangar.base.errors import BadInput, OutOfValidity
from hangar.physics.checks import finite
from hangar.physics.pack import CELLS, Chemistry

REFERENCE_C = 25.0
_ZERO_K = 273.15


@dataclass(frozen=True, slots=True)
class MeasuredResistance:
    """A pack's resistance as tested.

    Attributes:
        pack_ohm: Of the whole pack, tester's lead taken off.
        cell_ohm: Of one string cell: pack over cells in series.
        uncertainty_ohm: Standard uncertainty of the pack's figure from the meter.
        is_upper_bound: Whether it was taken from rest, where surface charge makes it look larger.
        remarks: What must be said beside it.
    """

    pack_ohm: float
    cell_ohm: float
    uncertainty_ohm: float
    is_upper_bound: bool
    remarks: tuple[str, ...]


def resistance_from_two_loads(
    light: tuple[float, float],
    heavy: tuple[float, float],
    *,
    cells: int,
    lead_ohm: float = 0.0,
    meter_v: float = 0.010,
) -> MeasuredResistance:
    """Resistance from the volts at two currents: (U1 - U2)/(I2 - I1).

    Args:
        light: Volts and amps at the lighter load; 0 A (at rest) is allowed and flagged.
        heavy: Volts and amps at the heavier load, taken at once after.
        cells: Cells in series.
        lead_ohm: Tester's lead and contacts, both legs, to take off.
        meter_v: Standard uncertainty of one reading.

    Raises:
        BadInput: The heavier load is not heavier, or the volts do not fall.

    Valid for: direct current over seconds; 1 kHz meters read 1.3 to 2 times less and must not be mixed in.

    Source: two-level method of IEC 61951 and IEC 61960, as restated in electronic-load manuals.

    >>> pack = resistance_from_two_loads((6.62, 0.4), (6.44, 2.0), cells=5)
    >>> round(pack.pack_ohm, 4), round(pack.cell_ohm, 4)
    (0.1125, 0.0225)
    """
    finite(meter_v=meter_v)
    (light_v, light_a), (heavy_v, heavy_a) = light, heavy
    if cells < 1 or light_a < 0.0 or lead_ohm < 0.0 or meter_v < 0.0:
        raise BadInput("a resistance test needs 1 cell or more, and amps, lead and meter error of 0 or more")
    step_a = heavy_a - light_a
    if not step_a > 0.0:
        raise BadInput(
            "test loads of {light:g} A and {heavy:g} A were found; the second must be heavier",
            light=light_a,
            heavy=heavy_a,
        )
    pack = (light_v - heavy_v) / step_a - lead_ohm
    if not pack > 0.0:
        raise BadInput(
            "{light:g} V at {light_current:g} A and {heavy:g} V at {heavy_current:g} A leave no "
            "resistance for the pack; the volts must fall by more than the tester's lead takes",
            light=light_v,
            light_current=light_a,
            heavy=heavy_v,
            heavy_current=heavy_a,
        )
    from_rest = light_a == 0.0
    remarks = []
    if from_rest:
        remarks.append("upper bound: taken from rest, where surface charge adds to it")
    if step_a < 1.0:
        remarks.append("the loads lie less than 1 A apart: the meter's error weighs heavily")
    return MeasuredResistance(
        pack, pack / cells, math.sqrt(2.0) * meter_v / step_a, from_rest, tuple(remarks)
    )


def temperature_factor(chemistry: Chemistry, temperature_c: float) -> float:
    """Resistance at a temperature over resistance at 25 C.

    Args:
        chemistry: Kind of cell.
        temperature_c: Cell temperature, -10 to 45.

    Raises:
        OutOfValidity: Outside -10 to 45 C.

    Source: exp(B (1/T - 1/298.15)); B = 2300 K fits the IEC 61960 sequence run in PyBaMM with the
        ORegan 2022 parameters (within 15 % above a fifth of charge, 35 % at a fifth and -10 C);
        nickel 2000 K is an assumption.

    >>> round(temperature_factor(Chemistry.LIPO, 0.0), 2)
    2.03
    """
    if not -10.0 <= temperature_c <= 45.0:
        raise OutOfValidity(
            "a cell at {temperature:g} C was asked; -10 to 45 C is covered", temperature=temperature_c
        )
    exponent = CELLS[chemistry].resistance_kelvin
    return math.exp(exponent * (1.0 / (temperature_c + _ZERO_K) - 1.0 / (REFERENCE_C + _ZERO_K)))


def at_temperature_ohm(ohm_at_25_c: float, chemistry: Chemistry, temperature_c: float) -> float:
    """A resistance at 25 C taken to another temperature.

    Raises:
        BadInput: a resistance that is not finite.

    >>> round(at_temperature_ohm(0.030, Chemistry.NIMH, 5.0), 4)
    0.0486
    """
    finite(ohm_at_25_c=ohm_at_25_c)
    return ohm_at_25_c * temperature_factor(chemistry, temperature_c)


def at_25_c_ohm(ohm: float, chemistry: Chemistry, temperature_c: float) -> float:
    """A measured resistance brought to 25 C, to compare tests of different days.

    Raises:
        BadInput: a resistance that is not finite.

    >>> round(at_25_c_ohm(0.0486, Chemistry.NIMH, 5.0), 3)
    0.03
    """
    finite(ohm=ohm)
    return ohm / temperature_factor(chemistry, temperature_c)
