"""Readings of the invented fleet tell a story: on three aircraft the measured goes before the assumed."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from hangar.answers.beside import Beside
from hangar.answers.predicted import Fits
from hangar.answers.readings_beside import readings_beside
from hangar.base.figure import Basis
from hangar.store import Fleet
from hangar.survey import Conditions, Survey, survey
from tests.demo_copies import TODAY, demo_copy


@pytest.fixture(scope="module")
def fleet() -> Iterator[Fleet]:
    with demo_copy() as opened:
        yield opened


def surveyed(fleet: Fleet, code: str) -> Survey:
    return survey(fleet.aircraft(code, TODAY), Conditions(today=TODAY))


def not_fitting(found: Survey) -> list[Beside]:
    return [row for row in readings_beside(found) if row.word is Fits.NOT]


def test_a_pack_of_the_helicopter_wears_out_reading_by_reading(fleet: Fleet) -> None:
    found = surveyed(fleet, "MER60")
    now, new = (cells["B014"] for cells in (found.supply.pack_cell_mohm, found.supply.pack_new_mohm))
    assert now.basis is Basis.MEASURED
    assert now.band.low > 1.9 * new.expected
    read = [row.measured for row in readings_beside(found) if row.about == "B014" and row.unit == "mohm"]
    assert len(read) >= 5
    assert read[0] > 1.8 * read[-1]


def test_a_log_of_the_marquess_tells_of_a_joint_and_of_a_current_that_nobody_assumed(fleet: Fleet) -> None:
    found = surveyed(fleet, "MARQ")
    times = found.supply.current_times
    assert times is not None
    assert times.band.low > 1.3
    assert times.basis is Basis.MEASURED
    assert "RX-A" in found.leads
    fields = {(row.record.KIND, row.field) for row in readings_beside(found)}
    assert {("flight-log", "mean_a"), ("flight", "put_back_mah"), ("flight-log-pack", "path_mohm")} <= fields


def test_the_charger_of_the_glider_and_the_end_of_its_flap_tell_of_a_linkage_that_binds(fleet: Fleet) -> None:
    found = surveyed(fleet, "SISK")
    times = found.supply.current_times
    assert times is not None
    assert times.band.low > 1.2
    (flap,) = not_fitting(found)
    assert (flap.about, flap.field) == ("FLAP-L", "end_b_ma")
    assert "stop" in str(flap.look_for)


def test_sound_aircraft_have_readings_that_fit(fleet: Fleet) -> None:
    for code in ("DUNN", "CIND", "ALB5", "PERT", "NIM7"):
        found = surveyed(fleet, code)
        assert readings_beside(found), code
        assert not not_fitting(found), code
