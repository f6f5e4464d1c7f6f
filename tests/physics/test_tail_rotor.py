"""Tail rotor servo torque with and without counterweights."""

from __future__ import annotations

import pytest

from hangar.base.errors import BadInput
from hangar.physics.tail_rotor import TailRotor, tail_moment_nm, tail_servo_torque_nm
from tests.all_cases import all_cases


# Worked by hand at 25 degrees; common practice geometry, no source: chord mm, blade g, rpm, moment N m.
@all_cases(
    "chord, grams, rpm, moment",
    [
        (20, 3, 13500, 0.077),
        (23, 5, 12200, 0.139),
        (24, 7, 8700, 0.108),
        (26, 9, 9900, 0.209),
        (28, 10, 8500, 0.198),
        (29, 11, 10100, 0.333),
        (30, 12, 8700, 0.291),
    ],
)
def test_the_usual_tails_by_hand(chord: float, grams: float, rpm: float, moment: float) -> None:
    tail = TailRotor(chord / 1000.0, grams / 1000.0, 0.013)
    assert tail_moment_nm(tail, rpm) == pytest.approx(moment, rel=0.01)


def test_servo_torque_by_hand_and_its_band() -> None:
    # Two blades of 0.0772 N m on 12 mm grips, 10 mm servo arm: 0.1287 N m.
    band = tail_servo_torque_nm(TailRotor(0.020, 0.003, 0.012), 13500.0, servo_arm_m=0.010)
    assert band.expected == pytest.approx(0.1287, abs=1e-4)
    assert band.low == pytest.approx(0.3 * band.expected)
    assert band.design == pytest.approx(1.5 * band.expected)


def test_counterweights_cancel_or_overdo() -> None:
    plain = TailRotor(0.029, 0.011, 0.013)
    arm = 0.015
    balancing = plain.net_inertia_kg_m2 / (2.0 * arm**2)

    def moment(weight_kg: float) -> float:
        weighted = TailRotor(0.029, 0.011, 0.013, counterweight_kg=weight_kg, counterweight_arm_m=arm)
        return tail_moment_nm(weighted, 10100.0)

    assert moment(0.5 * balancing) == pytest.approx(0.5 * tail_moment_nm(plain, 10100.0))
    assert moment(balancing) == pytest.approx(0.0, abs=1e-12)
    assert moment(2.0 * balancing) == pytest.approx(-tail_moment_nm(plain, 10100.0))


def test_overdone_counterweights_still_load_the_servo() -> None:
    heavy = TailRotor(0.029, 0.011, 0.013, counterweight_kg=0.01, counterweight_arm_m=0.02)
    assert tail_moment_nm(heavy, 10100.0) < 0.0 < tail_servo_torque_nm(heavy, 10100.0, servo_arm_m=0.01).low


def test_what_cannot_be_is_refused() -> None:
    with pytest.raises(BadInput, match="above zero"):
        TailRotor(0.0, 0.003, 0.012)
    with pytest.raises(BadInput, match="blades"):
        TailRotor(0.02, 0.003, 0.012, blades=1)
    with pytest.raises(BadInput, match="Counterweight"):
        TailRotor(0.02, 0.003, 0.012, counterweight_kg=-0.001)
    with pytest.raises(BadInput, match="Servo arm"):
        tail_servo_torque_nm(TailRotor(0.02, 0.003, 0.012), 10000.0, servo_arm_m=0.0)
