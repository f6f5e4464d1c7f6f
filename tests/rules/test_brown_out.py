"""On a bus that fails nothing is chosen by the volts it leaves: no remedy, no comparison, no calm word."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from functools import cache

import pytest

from hangar.base.text import text
from hangar.parts import Aircraft, Plan, after_plan
from hangar.rules import Finding, Level, Thresholds, inspect
from hangar.rules.case import Case
from hangar.rules.forbidding import forbidding, parts_brought
from hangar.rules.weak_pack import first_the_volts
from hangar.survey import Conditions, Scenario, Survey, survey
from hangar.survey.brown_out import brown_out
from hangar.survey.old_and_new import BUS_PEAK, TORQUE, compare
from tests.all_cases import all_cases
from tests.sheets.cases import demo_case, demo_cases

VOLTS = re.compile(r"(\d+(?:\.\d+)?) V\b")


@cache
def after(code: str) -> tuple[Aircraft, Plan, Survey, tuple[Finding, ...]]:
    case = demo_case(code)
    (plan,) = case.aircraft.plans[:1]
    changed = after_plan(case.aircraft, plan, case.library)
    seen = survey(changed, Conditions(today=changed.read_on))
    return changed, plan, seen, inspect(changed, seen, Thresholds(), case.library)


def every(findings: tuple[Finding, ...]) -> Iterator[Finding]:
    for finding in findings:
        yield finding
        yield from every(finding.folded)


def test_the_plan_of_the_glider_pulls_its_bus_below_what_the_receiver_works_at() -> None:
    _, _, seen, findings = after("ALB5")
    found = brown_out(seen)
    assert found is not None
    assert found.bus_v is not None
    assert found.least_v == 3.5
    assert found.bus_v.expected < 3.0
    assert "limits its current" in str(found.why)
    assert findings[0].rule == "under-volts-receiver", "what takes every control away stands first"
    assert brown_out(demo_case("ALB5").survey) is None


def test_no_remedy_is_worked_out_at_volts_that_nothing_works_at() -> None:
    changed, _, seen, findings = after("ALB5")
    case = Case(changed, seen)
    bus_v = seen.scenarios[Scenario.PEAK].bus_v
    assert bus_v is not None
    asked = [finding for finding in every(findings) if finding.rule in ("torque-short-surface", "lead-drop")]
    assert len(asked) > 4
    for finding in asked:
        assert str(finding.remedy).startswith("First the supply: the bus falls to 2.3 V"), finding.remedy
        values = [float(volts) for volts in VOLTS.findall(str(finding.remedy))]
        assert values == [pytest.approx(bus_v.expected, abs=0.01)]
    assert all(first_the_volts(case, fit) for fit in case.servos if case.at(fit).delivered_v is not None)


@all_cases("case", demo_cases)
def test_no_remedy_of_the_demo_fleet_asks_for_a_servo_at_less_than_it_works_at(case: object) -> None:
    aircraft, seen = case.aircraft, case.survey  # type: ignore[attr-defined]
    judged = Case(aircraft, seen)
    for finding in every(inspect(aircraft, seen)):
        if not finding.rule.startswith("torque-short") or finding.level is Level.CANT_TELL:
            continue
        for place in finding.about:
            fit = aircraft.fit(place)
            least = judged.least_servo_v(fit) if fit is not None else None
            at = re.search(r"or more at (\d+(?:\.\d+)?) V", str(finding.remedy))
            if least is not None and at is not None:
                assert float(at.group(1)) >= least - 0.01, finding.remedy


def test_a_servo_starved_by_its_own_lead_is_given_its_volts_first() -> None:
    case = demo_case("ALB5")
    judged = Case(case.aircraft, case.survey)
    aileron = case.aircraft.fit("AIL-L")
    assert aileron is not None
    assert judged.brown_out is None
    assert str(first_the_volts(judged, aileron)).startswith("First the volts: it gets 4.2")
    rudder = case.aircraft.fit("RUD")
    assert rudder is not None
    assert str(first_the_volts(judged, rudder)) == ""


def test_what_forbids_the_plan_is_named_with_its_parts() -> None:
    _, plan, _, findings = after("ALB5")
    before = demo_case("ALB5").findings
    assert [finding.rule for finding in forbidding(before, findings)] == [
        "under-volts-receiver",
        "regulator-current",
    ]
    assert forbidding(findings, findings) == (), "what is so today is not the plan's doing"
    assert parts_brought(plan.lines) == (("MK-G40", "RUD"),)
    done = tuple(replace(line, done_on=demo_case("ALB5").aircraft.read_on) for line in plan.lines)
    assert parts_brought(done) == ()


def test_the_plan_s_own_finding_names_the_brown_out_first() -> None:
    (finding,) = (finding for finding in demo_case("ALB5").findings if finding.rule == "plan-makes-worse")
    assert str(finding.message).startswith('Plan "Albion rudder" would bring: receiver may brown out;')


def test_no_torque_is_compared_on_a_bus_that_fails() -> None:
    case = demo_case("ALB5")
    comparison = compare(case.aircraft, "RUD", case.library.servo_types["MK-G40"], case.survey.conditions)
    assert comparison.old_fails is None
    assert comparison.new_fails is not None
    by_name = {figure.name: figure for figure in comparison.figures}
    assert by_name[TORQUE].old is not None
    assert by_name[TORQUE].new is None
    falls = by_name[BUS_PEAK].new
    assert falls is not None
    assert falls.expected < 3.0
    assert by_name[text("mass")].new is not None
