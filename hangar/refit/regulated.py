"""The input volts at which a regulator's draw and its packs agree, piece by piece."""

from __future__ import annotations

import math

from hangar.physics.network_elements import Regulator


def input_volts(regulator: Regulator, open_v: float, ohm: float, bus_v: float) -> float | None:
    """The highest volts at the input of a regulator that its packs can hold.

    From the packs' volts downwards the output current is what regulation asks or the limit, then what the
    drop-out lets through, then nothing; on each piece the balance is a line or a parabola.

    Args:
        regulator: between packs and bus.
        open_v: volts of the packs without load.
        ohm: of packs, switch and lead.
        bus_v: volts at the output, above 0.

    Returns:
        Volts; None where the packs collapse under it.

    Source: roots of the element's own equations.

    >>> bec = Regulator("BEC", "in", "bus", "0", False, 5.0, 0.5, 0.1, 0.01, 3.0, 0.0, 1.0)
    >>> round(input_volts(bec, 8.4, 0.1, 4.99), 3)  # 1 A through 0.1 ohm
    8.3
    """
    idle_v = open_v - ohm * regulator.quiescent_a
    steady_a = max(0.0, min((regulator.set_v - bus_v) / regulator.regulation_ohm, regulator.limit_a))
    off_v = regulator.drop_v + bus_v
    volts = _steady(regulator, idle_v, ohm, bus_v, steady_a)
    if volts is not None and (steady_a == 0.0 or volts >= off_v + regulator.drop_ohm * steady_a):
        return volts if volts > 0.0 else None
    volts = _dropped(regulator, idle_v, ohm, bus_v)
    if volts <= off_v:
        volts = idle_v
    return volts if volts > 0.0 else None


def _steady(regulator: Regulator, idle_v: float, ohm: float, bus_v: float, amps: float) -> float | None:
    """With a fixed output current; None where no input volts carry it."""
    if not regulator.switching:
        return idle_v - ohm * amps
    spare = idle_v * idle_v - 4.0 * ohm * amps * bus_v / regulator.efficiency
    return None if spare < 0.0 else 0.5 * (idle_v + math.sqrt(spare))


def _dropped(regulator: Regulator, idle_v: float, ohm: float, bus_v: float) -> float:
    """With all that the drop-out lets through."""
    off_v, share = regulator.drop_v + bus_v, ohm / regulator.drop_ohm
    if not regulator.switching:
        return (idle_v + share * off_v) / (1.0 + share)
    share *= bus_v / regulator.efficiency
    rest = idle_v - share
    return 0.5 * (rest + math.sqrt(rest * rest + 4.0 * share * off_v))
