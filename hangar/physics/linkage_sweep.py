"""A linkage through its whole travel: how far it reaches, where it binds, what its ends are like.

Source: the rod-length equation of :mod:`hangar.physics.linkage`; limits are marked where they stand.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from enum import StrEnum

from hangar.base.errors import BadInput
from hangar.base.text import Text, text
from hangar.physics.link_position import LinkPosition
from hangar.physics.linkage import RodLink
from hangar.physics.linkage_reach import reach_limit_deg, travel_steps_deg

LEAST_TRANSMISSION_DEG = (
    40.0  # usual machine-design floor: Norton, "Design of Machinery" (from memory, unverified)
)
DEAD_POINT_DEG = 20.0  # below this free play and rod force grow without bound; common practice, no source
SERVO_DEAD_CENTRE_DEG = 10.0  # common practice, no source
BALL_TILT_CAUTION_DEG = 15.0  # common practice, no source
BALL_TILT_WARNING_DEG = 20.0  # common practice, no source
SPARE_TRAVEL = 1.05  # an end point must still close at 105 % of travel; common practice, no source
SPARE_ROD_MM = 0.5  # and with the rod this much longer or shorter; common practice, no source


class BindState(StrEnum):
    """What can be wrong with a linkage's geometry."""

    HARD_BIND = "hard bind"
    DEAD_POINT = "dead point of the horn"
    POOR_TRANSMISSION = "poor rod angle at the horn"
    SERVO_DEAD_CENTRE = "dead centre of the servo"
    REVERSAL = "reversal"
    NO_MARGIN = "no margin at the end"
    BALL_TILT = "ball link tilted"


@dataclass(frozen=True, slots=True)
class Bind:
    """One trouble found in a sweep; ``level`` is "warning" or "caution"."""

    state: BindState
    level: str
    travel_deg: float
    message: Text


@dataclass(frozen=True, slots=True)
class LinkSweep:
    """A linkage from end to end of its servo travel, which is counted from neutral.

    ``low`` and ``high`` are the positions at the ends reached; where the rod binds first they stand
    at the last position before it, and ``low_bound`` or ``high_bound`` is True.
    """

    link: RodLink
    neutral: LinkPosition
    low: LinkPosition
    high: LinkPosition
    low_bound: bool
    high_bound: bool
    positions: tuple[LinkPosition, ...]
    binds: tuple[Bind, ...]

    @property
    def low_deflection_deg(self) -> float:
        """Horn deflection from neutral at the low end of travel."""
        return self.low.horn_deg - self.link.horn_neutral_deg

    @property
    def high_deflection_deg(self) -> float:
        """Horn deflection from neutral at the high end of travel."""
        return self.high.horn_deg - self.link.horn_neutral_deg

    @property
    def least_transmission_deg(self) -> float:
        """Smallest angle between rod and horn met in the travel."""
        return min(position.transmission_deg for position in self.positions)

    @property
    def greatest_velocity_ratio(self) -> float:
        """Largest size of horn turn for each degree of arm: the servo feels this share of the load."""
        return max(abs(position.velocity_ratio) for position in self.positions)

    @property
    def least_velocity_ratio(self) -> float:
        """Smallest size of horn turn for each degree of arm."""
        return min(abs(position.velocity_ratio) for position in self.positions)

    @property
    def differential(self) -> float:
        """Size of the high deflection over the low one; infinite when the low one is zero."""
        low, high = abs(self.low_deflection_deg), abs(self.high_deflection_deg)
        return high / low if low > 0.0 else math.inf

    @property
    def worst(self) -> str | None:
        """ "warning", "caution" or None."""
        levels = {bind.level for bind in self.binds}
        return "warning" if "warning" in levels else "caution" if levels else None


def sweep(
    link: RodLink,
    low_deg: float,
    high_deg: float,
    *,
    step_deg: float = 0.5,
    dead_centre_wanted: bool = False,
    flight_control: bool = True,
    ball_tilt_limit_deg: float | None = None,
) -> LinkSweep:
    """Move a linkage from neutral out to both ends and report what it meets.

    Args:
        link: with its neutral set.
        low_deg: servo travel of one end, 0 or less, counted from neutral.
        high_deg: servo travel of the other end, 0 or more.
        step_deg: spacing of the positions, above 0.
        dead_centre_wanted: a latch or retract is meant to pass dead centre of the servo.
        flight_control: dead centre of the servo is then a warning rather than a caution.
        ball_tilt_limit_deg: the ball link's own limit; None takes what is common practice.

    Raises:
        BadInput: travel on the wrong side of neutral, or a step that is not above 0.
        Unreachable: the linkage does not even close at neutral.

    >>> swept = sweep(RodLink.planar_from_neutral(15, 20, (90, -4), 110, 90), -45, 45)
    >>> round(1 / swept.differential, 2)
    1.35
    """
    if not (math.isfinite(low_deg) and math.isfinite(high_deg) and low_deg <= 0.0 <= high_deg):
        raise BadInput(
            "travel from {low:g} to {high:g} deg was given; it must run through neutral, 0.",
            low=low_deg,
            high=high_deg,
        )
    if not step_deg > 0.0:
        raise BadInput("a step of {step:g} deg was given; it must be above 0.", step=step_deg)
    neutral = link.at_travel(0.0)
    low_end, high_end = reach_limit_deg(link, low_deg), reach_limit_deg(link, high_deg)
    travels = [*reversed(travel_steps_deg(low_end, step_deg)), 0.0, *travel_steps_deg(high_end, step_deg)]
    positions = tuple(link.at_travel(travel) for travel in travels)
    ends = (low_end != low_deg, high_end != high_deg)
    link_sweep = LinkSweep(link, neutral, positions[0], positions[-1], *ends, positions, ())
    binds = [
        *_hard_binds(link_sweep, low_deg, high_deg),
        *_rod_angle(link_sweep),
        *([] if dead_centre_wanted else _servo_dead_centre(link_sweep, flight_control)),
        *_margin(link_sweep, low_deg, high_deg),
        *_ball_tilt(link_sweep, ball_tilt_limit_deg),
    ]
    return replace(link_sweep, binds=tuple(binds))


