"""Consequence first: what the aircraft will do heads each finding, and the gravest heads a fold."""

from __future__ import annotations

import dataclasses

from hangar.base.reader import Reader
from hangar.base.text import text
from hangar.parts.choices import Criticality
from hangar.rules import Finding, Level, Rule, all_rules, finding_as_json, inspect
from hangar.rules import examples as ex
from hangar.rules.changing import with_pack
from hangar.rules.folding import fold
from hangar.rules.registry import Scene
from hangar.survey import survey
from tests.all_cases import all_cases

RULES = sorted(all_rules().values(), key=lambda rule: rule.slug)


@all_cases("rule", RULES)
def test_each_rule_says_what_happens_in_both_languages(rule: Rule) -> None:
    english = str(rule.consequence)
    assert 10 < len(english) < 110
    assert Reader("de").put(rule.consequence) not in ("", english)


@all_cases("rule", [rule for rule in RULES if not rule.reminder])
def test_each_finding_carries_it_and_is_headed_by_it(rule: Rule) -> None:
    made = rule.flags()
    scene = made if isinstance(made, Scene) else Scene(made)
    looked = survey(scene.aircraft, scene.conditions or ex.home_day())
    top = inspect(scene.aircraft, looked, library=scene.library)
    told = [each for finding in top for each in finding.with_folded() if each.rule == rule.slug]
    judged = [each for each in told if each.level is not Level.CANT_TELL]
    assert judged
    for finding in judged:
        assert str(finding.consequence).endswith(".")
        assert str(finding.said) == f"{finding.consequence} {finding.message}"
        assert finding_as_json(finding)["consequence"] == str(finding.consequence)


def test_what_cannot_be_told_has_none_and_is_headed_by_its_message() -> None:
    aircraft = with_pack(ex.trainer(), pack={"cell_mohm": None}, pack_type={"cell_mohm": None})
    unknown = [each for each in inspect(aircraft, survey(aircraft, ex.home_day()))
               if each.level is Level.CANT_TELL]  # fmt: skip
    assert unknown
    assert all(str(each.said) == str(each.message) for each in unknown)


def _finding(rule: str, level: Level, criticality: Criticality, *causes: str) -> Finding:
    return Finding(
        rule=rule, level=level, aircraft="X", about=("B1",), message=text("message of {rule}", rule=rule),
        consequence=text("consequence of {rule}", rule=rule), criticality=criticality, caused_by=causes,
    )  # fmt: skip


def test_a_fold_is_headed_by_the_gravest_consequence() -> None:
    cause = _finding("servo-over-volts", Level.WARNING, Criticality.FLIGHT)
    worse = _finding("receiver-over-volts", Level.WARNING, Criticality.FLIGHT)
    (one,) = fold([cause, worse])
    assert one.rule == "servo-over-volts"
    assert str(one.said) == "consequence of receiver-over-volts message of servo-over-volts"
    (same,) = fold([cause, dataclasses.replace(worse, level=Level.CAUTION)])
    assert str(same.consequence) == "consequence of servo-over-volts"


def test_a_graver_consequence_leads_with_its_own_words() -> None:
    cause = _finding("dcir-risen", Level.CAUTION, Criticality.SAFETY)
    worse = _finding("under-volts-receiver", Level.CAUTION, Criticality.FLIGHT, "dcir-risen")
    (one,) = fold([cause, worse])
    assert (one.rule, str(one.consequence)) == (
        "under-volts-receiver", "consequence of under-volts-receiver"
    )  # fmt: skip
