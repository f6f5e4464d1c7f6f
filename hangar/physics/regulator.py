"""Regulators: heat, drop-out, limit, and what a switching regulator asks of its pack.

Source: energy balance and thermal resistances in a row.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from hangar.base.errors import BadInput, NoAnswer
from hangar.base.figure import Band
from hangar.physics.checks import finite

SWITCHING_EFFICIENCY = Band(0.85, 0.88, 0.93)
"""Where the maker gives none; common practice, no source."""
OUTPUT_TOLERANCE_V = 0.1
"""Either way on the set volts; common practice, no source."""


@dataclass(frozen=True, slots=True)
class Conversion:
    """What goes into a regulator and what becomes heat."""

    input_a: float
    input_w: float
    output_w: float
    heat_w: float

    @property
    def efficiency(self) -> float:
        """Output power over input power; 0 when nothing goes in."""
        return self.output_w / self.input_w if self.input_w > 0.0 else 0.0


def _check(input_v: float, output_v: float, current_a: float, quiescent_a: float) -> None:
    finite(input_v=input_v, current_a=current_a)
    if not (input_v > 0.0 and output_v >= 0.0 and current_a >= 0.0 and quiescent_a >= 0.0):
        raise BadInput(
            "a regulator with {input:g} V in, {output:g} V and {current:g} A out was found; input "
            "volts above 0 and the rest 0 or more are allowed",
            input=input_v,
            output=output_v,
            current=current_a,
        )
    if output_v > input_v:
        raise BadInput(
            "a step-down regulator with {output:g} V out from {input:g} V was found; at most the "
            "input volts are allowed",
            output=output_v,
            input=input_v,
        )


def linear(input_v: float, output_v: float, current_a: float, quiescent_a: float = 0.0) -> Conversion:
    """A linear regulator: the current goes through, the volts in between become heat.

    Raises:
        BadInput: An impossible value, or more volts out than in.

    Source: energy balance.

    >>> hot = linear(8.2, 6.0, 3.0, 0.015)
    >>> round(hot.heat_w, 2), round(hot.efficiency, 3)
    (6.72, 0.728)
    """
    _check(input_v, output_v, current_a, quiescent_a)
    drawn = current_a + quiescent_a
    output = output_v * current_a
    return Conversion(drawn, input_v * drawn, output, input_v * drawn - output)


def switching(
    input_v: float, output_v: float, current_a: float, efficiency: float, quiescent_a: float = 0.0
) -> Conversion:
    """A switching regulator: output power over efficiency is drawn whatever the input volts.

    Raises:
        BadInput: An impossible value, or an efficiency outside 0 to 1.

    Source: energy balance.

    >>> cool = switching(8.2, 6.0, 3.0, 0.90)
    >>> round(cool.heat_w, 2), round(cool.input_a, 2)
    (2.0, 2.44)
    """
    _check(input_v, output_v, current_a, quiescent_a)
    if not 0.0 < efficiency <= 1.0:
        raise BadInput(
            "an efficiency of {efficiency:g} was found; more than 0 up to 1 is allowed", efficiency=efficiency
        )
    output = output_v * current_a
    drawn = output / (efficiency * input_v) + quiescent_a
    return Conversion(drawn, input_v * drawn, output, input_v * drawn - output)


def buck_input_v(source_v: float, source_ohm: float, input_power_w: float) -> float:
    """Input volts of a converter that draws a fixed power through a resistance.

    Args:
        source_v: Open-circuit volts of the pack.
        source_ohm: Pack and input leads.
        input_power_w: Output power over efficiency.

    Returns:
        The upper of the two operating points, the one reached from no load.

    Raises:
        BadInput: A negative value, or no source volts.
        NoAnswer: More power than E^2/(4 R): the supply collapses.

    Source: quadratic of power through a resistance (maximum power transfer).

    >>> buck_input_v(8.0, 0.5, 15.0)
    6.9
    """
    if not (source_v > 0.0 and source_ohm >= 0.0 and input_power_w >= 0.0):
        raise BadInput("a converter's source needs volts above 0, and ohms and watts of 0 or more")
    inside = source_v * source_v - 4.0 * source_ohm * input_power_w
    if inside < 0.0:
        most = source_v * source_v / (4.0 * source_ohm)
        raise NoAnswer(
            "no operating point: the supply collapses ({power:.3g} W asked, {most:.3g} W is "
            "the most this pack and its leads can give)",
            power=input_power_w,
            most=most,
        )
    return 0.5 * (source_v + math.sqrt(inside))


def output_v(
    input_v: float,
    set_v: float,
    current_a: float,
    *,
    drop_v: float,
    drop_ohm: float = 0.0,
    limit_a: float = math.inf,
) -> float:
    """Output volts at a load current: the set volts, or less where the input is too low.

    Args:
        input_v: Volts at the input under this load.
        set_v: Volts it is set to.
        current_a: Load current.
        drop_v: Drop-out volts at no current.
        drop_ohm: Rise of drop-out with current.
        limit_a: Current limit.

    Raises:
        NoAnswer: More current than the limit: the output falls to whatever the load leaves.

    Valid for: linear regulators, and switching ones with their switch fully on.

    >>> output_v(8.0, 6.0, 3.0, drop_v=0.5), output_v(6.0, 6.0, 3.0, drop_v=0.5)
    (6.0, 5.5)
    """
    finite(input_v=input_v, set_v=set_v, current_a=current_a, drop_v=drop_v, drop_ohm=drop_ohm)
    if not current_a <= limit_a:
        raise NoAnswer(
            "no operating point: the supply collapses ({current:g} A asked of a regulator that "
            "limits at {limit:g} A)",
            current=current_a,
            limit=limit_a,
        )
    return max(0.0, min(set_v, input_v - drop_v - drop_ohm * current_a))


def least_input_v(set_v: float, drop_v: float, drop_ohm: float = 0.0, current_a: float = 0.0) -> float:
    """Input volts below which it stops regulating.

    Raises:
        BadInput: a value that is not finite.

    >>> least_input_v(6.0, 0.5)
    6.5
    """
    finite(set_v=set_v, drop_v=drop_v, drop_ohm=drop_ohm, current_a=current_a)
    return set_v + drop_v + drop_ohm * current_a


def junction_rise_k(heat_w: float, *thermal_k_per_w: float) -> float:
    """Rise of the junction over the air through thermal resistances in a row.

    Raises:
        BadInput: a heat that is not finite.

    >>> round(junction_rise_k(6.72, 8.0, 5.0, 1.0), 1)
    94.1
    """
    finite(heat_w=heat_w)
    return heat_w * math.fsum(thermal_k_per_w)


def allowed_heat_w(thermal_k_per_w: float, *, air_c: float = 30.0, junction_limit_c: float = 125.0) -> float:
    """Power a regulator may turn into heat.

    Args:
        thermal_k_per_w: Junction to air, more than 0; 65 for a bare TO-220.
        air_c: Air temperature.
        junction_limit_c: Highest junction temperature.

    Raises:
        BadInput: A thermal resistance of 0 or less.

    Source: thermal resistance; 65 K/W from a 1 A TO-220 regulator's data sheet.

    >>> round(allowed_heat_w(65.0), 2)
    1.46
    """
    finite(air_c=air_c, junction_limit_c=junction_limit_c)
    if not thermal_k_per_w > 0.0:
        raise BadInput(
            "a thermal resistance of {resistance:g} K/W was found; more than 0 is allowed",
            resistance=thermal_k_per_w,
        )
    return max(0.0, (junction_limit_c - air_c) / thermal_k_per_w)


def linear_current_for_heat_a(
    heat_w: float, input_v: float, output_v: float, quiescent_a: float = 0.0
) -> float:
    """Mean current at which a linear regulator reaches a given heat.

    Raises:
        BadInput: an impossible value, or more volts out than in.

    >>> round(linear_current_for_heat_a(1.4615, 8.2, 6.0, 0.015), 2)
    0.61
    """
    finite(heat_w=heat_w)
    _check(input_v, output_v, 0.0, quiescent_a)
    surplus_w = heat_w - input_v * quiescent_a
    if surplus_w <= 0.0:
        return 0.0
    return math.inf if input_v == output_v else surplus_w / (input_v - output_v)
