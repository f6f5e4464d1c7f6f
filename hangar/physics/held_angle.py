"""The angle at which servo and air are in balance.

Source: balance of moments; virtual work across the linkage.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from hangar.base.errors import BadInput
from hangar.base.values import value_class
from hangar.physics.checks import finite
from hangar.physics.hinge_band import between
from hangar.physics.servo_loop import ServoLoop

_ROUNDS = 30
_NEAR = 1e-6


@value_class
class Track:
    """What a linkage does over one side of a surface's travel.

    Attributes:
        angles_deg: deflections [deg], rising from 0.
        travels_deg: travel of the arm from neutral there [deg], as a size.
        ratios: degrees of surface for each degree of arm there, above 0.
    """

    angles_deg: tuple[float, ...]
    travels_deg: tuple[float, ...]
    ratios: tuple[float, ...]

    def travel_at(self, deflection_deg: float) -> float:
        """Travel of the arm at a deflection within the table [deg]."""
        return between(self.angles_deg, self.travels_deg, deflection_deg)

    def ratio_at(self, deflection_deg: float) -> float:
        """Degrees of surface for each degree of arm at a deflection within the table."""
        return between(self.angles_deg, self.ratios, deflection_deg)


def held_deg(
    track: Track, moments_nm: Sequence[float], loop: ServoLoop, *, told_deg: float, gain: float
) -> float:
    """Deflection at which a surface rests that was told to turn.

    Args:
        track: its linkage, with one row for each of the moments.
        moments_nm: moment that closes it at the angles of the track [N m]; must not fall as they rise.
        loop: one of its servos.
        told_deg: deflection without load [deg], 0 or more, within the track.
        gain: servos on the surface times the share of their work that arrives.

    Returns:
        Deflection held [deg]; 0 where the air closes the surface altogether.

    Raises:
        BadInput: tables of different length, or a gain not above 0.

    Valid for: static balance; rods are taken as stiff.
    Source: the servos' torque falls and the air's moment does not as the deflection grows, so there is one
        balance; it is sought between two rows, straight between them.

    >>> track = Track((0.0, 10.0, 20.0), (0.0, 20.0, 40.0), (0.5, 0.5, 0.5))
    >>> held_deg(track, (0.0, 0.5, 1.0), ServoLoop(1.0, 0.0, 20.0), told_deg=20.0, gain=1.0)
    16.0
    """
    finite(told_deg=told_deg)
    if len(moments_nm) != len(track.angles_deg) or not gain > 0.0:
        raise BadInput("A table of moments must fit its linkage, and the gain must be above 0.")
    arm_deg = track.travel_at(told_deg)
    most, soft = gain * loop.stall_torque_nm, loop.softness_deg

    def left(travel: float, ratio: float, moment: float) -> float:
        """Moment of the servos less that of the air."""
        share = (arm_deg - travel - loop.dead_band_deg) / soft
        return most * min(1.0, max(0.0, share)) / ratio - moment

    rows = tuple(zip(track.angles_deg, track.travels_deg, track.ratios, moments_nm, strict=True))
    at = len(rows) - 1
    while at > 0 and (rows[at][0] > told_deg or left(*rows[at][1:]) < 0.0):
        at -= 1
    angle, travel, ratio, moment = rows[at]
    if at == len(rows) - 1:
        return told_deg
    if left(travel, ratio, moment) < 0.0:
        return 0.0
    width, more_travel, more_ratio, more_moment = (
        after - before for before, after in zip(rows[at], rows[at + 1], strict=True)
    )

    def inside(share: float) -> float:
        return left(travel + share * more_travel, ratio + share * more_ratio, moment + share * more_moment)

    # Between full drive and the edge of the dead band the balance is smooth; the root is sought there.
    edge, full = (
        (arm_deg - error - travel) / more_travel for error in (loop.dead_band_deg, loop.full_drive_deg)
    )
    end = min(1.0, (told_deg - angle) / width, max(edge, 0.0))
    return angle + width * _crossing(inside, end, full)


def _crossing(left: Callable[[float], float], end: float, turn: float) -> float:
    """Where a falling function crosses zero between 0 and an end, both or one side of its turning point."""
    low = 0.0
    if low < turn < end:
        low, end = (turn, end) if left(turn) >= 0.0 else (low, turn)
    at_low, at_end = left(low), left(end)
    if at_end >= 0.0:
        return end
    enough = _NEAR * (at_low - at_end)
    # False position; the value at the end that stays is halved, so that both ends move.
    for _ in range(_ROUNDS):
        middle = low + (end - low) * at_low / (at_low - at_end)
        here = left(middle)
        if abs(here) <= enough or end - low < _NEAR:
            return middle
        if here > 0.0:
            low, at_low = middle, here
            at_end *= 0.5
        else:
            end, at_end = middle, here
            at_low *= 0.5
    return 0.5 * (low + end)
