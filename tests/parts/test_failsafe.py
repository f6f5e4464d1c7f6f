"""What an output must do without a signal is one function, and every caller asks it."""

from __future__ import annotations

import pytest

from hangar.parts import Channel
from hangar.parts.choices import FailsafeAction, Function
from hangar.parts.failsafe import expected_actions, is_contradicted, is_set_wrong, required_actions


def channel(function: Function, failsafe: FailsafeAction | None) -> Channel:
    return Channel(aircraft="X", number=3, function=function, failsafe=failsafe)


@pytest.mark.parametrize(
    ("failsafe", "is_wrong"),
    [("hold", True), ("none", True), ("idle", False), ("off", False), ("preset", False), (None, False)],
)
def test_a_throttle_that_does_not_stop_is_set_wrong(failsafe: str | None, *, is_wrong: bool) -> None:
    made = channel(Function.THROTTLE, FailsafeAction(failsafe) if failsafe else None)
    assert is_set_wrong(made) is is_wrong
    assert required_actions(made) == (FailsafeAction.IDLE, FailsafeAction.OFF)


def test_a_wrong_or_open_setting_never_becomes_what_is_expected() -> None:
    for failsafe in (FailsafeAction.HOLD, FailsafeAction.NONE, FailsafeAction.PRESET, None):
        made = channel(Function.THROTTLE, failsafe)
        assert expected_actions(made) == (FailsafeAction.IDLE, FailsafeAction.OFF)
    assert expected_actions(channel(Function.THROTTLE, FailsafeAction.OFF)) == (FailsafeAction.OFF,)
    assert expected_actions(channel(Function.AILERON, FailsafeAction.HOLD)) == (FailsafeAction.HOLD,)
    assert expected_actions(channel(Function.AILERON, None)) == ()


def test_only_the_words_that_are_asked_for_are_a_proof() -> None:
    wrong = channel(Function.THROTTLE, FailsafeAction.HOLD)
    for seen in ("full throttle", "hold", "did not go off", "?", "preset"):
        assert is_contradicted(wrong, seen), seen
    assert not is_contradicted(wrong, " IDLE ")
    assert is_contradicted(channel(Function.AILERON, FailsafeAction.HOLD), "neutral")
    assert not is_contradicted(channel(Function.AILERON, None), "neutral")
