"""What the supply of an aircraft must keep to on the bench, and which servo tells most of it."""

from __future__ import annotations

from hangar.answers.case import AircraftCase
from hangar.base.text import text
from hangar.survey.model import PositionSurvey

OUT = text("OUT")
"""Stands behind a value that lies beyond its limit."""


def around(expected: float, percent: float) -> tuple[float, float]:
    """The ends of what is allowed so many percent below and above."""
    return expected * (1 - percent / 100), expected * (1 + percent / 100)


def least_bus_v(case: AircraftCase) -> float | None:
    """Below which volts the bus must never fall: what its receivers need, and a reserve."""
    needed_v = case.aircraft.receivers_least_v
    return None if needed_v is None else needed_v + case.threshold("telemetry-look")


def far_servo(case: AircraftCase) -> PositionSurvey | None:
    """The position with the longest recorded lead."""
    leads = [(fit.lead.length_mm, fit.code) for fit in case.aircraft.fits if fit.lead]
    return case.survey.positions[max(leads)[1]] if leads else None
