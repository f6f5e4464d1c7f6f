"""Readings of the air beside what was expected of them: currents, volts, packs by a log, speeds."""

from __future__ import annotations

import math
from collections.abc import Iterator
from datetime import date

from hangar.answers.beside import Beside, by_logarithm
from hangar.base.figure import Band, Figure
from hangar.base.text import fixed, text
from hangar.parts import Record
from hangar.parts.readings import is_aside
from hangar.physics.estimating import Z90
from hangar.survey import Survey
from hangar.survey.flown_readings import FlownJudged
from hangar.survey.low_volts import expected_lowest

_SPEED_LN_SD, _EDGE_LN_SD = 0.20, 0.10
"""Half the errors of a load, which goes with the square of the speed."""


def flown_rows(surveyed: Survey) -> Iterator[Beside]:
    """Every reading of the flights of an aircraft."""
    currents = surveyed.currents
    if currents is not None:
        for learned in (currents.mean, currents.peak):
            yield from (_current(row, learned.figure) for row in learned.readings)
    yield from _lowest(surveyed)
    yield from _remarks(surveyed)


def _current(row: FlownJudged, figure: Figure | None) -> Beside:
    reading, judged, band, z = row.reading, row.judged, None, None
    kind = "peak-current" if reading.is_peak else "mean-current"
    if reading.field == "put_back_mah":
        kind = "put-back"
    if judged is not None and row.expected_a is not None:
        z = judged.z
        sd = abs(math.log(reading.amps / row.expected_a)) / abs(z) if z else judged.sd
        wide = math.exp(Z90 * sd)
        band = Band(row.expected_a / wide, row.expected_a, row.expected_a * wide)
    name = fixed("highest current") if reading.is_peak else fixed("mean current")
    if reading.field == "put_back_mah":
        name = text("mean current by what was put back")
    return Beside(
        reading.record, reading.field, reading.read_on, "", name, "A", reading.amps, band, z, kind,
        reading.is_aside, reading.lapsed, figure,
    )  # fmt: skip


def _lowest(surveyed: Survey) -> Iterator[Beside]:
    expected = expected_lowest(surveyed)
    aircraft = surveyed.aircraft
    read: list[tuple[Record, str, date, float | None]] = [
        *((flight, "lowest_v", flight.flown_on, flight.lowest_v) for flight in aircraft.flights),
        *((log, "minimum_v", log.flown_on, log.minimum_v) for log in aircraft.flight_logs),
    ]
    for record, field, day, volts in read:
        if volts is None:
            continue
        band, z = None, None
        if expected is not None:
            band, z = expected.beside(volts)
        yield Beside(
            record, field, day, "", fixed("lowest bus volts"), "V", volts, band, z, "lowest-volts",
            is_aside(record, aircraft.set_aside),
        )  # fmt: skip


def _remarks(surveyed: Survey) -> Iterator[Beside]:
    for remark in surveyed.aircraft.remarks:
        limit = _full_to(surveyed, remark.surface)
        band, z = None, None
        if limit is not None:
            band, z = by_logarithm(remark.speed_m_s, limit.expected, _SPEED_LN_SD, _EDGE_LN_SD)
            # A surface that runs out late, or holds at less than it can, tells nothing against it.
            if z is not None and (z > 0.0) == remark.runs_out:
                z = 0.0
        name = text("runs out at") if remark.runs_out else text("still holds at")
        yield Beside(
            remark, "speed_m_s", remark.noted_on, remark.surface, name, "m/s", remark.speed_m_s, band, z,
            "speed-limit", is_aside(remark, surveyed.aircraft.set_aside),
        )  # fmt: skip


def _full_to(surveyed: Survey, surface: str) -> Figure | None:
    """The speed up to which a surface holds its throw, without what pilots have said of it."""
    for fit in surveyed.aircraft.fits:
        if fit.surface is not None and fit.surface.code == surface:
            position = surveyed.positions[fit.code]
            return position.full_to_m_s
    return None
