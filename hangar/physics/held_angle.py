"""The angle at which servo and air are in balance.

Source: balance of moments; virtual work across the linkage.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from hangar.base.errors import BadInput
from hangar.base.values import value_class
from hangar.physics.hinge_band import between
from hangar.physics.servo_loop import ServoLoop


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
    track: Track,
    moments_nm: Sequence[float],
    loop: ServoLoop,
    *,
    told_deg: float,
    gain: float,
    load_share: float = 1.0,
) -> float:
    """Deflection at which a surface rests that was told to turn.

    Args:
        track: its linkage, with one row for each of the moments.
        moments_nm: moment that closes it at the angles of the track [N m]; must not fall as they rise.
        loop: one of its servos.
        told_deg: deflection without load [deg], 0 or more, within the track.
        gain: servos on the surface times the share of their work that arrives.
        load_share: share of the moments that is there.

    Returns:
        Deflection held [deg]; 0 where the air closes the surface altogether.

    Raises:
        BadInput: tables of different length, a deflection below 0, or a gain not above 0.

    Valid for: static balance; rods are taken as stiff.
    Source: the servos' torque falls and the air's moment does not as the deflection grows, so there is one
        balance; it is sought between two rows, straight between them.

    >>> track = Track((0.0, 10.0, 20.0), (0.0, 20.0, 40.0), (0.5, 0.5, 0.5))
    >>> held_deg(track, (0.0, 0.5, 1.0), ServoLoop(1.0, 0.0, 20.0), told_deg=20.0, gain=1.0)
    16.0
    """
    angles, travels, ratios = track.angles_deg, track.travels_deg, track.ratios
    last = len(angles) - 1
    if len(moments_nm) != len(angles) or not (gain > 0.0 and told_deg >= 0.0 and load_share >= 0.0):
        raise BadInput("A table of moments must fit its linkage, and the gain must be above 0.")
    edge = (travels[last] if told_deg == angles[last] else track.travel_at(told_deg)) - loop.dead_band_deg
    most = gain * loop.stall_torque_nm
    per_deg = most / loop.softness_deg
    at = last
    while True:
        if angles[at] <= told_deg:
            asked = load_share * moments_nm[at] * ratios[at]
            if asked <= 0.0 or (asked <= most and asked <= per_deg * (edge - travels[at])):
                break
        if at == 0:
            return 0.0
        at -= 1
    if at == last:
        return told_deg
    ratio, moment = ratios[at], load_share * moments_nm[at]
    more_ratio, more_moment = ratios[at + 1] - ratio, load_share * moments_nm[at + 1] - moment
    more_travel, left = travels[at + 1] - travels[at], edge - travels[at]
    # Torque asked is moment x ratio, both straight in the cell: bow s^2 + rise s + start.
    bow, rise, start = more_moment * more_ratio, moment * more_ratio + ratio * more_moment, moment * ratio
    share = _root(bow, rise + per_deg * more_travel, start - per_deg * left)
    if per_deg * (left - share * more_travel) > most:  # all of the torque is there: it alone decides
        share = _root(bow, rise, start - most)
    return min(told_deg, angles[at] + share * (angles[at + 1] - angles[at]))


def _root(bow: float, rise: float, start: float) -> float:
    """Where bow s^2 + rise s + start, below or at 0 at the beginning of a cell, reaches 0 within it."""
    below = max(0.0, rise * rise - 4.0 * bow * start)
    divisor = rise + math.sqrt(below)
    return min(1.0, max(0.0, -2.0 * start / divisor)) if divisor > 0.0 else 1.0
