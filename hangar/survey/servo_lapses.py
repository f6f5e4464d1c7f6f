"""Readings of a servo that are too old to go before its rating: they stay on record and count no more."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import Any

from hangar.parts import Aircraft, ServoBench, ServoFit
from hangar.parts.fields import Record

LAPSES_H, LAPSES_Y = 50.0, 2.0
"""Hours of flying and years after which a servo's speed and give are to be read again; common practice, no
source. Its currents hold until it is replaced."""
_DAYS_A_YEAR = 365.25
_WEIGHTS = (
    "radius_mm", "first_mass_g", "first_one_deg", "first_other_deg", "second_mass_g", "second_one_deg",
    "second_other_deg",
)  # fmt: skip


def has_lapsed(aircraft: Aircraft, day: date, today: date) -> bool:
    """Whether a servo's speed and give that were read on a day are to be read again."""
    return (today - day).days > LAPSES_Y * _DAYS_A_YEAR or aircraft.hours_since(day) > LAPSES_H


def lapsed_readings(aircraft: Aircraft, fit: ServoFit, today: date) -> tuple[Record, ...]:
    """The timings and benches of a servo of which speed or give count no more."""
    return (
        *(timing for timing in fit.timings if has_lapsed(aircraft, timing.timed_at.date(), today)),
        *(
            bench
            for bench in fit.benches
            if bench.radius_mm is not None and has_lapsed(aircraft, bench.tested_at.date(), today)
        ),
    )


def counted(aircraft: Aircraft, today: date) -> Aircraft:
    """The aircraft with the readings of its servos that count on a day."""
    if not any(fit.timings or fit.benches for fit in aircraft.fits):
        return aircraft
    fits = tuple(_counted(aircraft, fit, today) for fit in aircraft.fits)
    same = all(new is old for new, old in zip(fits, aircraft.fits, strict=True))
    return aircraft if same else replace(aircraft, fits=fits)


def _counted(aircraft: Aircraft, fit: ServoFit, today: date) -> ServoFit:
    lapsed = lapsed_readings(aircraft, fit, today)
    if not lapsed:
        return fit
    timings = tuple(timing for timing in fit.timings if timing not in lapsed)
    benches = tuple(_currents_of(bench) if bench in lapsed else bench for bench in fit.benches)
    return replace(fit, timings=timings, benches=benches)


def _currents_of(bench: ServoBench) -> ServoBench:
    """A bench without the weights that hung on the arm."""
    blank: dict[str, Any] = dict.fromkeys(_WEIGHTS)
    return replace(bench, **blank)
