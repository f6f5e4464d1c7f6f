"""Endurance: charge adds up, reserves hold, impossible values are refused."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hangar.base.errors import BadInput
from hangar.physics.endurance import (
    endurance_min,
    flight_charge_ah,
    flights_per_charge,
    mean_servo_a,
    measured_flight_ah,
    usable_ah,
)
from hangar.physics.pack import Chemistry


@given(st.floats(0.1, 10.0), st.floats(0.01, 2.0), st.floats(0.0, 0.9))
def test_flights_never_eat_the_reserve(usable: float, flight: float, reserve: float) -> None:
    flights = flights_per_charge(usable, flight, reserve=reserve)
    assert flights * flight <= usable * (1 - reserve) * (1 + 1e-6) + 1e-8 * flight
    assert (flights + 1) * flight > usable * (1 - reserve)


def test_an_exact_number_of_flights_is_counted_whole() -> None:
    assert flights_per_charge(1.0, 0.1, reserve=0.3) == 7


@given(st.floats(0.2, 5.0), st.floats(0.05, 3.0))
def test_endurance_times_current_is_the_charge(usable: float, mean_a: float) -> None:
    assert flight_charge_ah(mean_a, endurance_min(usable, mean_a)) == pytest.approx(usable)


def test_nothing_drawn_lasts_for_ever() -> None:
    assert endurance_min(1.0, 0.0) == math.inf


def test_a_cold_or_worn_pack_gives_less() -> None:
    assert usable_ah(2.0) == pytest.approx(1.9)
    assert usable_ah(2.0, temperature_c=0.0) == pytest.approx(1.52)
    assert usable_ah(2.0, health=0.8) == pytest.approx(1.52)


@given(
    st.floats(0.0, 0.2), st.floats(0.0, 0.4), st.floats(0.1, 10.0), st.floats(0.0, 1.0), st.floats(0.0, 1.0)
)
def test_a_mean_current_lies_between_rest_and_stall(
    idle: float, run: float, stall: float, moving: float, work: float
) -> None:
    mean = mean_servo_a(idle, run * stall, stall, moving_share=moving, work_share=work)
    assert idle <= mean <= idle + stall * (1.0 + 1e-9)
    twice = mean_servo_a(2 * idle, 2 * run * stall, 2 * stall, moving_share=moving, work_share=work)
    assert twice == pytest.approx(2.0 * mean)


def test_charge_put_back_counts_less_for_nickel() -> None:
    assert measured_flight_ah(0.6, 2, Chemistry.LIPO) == pytest.approx(0.3)
    assert measured_flight_ah(0.6, 2, Chemistry.NICD) == pytest.approx(0.25)


def test_impossible_values_are_refused() -> None:
    with pytest.raises(BadInput):
        mean_servo_a(-0.1, 0.1, 1.0, moving_share=0.1, work_share=0.05)
    with pytest.raises(BadInput):
        mean_servo_a(0.1, 0.1, 1.0, moving_share=0.1, work_share=1.05)
    with pytest.raises(BadInput):
        flight_charge_ah(-1.0, 10.0)
    with pytest.raises(BadInput, match="health of 0 to 120 %"):
        usable_ah(2.0, health=1.5)
    with pytest.raises(BadInput):
        flights_per_charge(1.0, 0.0)
    with pytest.raises(BadInput):
        endurance_min(1.0, 0.1, reserve=1.0)
    with pytest.raises(BadInput, match="1 flight or more"):
        measured_flight_ah(0.5, 0, Chemistry.LIPO)
