"""Copper leads: resistance by gauge and temperature, drop, and how much current a gauge may carry.

Source: ASTM B258 gauges and IEC 60028 copper; Ohm's law.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from hangar.base.errors import BadInput, OutOfValidity
from hangar.physics.checks import finite

RESISTIVITY_OHM_MM2_PER_M = 1.0 / 58.0
"""Annealed copper at 20 C; IEC 60028."""
TEMPERATURE_COEFFICIENT_PER_K = 0.00393
"""Of annealed copper at 20 C, constant mass; IEC 60028."""
LAY_FACTOR = 1.02
"""Stranded over solid of one area: ratio of the 7-strand and solid rows of NEC chapter 9 table 8."""
TINNED_FACTOR = 1.06
"""Coated over uncoated copper: ratio of the columns of NEC chapter 9 table 8."""
BUILD_TOLERANCE = 0.15
"""Either way: strand builds of one gauge differ in copper area (FAA AC 43.13-1B table 11-9)."""

# Largest steady current by gauge.  28 to 20: common practice for model leads, no source.  18 to 12:
# the direct-current wire and circuit protector chart of FAA AC 43.13-1B, from memory, unverified.
_STEADY_A = {30: 0.5, 28: 1.0, 26: 2.0, 24: 3.0, 22: 5.0, 20: 7.5, 18: 10.0, 16: 15.0, 14: 20.0, 12: 25.0}
# 105 C wire in bundles, continuous: FAA AC 43.13-1B table 11-9.
_BUNDLED_A = {24: 2.5, 22: 3.0, 20: 4.0, 18: 6.0, 16: 7.0}


def gauge_number(awg: int | str) -> int:
    """The gauge as a number: 0 is 1/0, -1 is 2/0, -2 is 3/0, -3 is 4/0.

    Args:
        awg: American wire gauge, -3 to 50, or text such as ``22``, ``2/0`` or ``00``.

    Raises:
        BadInput: No such gauge.

    >>> gauge_number("4/0"), gauge_number("00"), gauge_number("22")
    (-3, -1, 22)
    """
    number = _gauge_from_text(awg) if isinstance(awg, str) else _whole(awg)
    if not -3 <= number <= 50:
        raise BadInput("wire gauge {gauge} was found; 4/0 (-3) to 50 are allowed", gauge=repr(awg))
    return number


def _whole(awg: float) -> int:
    """The gauge of any kind of number that is whole, such as one read from a table."""
    if isinstance(awg, bool) or not hasattr(awg, "__float__") or not float(awg).is_integer():
        raise BadInput(
            "wire gauge {gauge} was found; a whole number or text such as 2/0 is allowed", gauge=repr(awg)
        )
    return int(awg)


def _gauge_from_text(text: str) -> int:
    plain = text.strip().upper().removeprefix("AWG").removesuffix("AWG").strip()
    if plain.endswith("/0") and plain[:-2].isdigit():
        return 1 - int(plain[:-2])
    if plain and set(plain) == {"0"}:
        return 1 - len(plain)
    try:
        return int(plain)
    except ValueError:
        raise BadInput(
            "wire gauge {gauge} was found; a whole number or 1/0 to 4/0 is allowed", gauge=repr(text)
        ) from None


def diameter_mm(awg: int | str) -> float:
    """Diameter of solid wire of a gauge: 0.127 x 92 ** ((36 - n) / 39).

    Source: ASTM B258.

    >>> diameter_mm(36), round(diameter_mm(18), 4)
    (0.127, 1.0237)
    """
    return 0.127 * math.pow(92.0, (36 - gauge_number(awg)) / 39.0)


def area_mm2(awg: int | str) -> float:
    """Copper area of solid wire of a gauge.

    >>> round(area_mm2(22), 4)
    0.3255
    """
    return 0.25 * math.pi * diameter_mm(awg) ** 2


def nearest_gauge(copper_mm2: float) -> int:
    """The gauge nearest to a copper area in mm2, by ratio (0.34 mm2 is sold where 22 AWG is meant).

    Raises:
        BadInput: no copper area.

    >>> nearest_gauge(0.34), nearest_gauge(0.5)
    (22, 20)
    """
    finite(copper_mm2=copper_mm2)
    if not copper_mm2 > 0.0:
        raise BadInput("copper area {area:g} mm2 was found; more than 0 is allowed", area=copper_mm2)
    exact = 36.0 - 39.0 * math.log(math.sqrt(4.0 * copper_mm2 / math.pi) / 0.127, 92.0)
    return max(-3, min(50, round(exact)))


def resistance_of_area_ohm_per_m(
    copper_mm2: float, temperature_c: float = 20.0, stranded: bool = False
) -> float:
    """Resistance of one copper conductor of a given copper area.

    Args:
        copper_mm2: Copper area, more than 0.
        temperature_c: Conductor temperature, -60 to 200.
        stranded: Whether the lay of the strands lengthens them (2 %).

    Raises:
        BadInput: No copper area.
        OutOfValidity: A temperature outside the straight line of copper.

    Source: IEC 60028 (resistivity and temperature coefficient).

    >>> round(resistance_of_area_ohm_per_m(1.0) * 1000, 2)
    17.24
    """
    if not copper_mm2 > 0.0:
        raise BadInput("copper area {area:g} mm2 was found; more than 0 is allowed", area=copper_mm2)
    if not -60.0 <= temperature_c <= 200.0:
        raise OutOfValidity(
            "copper at {temperature:g} C was asked; -60 to 200 C is covered", temperature=temperature_c
        )
    warm = 1.0 + TEMPERATURE_COEFFICIENT_PER_K * (temperature_c - 20.0)
    return RESISTIVITY_OHM_MM2_PER_M * warm * (LAY_FACTOR if stranded else 1.0) / copper_mm2


def resistance_ohm_per_m(awg: int | str, temperature_c: float = 20.0, stranded: bool = False) -> float:
    """Resistance of one copper conductor of a gauge.

    Args:
        awg: Gauge, -3 (4/0) to 50, or text such as ``2/0``.
        temperature_c: Conductor temperature, -60 to 200.
        stranded: Whether the lay of the strands lengthens them (2 %).

    Returns:
        Ohms for each metre of one leg.

    Valid for: bare annealed copper of nominal area; real strand builds lie within
        ``BUILD_TOLERANCE`` of it.

    Source: ASTM B258 (diameters), IEC 60028 (copper); lay factor from NEC chapter 9 table 8.

    >>> round(resistance_ohm_per_m(22) * 1000, 2), round(resistance_ohm_per_m(20, 25, True) * 1000, 2)
    (52.96, 34.64)
    """
    return resistance_of_area_ohm_per_m(area_mm2(awg), temperature_c, stranded)


def loop_ohm(
    length_m: float,
    awg: int | str,
    *,
    temperature_c: float = 25.0,
    stranded: bool = True,
    joints: int = 0,
    contact_ohm: float = 0.010,
    parallel: int = 1,
) -> float:
    """Resistance of a two-wire lead, there and back, with its plugged joints.

    Args:
        length_m: Length of the lead, 0 or more.
        awg: Gauge of both wires.
        temperature_c: Conductor temperature.
        stranded: Whether the wires are stranded.
        joints: Mated plugs along the lead; each puts one contact in either wire.
        contact_ohm: Resistance of one contact pair.
        parallel: Equal leads side by side.

    Raises:
        BadInput: A negative length, count or resistance, or fewer than one lead.

    >>> round(loop_ohm(1.3, 20, joints=2, contact_ohm=0.006) * 3.0, 3)
    0.342
    """
    finite(length_m=length_m, contact_ohm=contact_ohm)
    if length_m < 0.0 or joints < 0 or contact_ohm < 0.0:
        raise BadInput(
            "a lead of {length:g} m with {joints} joints of {resistance:g} ohm was found; 0 or more of "
            "each is allowed",
            length=length_m,
            joints=joints,
            resistance=contact_ohm,
        )
    if parallel < 1:
        raise BadInput("{parallel} leads side by side were found; 1 or more is allowed", parallel=parallel)
    leg_ohm = length_m * resistance_ohm_per_m(awg, temperature_c, stranded) + joints * contact_ohm
    return 2.0 * leg_ohm / parallel


def drop_v(current_a: float, resistance_ohm: float) -> float:
    """Volts lost in a lead.

    Raises:
        BadInput: a current that is not finite, or a resistance below 0.

    >>> drop_v(3.0, 0.1)
    0.3
    """
    finite(current_a=current_a, resistance_ohm=resistance_ohm)
    return current_a * resistance_ohm


def warmed_length_ratio(temperature_c: float) -> float:
    """By how much a wire must be shorter at a temperature to keep its resistance at 20 C.

    Raises:
        OutOfValidity: a temperature outside -60 to 200 C.

    Source: FAA AC 43.13-1B par. 11-66: L2 = 254.5 L1 / (234.5 + T2).

    >>> warmed_length_ratio(20.0)
    1.0
    """
    if not temperature_c > -234.5:
        raise OutOfValidity(
            "copper at {temperature:g} C was asked; -60 to 200 C is covered", temperature=temperature_c
        )
    return 254.5 / (234.5 + temperature_c)


@dataclass(frozen=True, slots=True)
class GaugeLimit:
    """What a gauge carries steadily: a single model lead, and in a bundle (None where not listed)."""

    single_a: float
    bundled_a: float | None
    source: str


def current_limit(awg: int | str) -> GaugeLimit:
    """Largest steady current of a gauge; gauges between two rows take the thinner row.

    Raises:
        OutOfValidity: A gauge thinner than 30, for which no figure is held.

    Source: 28 to 20 common practice, no source; 18 to 12 the wire and protector chart of FAA AC
        43.13-1B, from memory, unverified; bundled: FAA AC 43.13-1B table 11-9, 105 C wire.

    >>> current_limit(22).single_a, current_limit(25).single_a, current_limit(20).bundled_a
    (5.0, 2.0, 4.0)
    """
    number = gauge_number(awg)
    single = _thinner_row(_STEADY_A, number)
    if single is None:
        raise OutOfValidity(
            "no current limit is held for {gauge} AWG; 30 AWG and heavier are covered", gauge=number
        )
    source = "common practice, no source" if number > 18 else "FAA AC 43.13-1B chart, from memory, unverified"
    return GaugeLimit(single, _thinner_row(_BUNDLED_A, number), source)


def _thinner_row(table: dict[int, float], number: int) -> float | None:
    rows = [gauge for gauge in table if gauge >= number]
    return table[min(rows)] if rows else None


@dataclass(frozen=True, slots=True)
class Lead:
    """One lead as the network sees it: resistance of one wire, with a band for the strand build.

    ``measured_loop_ohm`` (both wires, joints included) overrides the gauge where it is known.
    """

    length_m: float
    awg: int | str
    joints: int = 0
    contact_ohm: float = 0.010
    temperature_c: float = 25.0
    measured_loop_ohm: float | None = None

    def leg_ohm(self) -> float:
        """Resistance of one wire with its contacts; as expected."""
        if self.measured_loop_ohm is not None:
            return 0.5 * self.measured_loop_ohm
        return 0.5 * loop_ohm(
            self.length_m,
            self.awg,
            temperature_c=self.temperature_c,
            joints=self.joints,
            contact_ohm=self.contact_ohm,
        )

    def leg_ohm_band(self) -> tuple[float, float]:
        """Least and most of one wire: 15 % either way on the copper; none when measured."""
        leg = self.leg_ohm()
        if self.measured_loop_ohm is not None:
            return leg, leg
        copper = leg - self.joints * self.contact_ohm
        return leg - BUILD_TOLERANCE * copper, leg + BUILD_TOLERANCE * copper
