"""What was read on the bench since the work on a position, beside what is expected there."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from hangar.answers.bench_bands import ReadingBand, bands_of
from hangar.answers.board import last_done
from hangar.answers.case import AircraftCase
from hangar.answers.checklists import stage
from hangar.answers.judging import Judgement
from hangar.base.figure import Figure
from hangar.base.units import SI_TRADE
from hangar.parts import BenchCheck, Plan
from hangar.parts.sheet_boxes import BENCH
from hangar.rules import Thresholds
from hangar.survey.model import PositionSurvey

_ASKED = {"neutral_ma": "Neutral", "end_a_ma": "End A", "end_b_ma": "End B"}
"""Readings whose band the bench sheet has, by the name of its box."""


@dataclass(frozen=True)
class BenchReadings:
    """A position with its bench checks since the work, newest first, and what is expected there."""

    aircraft: str
    position: str
    name: str
    checks: tuple[BenchCheck, ...]
    expected: PositionSurvey
    bands: Mapping[str, tuple[ReadingBand, ...]] = field(default_factory=dict)

    @property
    def check(self) -> BenchCheck | None:
        """The newest check."""
        return self.checks[0] if self.checks else None

    def holding(self, field: str) -> BenchCheck | None:
        """The newest check that holds this reading; the newest at all where none does.

        A check may hold a single tick, which says nothing of the currents read before.
        """
        return next((check for check in self.checks if getattr(check, field) is not None), self.check)

    def value(self, field: str) -> Any:
        """What was read last."""
        check = self.holding(field)
        return getattr(check, field) if check else None


def expected_of(row: BenchReadings, field: str) -> Figure | None:
    """What a reading should be."""
    seen = row.expected
    return {"bus_v": seen.working_v, "neutral_ma": seen.idle_a, "moving_ma": seen.run_a}.get(field)


def off_pct(row: BenchReadings, field: str) -> float | None:
    """How far a reading is from what is expected; None where either is not known."""
    value = row.value(field)
    figure = expected_of(row, field)
    if value is None or figure is None or figure.expected == 0:
        return None
    shown = value / 1000.0 if field.endswith("_ma") else value
    return float(100.0 * (shown - figure.expected) / figure.expected)


def is_off(row: BenchReadings, field: str) -> bool:
    """Whether a reading calls for a second look: by the bench sheet's band where it has one."""
    value = row.value(field)
    if field in _ASKED:
        return value is not None and any(not band.holds(f"{value!r} mA") for band in row.bands.get(field, ()))
    share = off_pct(row, field)
    if share is None:
        return False
    if field == "bus_v":
        return share < -float(stage("B1")["within_pct"])
    return abs(share) > float(stage("B2")["within_pct"])


def readings_of(
    plan: Plan, judgement: Judgement, thresholds: Thresholds | None = None
) -> tuple[BenchReadings, ...]:
    """A reading for every position that the plan changes, or for all where only the supply changes."""
    aircraft = judgement.aircraft
    named = {line.place for line in plan.lines}
    fits = [fit for fit in aircraft.fits if fit.code in named] or list(aircraft.fits)
    day = last_done(plan)
    case = AircraftCase(judgement=judgement, thresholds=thresholds or Thresholds())
    rows = []
    for fit in fits:
        since = [
            bench_check
            for bench_check in fit.bench_checks
            if day is None or bench_check.checked_at.date() >= day
        ]
        newest_first = sorted(since, key=lambda bench_check: bench_check.checked_at, reverse=True)
        seen = case.survey.positions.get(fit.code)
        if seen is not None:
            bands = {name: bands_of(BENCH, case, SI_TRADE, fit.code, what) for name, what in _ASKED.items()}
            rows.append(
                BenchReadings(aircraft.code, fit.code, fit.position.name, tuple(newest_first), seen, bands)
            )
    return tuple(rows)
