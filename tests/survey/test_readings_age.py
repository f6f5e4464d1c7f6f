"""Readings age: the newest valid one governs, with its day and age; what is too old counts no more."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import date, datetime, timedelta
from typing import Any

import pytest

from hangar.base.figure import Basis, sourced
from hangar.parts import Aircraft, BenchCheck, Flight, ServoBench, ServoFit, ServoTiming
from hangar.rules import examples as ex
from hangar.survey import PositionSurvey, survey
from hangar.survey.as_json import survey_json

CODE = "ELE"


def elevator_of(aircraft: Aircraft) -> ServoFit:
    fit = aircraft.fit(CODE)
    assert fit is not None
    return fit


def having(flights: tuple[Flight, ...] = (), **parts: object) -> Aircraft:
    made = ex.trainer()
    changed = replace(elevator_of(made), installation=None, **parts)  # type: ignore[arg-type]
    fits = tuple(changed if fit.code == CODE else fit for fit in made.fits)
    return replace(made, fits=fits, flights=flights)


def at(aircraft: Aircraft) -> PositionSurvey:
    return survey(aircraft, ex.home_day()).positions[CODE]


def at_ten(days: int) -> datetime:
    return datetime.combine(ex.DAY - timedelta(days=days), datetime.min.time().replace(hour=10))


def timing(days: int, times: float = 1.5) -> ServoTiming:
    plain = at(having()).transit_s
    assert plain is not None
    servo = elevator_of(ex.trainer()).tag or ""
    return ServoTiming(servo=servo, timed_at=at_ten(days), at_v=5.0, sweep_s=times * plain.expected)


def bench(days: int, **values: Any) -> ServoBench:
    return ServoBench(servo=elevator_of(ex.trainer()).tag or "", tested_at=at_ten(days), at_v=5.0, **values)


def check(days: int, **values: Any) -> BenchCheck:
    return BenchCheck(aircraft=ex.trainer().code, position=CODE, checked_at=at_ten(days), **values)


def hours(days: int, count: int) -> tuple[Flight, ...]:
    day = ex.DAY - timedelta(days=days)
    code = ex.trainer().code
    return tuple(Flight(aircraft=code, flown_on=day, number=n + 1, minutes_min=60.0) for n in range(count))


def test_speed_stall_and_idle_say_measured_with_day_and_age_on_sheet_and_in_json() -> None:
    read = having(timings=(timing(12),), benches=(bench(9, idle_ma=9.0, stalled_ma=800.0),))
    position_survey = at(read)
    for figure, days in (
        (position_survey.transit_s, 12),
        (position_survey.stall_a, 9),
        (position_survey.idle_a, 9),
    ):
        assert figure is not None
        assert figure.basis is Basis.MEASURED
        assert figure.read_on == ex.DAY - timedelta(days=days)
        assert f"{days} days ago" in str(sourced(figure, ex.DAY))
    plain = survey_json(survey(read, ex.home_day()))["positions"][CODE]["transit_s"]
    assert (plain["basis"], plain["read_on"], plain["age_days"]) == (
        "measured", (ex.DAY - timedelta(days=12)).isoformat(), 12,
    )  # fmt: skip


@pytest.mark.parametrize(("days", "flown"), [(800, 0), (30, 51)])
def test_speed_and_give_lapse_after_two_years_or_fifty_hours_and_currents_do_not(
    days: int, flown: int
) -> None:
    soft = {
        "radius_mm": 30.0, "first_mass_g": 300.0, "first_one_deg": 14.0, "first_other_deg": -14.0,
        "idle_ma": 9.0,
    }  # fmt: skip
    flights = hours(10, flown)
    plain = at(having(flights, benches=(bench(days, idle_ma=9.0),)))
    read = at(having(flights, timings=(timing(days),), benches=(bench(days, **soft),)))
    assert read.transit_s == plain.transit_s
    assert read.deg_to_half_torque == plain.deg_to_half_torque
    assert read.idle_a is not None
    assert read.idle_a.expected == pytest.approx(0.009)
    fresh = at(having(hours(10, 3), timings=(timing(30),), benches=(bench(30, **soft),)))
    assert fresh.transit_s != plain.transit_s
    assert fresh.deg_to_half_torque != plain.deg_to_half_torque


def test_the_newest_valid_reading_of_a_throw_goes_before_the_record() -> None:
    plain = at(having(bench_checks=()))
    read = at(
        having(bench_checks=(check(20, throw_up_deg=12.0), check(5, throw_up_deg=9.0, throw_down_deg=9.0)))
    )
    assert read.load_nm is not None
    assert plain.load_nm is not None
    assert read.load_nm.expected < plain.load_nm.expected
    assert max(point.told_deg for point in read.control) == pytest.approx(9.0)
    hard = Flight(
        aircraft=ex.trainer().code, flown_on=ex.DAY - timedelta(days=2), minutes_min=5.0, hard_landing=True
    )
    assert (
        at(having((hard,), bench_checks=(check(5, throw_up_deg=9.0),))).load_nm
        == at(having((hard,), bench_checks=())).load_nm
    )


def test_play_that_was_read_later_than_the_record_governs_and_is_told_as_old_after_a_hard_landing() -> None:
    read = at(having(bench_checks=(check(5, play_deg=1.1),))).free_play_deg
    assert read is not None
    assert read.expected == pytest.approx(1.1)
    assert read.basis is Basis.MEASURED
    assert read.read_on == ex.DAY - timedelta(days=5)
    older = at(having(bench_checks=(check(400, play_deg=1.1),))).free_play_deg
    assert older is not None
    assert older.expected < 1.0
    hard = Flight(
        aircraft=ex.trainer().code, flown_on=ex.DAY - timedelta(days=2), minutes_min=5.0, hard_landing=True
    )
    landed = at(having((hard,), bench_checks=(check(5, play_deg=1.1),))).free_play_deg
    assert landed is not None
    assert landed.expected == pytest.approx(1.1)
    assert landed.basis is not Basis.MEASURED
    assert any("hard landing" in str(entry.value) for entry in landed.working.inputs)


def test_a_reading_of_a_servo_that_a_plan_takes_out_says_nothing_of_the_new_one() -> None:
    read = having(timings=(timing(12),), benches=(bench(9, idle_ma=9.0, stalled_ma=800.0),))
    fit = elevator_of(read)
    assert fit.servo is not None
    new = replace(fit, servo=replace(fit.servo, tag="new one"))
    planned = replace(read, fits=tuple(new if old.code == CODE else old for old in read.fits))
    assert at(planned).transit_s == at(having()).transit_s
    assert math.isclose(at(planned).idle_a.expected, at(having()).idle_a.expected)  # type: ignore[union-attr]


def test_no_day_means_no_age() -> None:
    figure = at(having()).torque_nm
    assert figure is not None
    assert figure.read_on is None
    assert "ago" not in str(sourced(figure, date(2031, 1, 1)))
