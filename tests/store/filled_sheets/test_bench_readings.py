"""Every reading of a bench check has a box of its own: printed with its limit, kept, told where it is out."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, time
from pathlib import Path

import pytest

from hangar.acts.sheet_limits import SheetLimits
from hangar.answers.bench_bands import bands_of, set_band
from hangar.answers.bench_lines import bench_lines
from hangar.answers.case import AircraftCase
from hangar.answers.judging import Judgement
from hangar.answers.readings_beside import readings_beside
from hangar.base.units import SI_TRADE
from hangar.parts import Airframe, BenchCheck, PathCheck, RangeCheck, SupplyCheck
from hangar.parts.sheet_boxes import (
    BENCH,
    PATH_READINGS,
    ROTOR_READINGS,
    SERVO_READINGS,
    SUPPLY_READINGS,
    THROW_READINGS,
)
from hangar.rules import examples as ex
from hangar.rules import inspect
from hangar.rules.changing import with_path
from hangar.sheets import SheetStyle, write_sheet
from hangar.store import Fleet, bring_in
from hangar.survey import survey
from tests.sheets.cases import TODAY, case_of, demo_case, demo_cases
from tests.sheets.filling import TICK, box_names
from tests.sheets.reading import text_of
from tests.store.filled_sheets.answers import Sheets, filled

MIDNIGHT = datetime.combine(TODAY, time())
READ = {
    *SUPPLY_READINGS,
    *PATH_READINGS,
    *SERVO_READINGS,
    *THROW_READINGS,
    *ROTOR_READINGS,
    "Up mm",
    "Down mm",
    "Play",
    "It did",
    "After",
    "Range m",
    "Mass",
    "Balance mm",
}
"""Every reading that a bench check asks, by the issue's stages."""


def test_every_reading_of_the_stages_has_a_box_somewhere_in_the_fleet(tmp_path: Path) -> None:
    names: list[str] = []
    for case in demo_cases():
        write_sheet("bench", [case], tmp_path / "a.pdf", SheetStyle(fillable=True))
        names += box_names(tmp_path / "a.pdf")
    missing = {what for what in READ if not any(name.endswith(f" {what}") for name in names)}
    assert not missing


def test_the_readings_go_into_the_records_and_stand_beside_what_was_predicted(
    fleet: Fleet, sheets: Sheets, tmp_path: Path
) -> None:
    aircraft = demo_case("CIND").aircraft
    path = next(path for path in aircraft.radio_paths if path.regulator is not None)
    start = f"path__{path.feed.code}"
    out = filled(
        sheets, "bench", "CIND", tmp_path / "a.pdf",
        **{"B2__Idle__A": "0,41", "B4__Peak__A": "9100 mA", "B5__Lowest__V": "5,6", "B12__Range__m": "31",
           "B12__Passed": TICK, f"{start}__Rest__V": "8,11 V", f"{start}__Regulator__C": "44",
           "Date": f"{TODAY:%d.%m.%Y}"},
    )  # fmt: skip
    report = bring_in(fleet, [out])
    supply = fleet.record(SupplyCheck, "CIND", MIDNIGHT)
    assert supply is not None
    assert (supply.idle_a, supply.lowest_v) == (0.41, 5.6)
    assert supply.peak_a == pytest.approx(9.1)
    read = fleet.record(PathCheck, "CIND", path.feed.code, MIDNIGHT)
    assert read is not None
    assert (read.rest_v, read.regulator_c) == (8.11, 44.0)
    distance = fleet.record(RangeCheck, "CIND", TODAY)
    assert distance is not None
    assert distance.distance_m == 31
    assert report.taken["supply-check"] == report.taken["path-check"] == 1
    surveyed = survey(fleet.aircraft("CIND", TODAY), demo_case("CIND").survey.conditions)
    beside = {(row.record.KIND, row.field) for row in readings_beside(surveyed)}
    assert {("supply-check", "idle_a"), ("supply-check", "lowest_v"), ("path-check", "rest_v")} <= beside
    fleet.undo()
    assert fleet.record(SupplyCheck, "CIND", MIDNIGHT) is None
    assert fleet.record(PathCheck, "CIND", path.feed.code, MIDNIGHT) is None


