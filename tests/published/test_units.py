"""Units against the published conversion factors and against the pint library's own definitions."""

from __future__ import annotations

import pint
import pytest

from hangar.base.units import UNITS, convert, units_of_kind
from tests.all_cases import all_cases

# NIST Special Publication 811 (2008), appendix B.8, factors as printed to seven figures.
PRINTED = [
    ("ozf in", "N m", 7.061552e-03),
    ("lbf in", "N m", 1.129848e-01),
    ("lbf ft", "N m", 1.355818e00),
    ("kgf cm", "N m", 9.80665e-02),
    ("in", "m", 2.54e-02),
    ("ft", "m", 3.048e-01),
    ("oz", "kg", 2.834952e-02),
    ("lb", "kg", 4.535924e-01),
    ("mph", "m/s", 4.4704e-01),
    ("kn", "m/s", 5.144444e-01),
    ("km/h", "m/s", 2.777778e-01),
    ("in2", "m2", 6.4516e-04),
    ("ft2", "m2", 9.290304e-02),
    ("ozf", "N", 2.780139e-01),
    ("lbf", "N", 4.448222e00),
    ("kgf", "N", 9.80665e00),
    ("psi", "Pa", 6.894757e03),
    ("deg", "rad", 1.745329e-02),
    ("gn", "m/s2", 9.80665e00),
]

PINT = {
    "N m": "N*m", "N cm": "N*cm", "N mm": "N*mm", "kgf cm": "kgf*cm", "gf cm": "force_gram*cm",
    "ozf in": "ozf*inch", "lbf in": "lbf*inch", "lbf ft": "lbf*foot",
    "m": "m", "mm": "mm", "cm": "cm", "km": "km", "in": "inch", "ft": "foot",
    "kg": "kg", "g": "g", "mg": "mg", "oz": "oz", "lb": "lb",
    "m/s": "m/s", "km/h": "km/hour", "mph": "mile/hour", "kn": "knot", "ft/s": "foot/s",
    "m/s2": "m/s**2", "gn": "standard_gravity", "deg": "degree", "rad": "radian",
    "m2": "m**2", "dm2": "dm**2", "cm2": "cm**2", "mm2": "mm**2", "in2": "inch**2", "ft2": "foot**2",
    "kg/m2": "kg/m**2", "g/dm2": "g/dm**2", "oz/ft2": "oz/foot**2",
    "V": "V", "mV": "mV", "A": "A", "mA": "mA", "Ah": "A*hour", "mAh": "mA*hour",
    "ohm": "ohm", "mohm": "milliohm", "ohm/m": "ohm/m", "mohm/m": "milliohm/m",
    "ohm/1000ft": "milliohm/foot",
    "s": "s", "ms": "ms", "us": "us", "min": "minute", "h": "hour", "d": "day", "y": "year",
    "month": "month", "rad/s": "radian/s", "deg/s": "degree/s", "deg/us": "degree/us",
    "Hz": "1/s", "kHz": "1/ms", "MHz": "1/us", "GHz": "1/ns",
    "rpm": "1/minute", "W": "W", "kW": "kW", "mW": "mW",
    "Wh": "W*hour", "J": "J", "kJ": "kJ", "N": "N", "ozf": "ozf", "gf": "force_gram", "kgf": "kgf",
    "lbf": "lbf", "Pa": "Pa", "hPa": "hPa", "kPa": "kPa", "MPa": "MPa", "GPa": "GPa", "bar": "bar",
    "psi": "psi", "kg/m3": "kg/m**3", "g/cm3": "g/cm**3", "kg m2": "kg*m**2", "g mm2": "g*mm**2",
    "g cm2": "g*cm**2", "kg m": "kg*m", "g mm": "g*mm", "N m/rad": "N*m/radian", "N m/deg": "N*m/degree",
    "N cm/deg": "N*cm/degree", "kgf cm/deg": "kgf*cm/degree", "ozf in/deg": "ozf*inch/degree",
    "N/m": "N/m", "N/mm": "N/mm", "1/rad": "1/radian", "1/deg": "1/degree", "ratio": "dimensionless",
    "%": "percent",
}  # fmt: skip
OFFSET = {"C": "degC", "F": "degF", "K": "kelvin"}
WITHOUT_JUDGE = {"AWG", "C rate", "count", "money", "s/60deg"}


@all_cases("from_unit, to_unit, factor", PRINTED)
def test_factors_are_those_of_the_national_tables(from_unit: str, to_unit: str, factor: float) -> None:
    assert convert(1.0, from_unit, to_unit) == pytest.approx(factor, rel=5e-7)


def test_every_unit_has_a_judge_or_a_reason_for_none() -> None:
    assert set(PINT) | set(OFFSET) | WITHOUT_JUDGE == set(UNITS)


@pytest.fixture(scope="module")
def registry() -> pint.UnitRegistry[float]:
    return pint.UnitRegistry()


@pytest.mark.parametrize("key", sorted(PINT))
def test_every_factor_agrees_with_an_independent_library(
    key: str, registry: pint.UnitRegistry[float]
) -> None:
    base = units_of_kind(UNITS[key].kind)[0].key
    judged = registry.Quantity(1.0, PINT[key]).to(PINT[base]).magnitude
    assert convert(1.0, key, base) == pytest.approx(judged, rel=1e-12)


@pytest.mark.parametrize("celsius", [-273.15, -40.0, 0.0, 15.0, 37.0, 100.0])
def test_temperatures_agree_with_an_independent_library(
    celsius: float, registry: pint.UnitRegistry[float]
) -> None:
    for key, judged in OFFSET.items():
        there = registry.Quantity(celsius, "degC").to(judged).magnitude
        assert convert(celsius, "C", key) == pytest.approx(there, abs=1e-9)
        assert convert(there, key, "C") == pytest.approx(celsius, abs=1e-9)


def test_transit_time_and_turning_speed_agree_by_definition() -> None:
    """60 deg are pi/3 rad: 0.15 s for 60 deg are 6.981 rad/s; a shaft of 1 rpm takes 10 s for 60 deg."""
    assert convert(0.15, "s/60deg", "rad/s") == pytest.approx(6.981, abs=5e-4)
    assert convert(0.2, "s/60deg", "deg/s") == pytest.approx(300.0)
    assert convert(360.0 / 60.0, "deg/s", "s/60deg") == pytest.approx(10.0)
