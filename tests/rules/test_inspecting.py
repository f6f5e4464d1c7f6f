"""What inspect makes of the rules' flags: levels, order, folding, acceptance, unknowns."""

from __future__ import annotations

import dataclasses
import json
from datetime import timedelta
from itertools import product

import pytest

from hangar.base.figure import Figure
from hangar.base.reader import Reader
from hangar.base.text import text
from hangar.base.units import IMPERIAL
from hangar.parts import Acceptance, Aircraft, Airframe, Setting
from hangar.parts.choices import AircraftClass, AircraftState, MaxMeans
from hangar.rules import (
    Finding,
    Level,
    Thresholds,
    acceptance_of,
    findings_as_json,
    line,
    look,
    open_warnings,
    summary,
)
from hangar.rules import examples as ex
from hangar.rules.catalogue.torque import judged
from hangar.rules.changing import with_airframe, with_fit, with_gyro, with_pack, with_records
from hangar.survey import Conditions
from tests.all_cases import all_cases

HOME = ex.home_day()
FIELD = Conditions(today=ex.DAY, field_day=True)
CLEAN = {"trainer": ex.trainer, "helicopter": ex.helicopter, "giant": ex.giant}


def _one(findings: tuple[Finding, ...], slug: str) -> Finding:
    found = [
        other_finding
        for finding in findings
        for other_finding in finding.with_folded()
        if other_finding.rule == slug
    ]
    assert len(found) == 1, [line(finding) for finding in findings]
    return found[0]


def _weak_elevator() -> Aircraft:
    return ex.elevator(servo_type={"supply_max_v": 5.0, "max_means": MaxMeans.ABSOLUTE})


@all_cases("name, day", product(CLEAN, [HOME, FIELD]))
def test_a_sound_aircraft_raises_no_finding(name: str, day: Conditions) -> None:
    assert [line(finding) for finding in look(CLEAN[name](), day)] == []


def test_an_empty_aircraft_cannot_be_told_and_never_looks_clean() -> None:
    empty = Aircraft(
        airframe=Airframe(code="NEW", name="Just entered", aircraft_class=AircraftClass.SPORT), read_on=ex.DAY
    )
    findings = look(empty, HOME)
    assert {finding.level for finding in findings} >= {Level.CAUTION, Level.CANT_TELL}
    assert all(finding.missing for finding in findings if finding.level is Level.CANT_TELL)
    blank = _one(tuple(f for f in findings if f.level is Level.CAUTION), "data-missing-vital")
    assert any("power path" in str(field) for field in blank.missing)


def test_five_fresh_nickel_cells_on_servos_for_six_volts_are_worked_as_by_hand() -> None:
    # By hand: 5 x 1.45 V = 7.25 V; 7.25 - 6.00 = 1.25 V; 7.25 / 6 = 1.208; rested 5 x 1.38 V = 6.90 V.
    five = with_pack(
        with_fit(ex.trainer(), servo_type={"supply_max_v": 6.0, "max_means": MaxMeans.ABSOLUTE}),
        pack_type={"series": 5},
    )
    finding = _one(look(five, HOME), "servo-over-volts")
    assert finding.level is Level.WARNING
    assert str(finding.message) == "Pack EX01 fresh off charge gives 7.25 V; five servos may have 6 V."
    for number in ("7.25 V", "excess 1.25 V (21 %)", "rested full 6.9 V, still above"):
        assert number in str(finding.detail)
    assert finding.margin == pytest.approx(6.0 / 7.25)


@all_cases(
    "torque_nm, level",
    [
        (0.74, Level.WARNING),
        (0.76, Level.CAUTION),
        (0.99, Level.CAUTION),
        (1.01, Level.ADVISORY),
        (1.79, Level.ADVISORY),
        (1.81, None),
    ],
)
def test_the_level_of_a_short_torque_follows_how_sure_the_load_is(
    torque_nm: float, level: Level | None
) -> None:
    load = Figure(text("load"), 1.0, "N m", 0.7, 1.8)
    verdict = judged(torque_nm, load, warn=0.75, caution=1.0)
    assert (verdict[0] if verdict else None) == level


