"""What to measure next: that it names what the findings hang on, and nothing where they hang on nothing."""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from hangar.base.text import text
from hangar.parts import KIND_BY_NAME, Aircraft, Airframe, RemarkOnSpeed
from hangar.parts.choices import AircraftClass
from hangar.parts.fields import specs
from hangar.rules import Level, Thresholds, look
from hangar.rules import examples as ex
from hangar.rules.changing import with_pack
from hangar.rules.example_parts import DAY
from hangar.rules.measure_next import Measurement, measure_next, rank_unknowns
from hangar.rules.measuring import Blank, blanks, how_to_enter, how_to_measure
from hangar.rules.reading_worth import candidates
from hangar.survey import Conditions, survey
from tests.all_cases import all_cases

CONDITIONS = Conditions(today=DAY)


def _empty(kind: AircraftClass = AircraftClass.SPORT) -> Aircraft:
    return Aircraft(airframe=Airframe(code="BARE", name="bare", aircraft_class=kind))


def _without(aircraft: Aircraft, code: str, part: str, field: str) -> Aircraft:
    """The aircraft with one field of a position's record not known, wherever that record stands."""
    fit = aircraft.fit(code)
    assert fit is not None
    record = getattr(fit, part)
    spec = next(spec for spec in specs(type(record)) if spec.name == field)
    howto = how_to_measure()[f"{record.KIND}.{field}"]
    return Blank(record, spec, howto).filled(aircraft, None)


def _named(measurements: tuple[Measurement, ...], words: str) -> Measurement:
    return next(measurement for measurement in measurements if str(measurement.words) == words)


def test_every_field_of_the_table_is_a_field_that_may_be_unknown() -> None:
    for name, howto in how_to_measure().items():
        kind, _, field = name.partition(".")
        spec = next(spec for spec in specs(KIND_BY_NAME[kind]) if spec.name == field)
        assert spec.optional, name
        assert str(howto.how).endswith("."), name
        assert howto.minutes > 0, name
        for value in howto.values:
            spec.check(spec.type(value))


def test_ranges_run_upwards_and_multiples_name_a_field_that_there_is() -> None:
    for name, howto in how_to_measure().items():
        if howto.low is not None:
            assert howto.high is not None, name
            assert howto.low < howto.high, name
        source, _, field = howto.times.partition(" ")
        assert source in {"", "own", "supply", "typical"}, name
        if source == "own":
            kind = KIND_BY_NAME[name.partition(".")[0]]
            assert field in {spec.name for spec in specs(kind)}, name


@all_cases("make", [ex.trainer, ex.helicopter, ex.giant])
def test_a_clean_aircraft_whose_findings_hang_on_nothing_unknown_gives_nothing(
    make: Callable[[], Aircraft],
) -> None:
    aircraft = make()
    ranking = rank_unknowns(aircraft, CONDITIONS)
    assert ranking.measurements == ()
    assert ranking.trials > 0
    assert ranking.untried == 0


def test_the_arm_that_a_load_waits_for_stands_first() -> None:
    aircraft = _without(ex.trainer(), "RUD", "linkage", "arm_mm")
    [first, *_] = measure_next(aircraft, CONDITIONS)
    assert (first.kind, first.field, first.vital) == ("linkage", "arm_mm", True)
    assert "servo arm radius" in str(first.words)
    assert first.how
    assert first.key == ("EXT", "RUD")
    assert len(first.tried) == 2


def test_the_worth_of_a_measurement_is_what_entering_its_values_does() -> None:
    aircraft = _without(ex.trainer(), "ELE", "linkage", "arm_mm")
    measurement = _named(measure_next(aircraft, CONDITIONS), "linkage ELE: servo arm radius")
    before = {finding.rule for finding in look(aircraft, CONDITIONS)}
    blank = next(blank for blank in blanks(aircraft) if blank.words == measurement.words)
    after = [
        {finding.rule for finding in look(blank.filled(aircraft, value), CONDITIONS)}
        for value in measurement.tried
    ]
    lines = {change.rule for change in measurement.changes}
    assert lines
    assert any(lines & (before ^ sentences) for sentences in after)


def test_an_empty_aircraft_gives_the_vital_ones_first() -> None:
    measurements = measure_next(_empty(), CONDITIONS, most=50)
    assert measurements
    assert measurements[0].vital
    vital = [measurement.vital for measurement in measurements]
    assert vital == sorted(vital, reverse=True)
    assert any("positions" in str(measurement.words) for measurement in measurements)


@all_cases("kind", list(AircraftClass))
def test_no_class_leaves_an_empty_aircraft_without_advice(kind: AircraftClass) -> None:
    for measurement in measure_next(_empty(kind), CONDITIONS):
        assert measurement.how
        assert measurement.why
        assert measurement.value > 0.0


def test_the_list_falls_in_value_and_is_as_long_as_asked() -> None:
    aircraft = _without(
        _without(ex.trainer(), "RUD", "surface", "whole_chord_mm"), "ELE", "linkage", "horn_mm"
    )
    values = [measurement.value for measurement in measure_next(aircraft, CONDITIONS, most=50)]
    assert values == sorted(values, reverse=True)
    assert len(measure_next(aircraft, CONDITIONS, most=1)) == 1


def test_the_keepers_weights_change_the_values() -> None:
    aircraft = _without(ex.trainer(), "RUD", "linkage", "arm_mm")
    heavy = Thresholds({"measure-weight-vital": 100.0})
    shipped, own = measure_next(aircraft, CONDITIONS)[0], measure_next(aircraft, CONDITIONS, heavy)[0]
    assert own.value == pytest.approx(shipped.value + 91.0)


