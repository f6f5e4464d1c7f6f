"""The plain form of a survey: everything in it, nothing that JSON cannot hold."""

from __future__ import annotations

import json
import math
from dataclasses import replace

import pytest

from hangar.base.figure import Figure
from hangar.base.text import text
from hangar.survey import Scenario, survey
from hangar.survey.as_json import figure_json, survey_json
from tests.all_cases import all_cases
from tests.survey.fleets import CONDITIONS, biplane, helicopter, trainer


@all_cases("make", [trainer, helicopter, biplane])
def test_every_figure_of_a_survey_is_in_its_plain_form(make) -> None:  # type: ignore[no-untyped-def]
    surveyed = survey(make(), CONDITIONS)
    plain = json.loads(json.dumps(survey_json(surveyed), allow_nan=False))
    assert plain["aircraft"] == surveyed.aircraft.code
    assert _count(plain) == sum(1 for _ in surveyed.figures())


def _count(plain: object) -> int:
    if isinstance(plain, dict):
        if "working" in plain:
            return 1
        return sum(_count(value) for value in plain.values())
    return 0


def test_a_figure_keeps_its_band_basis_and_working() -> None:
    surveyed = survey(trainer(), CONDITIONS)
    load = surveyed.positions["AIL"].load_nm
    assert load is not None
    plain = survey_json(surveyed)["positions"]["AIL"]["load_nm"]
    assert (plain["low"], plain["value"], plain["design"]) == (load.low, load.expected, load.design)
    assert plain["unit"] == "N m"
    assert plain["basis"] == "typical for the class", "it rests on the usual efficiency of a linkage"
    assert plain["working"]["source"]
    assert {"name": "whole chord", "value": 250, "unit": "mm", "basis": "measured"} in plain["working"][
        "inputs"
    ]


def test_an_endless_number_is_null() -> None:
    assert figure_json(Figure(text("endless"), math.inf, "min"))["value"] is None


def test_missing_words_and_collapse_travel_along() -> None:
    aircraft = trainer()
    bare = replace(aircraft, fits=(replace(aircraft.fits[0], linkage=None), *aircraft.fits[1:]))
    plain = survey_json(survey(bare, CONDITIONS))
    assert plain["positions"]["AIL"]["missing"] == ["linkage AIL: not recorded"]
    peak = plain["scenarios"][str(Scenario.PEAK)]
    assert peak["collapse"] is None
    assert peak["node_v"]["bus"] == pytest.approx(peak["bus_v"]["value"])