def test_a_blank_field_is_named_by_every_check_that_waits_for_it() -> None:
    findings = look(ex.elevator(servo_type={"supply_max_v": None}), HOME)
    asked = [finding for finding in findings if finding.level is Level.CANT_TELL]
    assert len(asked) == 1
    assert tuple(map(str, asked[0].missing)) == ("servo type EX-standard: highest volts",)
    assert "servo-over-volts" in {finding.rule for finding in asked[0].with_folded()}


def test_checks_that_wait_for_the_same_field_stand_in_one_line() -> None:
    bare = with_fit(ex.trainer(), "ELE", linkage=None)
    asked = [finding for finding in look(bare, HOME) if finding.level is Level.CANT_TELL]
    assert len(asked) == len({finding.missing for finding in asked})


def test_findings_stand_by_level_then_by_what_hangs_on_them_then_by_margin() -> None:
    aircraft = with_fit(ex.trainer(), "THR", servo={"bought_used": True, "tested_on": None})
    aircraft = with_fit(aircraft, "ELE", installation={"arm_teeth": 23})
    aircraft = with_pack(aircraft, pack={"cell_mohm": 20.0, "cycles": 520})
    levels = [finding.level.rank for finding in look(aircraft, HOME)]
    assert levels == sorted(levels)
    assert len(set(levels)) > 1


def test_one_supply_too_high_for_several_parts_is_one_finding() -> None:
    aircraft = with_gyro(
        with_fit(ex.helicopter(), "CYC-1", "CYC-2", servo_type={"supply_max_v": 6.0}), supply_max_v=6.0
    )
    findings = look(aircraft, HOME)
    head = next(finding for finding in findings if finding.rule == "servo-over-volts")
    assert "gyro-over-volts" in {below.rule for below in head.folded}
    assert "gyro-over-volts" not in {finding.rule for finding in findings}


def test_a_tired_pack_takes_what_it_causes_under_itself() -> None:
    aircraft = with_pack(ex.trainer(), pack={"cell_mohm": 300.0}, load_tests=())
    findings = look(aircraft, HOME)
    head = next(
        finding
        for finding in findings
        if "dcir-risen" in {other_finding.rule for other_finding in finding.with_folded()}
    )
    assert "under-volts-receiver" in {finding.rule for finding in head.with_folded()}


def test_a_consequence_never_hides_under_a_milder_cause() -> None:
    worn = with_pack(ex.trainer(), pack={"cell_mohm": 300.0, "capacity_mah": 900.0})
    for finding in look(worn, HOME):
        assert all(below.level.rank >= finding.level.rank for below in finding.folded)


def test_a_load_test_that_is_missing_is_a_warning_at_the_field_and_told_at_home() -> None:
    aircraft = with_pack(ex.trainer(), load_tests=())
    assert _one(look(aircraft, FIELD), "load-test-stale").level is Level.WARNING
    assert _one(look(aircraft, HOME), "load-test-stale").level is Level.ADVISORY


def test_an_aircraft_laid_up_is_asked_about_storage_only() -> None:
    stored = with_pack(ex.elevator(installation={"arm_teeth": 23}), pack={"swollen": True})
    stored = with_airframe(stored, state=AircraftState.LAID_UP)
    assert [finding.rule for finding in look(stored, HOME)] == ["pack-swollen-or-crashed"]


def test_an_aircraft_passed_on_is_not_asked_at_all() -> None:
    assert look(with_airframe(_weak_elevator(), state=AircraftState.WRITTEN_OFF), HOME) == ()


def _accepted(aircraft: Aircraft, acceptance: Acceptance) -> Aircraft:
    return with_records(aircraft, acceptances=(acceptance,))


def test_an_accepted_finding_stays_visible_with_its_day_and_reason() -> None:
    finding = _one(look(_weak_elevator(), HOME), "servo-over-volts")
    record = acceptance_of(finding, ex.DAY + timedelta(days=30), "maker confirms 6.0 V by letter")
    again = _one(look(_accepted(_weak_elevator(), record), HOME), "servo-over-volts")
    assert not again.is_open
    assert (again.accepted_until, again.accepted_because) == (record.until_on, record.reason)
    assert open_warnings([again]) == ()


def test_an_acceptance_ends_on_its_day() -> None:
    finding = _one(look(_weak_elevator(), HOME), "servo-over-volts")
    record = acceptance_of(finding, ex.DAY - timedelta(days=1), "for the week")
    again = _one(look(_accepted(_weak_elevator(), record), HOME), "servo-over-volts")
    assert again.is_open
    assert again.returned


