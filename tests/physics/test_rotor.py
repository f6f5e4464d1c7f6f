"""Feathering moments of rotor blades and the force they put on the swashplate."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hangar.base.errors import BadInput, OutOfValidity
from hangar.physics.rotor import (
    Blade,
    Rotor,
    collective_force_n,
    cyclic_ratio,
    feathering_moment,
    link_force_n,
    propeller_moment_nm,
    rad_per_s,
)
from tests.all_cases import all_cases

BLADE = Blade(radius_m=0.79, chord_m=0.061, mass_kg=0.185, grip_arm_m=0.023)


# Worked by hand at 12 degrees and load factor 3; common practice geometry, no source. Radius m, chord mm,
# blade g, rpm, mass kg, grip arm mm, servo arm mm; propeller, all, link N, one servo N m.
@all_cases(
    "machine, loads",
    [
        ((0.355, 32, 28, 3000, 0.85, 15, 10), (0.046, 0.068, 4.6, 0.09)),
        ((0.485, 42, 58, 2600, 1.75, 18, 12), (0.124, 0.187, 10.4, 0.25)),
        ((0.61, 52, 105, 1850, 3.1, 20, 14), (0.174, 0.281, 14.0, 0.39)),
        ((0.675, 55, 130, 2100, 3.5, 22, 15), (0.311, 0.481, 21.9, 0.66)),
        ((0.775, 58, 175, 1800, 4.9, 23, 15), (0.342, 0.564, 24.5, 0.74)),
        ((0.79, 61, 185, 2150, 5.2, 23, 15), (0.571, 0.891, 38.7, 1.16)),
        ((0.89, 66, 240, 1900, 6.0, 25, 16), (0.678, 1.084, 43.4, 1.39)),
    ],
)
def test_the_usual_sizes_by_hand(machine: tuple[float, ...], loads: tuple[float, ...]) -> None:
    radius, chord, grams, rpm, mass, grip, arm = machine
    propeller, total, link, servo = loads
    blade = Blade(radius, chord / 1000.0, grams / 1000.0, grip / 1000.0)
    moment = feathering_moment(blade, rad_per_s(rpm), 12.0, lift_n=3.0 * mass * 9.80665 / 2.0)
    assert moment.propeller_nm == pytest.approx(propeller, abs=6e-4)
    assert moment.total_nm == pytest.approx(total, abs=1.1e-3)
    assert link_force_n(moment.total_nm, blade.grip_arm_m) == pytest.approx(link, abs=0.06)
    band = collective_force_n(Rotor(blade, 2, mass), rpm)
    assert band.expected * arm / 1000.0 == pytest.approx(servo, abs=6e-3)


def test_a_ninety_at_1900_rpm_and_ten_degrees_by_hand() -> None:
    # I .07 x .061^2 x .185 x 1.15 = 5.54e-5; omega 198.97; sin10 cos10 .1710; on 23 mm and 15 mm arms.
    moment = propeller_moment_nm(BLADE.feathering_inertia_kg_m2, rad_per_s(1900.0), 10.0)
    assert BLADE.feathering_inertia_kg_m2 == pytest.approx(5.54e-5, rel=1e-3)
    assert moment == pytest.approx(0.375, abs=5e-4)
    assert 2.0 * link_force_n(moment, 0.023) * 0.015 == pytest.approx(0.489, abs=1e-3)


def test_gentle_flying_relieves_pitch_and_lift_and_nothing_else() -> None:
    hard = feathering_moment(BLADE, 225.0, 12.0, lift_n=76.5)
    gentle = feathering_moment(BLADE, 225.0, 9.0, lift_n=51.0)
    # By hand: sin9 cos9 / sin12 cos12 = .1545/.2034; two load factors instead of three.
    assert gentle.propeller_nm / hard.propeller_nm == pytest.approx(0.7598, abs=2e-4)
    assert gentle.lift_nm / hard.lift_nm == pytest.approx(2.0 / 3.0)
    assert (gentle.section_nm, gentle.friction_nm) == (hard.section_nm, hard.friction_nm)


@given(st.floats(-30.0, 30.0), st.floats(10.0, 400.0))
def test_the_moment_does_not_care_for_the_sign_of_pitch(pitch: float, speed: float) -> None:
    assert propeller_moment_nm(5e-5, speed, pitch) == propeller_moment_nm(5e-5, speed, -pitch) >= 0.0


@given(st.floats(0.0, 30.0), st.floats(10.0, 200.0))
def test_moments_without_lift_go_with_speed_squared(pitch: float, speed: float) -> None:
    moment = feathering_moment(BLADE, speed, pitch, lift_n=0.0)
    two = feathering_moment(BLADE, 2.0 * speed, pitch, lift_n=0.0)
    assert two.total_nm == pytest.approx(4.0 * moment.total_nm)


def test_each_part_by_hand() -> None:
    # 200 rad/s, 10 N lift; pull .185 x 4e4 x .55 x .79 = 3215.3 N.
    blade = Blade(
        0.79, 0.061, 0.185, 0.023, weight_offset_m=0.002, relative_slope_rad=0.03, bearing_friction=0.05
    )
    moment = feathering_moment(blade, 200.0, 0.0, lift_n=10.0)
    assert blade.centrifugal_force_n(200.0) == pytest.approx(3215.3)
    assert moment.propeller_nm == 0.0
    assert moment.lift_nm == pytest.approx(0.0122)
    assert moment.section_nm == pytest.approx(0.5 * 1.225 * 0.061**2 * 0.01 * 4e4 * 0.79**3 / 3.0)
    assert moment.weight_nm == pytest.approx(0.19292, rel=1e-4)
    assert moment.friction_nm == pytest.approx(0.96459, rel=1e-4)


def test_the_band_runs_from_half_to_double() -> None:
    band = collective_force_n(Rotor(BLADE, 2, 5.2), 2150.0)
    assert band.low == pytest.approx(0.5 * band.expected)
    assert band.design == pytest.approx(2.0 * band.expected)


def test_blades_and_mixer_levers_multiply_the_force() -> None:
    two = collective_force_n(Rotor(BLADE, 2, 5.2), 1500.0, load_factor=0.0)
    three = collective_force_n(Rotor(BLADE, 3, 5.2, mixer_ratio=1.5), 1500.0, load_factor=0.0)
    assert three.expected == pytest.approx(1.5 * 1.5 * two.expected)


def test_a_flybar_carries_its_share_of_the_cyclic() -> None:
    assert cyclic_ratio() == 0.5
    assert cyclic_ratio(0.4) == pytest.approx(0.2)
    assert cyclic_ratio(1.0) == cyclic_ratio()
    with pytest.raises(BadInput, match="share of blade pitch"):
        cyclic_ratio(0.0)


def test_what_cannot_be_is_refused() -> None:
    with pytest.raises(BadInput, match="each must be above zero"):
        Blade(0.79, 0.0, 0.185, 0.023)
    with pytest.raises(BadInput, match="blades"):
        Rotor(BLADE, 1, 5.0)
    with pytest.raises(BadInput, match="Mass"):
        Rotor(BLADE, 2, 0.0)
    with pytest.raises(BadInput, match="Rotor speed"):
        propeller_moment_nm(5e-5, -1.0, 10.0)
    with pytest.raises(OutOfValidity, match="Blade pitch is 45"):
        propeller_moment_nm(5e-5, 100.0, 45.0)
    with pytest.raises(BadInput, match="density"):
        feathering_moment(BLADE, 100.0, 5.0, lift_n=0.0, density_kg_m3=math.nan)
    with pytest.raises(BadInput, match="Grip arm"):
        link_force_n(1.0, 0.0)
