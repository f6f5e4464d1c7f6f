"""Means against what a part carries for long, the peak against its burst: each limit from both sides."""

from __future__ import annotations

from hangar.base.figure import Figure
from hangar.base.text import text
from hangar.parts import Aircraft
from hangar.rules import Level, inspect
from hangar.rules import examples as ex
from hangar.rules.changing import with_fit, with_receiver
from hangar.rules.current_rating import AT_PEAK, IN_BRISK, ON_AVERAGE, PathCurrents, burst_of, overrun
from hangar.survey import Scenario, survey
from tests.all_cases import all_cases


def amps(value: float) -> Figure:
    return Figure(text("current"), value, "A")


def flowing(mean: float, brisk: float, peak: float) -> PathCurrents:
    return PathCurrents(amps(mean), amps(brisk), amps(peak))


@all_cases(
    "mean, brisk, peak, level, when",
    [
        (1.99, 1.99, 4.9, None, None),
        (2.01, 4.0, 4.9, Level.WARNING, ON_AVERAGE),
        (1.0, 2.01, 4.9, Level.CAUTION, IN_BRISK),
        (1.0, 1.5, 5.01, Level.CAUTION, AT_PEAK),
        (1.0, 1.5, 9.99, Level.CAUTION, AT_PEAK),
        (1.0, 1.5, 10.01, Level.WARNING, AT_PEAK),
        (1.0, 2.5, 10.01, Level.WARNING, AT_PEAK),
    ],
)
def test_a_part_of_2_a_for_long_and_5_a_for_a_moment(
    mean: float, brisk: float, peak: float, level: Level | None, when: object
) -> None:
    found = overrun(flowing(mean, brisk, peak), 2.0, 5.0)
    assert (None if found is None else found.level) is level
    assert found is None or found.when == when


def test_a_burst_nobody_states_is_one_and_a_half_times_the_continuous_current() -> None:
    assert burst_of(2.0, None) == 3.0
    assert burst_of(2.0, 9.0) == 9.0
    assert burst_of(None, None) is None
    assert overrun(flowing(0.5, 1.0, 2.99), 2.0, None) is None
    found = overrun(flowing(0.5, 1.0, 3.01), 2.0, None)
    assert found is not None
    assert found.level is Level.CAUTION


def test_a_share_of_the_continuous_current_may_be_asked() -> None:
    assert overrun(flowing(0.9, 0.95, 1.0), 2.0, None) is None
    found = overrun(flowing(1.1, 1.2, 1.3), 2.0, None, share=0.5)
    assert found is not None
    assert (found.level, found.limit) == (Level.WARNING, 1.0)


def test_what_is_not_known_is_not_judged() -> None:
    assert overrun(PathCurrents(None, None, None), 2.0, 5.0) is None
    assert overrun(flowing(9.0, 9.0, 9.0), None, None) is None


def test_more_current_never_lowers_the_level() -> None:
    order = [None, Level.CAUTION, Level.WARNING]
    seen = []
    for tenths in range(1, 80):
        found = overrun(flowing(0.02 * tenths, 0.06 * tenths, 0.2 * tenths), 1.2, 3.0)
        seen.append(order.index(None if found is None else found.level))
    assert seen == sorted(seen)
    assert set(seen) == {0, 1, 2}


def told(aircraft: Aircraft, rule: str) -> Level | None:
    top = inspect(aircraft, survey(aircraft, ex.home_day()))
    levels = [
        other_finding.level
        for finding in top
        for other_finding in finding.with_folded()
        if other_finding.rule == rule
    ]
    return min(levels, key=lambda level: level.rank, default=None)


def drawn(scenario: Scenario) -> float:
    total = survey(ex.giant(), ex.home_day()).scenarios[scenario].total_a
    assert total is not None
    return total.expected


@all_cases(
    "scenario, share, level",
    [
        (Scenario.BRISK, 1.01, None),
        (Scenario.BRISK, 0.99, Level.CAUTION),
        (Scenario.CRUISE, 1.01, Level.WARNING),
        (Scenario.CRUISE, 0.99, Level.WARNING),
    ],
)
def test_a_receiver_s_pins_from_both_sides(scenario: Scenario, share: float, level: Level | None) -> None:
    # The peak of the giant is more than thrice its mean, and less than thrice what it draws in brisk flying.
    limit = share * drawn(scenario)
    assert drawn(Scenario.PEAK) > 3.0 * drawn(Scenario.CRUISE)
    peak_level = None
    for factor, one in ((1.5, Level.CAUTION), (3.0, Level.WARNING)):
        peak_level = one if drawn(Scenario.PEAK) > factor * limit else peak_level
    graver = [other_level for other_level in (level, peak_level) if other_level is not None]
    expected = min(graver, key=lambda each: each.rank, default=None)
    assert told(with_receiver(ex.giant(), bus_limit_a=limit), "receiver-bus-current") is expected


@all_cases("share, level", [(0.99, None), (1.01, Level.CAUTION)])
def test_a_thin_lead_from_both_sides(share: float, level: Level | None) -> None:
    # A servo that sticks at rest: the gauge of AWG 28 is good for 1 A.
    plain = with_fit(ex.giant(), "ELE-L", lead={"awg": 28, "length_mm": 100.0}, servo_type={"idle_ma": 0.0})
    brisk_a = survey(plain, ex.home_day()).scenarios[Scenario.BRISK].servo_a["ELE-L"].expected
    sticking = with_fit(plain, "ELE-L", servo_type={"idle_ma": 1000.0 * (share - brisk_a)})
    assert told(sticking, "lead-gauge-small") is level


def test_a_running_current_alone_says_nothing_of_a_mean() -> None:
    fast = with_fit(ex.giant(), "ELE-L", lead={"awg": 26, "length_mm": 100.0}, servo_type={"run_a": 2.5})
    assert told(fast, "lead-gauge-small") is None
