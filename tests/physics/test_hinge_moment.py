"""Hinge moment of real flaps in real air."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hangar.base.errors import BadInput, OutOfValidity
from hangar.base.figure import Band
from hangar.physics.air import Air, Airflow
from hangar.physics.hinge_balance import Nose, nose_balance
from hangar.physics.hinge_large import plate_moment
from hangar.physics.hinge_moment import (
    Flap,
    Service,
    brake_coefficient,
    chord_moment_m3,
    chord_moment_of_stations_m3,
    flap_coefficient,
    hinge_moment_nm,
    servo_torque_nm,
)
from tests.all_cases import all_cases

SEA_LEVEL = Air(1.225, 15.0)
AILERON = Flap(0.75, 0.060, 0.060, 0.30, aspect_ratio=20.0 / 3.0)
RUDDER = Flap(0.60, 0.28, 0.20, 0.44, aspect_ratio=2.0)
OUNCE_INCHES = 141.612


def _without_compressibility(flow: Airflow, band: Band) -> Band:
    return band * math.sqrt(1.0 - flow.mach**2)


def test_a_sport_aileron_asks_for_a_hundred_ounce_inches() -> None:
    # By hand: q 750.3 Pa, I .0027 m3, q I 2.0258 N m; design .3429, expected .2763, low .1684.
    flow = Airflow(35.0, SEA_LEVEL)
    band = _without_compressibility(flow, hinge_moment_nm(AILERON, flow, 20.0, 4.0))
    assert (band.low, band.expected, band.design) == pytest.approx((0.341, 0.560, 0.695), abs=6e-4)
    assert band.design * OUNCE_INCHES == pytest.approx(98.4, abs=0.1)


def test_a_giant_rudder_asks_for_nine_newton_metres() -> None:
    # By hand: q 382.8 Pa, I .034880 m3, q I 13.3525 N m; P(45) .6666, P(60) .8094.
    flow = Airflow(25.0, SEA_LEVEL)
    straight = _without_compressibility(flow, hinge_moment_nm(RUDDER, flow, 45.0, 0.0))
    slipping = _without_compressibility(flow, hinge_moment_nm(RUDDER, flow, 45.0, 15.0))
    assert (straight.low, straight.expected, straight.design) == pytest.approx((4.45, 7.30, 8.90), abs=6e-3)
    assert (slipping.low, slipping.expected, slipping.design) == pytest.approx((5.40, 8.86, 10.81), abs=6e-3)


def test_full_wash_on_the_giant_rudder_doubles_its_load() -> None:
    calm = Airflow(25.0, SEA_LEVEL)
    washed = Airflow(25.0, SEA_LEVEL, wash_pa=378.0)
    ratio = (
        hinge_moment_nm(RUDDER, washed, 45.0, 0.0).design / hinge_moment_nm(RUDDER, calm, 45.0, 0.0).design
    )
    assert ratio == pytest.approx(1.99, abs=0.01)


def test_a_fast_sailplane_flaperon_by_hand() -> None:
    # By hand: q 2205.0 Pa, I .001936 m3, q I 4.2689 N m; design .1037, expected .0644, low .0393.
    flow = Airflow(60.0, SEA_LEVEL)
    flap = Flap(1.0, 0.044, 0.044, 0.22, aspect_ratio=20.0)
    band = _without_compressibility(flow, hinge_moment_nm(flap, flow, 4.0, 2.0))
    assert (band.low, band.expected, band.design) == pytest.approx((0.168, 0.275, 0.443), abs=6e-4)


@given(st.floats(0.1, 2.0), st.floats(0.02, 0.3), st.floats(0.0, 1.0))
def test_the_taper_integral_is_that_of_the_chord_squared(span: float, inner: float, taper: float) -> None:
    outer = taper * inner
    steps = 2000
    chords = [inner + (outer - inner) * (step + 0.5) / steps for step in range(steps)]
    summed = sum(chord**2 for chord in chords) * span / steps
    assert chord_moment_m3(span, inner, outer) == pytest.approx(summed, rel=1e-6)


def test_area_times_mean_chord_would_be_six_per_cent_low_at_a_taper_of_two_fifths() -> None:
    # By hand: (1 + .4 + .16)/3 = .52 against .7 squared = .49.
    assert 1.0 - 0.49 / chord_moment_m3(1.0, 1.0, 0.4) == pytest.approx(0.0577, abs=1e-4)


def test_stations_add_up_and_must_run_outwards() -> None:
    straight = chord_moment_of_stations_m3([(0.1, 0.08), (0.4, 0.05)])
    assert straight == pytest.approx(chord_moment_m3(0.3, 0.08, 0.05))
    with pytest.raises(BadInput, match="run outwards"):
        chord_moment_of_stations_m3([(0.4, 0.05), (0.1, 0.08)])
    with pytest.raises(BadInput, match="two stations"):
        chord_moment_of_stations_m3([(0.4, 0.05)])


@given(st.floats(30.0, 100.0), st.floats(1.0, 45.0), st.floats(0.5, 4.0))
def test_load_goes_with_dynamic_pressure_and_span(speed: float, deflection: float, factor: float) -> None:
    flow = Airflow(speed, SEA_LEVEL)
    moment = hinge_moment_nm(AILERON, flow, deflection, 4.0)
    coefficient = flap_coefficient(AILERON, flow, deflection, 4.0)
    assert moment.design == pytest.approx(coefficient.design * 0.5 * 1.225 * speed**2 * 0.0027)
    longer = Flap(0.75 * factor, 0.060, 0.060, 0.30, aspect_ratio=20.0 / 3.0)
    assert hinge_moment_nm(longer, flow, deflection, 4.0).low == pytest.approx(factor * moment.low)


def test_above_reynolds_two_million_the_coefficient_of_two_million_serves() -> None:
    big = Flap(0.75, 0.12, 0.12, 0.60, aspect_ratio=5.0)
    # 40 m/s on 0.6 m is Reynolds 1.64e6, 60 m/s is 2.46e6.
    slow, fast = Airflow(40.0, SEA_LEVEL), Airflow(60.0, SEA_LEVEL)
    assert fast.reynolds(0.6) > 2e6 > slow.reynolds(0.6)
    band = _without_compressibility(slow, flap_coefficient(big, slow, 10.0, 4.0))
    other = _without_compressibility(fast, flap_coefficient(big, fast, 10.0, 4.0))
    assert band.design == pytest.approx(other.design)


def test_crawling_speed_and_nearly_sonic_speed_are_refused() -> None:
    with pytest.raises(OutOfValidity, match="Reynolds"):
        hinge_moment_nm(AILERON, Airflow(2.0, SEA_LEVEL), 20.0)
    with pytest.raises(OutOfValidity, match="Mach"):
        hinge_moment_nm(AILERON, Airflow(140.0, SEA_LEVEL), 20.0)


def test_a_brake_flap_is_a_widened_free_plate() -> None:
    band = brake_coefficient(70.0)
    assert band.design == pytest.approx(1.15 * plate_moment(70.0))
    assert band.expected == pytest.approx(0.82 * plate_moment(70.0))
    flow = Airflow(20.0, SEA_LEVEL)
    just_under = hinge_moment_nm(RUDDER, flow, 50.0, 0.0)
    just_over = hinge_moment_nm(RUDDER, flow, 50.001, 0.0)
    assert just_over.expected == pytest.approx(just_under.expected, rel=1e-4)
    assert just_over.design > just_under.design


@all_cases(
    "deflection, alpha, mach", [(91.0, 0.0, 0.0), (30.0, 0.0, 0.0), (70.0, 50.0, 0.0), (70.0, 0.0, 0.5)]
)
def test_a_brake_outside_its_range_is_refused(deflection: float, alpha: float, mach: float) -> None:
    with pytest.raises(OutOfValidity, match="Brake"):
        brake_coefficient(deflection, alpha, mach=mach)


def test_nose_balance_relieves_at_small_angles_and_not_at_large_ones() -> None:
    balanced = Flap(0.75, 0.06, 0.06, 0.30, aspect_ratio=6.67, balance=nose_balance(0.30, Nose.ELLIPTIC))
    plain = Flap(0.75, 0.06, 0.06, 0.30, aspect_ratio=6.67)
    flow = Airflow(30.0, SEA_LEVEL)
    assert hinge_moment_nm(balanced, flow, 10.0).expected < hinge_moment_nm(plain, flow, 10.0).expected
    assert hinge_moment_nm(balanced, flow, 20.0) == hinge_moment_nm(plain, flow, 20.0)


def test_service_raises_only_the_design_value() -> None:
    band = Band(1.0, 2.0, 3.0)
    assert Service.SPORT.apply(band) == Band(1.0, 2.0, 3.75)
    assert Service.HARD.apply(band) == Band(1.0, 2.0, 4.5)
    assert Service.STEADY.apply(band) == band


def test_servo_torque_is_moment_over_leverage_and_losses() -> None:
    assert servo_torque_nm(Band(1.0, 2.0, 3.6), 2.0, 0.9).design == pytest.approx(2.0)
    with pytest.raises(BadInput, match="Servo travel"):
        servo_torque_nm(Band.exactly(1.0), 0.0)
    with pytest.raises(BadInput, match="efficiency"):
        servo_torque_nm(Band.exactly(1.0), 1.0, 1.2)


@all_cases("sizes", [(0.0, 0.1, 0.1, 0.3), (0.5, 0.0, 0.1, 0.3), (0.5, 0.1, -0.1, 0.3), (0.5, 0.1, 0.1, 0.0)])
def test_a_flap_without_size_is_refused(sizes: tuple[float, float, float, float]) -> None:
    with pytest.raises(BadInput, match="above zero"):
        Flap(*sizes)


def test_a_flap_wider_than_the_charts_is_refused() -> None:
    with pytest.raises(OutOfValidity, match=r"whole chord is 0\.8;"):
        hinge_moment_nm(Flap(0.5, 0.16, 0.16, 0.20), Airflow(20.0, SEA_LEVEL), 10.0)


def test_a_negative_chord_has_no_moment() -> None:
    with pytest.raises(BadInput, match="Inner chord"):
        chord_moment_m3(1.0, -0.1, 0.1)
