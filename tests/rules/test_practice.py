"""What the checks say of practice set-ups whose verdict the trade agrees on."""

from __future__ import annotations

import os

import pytest

from tests.all_cases import all_cases
from tests.rules.practice.judging import SETUPS, Verdict, by_class, judge, tally
from tests.rules.practice.shaken import every_shake

NOT_YET_FOUND = {
    "indoor servos in a foam jet",
    "toy servo on a sixty-size fighter's elevator",
    "9 g servos on a giant's elevators",
    "9 g servos on a big fighter's elevators",
}
"""Bad set-ups that are not told as such: to be none."""

MOST_WARNED = 0
"""Sound set-ups with a warning: never more than today; to be at most one in 25."""

MOST_CAUTIONED = 6
"""Sound set-ups with a caution of torque, volts or current: never more; to be at most three in 25."""

SHAKE = os.environ.get("HANGAR_PRACTICE_SHAKE")


@pytest.fixture(scope="module")
def verdicts() -> list[Verdict]:
    """Every set-up judged."""
    return [judge(setup) for setup in SETUPS]


def test_the_set_ups_are_many_and_of_every_class(verdicts: list[Verdict]) -> None:
    sound = sum(setup.is_sound for setup in SETUPS)
    assert len(SETUPS) >= 90
    assert 0.4 <= sound / len(SETUPS) <= 0.6
    assert len(by_class(verdicts)) == 13
    assert len({setup.name for setup in SETUPS}) == len(SETUPS)


@all_cases("setup", SETUPS)
def test_every_label_has_its_reason(setup: object) -> None:
    assert len(getattr(setup, "why", "")) >= 4


def test_no_bad_set_up_is_missed(verdicts: list[Verdict]) -> None:
    assert set(tally(verdicts).missed) <= NOT_YET_FOUND


def test_sound_set_ups_are_seldom_warned_of(verdicts: list[Verdict]) -> None:
    assert tally(verdicts).warned <= MOST_WARNED


def test_cautions_on_sound_set_ups_are_few(verdicts: list[Verdict]) -> None:
    assert tally(verdicts).cautioned <= MOST_CAUTIONED


@pytest.mark.skipif(not SHAKE, reason="HANGAR_PRACTICE_SHAKE=1 moves each limit and typical value")
def test_no_verdict_hangs_on_a_limit_by_a_hair(verdicts: list[Verdict]) -> None:
    # A warning may become a caution; no fault may go unnoticed, and no crowd of sound ones be told of.
    base = tally(verdicts)
    worse = {
        name: (counts.unnoticed, counts.warned, counts.cautioned)
        for name, counts in every_shake()
        if set(counts.unnoticed) - set(base.unnoticed) or counts.warned > base.warned + 1
        or counts.cautioned > base.cautioned + 3
    }  # fmt: skip
    assert worse == {}
