"""Plug contacts and switches: resistance new and worn, and the current they may carry.

Source: stated with each kind of contact; heat by Joule's law.
"""

from __future__ import annotations

from dataclasses import dataclass

from hangar.base.errors import BadInput, OutOfValidity
from hangar.base.figure import Band
from hangar.physics.checks import finite


@dataclass(frozen=True, slots=True)
class Contact:
    """One kind of contact.

    Attributes:
        name: What it is called.
        new_ohm: Resistance of one closed contact, new: least, usual, most.
        worn_ohm: Resistance when worn, tarnished or corroded: least, usual, most.
        steady_a: Current it may carry steadily.
        source: Where the figures are from.
    """

    name: str
    new_ohm: Band
    worn_ohm: Band
    steady_a: float
    source: str


_CP = "common practice, no source"

CONTACTS: dict[str, Contact] = {
    "servo-plug": Contact(
        "2.54 mm servo plug",
        Band(0.005, 0.010, 0.020),
        Band(0.030, 0.040, 0.050),
        3.0,
        f"{_CP}; 20 mohm most from a dual socket header drawing, rev. J (2016)",
    ),
    "power-pin": Contact(
        "2.36 mm pin and socket",
        Band(0.002, 0.003, 0.004),
        Band(0.006, 0.010, 0.015),
        6.0,
        "maker catalogue 82181 (2007): 4.0 mohm most, 6 A with 24 and 22 AWG; wear common practice",
    ),
    "bullet": Contact(
        "2 to 4 mm bullet",
        Band(0.0005, 0.001, 0.0015),
        Band(0.002, 0.003, 0.005),
        30.0,
        "30 A of a two-pole 3.5 mm housing, an encyclopaedia citing its maker; ohms from memory, unverified",
    ),
    "slide-switch": Contact(
        "slide switch",
        Band(0.010, 0.020, 0.030),
        Band(0.100, 0.150, 0.200),
        2.0,
        f"{_CP}; 2 to 5 A, the lower is used where the switch is unmarked",
    ),
    "electronic-switch": Contact(
        "electronic switch",
        Band(0.003, 0.005, 0.010),
        Band(0.003, 0.005, 0.010),
        10.0,
        _CP,
    ),
}

# Amps for a 30 K rise, one circuit, 2.54 mm square-pin crimp connector: specification PS-171856-0001 (2014).
_CRIMP_PIN_A = {22: 4.00, 24: 3.75, 26: 3.50, 28: 3.00}


def contact(kind: str) -> Contact:
    """The figures of one kind of contact.

    Raises:
        BadInput: An unknown kind; names those there are.

    >>> contact("servo-plug").new_ohm.expected
    0.01
    """
    if kind not in CONTACTS:
        raise BadInput(
            "contact {kind} was found; allowed are {allowed}",
            kind=repr(kind),
            allowed=", ".join(sorted(CONTACTS)),
        )
    return CONTACTS[kind]


def crimp_pin_limit_a(awg: int) -> float:
    """Amps that warm one 2.54 mm crimp pin by 30 K, by the gauge crimped to it.

    Heavier wire than 22 takes the 22 AWG figure: the pin is then the limit.

    Raises:
        OutOfValidity: Wire thinner than 28 AWG, which the specification does not cover.

    Source: connector maker's specification PS-171856-0001 (2014).

    >>> crimp_pin_limit_a(26), crimp_pin_limit_a(20)
    (3.5, 4.0)
    """
    if awg > 28:
        raise OutOfValidity("no pin limit is held for {gauge} AWG; 28 AWG and heavier are covered", gauge=awg)
    return _CRIMP_PIN_A[min(gauge for gauge in _CRIMP_PIN_A if gauge >= awg)]


def heat_w(current_a: float, resistance_ohm: float) -> float:
    """Power turned into heat in a contact.

    Raises:
        BadInput: a value that is not finite.

    >>> heat_w(5.0, 0.02)
    0.5
    """
    finite(current_a=current_a, resistance_ohm=resistance_ohm)
    return current_a * current_a * resistance_ohm
