"""Every bench and field reading of an aircraft beside what was predicted of it, with a plain word."""

from __future__ import annotations

from hangar.answers.airframe_beside import airframe_rows
from hangar.answers.bench_beside import bench_rows
from hangar.answers.beside import Beside
from hangar.answers.flown_beside import flown_rows
from hangar.answers.pack_beside import pack_rows
from hangar.answers.predicted import Fits
from hangar.answers.supply_beside import supply_rows
from hangar.parts.thresholds import Thresholds
from hangar.survey import Survey

_ORDER = {Fits.NOT: 0, Fits.MORE: 1, Fits.LESS: 1, Fits.FITS: 2, None: 3}


def readings_beside(surveyed: Survey, thresholds: Thresholds | None = None) -> tuple[Beside, ...]:
    """All readings of an aircraft, the newest first; of one day those that do not fit first.

    Args:
        surveyed: the aircraft with its figures.
        thresholds: limits in force, for currents at the ends of the travel; None takes the shipped ones.
    """
    rows = [
        *pack_rows(surveyed),
        *bench_rows(surveyed, thresholds or Thresholds()),
        *airframe_rows(surveyed),
        *supply_rows(surveyed),
        *flown_rows(surveyed),
    ]
    return tuple(sorted(rows, key=lambda row: (-row.read_on.toordinal(), _ORDER[row.word], row.about)))
