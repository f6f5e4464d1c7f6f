"""One position of a linkage: angles, levers, and the forces and torques that follow from them."""

from __future__ import annotations

import math
from dataclasses import dataclass

from hangar.base.errors import BadInput
from hangar.physics.vectors import Vector

CLEAN_BALL_LINKS = 0.9  # share of torque that arrives; common practice, no source
TIGHT_CLEVISES = 0.7  # common practice, no source


@dataclass(frozen=True, slots=True)
class LinkPosition:
    """One position of a linkage; levers carry a sign, forces along the rod pull when positive."""

    servo_deg: float
    horn_deg: float
    servo_lever_mm: float
    horn_lever_mm: float
    transmission_deg: float
    servo_transmission_deg: float
    servo_ball_tilt_deg: float
    horn_ball_tilt_deg: float
    rod_direction: Vector
    servo_end_mm: Vector
    horn_end_mm: Vector

    @property
    def velocity_ratio(self) -> float:
        """Horn degrees for each degree of the arm; infinite at a dead point of the horn."""
        return _ratio(self.servo_lever_mm, self.horn_lever_mm)

    @property
    def torque_ratio(self) -> float:
        """Horn moment for each unit of servo torque, no friction; infinite at dead centre of the servo."""
        return _ratio(self.horn_lever_mm, self.servo_lever_mm)

    def rod_force_n(self, servo_torque_nm: float) -> float:
        """Force along the rod, N, that a servo torque makes; infinite at dead centre of the servo."""
        return _ratio(servo_torque_nm * 1000.0, self.servo_lever_mm)

    def horn_moment_nm(self, servo_torque_nm: float, efficiency: float = CLEAN_BALL_LINKS) -> float:
        """Moment at the hinge, N m, that a servo torque can hold or move, friction taken off."""
        return servo_torque_nm * self.torque_ratio * _checked_efficiency(efficiency)

    def servo_torque_nm(self, horn_moment_nm: float, efficiency: float = CLEAN_BALL_LINKS) -> float:
        """Servo torque, N m, that a hinge moment asks for, friction added."""
        return horn_moment_nm * self.velocity_ratio / _checked_efficiency(efficiency)

    def horn_deg_per_rod_mm(self) -> float:
        """Turn of the horn, deg, for each millimetre of rod length, the servo standing still.

        A turn of a clevis is its thread pitch times this.
        """
        return math.degrees(_ratio(1.0, self.horn_lever_mm))


def _ratio(top: float, bottom: float) -> float:
    if bottom == 0.0:
        return math.copysign(math.inf, top) if top else math.nan
    return top / bottom


def _checked_efficiency(efficiency: float) -> float:
    if not 0.0 < efficiency <= 1.0:
        raise BadInput(
            "an efficiency of {efficiency:g} was given; it lies above 0 and up to 1.", efficiency=efficiency
        )
    return efficiency