def _hard_binds(link_sweep: LinkSweep, low_deg: float, high_deg: float) -> list[Bind]:
    ends = (
        (link_sweep.low_bound, link_sweep.low, low_deg),
        (link_sweep.high_bound, link_sweep.high, high_deg),
    )
    binds = []
    for bound, end, wanted_deg in ends:
        if bound:
            travel = _travel(link_sweep, end)
            message = text(
                "The rod binds at {travel:.1f}° of servo travel; {wanted:g}° is asked.",
                travel=travel,
                wanted=wanted_deg,
            )
            binds.append(Bind(BindState.HARD_BIND, "warning", travel, message))
    return binds


def _rod_angle(link_sweep: LinkSweep) -> list[Bind]:
    worst = min(link_sweep.positions, key=lambda position: position.transmission_deg)
    angle, travel = worst.transmission_deg, _travel(link_sweep, worst)
    if angle < DEAD_POINT_DEG:
        sentence = text(
            "The rod stands {angle:.0f}° to the horn at {travel:.1f}° of servo travel; "
            "below {limit:.0f}° it is at its dead point.",
            angle=angle,
            travel=travel,
            limit=DEAD_POINT_DEG,
        )
        return [Bind(BindState.DEAD_POINT, "warning", travel, sentence)]
    if angle < LEAST_TRANSMISSION_DEG:
        sentence = text(
            "The rod stands {angle:.0f}° to the horn at {travel:.1f}° of servo travel; "
            "at least {limit:.0f}° is wanted.",
            angle=angle,
            travel=travel,
            limit=LEAST_TRANSMISSION_DEG,
        )
        return [Bind(BindState.POOR_TRANSMISSION, "caution", travel, sentence)]
    return []


def _servo_dead_centre(link_sweep: LinkSweep, flight_control: bool) -> list[Bind]:
    binds = []
    side = math.copysign(1.0, link_sweep.neutral.servo_lever_mm)
    turned = [position for position in link_sweep.positions if position.servo_lever_mm * side < 0.0]
    if turned:
        travel = min((_travel(link_sweep, position) for position in turned), key=abs)
        message = text("The surface turns back beyond {travel:.1f}° of servo travel.", travel=travel)
        binds.append(Bind(BindState.REVERSAL, "warning", travel, message))
    worst = min(link_sweep.positions, key=lambda position: position.servo_transmission_deg)
    if turned or worst.servo_transmission_deg < SERVO_DEAD_CENTRE_DEG:
        travel = _travel(link_sweep, worst)
        message = text(
            "Rod and servo arm stand in line at about {travel:.1f}° of servo travel.", travel=travel
        )
        level = "warning" if flight_control else "caution"
        binds.append(Bind(BindState.SERVO_DEAD_CENTRE, level, travel, message))
    return binds


def _margin(link_sweep: LinkSweep, low_deg: float, high_deg: float) -> list[Bind]:
    binds = []
    for bound, travel in ((link_sweep.low_bound, low_deg), (link_sweep.high_bound, high_deg)):
        if not bound and travel and not _has_margin(link_sweep.link, travel):
            message = text(
                "The rod closes at {travel:g}° of servo travel but not at 105 % of it, "
                "or not with the rod {spare:g} mm longer or shorter.",
                travel=travel,
                spare=SPARE_ROD_MM,
            )
            binds.append(Bind(BindState.NO_MARGIN, "caution", travel, message))
    return binds


def _has_margin(link: RodLink, travel_deg: float) -> bool:
    if reach_limit_deg(link, travel_deg * SPARE_TRAVEL) != travel_deg * SPARE_TRAVEL:
        return False
    try:
        for change in (-SPARE_ROD_MM, SPARE_ROD_MM):
            replace(link, rod_mm=link.rod_mm + change).at_travel(travel_deg)
    except BadInput:
        return False
    return True


def _ball_tilt(link_sweep: LinkSweep, limit_deg: float | None) -> list[Bind]:
    def tilt(position: LinkPosition) -> float:
        return max(abs(position.servo_ball_tilt_deg), abs(position.horn_ball_tilt_deg))

    worst = max(link_sweep.positions, key=tilt)
    angle, travel = tilt(worst), _travel(link_sweep, worst)
    warn = BALL_TILT_WARNING_DEG if limit_deg is None else limit_deg
    notice = BALL_TILT_CAUTION_DEG if limit_deg is None else limit_deg
    if angle <= min(warn, notice):
        return []
    level = "warning" if angle > warn else "caution"
    message = text(
        "A ball link tilts {angle:.0f}° at {travel:.1f}° of servo travel; limit {limit:g}°.",
        angle=angle,
        travel=travel,
        limit=notice,
    )
    return [Bind(BindState.BALL_TILT, level, travel, message)]


def _travel(link_sweep: LinkSweep, position: LinkPosition) -> float:
    return position.servo_deg - link_sweep.link.servo_neutral_deg
