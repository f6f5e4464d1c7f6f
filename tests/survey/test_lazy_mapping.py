"""Mappings that are worked out when somebody looks."""

from __future__ import annotations

import pytest

from hangar.survey import Scenario, survey
from hangar.survey.lazy_mapping import LazyMapping, LazyValues
from tests.survey.fleets import CONDITIONS, biplane


def test_a_mapping_is_worked_out_once_and_only_when_it_is_looked_into() -> None:
    asked: list[str] = []

    def work() -> dict[str, float]:
        asked.append("all")
        return {"RX": 4.8, "IGN": 6.6}

    volts = LazyMapping(work)
    assert asked == []
    assert (dict(volts), len(volts), volts.get("GYRO")) == ({"RX": 4.8, "IGN": 6.6}, 2, None)
    assert volts == {"RX": 4.8, "IGN": 6.6}
    assert asked == ["all"]


def test_each_value_is_worked_out_when_it_is_first_asked_for() -> None:
    asked: list[int] = []

    def square(number: int) -> int:
        asked.append(number)
        return number * number

    squares = LazyValues((1, 2, 3), square)
    assert (list(squares), len(squares), 2 in squares, 4 in squares) == ([1, 2, 3], 3, True, False)
    assert asked == []
    assert (squares[2], squares[2], squares.get(3), squares.get(4)) == (4, 4, 9, None)
    assert asked == [2, 3]
    with pytest.raises(KeyError):
        squares[4]


def test_load_cases_come_out_alike_in_whatever_order_they_are_asked_for() -> None:
    first, last = survey(biplane(), CONDITIONS), survey(biplane(), CONDITIONS)
    forwards = {scenario: list(first.scenarios[scenario].figures()) for scenario in first.scenarios}
    backwards = {
        scenario: list(last.scenarios[scenario].figures())
        for scenario in reversed(Scenario)
        if scenario in last.scenarios
    }
    assert forwards == backwards
    assert set(forwards) >= {Scenario.IDLE, Scenario.PEAK, Scenario.AGED}
