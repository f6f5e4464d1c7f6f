"""Why a type is not taken: refused with its reason, or judged in the place of what is taken."""

from __future__ import annotations

import json

from hangar.parts.choices import PlanAction
from hangar.refit.answer import Because
from hangar.refit.answer_as_json import answer_as_json
from hangar.refit.ladder import Questions
from hangar.refit.request import RefitRequest
from hangar.refit.why_not import why_not
from hangar.rules import Level
from hangar.survey.model import Conditions
from tests.demo_copies import TODAY, demo_copy

ASKING = RefitRequest(conditions=Conditions(today=TODAY), budget=100.0)


def test_every_type_that_is_not_taken_has_its_reason() -> None:
    fleet = demo_copy()
    aircraft, library = fleet.aircraft("MER60"), fleet.library()
    answer = Questions(aircraft, library, ASKING).clear()
    fitted = [line for line in answer.lines if line.action is PlanAction.FIT_SERVO]
    assert fitted
    line = fitted[0]
    refusals = why_not(aircraft, library, ASKING, answer.picks, line.place or "")
    named = {str(refusal.what).rpartition(": ")[2] for refusal in refusals}
    own = aircraft.fit(line.place or "")
    assert own is not None
    assert own.servo_type is not None
    # What cannot be fitted together with the rest of the plan has no way to be judged.
    assert set(library.servo_types) - named <= {line.part_type, own.servo_type.code}
    assert all(str(refusal.why) for refusal in refusals)
    assert any(refusal.rule == "findings" for refusal in refusals)


def test_no_type_that_is_not_taken_is_better_than_the_proved_answer() -> None:
    fleet = demo_copy()
    aircraft, library = fleet.aircraft("CIND"), fleet.library()
    answer = Questions(aircraft, library, ASKING).best(None)
    assert answer.proved
    for place in dict.fromkeys(line.place or "" for line in answer.lines):
        for refusal in why_not(aircraft, library, ASKING, answer.picks, place):
            assert not str(refusal.why).startswith("it clears"), refusal


def test_a_place_without_a_servo_has_no_types() -> None:
    fleet = demo_copy()
    assert why_not(fleet.aircraft("CIND"), fleet.library(), ASKING, (), "RX-A") == ()


def test_what_stays_says_what_it_would_take() -> None:
    fleet = demo_copy()
    for code in ("CIND", "SISK"):
        answer = Questions(fleet.aircraft(code), fleet.library(), ASKING).clear()
        for stay in answer.stays:
            if stay.unit.level is Level.WARNING:
                assert str(stay.words), stay
            if stay.because is Because.NO_PART:
                assert str(stay.words).startswith("Nothing to be had clears it"), stay


def test_the_object_for_scripts_names_what_was_refused() -> None:
    fleet = demo_copy()
    answer = Questions(fleet.aircraft("CIND"), fleet.library(), ASKING).clear()
    plain = json.loads(json.dumps(answer_as_json(answer)))
    assert plain["refused"]
    assert {"what", "because", "rule"} == set(plain["refused"][0])
