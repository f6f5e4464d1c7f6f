"""Entering a reading changes every place that shows the figure it informs: by the table of readings."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from functools import cache, partial
from pathlib import Path
from typing import Any

import pytest

from hangar.answers.bench_bands import bands_of, is_out
from hangar.answers.judging import Judgement
from hangar.answers.packs import PackCase, health_of, learned_of
from hangar.answers.predicted import Fits
from hangar.answers.readings_beside import readings_beside
from hangar.base.units import UnitChoice
from hangar.parts import (
    KIND_BY_NAME,
    Aircraft,
    BenchCheck,
    CapacityTest,
    Charge,
    Flight,
    FlightLog,
    FlightLogPack,
    Library,
    LoadTest,
    PathCheck,
    RemarkOnSpeed,
    ServoBench,
    ServoTiming,
    SetAside,
    SupplyCheck,
)
from hangar.parts.choices import RotorKind
from hangar.parts.fields import Record, spec_of
from hangar.parts.readings import place_of
from hangar.parts.sheet_boxes import BENCH, rotor_about
from hangar.physics.air import Air
from hangar.refit.planner import search_of
from hangar.refit.request import RefitRequest
from hangar.rules import examples as ex
from hangar.rules import inspect
from hangar.rules.changing import with_airframe, with_rotor
from hangar.sheets import SheetCase, SheetStyle, write_sheet
from hangar.survey import Survey, survey
from hangar.survey.as_json import survey_json
from hangar.survey.defaults import class_defaults
from hangar.survey.load_question import LoadQuestion
from hangar.survey.position_load import load_at
from hangar.survey.reading_kinds import READING_KINDS, Place, ReadingKind
from hangar.survey.servos import rating_of_fit
from tests.sheets.reading import text_of

CODE = SURFACE_CODE = "ELE"
AIR = Air.at(0.0, 15.0)
TAG = ex.only_pack()
DAY = ex.DAY


def at_ten(days: int) -> datetime:
    return datetime.combine(DAY - timedelta(days=days), datetime.min.time().replace(hour=10))


@cache
def plain() -> Aircraft:
    """A trainer with a weak elevator, nothing of which was ever read."""
    made = ex.trainer()
    fits = []
    for fit in made.fits:
        kind, servo = fit.servo_type, fit.servo
        assert kind is not None
        assert servo is not None
        weak = replace(kind, ratings=ex.weaker(kind, 0.25)) if fit.code == CODE else kind
        surface = None if fit.surface is None else replace(fit.surface, play_deg=None, play_on=None)
        own = replace(servo, idle_ma=None, stall_a=None, play_deg=None)
        fits.append(
            replace(fit, installation=None, servo=own, servo_type=weak, bench_checks=(), surface=surface)
        )
    path = made.paths[0]
    fed = replace(path.packs[0], load_tests=(), capacity_tests=(), charges=(), fit=None)
    pack = replace(fed.pack, cell_mohm=None, cell_mohm_on=None, capacity_mah=None, capacity_on=None)
    paths = (replace(path, packs=(replace(fed, pack=pack),)),)
    frame = replace(made.airframe, cg_measured_mm=None, cg_measured_on=None)
    surfaces = tuple(replace(surface, play_deg=None, play_on=None) for surface in made.surfaces)
    return replace(
        made, airframe=frame, fits=tuple(fits), paths=paths, flights=(), flight_logs=(), surfaces=surfaces
    )


def on_pack(aircraft: Aircraft, **parts: Any) -> Aircraft:
    path = aircraft.paths[0]
    return replace(aircraft, paths=(replace(path, packs=(replace(path.packs[0], **parts),)),))


def on_servo(aircraft: Aircraft, **parts: Any) -> Aircraft:
    fits = tuple(replace(fit, **parts) if fit.code == CODE else fit for fit in aircraft.fits)
    return replace(aircraft, fits=fits)


def tag() -> str:
    fit = plain().fit(CODE)
    assert fit is not None
    return fit.tag or ""


def log(**values: Any) -> FlightLog:
    return FlightLog(
        aircraft=plain().code, flown_on=DAY - timedelta(days=2), file_name="a.csv", check_sum="0",
        minutes_min=9.0, rate_hz=10.0, **values,
    )  # fmt: skip


def log_pack(**values: Any) -> FlightLogPack:
    day = DAY - timedelta(days=2)
    return FlightLogPack(aircraft=plain().code, flown_on=day, pack=TAG, pack_c=20.0, **values)


def check(**values: Any) -> BenchCheck:
    return BenchCheck(aircraft=plain().code, position=CODE, checked_at=at_ten(2), **values)


def bench(**values: Any) -> ServoBench:
    return ServoBench(servo=tag(), tested_at=at_ten(2), at_v=5.0, **values)


def flight(**values: Any) -> Flight:
    day = DAY - timedelta(days=2)
    return Flight(aircraft=plain().code, flown_on=day, minutes_min=10.0, packs=TAG, **values)


def supply(**values: Any) -> SupplyCheck:
    return SupplyCheck(aircraft=plain().code, checked_at=at_ten(2), **values)


def on_path(**values: Any) -> Entered:
    path = plain().paths[0]
    made = PathCheck(aircraft=plain().code, feed=path.feed.code, checked_at=at_ten(2), **values)
    return Entered(replace(plain(), paths=(replace(path, checks=(made,)),)), made)


def two_loads(ohm: float) -> LoadTest:
    volts = [5.36 - amps * (ohm + 0.012) for amps in (0.0, 1.0, 3.0)]
    return LoadTest(
        pack=TAG, tested_at=at_ten(2), load_a=1.0, rest_v=volts[0], loaded_v=volts[1], second_load_a=3.0,
        second_v=volts[2], pack_c=25.0, minutes_since_charge=600.0,
    )  # fmt: skip


@dataclass(frozen=True)
class Entered:
    """What an aircraft becomes when a reading is entered, and the record that holds it."""

    aircraft: Aircraft
    record: Record | None = None
    is_field: bool = False


def of_pack(field: str, *records: Record) -> Entered:
    return Entered(on_pack(plain(), **{field: records}), records[-1])


def of_servo(field: str, record: Record) -> Entered:
    return Entered(on_servo(plain(), **{field: (record,)}), record)


def of_air(field: str, record: Record, base: Aircraft | None = None) -> Entered:
    parts: dict[str, Any] = {field: (record,)}
    return Entered(replace(base or plain(), **parts), record)


def charged_twice() -> Entered:
    flown = replace(plain(), flights=(flight(),))
    charges = (
        Charge(pack=TAG, charged_at=at_ten(3), put_back_mah=900.0),
        Charge(pack=TAG, charged_at=at_ten(1), put_back_mah=260.0),
    )
    return Entered(on_pack(flown, charges=charges), charges[-1])


def helicopter(**values: Any) -> Entered:
    return Entered(with_rotor(ex.helicopter(), RotorKind.MAIN, **values))


def weighed(at_mm: float) -> Entered:
    made = with_airframe(plain(), cg_measured_mm=at_mm, cg_measured_on=DAY - timedelta(days=2))
    return Entered(made, made.airframe, is_field=True)


def read_rotor(field: str, value: float) -> Entered:
    made = helicopter(**{field: value}, pitch_read_on=DAY - timedelta(days=2)).aircraft
    return Entered(made, made.rotor(RotorKind.MAIN), is_field=True)


READ: Mapping[str, Callable[[], Entered]] = {
    "load-test.loaded_v": lambda: of_pack("load_tests", two_loads(0.110)),
    "capacity-test.cell_mohm": lambda: of_pack(
        "capacity_tests", CapacityTest(pack=TAG, tested_on=DAY - timedelta(days=2), cell_mohm=26.0)
    ),
    "capacity-test.capacity_mah": lambda: of_pack(
        "capacity_tests",
        CapacityTest(pack=TAG, tested_on=DAY - timedelta(days=2), capacity_mah=700.0, discharge_a=0.4),
    ),
    "flight-log-pack.pack_mohm": lambda: of_pack(
        "flight_logs", log_pack(pack_mohm=105.0, pack_low_mohm=97.0, pack_high_mohm=113.0)
    ),
    "flight-log-pack.path_mohm": lambda: of_pack(
        "flight_logs", log_pack(path_mohm=420.0, path_low_mohm=400.0, path_high_mohm=440.0)
    ),
    "flight.put_back_mah": lambda: of_air("flights", flight(put_back_mah=260.0)),
    "charge.put_back_mah": charged_twice,
    "flight-log.mean_a": lambda: of_air("flight_logs", log(mean_a=1.4)),
    "flight-log.peak_a": lambda: of_air("flight_logs", log(peak_a=9.0)),
    "flight.lowest_v": lambda: of_air("flights", flight(lowest_v=3.9)),
    "flight-log.minimum_v": lambda: of_air("flight_logs", log(minimum_v=3.9)),
    "servo-bench.idle_ma": lambda: of_servo("benches", bench(idle_ma=22.0)),
    "servo-bench.moving_ma": lambda: of_servo("benches", bench(moving_ma=240.0)),
    "servo-bench.stalled_ma": lambda: of_servo("benches", bench(stalled_ma=320.0)),
    "servo-bench.first_mass_g": lambda: of_servo(
        "benches", bench(radius_mm=30.0, first_mass_g=100.0, first_one_deg=19.0, first_other_deg=-19.0)
    ),
    "servo-timing.sweep_s": lambda: of_servo(
        "timings", ServoTiming(servo=tag(), timed_at=at_ten(2), at_v=5.0, sweep_s=0.31)
    ),
    "remark-on-speed.speed_m_s": lambda: of_air(
        "remarks",
        RemarkOnSpeed(
            aircraft=plain().code, surface=SURFACE_CODE, noted_on=DAY - timedelta(days=2), speed_m_s=7.0,
            runs_out=True,
        ),
    ),
    "bench-check.throw_up_deg": lambda: of_servo("bench_checks", check(throw_up_deg=34.0)),
    "bench-check.throw_down_deg": lambda: of_servo("bench_checks", check(throw_down_deg=34.0)),
    "bench-check.play_deg": lambda: of_servo("bench_checks", check(play_deg=3.5)),
    "bench-check.neutral_ma": lambda: of_servo("bench_checks", check(neutral_ma=380.0)),
    "bench-check.moving_ma": lambda: of_servo("bench_checks", check(moving_ma=380.0)),
    "bench-check.end_a_ma": lambda: of_servo("bench_checks", check(end_a_ma=480.0)),
    "bench-check.end_b_ma": lambda: of_servo("bench_checks", check(end_b_ma=480.0)),
    "bench-check.low_rate_ma": lambda: of_servo("bench_checks", check(low_rate_ma=480.0)),
    "bench-check.bus_v": lambda: of_servo("bench_checks", check(bus_v=3.1)),
    "bench-check.case_c": lambda: of_servo("bench_checks", check(case_c=66.0)),
    "supply-check.idle_a": lambda: of_air("supply_checks", supply(idle_a=1.4)),
    "supply-check.peak_a": lambda: of_air("supply_checks", supply(peak_a=9.0)),
    "supply-check.lowest_v": lambda: of_air("supply_checks", supply(lowest_v=3.6)),
    "path-check.rest_v": lambda: on_path(rest_v=3.9),
    "path-check.out_v": lambda: on_path(out_v=9.1),
    "path-check.alone_v": lambda: on_path(alone_v=3.5),
    "path-check.regulator_c": lambda: on_path(regulator_c=88.0),
    "airframe.all_up_mass_g": lambda: Entered(with_airframe(plain(), all_up_mass_g=9800.0)),
    "airframe.cg_measured_mm": lambda: weighed(190.0),
    "rotor.head_rpm": lambda: helicopter(head_rpm=3400.0),
    **{
        f"rotor.{field}": partial(read_rotor, field, value)
        for field, value in (
            ("pitch_low_deg", -9.0), ("pitch_mid_deg", 4.5), ("pitch_high_deg", 14.5), ("swash_off_deg", 1.5),
        )
    },
}  # fmt: skip
"""An aircraft with each reading of the table entered."""


def before(name: str) -> Aircraft:
    """The aircraft before a reading is entered."""
    if name.startswith("rotor."):
        return ex.helicopter()
    return charged_base() if name.startswith("charge.") else plain()


def charged_base() -> Aircraft:
    return replace(plain(), flights=(flight(),))


def network(surveyed: Survey) -> Any:
    found = {}
    for scenario, case in surveyed.scenarios.items():
        found[str(scenario)] = (
            None if case.bus_v is None else case.bus_v.expected,
            {code: figure.expected for code, figure in case.path_a.items()},
        )
    return found


def verdicts(surveyed: Survey) -> Any:
    every = (folded for finding in inspect(surveyed.aircraft, surveyed) for folded in finding.with_folded())
    return [
        (finding.rule, finding.about, finding.level, str(finding.message),
         tuple(figure.expected for figure in finding.figures))
        for finding in every
    ]  # fmt: skip


def shelf(surveyed: Survey) -> Any:
    fed = surveyed.aircraft.paths[0].packs[0]
    case = PackCase(
        fed.pack, fed.pack_type, fed.fit, fed.load_tests, fed.capacity_tests, fed.cells, fed.charges,
        fed.flight_logs, fed.testers, fed.set_aside,
    )  # fmt: skip
    health = health_of(case, DAY)
    return learned_of(case, DAY).cell_mohm.expected, [(sign.name, sign.value) for sign in health.signs]


def planner(surveyed: Survey) -> Any:
    """What the search for a refit works with: loads, ratings, and the proof of an aircraft."""
    aircraft = surveyed.aircraft
    today = search_of(aircraft, Library(), RefitRequest(conditions=ex.home_day())).today
    fits = []
    for fit in aircraft.fits:
        load = load_at(LoadQuestion.of(aircraft, fit, AIR, class_defaults())).load
        fits.append((rating_of_fit(fit), None if load is None else load.load_nm.expected))
    reserves = [place.reserve and place.reserve.expected for place in today.seen.positions.values()]
    return reserves, today.bus_v, fits


def beside(surveyed: Survey) -> Any:
    return [
        (row.record.KIND, row.field, row.about, row.measured, str(row.words))
        for row in readings_beside(surveyed)
    ]


SHOWN_AS = {
    "load-test.loaded_v": "cell_mohm",
    "flight-log-pack.pack_mohm": "cell_mohm",
    "servo-bench.first_mass_g": "error at 100 g",
}
"""What a reading is called beside its prediction where that is not its field."""
LOOK: Mapping[Place, Callable[[Survey], Any]] = {
    Place.NETWORK: network,
    Place.VERDICT: verdicts,
    Place.SHELF: shelf,
    Place.JSON: lambda surveyed: json.dumps(survey_json(surveyed), sort_keys=True),
    Place.PLANNER: planner,
    Place.BESIDE: beside,
}


def sheets(surveyed: Survey, folder: Path) -> list[str]:
    findings = inspect(surveyed.aircraft, surveyed)
    case = SheetCase(judgement=Judgement.of(surveyed, findings))
    words = []
    for kind in ("working", "bench", "field"):
        path = folder / f"{kind}.pdf"
        write_sheet(kind, [case], path, SheetStyle(printed_on=DAY))
        words += text_of(path)
    return words


@cache
def surveyed_before(name: str) -> Survey:
    return survey(before(name), ex.home_day())


def test_the_table_holds_each_reading_once_with_fields_that_there_are() -> None:
    names = [kind.name for kind in READING_KINDS]
    assert len(names) == len(set(names))
    assert set(names) == set(READ)
    for kind in READING_KINDS:
        for field in kind.fields:
            assert spec_of(KIND_BY_NAME[kind.record], field).name == field


@pytest.mark.parametrize("kind", READING_KINDS, ids=lambda kind: kind.name)
def test_entering_a_reading_changes_every_place_that_shows_the_figure(kind: ReadingKind) -> None:
    entered = READ[kind.name]()
    first, then = surveyed_before(kind.name), survey(entered.aircraft, ex.home_day())
    silent = [place for place in kind.shown & LOOK.keys() if LOOK[place](first) == LOOK[place](then)]
    assert not silent, silent
    if Place.BESIDE in kind.shown:
        fields = {row.field for row in readings_beside(then) if row.record == entered.record}
        assert fields & {kind.fields[0], SHOWN_AS.get(kind.name, "")}


@pytest.mark.parametrize("kind", READING_KINDS, ids=lambda kind: kind.name)
def test_setting_a_reading_aside_restores_every_figure_to_the_bit(kind: ReadingKind) -> None:
    entered = READ[kind.name]()
    if entered.record is None or entered.is_field:
        pytest.skip("a field of a part is taken back by undo")
    record_kind, key = place_of(entered.record)
    aside = (SetAside(kind=record_kind, record=key, since_on=DAY),)
    aircraft = replace(on_servo(on_pack(entered.aircraft, set_aside=aside), set_aside=aside), set_aside=aside)
    first, then = surveyed_before(kind.name), survey(aircraft, ex.home_day())
    for place in (Place.NETWORK, Place.PLANNER):
        assert LOOK[place](then) == LOOK[place](first)


SHEETS_TRIED = tuple(kind for kind in READING_KINDS if Place.SHEET in kind.shown)


@pytest.mark.parametrize("kind", SHEETS_TRIED, ids=lambda kind: kind.name)
def test_entering_a_reading_changes_the_sheets(kind: ReadingKind, tmp_path: Path) -> None:
    then = survey(READ[kind.name]().aircraft, ex.home_day())
    assert sheets(surveyed_before(kind.name), tmp_path) != sheets(then, tmp_path)


@pytest.mark.parametrize(
    ("field", "what"), [("pitch_high_deg", "High deg"), ("swash_off_deg", "Swash low deg")]
)
def test_a_reading_of_a_rotor_fits_exactly_where_the_bench_sheet_lets_it_pass(field: str, what: str) -> None:
    for hundredths in range(0, 1500, 10):
        entered = read_rotor(field, hundredths / 100.0)
        surveyed = replace(surveyed_before("rotor.head_rpm"), aircraft=entered.aircraft)
        (row,) = [row for row in readings_beside(surveyed) if row.field == field]
        bands = bands_of(
            BENCH,
            SheetCase(judgement=Judgement.of(surveyed)),
            UnitChoice(),
            rotor_about(RotorKind.MAIN),
            what,
        )
        assert (row.word is Fits.FITS) is not is_out(bands, row.measured, "deg"), row.measured
