"""A servo arm that lifts a swashplate ball straight up and down."""

from __future__ import annotations

import math
from dataclasses import dataclass

from hangar.base.errors import BadInput, Unreachable
from hangar.base.text import fixed
from hangar.physics.checks import finite


@dataclass(frozen=True, slots=True)
class BallPosition:
    """Ball height above the shaft, its speed for each radian of arm, and the link's lean."""

    height_mm: float
    lever_mm: float
    link_lean_deg: float

    def force_n(self, servo_torque_nm: float) -> float:
        """Upward force at the ball, N, for a servo torque, no friction; infinite at dead centre."""
        return servo_torque_nm * 1000.0 / self.lever_mm if self.lever_mm else math.inf


def ball_at(arm_mm: float, link_mm: float, ball_offset_mm: float, servo_deg: float) -> BallPosition:
    """The ball of a swashplate guided straight, above a servo with its arm level at servo angle zero.

    Args:
        arm_mm: shaft to ball on the arm, above 0.
        link_mm: link length ball to ball, above 0.
        ball_offset_mm: sideways distance of the swashplate's ball from the shaft; equal to the arm it
            makes the link stand straight at level arm.
        servo_deg: arm angle above level.

    Raises:
        Unreachable: the link is too short to reach the ball's line.

    Source: slider and crank; height = arm sin + sqrt(link^2 - (offset - arm cos)^2).

    >>> ball_at(15, 60, 15, 0.0).height_mm
    60.0
    """
    finite(ball_offset_mm=ball_offset_mm, servo_deg=servo_deg)
    for name, value in (("arm", arm_mm), ("link", link_mm)):
        if not (math.isfinite(value) and value > 0.0):
            raise BadInput(
                "the {name} is {value:g} mm; a length above 0 is wanted.", name=fixed(name), value=value
            )
    angle = math.radians(servo_deg)
    aside = ball_offset_mm - arm_mm * math.cos(angle)
    if abs(aside) > link_mm:
        raise Unreachable(
            "the link of {link:g} mm cannot reach the ball at servo angle {servo:g} deg: the ball is "
            "{aside:.2f} mm to the side.",
            link=link_mm,
            servo=servo_deg,
            aside=abs(aside),
        )
    upright = math.sqrt((link_mm - aside) * (link_mm + aside))
    lever = arm_mm * math.cos(angle) - (aside * arm_mm * math.sin(angle) / upright if upright else math.inf)
    lean = math.degrees(math.asin(aside / link_mm))
    return BallPosition(arm_mm * math.sin(angle) + upright, lever, lean)
