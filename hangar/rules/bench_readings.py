"""What was read last on the bench, and what a current there may be: asked by rules, sheets and the board."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from hangar.parts import BenchCheck, ServoFit
from hangar.survey.model import Survey

Limit = Callable[[str], float]
"""The threshold of a name for the aircraft's class."""

ENDS = ("end_a_ma", "end_b_ma")


def newest_check(fit: ServoFit, *readings: str) -> BenchCheck | None:
    """The newest bench check of a position that holds one of these readings.

    A check may hold a single tick: one that says nothing of a reading does not take an older one away.
    """
    newest = None
    for check in fit.bench_checks:
        if newest is None or check.checked_at > newest.checked_at:
            for name in readings:
                if getattr(check, name) is not None:
                    newest = check
                    break
    return newest


def newest_reading(fit: ServoFit, name: str) -> float | None:
    """What was read last at a position, however many checks without it came after."""
    check = newest_check(fit, name)
    value: float | None = getattr(check, name) if check else None
    return value


def end_a(fit: ServoFit) -> float | None:
    """The greater of the currents read last at the two ends of the travel."""
    ends = [current for name in ENDS if (current := newest_reading(fit, name)) is not None]
    return max(ends) / 1000.0 if ends else None


def stall_a(fit: ServoFit, survey: Survey) -> float | None:
    """Stall current on the bench: measured on this servo, else rated and brought to the bus's nominal volts.

    It rests on nothing that is still to be read, so that what a sheet prints holds for what is read by it.
    """
    if fit.servo is not None and fit.servo.stall_a is not None:
        return fit.servo.stall_a
    rows = [row for row in fit.servo_type.ratings if row.stall_a is not None] if fit.servo_type else []
    nominal = survey.supply.bus_nominal_v
    if nominal is None or not rows:
        figures = survey.positions.get(fit.code)
        return figures.stall_a.expected if figures is not None and figures.stall_a is not None else None
    row = min(rows, key=lambda rating: abs(rating.rated_v - nominal.expected))
    return (row.stall_a or 0.0) * nominal.expected / row.rated_v


@dataclass(frozen=True)
class EndLimit:
    """The most a servo may draw at an end of its travel; None where it is not known.

    Attributes:
        soft_a: by what the servo draws at rest, with the factor and the extra of the class.
        hard_a: by its stall current, of which it may take a share.
    """

    soft_a: float | None
    hard_a: float | None

    @property
    def most_a(self) -> float | None:
        """The lower of the two."""
        return min((value for value in (self.soft_a, self.hard_a) if value is not None), default=None)

    def is_over(self, amps: float) -> bool:
        """Whether a current is above the limit."""
        return self.most_a is not None and amps > self.most_a


def end_limit(fit: ServoFit, survey: Survey, limit: Limit) -> EndLimit:
    """The limit of the currents at the ends of a servo's travel.

    Args:
        fit: the position with its servo.
        survey: the aircraft's computed figures.
        limit: the thresholds of the aircraft's class.

    Returns:
        The limit; common practice, no source.
    """
    figures, stall = survey.positions.get(fit.code), stall_a(fit, survey)
    idle = figures.idle_a if figures is not None else None
    return EndLimit(
        None if idle is None else limit("end-factor") * idle.expected + limit("end-extra"),
        None if stall is None else limit("bind-stall-share") * stall,
    )
