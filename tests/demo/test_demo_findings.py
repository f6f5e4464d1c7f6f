"""The invented fleet shows the faults it was given, and its clean aircraft shows none."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest

from hangar.base.places import demo_fleet_dir
from hangar.rules import Finding, Level, all_rules, inspect
from hangar.store import Fleet
from hangar.store.tables_io import bring_in
from hangar.survey import Conditions, survey
from tests.all_cases import all_cases

TODAY = date(2026, 3, 14)
CLEAN = "DUNN"

MEANT: dict[str, set[str]] = {
    "MER60": {
        "servo-over-volts", "gyro-over-volts", "servo-five-cell-rating", "speed-mismatch-swash",
        "mixed-kinds-swash", "analog-left-in-refit", "pulse-narrow-on-wide", "arm-spline-mismatch",
        "discharge-rate-short", "under-volts-receiver", "dcir-risen", "pack-old", "load-test-stale",
        "load-test-too-light", "pack-too-small", "plan-short", "plan-makes-worse",
    },
    "MARQ": {
        "torque-short-surface", "lead-drop", "under-volts-servo", "pack-below-giant-table",
        "single-pack-giant", "switch-single-giant", "switch-current",
        "extension-unlocked", "former-unsleeved", "ganged-mismatch", "pack-old", "dcir-risen",
        "part-in-two-places", "plan-short",
    },
    "SISK": {
        "servo-over-volts", "case-too-big", "slop-over-limit", "flutter-risk", "linkage-bind",
        "arm-spline-mismatch", "range-check-stale", "antenna-carbon", "wing-loading-high",
    },
    "PERT": {
        "failsafe-not-set", "turbine-failsafe", "regulator-current", "regulator-heat",
        "twin-pack-one-fails", "channel-duplicate", "lead-near-heat", "storage-full", "turbine-fire-kit",
        "open-snag",
    },
    "NIM7": {
        "pack-cycles", "dcir-risen", "series-unlike", "transport-wh", "bolt-and-blade-life",
        "dual-use-drive-pack",
    },
    "CIND": {
        "torque-short-surface", "gear-vs-duty", "mixed-types-pair", "servo-over-volts", "fixings-missing",
        "failsafe-not-set", "servo-hours", "twin-pack-one-fails",
    },
    CLEAN: set(),
    "ALB5": {
        "torque-short-surface", "lead-drop", "parallel-unlike", "id-missing", "cg-moved",
        "extension-unlocked", "regulator-dropout", "part-in-two-places", "mass-over-limit",
        "slop-over-limit", "plan-makes-worse", "plan-short",
    },
}  # fmt: skip
"""The faults that were put into each aircraft on purpose."""

FOLLOWING: dict[str, set[str]] = {
    "MER60": {
        "under-volts-servo", "switch-current", "servo-hours",
        "five-cell-on-old-analog", "torque-read-at-wrong-volts",
    },
    "MARQ": {"torque-read-at-wrong-volts", "pack-below-one-hour", "leads-high"},
    "SISK": set(),
    "PERT": {"load-test-stale"},
    "NIM7": {"pack-old"},
    "CIND": set(),
    CLEAN: set(),
    "ALB5": {
        "receiver-bus-current", "under-volts-servo", "switch-single-giant",
    },
}  # fmt: skip
"""What follows from those faults: a weak pack starves servos, a slide switch is too small, and so on."""


def _findings(fleet: Fleet, code: str, today: date, *, field_day: bool = False) -> tuple[Finding, ...]:
    aircraft = fleet.aircraft(code, today)
    surveyed = survey(aircraft, Conditions(today=today, field_day=field_day))
    top = inspect(aircraft, surveyed, library=fleet.library())
    return tuple(other_finding for finding in top for other_finding in finding.with_folded())


@pytest.fixture(scope="module")
def fleet(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Fleet]:
    path: Path = tmp_path_factory.mktemp("demo") / "demo.hangar"
    with Fleet.create(path) as created:
        report = bring_in(created, [demo_fleet_dir()], today=TODAY)
        assert not report.refused, report.text()
        yield created


def test_every_fault_that_is_meant_has_a_rule() -> None:
    meant = set().union(*MEANT.values(), *FOLLOWING.values())
    assert meant <= set(all_rules())


@pytest.mark.parametrize("code", MEANT)
def test_an_aircraft_shows_the_faults_it_was_given_and_what_follows_from_them(
    fleet: Fleet, code: str
) -> None:
    lines = {finding.rule for finding in _findings(fleet, code, TODAY)}
    assert lines == MEANT[code] | FOLLOWING[code]


@pytest.mark.parametrize("field_day", [False, True])
def test_the_clean_aircraft_shows_nothing_at_home_or_on_the_field(fleet: Fleet, field_day: bool) -> None:
    assert _findings(fleet, CLEAN, TODAY, field_day=field_day) == ()


@pytest.mark.parametrize("code", MEANT)
def test_nothing_in_the_demo_fleet_is_left_unjudged(fleet: Fleet, code: str) -> None:
    unknown = [finding for finding in _findings(fleet, code, TODAY) if finding.level is Level.CANT_TELL]
    assert unknown == []


@all_cases("today", [date(2024, 2, 29), date(2031, 11, 2)])
def test_the_faults_stay_whatever_day_the_demo_is_opened(today: date) -> None:
    with Fleet.in_memory() as opened:
        bring_in(opened, [demo_fleet_dir()], today=today)
        for code, meant in MEANT.items():
            lines = {finding.rule for finding in _findings(opened, code, today)}
            assert lines == meant | FOLLOWING[code], code


def test_a_flying_day_makes_missing_tests_a_warning(fleet: Fleet) -> None:
    for field_day, level in ((False, Level.ADVISORY), (True, Level.WARNING)):
        levels = {
            finding.rule: finding.level for finding in _findings(fleet, "PERT", TODAY, field_day=field_day)
        }
        assert levels["load-test-stale"] is level
        assert levels["turbine-fire-kit"] is level


@pytest.mark.parametrize(
    ("code", "rule", "part", "level"),
    [
        ("MER60", "pulse-narrow-on-wide", "0303", Level.WARNING),
        ("MARQ", "torque-short-surface", "0201", Level.WARNING),
        ("MARQ", "torque-short-surface", "0205", Level.ADVISORY),
        ("MARQ", "former-unsleeved", "0203", Level.CAUTION),
        ("SISK", "linkage-bind", "0403", Level.WARNING),
        ("CIND", "torque-short-surface", "0705", Level.WARNING),
        ("CIND", "mixed-types-pair", "0704", Level.ADVISORY),
        ("ALB5", "torque-short-surface", "0906", Level.WARNING),
        ("ALB5", "torque-short-surface", "0203", Level.ADVISORY),
        ("ALB5", "slop-over-limit", "0901", Level.CAUTION),
    ],
)
def test_a_fault_is_found_at_its_part_with_its_level(
    fleet: Fleet, code: str, rule: str, part: str, level: Level
) -> None:
    findings = [
        finding for finding in _findings(fleet, code, TODAY) if finding.rule == rule and part in finding.about
    ]
    assert [finding.level for finding in findings] == [level]


def test_parts_that_are_sound_are_left_alone(fleet: Fleet) -> None:
    short = {
        code: {
            part
            for finding in _findings(fleet, code, TODAY)
            if finding.rule == rule
            for part in finding.about
        }
        for code, rule in (
            ("CIND", "torque-short-surface"),
            ("PERT", "lead-near-heat"),
            ("SISK", "case-too-big"),
        )
    }
    assert "0704" not in short["CIND"]
    assert "0504" not in short["PERT"]
    assert "0401" not in short["SISK"]


def test_the_servo_claimed_twice_is_found_from_either_aircraft(fleet: Fleet) -> None:
    for code in ("MARQ", "ALB5"):
        (finding,) = [
            other_finding
            for other_finding in _findings(fleet, code, TODAY)
            if other_finding.rule == "part-in-two-places"
        ]
        assert "0203" in finding.about
        assert "MARQ" in str(str(finding.message))
        assert "ALB5" in str(str(finding.message))


def test_half_done_refit_and_weak_pack_are_one_finding_each(fleet: Fleet) -> None:
    aircraft = fleet.aircraft("MER60", TODAY)
    top = inspect(aircraft, survey(aircraft, Conditions(today=TODAY)), library=fleet.library())
    folded = {finding.rule: {other_finding.rule for other_finding in finding.folded} for finding in top}
    assert folded["mixed-kinds-swash"] == {"speed-mismatch-swash", "analog-left-in-refit"}
    assert {"dcir-risen", "discharge-rate-short"} <= folded["under-volts-receiver"]
    gyro = next(finding for finding in top if finding.rule == "under-volts-receiver")
    assert "works down to 4.5 V" in str(gyro.message)
    assert str(gyro.remedy) == "Retire the pack from flying."


def test_plans_are_judged_by_what_they_would_bring(fleet: Fleet) -> None:
    worse = {
        code: [
            str(str(finding.message))
            for finding in _findings(fleet, code, TODAY)
            if finding.rule == "plan-makes-worse"
        ]
        for code in ("MER60", "MARQ", "ALB5")
    }
    assert ["not enough headroom for the regulator" in message for message in worse["MER60"]] == [True]
    assert ["servo below its working minimum" in message for message in worse["ALB5"]] == [True]
    assert worse["MARQ"] == []


def test_an_accepted_finding_stays_in_sight(fleet: Fleet) -> None:
    (finding,) = [
        other_finding
        for other_finding in _findings(fleet, "NIM7", TODAY)
        if other_finding.rule == "dual-use-drive-pack"
    ]
    assert finding.accepted_until == date(2026, 4, 4)
    assert finding.accepted_because
