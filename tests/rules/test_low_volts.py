"""Receiver, gyro and servo below their least volts: each level from both sides of its line."""

from __future__ import annotations

from dataclasses import replace

import pytest

from hangar.parts import Aircraft
from hangar.parts.choices import Drive, MaxMeans, RegulatorKind
from hangar.rules import Finding, Level, inspect
from hangar.rules import examples as ex
from hangar.rules.changing import with_fit, with_pack, with_path, with_receiver
from hangar.survey import Scenario, survey
from tests.all_cases import all_cases
from tests.rules.demo_trees import demo
from tests.rules.practice.judging import SETUPS as PRACTICE

RECEIVER, SERVO = "under-volts-receiver", "under-volts-servo"


def every(aircraft: Aircraft) -> list[Finding]:
    top = inspect(aircraft, survey(aircraft, ex.home_day()))
    return [other_finding for finding in top for other_finding in finding.with_folded()]


def level_of(aircraft: Aircraft, rule: str) -> Level | None:
    found = [
        finding.level
        for finding in every(aircraft)
        if finding.rule == rule and finding.level is not Level.CANT_TELL
    ]
    return min(found, key=lambda level: level.rank, default=None)


def soft(cell_mohm: float) -> Aircraft:
    """The trainer with a measured pack of some resistance, its tests left out."""
    pack = {"cell_mohm": cell_mohm, "cell_mohm_temp_c": 25.0}
    return with_pack(ex.trainer(), pack=pack, pack_type={"cell_mohm": cell_mohm}, load_tests=())


def silent(aircraft: Aircraft) -> Aircraft:
    """The same with servos whose sheets give no stall current."""
    fits = tuple(
        replace(
            fit,
            servo_type=replace(
                fit.servo_type, ratings=tuple(replace(row, stall_a=None) for row in fit.servo_type.ratings)
            ),
        )
        if fit.servo_type
        else fit
        for fit in aircraft.fits
    )
    return replace(aircraft, fits=fits)


def receiver_v(aircraft: Aircraft, scenario: Scenario = Scenario.PEAK) -> float:
    volts = survey(aircraft, ex.home_day()).scenarios[scenario].receiver_v
    assert volts is not None
    return volts.expected


def test_below_its_least_volts_is_a_warning_and_within_the_reserve_a_caution() -> None:
    plain = ex.trainer()
    volts = receiver_v(plain)
    reserve = 0.3
    for least, level in (
        (volts + 0.01, Level.WARNING),
        (volts - 0.01, Level.CAUTION),
        (volts - reserve + 0.01, Level.CAUTION),
    ):
        assert level_of(with_receiver(plain, supply_min_v=least), RECEIVER) is level
    aged = receiver_v(plain, Scenario.AGED), receiver_v(plain, Scenario.COLD)
    assert level_of(with_receiver(plain, supply_min_v=min(aged) - reserve - 0.01), RECEIVER) is None


def test_a_cold_or_aged_pack_counts_one_level_less() -> None:
    plain = ex.trainer()
    today, worse = receiver_v(plain), min(receiver_v(plain, each) for each in (Scenario.COLD, Scenario.AGED))
    reserve = 0.3
    assert worse < today - 0.02
    below_when_worse = with_receiver(plain, supply_min_v=min(worse + 0.01, today - reserve - 0.005))
    expected = Level.CAUTION if worse + 0.01 < today - reserve else Level.ADVISORY
    assert level_of(below_when_worse, RECEIVER) is expected
    weak = soft(66.0)
    today, worse = receiver_v(weak), min(receiver_v(weak, each) for each in (Scenario.COLD, Scenario.AGED))
    assert worse < today - reserve - 0.02
    assert level_of(with_receiver(weak, supply_min_v=worse + 0.01), RECEIVER) is Level.CAUTION
    assert level_of(with_receiver(weak, supply_min_v=worse - 0.01), RECEIVER) is Level.ADVISORY


def test_a_reserve_that_rests_on_estimates_is_an_advisory() -> None:
    guessed = with_pack(ex.trainer(), pack={"cell_mohm": None}, load_tests=())
    for aircraft in (silent(ex.trainer()), guessed):
        inside = with_receiver(aircraft, supply_min_v=receiver_v(aircraft) - 0.1)
        assert level_of(inside, RECEIVER) is Level.ADVISORY


def test_estimated_stall_currents_warn_only_where_the_lowest_estimate_falls_short_too() -> None:
    aircraft = silent(soft(60.0))
    seen = survey(aircraft, ex.home_day())
    least = seen.least[Scenario.PEAK].receiver_v
    assert least is not None
    expected_v, least_v = receiver_v(aircraft), least.expected
    assert expected_v < least_v - 0.02
    doubtful = with_receiver(aircraft, supply_min_v=0.5 * (expected_v + least_v))
    (finding,) = [other_finding for other_finding in every(doubtful) if other_finding.rule == RECEIVER]
    assert finding.level is Level.CAUTION
    assert str(finding.remedy).startswith("Enter the stall current of EX-standard")
    assert level_of(with_receiver(aircraft, supply_min_v=least_v + 0.01), RECEIVER) is Level.WARNING
    # The same currents entered are no estimate.
    entered = soft(60.0)
    assert not survey(entered, ex.home_day()).least
    assert (
        level_of(with_receiver(entered, supply_min_v=receiver_v(entered) + 0.01), RECEIVER) is Level.WARNING
    )