def test_an_accepted_finding_returns_when_its_inputs_change() -> None:
    finding = _one(look(_weak_elevator(), HOME), "servo-over-volts")
    record = acceptance_of(finding, ex.DAY + timedelta(days=30), "known")
    changed = with_fit(_weak_elevator(), "ELE", servo_type={"supply_max_v": 4.9})
    again = _one(look(_accepted(changed, record), HOME), "servo-over-volts")
    assert again.is_open
    assert again.returned


def test_an_acceptance_for_one_position_does_not_cover_another() -> None:
    both = with_fit(_weak_elevator(), "RUD", servo_type={"supply_max_v": 5.0, "max_means": MaxMeans.ABSOLUTE})
    record = Acceptance(
        aircraft="EXT", rule="servo-over-volts", about="ELE, EX01", until_on=ex.DAY, reason="known"
    )
    assert _one(look(_accepted(both, record), HOME), "servo-over-volts").is_open
    assert not _one(look(_accepted(_weak_elevator(), record), HOME), "servo-over-volts").is_open


def test_an_acceptance_of_something_that_ages_holds_from_day_to_day() -> None:
    old = with_pack(ex.trainer(), pack={"bought_on": ex.ago(1900)})
    finding = _one(look(old, HOME), "pack-old")
    record = acceptance_of(finding, ex.DAY + timedelta(days=60), "replaced this winter")
    later = Conditions(today=ex.DAY + timedelta(days=40))
    assert not _one(look(_accepted(old, record), later), "pack-old").is_open


def test_the_keepers_own_limit_counts_instead_of_the_shipped_one() -> None:
    aircraft = ex.elevator(linkage={"arm_angle_deg": 80.0})
    own = Thresholds.from_settings([Setting(name="threshold.arm-square.sport", value="12")])
    assert _one(look(aircraft, HOME), "arm-not-square").level is Level.ADVISORY
    assert look(aircraft, HOME, own) == ()


def test_json_holds_every_finding_with_its_cause_and_figures() -> None:
    aircraft = with_gyro(with_fit(ex.helicopter(), servo_type={"supply_max_v": 6.0}), supply_max_v=6.0)
    objects = findings_as_json(look(aircraft, HOME))
    assert json.loads(json.dumps(objects)) == objects
    head = next(entry for entry in objects if entry["rule"] == "servo-over-volts")
    below = next(entry for entry in objects if entry["rule"] == "gyro-over-volts")
    assert below["folded_under"] == "servo-over-volts"
    assert "gyro-over-volts" in head["folded"]
    figure = head["figures"]["volts fresh off charge"]
    assert figure["value"] == pytest.approx(8.4)
    assert (figure["unit"], head["level"], head["accepted_until"]) == ("V", "warning", None)


def test_the_summary_never_says_more_than_the_data_entered_allow() -> None:
    assert str(summary(look(ex.trainer(), HOME))) == "no open warnings on the data entered"
    warned = look(_weak_elevator(), HOME)
    assert str(summary(warned)).startswith("one open warning")


def test_messages_speak_in_the_keepers_units() -> None:
    aircraft = with_airframe(ex.trainer(), dive_speed_m_s=75.0)
    finding = next(f for f in look(aircraft, HOME) if f.rule == "torque-short-surface")
    reader = Reader("en", IMPERIAL)
    assert "mph" in reader.put(finding.message)
    assert "ozf·in" in reader.put(finding.remedy)


def test_a_finding_rests_on_the_parts_it_names_and_not_on_their_order() -> None:
    aircraft = _weak_elevator()
    turned = dataclasses.replace(aircraft, fits=aircraft.fits[::-1])
    assert _one(look(turned, HOME), "servo-over-volts").message == (
        _one(look(aircraft, HOME), "servo-over-volts").message
    )


def test_the_blank_fields_of_one_record_stand_behind_its_name_once() -> None:
    bare = with_airframe(ex.trainer(), all_up_mass_g=None, span_mm=None, cg_fore_mm=None, cg_aft_mm=None)
    findings = look(bare, HOME)
    blank = next(finding for finding in findings if finding.rule == "data-missing-vital")
    assert str(blank.message).count(f"aircraft {bare.code}") == 1
    assert "span, all-up mass, " in str(blank.message)
    assert len(blank.missing) == 4
