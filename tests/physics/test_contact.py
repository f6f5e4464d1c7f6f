"""Contacts and switches: order of their figures, and refusals."""

from __future__ import annotations

import pytest

from hangar.base.errors import BadInput, OutOfValidity
from hangar.physics.contact import CONTACTS, contact, crimp_pin_limit_a, heat_w
from tests.all_cases import all_cases


@all_cases("kind", CONTACTS)
def test_worn_contacts_are_no_better_than_new_ones(kind: str) -> None:
    figures = contact(kind)
    assert 0.0 < figures.new_ohm.low <= figures.new_ohm.expected <= figures.new_ohm.design
    assert figures.worn_ohm.expected >= figures.new_ohm.expected
    assert figures.steady_a > 0.0
    assert figures.source


# Maker specification PS-171856-0001 (2014): one circuit, 30 K rise.
@all_cases("awg, amps", [(22, 4.00), (24, 3.75), (26, 3.50), (28, 3.00), (27, 3.00), (18, 4.00)])
def test_crimp_pins_by_gauge(awg: int, amps: float) -> None:
    assert crimp_pin_limit_a(awg) == amps


def test_a_socket_header_bounds_the_servo_plug() -> None:
    # Maker drawing, dual socket header, rev. J (2016): 20 mohm at most, 3 A.
    plug = contact("servo-plug")
    assert plug.new_ohm.design <= 0.020
    assert plug.steady_a == 3.0


def test_heat_grows_with_the_square_of_current() -> None:
    assert heat_w(6.0, 0.01) == pytest.approx(4 * heat_w(3.0, 0.01))


def test_unknown_contacts_are_refused() -> None:
    with pytest.raises(BadInput, match="allowed are bullet"):
        contact("magnet")
    with pytest.raises(OutOfValidity, match="28 AWG and heavier"):
        crimp_pin_limit_a(30)