def test_trials_are_bounded_and_what_is_left_untried_is_counted() -> None:
    aircraft = _without(ex.trainer(), "RUD", "linkage", "arm_mm")
    ranking = rank_unknowns(aircraft, CONDITIONS, most_trials=4)
    assert ranking.trials <= 4
    assert ranking.untried > 0
    assert ranking.measurements[0].field == "arm_mm"


def test_a_type_is_filled_in_everywhere_it_stands() -> None:
    aircraft = ex.trainer()
    fit = aircraft.fits[0]
    assert fit.servo_type is not None
    bare = _without(aircraft, fit.code, "servo_type", "dead_band_us")
    named = next(blank for blank in blanks(bare) if blank.spec.name == "dead_band_us")
    filled = named.filled(bare, 5.0)
    same = [
        servo_fit
        for servo_fit in filled.fits
        if servo_fit.servo_type and servo_fit.servo_type.code == fit.servo_type.code
    ]
    assert len(same) > 1
    assert all(
        servo_fit.servo_type is not None and servo_fit.servo_type.dead_band_us == 5.0 for servo_fit in same
    )


def test_values_to_try_stay_within_what_the_field_allows() -> None:
    aircraft = replace(ex.trainer(), airframe=replace(ex.trainer().airframe, dive_speed_m_s=None))
    blank = next(blank for blank in blanks(aircraft) if blank.spec.name == "dive_speed_m_s")
    for value in blank.plausible(survey(aircraft, CONDITIONS)):
        blank.spec.check(value)


def test_whole_records_that_are_missing_have_advice_of_their_own() -> None:
    assert "stall torque" in str(how_to_enter(text("servo type X: ratings")).how)
    assert "label" in str(how_to_enter(text("power path RX-A: pack")).how)
    assert how_to_enter(text("something nobody thought of")).how


def test_a_change_of_a_waiting_check_is_not_called_good() -> None:
    for measurement in measure_next(_empty(), CONDITIONS):
        for change in measurement.changes:
            if change.before is Level.CANT_TELL:
                assert "nothing" not in str(change.words).rpartition("->")[2]


def test_a_pack_near_its_limit_is_to_be_read_again_and_one_far_from_it_is_not() -> None:
    near = with_pack(ex.trainer(), pack={"cell_mohm": 20.0}, load_tests=())
    (again,) = [
        measurement for measurement in measure_next(near, CONDITIONS) if "two loads" in str(measurement.words)
    ]
    share = int(re.findall(r"with (\d+) in 100", str(again.why))[0])
    assert 5 <= share <= 50
    assert again.minutes > 0
    assert "1 A" in str(again.how)
    for mohm in (12.0, 60.0):
        far = with_pack(ex.trainer(), pack={"cell_mohm": mohm}, load_tests=())
        assert not [
            measurement
            for measurement in measure_next(far, CONDITIONS)
            if "two loads" in str(measurement.words)
        ]


def _weak_elevator() -> Aircraft:
    made = ex.trainer()
    fit = made.fit("ELE")
    assert fit is not None
    assert fit.servo_type is not None
    kind = replace(fit.servo_type, code="weak", ratings=ex.weaker(fit.servo_type, 0.3))
    return replace(
        made,
        fits=tuple(replace(other, servo_type=kind) if other.code == "ELE" else other for other in made.fits),
    )


def test_a_surface_that_may_run_out_is_worth_a_flight_with_a_logger_and_no_more_once_it_was_noted() -> None:
    ranked = rank_unknowns(_weak_elevator(), CONDITIONS).measurements
    row = _named(ranked, "surface ELE: speed at which it runs out")
    assert "in 100" in str(row.why)
    assert row.minutes == 20
    assert "GPS logger" in str(row.cost)
    assert "is predicted" in str(row.how)
    noted = replace(
        _weak_elevator(),
        remarks=(RemarkOnSpeed(aircraft="EXT", surface="ELE", noted_on=DAY, speed_m_s=30.0, runs_out=False),),
    )
    names = {str(row.words) for row in rank_unknowns(noted, CONDITIONS).measurements}
    assert "surface ELE: speed at which it runs out" not in names


def test_a_reading_that_changes_a_verdict_more_likely_ranks_above_one_that_hardly_does() -> None:
    ranked = [
        row for row in rank_unknowns(_weak_elevator(), CONDITIONS).measurements if "in 100" in str(row.why)
    ]
    assert ranked
    assert [row.value for row in ranked] == sorted((row.value for row in ranked), reverse=True)
    for row in ranked:
        share = re.search(r"with (\d+) in 100", str(row.why))
        assert share is not None
        assert int(share[1]) >= 2
        assert row.minutes > 0
        assert str(row.cost)
        assert row.changes


def test_the_chance_of_a_reading_is_that_of_drawing_it() -> None:
    draw = np.random.default_rng(4)
    for candidate in candidates(survey(_weak_elevator(), CONDITIONS)):
        truth = draw.normal(0.0, math.sqrt(candidate.variance), 200_000)
        seen = truth + draw.normal(0.0, candidate.error, truth.size)
        after = seen * candidate.variance / (candidate.variance + candidate.error**2)
        drawn = float(np.mean(after > math.sqrt(candidate.variance)))
        assert candidate.chance(1.0) == pytest.approx(drawn, abs=0.01)
