"""How far a linkage reaches before its rod cannot close, and what travel a deflection needs.

Source: the rod-length equation of :mod:`hangar.physics.linkage`, searched by halving.
"""

from __future__ import annotations

import math
from collections.abc import Callable

from hangar.base.errors import NoAnswer, Unreachable
from hangar.physics.checks import above_zero, finite
from hangar.physics.linkage import RodLink

_NEAR_GAP = 0.25  # a margin above this does not vanish within a step


def travel_steps_deg(end_deg: float, step_deg: float) -> list[float]:
    """Travels from one step past neutral out to the end, evenly spaced and no wider than the step.

    Raises:
        BadInput: a step not above 0, or an end that is not finite.

    >>> travel_steps_deg(-1.0, 0.5)
    [-0.5, -1.0]
    """
    finite(end_deg=end_deg)
    count = math.ceil(abs(end_deg) / above_zero(step_deg, "step") - 1e-9)
    return [end_deg * index / count for index in range(1, count + 1)]


def reach_limit_deg(link: RodLink, end_deg: float, *, step_deg: float = 0.5) -> float:
    """How far the servo can travel toward ``end_deg`` before the rod cannot close.

    Args:
        link: with its neutral set.
        end_deg: servo travel wanted, of either sign.
        step_deg: spacing of the search; a narrower gap is found by closing in on each dip of the margin.

    Returns:
        ``end_deg`` itself when nothing stops the linkage, else the travel at the first dead point.

    Raises:
        BadInput: a step not above 0, or an end that is not finite.

    >>> round(reach_limit_deg(RodLink.planar_from_neutral(30, 15, (60, 0)), 45.0), 3)
    22.979
    """
    travels = [0.0, *travel_steps_deg(end_deg, step_deg)]
    margins = [link.reach_margin(link.servo_neutral_deg + travel) for travel in travels]
    last = len(travels) - 1
    for index, margin in enumerate(margins):
        before, after = max(0, index - 1), min(last, index + 1)
        if margin < 0.0:
            return _boundary(link, travels[before], travels[index])
        if margin < _NEAR_GAP and margin <= min(margins[before], margins[after]):
            deepest = _lowest(link.reach_margin, link.servo_neutral_deg, travels[before], travels[after])
            if link.reach_margin(link.servo_neutral_deg + deepest) < -1e-9:
                return _boundary(link, travels[before], deepest)
    return end_deg


def _boundary(link: RodLink, good_deg: float, bad_deg: float) -> float:
    while abs(bad_deg - good_deg) > 1e-10:
        middle = 0.5 * (good_deg + bad_deg)
        if link.reach_margin(link.servo_neutral_deg + middle) >= 0.0:
            good_deg = middle
        else:
            bad_deg = middle
    return good_deg


def _lowest(margin: Callable[[float], float], neutral_deg: float, low_deg: float, high_deg: float) -> float:
    """Golden-section search for the smallest margin between two travels."""
    golden = (math.sqrt(5.0) - 1.0) / 2.0
    while abs(high_deg - low_deg) > 1e-9:
        lower_deg = high_deg - golden * (high_deg - low_deg)
        upper_deg = low_deg + golden * (high_deg - low_deg)
        if margin(neutral_deg + lower_deg) < margin(neutral_deg + upper_deg):
            high_deg = upper_deg
        else:
            low_deg = lower_deg
    return 0.5 * (low_deg + high_deg)


def travel_for_deg(link: RodLink, deflection_deg: float, *, limit_deg: float = 120.0) -> float:
    """Servo travel, deg, that brings the horn to a deflection from neutral.

    Args:
        link: with its neutral set.
        deflection_deg: wanted horn deflection, either sign.
        limit_deg: the servo's own travel to one side.

    Raises:
        NoAnswer: the horn does not come that far in this travel.

    >>> round(travel_for_deg(RodLink.from_rod(15, 20, 120), 32.053), 2)
    45.0
    """
    finite(deflection_deg=deflection_deg, limit_deg=limit_deg)
    if deflection_deg == 0.0:
        return 0.0
    rising = link.at_travel(0.0).velocity_ratio > 0.0
    end = reach_limit_deg(link, math.copysign(limit_deg, deflection_deg if rising else -deflection_deg))
    before = 0.0
    for travel in travel_steps_deg(end, 0.5):
        if abs(link.deflection_deg(travel)) >= abs(deflection_deg):
            return _crossing(link, before, travel, abs(deflection_deg))
        before = travel
    reached = max((abs(link.deflection_deg(travel)) for travel in travel_steps_deg(end, 0.5)), default=0.0)
    raise NoAnswer(
        "a deflection of {deflection:.1f} deg cannot be had from this linkage: within {end:.0f} deg "
        "of servo travel it reaches {reached:.1f} deg.",
        deflection=deflection_deg,
        end=abs(end),
        reached=reached,
    )


def _crossing(link: RodLink, before_deg: float, after_deg: float, wanted_deg: float) -> float:
    while abs(after_deg - before_deg) > 1e-10:
        middle = 0.5 * (before_deg + after_deg)
        if abs(link.deflection_deg(middle)) < wanted_deg:
            before_deg = middle
        else:
            after_deg = middle
    return 0.5 * (before_deg + after_deg)


def closes_at(link: RodLink, servo_deg: float) -> bool:
    """Whether the rod reaches at this servo angle, whatever lies between it and neutral.

    >>> closes_at(RodLink.planar(40, 80, 120, (100, 0)), 40.0)
    True
    """
    try:
        link.at(servo_deg)
    except Unreachable:
        return False
    return True
