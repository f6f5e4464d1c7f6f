"""Copper wire against handbook tables and worked voltage drops."""

from __future__ import annotations

import pytest

from hangar.physics.wire import (
    LAY_FACTOR,
    TINNED_FACTOR,
    area_mm2,
    current_limit,
    diameter_mm,
    drop_v,
    loop_ohm,
    resistance_ohm_per_m,
    warmed_length_ratio,
)
from tests.all_cases import all_cases

FEET_PER_KILOFOOT_M = 3.280840


def _ohm_per_kft(awg: int | str, temperature_c: float = 20.0) -> float:
    return resistance_ohm_per_m(awg, temperature_c) * 1000.0 / FEET_PER_KILOFOOT_M


# NBS Copper Wire Tables (Circular 31 / Handbook 100), ohm per 1000 ft at 20 C, as reprinted in two
# public wire tables.
HANDBOOK = {16: 4.016, 18: 6.385, 20: 10.15, 22: 16.14, 24: 25.67, 26: 40.81, 28: 64.90, 30: 103.2}


@all_cases("awg, ohm", HANDBOOK.items())
def test_resistance_is_the_handbook_table(awg: int, ohm: float) -> None:
    assert _ohm_per_kft(awg) == pytest.approx(ohm, rel=5e-4)


# ASTM B258: diameter mm, area mm2, milliohm for each metre solid at 20 C and stranded at 25 C.
TABLE = [
    (16, 1.2908, 1.3087, 13.17, 13.70),
    (18, 1.0237, 0.8230, 20.95, 21.79),
    (20, 0.8118, 0.5176, 33.31, 34.64),
    (22, 0.6438, 0.3255, 52.96, 55.08),
    (24, 0.5106, 0.2047, 84.22, 87.59),
    (26, 0.4049, 0.1288, 133.91, 139.27),
    (28, 0.3211, 0.0810, 212.92, 221.45),
    (30, 0.2546, 0.0509, 338.56, 352.11),
]


@all_cases("awg, diameter, area, solid, stranded", TABLE)
def test_diameter_area_and_resistance_of_each_gauge(
    awg: int, diameter: float, area: float, solid: float, stranded: float
) -> None:
    assert diameter_mm(awg) == pytest.approx(diameter, abs=5.1e-5)
    assert area_mm2(awg) == pytest.approx(area, abs=5.1e-5)
    assert 1000 * resistance_ohm_per_m(awg) == pytest.approx(solid, abs=0.0051)
    assert 1000 * resistance_ohm_per_m(awg, 25.0, stranded=True) == pytest.approx(stranded, abs=0.0051)


def test_heavy_gauges_are_the_defining_diameters() -> None:
    # ASTM B258: 4/0 is 0.4600 in and 36 is 0.0050 in, with 38 gauges in equal ratios between.
    assert diameter_mm("4/0") == pytest.approx(0.46 * 25.4, rel=1e-12)
    assert diameter_mm(36) == pytest.approx(0.005 * 25.4, rel=1e-12)
    assert diameter_mm(-3) == diameter_mm("0000")
    # NBS table as reprinted: 4/0 0.04901, 1/0 0.09827 ohm per 1000 ft at 20 C.
    assert _ohm_per_kft("4/0") == pytest.approx(0.04901, rel=1e-3)
    assert _ohm_per_kft(0) == pytest.approx(0.09827, rel=1e-3)


# NEC chapter 9 table 8, uncoated copper at 75 C: solid, 7-strand, coated 7-strand, ohm per 1000 ft.
@all_cases("awg, solid, stranded, coated", [(18, 7.77, 7.95, 8.45), (16, 4.89, 4.99, 5.29)])
def test_nec_chapter_9_table_8(awg: int, solid: float, stranded: float, coated: float) -> None:
    assert _ohm_per_kft(awg, 75.0) == pytest.approx(solid, rel=2e-3)
    assert stranded / solid == pytest.approx(LAY_FACTOR, abs=0.0035)
    assert coated / stranded == pytest.approx(TINNED_FACTOR, abs=0.005)


# FAA AC 43.13-1B tables 11-7 and 11-8: ohm/ft x ft x 20 A.  Two printed rows (.00202 x 88 and
# .00126 x 19.5) do not follow from their own figures and are left out.
@all_cases(
    "ohm_per_ft, feet, printed_v",
    [
        (0.00044, 107, 0.942),
        (0.00028, 90, 0.504),
        (0.00306, 100, 6.12),
        (0.00126, 39, 0.98),
        (0.00126, 273, 6.88),
    ],
)
def test_faa_worked_voltage_drops(ohm_per_ft: float, feet: float, printed_v: float) -> None:
    assert drop_v(20.0, ohm_per_ft * feet) == pytest.approx(printed_v, abs=0.005)


@all_cases("temperature_c", [-20.0, 0.0, 20.0, 75.0, 105.0])
def test_faa_temperature_rule_is_the_iec_coefficient(temperature_c: float) -> None:
    # FAA AC 43.13-1B par. 11-66: L2 = 254.5 L1/(234.5 + T2); alpha 1/254.5 against 0.00393.
    ratio = resistance_ohm_per_m(20, temperature_c) / resistance_ohm_per_m(20)
    assert ratio * warmed_length_ratio(temperature_c) == pytest.approx(1.0, abs=2e-4)


@all_cases("awg, amps", [(24, 2.5), (22, 3.0), (20, 4.0), (18, 6.0), (16, 7.0)])
def test_bundled_limits_of_faa_table_11_9(awg: int, amps: float) -> None:
    assert current_limit(awg).bundled_a == amps


@all_cases("awg, leg_mohm, volts", [(20, 57.04, 0.342), (26, 193.05, 1.158)])
def test_drop_of_a_servo_extension(awg: int, leg_mohm: float, volts: float) -> None:
    # 1.30 m, two mated pairs of 6 mohm in each leg, 25 C, 3 A: sums of the table above.
    loop = loop_ohm(1.30, awg, joints=2, contact_ohm=0.006)
    assert 500.0 * loop == pytest.approx(leg_mohm, abs=0.02)
    assert drop_v(3.0, loop) == pytest.approx(volts, abs=6e-4)
