"""Readings of packs beside what was expected of them: resistance, capacity."""

from __future__ import annotations

from collections.abc import Iterator

from hangar.answers.beside import Beside, by_logarithm
from hangar.base.figure import Band, Figure
from hangar.base.text import fixed
from hangar.parts import CapacityTest, FedPack
from hangar.parts.readings import is_aside
from hangar.physics.estimating import Z90
from hangar.survey import Survey
from hangar.survey.defaults import defaults_with
from hangar.survey.learned import PackReading, expected_mohm, pack_learned

_CAPACITY_LN_SD = {True: 0.03, False: 0.06}
_CAPACITY_SPREAD, _CAPACITY_KEPT = 0.15, 0.10
"""How far the capacity of a pack lies from its label, and from its own a test before; assumption."""


def pack_rows(surveyed: Survey) -> Iterator[Beside]:
    """Every reading of the packs in an aircraft."""
    defaults = defaults_with(surveyed.conditions.defaults)
    for path in surveyed.aircraft.paths:
        for fed in path.packs:
            learned = pack_learned(fed, surveyed.conditions.today, defaults)
            figure = learned.cell_mohm
            yield from (_resistance(fed, reading, figure) for reading in learned.readings)
            yield from _capacities(fed, defaults.unmeasured_capacity.value())


def _resistance(fed: FedPack, reading: PackReading, figure: Figure) -> Beside:
    judged, band, z = reading.judged, None, None
    if judged is not None and judged.z:
        expected, z = expected_mohm(reading), judged.z
        sd = abs(reading.cell_mohm - expected) / abs(z)
        band = Band(max(0.0, expected - Z90 * sd), expected, expected + Z90 * sd)
    return Beside(
        reading.record, "cell_mohm", reading.read_on, fed.pack.tag, fixed("resistance of one cell"), "mohm",
        reading.cell_mohm, band, z, "pack-resistance", reading.is_aside, figure=figure,
    )  # fmt: skip


def _capacities(fed: FedPack, usual_share: float) -> Iterator[Beside]:
    tests = sorted(
        (test for test in fed.capacity_tests if test.capacity_mah), key=lambda test: test.tested_on
    )
    before: CapacityTest | None = None
    for test in tests:
        measured, label = test.capacity_mah or 0.0, fed.pack_type.capacity_mah
        expected, spread = label * usual_share, _CAPACITY_SPREAD
        if before is not None:
            expected, spread = before.capacity_mah or expected, _CAPACITY_KEPT
        reading_ln_sd = _CAPACITY_LN_SD[test.discharge_a is not None and test.end_cell_v is not None]
        band, z = by_logarithm(measured, expected, spread, reading_ln_sd)
        aside = is_aside(test, fed.set_aside)
        yield Beside(
            test, "capacity_mah", test.tested_on, fed.pack.tag, fixed("capacity"), "mAh", measured, band, z,
            "capacity", aside,
        )  # fmt: skip
        before = before if aside else test
