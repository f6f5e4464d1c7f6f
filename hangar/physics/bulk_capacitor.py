"""A capacitor across the bus that carries a pulse by itself.

Source: charge of a capacitor; Ohm's law for its own resistance.
"""

from __future__ import annotations

from hangar.physics.checks import above_zero, finite, zero_or_more


def dip_v(current_a: float, time_s: float, capacitance_f: float, own_ohm: float = 0.0) -> float:
    """Volts lost while a capacitor alone feeds a current; the pack only makes it less.

    Ordinary capacitors help little against a stall of a few milliseconds, large ones for tenths of a second.

    Args:
        current_a: current drawn, 0 or more.
        time_s: how long, 0 or more.
        capacitance_f: above 0.
        own_ohm: resistance of the capacitor itself, 0 or more.

    Raises:
        BadInput: a value outside these bounds.

    Valid for: a current that does not change; no pack behind it.

    >>> round(dip_v(5.0, 0.002, 4700e-6), 1), dip_v(5.0, 0.3, 1.0)
    (2.1, 1.5)
    """
    current, time = zero_or_more(current_a, "current"), zero_or_more(time_s, "time")
    finite(capacitance_f=capacitance_f)
    charge_v = current * time / above_zero(capacitance_f, "capacitance")
    return charge_v + current * zero_or_more(own_ohm, "resistance of the capacitor")
