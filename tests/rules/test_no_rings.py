"""A judged aircraft leaves nothing behind that Python would have to look for."""

from __future__ import annotations

import gc
import subprocess
import sys
from pathlib import Path

from hangar.rules import inspect
from hangar.survey import survey
from hangar.survey.as_json import survey_json
from tests.survey.fleets import CONDITIONS, biplane

ROOT = Path(__file__).parents[2]
SCRIPT = "from tests.rules.test_no_rings import left_by_judging; print(left_by_judging())"


def left_by_judging() -> int:
    """How many objects only the collector frees after an aircraft was judged a second time."""
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
        return gc.collect()
    finally:
        gc.enable()


def test_a_survey_goes_with_its_last_reader() -> None:
    # In a process of its own: what other tests left in caches and threads is none of its.
    done = subprocess.run(
        [sys.executable, "-c", SCRIPT], cwd=ROOT, capture_output=True, text=True, check=True
    )
    assert done.stdout.strip() == "0"
