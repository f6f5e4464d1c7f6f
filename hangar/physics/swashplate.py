"""How a swashplate divides movement and force among its servos.

Source: balance of force and of two moments on a rigid plate; equally stiff servos.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from functools import cache

from hangar.base.errors import BadInput
from hangar.base.figure import Band
from hangar.physics.checks import above_zero, finite


class Layout(StrEnum):
    """Where the servo balls stand on the plate."""

    MECHANICAL = "mechanical"
    THREE_90 = "90"
    FOUR_90 = "4-servo"
    THREE_120 = "120"
    THREE_135 = "135"
    THREE_140 = "140"


Ball = tuple[float, float]
"""Ball on the plate: (towards the elevator ball, to the side) [m]."""

_LATERAL_DEG = {
    Layout.THREE_90: 90.0,
    Layout.THREE_120: 120.0,
    Layout.THREE_135: 135.0,
    Layout.THREE_140: 140.0,
}


@dataclass(frozen=True, slots=True)
class Shares:
    """What one servo takes of each control, as a fraction.

    Attributes:
        collective: of the collective movement, or of the force along the mast.
        fore_aft: of the fore-and-aft movement at the plate's ball radius, or of moment over radius.
        roll: likewise for roll.
    """

    collective: float
    fore_aft: float
    roll: float

    @property
    def cyclic(self) -> float:
        """Largest share of a cyclic of any direction."""
        return math.hypot(self.fore_aft, self.roll)


def balls_of(layout: Layout, radius_m: float = 1.0) -> tuple[Ball, ...]:
    """Ball places of an electronic layout on a circle, elevator ball first.

    Raises:
        BadInput: the mechanical layout, which has a servo for each control instead of each ball.

    >>> balls_of(Layout.THREE_90)[0]
    (1.0, 0.0)
    """
    finite(radius_m=radius_m)
    if not radius_m > 0.0:
        raise BadInput("Ball radius is {radius} m; it must be above zero.", radius=radius_m)
    if layout is Layout.MECHANICAL:
        raise BadInput("A mechanical mix has a servo for each control, not for each ball.")
    if layout is Layout.FOUR_90:
        return tuple(_on_circle(angle, radius_m) for angle in (0.0, 90.0, 180.0, -90.0))
    lateral = _LATERAL_DEG[layout]
    return tuple(_on_circle(angle, radius_m) for angle in (0.0, lateral, -lateral))


def _on_circle(azimuth_deg: float, radius_m: float) -> Ball:
    azimuth = math.radians(azimuth_deg)
    return (radius_m * math.cos(azimuth), radius_m * math.sin(azimuth))


def movement_shares(balls: Sequence[Ball], radius_m: float = 1.0) -> tuple[Shares, ...]:
    """How far each ball moves for a unit of collective, and of tilt times radius (small angles).

    Raises:
        BadInput: a radius not above zero.

    >>> round(movement_shares(balls_of(Layout.THREE_120))[1].fore_aft, 3)
    -0.5
    """
    radius = above_zero(radius_m, "ball radius")
    return tuple(Shares(1.0, x / radius, y / radius) for x, y in balls)


def force_shares(balls: Sequence[Ball], radius_m: float = 1.0) -> tuple[Shares, ...]:
    """How much of each plate load each servo carries.

    Three balls follow from balance alone. With more, equally stiff servos are taken and the plate rigid,
    so the forces are the least ones that balance.

    Args:
        balls: ball places [m], three or more, not in one line.
        radius_m: radius the cyclic moments are divided by [m], above zero.

    Returns:
        Shares ball by ball; a negative one pulls the other way.

    Raises:
        BadInput: fewer than three balls, or balls in one line.

    Valid for: a rigid plate on its centre ball, links square to the plate.
    Source: balance of force and of two moments.

    >>> round(force_shares(balls_of(Layout.THREE_140))[0].collective, 4)
    0.4338
    """
    finite(radius_m=radius_m)
    if not radius_m > 0.0:
        raise BadInput("Ball radius is {radius} m; it must be above zero.", radius=radius_m)
    inverse = _inverse(_gram(balls))
    shares = []
    for ball in balls:
        row = (1.0, *ball)
        collective, fore_aft, roll = (sum(row[k] * inverse[k][load] for k in range(3)) for load in range(3))
        shares.append(Shares(collective, fore_aft * radius_m, roll * radius_m))
    return tuple(shares)


@cache
def layout_shares(layout: Layout) -> tuple[Shares, ...]:
    """Force shares of a standard layout.

    A mechanical mix lists its collective, fore-and-aft and roll servo, each of which carries its own
    control alone.

    >>> layout_shares(Layout.MECHANICAL)[0]
    Shares(collective=1.0, fore_aft=0.0, roll=0.0)
    """
    if layout is Layout.MECHANICAL:
        return (Shares(1.0, 0.0, 0.0), Shares(0.0, 1.0, 0.0), Shares(0.0, 0.0, 1.0))
    return force_shares(balls_of(layout))


_Matrix = tuple[tuple[float, float, float], ...]


def _gram(balls: Sequence[Ball]) -> _Matrix:
    if len(balls) < 3:
        raise BadInput("The swashplate has {count} balls; three or more are wanted.", count=len(balls))
    rows = [(1.0, *ball) for ball in balls]
    a, b, c = (tuple(sum(row[i] * row[j] for row in rows) for j in range(3)) for i in range(3))
    return ((a[0], a[1], a[2]), (b[0], b[1], b[2]), (c[0], c[1], c[2]))


def _inverse(matrix: _Matrix) -> _Matrix:
    (a, b, c), (d, e, f), (g, h, i) = matrix
    cofactors = (
        (e * i - f * h, c * h - b * i, b * f - c * e),
        (f * g - d * i, a * i - c * g, c * d - a * f),
        (d * h - e * g, b * g - a * h, a * e - b * d),
    )
    determinant = a * cofactors[0][0] + b * cofactors[1][0] + c * cofactors[2][0]
    if not determinant > 1e-9 * a * (e + i) ** 2:
        raise BadInput("The swashplate balls stand in one line, so they cannot tilt the plate both ways.")
    p, q, r = (tuple(value / determinant for value in row) for row in cofactors)
    return ((p[0], p[1], p[2]), (q[0], q[1], q[2]), (r[0], r[1], r[2]))


def peak_forces_n(
    shares: Sequence[Shares], collective_n: float | Band, cyclic_ratio: float
) -> tuple[Band, ...]:
    """Largest force of each servo under full collective with full cyclic of the worst direction.

    Args:
        shares: force shares of the servos.
        collective_n: force along the mast [N].
        cyclic_ratio: cyclic moment over ball radius, over that force [-], zero or more; see
            :func:`hangar.physics.rotor.cyclic_ratio`.

    Returns:
        Force of each servo [N].

    Raises:
        BadInput: a ratio below zero.

    >>> peaks = peak_forces_n(layout_shares(Layout.THREE_120), 30.0, 0.25)
    >>> round(peaks[0].expected, 1)
    15.0
    """
    if not cyclic_ratio >= 0.0:
        raise BadInput(
            "Cyclic over collective force is {cyclic_ratio}; it must be zero or more.",
            cyclic_ratio=cyclic_ratio,
        )
    force = Band.exactly(collective_n) if isinstance(collective_n, float | int) else collective_n
    finite(collective_n=force.design)
    return tuple(force * (abs(share.collective) + cyclic_ratio * share.cyclic) for share in shares)


def peak_torques_nm(
    layout: Layout, collective_n: float | Band, cyclic_ratio: float, servo_arm_m: float
) -> tuple[Band, ...]:
    """Largest torque of each servo of a standard layout, on arms square to their links.

    Args:
        layout: where the servo balls stand.
        collective_n: force along the mast [N].
        cyclic_ratio: as for :func:`peak_forces_n`.
        servo_arm_m: servo arm [m], above zero.

    Returns:
        Torque of each servo [N m], elevator servo first; for a mechanical mix the collective,
        fore-and-aft and roll servo.

    Raises:
        BadInput: a servo arm not above zero, or a ratio below zero.

    >>> round(peak_torques_nm(Layout.THREE_120, 77.4, 0.5, 0.015)[0].expected, 2)
    0.77
    """
    if not servo_arm_m > 0.0:
        raise BadInput("Servo arm is {servo_arm} m; it must be above zero.", servo_arm=servo_arm_m)
    return tuple(
        force * servo_arm_m for force in peak_forces_n(layout_shares(layout), collective_n, cyclic_ratio)
    )


def fight_forces_n(
    balls: Sequence[Ball], height_errors_m: Sequence[float], ball_stiffness_n_per_m: float
) -> tuple[float, ...]:
    """Force with which servos fight each other all the time because their balls do not lie in one plane.

    Three balls always lie in one plane and never fight; four do as soon as one stands wrong.

    Args:
        balls: ball places [m], three or more, not in one line.
        height_errors_m: how far each servo holds its ball above where it should be [m].
        ball_stiffness_n_per_m: servo stiffness over arm² [N/m], zero or more.

    Returns:
        Force at each ball [N], summing to zero.

    Raises:
        BadInput: outside those bounds.

    Source: equal springs on a rigid plate.

    >>> round(fight_forces_n(balls_of(Layout.FOUR_90), (0.0003, 0.0, 0.0, 0.0), 44444.4)[0], 2)
    3.33
    """
    if len(height_errors_m) != len(balls):
        raise BadInput(
            "{errors} height errors are given for {balls} balls.",
            errors=len(height_errors_m),
            balls=len(balls),
        )
    if not ball_stiffness_n_per_m >= 0.0:
        raise BadInput(
            "Stiffness at the ball is {stiffness} N/m; it must be zero or more.",
            stiffness=ball_stiffness_n_per_m,
        )
    inverse = _inverse(_gram(balls))
    rows = [(1.0, *ball) for ball in balls]
    sums = [sum(row[k] * error for row, error in zip(rows, height_errors_m, strict=True)) for k in range(3)]
    plate = [sum(inverse[k][j] * sums[j] for j in range(3)) for k in range(3)]
    fitted = [sum(row[k] * plate[k] for k in range(3)) for row in rows]
    return tuple(
        ball_stiffness_n_per_m * (error - fit) for error, fit in zip(height_errors_m, fitted, strict=True)
    )
