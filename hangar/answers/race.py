"""Two servos started together: each one's run from its rating, and who arrives when, in words."""

from __future__ import annotations

import math
from dataclasses import dataclass

from hangar.base.text import NOTHING, Text, joined, text
from hangar.parts import ServoType
from hangar.physics.servo_motion import TYPICAL_TIME_CONSTANT_S, Motion
from hangar.survey.servos import rating_of


@dataclass(frozen=True)
class Racer:
    """One servo of the race; without a motion ``why`` says what its record lacks."""

    name: str
    volts: float
    motion: Motion | None
    stall_torque_nm: float = 0.0
    load_nm: float = 0.0
    why: Text = NOTHING

    @classmethod
    def of(
        cls, name: str, servo_type: ServoType | None, volts: float, load_nm: float, angle_deg: float
    ) -> Racer:
        """A servo at these volts against a steady torque, turning so far."""
        rating = rating_of(servo_type) if servo_type else None
        if rating is None:
            return cls(name, volts, None, why=text("{name}: its ratings are not known.", name=name))
        point = rating.at(max(volts, 0.0))
        if not (point.stall_torque_nm > 0.0 and point.no_load_rad_s > 0.0):
            why = text("{name} does not turn at {volts:.1f} V.", name=name, volts=volts)
            return cls(name, volts, None, why=why)
        motion = Motion.with_time_constant(
            point.no_load_rad_s, TYPICAL_TIME_CONSTANT_S, load_nm / point.stall_torque_nm, angle_deg
        )
        return cls(name, volts, motion, point.stall_torque_nm, load_nm)

    @property
    def arrives_s(self) -> float:
        """When it is there; infinite when it never is."""
        return self.motion.duration_s if self.motion else math.inf

    def angle_deg(self, time_s: float) -> float:
        """Where it is at a time."""
        return self.motion.angle_deg(time_s) if self.motion else 0.0


def race_over_s(old: Racer, new: Racer) -> float:
    """When the last of those that arrive is there; a second when none does."""
    times = [racer.arrives_s for racer in (old, new) if math.isfinite(racer.arrives_s)]
    return max(times, default=1.0)


def result_words(old: Racer, new: Racer) -> Text:
    """Who is first, by how much, and where the other one is then."""
    silent = joined(*(racer.why for racer in (old, new) if racer.motion is None))
    if silent:
        return silent
    first, last = (new, old) if new.arrives_s <= old.arrives_s else (old, new)
    if not math.isfinite(first.arrives_s):
        return text("Neither arrives: this load stalls both.")
    sentence = text("{name} is there after {time:.3f} s.", name=first.name, time=first.arrives_s)
    if not math.isfinite(last.arrives_s):
        stalls = text(
            "{name} never arrives: the load stalls it, it can hold {share} % of it.",
            name=last.name,
            share=f"{100.0 * last.stall_torque_nm / last.load_nm:.0f}",
        )
        return joined(sentence, stalls)
    ahead = last.arrives_s - first.arrives_s
    if ahead < 0.0005:
        return text("Both are there after {time:.3f} s.", time=first.arrives_s)
    rest = text(
        "{name} needs {time:.3f} s: {ahead:.3f} s or {share:.0f} % longer, and has turned {angle} by then.",
        name=last.name,
        time=last.arrives_s,
        ahead=ahead,
        share=100.0 * ahead / first.arrives_s,
        angle=f"{last.angle_deg(first.arrives_s):.0f}°",
    )
    return joined(sentence, rest)
