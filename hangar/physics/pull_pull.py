"""Two cables from a double arm to a double horn: which one pulls, and how slack the other goes.

Source: plane geometry; the pulling cable is a rod of :mod:`hangar.physics.linkage`.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from hangar.base.errors import BadInput
from hangar.physics.link_position import LinkPosition
from hangar.physics.linkage import RodLink


@dataclass(frozen=True, slots=True)
class PullPullPosition:
    """One position of a cable pair; ``slack_mm`` below zero means both cables are pulled tight."""

    pulling: LinkPosition
    horn_deflection_deg: float
    slack_mm: float


def pull_pull_at(
    arm_mm: float,
    horn_mm: float,
    distance_mm: float,
    travel_deg: float,
    *,
    horn_set_back_deg: float = 0.0,
    arm_set_back_deg: float = 0.0,
) -> PullPullPosition:
    """A cable pair at a servo travel, the pulling cable taken as a rod.

    Args:
        arm_mm: shaft to cable, each side.
        horn_mm: hinge to cable, each side.
        distance_mm: shaft to hinge line.
        travel_deg: servo travel, either sign.
        horn_set_back_deg: how far the cable holes lie behind the hinge line, seen from the servo.
        arm_set_back_deg: how far the arm's holes lie behind the shaft, away from the horn.

    Returns:
        The pulling side's position, horn deflection, and how much the other cable has gone slack.

    Raises:
        BadInput: lengths that are not above 0, or holes turned by 60 deg or more.
        Unreachable: the pulling cable is too short.

    >>> abs(round(pull_pull_at(20, 20, 400, 30).slack_mm, 9))
    0.0
    """
    if not (abs(horn_set_back_deg) < 60.0 and abs(arm_set_back_deg) < 60.0):
        raise BadInput(
            "holes set back {horn_set_back:g} and {arm_set_back:g} deg were given; less than 60 deg "
            "is allowed.",
            horn_set_back=horn_set_back_deg,
            arm_set_back=arm_set_back_deg,
        )
    # Seen from above: the left cable pulls for travel above zero, the right one mirrored for the other way.
    turned = abs(travel_deg)
    arm_deg, horn_deg = 90.0 + arm_set_back_deg, 90.0 - horn_set_back_deg
    pulling_link = RodLink.planar_from_neutral(arm_mm, horn_mm, (distance_mm, 0.0), arm_deg, horn_deg)
    pulling = pulling_link.at_travel(turned)
    deflection = pulling.horn_deg - horn_deg
    other = math.dist(
        _on_circle(arm_mm, -arm_deg + turned, 0.0), _on_circle(horn_mm, -horn_deg + deflection, distance_mm)
    )
    sign = -1.0 if travel_deg < 0.0 else 1.0
    return PullPullPosition(pulling, sign * deflection, pulling_link.rod_mm - other)


def _on_circle(radius_mm: float, angle_deg: float, centre_x_mm: float) -> tuple[float, float]:
    angle = math.radians(angle_deg)
    return centre_x_mm + radius_mm * math.cos(angle), radius_mm * math.sin(angle)
