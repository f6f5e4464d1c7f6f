"""Bench currents judged."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hangar.base.errors import BadInput
from hangar.physics.binding import (
    BenchCurrents,
    LinkageFeel,
    friction_too_much,
    peak_level,
    read_binding,
    torque_share_range,
)
from tests.all_cases import all_cases

FREE = BenchCurrents(0.010, 0.015, 0.020, 0.020, stall_a=1.0)


@all_cases(
    "currents, feel, level",
    [
        (FREE, LinkageFeel.FREE, "ok"),
        (replace(FREE, low_end_a=0.07, high_end_a=0.06), LinkageFeel.RUBBING, "advisory"),
        (replace(FREE, low_end_a=0.16, high_end_a=0.15), LinkageFeel.FIGHTING, "caution"),
        (replace(FREE, neutral_a=0.05, low_end_a=0.16, stall_a=8.0), LinkageFeel.FIGHTING, "caution"),
        (replace(FREE, high_end_a=0.30), LinkageFeel.BOUND, "warning"),
        (replace(FREE, settles=False), LinkageFeel.BOUND, "warning"),
        (replace(FREE, still_rising=True), LinkageFeel.BOUND, "warning"),
        (replace(FREE, arm_flexes=True), LinkageFeel.BOUND, "warning"),
    ],
)
def test_currents_at_rest_tell_how_the_linkage_stands(
    currents: BenchCurrents, feel: LinkageFeel, level: str
) -> None:
    reading = read_binding(currents)
    assert (reading.feel, reading.level) == (feel, level)


def test_ends_that_differ_are_told_even_when_free() -> None:
    reading = read_binding(replace(FREE, high_end_a=0.035))
    assert reading.ends_differ
    assert reading.level == "advisory"
    assert "differ" in str(reading.message)


def test_without_a_stall_current_ten_times_no_load_stands_in_and_is_told() -> None:
    reading = read_binding(replace(FREE, stall_a=None, no_load_a=0.15, low_end_a=0.31, high_end_a=0.30))
    assert reading.stall_assumed
    assert reading.current_share == pytest.approx(0.2)
    with pytest.raises(BadInput, match="neither"):
        read_binding(replace(FREE, stall_a=None))
    with pytest.raises(BadInput, match="0 A or more"):
        read_binding(replace(FREE, neutral_a=-0.1))


@all_cases("share, high", [(0.03, 0.17), (0.10, 0.32), (0.25, 0.50)])
def test_the_torque_behind_a_current_is_a_range(share: float, high: float) -> None:
    assert torque_share_range(share)[0] == share
    assert torque_share_range(share)[1] == pytest.approx(high, abs=0.005)


@given(st.floats(min_value=0, max_value=3), st.floats(min_value=0, max_value=3))
def test_more_current_never_reads_as_a_better_linkage(first: float, second: float) -> None:
    order = list(LinkageFeel)
    low, high = sorted((first, second))
    feels = [read_binding(replace(FREE, high_end_a=amps)).feel for amps in (low, high)]
    assert order.index(feels[0]) <= order.index(feels[1])


def test_peaks_in_flight_are_judged_against_stall() -> None:
    assert [peak_level(amps, 1.0) for amps in (0.4, 0.5, 0.7)] == ["ok", "caution", "warning"]
    with pytest.raises(BadInput):
        peak_level(1.0, 0.0)


def test_friction_is_too_much_beyond_a_tenth_of_what_arrives() -> None:
    assert friction_too_much(0.05, 0.3, 1.33)
    assert not friction_too_much(0.03, 0.3, 1.33)
    with pytest.raises(BadInput):
        friction_too_much(-0.1, 0.3, 1.0)


def test_shares_outside_the_whole_are_refused() -> None:
    with pytest.raises(BadInput):
        torque_share_range(1.2)
