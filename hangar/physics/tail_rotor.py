"""What a tail rotor asks of its servo, with and without counterweights.

Source: propeller moment of :mod:`hangar.physics.rotor`; statics of the pitch slider.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from hangar.base.errors import BadInput
from hangar.base.figure import Band
from hangar.physics.rotor import (
    INERTIA_FACTOR,
    TAIL_DESIGN,
    TAIL_GRIP_FACTOR,
    TAIL_LOW,
    propeller_moment_nm,
    rad_per_s,
)


@dataclass(frozen=True, slots=True)
class TailRotor:
    """A tail rotor with its pitch slider.

    Attributes:
        chord_m: blade chord [m], above zero.
        blade_mass_kg: mass of one blade [kg], above zero.
        grip_arm_m: link ball to feather axis [m], above zero.
        blades: number of blades, 2 or more.
        counterweight_kg: mass of one of the two weights on each grip [kg]; 0 for none.
        counterweight_arm_m: weight to feather axis, square to the chord [m].
        slider_ratio: slider force over servo rod force through the bell-crank [-]; 1 for a straight rod.
        inertia_factor: feathering inertia over mass times chord² [-].
        grip_factor: blade with grip over blade alone [-].
    """

    chord_m: float
    blade_mass_kg: float
    grip_arm_m: float
    blades: int = 2
    counterweight_kg: float = 0.0
    counterweight_arm_m: float = 0.0
    slider_ratio: float = 1.0
    inertia_factor: float = INERTIA_FACTOR
    grip_factor: float = TAIL_GRIP_FACTOR

    def __post_init__(self) -> None:
        sizes = (self.chord_m, self.blade_mass_kg, self.grip_arm_m, self.slider_ratio)
        if not all(size > 0.0 and math.isfinite(size) for size in sizes):
            raise BadInput(
                "Tail chord, blade mass, grip arm and slider ratio are {sizes}; each must be above zero.",
                sizes=str(sizes),
            )
        if self.blades < 2:
            raise BadInput("Tail rotor has {blades} blades; two or more are wanted.", blades=self.blades)
        if self.counterweight_kg < 0.0 or self.counterweight_arm_m < 0.0:
            raise BadInput("Counterweight mass and arm must be zero or more.")

    @property
    def net_inertia_kg_m2(self) -> float:
        """Inertia that turns the blade flat, less what the counterweights take back [kg m²]."""
        blade = self.inertia_factor * self.grip_factor * self.blade_mass_kg * self.chord_m**2
        return blade - 2.0 * self.counterweight_kg * self.counterweight_arm_m**2


def tail_moment_nm(tail: TailRotor, speed_rpm: float, pitch_deg: float = 25.0) -> float:
    """Feathering moment of one tail blade [N m]; below zero where the counterweights win.

    Args:
        tail: the tail rotor.
        speed_rpm: tail rotor speed [rpm], zero or more: gear ratio times head speed.
        pitch_deg: blade pitch [deg], -30 to 30.

    Source: as :func:`hangar.physics.rotor.propeller_moment_nm`; weights square to the chord turn the
        blade the other way.

    >>> round(tail_moment_nm(TailRotor(0.020, 0.003, 0.012), 13500.0), 3)
    0.077
    """
    return propeller_moment_nm(tail.net_inertia_kg_m2, rad_per_s(speed_rpm), pitch_deg)


def tail_servo_torque_nm(
    tail: TailRotor, speed_rpm: float, *, servo_arm_m: float, pitch_deg: float = 25.0
) -> Band:
    """Torque a tail rotor asks of its servo.

    Args:
        tail: the tail rotor.
        speed_rpm: highest tail rotor speed [rpm].
        servo_arm_m: servo arm [m], above zero.
        pitch_deg: largest blade pitch [deg], -30 to 30.

    Returns:
        Servo torque [N m]; 0.3 to 1.5 of the expected value, our judgement. A tail servo is chosen for
        speed as much as for torque.

    Raises:
        BadInput, OutOfValidity: outside those bounds.

    >>> round(tail_servo_torque_nm(TailRotor(0.020, 0.003, 0.012), 13500.0, servo_arm_m=0.010).expected, 2)
    0.13
    """
    if not servo_arm_m > 0.0:
        raise BadInput("Servo arm is {servo_arm} m; it must be above zero.", servo_arm=servo_arm_m)
    moment = abs(tail_moment_nm(tail, speed_rpm, pitch_deg))
    torque = tail.blades * moment / tail.grip_arm_m * servo_arm_m / tail.slider_ratio
    return Band(TAIL_LOW * torque, torque, TAIL_DESIGN * torque)
