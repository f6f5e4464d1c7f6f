"""How grave it is that a servo gets too few volts."""

from __future__ import annotations

from hangar.parts import ServoFit
from hangar.parts.choices import Drive
from hangar.rules.case import Case
from hangar.rules.finding import Level

_NEARLY_V = 0.005
_STILL_WORKS = 0.9
"""Share of the lowest rated volts at which a servo is only weaker: common practice, no source."""
_MAY_STOP = 0.85
"""Share of its least volts below which a digital servo may stop: common practice, no source."""


def may_stop_below_v(fit: ServoFit, working_v: float | None) -> float:
    """Volts below which the servo of a flight control may stop; 0 where it only gets weaker."""
    kind = fit.servo_type
    if kind is None or working_v is None or kind.drive is not Drive.DIGITAL or not fit.function.is_flight:
        return 0.0
    return _MAY_STOP * working_v


def _is_way_guessed(case: Case) -> bool:
    """Whether nobody entered what lies between a pack and the bus."""
    return any(None in (path.feed.lead_length_mm, path.feed.lead_awg) for path in case.aircraft.radio_paths)


def starved_level(case: Case, fit: ServoFit, volts: float) -> Level | None:
    """The level of some volts at a servo against those it works from; None where they are enough or unknown.

    A digital servo of a flight control far below may stop; a servo a little below its lowest rated volts is
    only weaker. Where the way from pack to bus is not entered the most is a caution.
    """
    kind, working_v = fit.servo_type, case.least_servo_v(fit)
    if kind is None or working_v is None or volts >= working_v - _NEARLY_V:
        return None
    if volts < may_stop_below_v(fit, working_v) and not _is_way_guessed(case):
        return Level.WARNING
    rated_from = min((row.rated_v for row in kind.ratings), default=None)
    if rated_from is not None and working_v <= rated_from + _NEARLY_V and volts >= _STILL_WORKS * working_v:
        return Level.ADVISORY
    return Level.CAUTION
