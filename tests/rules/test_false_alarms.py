"""False alarms are defects: clean aircraft raise nothing, and one fault raises its own rule and no other."""

from __future__ import annotations

from itertools import product

from hangar.rules import Finding, Level, Rule, all_rules, inspect, line, look, reminders, summary
from hangar.rules import examples as ex
from hangar.rules.registry import Example, Scene
from hangar.survey import Conditions, survey
from tests.all_cases import all_cases
from tests.rules.clean.fleet import CLEAN

RULES = sorted(all_rules().values(), key=lambda rule: rule.slug)
DAYS = {"home": ex.home_day(), "field day": Conditions(today=ex.DAY, field_day=True)}

COMPANIONS: dict[str, dict[str, str]] = {
    "analog-left-in-refit": {"mixed-types-pair": "half a refit leaves two types on the pair; folded"},
    "arm-too-long": {"torque-short-surface": "travel that is given away holds less"},
    "bus-volts-unknown": {"data-missing-vital": "a power path without a pack is a vital blank"},
    "lead-long-no-care": {"old-band-receiver": "the rule asks for receivers of the old bands only"},
    "load-test-drop-abnormal": {"dcir-risen": "while a reading waits, warnings go by its worse side"},
    "pack-below-giant-table": {
        "pack-too-small": "one small pack is measured by three yardsticks; folded",
        "pack-below-one-hour": "one small pack is measured by three yardsticks; folded",
    },
    "pack-below-one-hour": {
        "pack-too-small": "one small pack is measured by three yardsticks; folded",
        "pack-below-giant-table": "one small pack is measured by three yardsticks; folded",
    },
    "regulator-current": {"twin-pack-one-fails": "the regulator that is left alone limits; folded"},
    "regulator-setting-vs-servos": {
        "servo-over-volts": "the same setting against each part; folded",
        "receiver-over-volts": "the same setting against each part; folded",
    },
    "single-pack-giant": {"switch-single-giant": "one power path has one pack and one switch; folded"},
    "unattended-charge": {"prop-rotor-restraint": "reminders are printed together"},
}
"""Rules that follow from a fault by nature, with the reason."""


def _raised(rule: Rule, example: Example) -> list[Finding]:
    made = example()
    scene = made if isinstance(made, Scene) else Scene(made)
    looked = survey(scene.aircraft, scene.conditions or ex.home_day())
    top = reminders(scene.aircraft, looked) if rule.reminder else inspect(
        scene.aircraft, looked, library=scene.library
    )  # fmt: skip
    return [
        other_finding
        for finding in top
        for other_finding in finding.with_folded()
        if other_finding.level is not Level.CANT_TELL
    ]


@all_cases("name, day", product(CLEAN, DAYS))
def test_a_clean_aircraft_raises_nothing_at_home_or_on_the_field(name: str, day: str) -> None:
    findings = look(CLEAN[name](), DAYS[day])
    assert [line(finding) for finding in findings] == []
    assert str(summary(findings)) == "no open warnings on the data entered"


def test_the_clean_aircraft_are_of_many_classes() -> None:
    assert len({make().airframe.aircraft_class for make in CLEAN.values()}) >= 7


@all_cases("rule", RULES)
def test_one_fault_in_a_clean_aircraft_raises_its_rule_and_no_unrelated_one(rule: Rule) -> None:
    lines = {finding.rule for finding in _raised(rule, rule.flags)}
    assert rule.slug in lines
    assert lines - {rule.slug} <= set(COMPANIONS.get(rule.slug, {}))


@all_cases("slug", [slug for slug, more in COMPANIONS.items() if "folded" in str(more)])
def test_companions_that_follow_from_one_cause_are_one_finding(slug: str) -> None:
    rule = all_rules()[slug]
    made = rule.flags()
    scene = made if isinstance(made, Scene) else Scene(made)
    looked = survey(scene.aircraft, ex.home_day())
    folded = {name for name, why in COMPANIONS[slug].items() if "folded" in why}
    top = [finding.rule for finding in inspect(scene.aircraft, looked, library=scene.library)]
    assert len({words for words in top if words in {slug, *folded}}) == 1


@all_cases("rule", RULES)
def test_the_sound_neighbour_of_a_fault_raises_nothing_at_all(rule: Rule) -> None:
    assert {finding.rule for finding in _raised(rule, rule.passes)} == set()