@pytest.mark.parametrize(
    ("box", "out", "stage"),
    [("B2 Idle A", "40 A", "B2"), ("B4 Peak A", "90", "B4"), ("B5 Lowest V", "2,1 V", "B5"),
     ("ELE-L Case C", "77", "B10"), ("B13 Balance mm", "900", "B13"), ("ELE-L Stalled V", "2,5", "B1")],
)  # fmt: skip
def test_a_stage_is_not_proved_while_its_reading_is_out(
    box: str, out: str, stage: str, fleet: Fleet, sheets: Sheets, tmp_path: Path
) -> None:
    code = "MARQ"
    if box.startswith("ELE-L Stalled"):
        far = next(line for line in bench_lines(demo_case(code)) if line.what == "Stalled V")
        box = f"{far.about} Stalled V"
    path = filled(
        sheets, "bench", code, tmp_path / "a.pdf",
        **{box.replace(" ", "__"): out, f"{stage}__Passed": TICK},
    )  # fmt: skip
    report = bring_in(fleet, [path], limits=SheetLimits(fleet, TODAY).of)
    assert any("is OUT" in str(note.reason) for note in report.doubtful)
    assert any(
        note.column == f"{stage} Passed" and "is no proof" in str(note.reason) for note in report.refused
    )
    assert any("left blank and not taken" in str(note.reason) for note in report.stated)


def test_a_regulator_set_above_what_the_servos_may_have_is_no_target(tmp_path: Path) -> None:
    sound = ex.regulated(6.0)
    aircraft = with_path(ex.giant(), **sound)
    most = aircraft.most_bus_v
    assert most is not None
    case = AircraftCase(judgement=Judgement.of(survey(aircraft, ex.home_day())))
    # What is set right is met within 3 %, and never beyond what the weakest part may have.
    assert set_band(case, 6.0).low == pytest.approx(5.82)
    wrong = set_band(case, most + 1.0)
    assert (wrong.low, wrong.high) == (None, most)
    assert not wrong.holds(f"{most + 1.0} V")
    risen = tuple(
        replace(path, regulator=replace(path.regulator, set_v=most + 1.0)) if path.regulator else path
        for path in aircraft.paths
    )
    printed = case_of(replace(aircraft, paths=risen))
    write_sheet("bench", [printed], tmp_path / "a.pdf", SheetStyle())
    words = " ".join(text_of(tmp_path / "a.pdf"))
    assert f"{most + 1.0:g} V, set OUT {most:g} V or less" in words


def test_what_was_read_out_is_printed_out_and_found_until_it_is_read_again() -> None:
    aircraft = ex.trainer()
    low = replace(aircraft, supply_checks=ex.supply_checked(lowest_v=3.6))
    (line,) = (
        line
        for line in bench_lines(AircraftCase(judgement=Judgement.of(survey(low, ex.home_day()))))
        if line.what == "Lowest V"
    )
    case = AircraftCase(judgement=Judgement.of(survey(low, ex.home_day())))
    assert "OUT" in str(line.last_words(case))

    def warned(made: object) -> bool:
        surveyed = survey(made, ex.home_day())  # type: ignore[arg-type]
        return any(finding.rule == "bench-bus-low" for finding in inspect(surveyed.aircraft, surveyed))

    assert warned(low)
    (first,) = low.supply_checks
    later = replace(first, checked_at=first.checked_at.replace(hour=23), lowest_v=4.7)
    assert not warned(replace(low, supply_checks=(first, later)))
    refitted = replace(low.airframe, refit_on=ex.DAY)
    assert isinstance(refitted, Airframe)
    assert not warned(replace(low, airframe=refitted))


def test_the_last_reading_of_a_servo_that_is_out_stands_in_its_row(tmp_path: Path) -> None:
    case = demo_case("MARQ")
    fits = tuple(
        replace(
            fit,
            bench_checks=(
                BenchCheck(
                    aircraft="MARQ", position=fit.code, checked_at=MIDNIGHT, end_a_ma=900.0, throw_up_deg=31.0
                ),
            ),
        )
        if fit.code == "AIL-L"
        else fit
        for fit in case.aircraft.fits
    )
    write_sheet("bench", [case_of(replace(case.aircraft, fits=fits))], tmp_path / "a.pdf", SheetStyle())
    words = " ".join(text_of(tmp_path / "a.pdf"))
    assert "last 900 mA OUT" in words
    assert "last 31° OUT" in words
    assert bands_of(BENCH, case, SI_TRADE, "AIL-L", "End A")
