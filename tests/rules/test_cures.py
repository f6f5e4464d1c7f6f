"""Every action that a rule declares as its cure cures the rule's own example, or brings it nearer."""

from __future__ import annotations

import pytest

from hangar.rules import Rule, all_rules
from hangar.rules import examples as ex
from hangar.rules.changing import with_airframe, with_fit, with_path, with_receiver, with_surface
from hangar.rules.cures import Cure, cure_words
from hangar.rules.registry import Example
from tests.all_cases import all_cases
from tests.rules.cure_plans import effect

RULES = sorted(all_rules().values(), key=lambda rule: rule.slug)
OTHER_EXAMPLES: dict[str, Example] = {
    "slop-over-limit": lambda: with_fit(
        with_surface(ex.trainer(), "ELE", play_deg=None, play_on=None),
        "ELE",
        servo={"play_deg": 9.0},
        linkage={"ball_play_mm": 0.1},
        bench_checks=(),
    ),
    "flutter-risk": lambda: with_surface(
        with_airframe(ex.jet(), dive_speed_m_s=120.0), mass_g=100.0, mass_balanced=False
    ),
    "regulator-setting-vs-servos": lambda: with_receiver(
        with_path(ex.giant(), **ex.regulated(9.0, drop_out_v=None)), supply_max_v=12.0
    ),
}
"""Examples of rules whose own one is flagged by what stands on record beside the part."""


@all_cases("rule", RULES)
def test_every_rule_declares_what_cures_it(rule: Rule) -> None:
    assert rule.cures is not None, rule.slug


@pytest.mark.parametrize("slug", [rule.slug for rule in RULES if rule.cures and not rule.reminder])
def test_a_declared_cure_cures(slug: str) -> None:
    rule = all_rules()[slug]
    assert rule.cures
    effects = {cure: effect(rule, cure, OTHER_EXAMPLES.get(slug, rule.flags)) for cure in rule.cures}
    assert all(effects.values()), effects
    assert "cures" in effects.values(), effects


WORDS: dict[Cure, tuple[str, ...]] = {
    Cure.SERVO: ("servo", "type", "kind", "gear", "set", "dead band", "match"),
    Cure.ARM: ("arm", "linkage"),
    Cure.HORN: ("horn",),
    Cure.ROD: ("rod", "guide", "tube"),
    Cure.KEEPER: ("keeper",),
    Cure.LEAD: ("lead", "volts"),
    Cure.LOCK: ("lock", "clip", "tie", "shrink"),
    Cure.SLEEVE: ("sleeve", "grommet"),
    Cure.HEAT_SLEEVE: ("sleeve",),
    Cure.TIE: ("tie",),
    Cure.SHRINK: ("shrink", "size", "piece"),
    Cure.FIXINGS: ("fit them", "screw", "grommet"),
    Cure.SUPPLY: (
        *("pack", "regulator", "switch", "volts", "cells", "board", "setting", "side by side"),
        *("replace it", "dispose"),
    ),
    Cure.PULSE: ("pulse",),
    Cure.RATE: ("rate", "slower"),
    Cure.RECEIVER: ("receiver",),
    Cure.CABLE: ("cable",),
    Cure.LOOP: ("loop",),
    Cure.TWIST: ("twist",),
}
"""How "What to do" calls each action."""


@all_cases("rule", RULES)
def test_every_declared_cure_is_said(rule: Rule) -> None:
    words = str(cure_words(rule.cures))
    assert bool(words) is bool(rule.cures)
    assert all(str(cure) in words for cure in rule.cures or ())


@all_cases("rule", [rule for rule in RULES if rule.cures])
def test_what_to_do_names_every_cure_that_is_declared(rule: Rule) -> None:
    words = str(rule.remedy).lower()
    unnamed = [cure for cure in rule.cures or () if not any(noun in words for noun in WORDS[cure])]
    assert not unnamed, (rule.slug, words)
