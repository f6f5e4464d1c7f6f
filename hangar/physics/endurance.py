"""How long the radio's charge lasts: mean current, charge of a flight, flights on a charge.

Source: charge balance; the shares beside their names are common practice, no source.
"""

from __future__ import annotations

import math

from hangar.base.errors import BadInput
from hangar.physics.checks import finite
from hangar.physics.pack import CELLS, Chemistry

RATED_SHARE = 0.95
"""Of the label at the currents of a radio; one summary of IEC 61960, unverified."""
COLD_SHARE = 0.80
"""Of that below 5 C; common practice, no source."""
RESERVE_ONE_PACK = 0.30
RESERVE_TWO_PACKS = 0.20
"""Left in the packs at landing; common practice, no source."""


def mean_servo_a(
    idle_a: float, run_a: float, stall_a: float, *, moving_share: float, work_share: float
) -> float:
    """Mean current of one servo in flight.

    It stands most of the time, turns for a share of it, and holds or drives against the air for the rest:
    the current against a torque does not depend on the volts, so the mean belongs to the servo's work.

    Args:
        idle_a: at rest [A].
        run_a: turning without load, more than at rest [A].
        stall_a: stalled [A].
        moving_share: share of the flight in which it turns [-], 0 to 1.
        work_share: mean of load over stall torque in the flight [-], 0 to 1.

    Raises:
        BadInput: a current below 0 or a share outside 0 to 1.

    Source: direct-current motor, current = running current + (stall - running) x torque / stall torque.

    >>> round(mean_servo_a(0.008, 0.16, 0.8, moving_share=0.1, work_share=0.02), 4)
    0.0368
    """
    finite(idle_a=idle_a, run_a=run_a, stall_a=stall_a)
    if min(idle_a, run_a, stall_a) < 0.0 or not (0.0 <= moving_share <= 1.0 and 0.0 <= work_share <= 1.0):
        raise BadInput("a mean current needs currents of 0 or more and shares of 0 to 1.")
    return idle_a + moving_share * run_a + work_share * max(0.0, stall_a - run_a)


def flight_charge_ah(mean_a: float, minutes: float) -> float:
    """Charge of one flight.

    Raises:
        BadInput: a current or time below 0.

    >>> round(1000 * flight_charge_ah(0.237, 10.0), 1)
    39.5
    """
    finite(mean_a=mean_a, minutes=minutes)
    if mean_a < 0.0 or minutes < 0.0:
        raise BadInput(
            "a flight of {minutes:g} min at {current:g} A was found; 0 or more of each is allowed",
            minutes=minutes,
            current=mean_a,
        )
    return mean_a * minutes / 60.0


def usable_ah(rated_ah: float, *, health: float = 1.0, temperature_c: float = 20.0) -> float:
    """Charge a pack really gives at radio currents.

    Args:
        rated_ah: Rated capacity.
        health: Last measured over rated capacity, 0 to 1.2.
        temperature_c: Pack temperature.

    Raises:
        BadInput: No capacity, or a health outside 0 to 1.2.

    Valid for: mean currents below the one-hour rate.

    Source: 0.95 of the label from one summary of IEC 61960, unverified; 0.8 of that below 5 C
        common practice, no source.

    >>> round(usable_ah(2.0, health=0.9), 2)
    1.71
    """
    finite(temperature_c=temperature_c)
    if not rated_ah > 0.0 or not 0.0 <= health <= 1.2:
        raise BadInput(
            "a pack of {capacity:g} Ah at {health:g} % health was found; a capacity above 0 and a "
            "health of 0 to 120 % are allowed",
            capacity=rated_ah,
            health=100 * health,
        )
    return rated_ah * health * RATED_SHARE * (COLD_SHARE if temperature_c < 5.0 else 1.0)


def flights_per_charge(charge_ah: float, flight_ah: float, *, reserve: float = RESERVE_ONE_PACK) -> int:
    """Whole flights on a charge with a reserve left.

    Args:
        charge_ah: Charge the pack really gives, Ah.
        flight_ah: Charge of one flight, more than 0.
        reserve: Share left at the last landing, 0 to below 1.

    Raises:
        BadInput: An impossible value.

    >>> flights_per_charge(usable_ah(2.0, health=0.9), 0.3)
    3
    """
    finite(charge_ah=charge_ah)
    if not (charge_ah >= 0.0 and flight_ah > 0.0 and 0.0 <= reserve < 1.0):
        raise BadInput("flights on a charge need a charge of a flight above 0 and a reserve of 0 to below 1")
    # A hair is added so that an exact whole number of flights is not lost to rounding.
    return math.floor(charge_ah * (1.0 - reserve) / flight_ah + 1e-9)


def endurance_min(charge_ah: float, mean_a: float, *, reserve: float = 0.0) -> float:
    """Minutes a charge lasts at a mean current; infinite when nothing is drawn.

    Raises:
        BadInput: a charge or current below 0, or a reserve outside 0 to below 1.

    >>> endurance_min(1.5, 0.3, reserve=0.2)
    240.0
    """
    if not (charge_ah >= 0.0 and mean_a >= 0.0 and 0.0 <= reserve < 1.0):
        raise BadInput("endurance needs a charge and a current of 0 or more and a reserve of 0 to below 1")
    return 60.0 * charge_ah * (1.0 - reserve) / mean_a if mean_a else math.inf


def measured_flight_ah(put_back_ah: float, flights: int, chemistry: Chemistry) -> float:
    """Charge of one flight from what the charger put back after some flights.

    Nickel takes in about 1.2 times what it gave (1.1 to 1.4, common practice).

    Raises:
        BadInput: no flights, or a charge below 0.

    >>> round(measured_flight_ah(0.72, 3, Chemistry.NIMH), 3)
    0.2
    """
    finite(put_back_ah=put_back_ah)
    if flights < 1 or put_back_ah < 0.0:
        raise BadInput(
            "{put_back:g} Ah after {flights} flights was found; 1 flight or more is allowed",
            put_back=put_back_ah,
            flights=flights,
        )
    return put_back_ah / CELLS[chemistry].charge_factor / flights
