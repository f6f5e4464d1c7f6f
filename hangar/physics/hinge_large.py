"""A flat plate with its flow torn off: the most a flap at a large angle is taken to feel.

Source: Hoerner's plate and Rayleigh's centre of pressure, second-hand; see each function.
"""

from __future__ import annotations

import math

from hangar.base.errors import OutOfValidity


def _radians(incidence_deg: float) -> float:
    if not 0.0 <= incidence_deg <= 90.0:
        raise OutOfValidity(
            "Plate incidence is {incidence} degrees; 0 to 90 is allowed.", incidence=incidence_deg
        )
    return math.radians(incidence_deg)


def plate_normal_force(incidence_deg: float) -> float:
    """Normal-force coefficient of a long separated plate.

    Args:
        incidence_deg: angle between plate and stream [deg], 0 to 90.

    Returns:
        Normal force over dynamic pressure and plate area [-].

    Raises:
        OutOfValidity: an incidence outside those bounds.

    Valid for: long plates (no flow round the ends), steady air.
    Source: Hoerner, Fluid-Dynamic Drag, second-hand: three public programs attribute the fit to him;
        the page itself has not been seen.

    >>> plate_normal_force(90.0)
    1.98
    """
    sine = math.sin(_radians(incidence_deg))
    return sine / (0.222 * sine + 0.283)


def plate_pressure_centre(incidence_deg: float) -> float:
    """Where the normal force of a separated plate acts, as a fraction of its chord from the nose.

    Args:
        incidence_deg: angle between plate and stream [deg], 0 to 90.

    Returns:
        Fraction of the chord [-], 0.5 for a plate square to the stream.

    Raises:
        OutOfValidity: an incidence outside those bounds.

    Valid for: a plate with free streamlines from both edges.
    Source: Rayleigh's solution of Kirchhoff's free-streamline plate.

    >>> plate_pressure_centre(90.0)
    0.5
    """
    angle = _radians(incidence_deg)
    return 0.5 - 0.75 * math.cos(angle) / (4.0 + math.pi * math.sin(angle))


def plate_moment(incidence_deg: float) -> float:
    """Moment coefficient of a separated plate about its nose, on its own chord squared.

    A flap behind a fixed part is shielded on one side, so a free plate is the heavy side.

    >>> plate_moment(45.0)
    0.6666
    """
    return plate_normal_force(incidence_deg) * plate_pressure_centre(incidence_deg)
