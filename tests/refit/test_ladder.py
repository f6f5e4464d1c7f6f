"""The answers of the planner on the invented fleet: what they clear, what each line cures, what stays."""

from __future__ import annotations

import json
from functools import cache

import pytest

from hangar.refit.answer import Because, Ladder, Rung
from hangar.refit.answer_as_json import ladder_as_json
from hangar.refit.ladder import Questions, clear, ladder
from hangar.refit.request import RefitRequest
from hangar.rules import Level
from hangar.survey.model import Conditions
from tests.demo_copies import TODAY, demo_copy

DAY = Conditions(today=TODAY)
CODES = ("CIND", "MER60", "NIM7", "SISK")


@cache
def ladder_of(code: str) -> Ladder:
    fleet = demo_copy()
    return ladder(fleet.aircraft(code), fleet.library(), RefitRequest(conditions=DAY, budget=100.0))


@pytest.mark.parametrize("code", CODES)
def test_rungs_rise_and_make_nothing_worse(code: str) -> None:
    rungs = ladder_of(code).rungs
    today = rungs[Rung.TODAY].left
    for rung, answer in rungs.items():
        assert answer.left.warnings <= today.warnings
        assert answer.proved
        if rung is not Rung.CLEAR:
            assert not answer.brings, f"{rung}: {answer.brings}"
        assert not any(unit.level is Level.WARNING for unit in answer.brings)
    assert rungs[Rung.FREE].left.money == 0.0
    assert rungs[Rung.BUDGET].left.money <= 100.0
    assert rungs[Rung.WITHOUT_NEW].left <= rungs[Rung.BUDGET].left


@pytest.mark.parametrize("code", CODES)
def test_every_line_has_a_finding_that_comes_back_without_it(code: str) -> None:
    for answer in ladder_of(code).rungs.values():
        for change in answer.changes:
            assert change.cures, f"{answer.question}: nothing comes back without {change.line}"


@pytest.mark.parametrize("code", CODES)
def test_every_warning_that_stays_has_its_reason(code: str) -> None:
    for stay in ladder_of(code).rungs[Rung.CLEAR].stays:
        if stay.unit.level is Level.WARNING:
            assert stay.because is not Because.NOT_ASKED


def test_looks_stay_few() -> None:
    looks = [answer.looks for code in CODES for answer in ladder_of(code).rungs.values()]
    assert max(looks) <= 600
    assert sorted(looks)[len(looks) // 2] < 150


def test_nothing_is_needed_where_nothing_is_found() -> None:
    fleet = demo_copy()
    answer = clear(fleet.aircraft("DUNN"), fleet.library(), RefitRequest(conditions=DAY))
    assert not answer.is_needed
    assert answer.proved


def test_what_is_locked_stays_as_it_is() -> None:
    fleet = demo_copy()
    asking = RefitRequest(conditions=DAY, locked=frozenset({"RUD"}))
    answer = clear(fleet.aircraft("CIND"), fleet.library(), asking)
    assert all(line.place != "RUD" for line in answer.lines)
    assert any(stay.because is Because.LOCKED for stay in answer.stays)


def test_a_type_no_longer_made_comes_from_the_bay_only() -> None:
    fleet = demo_copy()
    library = fleet.library()
    for code in ("CIND", "MARQ"):
        questions = Questions(fleet.aircraft(code), library, RefitRequest(conditions=DAY))
        for choice_list in questions.search.lists:
            for choice in choice_list.choices:
                for bought in choice.buys:
                    until = library.servo_types[bought].made_until_year
                    assert until is None or until >= TODAY.year


def test_a_stopped_search_says_that_nothing_is_proved() -> None:
    fleet = demo_copy()
    asking = RefitRequest(conditions=DAY)
    answer = clear(fleet.aircraft("MER60"), fleet.library(), asking, stop=lambda: True)
    assert answer.stopped
    assert not answer.proved
    assert answer.gap.warnings > 0


def test_the_answer_is_an_object_for_scripts() -> None:
    plain = json.loads(json.dumps(ladder_as_json(ladder_of("CIND"))))
    rung = plain["rungs"]["clear"]
    assert rung["question"] == "clear"
    assert rung["left"]["warnings"] < rung["today"]["warnings"]
    assert {"cures", "with", "hours", "mass_g"} <= set(rung["changes"][0])
