"""The measure of risk: the keeper's own points and factors, and what is refused."""

from __future__ import annotations

from dataclasses import replace

import pytest

from hangar.base.errors import BadInput
from hangar.parts import Setting
from hangar.parts.choices import Criticality
from hangar.refit import Limits
from hangar.refit.prove import assessed
from hangar.refit.risk import RiskMeasure, flat, risk_names, risk_setting, shipped_risk
from hangar.rules import examples as ex
from hangar.rules.changing import with_airframe
from hangar.rules.finding import Level
from tests.all_cases import all_cases
from tests.refit.generator import DAY


def test_every_level_and_everything_that_hangs_on_a_finding_can_be_set() -> None:
    assert set(risk_names()) == {*(each.value for each in Level), *(each.value for each in Criticality)}
    for name in risk_names():
        setting = risk_setting(name, "0,5")
        assert setting == Setting(name=f"risk.{name}", value="0.5")
        own = RiskMeasure.from_settings([setting])
        both = {each.value: value for each, value in own.by_level.items()}
        both |= {each.value: value for each, value in own.by_criticality.items()}
        assert both == {each: shipped_risk(each) for each in risk_names()} | {name: 0.5}


def test_risk_is_points_times_factor_over_every_open_finding() -> None:
    findings = assessed(with_airframe(ex.trainer(), metal_propeller=True), Limits(conditions=DAY)).findings
    assert findings
    own = RiskMeasure.from_settings([risk_setting(level.value, "1") for level in Level])
    same = replace(own, by_criticality=dict.fromkeys(Criticality, 1.0))
    assert same.of(findings) == sum(each.is_open for each in flat(findings))
    double = replace(own, by_criticality=dict.fromkeys(Criticality, 2.0))
    assert double.of(findings) == 2 * same.of(findings)


def test_the_measure_is_one_sentence_that_names_every_number() -> None:
    own = RiskMeasure.from_settings([risk_setting("caution", "12.5"), risk_setting("safety", "4")])
    assert "caution 12.5" in str(own.words)
    assert "safety x 4" in str(own.words)
    assert "set among the limits" in str(own.words)
    assert "common practice, no source" in str(RiskMeasure().words)
    assert str(own.words).count(". ") == 0


@all_cases(
    "name, value, said",
    [
        ("risk.warning", "much", 'is "much"; a number from 0 to 100000 is allowed'),
        ("risk.warning", "-1", "from 0 to 100000"),
        ("risk.caution", "nan", "from 0 to 100000"),
        ("risk.flight", "1001", "from 0 to 1000 "),
        ("risk.landing", "1", "names nothing that risk is counted by"),
    ],
)
def test_an_impossible_measure_is_refused_in_one_sentence(name: str, value: str, said: str) -> None:
    with pytest.raises(BadInput) as told:
        RiskMeasure.from_settings([Setting(name="unit.torque", value="N m"), Setting(name=name, value=value)])
    assert said in str(told.value)
    assert str(told.value).endswith(".")
