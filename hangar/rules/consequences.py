"""What the aircraft will do, worked from the same figures as the finding.

Where there are no figures a rule's own consequence is told, from its docstring.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from hangar.base.figure import Figure
from hangar.base.text import NOTHING, Amount, Text, text
from hangar.parts import Aircraft, Airframe, Receiver, ServoFit, Stabiliser
from hangar.parts.choices import Function, Swash

QUICK_DEG = 20.0
"""Way of a servo arm on a quick collective; common practice, no source."""

_LEVER = {Swash.FOUR: 2.0}
_LEVER_OF_THREE = 1.5
"""A plate on three balls tips about the line through the other two, one and a half radii away from a ball."""


def tilt_deg(arm_mm: float, radius_mm: float, fast_s: float, slow_s: float, lever: float) -> float:
    """How far a swashplate tips while its slowest servo is still on its way.

    Args:
        arm_mm: radius of the slow servo's arm.
        radius_mm: distance of its ball from the middle of the plate.
        fast_s: time of the other servos for 60 degrees.
        slow_s: time of the slow servo for 60 degrees.
        lever: distance of the ball from the line the plate tips about, in radii.

    Returns: the tilt [deg] at the moment in which the quick servos have made ``QUICK_DEG``.

    Source: plane geometry; the way of a quick collective is common practice, no source.

    >>> round(tilt_deg(14.0, 20.0, 0.10, 0.15, 1.5), 1)
    3.1
    """
    behind_deg = QUICK_DEG * (1.0 - fast_s / slow_s)
    behind_mm = 2.0 * arm_mm * math.sin(math.radians(behind_deg) / 2.0)
    return math.degrees(math.atan2(behind_mm, lever * radius_mm))


def plate_tips(fits: Sequence[ServoFit], figures: Sequence[Figure], plate: Swash | None) -> Text:
    """The corner that arrives last, and how far it tips the plate; nothing where arm or ball is not known."""
    slowest, slow = max(zip(fits, figures, strict=True), key=lambda pair: pair[1].expected)
    link = slowest.linkage
    if link is None or link.arm_mm is None or link.horn_mm is None:
        return NOTHING
    fast_s = min(time.expected for time in figures)
    lever = _LEVER_OF_THREE if plate is None else _LEVER.get(plate, _LEVER_OF_THREE)
    tilt = tilt_deg(link.arm_mm, link.horn_mm, fast_s, slow.expected, lever)
    return text(
        "corner {code} of the plate arrives last and tips it about {tilt} on a quick collective",
        code=slowest.code,
        tilt=Amount(tilt, "deg", 2),
    )


def side_lags(fits: Sequence[ServoFit], figures: Sequence[Figure]) -> Text:
    """Which side arrives later, and by how much."""
    slowest, slow = max(zip(fits, figures, strict=True), key=lambda pair: pair[1].expected)
    later = slow.expected - min(time.expected for time in figures)
    return text(
        "{code} arrives {later} later on a quick command, and the aircraft rolls or yaws with it",
        code=slowest.code,
        later=Amount(later, "s", 2),
    )


def weaker(lost_pct: float) -> Text:
    """What volts lost on the way cost the servo: stall torque and speed go with the volts."""
    return text("the servo is {lost:.0f} % weaker and slower than the bus could make it", lost=lost_pct)


def stops_working(aircraft: Aircraft, device: Receiver | Stabiliser, *, far: bool) -> Text:
    """What stops when a receiver or gyro gets too few volts; ``far`` where it already does at the peak."""
    if isinstance(device, Receiver):
        stops = text("the receiver restarts in the air, and every control is lost meanwhile")
    else:
        moved = {
            fit.function
            for fit in aircraft.fits
            if fit.through is not None and fit.through.code == device.code
        }
        stops = _unsteered(moved)
    return stops if far else text("a colder pack or a harder command, and {stops}", stops=stops)


def _unsteered(moved: set[Function]) -> Text:
    swash = bool(moved & {Function.CYCLIC, Function.COLLECTIVE})
    if swash:
        return text("the flybarless unit restarts, and swashplate and tail are not steered meanwhile")
    if Function.TAIL in moved:
        return text("the gyro stops steering the tail")
    return text("the gyro stops steering what runs through it")


def dies_before_landing(lasts_min: float, planned_min: float) -> Text:
    """How long before the last landing the radio dies, or that little is left then."""
    short = planned_min - lasts_min
    if short > 0.0:
        return text("the radio dies {short} before the last landing", short=Amount(short, "min", 2))
    return text(
        "the radio dies {left} after the last planned landing: one flight more ends without it",
        left=Amount(-short, "min", 2),
    )


def rotor_gives_way(function: Function, held: float) -> Text:
    """What a swashplate or tail servo that holds so much of the expected load lets the rotor do.

    Nothing where it holds all of it and is short of the most only.
    """
    if held >= 1.0:
        return NOTHING
    share = 100.0 * held
    if function is Function.TAIL:
        return text(
            "at full pitch the servo holds {share:.0f} % of the tail's load: the tail runs away", share=share
        )
    if function is Function.COLLECTIVE:
        return text(
            "at full pitch the servo holds {share:.0f} % of the blades' load: the blades set the pitch",
            share=share,
        )
    return text(
        "in a hard manoeuvre the servo holds {share:.0f} % of its share of the blades: the disc gives way",
        share=share,
    )


def flies_on(airframe: Airframe, seconds: float) -> Text:
    """How far a turbine drives an aircraft without signal; nothing where no speed is entered."""
    speed = airframe.level_speed_m_s or airframe.dive_speed_m_s
    if speed is None:
        return NOTHING
    return text(
        "without signal the turbine drives it on for up to {way}", way=Amount(speed * seconds, "m", 2)
    )


def balances(at_mm: float, fore_mm: float, aft_mm: float) -> Text:
    """What a balance point outside its limits does to the aircraft."""
    if at_mm > aft_mm:
        return text(
            "tail-heavy by {by}: pitch gets out of hand, and a stall may not be recovered",
            by=Amount(at_mm - aft_mm, "mm", 2),
        )
    return text(
        "nose-heavy by {by}: the elevator may not round it out for the landing",
        by=Amount(fore_mm - at_mm, "mm", 2),
    )


def reaches(fit: ServoFit, travel_deg: float) -> Text:
    """The throw that an arm gives with all of the servo's travel; nothing where a length is not known.

    Source: sine of a rod linkage that is square at neutral.
    """
    link, moved = fit.linkage, fit.surface
    if link is None or moved is None or link.arm_mm is None or link.horn_mm is None:
        return NOTHING
    wanted = max(moved.throw_up_deg or 0.0, moved.throw_down_deg or 0.0)
    sine = link.arm_mm * math.sin(math.radians(min(travel_deg, 90.0))) / link.horn_mm
    if not 0.0 < sine < 1.0 or not wanted:
        return NOTHING
    reached = math.degrees(math.asin(sine))
    if reached >= wanted:
        return NOTHING
    return text(
        "the control reaches about {reached} of the {wanted} the pilot counts on",
        reached=Amount(reached, "deg", 2),
        wanted=Amount(wanted, "deg"),
    )
