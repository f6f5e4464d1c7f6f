"""How finely a servo arm can be set on its toothed shaft, and what is left over to trim.

Source: arithmetic of two equal divisions of a circle (least common multiple).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from hangar.base.errors import BadInput
from hangar.physics.checks import finite


def smallest_step_deg(teeth: int, arms: int = 1) -> float:
    """Smallest change of arm direction when any arm of the wheel may be used.

    Args:
        teeth: teeth on the shaft, 3 to 100.
        arms: equally spaced arms on the horn, 1 to 12.

    Raises:
        BadInput: teeth or arms outside those bounds.

    Source: the directions on offer are the multiples of 360/teeth and 360/arms together.

    >>> smallest_step_deg(25), smallest_step_deg(25, 4), smallest_step_deg(24, 4)
    (14.4, 3.6, 15.0)
    """
    if not (3 <= teeth <= 100 and 1 <= arms <= 12):
        raise BadInput(
            "{teeth} teeth and {arms} arms were given; 3 to 100 teeth and 1 to 12 arms are allowed.",
            teeth=teeth,
            arms=arms,
        )
    return 360.0 / math.lcm(teeth, arms)


@dataclass(frozen=True, slots=True)
class ArmSetting:
    """How to press an arm on: which arm, how many teeth on, and the angle that is left to trim."""

    arm_number: int
    teeth_on: int
    set_deg: float
    residual_deg: float

    def trim_us(self, deg_per_us: float) -> float:
        """Pulse change that takes the residual out."""
        if not deg_per_us > 0.0:
            raise BadInput(
                "{turn:g} deg/us was given; the servo turns more than 0 deg for each us.",
                turn=deg_per_us,
            )
        return self.residual_deg / deg_per_us


def nearest_setting(wanted_deg: float, teeth: int, arms: int = 1) -> ArmSetting:
    """The arm and tooth that come nearest to a wanted turn from where the first arm stands.

    Raises:
        BadInput: teeth or arms that cannot be, or a turn that is not finite.

    >>> nearest_setting(10.0, 25, 4).set_deg
    10.8
    """
    finite(wanted_deg=wanted_deg)
    step = smallest_step_deg(teeth, arms)
    settings = (
        (arm, tooth, 360.0 * tooth / teeth + 360.0 * arm / arms)
        for arm in range(arms)
        for tooth in range(teeth)
    )
    arm, tooth, angle = min(
        settings,
        key=lambda setting: (abs(math.remainder(setting[2] - wanted_deg, 360.0)), setting[0], setting[1]),
    )
    residual = math.remainder(wanted_deg - angle, 360.0)
    # Whole steps keep the told angle free of the rounding that two sums would leave.
    steps = round(math.remainder(angle, 360.0) / step)
    return ArmSetting(arm + 1, tooth, steps * step, residual)


def worst_residual_deg(teeth: int, arms: int = 1) -> float:
    """Largest angle that can be left to trim: half a step.

    >>> worst_residual_deg(25, 4)
    1.8
    """
    return smallest_step_deg(teeth, arms) / 2.0


def tooth_pitch_mm(teeth: int, outside_diameter_mm: float) -> float:
    """Tooth spacing on the outside of the shaft.

    Raises:
        BadInput: fewer than 3 teeth, or no diameter.

    >>> round(tooth_pitch_mm(25, 5.9), 3)
    0.741
    """
    if not (teeth >= 3 and outside_diameter_mm > 0.0):
        raise BadInput(
            "{teeth} teeth on {outside_diameter:g} mm were given; 3 or more teeth on more than 0 mm.",
            teeth=teeth,
            outside_diameter=outside_diameter_mm,
        )
    return math.pi * outside_diameter_mm / teeth


def splines_fit(
    first_teeth: int, first_diameter_mm: float, second_teeth: int, second_diameter_mm: float
) -> bool:
    """Whether a horn of one spline may go on the other: same count, and diameter within 0.05 mm.

    The screw's thread and depth must agree too. The 0.05 mm is common practice, no source.

    Raises:
        BadInput: a diameter that is not finite.

    >>> splines_fit(25, 5.90, 25, 5.92), splines_fit(25, 5.90, 25, 4.90)
    (True, False)
    """
    finite(first_diameter_mm=first_diameter_mm, second_diameter_mm=second_diameter_mm)
    return first_teeth == second_teeth and abs(first_diameter_mm - second_diameter_mm) <= 0.05
