"""What the current of a servo at rest says about its linkage: free, rubbing, fighting or stalled.

All thresholds are common practice, no source, unless a line says otherwise. The current measured is the
supply's; between a slow-pulsed and a fully smoothed drive the torque share lies from the current share
to its square root, so a range is told, not one number.

Source: common practice, no source, for every threshold; the torque range is the mean of a switched
current.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum

from hangar.base.errors import BadInput
from hangar.base.text import Text, fixed, text
from hangar.physics.checks import finite

FREE_SHARE = 0.03
FREE_A = 0.020
RUBBING_SHARE = 0.10
BOUND_SHARE = 0.25
END_OVER_NEUTRAL = 2.0
END_ADDED_A = 0.100
ENDS_DIFFER = 2.0
STALL_OVER_NO_LOAD = 10.0
PEAK_CAUTION_SHARE = 0.40  # one pilot's in-flight record of 2012: target 40 %, speed falls from about 60 %
PEAK_WARNING_SHARE = 0.60
FRICTION_SHARE = 0.10


class LinkageFeel(StrEnum):
    """How a linkage stands, best first."""

    FREE = "free"
    RUBBING = "friction, weight of the surface or slight preload"
    FIGHTING = "binding or preload, or servos fighting"
    BOUND = "hard bind or stall"


_LEVEL_OF = {
    LinkageFeel.FREE: "ok",
    LinkageFeel.RUBBING: "advisory",
    LinkageFeel.FIGHTING: "caution",
    LinkageFeel.BOUND: "warning",
}
_ORDER = tuple(LinkageFeel)


@dataclass(frozen=True, slots=True)
class BenchCurrents:
    """Currents of one servo at one voltage, A, each averaged over a second or more after it settled.

    ``disconnected_a`` is the same servo with its linkage off; ``stall_a`` may be None where the no-load
    running current is known instead.
    """

    disconnected_a: float
    neutral_a: float
    low_end_a: float
    high_end_a: float
    stall_a: float | None = None
    no_load_a: float | None = None
    settles: bool = True
    still_rising: bool = False
    arm_flexes: bool = False


@dataclass(frozen=True, slots=True)
class BindingReading:
    """The verdict on one servo: level is "ok", "advisory", "caution" or "warning"."""

    feel: LinkageFeel
    level: str
    current_share: float
    torque_share_low: float
    torque_share_high: float
    ends_differ: bool
    stall_assumed: bool
    message: Text


def torque_share_range(current_share: float) -> tuple[float, float]:
    """Least and greatest share of stall torque behind a share of stall current at the supply.

    Raises:
        BadInput: a share outside 0 to 1.

    >>> low, high = torque_share_range(0.10)
    >>> round(low, 2), round(high, 2)
    (0.1, 0.32)
    """
    if not 0.0 <= current_share <= 1.0:
        raise BadInput(
            "a current share of {current_share:g} was given; it lies from 0 to 1.",
            current_share=current_share,
        )
    return current_share, math.sqrt(current_share)


def read_binding(currents: BenchCurrents) -> BindingReading:
    """Judge a linkage from its bench currents.

    Raises:
        BadInput: a current below 0, or neither stall nor no-load current known.

    >>> read_binding(BenchCurrents(0.01, 0.02, 0.05, 0.35, stall_a=1.0)).level
    'warning'
    """
    stall, assumed = _stall(currents)
    added = {
        "neutral": max(0.0, currents.neutral_a - currents.disconnected_a),
        "low end": max(0.0, currents.low_end_a - currents.disconnected_a),
        "high end": max(0.0, currents.high_end_a - currents.disconnected_a),
    }
    where = max(added, key=added.__getitem__)
    share = min(1.0, added[where] / stall)
    feel = max(_feel_of_share(share, added[where]), _feel_of_signs(currents), key=_ORDER.index)
    differ = _ends_differ(added["low end"], added["high end"])
    low, high = torque_share_range(share)
    level = "advisory" if differ and feel is LinkageFeel.FREE else _LEVEL_OF[feel]
    message = text(
        "{feel:^}: {added:.0f} mA more than with the linkage off at {where}, about {low:.0f} to "
        "{high:.0f} % of stall torque; the two ends differ by more than twice."
        if differ
        else "{feel:^}: {added:.0f} mA more than with the linkage off at {where}, about {low:.0f} to "
        "{high:.0f} % of stall torque.",
        feel=feel,
        added=added[where] * 1000,
        where=fixed(where),
        low=100 * low,
        high=100 * high,
    )
    return BindingReading(feel, level, share, low, high, differ, assumed, message)


def _stall(currents: BenchCurrents) -> tuple[float, bool]:
    for name in ("disconnected_a", "neutral_a", "low_end_a", "high_end_a"):
        value = getattr(currents, name)
        if not (math.isfinite(value) and value >= 0.0):
            raise BadInput("{name} is {value:g}; a current of 0 A or more is wanted.", name=name, value=value)
    assumed = currents.stall_a is None
    base = currents.no_load_a if assumed else currents.stall_a
    if base is None or not base > 0.0:
        raise BadInput("neither stall nor no-load current is known; one of them above 0 A is wanted.")
    return (base * STALL_OVER_NO_LOAD, True) if assumed else (base, False)


def _feel_of_share(share: float, added_a: float) -> LinkageFeel:
    if share < FREE_SHARE or added_a < FREE_A:
        return LinkageFeel.FREE
    if share < RUBBING_SHARE:
        return LinkageFeel.RUBBING
    return LinkageFeel.FIGHTING if share <= BOUND_SHARE else LinkageFeel.BOUND


def _feel_of_signs(currents: BenchCurrents) -> LinkageFeel:
    if not currents.settles or currents.still_rising or currents.arm_flexes:
        return LinkageFeel.BOUND
    end = max(currents.low_end_a, currents.high_end_a)
    if end >= END_OVER_NEUTRAL * currents.neutral_a and end - currents.neutral_a >= END_ADDED_A:
        return LinkageFeel.FIGHTING
    return LinkageFeel.FREE


def _ends_differ(low_a: float, high_a: float) -> bool:
    small, large = sorted((low_a, high_a))
    return large >= FREE_A and large > ENDS_DIFFER * small


def peak_level(peak_a: float, stall_a: float) -> str:
    """How a peak current in flight is judged against stall: "ok", "caution" or "warning".

    Raises:
        BadInput: a peak below 0 or a stall current not above 0.

    >>> peak_level(0.5, 1.0), peak_level(0.3, 1.0)
    ('caution', 'ok')
    """
    if not (peak_a >= 0.0 and stall_a > 0.0):
        raise BadInput(
            "a peak of {peak:g} A and stall of {stall:g} A were given; peak 0 or more, stall above 0.",
            peak=peak_a,
            stall=stall_a,
        )
    share = peak_a / stall_a
    return "warning" if share > PEAK_WARNING_SHARE else "caution" if share > PEAK_CAUTION_SHARE else "ok"


def friction_too_much(friction_nm: float, servo_torque_nm: float, torque_ratio: float) -> bool:
    """Whether hinge friction eats more than a tenth of what the servo gives at the hinge.

    Raises:
        BadInput: a friction below 0 or a servo torque not above 0.

    >>> friction_too_much(0.05, 0.3, 1.33)
    True
    """
    finite(torque_ratio=torque_ratio)
    if not (friction_nm >= 0.0 and servo_torque_nm > 0.0):
        raise BadInput("friction of 0 or more and a servo torque above 0 N m are wanted.")
    return friction_nm > FRICTION_SHARE * servo_torque_nm * abs(torque_ratio)
