"""Readings of the air beside what was expected of them: currents, volts, packs by a log, speeds."""

from __future__ import annotations

import math
from collections.abc import Iterator

from hangar.answers.beside import Beside, by_logarithm
from hangar.base.figure import Band, Figure
from hangar.base.text import fixed, text
from hangar.parts.readings import is_aside
from hangar.physics.estimating import Z90
from hangar.survey import Survey
from hangar.survey.flown_readings import FlownVerdict
from hangar.survey.loads_learned import EDGE_LN
from hangar.survey.low_volts import expected_lowest, read_lowest
from hangar.survey.remarks import LN_SD


def flown_rows(surveyed: Survey) -> Iterator[Beside]:
    """Every reading of the flights of an aircraft."""
    currents = surveyed.currents
    if currents is not None:
        for learned in (currents.mean, currents.peak):
            yield from (_current(row, learned.figure) for row in learned.readings)
    yield from _lowest(surveyed)
    yield from _leads(surveyed)
    yield from _remarks(surveyed)


def _current(row: FlownVerdict, figure: Figure | None) -> Beside:
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
    for lowest in read_lowest(surveyed.aircraft):
        band, z = (None, None) if expected is None else expected.beside(lowest.volts)
        yield Beside(
            lowest.record, lowest.field, lowest.read_on, "", fixed("lowest bus volts"), "V", lowest.volts,
            band, z, "lowest-volts", is_aside(lowest.record, surveyed.aircraft.set_aside),
        )  # fmt: skip


def _leads(surveyed: Survey) -> Iterator[Beside]:
    """The path from pack to bus by its newest log: pack and leads together."""
    for code, leads in surveyed.leads.items():
        log = leads.log
        low, high = log.path_low_mohm or 0.0, log.path_high_mohm or 0.0
        band_ln_sd = math.log(high / low) / (2.0 * Z90)
        expected = 1000.0 * (leads.expected_ohm + leads.pack_expected_ohm)
        band, z = by_logarithm(log.path_mohm or 0.0, expected, leads.path_sd, band_ln_sd)
        yield Beside(
            log, "path_mohm", log.flown_on, code, text("pack {pack} with its leads", pack=log.pack), "mohm",
            log.path_mohm or 0.0, band, z, "leads", figure=leads.figure,
        )  # fmt: skip


def _remarks(surveyed: Survey) -> Iterator[Beside]:
    aircraft = surveyed.aircraft
    learned = {
        fit.surface.code: figures.load_learned
        for fit in aircraft.fits
        if fit.surface is not None and (figures := surveyed.positions[fit.code]).load_learned is not None
    }
    for remark in aircraft.remarks:
        known = learned.get(remark.surface)
        judged = None if known is None else next((row for row in known.remarks if row.remark == remark), None)
        band, z = None, None
        if known is not None and judged is not None:
            wide = math.exp(0.5 * Z90 * math.hypot(LN_SD, EDGE_LN))
            predicted = known.predicted_m_s
            band = Band(predicted / wide, predicted, predicted * wide)
            # Running out late, or holding at less than it can, tells nothing against it.
            z = max(0.0, judged.z) * (-1.0 if remark.runs_out else 1.0)
        name = text("runs out at") if remark.runs_out else text("still holds at")
        yield Beside(
            remark, "speed_m_s", remark.noted_on, remark.surface, name, "m/s", remark.speed_m_s, band, z,
            "speed-limit", is_aside(remark, aircraft.set_aside),
            figure=None if known is None else known.figure,
        )  # fmt: skip
