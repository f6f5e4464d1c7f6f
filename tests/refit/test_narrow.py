"""Of many servos few are looked at first; what is answered is the same as among all."""

from __future__ import annotations

import pytest

from hangar.parts import ServoRating, ServoType
from hangar.parts.choices import Drive, PlanAction
from hangar.parts.workshop import PlanLine
from hangar.refit import search as search_module
from hangar.refit.choice import AS_IT_IS, Choice, ChoiceList
from hangar.refit.goal import Goal
from hangar.refit.ladder import Questions
from hangar.refit.narrow import LONG, promising
from hangar.refit.request import RefitRequest
from tests.refit.generator import DAY
from tests.refit.short_aircraft import short_aircraft, short_library


def servo_type(code: str, torque_nm: float) -> ServoType:
    rating = ServoRating(servo_type=code, rated_v=6.0, torque_nm=torque_nm)
    return ServoType(code=code, drive=Drive.DIGITAL, ratings=(rating,))


def fits(code: str, price: float) -> Choice:
    line = PlanLine(plan="P", number=1, action=PlanAction.FIT_SERVO, place="AIL", part_type=code)
    return Choice(lines=(line,), price=price)


def test_each_servo_is_kept_that_is_stronger_than_every_cheaper_one() -> None:
    torques = {f"S{number}": 0.1 * (1 + number * 7 % 50) for number in range(LONG)}
    types = {code: servo_type(code, torque_nm) for code, torque_nm in torques.items()}
    choices = (AS_IT_IS, *(fits(code, 10.0 + number) for number, code in enumerate(torques)))
    choice_list = ChoiceList(name="AIL", places=("AIL",), kinds=frozenset(), choices=choices)
    mask = promising(choice_list, types, Goal({}))
    kept = [number for number in range(len(choices)) if mask >> number & 1]
    strongest = list[int]([0])
    best = -1.0
    for number, torque_nm in enumerate(torques.values(), 1):
        if torque_nm > best:
            strongest.append(number)
            best = torque_nm
    assert kept == strongest
    assert 2 < len(kept) < LONG // 2


def test_a_short_list_is_looked_at_whole() -> None:
    choice_list = ChoiceList(name="AIL", places=("AIL",), kinds=frozenset(), choices=(AS_IT_IS,) * LONG)
    assert promising(choice_list, {}, Goal({})) == -1


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_the_answer_is_that_of_a_search_among_all(seed: int, monkeypatch: pytest.MonkeyPatch) -> None:
    aircraft, library = short_aircraft(seed, 2), short_library(seed, 120)
    asking = RefitRequest(conditions=DAY, gauges=())

    def answer() -> tuple[bool, object]:
        questions = Questions(aircraft, library, asking)
        assert max(len(choice_list.choices) for choice_list in questions.search.lists) > LONG
        found = questions.clear()
        return found.proved, found.left

    first = answer()
    monkeypatch.setattr(search_module, "promising", lambda *_: -1)
    assert first == answer()
    assert first[0]


def test_a_large_library_is_answered_where_every_group_lacks_something() -> None:
    """Among all at once nothing was found: the first looks went to the cheapest, which cure nothing."""
    questions = Questions(short_aircraft(3), short_library(3, 100), RefitRequest(conditions=DAY, gauges=()))
    found = questions.clear()
    assert found.proved
    assert (found.today.warnings, found.left.warnings) == (13, 1)
    assert found.looks <= 500
