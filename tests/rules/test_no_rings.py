"""A judged aircraft leaves nothing behind that Python would have to look for."""

from __future__ import annotations

import gc

from hangar.rules import inspect
from hangar.survey import survey
from hangar.survey.as_json import survey_json
from tests.survey.fleets import CONDITIONS, biplane


def test_a_survey_goes_with_its_last_reader() -> None:
    aircraft = biplane()

    def judge() -> None:
        surveyed = survey(aircraft, CONDITIONS)
        assert inspect(aircraft, surveyed)
        assert survey_json(surveyed)["scenarios"]

    judge()
    gc.collect()
    gc.disable()
    try:
        judge()
        assert gc.collect() == 0
    finally:
        gc.enable()
