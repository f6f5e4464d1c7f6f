"""A sheet is written, filled in, read back: every reading stands in the records as it was entered."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime, time
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from hangar.answers.checklists import test_load_a as load_of
from hangar.base.units import convert
from hangar.parts import BenchCheck, Charge, Flight, Inspection, LoadTest, Pack, RangeCheck, Snag, Surface
from hangar.parts.choices import AircraftState, InspectionKind
from hangar.store import Fleet, bring_in
from tests.sheets.cases import TODAY, demo_cases
from tests.sheets.filling import TICK, box_names, fill, fill_in_viewer
from tests.store.filled_sheets.answers import (
    BENCH_TEXTS,
    NOON,
    Sheets,
    bench_answers,
    field_answers,
    filled,
    tables_of,
)

Filler = Callable[[Path, Path, dict[str, str]], Path]


def test_every_bench_reading_of_every_aircraft_comes_back_as_entered(
    fleet: Fleet, sheets: Sheets, tmp_path: Path
) -> None:
    path = sheets("bench")
    report = bring_in(fleet, [fill(path, tmp_path / "filled.pdf", bench_answers(path, TODAY))])
    names = box_names(path)
    for case in demo_cases():
        code = case.aircraft.code
        moved = {
            note.column.rsplit(" ", 1)[0]
            for note in report.refused
            if "was read on servo" in str(note.reason)
        }
        for fit in case.aircraft.fits:
            check = fleet.record(BenchCheck, code, fit.code, NOON)
            if any(words.startswith(fit.code) for words in moved):
                continue
            assert check is not None, (code, fit.code)
            assert (check.direction_ok, check.by) == (True, "Ada")
            for what, (_, field, value) in BENCH_TEXTS.items():
                if f"{code} bench {fit.code} {what}" in names:
                    assert getattr(check, field) == pytest.approx(value), (code, fit.code, field)
        for surface in fleet.records(Surface, aircraft=code):
            if f"{code} bench {surface.code} Play" in names:
                assert (surface.play_deg, surface.play_on) == (0.4, TODAY)
        ranged = fleet.record(RangeCheck, code, TODAY)
        assert ranged is not None
        assert ranged.passed
        assert ranged.distance_m == pytest.approx(30.48)
    only_moved = ("was read on servo", "no channel is recorded", "is set to hold")
    assert all(any(words in str(note.reason) for words in only_moved) for note in report.refused), (
        report.text()
    )


CONTRADICTED = ("CIND", "PERT")
"""Aircraft whose throttle is set to hold, so that its tick is no proof."""


@pytest.mark.parametrize("filler", [fill, fill_in_viewer])
def test_every_field_sheet_comes_back_as_entered_whoever_filled_it(
    filler: Filler, fleet: Fleet, sheets: Sheets, tmp_path: Path
) -> None:
    before = len(fleet.records(Snag))
    path = sheets("field")
    out = filler(path, tmp_path / "filled.pdf", field_answers(path))
    report = bring_in(fleet, [out])
    for case in demo_cases():
        code = case.aircraft.code
        for _, fed in case.tested_packs:
            test = fleet.record(LoadTest, fed.pack.tag, NOON)
            assert test is not None
            load_a = load_of(case.aircraft.airframe.aircraft_class, case.thresholds)
            assert (test.rest_v, test.load_a, test.by) == (5.6, load_a, "Ada")
            assert test.loaded_v == pytest.approx(5.35)
            pack = fleet.record(Pack, fed.pack.tag)
            assert pack is not None
            assert (pack.rest_v, pack.rest_on) == (5.6, TODAY)
        for fit in case.aircraft.fits:
            check = fleet.record(BenchCheck, code, fit.code, NOON)
            assert check is not None
            assert (check.direction_ok, check.centre_ok) == (True, True)
        if case.aircraft.airframe.state is not AircraftState.ON_THE_LINE:
            # The sheet of one that must not fly has no place for flights.
            assert not [flight for flight in fleet.records(Flight, aircraft=code) if flight.flown_on == TODAY]
            continue
        flights = [flight for flight in fleet.records(Flight, aircraft=code) if flight.flown_on == TODAY]
        gate = fleet.record(Inspection, code, TODAY, InspectionKind.GATE)
        assert [flight.minutes_min for flight in flights][-2:] == [8.0, 7.5]
        assert gate is not None
        assert gate.passed is (None if code in CONTRADICTED else True), code
        assert fleet.record(RangeCheck, code, TODAY) is not None
    assert len(fleet.records(Snag)) == before + len(demo_cases())
    known = ("no channel is recorded", "is set to hold")
    assert all(any(words in str(note.reason) for words in known) for note in report.refused), report.text()


def test_every_charge_of_the_card_comes_back_as_entered(fleet: Fleet, sheets: Sheets, tmp_path: Path) -> None:
    path = sheets("charging")
    answers = {name: TICK if is_tick else "1.1 Ah" for name, is_tick in box_names(path).items()
               if is_tick or name.endswith("Put back")}  # fmt: skip
    answers["charge Date"] = f"{TODAY} 12:00"
    bring_in(fleet, [fill(path, tmp_path / "filled.pdf", answers)])
    tags = {name.removeprefix("charge ").removesuffix(" Put back") for name in answers if "Put" in name}
    assert len(tags) >= 15
    for tag in tags:
        charge, pack = fleet.record(Charge, tag, NOON), fleet.record(Pack, tag)
        assert charge is not None
        assert charge.put_back_mah == pytest.approx(1100)
        assert pack is not None
        assert pack.charged_on == TODAY


@pytest.mark.parametrize("kind", ["field", "bench", "charging"])
def test_reading_the_same_sheet_twice_changes_nothing(
    kind: str, fleet: Fleet, sheets: Sheets, tmp_path: Path
) -> None:
    path = sheets(kind, "MARQ")
    answers = {"field": field_answers(path), "bench": bench_answers(path, TODAY)}.get(kind) or {
        name: TICK for name, is_tick in box_names(path).items() if is_tick
    }
    out = fill(path, tmp_path / "filled.pdf", answers)
    bring_in(fleet, [out])
    once, changes = tables_of(fleet, tmp_path / "once"), len(fleet.history())
    again = bring_in(fleet, [out])
    assert tables_of(fleet, tmp_path / "twice") == once
    assert len(fleet.history()) == changes
    assert any("stood in the records already" in str(note.reason) for note in again.stated)
    fleet.undo()
    assert tables_of(fleet, tmp_path / "undone") != once


def test_one_bring_in_of_several_sheets_is_one_undoable_edit(
    fleet: Fleet, sheets: Sheets, tmp_path: Path
) -> None:
    before = tables_of(fleet, tmp_path / "before")
    path = filled(sheets, "field", "MARQ", tmp_path / "one.pdf", **{"ELE-L__Control": TICK})
    two = filled(sheets, "bench", "SISK", tmp_path / "two.pdf", B12__Passed=TICK)
    report = bring_in(fleet, [path, two])
    assert set(report.taken) == {"bench-check", "range-check", "inspection"}
    fleet.undo()
    assert tables_of(fleet, tmp_path / "after") == before


CURRENT = ("mA", 40000.0, ("mA", "A"))
ANGLE = ("deg", 90.0, ("deg", "rad"))
NUMBERS = {
    "Neutral": ("neutral_ma", CURRENT), "Moving": ("moving_ma", CURRENT), "End A": ("end_a_ma", CURRENT),
    "End B": ("end_b_ma", CURRENT), "Up deg": ("throw_up_deg", ANGLE), "Down deg": ("throw_down_deg", ANGLE),
}  # fmt: skip


@settings(max_examples=10, suppress_health_check=list(HealthCheck))
@given(data=st.data())
def test_any_readings_in_any_unit_come_back_within_what_was_typed(
    data: st.DataObject,
    fleet: Fleet,
    sheets: Sheets,
    tmp_path_factory: pytest.TempPathFactory,
) -> None:
    path = sheets("bench", "MARQ")
    names = [name for name in box_names(path) if any(name.endswith(f" {what}") for what in NUMBERS)]
    answers: dict[str, str] = {}
    wanted: dict[str, dict[str, float]] = {}
    for name in data.draw(st.lists(st.sampled_from(names), min_size=1, max_size=8, unique=True)):
        what = next(words for words in NUMBERS if name.endswith(f" {words}"))
        field, (unit, most, units) = NUMBERS[what]
        typed = data.draw(st.sampled_from(units))
        # A little below the most, so that no rounding of what is typed carries it over.
        number = f"{convert(data.draw(st.floats(0, most * 0.999)), unit, typed):.6f}"
        answers[name] = f"{number.replace('.', data.draw(st.sampled_from('.,')))} {typed}"
        position = name.removeprefix("MARQ bench ").removesuffix(f" {what}")
        wanted.setdefault(position, {})[field] = convert(float(number), typed, unit)
    report = bring_in(fleet, [fill(path, tmp_path_factory.mktemp("filled") / "any.pdf", answers)])
    assert not report.refused
    for position, readings in wanted.items():
        check = fleet.record(BenchCheck, "MARQ", position, datetime.combine(TODAY, time()))
        assert {field: getattr(check, field) for field in readings} == pytest.approx(readings, abs=1e-6)
    fleet.undo()