def test_no_working_point_is_a_warning() -> None:
    aircraft = with_path(
        ex.giant(),
        **ex.regulated(9.0, regulator=RegulatorKind.SWITCHING, drop_out_v=0.0, input_min_v=3.0),
    )
    weak = with_pack(aircraft, pack={"cell_mohm": 900.0}, pack_type={"cell_mohm": 900.0}, load_tests=())
    peak = survey(weak, ex.home_day()).scenarios[Scenario.PEAK]
    below = peak.collapse is not None or (peak.receiver_v is not None and peak.receiver_v.expected < 3.5)
    assert below
    assert level_of(weak, RECEIVER) is Level.WARNING


def _folded(findings: tuple[Finding, ...]) -> list[Finding]:
    return [other_finding for finding in findings for other_finding in tuple(finding.with_folded())[1:]]


def test_a_brown_out_is_never_a_folded_line() -> None:
    trees, library = demo()
    seen = 0
    aircraft = [
        *trees.values(),
        *(setup.make() for setup in PRACTICE),
        with_receiver(soft(200.0), supply_min_v=4.5),
    ]
    for each in aircraft:
        looked = survey(each, ex.home_day())
        findings = inspect(each, looked, library=library)
        lines = [
            finding
            for finding in _folded(findings)
            if finding.rule == RECEIVER and finding.level is Level.WARNING
        ]
        assert lines == [], each.code
        seen += any(finding.rule == RECEIVER and finding.level is Level.WARNING for finding in findings)
    assert seen > 1


def test_a_brown_out_of_a_risen_pack_has_the_packs_remedy() -> None:
    risen = with_pack(ex.trainer(), pack={"cell_mohm": 150.0}, load_tests=())
    below = with_receiver(risen, supply_min_v=receiver_v(risen) + 0.05)
    (finding,) = [
        other_finding
        for other_finding in inspect(below, survey(below, ex.home_day()))
        if other_finding.rule == RECEIVER
    ]
    assert finding.level is Level.WARNING
    assert finding.folded[0].rule == "dcir-risen"
    assert finding.remedy == finding.folded[0].remedy


@all_cases(
    "drive, above, level",
    [
        (Drive.DIGITAL, 0.99, None),
        (Drive.DIGITAL, 1.02, Level.CAUTION),
        (Drive.DIGITAL, 1.16, Level.CAUTION),
        (Drive.DIGITAL, 1.19, Level.WARNING),
        (Drive.ANALOG, 1.19, Level.CAUTION),
        (Drive.ANALOG, 1.40, Level.CAUTION),
    ],
)
def test_a_servo_below_its_least_volts(drive: Drive, above: float, level: Level | None) -> None:
    plain = ex.elevator(servo_type={"drive": drive})
    volts = survey(plain, ex.home_day()).positions["ELE"].delivered_v
    assert volts is not None
    values = {"drive": drive, "supply_min_v": above * volts.expected, "max_means": MaxMeans.ABSOLUTE}
    assert level_of(ex.elevator(servo_type=values), SERVO) is level


def test_a_servo_a_little_below_its_lowest_rated_volts_is_only_weaker() -> None:
    giant = ex.giant()
    volts = survey(giant, ex.home_day()).positions["RUD"].delivered_v
    assert volts is not None
    for share, level in ((1.02, Level.ADVISORY), (1.09, Level.ADVISORY), (1.13, Level.CAUTION)):
        least = share * volts.expected
        rows = tuple(replace(row, rated_v=row.rated_v - 4.8 + least) for row in ex.STRONG.ratings)
        kind = {"ratings": rows, "supply_min_v": least, "supply_max_v": 20.0}
        assert level_of(with_fit(giant, "RUD", servo_type=kind), SERVO) is level


def test_six_volts_name_five_cells_and_old_analog_servos_are_looked_at() -> None:
    def made(year: int, drive: Drive) -> Aircraft:
        values = {"max_means": MaxMeans.NOT_STATED, "drive": drive}
        return ex.five_cells(ex.elevator(servo_type=values, servo={"made_year": year}))

    rule = "servo-five-cell-rating"
    assert level_of(made(2019, Drive.ANALOG), rule) is Level.ADVISORY
    assert level_of(made(2000, Drive.ANALOG), rule) is Level.ADVISORY
    assert level_of(made(1999, Drive.ANALOG), rule) is Level.CAUTION
    assert level_of(made(1999, Drive.DIGITAL), rule) is Level.ADVISORY


@pytest.mark.parametrize(("burst_a", "level"), [(30.0, None), (9.0, Level.CAUTION), (3.0, Level.WARNING)])
def test_a_regulator_warns_where_the_bus_falls(burst_a: float, level: Level | None) -> None:
    aircraft = with_path(ex.giant(), **ex.regulated(6.0, burst_a=burst_a))
    assert level_of(aircraft, "regulator-current") is level
    peak = survey(aircraft, ex.home_day()).scenarios[Scenario.PEAK]
    assert peak.bus_v is not None
    assert (peak.bus_v.expected < 5.4) is (level is Level.WARNING)


def test_a_regulator_that_sinks_in_the_peak_warns_and_one_that_will_is_looked_at() -> None:
    rule, found = "regulator-dropout", {}
    for set_v in (6.0, 6.6, 7.2, 8.2, 9.0):
        aircraft = with_path(ex.giant(), **ex.regulated(set_v, drop_out_v=0.6))
        bus = survey(aircraft, ex.home_day()).scenarios[Scenario.PEAK].bus_v
        assert bus is not None
        found[set_v] = level_of(aircraft, rule)
        assert (found[set_v] is Level.WARNING) is (bus.expected < 0.9 * set_v)
    assert found[6.0] is None
    assert found[6.6] is Level.ADVISORY
    assert found[9.0] is Level.WARNING
