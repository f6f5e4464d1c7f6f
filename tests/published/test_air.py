"""Air against two published standard-atmosphere packages and handbook values."""

from __future__ import annotations

import fluids
import pytest
from ambiance import Atmosphere

from hangar.physics import air
from tests.all_cases import all_cases

HEIGHTS_M = [-1500.0, -400.0, 0.0, 137.0, 500.0, 1000.0, 2000.0, 3000.0, 4321.0, 8000.0, 10900.0]


@all_cases("height", HEIGHTS_M)
def test_standard_air_is_that_of_the_ambiance_package(height: float) -> None:
    judge = Atmosphere(height)  # ICAO standard atmosphere, geometric height
    assert air.geopotential_m(height) == pytest.approx(judge.H[0], abs=0.01)
    assert air.standard_temperature_c(height) == pytest.approx(judge.temperature_in_celsius[0], abs=1e-4)
    assert air.pressure_pa(height) == pytest.approx(judge.pressure[0], rel=2e-6)
    assert air.density_kg_m3(height) == pytest.approx(judge.density[0], rel=2e-6)
    assert air.Air.at(height).speed_of_sound_m_s == pytest.approx(judge.speed_of_sound[0], rel=1e-5)
    assert air.Air.at(height).viscosity_pa_s == pytest.approx(judge.dynamic_viscosity[0], rel=1e-4)


@all_cases("height", HEIGHTS_M)
def test_standard_air_is_that_of_the_fluids_package(height: float) -> None:
    judge = fluids.ATMOSPHERE_1976(height)  # US Standard Atmosphere 1976, geometric height
    assert air.pressure_pa(height) == pytest.approx(judge.P, rel=2e-6)
    assert air.density_kg_m3(height) == pytest.approx(judge.rho, rel=2e-6)
    assert air.Air.at(height).viscosity_pa_s == pytest.approx(judge.mu, rel=1e-4)


@all_cases("excess_c", [-25.0, -10.0, 15.0, 20.0])
def test_an_off_standard_day_keeps_the_standard_pressure(excess_c: float) -> None:
    height = 1234.0
    judge = fluids.ATMOSPHERE_1976(height, dT=excess_c)
    measured = air.standard_temperature_c(height) + excess_c
    assert air.density_kg_m3(height, measured) == pytest.approx(judge.rho, rel=2e-6)


# US Standard Atmosphere 1976, printed table by geometric height: kg/m3.
@all_cases(
    "height, density", [(0.0, 1.2250), (500.0, 1.1673), (1000.0, 1.1117), (2000.0, 1.0066), (3000.0, 0.90925)]
)
def test_density_is_the_handbook_table_by_geometric_height(height: float, density: float) -> None:
    assert air.density_kg_m3(height) == pytest.approx(density, abs=6e-5)


# The same read as geopotential height; the two differ by up to 0.0002 kg/m3.
@all_cases(
    "height, density",
    [(0.0, 1.22500), (1000.0, 1.11164), (2000.0, 1.00649), (3000.0, 0.90912), (11000.0, 0.36392)],
)
def test_density_by_geopotential_height_is_the_other_table(height: float, density: float) -> None:
    assert air.density_geopotential_kg_m3(height) == pytest.approx(density, abs=6e-6)


def test_speed_of_sound_on_a_standard_day_is_the_handbook_value() -> None:
    # US Standard Atmosphere 1976: 340.294 m/s at sea level.
    assert air.speed_of_sound_m_s(15.0) == pytest.approx(340.294, abs=5e-4)
