"""Air refuses what it cannot be and follows the gas law."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hangar.base.errors import BadInput, OutOfValidity
from hangar.physics import air
from tests.all_cases import all_cases

HEIGHTS = st.floats(-1999.0, 10900.0)


@given(HEIGHTS, HEIGHTS)
def test_air_thins_with_height(one: float, other: float) -> None:
    low, high = sorted((one, other))
    assert air.density_kg_m3(low) >= air.density_kg_m3(high)


@given(HEIGHTS, st.floats(-60.0, 50.0))
def test_cold_air_is_denser_in_proportion_to_kelvin(height: float, celsius: float) -> None:
    standard = air.standard_temperature_c(height)
    ratio = air.density_kg_m3(height, celsius) / air.density_kg_m3(height)
    assert ratio == pytest.approx((standard + 273.15) / (celsius + 273.15))


@given(HEIGHTS)
def test_the_standard_temperature_given_by_hand_changes_nothing(height: float) -> None:
    assert air.density_kg_m3(height, air.standard_temperature_c(height)) == pytest.approx(
        air.density_kg_m3(height)
    )


def test_measured_pressure_and_temperature_give_the_winter_worst_case() -> None:
    # By hand: 103 000 / (287.05287 x 263.15) = 1.36355 kg/m3, 11 % above standard.
    assert air.measured_density_kg_m3(103_000.0, -10.0) == pytest.approx(1.36355, rel=1e-5)
    assert air.Air.measured(103_000.0, -10.0).density_kg_m3 / 1.225 == pytest.approx(1.113, abs=1e-3)


@all_cases("height", [-2100.0, 11500.0, math.nan, math.inf, -7.0e6])
def test_a_height_outside_the_lower_air_is_refused(height: float) -> None:
    with pytest.raises(BadInput, match="Altitude is"):
        air.density_kg_m3(height)


@all_cases("celsius", [-120.0, 61.0, math.nan])
def test_an_unearthly_temperature_is_refused(celsius: float) -> None:
    with pytest.raises(OutOfValidity, match="temperature is"):
        air.density_kg_m3(0.0, celsius)


def test_a_pressure_in_hectopascal_is_refused() -> None:
    with pytest.raises(OutOfValidity, match="1013 Pa"):
        air.measured_density_kg_m3(1013.0, 15.0)


@all_cases("density", [0.0, -1.0, math.nan])
def test_air_without_weight_is_refused(density: float) -> None:
    with pytest.raises(BadInput, match="density"):
        air.Air(density, 15.0)


def test_numbers_of_a_jet_at_sea_level() -> None:
    # By hand: 130/340.294 = 0.3820; 0.5 x 1.225 x 130^2 = 10351 Pa; rho V c/mu with mu 1.7894e-5.
    assert air.mach_number(130.0) == pytest.approx(0.3820, abs=5e-5)
    assert air.dynamic_pressure_pa(130.0, 1.225) == pytest.approx(10351.25)
    reynolds = air.reynolds_number(130.0, 0.25, density_kg_m3=1.225, viscosity_pa_s=1.7894e-5)
    assert reynolds == pytest.approx(2.2249e6, rel=1e-4)


def test_propeller_wash_adds_to_the_pressure_and_to_the_local_speed() -> None:
    flow = air.Airflow(25.0, air.Air(1.225, 15.0), wash_pa=378.0)
    assert flow.dynamic_pressure_pa == pytest.approx(382.8125 + 378.0)
    assert flow.local_speed_m_s == pytest.approx(35.244, abs=1e-3)
    assert flow.reynolds(0.3) > air.Airflow(25.0, flow.air).reynolds(0.3)
    assert flow.mach == pytest.approx(flow.local_speed_m_s / 340.294, rel=1e-6)


@all_cases("speed, wash", [(-1.0, 0.0), (10.0, -5.0), (math.nan, 0.0)])
def test_speed_and_wash_below_zero_are_refused(speed: float, wash: float) -> None:
    with pytest.raises(BadInput, match="zero or more"):
        air.Airflow(speed, air.Air(1.225, 15.0), wash)


def test_a_chord_of_nothing_has_no_reynolds_number() -> None:
    with pytest.raises(BadInput, match="Chord"):
        air.reynolds_number(10.0, 0.0, density_kg_m3=1.2, viscosity_pa_s=1.8e-5)
    with pytest.raises(BadInput, match="density"):
        air.dynamic_pressure_pa(10.0, 0.0)
