"""Every rule in the register is documented, named well, flags its fault and passes a sound aircraft."""

from __future__ import annotations

import re
from pathlib import Path

from hangar.base.figure import Basis
from hangar.base.places import resources_dir
from hangar.rules import Finding, Level, Rule, all_rules, inspect, reminders
from hangar.rules.examples import home_day
from hangar.rules.reference import rule_reference
from hangar.rules.registry import SECTIONS, Example, Scene
from hangar.survey import survey
from tests.all_cases import all_cases

RULES = sorted(all_rules().values(), key=lambda rule: rule.slug)
SNAPSHOT = Path(__file__).parent / "snapshots" / "wording.txt"


def _raised(rule: Rule, example: Example) -> list[Finding]:
    made = example()
    scene = made if isinstance(made, Scene) else Scene(made)
    findings = _look(rule, scene)
    return [
        other_finding
        for finding in findings
        for other_finding in finding.with_folded()
        if other_finding.rule == rule.slug and other_finding.level is not Level.CANT_TELL
    ]


def _look(rule: Rule, scene: Scene) -> tuple[Finding, ...]:
    looked = survey(scene.aircraft, scene.conditions or home_day())
    if rule.reminder:
        return reminders(scene.aircraft, looked)
    return inspect(scene.aircraft, looked, library=scene.library)


@all_cases("rule", RULES)
def test_a_rule_flags_its_fault_at_a_level_it_announces(rule: Rule) -> None:
    findings = _raised(rule, rule.flags)
    assert findings
    below_at_home = {Level.CAUTION, Level.ADVISORY} if rule.field_only else set()
    assert {finding.level for finding in findings} <= set(rule.levels) | below_at_home
    for finding in findings:
        assert str(finding.message).endswith(".")
        assert "\n" not in str(finding.message)
        assert len(str(finding.message)) < 200
        assert str(finding.remedy)
        assert finding.source


@all_cases("rule", RULES)
def test_a_rule_passes_a_sound_aircraft(rule: Rule) -> None:
    assert _raised(rule, rule.passes) == []


@all_cases("rule", RULES)
def test_a_rule_is_documented_in_the_fixed_form(rule: Rule) -> None:
    assert tuple(rule.doc) == SECTIONS
    assert all(text.strip() for text in rule.doc.values())
    assert re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", rule.slug)
    assert rule.title.key[0].isupper()
    assert not rule.title.key.endswith(".")
    assert list(rule.levels) == sorted(rule.levels, key=lambda level: level.rank)
    assert Level.CANT_TELL not in rule.levels


SET_OR_RATED = {Basis.LIMIT, Basis.RATED}
"""A limit comes from the limits or from the maker."""


@all_cases("rule", RULES)
def test_a_limit_is_told_as_one_and_no_reading_as_a_rating(rule: Rule) -> None:
    for finding in _raised(rule, rule.flags):
        for figure in finding.figures:
            if str(figure.name).endswith(("limit", "allowed", "wanted")) and rule.slug != "cg-moved":
                assert figure.basis in SET_OR_RATED, (figure.name, figure.basis)
            if figure.basis is Basis.LIMIT:
                assert not figure.working.inputs


def test_the_torque_margin_wanted_comes_from_the_workshop_rules() -> None:
    rule = all_rules()["torque-short-surface"]
    figures = {
        str(figure.name): figure for finding in _raised(rule, rule.flags) for figure in finding.figures
    }
    assert figures["control left wanted"].basis is Basis.LIMIT
    assert figures["stall torque"].basis is not Basis.LIMIT


def test_the_wording_of_every_rule_is_the_one_kept() -> None:
    lines = [
        f"{rule.slug}: {finding.level.value}: {finding.message!s}"
        for rule in RULES
        for finding in _raised(rule, rule.flags)
    ]
    assert "\n".join(lines) + "\n" == SNAPSHOT.read_text("utf-8")


def test_the_rule_reference_is_current() -> None:
    assert (resources_dir() / "rule_reference.md").read_text("utf-8") == rule_reference()


def test_no_rule_speaks_of_safe_flying() -> None:
    texts = [rule_reference(), SNAPSHOT.read_text("utf-8")]
    assert not re.search(r"safe to fly|flutter.free|airworthy", "\n".join(texts), re.IGNORECASE)
